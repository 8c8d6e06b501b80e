import { describe, expect, it } from 'vitest';
import { type OwnPart, resolveCatalogue, TYPICAL_PARTS } from './catalogue.ts';
import { forwardVolts, lampLaw } from './diode-law.ts';
import { figureNames, overlay } from './figures.ts';
import { smallestToggle } from './switches.ts';
import type { Part } from './types.ts';

const typical = resolveCatalogue(undefined);

describe('every typical part', () => {
  it('has an id of its own that a file may hold', () => {
    const ids = TYPICAL_PARTS.map((part) => part.id.toLowerCase());
    expect(new Set(ids).size).toBe(ids.length);
    for (const part of TYPICAL_PARTS) expect(part.id).toMatch(/^[A-Za-z][A-Za-z0-9_-]*$/);
  });
  it('says its name, its source and a price', () => {
    for (const part of TYPICAL_PARTS) {
      expect(part.name.length, part.id).toBeGreaterThan(4);
      expect(part.source.length, part.id).toBeGreaterThan(8);
      expect(part.price, part.id).toBeGreaterThan(0);
      expect(part.price, part.id).toBeLessThan(50);
    }
    const names = TYPICAL_PARTS.map((part) => part.name);
    expect(new Set(names).size).toBe(names.length);
  });
  it('stands within the ranges that a user is held to', () => {
    for (const part of TYPICAL_PARTS) {
      const fields = new Map<string, unknown>(Object.entries(part));
      const figures = new Map(
        figureNames(part.kind)
          .filter((name) => fields.has(name) && fields.get(name) !== null)
          .map((name) => [name, fields.get(name)]),
      );
      expect(figures.size, part.id).toBeGreaterThan(3);
      const { part: again, problems } = overlay(part, part.id, figures);
      expect(problems, part.id).toEqual([]);
      expect(again).toEqual(part);
    }
  });
  it('is found under its own kind and no other', () => {
    for (const part of TYPICAL_PARTS) {
      expect(typical.find(part.kind, part.id)).toBe(part);
      expect(typical.find(part.kind === 'lamp' ? 'drive' : 'lamp', part.id)).toBeUndefined();
    }
    expect(typical.problems).toEqual([]);
  });
});

