// Published values: each table in data/ names the source of every record; others have theirs beside the check.
import { describe, expect, it } from 'vitest';
import { forwardVolts, type LampPart, lampLaw, resolveCatalogue, THERMAL_VOLTAGE } from '../../src/parts/index.ts';
import { awgArea } from '../../src/units/index.ts';
import { readCsv } from './read-csv.ts';

const catalogue = resolveCatalogue(undefined);
const lamps = catalogue.all('lamp').filter((lamp) => lamp.elements === 1);

/** Half width of the band that the product puts on every forward voltage. */
const BAND = 0.1;
const ROUNDING = 1e-9;

describe('forward volts of lamps', () => {
  /** The line of the published tables that each colour belongs to; amber is sold as orange, yellow or between. */
  const LINES: Readonly<Record<string, readonly string[]>> = {
    red: ['red'],
    amber: ['amber/yellow'],
    yellow: ['amber/yellow', 'yellow, green'],
    green: ['yellow-green (GaP)', 'yellow, green'],
    'pure-green': ['pure green (InGaN)'],
    blue: ['blue (InGaN)', 'white, blue, violet'],
    white: ['white (InGaN+phosphor)', 'white, blue, violet'],
  };
  const ranges = readCsv('07-led-forward-voltage.csv').filter(
    (row) => row.get('vf_min') !== '' && row.get('vf_max') !== '',
  );
  it.each(lamps.map((lamp) => [lamp.id, lamp] as const))('%s reaches the published ranges at 20 mA', (_, lamp) => {
    const lines = LINES[lamp.colour] ?? [];
    const published = ranges.filter((row) => lines.includes(row.get('colour')));
    expect(published.length).toBeGreaterThanOrEqual(lines.length);
    for (const row of published) {
      const volts = forwardVolts(lampLaw(lamp), row.number('test_current_mA') / 1000);
      expect(volts).toBeGreaterThanOrEqual(row.number('vf_min') - BAND);
      expect(volts).toBeLessThanOrEqual(row.number('vf_max') + BAND);
    }
  });
  it.each([
    ['led-3-red', 'low-current high-efficiency red'],
    ['led-3-yellow', 'low-current yellow'],
    ['led-3-green', 'low-current green'],
  ])('%s has the volts of low-current types at 2 mA within its band', (id, line) => {
    const row = readCsv('07-led-forward-voltage.csv').find((each) => each.get('colour') === line);
    const lamp = catalogue.find('lamp', id);
    if (row === undefined || lamp === undefined) throw new RangeError(`${id} or ${line} is missing`);
    const volts = forwardVolts(lampLaw(lamp), row.number('test_current_mA') / 1000);
    expect(Math.abs(volts - row.number('vf_typ'))).toBeLessThanOrEqual(BAND + ROUNDING);
  });
});

describe('ratings and sizes of lamps', () => {
  const rows = readCsv('07b-led-ratings-dimensions.csv');
  const published = (part: string, quantity: string): string => {
    const row = rows.find((each) => each.get('part') === part && each.get('quantity') === quantity);
    if (row === undefined) throw new RangeError(`nothing published on ${quantity} of ${part}`);
    return row.get('value');
  };
  const ofSize = (size: number): readonly LampPart[] => catalogue.all('lamp').filter((lamp) => lamp.size === size);
  it('stand 5 V in reverse and no more current than any maker allows', () => {
    for (const lamp of catalogue.all('lamp')) {
      expect(lamp.reverse).toBe(Number(published('LED, any visible', 'usual maximum reverse voltage')));
      expect(lamp.max).toBeLessThanOrEqual(Number(published('LED 5 mm green', 'maximum forward current')) / 1000);
    }
  });
  it('pass their holes, and 3 mm ones are held by their flange', () => {
    const [body = '', over = ''] = published('LED 5 mm', 'body diameter').split(' +/-');
    for (const lamp of ofSize(5)) {
      expect(lamp.hole).toBe(Number(published('LED 5 mm', 'clear hole for a push-through body')));
      expect(lamp.hole).toBeGreaterThan(Number(body) + Number(over));
    }
    for (const lamp of ofSize(3)) {
      expect(lamp.hole).toBeGreaterThan(Number(published('LED 3 mm', 'body diameter')));
      expect(lamp.hole).toBeLessThan(Number(published('LED 3 mm', 'flange diameter')));
    }
  });
});

