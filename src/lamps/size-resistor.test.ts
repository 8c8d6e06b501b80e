import { describe, expect, it } from 'vitest';
import { type LampPart, resolveCatalogue } from '../parts/index.ts';
import { sizeResistor } from './size-resistor.ts';
import type { FeedVolts } from './types.ts';

const catalogue = resolveCatalogue(undefined);

/** A lamp that drops the same volts at its wanted current as the published example says. */
function lamp(vf: number, at: number): LampPart {
  const part = catalogue.find('lamp', 'led-3-red');
  if (part === undefined) throw new Error('no led-3-red');
  return { ...part, vf, at };
}

function feed(volts: number): FeedVolts {
  return { low: volts, nominal: volts, high: volts };
}

function exactOhms(volts: number, vf: number, amps: number, series: number): number {
  const part = lamp(vf, amps);
  const sized = sizeResistor(
    feed(volts),
    [{ series: Array.from({ length: series }, () => part), strings: 1, current: amps }],
    null,
  );
  const step = sized.sum.find((each) => each.unit === 'ohm');
  return step?.value ?? Number.NaN;
}

describe('sizeResistor', () => {
  // Kuphaldt, Lessons in Electric Circuits, vol. III, LED section; hobby-hour LED calculator; published answers.
  it.each([
    { volts: 6, vf: 1.6, amps: 0.02, series: 1, ohms: 220 },
    { volts: 24, vf: 1.6, amps: 0.02, series: 1, ohms: 1120 },
    { volts: 6, vf: 1.6, amps: 0.02, series: 2, ohms: 140 },
    { volts: 9, vf: 2, amps: 0.02, series: 1, ohms: 350 },
    { volts: 12, vf: 1.8, amps: 0.005, series: 1, ohms: 2040 },
  ])('gives $ohms ohm for $series x $vf V at $amps A on $volts V', ({ volts, vf, amps, series, ohms }) => {
    expect(exactOhms(volts, vf, amps, series)).toBeCloseTo(ohms, 6);
  });

  // vespalabs LED resistor table, 1.7 V at 20 mA: E12 rounded up from 215, 365, 515, 1115.
  it.each([
    { volts: 6, ohms: 220 },
    { volts: 9, ohms: 390 },
    { volts: 12, ohms: 560 },
    { volts: 24, ohms: 1200 },
  ])('takes the next E12 value up: $ohms ohm on $volts V', ({ volts, ohms }) => {
    const sized = sizeResistor(feed(volts), [{ series: [lamp(1.7, 0.02)], strings: 1, current: 0.02 }], null);
    expect(sized.ohms).toBe(ohms);
  });

  it('keeps the value that the user gives, and says so', () => {
    const sized = sizeResistor(feed(9), [{ series: [lamp(2, 0.002)], strings: 1, current: 0.002 }], 4700);
    expect(sized.ohms).toBe(4700);
    expect(sized.sum.some((step) => step.text === 'yours: 4k7')).toBe(true);
  });

  it('doubles the worst power: 9 V, 2 V lamp, 350 ohm wanted, so 390; (9 - 1.9)^2 / 370.5 = 136 mW asks for half a watt', () => {
    const part = lamp(2, 0.02);
    const sized = sizeResistor(feed(9), [{ series: [part], strings: 1, current: 0.02 }], null);
    // At the corner the lamp's volts move a little with the current: within 2 %.
    expect(sized.watts).toBeCloseTo(7.1 ** 2 / (390 * 0.95), 2);
    expect(sized.rating).toBe(0.5);
  });

  it('of two lamps back to back sizes for the one of less forward volts', () => {
    const red = lamp(1.8, 0.002);
    const blue = lamp(2.8, 0.002);
    const sized = sizeResistor(
      feed(12),
      [
        { series: [blue], strings: 1, current: 0.002 },
        { series: [red], strings: 1, current: 0.002 },
      ],
      null,
    );
    // (12 - 1.8) / 2 mA = 5100: next in E12 is 5600.
    expect(sized.ohms).toBe(5600);
  });

  it('still answers where the lamps leave nothing', () => {
    const sized = sizeResistor(
      feed(9),
      [{ series: Array.from({ length: 5 }, () => lamp(2.1, 0.008)), strings: 1, current: 0.008 }],
      null,
    );
    // Sized as if a quarter of 9 V were left: 2.25 / 8 mA = 281: 330.
    expect(sized.ohms).toBe(330);
  });

  it('[LA18] tells every corner of all bands: 9 V 5 %, a lamp of 2 V 0.1 V, 3900 ohm 5 %', () => {
    const sized = sizeResistor(
      { low: 8.55, nominal: 9, high: 9.45 },
      [{ series: [lamp(2, 0.002)], strings: 1, current: 0.002 }],
      null,
    );
    expect(sized.ohms).toBe(3900);
    // By hand with the lamp's volts held: (9.45 - 1.9) / 3705, (9 - 2) / 3900, (8.55 - 2.1) / 4095; they move by some 20 mV.
    const [corners] = sized.corners;
    expect(corners?.high).toBeCloseTo(7.55 / 3705, 4);
    expect(corners?.nominal).toBeCloseTo(7 / 3900, 4);
    expect(corners?.low).toBeCloseTo(6.45 / 4095, 4);
    expect(sized.safe).toBe(3900);
    expect(sized.steps).toHaveLength(6);
    expect(sized.steps[0]).toBe('9.00 V \u2212 2.00 V = 7.00 V');
    expect(sized.steps[4]).toMatch(/^at most 9\.45 V, lamps \u2212 0\.10 V, 3k705: 2\.0\d mA; at least 8\.55 V/);
  });

  it('[LA18] where a corner takes a lamp above what it stands, names the value that does not', () => {
    const loads = [{ series: [lamp(2, 0.02)], strings: 1, current: 0.02 }];
    const edges = { low: 8.55, nominal: 9, high: 9.45 };
    const sized = sizeResistor(edges, loads, null);
    expect(sized.ohms).toBe(390);
    expect(sized.safe).toBeGreaterThan(390);
    expect(sized.steps.some((step) => step.includes('keeps within it'))).toBe(true);
    const kept = sizeResistor(edges, loads, sized.safe);
    expect(kept.corners[0]?.high).toBeLessThanOrEqual(0.02);
    expect(kept.safe).toBe(sized.safe);
  });

  it('[LA18] a tighter resistor and a finer series bring the corners together', () => {
    const loads = [{ series: [lamp(2, 0.002)], strings: 1, current: 0.002 }];
    const wide = sizeResistor(feed(9), loads, null);
    const tight = sizeResistor(feed(9), loads, null, { series: 'E96', band: 0.01 });
    // 7 V / 2 mA = 3500: the next in E96 is 3570 (IEC 60063).
    expect(tight.ohms).toBe(3570);
    const spread = (each: typeof wide) => (each.corners[0]?.high ?? 0) / (each.corners[0]?.low ?? 1);
    expect(spread(tight)).toBeLessThan(spread(wide));
  });

  it('[LA18] the example of three lamps: 9.0 - 3 x 2.1 = 2.7 V; 2.7 / 0.008 = 338; next in E12 390; 6.9 mA', () => {
    const part = lamp(2.1, 0.008);
    const sized = sizeResistor(feed(9), [{ series: [part, part, part], strings: 1, current: 0.008 }], null);
    expect(sized.steps.slice(0, 3)).toEqual([
      '9.00 V \u2212 3 \u00d7 2.10 V = 2.70 V',
      '2.70 V / 8.00 mA = 338 ohm',
      'next in E12: 390R',
    ]);
    // 2.7 / 390 with the volts held; the lamps' own law lets them have a tenth of a milliamp more.
    expect(sized.corners[0]?.nominal).toBeCloseTo(2.7 / 390, 3);
  });
});