// Expected values: file format, typical parts, and the connectors and lamps of two colours named there.
describe('the parts that files rely on', () => {
  const lamps: readonly (readonly [string, number, number])[] = [
    ['red', 1.8, 0.002],
    ['amber', 1.85, 0.002],
    ['yellow', 1.9, 0.002],
    ['green', 1.9, 0.002],
    ['pure-green', 2.7, 0.002],
    ['blue', 2.75, 0.002],
    ['white', 2.75, 0.002],
    ['red-old', 1.9, 0.01],
    ['amber-old', 2.0, 0.01],
    ['yellow-old', 2.05, 0.01],
    ['green-old', 2.1, 0.01],
  ];
  it.each(lamps)('led-3-%s and led-5-%s', (colour, vf, at) => {
    for (const [size, hole] of [
      [3, 3.2],
      [5, 5.4],
    ] as const) {
      const seen = colour.endsWith('-old') ? 0.002 : 0.0002;
      expect(typical.find('lamp', `led-${size}-${colour}`)).toMatchObject({
        vf,
        at,
        seen,
        size,
        hole,
        max: 0.02,
        reverse: 5,
        n: 2,
        rs: 5,
      });
    }
  });
  it('lamps of two colours', () => {
    expect(typical.find('lamp', 'led-5-red-green-2')).toMatchObject({ elements: 2, leads: 2 });
    expect(typical.find('lamp', 'led-5-red-green-3c')).toMatchObject({ elements: 2, leads: 3, common: 'cathode' });
    expect(typical.find('lamp', 'led-5-red-green-3a')).toMatchObject({ elements: 2, leads: 3, common: 'anode' });
  });
  it('drives', () => {
    const what = { volts: { low: 9, high: 12 }, stallAmps: 0.015, stallVolts: 12, runAmps: 0.006, runSeconds: 2.5 };
    expect(typical.find('drive', 'stall-2-wire')).toMatchObject({
      ...what,
      contacts: 2,
      contactAmps: 1,
      tags: ['a', 'b'],
    });
    expect(typical.find('drive', 'limit-2-wire')).toMatchObject({
      volts: { low: 9, high: 16 },
      runAmps: 0.12,
      runSeconds: 1.5,
      contacts: 1,
    });
    for (const id of ['limit-2-wire', 'twin-coil-end-off', 'hand'])
      expect(typical.find('drive', id)?.contactAmps, id).toBe(1);
    expect(typical.find('drive', 'servo-board')?.volts).toEqual({ low: 5, high: 5 });
    for (const [id, contacts] of [
      ['twin-coil', 0],
      ['twin-coil-end-off', 1],
    ] as const) {
      const coils = { coilOhms: 5, coilHenries: 0.005, throwAmps: 2, throwSeconds: 0.008, tags: ['n', 'r', 'com'] };
      expect(typical.find('drive', id)).toMatchObject({ ...coils, contacts });
    }
    expect(typical.find('drive', 'servo-board')).toMatchObject({
      inputAmps: 0.002,
      runAmps: 0.3,
      runSeconds: 2,
      contacts: 0,
    });
    expect(typical.find('drive', 'decoder')).toMatchObject({ runAmps: 0.2, contacts: 0 });
    expect(typical.find('drive', 'hand')).toMatchObject({ volts: null, contacts: 1, tags: [] });
    expect(typical.all('drive')).toHaveLength(7);
    for (const drive of typical.all('drive')) expect(drive.trap).toMatch(/^[A-Z].*\.$/);
  });
  it('toggles', () => {
    for (const [prefix, hole, nut, depth, height, widths] of [
      ['toggle', 12.2, 15.8, 35, 31, [13, 18, 27, 36]],
      ['mini-toggle', 6.4, 8, 22, 13, [8, 13, 18, 23]],
    ] as const) {
      for (const [i, width] of widths.entries()) {
        const figures = { poles: i + 1, hole, nut, depth, body: [width, height], amps: 3 };
        const id = `${prefix}-${i + 1}p`;
        expect(typical.find('switch', id)).toMatchObject({ ...figures, centreOff: false, sprung: false });
        expect(typical.find('switch', `${id}-centre-off`)).toMatchObject({
          ...figures,
          centreOff: true,
          sprung: false,
        });
        expect(typical.find('switch', `${id}-sprung`)).toMatchObject({ ...figures, sprung: true });
      }
    }
    // Hole: common practice, no source.
    for (const id of ['sub-mini-toggle-1p', 'sub-mini-toggle-2p-centre-off', 'sub-mini-toggle-2p-sprung'])
      expect(typical.find('switch', id)?.hole).toBe(5.2);
    for (const each of typical.all('switch')) {
      expect(each.driver).toBeGreaterThan(each.nut);
      expect(each.nut).toBeGreaterThan(each.hole);
    }
    expect(typical.find('switch', 'mini-toggle-1p')?.tabHole).toBeGreaterThan(0);
  });
  it('buttons and relays', () => {
    expect(typical.find('button', 'push-1p')).toMatchObject({ poles: 1, hole: 7, body: [8, 13], amps: 1 });
    expect(typical.find('button', 'push-2p')).toMatchObject({ poles: 2, hole: 7, body: [13, 13], amps: 1 });
    expect(typical.find('relay', 'relay-2p')).toMatchObject({
      coilVolts: 12,
      coilOhms: 400,
      contactAmps: 1,
      latching: false,
    });
    expect(typical.find('relay', 'relay-latching-2p')).toMatchObject({
      coilVolts: 12,
      coilOhms: 200,
      pulseSeconds: 0.01,
      latching: true,
      contactAmps: 1,
      poles: 2,
    });
  });
  it('connectors', () => {
    const ids = [
      ...[9, 15, 25, 37, 50].map((ways) => `dsub-${ways}`),
      ...[5, 8].map((ways) => `din-${ways}`),
      ...Array.from({ length: 21 }, (_, i) => `header-${10 + 2 * i}`),
      ...Array.from({ length: 23 }, (_, i) => `screw-${2 + i}`),
    ];
    expect(ids.at(-1)).toBe('screw-24');
    expect(ids).toContain('header-50');
    for (const id of ids) expect(typical.find('connector', id)?.ways).toBe(Number(id.split('-')[1]));
  });
});

describe('smallestToggle', () => {
  it('is the least with enough poles', () => {
    expect([0, 1, 2, 3, 4, 5].map((poles) => smallestToggle(poles))).toEqual([
      'toggle-1p',
      'toggle-1p',
      'toggle-2p',
      'toggle-3p',
      'toggle-4p',
      null,
    ]);
    expect(smallestToggle(2, 'sprung')).toBe('toggle-2p-sprung');
  });
  it('names parts of the catalogue', () => {
    for (const action of ['held', 'centre-off', 'sprung'] as const) {
      for (const poles of [1, 2, 3, 4])
        expect(typical.find('switch', smallestToggle(poles, action) ?? '')?.poles).toBe(poles);
    }
  });
});

