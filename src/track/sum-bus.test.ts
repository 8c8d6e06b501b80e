import { describe, expect, it } from 'vitest';
import { type BusInput, sumBus } from './sum-bus.ts';

const WHOLE: BusInput = {
  bus: { length: 8000, gauge: 1.5 },
  droppers: { length: 300, gauge: 0.5 },
  booster: 'Z1',
  volts: 15,
  tripAmps: 3,
};

describe('the bus', () => {
  it('[TF17] is a sum in steps that can be checked by hand', () => {
    const sum = sumBus(WHOLE, 10);
    // 2 x 8 x 0.017241 / 1.5 = 0.18390; 2 x 0.3 x 0.017241 / 0.5 = 0.02069.
    expect(sum.ohms).toBeCloseTo(0.2046, 4);
    expect(sum.drop).toBeCloseTo(0.6138, 4);
    expect(sum.dropShare).toBeCloseTo(0.0409, 4);
    expect(sum.shortAmps).toBeCloseTo(73.3, 1);
    expect(sum.neededAmps).toBe(6);
    expect(sum.verdict).toBe('trips');
    expect(sum.questions).toEqual([]);
    expect(sum.steps.map(({ sum: text, unit }) => `${text} [${unit}]`)).toEqual([
      '2 x 8 m of 1.5 mm2 [ohm]',
      '2 x 0.3 m of 0.5 mm2 [ohm]',
      '0.184 + 0.021 ohm [ohm]',
      '3.00 A x 0.205 ohm [V]',
      '15.00 V - 0.61 V [V]',
      '15.00 V / 0.205 ohm [A]',
      '2 x 3.00 A [A]',
    ]);
  });

  it.each([
    [{ ...WHOLE, bus: { length: undefined, gauge: 1.5 } }, ['track.bus.length']],
    [{ ...WHOLE, bus: { length: 8000, gauge: undefined } }, ['track.bus.gauge']],
    [
      { ...WHOLE, droppers: { length: undefined, gauge: undefined } },
      ['track.droppers.length', 'track.droppers.gauge'],
    ],
    [{ ...WHOLE, volts: undefined }, ['track.boosters.Z1.volts']],
    [{ ...WHOLE, tripAmps: undefined }, ['track.boosters.Z1.tripAmps']],
  ] as const)('[TF18] gives no verdict where something was not asked for (%#)', (input, keys) => {
    const sum = sumBus(input, null);
    expect(sum.verdict).toBe('not-asked-for');
    expect(sum.questions.map(({ key }) => key)).toEqual(keys);
    for (const { text } of sum.questions) expect(text.endsWith('?')).toBe(true);
  });

  it('[TF18] tells early what can only get worse', () => {
    // 2 x 100 x 0.017241 / 0.5 = 6.9 ohm: 2.2 A, whatever the droppers add.
    const sum = sumBus(
      { ...WHOLE, bus: { length: 100_000, gauge: 0.5 }, droppers: { length: undefined, gauge: 0.5 } },
      3,
    );
    expect(sum.verdict).toBe('does-not-trip');
    expect(sum.shortAmps).toBeCloseTo(15 / 6.8964, 4);
    expect(sum.ohms).toBeNull();
    expect(sum.questions.map(({ key }) => key)).toEqual(['track.droppers.length']);
  });

  it('[TF18] just sees the short at twice the trip, and just does not', () => {
    // 15 V over 2.5 ohm is 6 A: L = 2.5 / 2 x 1 / 0.017241 = 72.502 m of 1 mm2, without droppers.
    const at = (length: number) =>
      sumBus({ ...WHOLE, bus: { length, gauge: 1 }, droppers: { length: 0, gauge: 1 } }, 6).verdict;
    expect(at(72_500)).toBe('trips');
    expect(at(72_510)).toBe('does-not-trip');
  });
});
