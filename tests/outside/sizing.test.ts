/**
 * Sizing against published worked examples: resistors of LEDs, and the drop of wire.
 */
import { describe, expect, test } from 'vitest';
import { sizeResistor } from '../../src/lamps/index.ts';
import { sizeWire, wireDrop } from '../../src/loom/index.ts';
import { type LampPart, resolveCatalogue } from '../../src/parts/index.ts';
import { awgArea, COPPER_OHM_MM2_PER_M, COPPER_PER_KELVIN, preferred, wireOhms } from '../../src/units/index.ts';
// Worked examples copied with their sources: each record names its book, page or address.
import worked from './data/08-12-worked-examples.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly item: number;
  readonly given: Readonly<Record<string, unknown>>;
  readonly expect: Readonly<Record<string, unknown>>;
}

const ofItem = (item: number): readonly Case[] => (worked as readonly Case[]).filter((c) => c.item === item);

function num(record: Readonly<Record<string, unknown>>, key: string): number {
  const value = record[key];
  if (typeof value !== 'number') throw new RangeError(`${key} is ${String(value)}, not a number`);
  return value;
}

function pair(record: Readonly<Record<string, unknown>>, key: string): readonly [number, number] {
  const value = record[key];
  if (!Array.isArray(value) || value.length !== 2) throw new RangeError(`${key} is no pair`);
  return [Number(value[0]), Number(value[1])];
}

/** Within a share of the printed value: half a unit of its last printed digit, as a rule. */
function near(value: number, want: number, share: number): void {
  expect(Math.abs(value - want), `${value} against ${want}`).toBeLessThanOrEqual(share * Math.abs(want));
}

const catalogue = resolveCatalogue(undefined);

describe('resistors of LEDs (worked examples, item 8)', () => {
  test.each(ofItem(8).map((c) => [c.id, c] as const))('[LA18] %s', (id, { given, expect: want }) => {
    const base = catalogue.find('lamp', 'led-3-red');
    if (base === undefined) throw new Error('no led-3-red');
    const [volts, current] = [num(given, 'V'), num(given, 'i')];
    const lamp: LampPart = { ...base, vf: num(given, 'vf'), at: current };
    const side = typeof given.parallel === 'number' ? given.parallel : 1;
    const count = typeof given.n === 'number' ? given.n : 1;
    const series = Array.from({ length: count }, () => lamp);
    const sized = sizeResistor({ low: volts, nominal: volts, high: volts }, [{ series, strings: side, current }], null);
    if (id === 'led-vf-too-high') {
      // What is left is below nought, and the lamp stays below its current straight across the supply.
      expect(sized.sum[0]?.value).toBeLessThan(0);
      expect(sized.corners[0]?.nominal).toBeLessThan(current);
      return;
    }
    const exact = sized.sum[1]?.value ?? Number.NaN;
    if (given.round === 'E12 up') {
      expect(sized.ohms).toBe(num(want, 'R'));
      return;
    }
    near(exact, num(want, 'R'), 1e-9);
    expect(sized.ohms).toBe(preferred('E12', Number(exact.toPrecision(9)), 'up'));
    // Power of the exact value, from the current that it was sized for.
    if (want.P_R !== undefined) near((current * side) ** 2 * exact, num(want, 'P_R'), 1e-9);
    if (want.i_total !== undefined) near(current * side, num(want, 'i_total'), 1e-12);
    if (want.E24_above !== undefined) {
      const fine = sizeResistor({ low: volts, nominal: volts, high: volts }, [{ series, strings: 1, current }], null, {
        series: 'E24',
      });
      expect(fine.ohms).toBe(num(want, 'E24_above'));
      // The source holds the lamp at 2 V; its own law lets it have a hundredth more.
      near(fine.corners[0]?.nominal ?? Number.NaN, num(want, 'i_above'), 0.01);
    }
  });
});

