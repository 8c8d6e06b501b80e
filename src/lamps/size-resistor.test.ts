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
});
