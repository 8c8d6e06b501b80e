import { describe, expect, it } from 'vitest';
import { type OwnPart, resolveCatalogue, TYPICAL_PARTS } from './catalogue.ts';
import { terminalsOf } from './terminals.ts';
import type { Part } from './types.ts';

const names = (kind: Part['kind'], id: string, ...own: OwnPart[]): readonly string[] => {
  const part = resolveCatalogue(own).find(kind, id);
  if (part === undefined) throw new RangeError(`no ${kind} ${id}`);
  return terminalsOf(part).map((each) => each.name);
};

describe('terminalsOf', () => {
  it('gives every typical part terminals with names of their own', () => {
    for (const part of TYPICAL_PARTS) {
      const all = terminalsOf(part).map((each) => each.name.toLowerCase());
      expect(all.length, part.id).toBeGreaterThan(1);
      expect(new Set(all).size, part.id).toBe(all.length);
    }
  });

  // File format, what the circuits take from the file: "tags of a switch L4.t1... (by pole: normal, common, reverse)".
  it('counts the tags of a switch by pole', () => {
    expect(names('switch', 'toggle-2p')).toEqual(['t1', 't2', 't3', 't4', 't5', 't6']);
    const part = resolveCatalogue(undefined).find('switch', 'mini-toggle-4p-sprung');
    const terminals = part ? terminalsOf(part) : [];
    expect(terminals.filter((each) => each.of === '4')).toEqual([
      { name: 't10', role: 'normal', of: '4' },
      { name: 't11', role: 'common', of: '4' },
      { name: 't12', role: 'reverse', of: '4' },
    ]);
  });

  // The same: "leads H3.a H3.k, drives D1.a D1.b (coils D1.n D1.r and D1.com) and contacts D1.c1".
  it('names the leads of lamps and the tags of drives', () => {
    expect(names('lamp', 'led-3-amber')).toEqual(['a', 'k']);
    expect(names('drive', 'stall-2-wire')).toEqual(['a', 'b', 'c1.c', 'c1.n', 'c1.r', 'c2.c', 'c2.n', 'c2.r']);
    expect(names('drive', 'twin-coil')).toEqual(['n', 'r', 'com']);
    expect(names('drive', 'twin-coil-end-off')).toEqual(['n', 'r', 'com', 'c1.c', 'c1.n', 'c1.r']);
    expect(names('drive', 'decoder')).toEqual(['a', 'b']);
    expect(names('drive', 'hand')).toEqual(['c1.c', 'c1.n', 'c1.r']);
  });

  // A servo's board takes three wires, an input beside the two of its feed: common practice, no source.
  it('gives a servo board its input and its feed', () => {
    expect(names('drive', 'servo-board')).toEqual(['a', 'b', 'p']);
  });

  it('tells the three leads of two colours by what they share', () => {
    expect(names('lamp', 'led-5-red-green-2')).toEqual(['a', 'k']);
    expect(names('lamp', 'led-5-red-green-3c')).toEqual(['a1', 'a2', 'k']);
    expect(names('lamp', 'led-5-red-green-3a')).toEqual(['a', 'k1', 'k2']);
  });

  it('names coils and poles of relays', () => {
    const poles = ['1.c', '1.n', '1.r', '2.c', '2.n', '2.r'];
    expect(names('relay', 'relay-2p')).toEqual(['p', 'm', ...poles]);
    expect(names('relay', 'relay-latching-2p')).toEqual(['sp', 'sm', 'rp', 'rm', ...poles]);
    expect(names('relay', 'one-coil', { id: 'one-coil', like: 'relay-latching-2p', coils: 1 })).toEqual([
      'p',
      'm',
      ...poles,
    ]);
  });

  it('follows the poles and contacts that the user gives', () => {
    expect(names('relay', 'relay-2p', { id: 'relay-2p', poles: 1 })).toEqual(['p', 'm', '1.c', '1.n', '1.r']);
    expect(names('drive', 'm', { id: 'm', like: 'twin-coil', contacts: 2 })).toHaveLength(9);
    expect(names('button', 'push-2p')).toEqual(['t1', 't2', 't3', 't4']);
  });

  it('names what is left', () => {
    expect(names('connector', 'dsub-9')).toEqual(['1', '2', '3', '4', '5', '6', '7', '8', '9']);
    expect(names('resistor', 'resistor-quarter-watt')).toEqual(['1', '2']);
    expect(names('diode', 'diode-small')).toEqual(['a', 'k']);
    expect(names('capacitor', 'capacitor-2200')).toEqual(['p', 'm']);
    expect(names('wire', 'wire-0-22')).toEqual(['from', 'to']);
    expect(names('cdu', 'cdu')).toEqual(['ip', 'im', 'p', 'm']);
  });
});
