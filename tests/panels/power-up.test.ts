/** When the supply comes on: what the trade says of each kind of feed (common practice, no source). */
import { describe, expect, it } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { derive } from '../../src/derive.ts';

const at = (asked: Parameters<typeof combine>[0]) => derive(combine(asked)).powerUp();

describe('power-up', () => {
  it('[PU1] takes every drive on a held feed to where its lever asks, and says what all of them draw', () => {
    const told = at({ drive: 'limit-2-wire', feed: 'reversing', scheme: 'across-feed' });
    expect(told.drives).toEqual([{ point: 'P1', drive: 'P1', does: 'home', amps: 0.12, seconds: 1.5 }]);
    expect(told.supplies[0]?.amps).toBeGreaterThan(0.12);
    expect(told.lies).toEqual([]);
    expect(told.settles).toEqual([
      { lamp: 'N1', seconds: 1.5 },
      { lamp: 'R1', seconds: 1.5 },
    ]);
  });

  it('[PU2] moves nothing on a pulse feed: a latch says what was thrown last, whatever was moved by hand since', () => {
    const told = at({ drive: 'twin-coil', feed: 'unit', scheme: 'latching-relay' });
    expect(told.drives[0]?.does).toBe('stays');
    expect(told.lies).toEqual([
      { lamp: 'N1', levers: {}, history: { P1: 'reverse' }, latches: { K1: 'reset' }, shown: 'lit', should: 'unlit' },
      { lamp: 'R1', levers: {}, history: { P1: 'normal' }, latches: { K1: 'set' }, shown: 'lit', should: 'unlit' },
    ]);
  });

  it('[PU3] charges through coil N where a lever of a charge feed lies normal, and does nothing where it lies reverse', () => {
    const told = at({ drive: 'twin-coil', feed: 'charge', scheme: 'spare-pole' });
    expect(told.drives[0]?.does).toBe('charges');
    expect(told.lies).toEqual([
      { lamp: 'R1', levers: { L1: 'reverse' }, history: { P1: 'normal' }, latches: {}, shown: 'lit', should: 'unlit' },
    ]);
  });

  it('[PU4] leaves lamps true that contacts on the drive or the blades light', () => {
    expect(at({ drive: 'twin-coil', feed: 'charge', scheme: 'blade-contact' }).lies).toEqual([]);
    expect(at({ drive: 'twin-coil-end-off', feed: 'unit', scheme: 'drive-contact' }).lies).toEqual([]);
  });
});