const problemsOf = (...own: OwnPart[]) => resolveCatalogue(own).problems;

describe('own parts', () => {
  it('lay their figures over what they are like', () => {
    const catalogue = resolveCatalogue([
      { id: 'my-motor', like: 'stall-2-wire', stallAmps: 0.016, name: 'old motor', price: 4.5 },
    ]);
    expect(catalogue.problems).toEqual([]);
    expect(catalogue.find('drive', 'my-motor')).toEqual({
      ...typical.find('drive', 'stall-2-wire'),
      id: 'my-motor',
      name: 'old motor',
      price: 4.5,
      stallAmps: 0.016,
    });
    expect(catalogue.find('drive', 'stall-2-wire')).toEqual(typical.find('drive', 'stall-2-wire'));
  });
  it('take the place of a typical part of the same id', () => {
    for (const own of [
      { id: 'led-3-amber', vf: 1.95 },
      { id: 'led-3-amber', like: 'led-3-amber', vf: 1.95 },
    ]) {
      const catalogue = resolveCatalogue([own]);
      expect(catalogue.problems).toEqual([]);
      expect(catalogue.find('lamp', 'led-3-amber')).toEqual({ ...typical.find('lamp', 'led-3-amber'), vf: 1.95 });
      expect(catalogue.all('lamp')).toHaveLength(typical.all('lamp').length);
    }
  });
  it('may be like one another, in any order', () => {
    const own: OwnPart[] = [
      { id: 'c', like: 'b', max: 0.015 },
      { id: 'b', like: 'led-3-green', vf: 2 },
      { id: 'led-3-green', seen: 0.0003 },
    ];
    for (const order of [own, [...own].reverse()]) {
      const catalogue = resolveCatalogue(order);
      expect(catalogue.problems).toEqual([]);
      expect(catalogue.find('lamp', 'c')).toMatchObject({ id: 'c', vf: 2, max: 0.015, seen: 0.0003, reverse: 5 });
    }
  });
  it('are a problem when they are like nothing', () => {
    expect(problemsOf({ id: 'x' })).toEqual([{ code: 'part-like-unknown', id: 'x', like: 'x' }]);
    expect(problemsOf({ id: 'x', like: 'nothing', vf: 2 })).toEqual([
      { code: 'part-like-unknown', id: 'x', like: 'nothing' },
    ]);
    expect(resolveCatalogue([{ id: 'x', like: 'nothing' }]).has('x')).toBe(false);
  });
  it('are a problem when they go round in a circle, and the typical part stays', () => {
    const catalogue = resolveCatalogue([
      { id: 'led-3-red', like: 'a' },
      { id: 'a', like: 'b' },
      { id: 'b', like: 'led-3-red' },
      { id: 'c', like: 'a' },
    ]);
    expect(catalogue.problems).toEqual([
      { code: 'part-like-unknown', id: 'a', like: 'b' },
      { code: 'part-like-unknown', id: 'b', like: 'led-3-red' },
      { code: 'part-like-unknown', id: 'c', like: 'a' },
      { code: 'part-like-unknown', id: 'led-3-red', like: 'a' },
    ]);
    expect(catalogue.find('lamp', 'led-3-red')).toBe(typical.find('lamp', 'led-3-red'));
    expect(catalogue.has('a')).toBe(false);
  });
  it('count once: of two with one id the first', () => {
    const catalogue = resolveCatalogue([
      { id: 'led-3-red', vf: 1.7 },
      { id: 'led-3-red', vf: 2.2 },
    ]);
    expect(catalogue.find('lamp', 'led-3-red')?.vf).toBe(1.7);
  });
  it('may stand in a chain of any length', () => {
    const chain: OwnPart[] = Array.from({ length: 20000 }, (_, i) => ({
      id: `p${i}`,
      like: i === 0 ? 'toggle-2p' : `p${i - 1}`,
    }));
    expect(resolveCatalogue(chain.reverse()).find('switch', 'p19999')?.poles).toBe(2);
  });
  it('keep what is unknown or bad out of the part', () => {
    const own = {
      id: 'm',
      like: 'stall-2-wire',
      stallAmps: 16,
      runSeconds: '2',
      contacts: 1.5,
      colour: 'red',
      kind: 'lamp',
      coilOhms: 5,
      volts: { low: 12, high: 9 },
    };
    const catalogue = resolveCatalogue([own]);
    expect(catalogue.find('drive', 'm')).toEqual({ ...typical.find('drive', 'stall-2-wire'), id: 'm' });
    expect(catalogue.problems.map((each) => [each.code, 'figure' in each ? each.figure : ''])).toEqual([
      ['part-figure-bad', 'stallAmps'],
      ['part-figure-bad', 'runSeconds'],
      ['part-figure-bad', 'contacts'],
      ['part-figure-unknown', 'colour'],
      ['part-figure-unknown', 'kind'],
      ['part-figure-unknown', 'coilOhms'],
      ['part-figure-bad', 'volts'],
    ]);
  });
  it.each([
    ['vf', [0, -1, '2', null, Number.NaN, Number.POSITIVE_INFINITY, [2], true]],
    ['rs', [-1, 1001]],
    ['n', [0.5, 11]],
    ['colour', ['', 7]],
    ['price', [-0.01, '3']],
  ])('refuse a bad %s of a lamp', (figure, values) => {
    for (const value of values) {
      expect(problemsOf({ id: 'l', like: 'led-3-red', [figure]: value })).toMatchObject([
        { code: 'part-figure-bad', figure },
      ]);
    }
  });
  it('refuse figures that contradict each other, and keep the law usable', () => {
    const catalogue = resolveCatalogue([{ id: 'l', like: 'led-3-red', rs: 900, vf: 1.7, max: 0.03 }]);
    expect(catalogue.problems.map((each) => ('figure' in each ? each.figure : ''))).toEqual(['vf', 'rs']);
    expect(catalogue.find('lamp', 'l')).toMatchObject({ rs: 5, vf: 1.8, max: 0.03 });
    expect(problemsOf({ id: 'l', like: 'led-3-red', seen: 0.03 })).toMatchObject([{ figure: 'seen' }]);
    expect(problemsOf({ id: 'l', like: 'led-3-red', dark: 0.0002 })).toMatchObject([{ figure: 'dark' }]);
  });
  it('make the law of a diode anew, step by step', () => {
    const catalogue = resolveCatalogue([
      { id: 'd', like: 'diode-small', vf: 0.3, at: 0.001 },
      { id: 'e', like: 'd', n: 1.1 },
    ]);
    const [d, e] = [catalogue.find('diode', 'd'), catalogue.find('diode', 'e')];
    expect(d && forwardVolts(d.law, 0.001)).toBeCloseTo(0.3, 12);
    expect(e && forwardVolts(e.law, 0.001)).toBeCloseTo(0.3, 12);
    expect([d?.law.n, e?.law.n, e?.law.rs]).toEqual([1.8, 1.1, 0.05]);
  });
  it('may carry ids and figures that are names of the language', () => {
    const own: OwnPart[] = JSON.parse(
      '[{"id":"__proto__","like":"led-3-red"},{"id":"constructor"},{"id":"x","like":"toString"},{"id":"y","like":"led-3-red","__proto__":{"vf":9},"hasOwnProperty":1}]',
    );
    const catalogue = resolveCatalogue(own);
    expect(catalogue.find('lamp', '__proto__')).toMatchObject({ id: '__proto__', vf: 1.8 });
    expect([catalogue.has('constructor'), catalogue.has('x')]).toEqual([false, false]);
    expect(catalogue.find('lamp', 'y')?.vf).toBe(1.8);
    expect(catalogue.problems.map((each) => each.code)).toEqual([
      'part-like-unknown',
      'part-like-unknown',
      'part-figure-unknown',
      'part-figure-unknown',
    ]);
  });
  it('are never altered, nor are the typical parts', () => {
    const before = JSON.stringify(TYPICAL_PARTS);
    const own = Object.freeze({ id: 'led-3-red', vf: 2 });
    expect(resolveCatalogue([own])).toBeDefined();
    expect(JSON.stringify(TYPICAL_PARTS)).toBe(before);
  });
});

describe('all', () => {
  it('stands by id', () => {
    const kinds: readonly Part['kind'][] = [
      'lamp',
      'drive',
      'switch',
      'button',
      'relay',
      'connector',
      'resistor',
      'diode',
      'wire',
      'capacitor',
    ];
    for (const kind of kinds) {
      const ids = typical.all(kind).map((part) => part.id);
      expect(ids.length).toBeGreaterThan(1);
      expect([...ids].sort()).toEqual(ids);
    }
  });
});

describe('the law of every lamp', () => {
  it('gives vf at its own current', () => {
    for (const lamp of typical.all('lamp')) expect(forwardVolts(lampLaw(lamp), lamp.at)).toBeCloseTo(lamp.vf, 12);
  });
});
