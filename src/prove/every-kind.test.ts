import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { listDecoders } from '../decoders/index.ts';
import { groupLamps, polesOf, readLamps } from '../lamps/index.ts';
import { readPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { operate, wirePanel } from '../wiring/index.ts';
import type { BenchTest } from './types.ts';
import { writeTests } from './write-tests.ts';

/** A passing loop, two points, each on a lever of its own and a drive with 3 m of 0.22 mm2. */
function testsOf(part: string, more: object): readonly BenchTest[] {
  const read = readPanel(
    JSON.stringify({
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
        {
          id: 'loop',
          path: [
            [60, 60],
            [100, 85],
            [200, 85],
            [240, 60],
          ],
        },
      ],
      points: [
        { id: 'P1', at: [60, 60], drive: 'D1' },
        { id: 'P2', at: [240, 60], drive: 'D2' },
      ],
      drives: [
        { id: 'D1', part, wire: { length: 3000, gauge: 0.22 } },
        { id: 'D2', part, wire: { length: 3000, gauge: 0.22 } },
      ],
      levers: [
        { id: 'L1', at: [60, 125], works: [{ point: 'P1' }] },
        { id: 'L2', at: [240, 125], works: [{ point: 'P2' }] },
      ],
      ...more,
    }),
  );
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
function get(tests: readonly BenchTest[], id: string): BenchTest {
  const found = tests.find((test) => test.id === id);
  if (found === undefined) throw new Error(`no test ${id} among ${tests.map((test) => test.id).join(' ')}`);
  return found;
}
function band(test: BenchTest, at: string): { low: number; high: number | null } {
  const found = test.expect.find((each) => 'quantity' in each && each.at.includes(at));
  if (found === undefined || !('quantity' in found))
    throw new Error(`nothing at ${at}: ${JSON.stringify(test.expect)}`);
  return found;
}
const lies = (test: BenchTest) => test.expect.flatMap((each) => ('point' in each ? [`${each.point} ${each.lie}`] : []));
const lit = (test: BenchTest) =>
  test.expect.flatMap((each) => ('lamp' in each && each.look === 'lit' ? [each.lamp] : []));

const dc = (id: string, volts: number, amps = 1) => ({ id, volts, amps });
const RAW = { feed: { kind: 'pulse', supplies: ['S1'] }, supplies: [dc('S1', 24, 5)] };
const UNIT = {
  feed: { kind: 'pulse', supplies: ['C1'] },
  supplies: [dc('S1', 24), { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047, chargeOhms: 100 }],
};
const SPLIT = { feed: { kind: 'split', supplies: ['S1', 'S2'] }, supplies: [dc('S1', 12), dc('S2', 12)] };
const BOARD = { feed: { kind: 'contact', supplies: ['S1'] }, supplies: [dc('S1', 5)] };
const LAMPS = [
  { id: 'H1', at: [120, 60], shows: { P1: 'normal' } },
  { id: 'H2', at: [120, 85], shows: { P1: 'reverse' } },
];

describe('bench tests of every kind of drive', () => {
  it('[PV13] a coil of 5 ohm on 3 m of 0.22 mm2: the band by hand, a tap and no battery', () => {
    const tests = testsOf('twin-coil', RAW);
    const test = get(tests, 'bench:P1:reverse');
    // 5 ohm within 20 % and 0.47021 ohm of wire: 4.47021 to 6.47021; the meter's 1 % and 0.2 ohm: 4.22551 to 6.73491.
    expect(band(test, 'nothing else').low).toBeCloseTo(4.22551, 4);
    expect(band(test, 'nothing else').high).toBeCloseTo(6.73491, 4);
    expect(test.do).toMatch(/tap/);
    expect(test.do).toMatch(/a coil that is held burns/);
    expect(tests.some(({ id }) => id === 'bench:battery')).toBe(false);
    expect(lies(test)).toEqual(['P1 reverse']);
  });

  it('[PV13] the charged unit: 22.8 V less 0.8 V of its diode and its leak, and how to discharge it (the trade)', () => {
    const test = get(testsOf('twin-coil', UNIT), 'bench:unit');
    // Leak: 0.01 x 0.0047 x 22.8 = 1.07 mA through 100 ohm = 0.107 V. 21.893 V; less 1 % and 0.02 V: 21.654.
    expect(band(test, 'unit').low).toBeCloseTo(21.654, 2);
    // 25.2 V and 1 % and 0.02 V more.
    expect(band(test, 'unit').high).toBeCloseTo(25.472, 6);
    expect(test.do).toMatch(/100 ohm 2 W for three seconds, not with a screwdriver/);
  });

  it('[PV13] a coil that breaks itself reads open where it was thrown by, and the other does not', () => {
    const test = get(testsOf('twin-coil-end-off', RAW), 'bench:P1:normal');
    const ohms = test.expect.flatMap((each) => ('quantity' in each ? [[each.low > 1000, each.high === null]] : []));
    expect(ohms).toEqual([
      [false, false],
      [true, true],
    ]);
    expect(test.tells).toMatch(/end contact/);
  });

  it('[PV14] a driver board: open for the lie of the lever\u2019s normal, bridged for the other', () => {
    const tests = testsOf('servo-board', BOARD);
    expect(get(tests, 'bench:P1:normal').do).toMatch(/leave \S+ open/);
    expect(lies(get(tests, 'bench:P1:normal'))).toEqual(['P1 normal']);
    const reverse = get(tests, 'bench:P1:reverse');
    expect(reverse.do).toMatch(/bridge \S+ to \S+/);
    // 2 mA at 5 V (from memory), within 20 %, from 4.75 to 5.25 V: 1.52 to 2.52 mA; meter 1 % and 0.2 mA: 1.3048 to 2.7452.
    expect(band(reverse, 'bridge').low).toBeCloseTo(0.0013048, 7);
    expect(band(reverse, 'bridge').high).toBeCloseTo(0.0027452, 7);
    expect(lies(reverse)).toEqual(['P1 reverse']);
  });

  it('[PV15] a contact is continuous from its common to the throw of its lie and open to the other', () => {
    const tests = testsOf('stall-2-wire', {
      lamps: LAMPS,
      lighting: { scheme: 'drive-contact', supply: 'S1' },
      supplies: [dc('S1', 12)],
    });
    const normal = get(tests, 'bench:D1.c2:normal');
    // 2 ohm and 0.47021 ohm of wire; the meter's 1 % and 0.2 ohm: 2.69491.
    expect(band(normal, 'closed').high).toBeCloseTo(2.69491, 4);
    expect(band(normal, 'open')).toMatchObject({ low: 1e6, high: null });
    expect(lies(normal)).toEqual(['P1 normal']);
    const closedAt = (id: string) =>
      get(tests, id).expect.flatMap((e) => ('quantity' in e && e.at.includes('closed') ? [e.at] : []));
    expect(closedAt('bench:D1.c2:reverse')).not.toEqual(closedAt('bench:D1.c2:normal'));
    // A contact tells how the drive lies, not the blades (the trade).
    expect(normal.cannotTell).toMatch(/slider/);
    expect(get(tests, 'live:L1:normal').do).toMatch(/On the test plug join/);
    expect(lit(get(tests, 'live:L1:reverse'))).toEqual(['H2']);
  });

  it('[PV15] a point of opposite sense: the contact keeps its own lie, the point the other', () => {
    const tests = testsOf('stall-2-wire', {
      points: [
        { id: 'P1', at: [60, 60], drive: 'D1', sense: 'opposite' },
        { id: 'P2', at: [240, 60], drive: 'D2' },
      ],
      lamps: LAMPS,
      lighting: { scheme: 'drive-contact', supply: 'S1' },
      supplies: [dc('S1', 12)],
    });
    expect(lies(get(tests, 'bench:D1.c2:normal'))).toEqual(['P1 reverse']);
  });

  it('[PV15] hand points are moved by hand and read at their contacts; without one there is no bench test', () => {
    const lit = testsOf('hand', {
      levers: [],
      lamps: LAMPS,
      lighting: { scheme: 'drive-contact', supply: 'S1' },
      supplies: [dc('S1', 12)],
    });
    expect(get(lit, 'bench:P1:normal').do).toMatch(/by hand/);
    expect(band(get(lit, 'bench:P1:normal'), 'D1.c1 open').high).toBeNull();
    expect(lit.some(({ id }) => id.startsWith('bench:P2') || id === 'bench:battery')).toBe(false);
  });

  it('[PV15] a decoder is told by its address, and one without has no test', () => {
    const drives = [
      { id: 'D1', part: 'decoder', address: 5 },
      { id: 'D2', part: 'decoder' },
    ];
    const tests = testsOf('decoder', { drives, levers: [] });
    expect(get(tests, 'bench:P1:reverse').do).toContain('Send address 5 the command for reverse');
    expect(tests.some(({ id }) => id.startsWith('bench:P2'))).toBe(false);
  });

  it('[PV16] a lost common: all levers of a split return one way, then the other (the trade)', () => {
    const tests = testsOf('stall-2-wire', SPLIT);
    const normal = get(tests, 'both:R0:normal');
    expect(normal.do).toMatch(/L1, L2 all normal/);
    expect(lies(normal)).toEqual(['P1 normal', 'P2 normal']);
    expect(lies(get(tests, 'both:R0:reverse'))).toEqual(['P1 reverse', 'P2 reverse']);
    // Two drives of 667.1 to 1000.5 ohm on 11.4 to 12.6 V: 22.79 to 37.77 mA; meter 1 % and 0.2 mA: 22.36 to 38.35 mA.
    expect(band(normal, 'plus of S1').low).toBeCloseTo(0.02236, 5);
    expect(band(get(tests, 'both:R0:reverse'), 'plus of S2').high).toBeCloseTo(0.03835, 5);
    expect(normal.tells).toMatch(/all of these are dead/);
    // Nothing from the other supply.
    expect(band(get(tests, 'both:S2'), 'plus of S2').high).toBeCloseTo(0.0002, 9);
  });

  it('[PV16] the pins of a return are one net under the layout', () => {
    const returns = [{ id: 'R0', supply: 'S1', pins: 3 }];
    const test = get(testsOf('stall-2-wire', { ...SPLIT, returns }), 'bench:R0');
    expect(test.expect).toHaveLength(2);
    // 2 ohm and the meter's 1 % and 0.2 ohm.
    for (const each of test.expect) expect(each).toMatchObject({ low: 0, high: 2.22 });
  });

  it('[PV17] cold: a lever that springs back is open to both coils when it is let go', () => {
    const tests = testsOf('twin-coil', RAW);
    const held = get(tests, 'cold:L1:normal');
    const letGo = get(tests, 'cold:L1:centre');
    const coils = (test: BenchTest) =>
      test.expect.flatMap((each) => ('quantity' in each && each.at.startsWith('FU-S1.2') ? [each.high] : []));
    expect(coils(held)).toEqual([2, null]);
    expect(coils(get(tests, 'cold:L1:reverse'))).toEqual([null, 2]);
    expect(coils(letGo)).toEqual([null, null]);
    expect(letGo.tells).toMatch(/burn a coil/);
  });

  it('[PV17] cold: three rails, and a unit that is discharged first', () => {
    const split = get(testsOf('stall-2-wire', SPLIT), 'cold:L1:reverse');
    expect(split.expect).toContainEqual(
      expect.objectContaining({ at: expect.stringMatching(/^FU-S2\.2 to /), high: 2 }),
    );
    const unit = testsOf('twin-coil', UNIT);
    expect(get(unit, 'cold:L1:normal').do).toMatch(/First discharge C1/);
    expect(band(get(unit, 'cold:SD-C1'), 'diode range')).toMatchObject({ low: 0.4, high: 0.8 });
  });

  it('[PV17] cold: a relay\u2019s coils of 200 ohm within 10 % (from memory)', () => {
    const tests = testsOf('twin-coil', {
      ...RAW,
      lamps: LAMPS,
      lighting: { scheme: 'latching-relay', supply: 'S9' },
      supplies: [...RAW.supplies, dc('S9', 12)],
    });
    // 180 to 220 ohm; less and more by 1 % and 0.2 ohm.
    expect(band(get(tests, 'cold:K1'), 'K1.sp').low).toBeCloseTo(178, 6);
    expect(band(get(tests, 'cold:K1'), 'K1.rp').high).toBeCloseTo(222.4, 6);
  });

  it('[PV18] live: a held lever gives the coil its supply through a dummy load, the other coil nothing', () => {
    const test = get(testsOf('twin-coil', UNIT), 'live:L1:normal');
    const read = test.expect.flatMap((each) => ('quantity' in each ? [each] : []));
    // (22.8 - 0.8) x 1000 / 1105 = 19.91 V, less 1 % and 0.02 V.
    expect(read[0]?.low).toBeCloseTo(19.69, 2);
    expect(read[1]).toMatchObject({ low: -0.1, high: 0.1 });
    expect(test.do).toMatch(/1k0 of 2 W across/);
    expect(test.cannotTell).toMatch(/This reading cannot tell/);
  });

  it('[PV18] live: a charge feed is read at its capacitor', () => {
    const tests = testsOf('twin-coil', {
      feed: { kind: 'charge', supplies: ['S1'], farads: 0.0022 },
      supplies: [dc('S1', 24, 5)],
    });
    // 22.8 V less 1 V of diode and rest, 1 % and 0.02 V; emptied to less than 1 V.
    expect(band(get(tests, 'live:L1:normal'), 'CAP-L1.p').low).toBeCloseTo(21.562, 3);
    expect(band(get(tests, 'live:L1:reverse'), 'CAP-L1.p').high).toBeCloseTo(1.03, 6);
  });

  it('[PV18] live: an open input shows the board\u2019s volts, a closed one nothing', () => {
    const tests = testsOf('servo-board', BOARD);
    const reads = (id: string) => get(tests, id).expect.flatMap((each) => ('quantity' in each ? [each] : []));
    expect(reads('live:L1:normal')[1]?.low).toBeGreaterThan(4.6);
    expect(reads('live:L1:reverse')[1]).toMatchObject({ low: -0.1, high: 0.1 });
    for (const [power] of [reads('live:L1:normal'), reads('live:L1:reverse')])
      expect(power?.low).toBeCloseTo(4.6825, 6);
  });

  it('[PV18] live: lamps in series take their volts from the dummy load', () => {
    const tests = testsOf('stall-2-wire', {
      lamps: LAMPS,
      lighting: { scheme: 'in-series' },
      supplies: [dc('S1', 12)],
    });
    const found = get(tests, 'live:L1:normal').expect.find((each) => 'quantity' in each);
    if (found === undefined || !('quantity' in found)) throw new Error('no volts');
    // 12 V, 800 ohm, one lamp: 9.9 V left (the trade, run in a circuit simulator), here an amber one on 820 ohm.
    expect(found.low).toBeLessThan(9.9);
    expect(found.high).toBeGreaterThan(9.9);
    expect(found.high).toBeLessThan(11.27);
  });

  it('[PV19] a pulse is too short for a meter, and boards take what no figure says', () => {
    const pulse = get(testsOf('twin-coil', RAW), 'both:L1:normal');
    expect(pulse.cannotTell).toMatch(/this reading cannot tell/);
    expect(band(pulse, 'plus of S1').high).toBeCloseTo(0.0002, 9);
    const tests = testsOf('servo-board', BOARD);
    expect(get(tests, 'both:S1').cannotTell).toMatch(/figures do not say/);
    // 0.3 A each while they move.
    expect(band(get(tests, 'both:S1'), 'plus of S1').high).toBeGreaterThan(0.6);
  });

  it('[PV19] an alternating feed is read in volts at its rails', () => {
    const tests = testsOf('stall-2-wire', {
      feed: { kind: 'half-wave', supplies: ['S1'] },
      supplies: [{ id: 'S1', kind: 'ac', volts: 9, amps: 1, farads: 0.0047 }],
    });
    // 1.4 x AC less 0.8 V (the trade): 8.55 x 1.41421 - 0.8 = 11.29 V, less 1 % and 0.02 V: 11.16, and a little less under load.
    const low = band(get(tests, 'both:S1'), 'SD-S1p.k').low;
    expect(low).toBeGreaterThan(10.8);
    expect(low).toBeLessThan(11.17);
    expect(band(get(tests, 'both:S1'), 'SD-S1m.a').high).toBeCloseTo(-low, 9);
    expect(get(tests, 'both:L1:normal').expect.some((each) => 'quantity' in each)).toBe(false);
  });
});