describe('drop of wire (worked examples, item 11)', () => {
  const MM_PER_FT = 304.8;
  /** A circular mil is pi / 4 of a square of a thousandth of an inch. */
  const MM2_PER_CMIL = (Math.PI / 4) * 0.0254 ** 2;
  /** Ohm circular mils a foot to ohm mm2 a metre. */
  const siOf = (rho: number): number => (rho * MM2_PER_CMIL) / 0.3048;
  /** The gauge of standard copper that has so many ohms a metre: examples print ohms of tables, not sections. */
  const gaugeOf = (ohmsPerMetre: number): number => COPPER_OHM_MM2_PER_M / ohmsPerMetre;

  const checks: Readonly<Record<string, (c: Case) => void>> = {
    'vd-14awg': ({ given, expect: want }) => {
      const length = num(given, 'length_ft_each') * MM_PER_FT;
      const gauge = num(given, 'cmil') * MM2_PER_CMIL;
      // 4107 circular mils are 14 AWG (ASTM B258).
      near(gauge, awgArea(14), 1e-4);
      const scale = siOf(num(given, 'rho')) / COPPER_OHM_MM2_PER_M;
      near(wireOhms(length, gauge) * scale, num(want, 'R_each'), 1e-4);
      const drop = wireDrop({ amps: num(want, 'I_max'), length, volts: num(given, 'V') }, gauge / scale);
      near(drop.ohms, num(want, 'R_total'), 1e-4);
      // The most amps are those that lose all the volts on the way.
      near(drop.share, 1, 1e-4);
    },
    'vd-size-2-0': ({ given, expect: want }) => {
      const length = num(given, 'length_ft_each') * MM_PER_FT;
      const scale = siOf(num(given, 'rho')) / COPPER_OHM_MM2_PER_M;
      const volts = 240;
      const share = (2 * num(given, 'drop_each')) / volts;
      const run = { amps: num(given, 'I'), length, volts };
      const sized = sizeWire(run, [], { share });
      near((sized.least * scale) / MM2_PER_CMIL, num(want, 'cmil'), 1e-5);
      near(num(given, 'drop_each') / num(given, 'I'), num(want, 'R'), 1e-12);
      // Of the AWG sizes the next thicker is 2/0: 1/0 is too thin.
      const aught = [0, -1, -2].find((awg) => awgArea(awg) >= sized.least * scale);
      expect(aught).toBe(-1);
      expect(want.choice).toBe('2/0');
    },
    'vd-temp': ({ given, expect: want }) => {
      const [cold, warm] = pair(given, 't');
      const gauge = gaugeOf(num(given, 'R_wire_each'));
      [cold, warm].forEach((celsius, k) => {
        const amps = pair(want, 'I')[k] ?? Number.NaN;
        const drop = wireDrop({ amps, length: 1000, volts: num(given, 'V'), celsius }, gauge);
        // The book's copper rises by 0.4041 % a kelvin, standard copper by 0.393 %: 0.17 % apart over 15 kelvin.
        const apart = ((0.004041 - COPPER_PER_KELVIN) * (celsius - 20)) / 1.06 + 1e-4;
        near(drop.drop / 2, pair(want, 'drop_each')[k] ?? Number.NaN, apart);
        near(drop.left, pair(want, 'V_load')[k] ?? Number.NaN, apart);
        near(num(given, 'V') / (drop.ohms + num(given, 'R_load')), amps, apart);
        if (k === 1) near(drop.ohms / 2, num(want, 'R_wire_35'), apart);
      });
    },
    'vd-16awg-20m': ({ given, expect: want }) => {
      const gauge = (num(given, 'area_mm2') * COPPER_OHM_MM2_PER_M) / (num(given, 'rho') * 1e6);
      const drop = wireDrop(
        { amps: num(given, 'I'), length: num(given, 'length_m_one_way') * 1000, volts: num(given, 'V') },
        gauge,
      );
      near(drop.drop, num(want, 'drop'), 1e-3);
      near(drop.share * 100, num(want, 'percent'), 2e-3);
    },
    'vd-16awg-100ft': (c) => table(c, num(c.given, 'ohm_per_kft') / 304.8),
    'vd-14awg-50ft': (c) => {
      table(c, num(c.given, 'ohm_per_ft') / 0.3048);
      const { given } = c;
      const length = num(given, 'length_ft_one_way') * MM_PER_FT;
      const gauge = gaugeOf(num(given, 'ohm_per_ft') / 0.3048);
      const drop = wireDrop({ amps: num(given, 'I'), length, volts: num(given, 'V') }, gauge);
      near(drop.left, num(c.expect, 'V_load'), 1e-6);
      // The same from the section of 14 AWG alone: the table's ohms are those of standard copper.
      near(wireDrop({ amps: num(given, 'I'), length, volts: num(given, 'V') }, awgArea(14)).drop, drop.drop, 1e-3);
    },
    'vd-100A-0.025': (c) => table(c, num(c.given, 'ohm_per_100ft') / 30.48),
    'vd-100A-0.016': (c) => table(c, num(c.given, 'ohm_per_100ft') / 30.48),
    'vd-100A-0.01': (c) => table(c, num(c.given, 'ohm_per_100ft') / 30.48),
  };

  /** Drop, its share, and what is printed of both, from ohms a metre. */
  function table({ given, expect: want }: Case, ohmsPerMetre: number): void {
    const length = num(given, 'length_ft_one_way') * MM_PER_FT;
    const drop = wireDrop({ amps: num(given, 'I'), length, volts: num(given, 'V') }, gaugeOf(ohmsPerMetre));
    near(drop.drop, num(want, 'drop'), 1e-6);
    if (want.printed !== undefined) near(drop.drop, num(want, 'printed'), 3e-3);
    if (want.percent !== undefined) near(drop.share * 100, num(want, 'percent'), 5e-4);
    if (want.printed_percent !== undefined) near(drop.share * 100, num(want, 'printed_percent'), 5e-3);
  }

  test('every record has its check', () => {
    expect(Object.keys(checks).sort()).toEqual(
      ofItem(11)
        .map((c) => c.id)
        .sort(),
    );
  });

  test.each(ofItem(11).map((c) => [c.id, c] as const))('[LO7] %s', (id, c) => {
    checks[id]?.(c);
  });
});
