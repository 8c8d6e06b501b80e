import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { listDecoders } from '../decoders/index.ts';
import { groupLamps, polesOf, readLamps } from '../lamps/index.ts';
import { readPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { operate, wirePanel } from '../wiring/index.ts';
import type { BenchTest, Expect } from './types.ts';
import { writeTests } from './write-tests.ts';

function testsOf(text: string): readonly BenchTest[] {
  const read = readPanel(text);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const { panel } = read;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { lamps, trees } = readLamps(panel, catalogue, plan);
  const { switches } = chooseSwitches(panel, catalogue, plan, polesOf(trees));
  const { groups } = groupLamps(panel, catalogue, plan, lamps);
  const wiring = wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups });
  const decoders = listDecoders(panel, catalogue, plan);
  return writeTests({
    panel,
    plan,
    wiring,
    groups,
    lamps,
    decoders,
    operate: (levers, faults, history) => operate(wiring, levers, faults, history),
  });
}
const example = (name: string) => testsOf(readFileSync(`examples/${name}.mimic.json`, 'utf8'));

/** One point, one lever, 12 V, and a pair of lamps behind one resistor. */
const one = (more: object = {}) =>
  testsOf(
    JSON.stringify({
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'siding',
          path: [
            [100, 60],
            [140, 85],
            [250, 85],
          ],
        },
        {
          id: 'main',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
      ],
      points: [{ id: 'P1', at: [100, 60], drive: 'D1' }],
      drives: [{ id: 'D1', part: 'stall-2-wire', positive: 'normal', wire: { length: 3000, gauge: 0.22 } }],
      levers: [{ id: 'L1', works: [{ point: 'P1' }], switch: 'toggle-2p' }],
      lamps: [
        { id: 'H1', at: [140, 60], shows: { P1: 'normal' } },
        { id: 'H2', at: [124, 75], shows: { P1: 'reverse' } },
      ],
      lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], arrange: 'pair', ohms: 4700 }],
      supplies: [{ id: 'S1', volts: 12, tolerance: 0.05, fuse: { amps: 0.5 } }],
      connectors: [{ id: 'A', part: 'dsub-9', pins: { 7: 'D1.a', 8: 'D1.b' } }],
      ...more,
    }),
  );

function get(tests: readonly BenchTest[], id: string): BenchTest {
  const found = tests.find((test) => test.id === id);
  if (found === undefined) throw new Error(`no test ${id} among ${tests.map((test) => test.id).join(' ')}`);
  return found;
}
function band(test: BenchTest, at: string): { low: number; high: number | null } {
  const found = test.expect.find((each) => 'quantity' in each && each.at.includes(at));
  if (found === undefined || !('quantity' in found)) throw new Error(`nothing expected at ${at}`);
  return found;
}
const lamps = (test: BenchTest) =>
  test.expect.flatMap((each: Expect) => ('lamp' in each ? [`${each.lamp} ${each.look}`] : []));
const lies = (test: BenchTest) => test.expect.flatMap((each) => ('point' in each ? [`${each.point} ${each.lie}`] : []));

