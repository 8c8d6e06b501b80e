// The track's feed against published sums and standards. The sums stand in data/08-12-worked-examples.json (item 11), each with its source.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import { readPanel } from '../../src/panel/index.ts';
import { sumBus } from '../../src/track/index.ts';
import { awgArea, COPPER_OHM_MM2_PER_M } from '../../src/units/index.ts';
import { tracks } from '../generate/tracks.ts';

interface Case {
  readonly id: string;
  readonly given: Readonly<Record<string, number>>;
  readonly expect: Readonly<Record<string, number>>;
}

const CASES: readonly Case[] = JSON.parse(
  readFileSync(new URL('./data/08-12-worked-examples.json', import.meta.url), 'utf8'),
);
function published(id: string) {
  const found = CASES.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no case ${id}`);
  const of = (what: Case['given']) => (key: string) => {
    const value = what[key];
    if (value === undefined) throw new Error(`${id} has no ${key}`);
    return value;
  };
  return { given: of(found.given), expect: of(found.expect) };
}

const MM_PER_FOOT = 304.8;
/** A circular mil: the area of a circle of a thousandth of an inch. */
const MM2_PER_CIRCULAR_MIL = (Math.PI / 4) * 0.0254 ** 2;
const NO_DROPPERS = { length: 0, gauge: 1 };

/** A bus alone, to its far end. */
function bus(length: number, gauge: number, volts: number, amps: number) {
  return sumBus({ bus: { length, gauge }, droppers: NO_DROPPERS, booster: 'Z1', volts, tripAmps: amps }, null);
}

describe('a two-wire run of direct current', () => {
  it('[TF17] 50 feet of AWG 14 at 5 A and 12 V lose 1.26 V (calculatorlib.com)', () => {
    const { given, expect: said } = published('vd-14awg-50ft');
    const sum = bus(given('length_ft_one_way') * MM_PER_FOOT, awgArea(14), given('V'), given('I'));
    // Its table is to four figures.
    expect(sum.drop).toBeCloseTo(said('printed'), 2);
    expect((sum.dropShare ?? 0) * 100).toBeCloseTo(said('percent'), 1);
    const left = sum.steps.find(({ what }) => what === 'left at the far end');
    expect(left?.value).toBeCloseTo(said('V_load'), 2);
  });

  it('[TF17] 20 m of 1.3 mm2 at 1 A and 12 V lose 0.549 V, with the resistivity of that page', () => {
    const { given, expect: said } = published('vd-16awg-20m');
    const sum = bus(given('length_m_one_way') * 1000, given('area_mm2'), given('V'), given('I'));
    // It counts with 0.01785 ohm mm2/m.
    const ratio = (given('rho') * 1e6) / COPPER_OHM_MM2_PER_M;
    expect((sum.drop ?? 0) * ratio).toBeCloseTo(said('drop'), 3);
    expect((sum.dropShare ?? 0) * ratio * 100).toBeCloseTo(said('percent'), 2);
  });

  it('[TF17] [TF18] 2300 feet of AWG 14 each way: 11.301 ohm, and 20.352 A at most through a short at 230 V (Kuphaldt)', () => {
    const { given, expect: said } = published('vd-14awg');
    const gauge = given('cmil') * MM2_PER_CIRCULAR_MIL;
    const sum = bus(given('length_ft_each') * MM_PER_FOOT, gauge, given('V'), 10);
    // It counts with copper as an element, 10.09 ohm circular mil a foot.
    const ratio = (given('rho') * MM2_PER_CIRCULAR_MIL) / (MM_PER_FOOT / 1000) / COPPER_OHM_MM2_PER_M;
    expect((sum.ohms ?? 0) * ratio).toBeCloseTo(said('R_total'), 3);
    expect((sum.shortAmps ?? 0) / ratio).toBeCloseTo(said('I_max'), 2);
    // Twice a trip of 10 A is 20 A, and copper by our constant lets 19.8 A through.
    expect(sum.verdict).toBe('does-not-trip');
    expect(bus(given('length_ft_each') * MM_PER_FOOT, gauge, given('V'), 9.5).verdict).toBe('trips');
  });

  it.each(['vd-100A-0.025', 'vd-100A-0.016', 'vd-100A-0.01'])(
    '[TF17] %s: 15 feet are 30 feet there and back (ohmicaudio.com)',
    (id) => {
      const { given, expect: said } = published(id);
      // Copper of this section has the ohms that the page gives for 100 feet.
      const gauge = (COPPER_OHM_MM2_PER_M * 100 * MM_PER_FOOT) / 1000 / given('ohm_per_100ft');
      const sum = bus(given('length_ft_one_way') * MM_PER_FOOT, gauge, given('V'), given('I'));
      expect(sum.drop).toBeCloseTo(said('drop'), 9);
    },
  );
});

describe('rail polarity', () => {
  const { plan, track } = derive(
    tracks(`main 0,60 300,60
      loop 60,60 100,85 200,85 240,60
      back 280,60 240,35 100,35`),
  );
  const rails = new Map(track().rails.map((each) => [each.span, each]));

  it('[TF2] the right-hand rail in the direction of travel is the positive one (NEM 631, 1985; NMRA S-9 the same, from memory)', () => {
    // A is the positive wire of a train that runs along the strip laid first, from its first corner to its last.
    for (const { id, path } of plan.spans) {
      const [from, to] = [path[0], path[path.length - 1]];
      const eastward = (to?.[0] ?? 0) > (from?.[0] ?? 0);
      const onTheRight = eastward ? rails.get(id)?.right : rails.get(id)?.left;
      expect(onTheRight, id).toBe('A');
    }
  });

  it('[TF2] the rails of one train are on opposite wires everywhere, on the examples too', () => {
    for (const name of ['bramble-siding', 'quillhaven-harbour']) {
      const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
      if (!read.ok) throw new Error(name);
      const derived = derive(read.panel);
      for (const { left, right, section } of derived.track().rails) {
        expect(section).toBeNull();
        expect(new Set([left, right])).toEqual(new Set(['A', 'B']));
      }
      // Every passage keeps the wire on a walker's right hand.
      const by = new Map(derived.track().rails.map((each) => [each.span, each]));
      for (const {
        between: [from, to],
      } of derived.plan.passages) {
        const before = from.end === 1 ? by.get(from.span)?.right : by.get(from.span)?.left;
        const after = to.end === 0 ? by.get(to.span)?.right : by.get(to.span)?.left;
        expect(after).toBe(before);
      }
    }
  });
});

describe('a bus as NEM 933/1 CH has it', () => {
  it('[TF17] [TF18] 1.5 mm2 with droppers of 0.5 mm2 sees a coin 20 m off at 15 V and 5 A (common practice, no source)', () => {
    const sum = sumBus(
      {
        bus: { length: 20_000, gauge: 1.5 },
        droppers: { length: 300, gauge: 0.5 },
        booster: 'Z1',
        volts: 15,
        tripAmps: 5,
      },
      10,
    );
    // 2 x 20 x 0.017241 / 1.5 + 2 x 0.3 x 0.017241 / 0.5 = 0.4598 + 0.0207 ohm = 0.4804.
    expect(sum.ohms).toBeCloseTo(0.4804, 3);
    expect(sum.shortAmps).toBeCloseTo(31.2, 1);
    expect(sum.verdict).toBe('trips');
  });
});