describe('contacts of D-subminiatures', () => {
  const rows = readCsv('15b-dsub-contact-positions.csv').filter((row) => row.get('contact') !== 'hole');
  it.each([
    ['DE-9', 'dsub-9', 9],
    ['DA-15', 'dsub-15', 15],
    ['DB-25', 'dsub-25', 25],
    ['DC-37', 'dsub-37', 37],
  ] as const)('%s stand where they are published, plug and mirrored socket', (shell, id, ways) => {
    const at = catalogue.find('connector', id)?.at ?? [];
    for (const [gender, mirror] of [
      ['pin', 1],
      ['socket', -1],
    ] as const) {
      const published = rows.filter((row) => row.get('connector') === shell && row.get('gender') === gender);
      expect(published).toHaveLength(ways);
      for (const row of published) {
        const [x = Number.NaN, y = Number.NaN] = at[row.number('contact') - 1] ?? [];
        expect(x * mirror).toBeCloseTo(row.number('x_mm_viewed_on_mating_face'), 6);
        expect(y).toBeCloseTo(row.number('y_mm_down'), 6);
      }
    }
  });
  it('stand in rows of 17, 16 and 17 in the shell of fifty', () => {
    // IEC 60807-3 / DIN 41652 as published: DD-50 has 17 + 16 + 17, pitch 2.77, rows 2.84.
    const at = catalogue.find('connector', 'dsub-50')?.at ?? [];
    const rowsOf50 = [...new Set(at.map(([, y]) => y))].map((y) => at.filter((spot) => spot[1] === y));
    expect(rowsOf50.map((row) => row.length)).toEqual([17, 16, 17]);
    expect(rowsOf50.map((row) => row[0])).toEqual([
      [0, 0],
      [1.385, 2.84],
      [0, 5.68],
    ]);
  });
  it('promises no more amps than is published for one contact', () => {
    // D-sub stamped contact 6.5 A at most; ribbon 1 A a wire, rule of thumb; pluggable terminals of 5.08 mm 12 A.
    for (const [family, most] of [
      ['dsub', 6.5],
      ['header', 1],
      ['screw', 12],
    ] as const) {
      for (const part of catalogue.all('connector').filter((each) => each.family === family))
        expect(part.amps).toBeLessThanOrEqual(most);
    }
  });
});

describe('wire', () => {
  it.each([
    ['7/0.2', 0.22],
    ['16/0.2', 0.5],
    ['24/0.2', 0.75],
  ] as const)('%s carries its published rating', (stranding, gauge) => {
    const row = readCsv('05-equipment-wire.csv').find(
      (each) => each.get('stranding') === stranding && each.get('quantity') === 'usual current rating',
    );
    expect(catalogue.all('wire').find((each) => each.gauge === gauge)?.amps).toBe(row?.number('value'));
  });
});

describe('wire against the tables of free air', () => {
  it.each([
    [20, 9],
    [18, 13],
    [16, 18],
    [14, 25],
  ])('no wire as thin as AWG %i is promised more than the %i A of its 60 C column', (awg, amps) => {
    // The table stands in 03b; starred values there are its author's estimates.
    const row = readCsv('03b-awg-checks.csv').find((each) =>
      each.get('quantity').startsWith(`free-air ampacity AWG ${awg}`),
    );
    expect(Number.parseInt(row?.get('value') ?? '', 10)).toBe(amps);
    const thinner = catalogue.all('wire').filter((wire) => wire.gauge <= awgArea(awg) * 1.05);
    expect(thinner.length).toBeGreaterThan(0);
    for (const wire of thinner) expect(wire.amps).toBeLessThanOrEqual(amps);
  });
});

describe('thermal voltage', () => {
  it('is that of 27 C', () => {
    // SI brochure: k = 1.380649e-23 J/K, e = 1.602176634e-19 C; 26 mV is 28.57 C.
    expect((THERMAL_VOLTAGE / 0.026) * (273.15 + 28.57)).toBeCloseTo(273.15 + 27, 1);
  });
});