describe('bench tests', () => {
  it.each(['quillhaven-harbour', 'bramble-siding'])(
    '[PV1] %s: ids are unique and stages stand in the order of work',
    (name) => {
      const tests = example(name);
      expect(new Set(tests.map(({ id }) => id)).size).toBe(tests.length);
      expect(tests.map(({ stage }) => stage)).toEqual(tests.map(({ stage }) => stage).sort((a, b) => a - b));
      expect(new Set(tests.map(({ stage }) => stage))).toEqual(new Set([0, 1, 2, 3, 4, 5, 6]));
      for (const test of tests)
        expect(
          [test.do, test.tells, test.cannotTell].every((text) => text.length > 20),
          test.id,
        ).toBe(true);
      for (const { id, expect: wanted } of tests)
        for (const each of wanted)
          if ('quantity' in each && each.high !== null) expect(each.low, id).toBeLessThan(each.high);
    },
  );

  it('[PV2] a stall drive from a 9.5 V battery: the band by hand', () => {
    const tests = one();
    // 12 V / 0.015 A = 800 ohm, +-20 % of amps: 800 / 1.2 = 666.667 to 800 / 0.8 = 1000 ohm.
    // Wires: 2 x 0.017241 x 3 / 0.22 = 0.47021 ohm. Battery 9.5 V by a meter of 1 % and 0.02 V: 9.385 to 9.615 V.
    // 9.385 / 1000.47021 = 9.380589 mA, less 1 % and 0.2 mA: 9.086783 mA.
    // 9.615 / 667.13688 = 14.412334 mA, and 1 % and 0.2 mA more: 14.756457 mA.
    const { low, high } = band(get(tests, 'bench:P1:reverse'), 'A.8');
    expect(low).toBeCloseTo(0.009086783, 8);
    expect(high).toBeCloseTo(0.014756457, 8);
    expect(band(get(tests, 'bench:battery'), 'battery')).toMatchObject({ low: 8.55, high: 9.9 });
  });

  it('[PV2] a drive that was measured has the band of the meter alone', () => {
    const drives = [
      { id: 'D1', part: 'stall-2-wire', wire: { length: 3000, gauge: 0.22 }, measured: { amps: 0.0148 } },
    ];
    // 12 / 0.0148 = 810.811 ohm; the meter's 1 % and 0.2 mA of 14.8 mA: a share of 0.01 + 0.2 / 14.8 = 0.0235135.
    // Low: 9.385 / (810.811 / 0.9764865 + 0.47021) = 11.296237 mA, less 1 % and 0.2: 10.983275. High: 9.615 / (810.811 / 1.0235135 + 0.47021) = 12.130102, more: 12.451403.
    const { low, high } = band(get(one({ drives }), 'bench:P1:normal'), 'A.7');
    expect(low).toBeCloseTo(0.010983, 5);
    expect(high).toBeCloseTo(0.012451, 5);
  });

  it('[PV3] red goes to the pin of tag a when the drive goes to its positive lie', () => {
    const tests = one();
    expect(get(tests, 'bench:P1:normal').do).toContain('red on A.7, black on A.8');
    expect(lies(get(tests, 'bench:P1:normal'))).toEqual(['P1 normal']);
    expect(get(tests, 'bench:P1:reverse').do).toContain('red on A.8, black on A.7');
    const turned = one({ drives: [{ id: 'D1', part: 'stall-2-wire', positive: 'reverse' }] });
    expect(get(turned, 'bench:P1:normal').do).toContain('red on A.8, black on A.7');
  });

  it('[PV3] two points on one drive, one of opposite sense: both lies are said', () => {
    const points = [
      { id: 'P1', at: [100, 60], drive: 'D1' },
      { id: 'P2', at: [200, 60], drive: 'D1', sense: 'opposite' },
    ];
    const strips = [
      {
        id: 'loop',
        path: [
          [100, 60],
          [140, 85],
          [160, 85],
          [200, 60],
        ],
      },
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
    ];
    const levers = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }];
    const tests = one({ points, strips, levers, lamps: [], lampGroups: [] });
    expect(lies(get(tests, 'bench:P1:normal'))).toEqual(['P1 normal', 'P2 reverse']);
    expect(lies(get(tests, 'bench:P2:normal'))).toEqual(['P1 reverse', 'P2 normal']);
  });

  it('[PV4] a limit-switched drive runs, stops, and then takes less than 0.1 mA', () => {
    const test = get(one({ drives: [{ id: 'D1', part: 'limit-2-wire' }] }), 'bench:P1:normal');
    expect(band(test, 'stopped')).toMatchObject({ low: 0, high: 0.0001 });
    expect(test.do).toMatch(/1\.5 s.*120 mA/);
  });

  it('[PV5] a good and a faulty band that overlap: this reading cannot tell', () => {
    // A dry joint of 100 ohm: 9.615 / (767.137) = 12.534 mA at the most, well above the good band's 9.1 mA.
    expect(get(one(), 'bench:P1:normal').cannotTell).toContain('this reading cannot tell');
    // A drive of 100 ohm within 1 %: 9.385 / 101.5 = 92 mA against at the most 9.615 / 199.5 = 48 mA. That can be told.
    const parts = [{ id: 'strong', like: 'stall-2-wire', stallAmps: 0.12, stallTolerance: 0.01 }];
    const strong = get(one({ parts, drives: [{ id: 'D1', part: 'strong' }] }), 'bench:P1:normal');
    expect(strong.cannotTell).not.toContain('this reading cannot tell');
  });

  it('[PV6] cold: each rail to its own pin, and across the lamps no less than their resistors', () => {
    const tests = one();
    const normal = get(tests, 'cold:L1:normal');
    expect(band(normal, 'FU-S1.2 to A.7')).toMatchObject({ low: 0, high: 2 });
    expect(band(normal, 'S1.m to A.8')).toMatchObject({ low: 0, high: 2 });
    // One resistor of 4,700 ohm less 5 % = 4,465; a meter of 1 % and 0.2 ohm reads 4,420.15 at the least.
    expect(band(normal, 'A.7 to A.8').low).toBeCloseTo(4420.15, 6);
    expect(band(normal, 'A.7 to A.8').high).toBeNull();
    expect(band(get(tests, 'cold:L1:reverse'), 'FU-S1.2 to A.8')).toMatchObject({ low: 0, high: 2 });
    expect(band(get(tests, 'cold:S1'), 'FU-S1').low).toBe(0);
    const lampless = one({ lamps: [], lampGroups: [] });
    expect(band(get(lampless, 'cold:S1'), 'S1.p to S1.m')).toMatchObject({ low: 1e6, high: null });
  });

  it('[PV7] live: volts with their sign, lamps, and a dummy load of the drive with a rating twice its watts', () => {
    const tests = one();
    const normal = get(tests, 'live:L1:normal');
    // 11.4 V less 1 % and 0.02 V; 12.6 V and 1 % and 0.02 V more.
    expect(band(normal, 'A.7 to A.8').low).toBeCloseTo(11.266, 9);
    expect(band(normal, 'A.7 to A.8').high).toBeCloseTo(12.746, 9);
    expect(lamps(normal)).toEqual(['H1 lit', 'H2 unlit']);
    const reverse = get(tests, 'live:L1:reverse');
    expect(band(reverse, 'A.7 to A.8').low).toBeCloseTo(-12.746, 9);
    expect(lamps(reverse)).toEqual(['H1 unlit', 'H2 lit']);
    // 800 ohm: the nearest of E12 is 820; 12.6 x 12.6 / 820 = 0.194 W, so half a watt.
    expect(normal.do).toContain('820R of 0.50 W across A.7 and A.8');
    // 15 mA and 2.15 mA or so of lamp, a quarter more: 21 mA, in steps of 50.
    expect(normal.do).toContain('limited to 50.0 mA');
    expect(normal.do).toMatch(/isolated, certified supply/);
  });

  it('[PV7] a lever in its middle leaves nothing at the pins and no lamp lit', () => {
    const levers = [{ id: 'L1', works: [{ point: 'P1' }], switch: 'toggle-2p-centre-off' }];
    const tests = one({ levers });
    const centre = get(tests, 'live:L1:centre');
    expect(band(centre, 'A.7 to A.8')).toMatchObject({ low: -0.1, high: 0.1 });
    expect(lamps(centre)).toEqual(['H1 unlit', 'H2 unlit']);
    expect(band(get(tests, 'cold:L1:centre'), 'FU-S1.2 to A.7')).toMatchObject({ low: 1e6, high: null });
    // Nothing flows: at the most the meter's own two digits.
    expect(band(get(tests, 'both:L1:centre'), 'plus of S1').high).toBeCloseTo(0.0002, 9);
  });

  it('[PV8] both together: the supply gives the drive and the lamp', () => {
    const tests = one();
    const test = get(tests, 'both:L1:reverse');
    // Drive: 11.4 / 1000.47 = 11.395 mA to 12.6 / 667.137 = 18.887 mA. Lamp 1.85 +- 0.1 V behind 4,700 ohm +- 5 %:
    // (11.4 - 1.95) / 4935 = 1.915 mA to (12.6 - 1.75) / 4465 = 2.430 mA, each by its diode law a few hundredths off.
    // Sum 13.310 to 21.317 mA; meter 1 % and 0.2 mA: 12.977 to 21.730 mA.
    const { low, high } = band(test, 'plus of S1');
    expect(Math.abs(low - 0.012977)).toBeLessThan(0.00005);
    expect(Math.abs((high ?? 0) - 0.02173)).toBeLessThan(0.00005);
    expect(lies(test)).toEqual(['P1 reverse']);
    expect(lamps(test)).toEqual(['H1 unlit', 'H2 lit']);
  });

  it('[PV9] a train over every leg of every point, and by hand where no lever works it', () => {
    const tests = one({ levers: [] });
    expect(get(tests, 'train:P1:reverse')).toMatchObject({ lever: null, stage: 5 });
    expect(get(tests, 'train:P1:reverse').do).toContain('by hand');
    const harbour = example('quillhaven-harbour').filter(({ stage }) => stage === 5);
    expect(harbour).toHaveLength(17 * 2);
  });

  it('[PV10] the coin: amps are asked for only where the file says bus and booster', () => {
    expect(get(one(), 'coin:P1')).toMatchObject({ stage: 6, expect: [] });
    expect(get(one(), 'coin:P1').do).toContain('not asked for');
    const track = {
      system: 'digital',
      bus: { gauge: 1.5, length: 8000 },
      boosters: [{ id: 'Z1', volts: 15, tripAmps: 3 }],
    };
    expect(band(get(one({ track }), 'coin:P1'), 'booster')).toMatchObject({ low: 3, high: null });
  });

  it('[PV11] a panel with nothing on it has nothing to wire: only the look is left', () => {
    const tests = testsOf(JSON.stringify({ format: 'mimic-panel', version: 1, strips: [] }));
    expect(tests.map(({ id }) => id)).toEqual(['look:panel']);
  });

  it('[PV11] a drive without pins has no bench test; its lever is tested at its tags', () => {
    const tests = one({ connectors: [{ id: 'A', part: 'screw-2', pins: { 1: 'L1.t1' } }] });
    expect(tests.some(({ id }) => id.startsWith('bench:'))).toBe(false);
    expect(band(get(tests, 'cold:L1:normal'), 'L1.t2 to L1.t5').high).toBeNull();
  });
});
