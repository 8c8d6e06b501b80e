/**
 * Volts, amps and lamps of panels written by hand. Every sum is done here, from the laws and figures that the description of the file
 * gives; resistors, supplies and wires are given, so that nothing rests on what the tool would choose.
 */
import { describe, expect, it } from 'vitest';
import { runSpice } from '../outside/ngspice.ts';
import {
  answerOn,
  BRANCH,
  expectAbout,
  findingsOn,
  LOOP,
  ledVolts,
  listOn,
  loopOhms,
  runOn,
  stringAmps,
  zeroOf,
} from './by-hand.ts';

/** 12 V, 0.015 A stalled: 800 ohm. */
const STALL = 12 / 0.015;

const lampsOn = (lie: 'normal' | 'reverse', ids: readonly string[], part = 'led-3-green') =>
  ids.map((id, i) => ({ id, at: [120 + 20 * i, lie === 'normal' ? 60 : 100], part, shows: { P1: lie } }));

const supply = (keys: object) => ({ supplies: [{ id: 'S1', kind: 'dc', volts: 9, amps: 1, ...keys }] });

type Solved = Awaited<ReturnType<typeof answerOn<'solve'>>>;
const lampOf = (solved: Solved, id: string) => solved.lamps.find((lamp) => lamp.id === id);
const driveOf = (solved: Solved, point: string) => solved.drives.find((drive) => drive.point === point);

/** The reading beside the same reading taken by ngspice from the text that `spice` prints. */
async function agreesWithSpice(keys: Readonly<Record<string, unknown>>, ...args: readonly string[]): Promise<void> {
  const solved = await answerOn(keys, 'solve', ...args);
  const text = await runOn(keys, 'spice', ...args);
  expect(text.stdout.trimEnd()).toMatch(/\n\.op\n\.end$/);
  const amps = runSpice(text.stdout);
  const near = (name: string, value: number) => {
    const read = amps.get(`v_${name}`.toLowerCase());
    expect(read, name).toBeDefined();
    expect(Math.abs((read ?? 0) - value), name).toBeLessThanOrEqual(Math.max(1e-6, 1e-3 * Math.abs(value)));
  };
  for (const lamp of solved.lamps) near(lamp.id, lamp.amps);
  const named = new Set<string>();
  for (const { point, drive, amps: value } of solved.drives) {
    if (!named.has(drive)) near(point, value);
    named.add(drive);
  }
}

describe('a drive', () => {
  it('stalls as the resistance of its figures, behind 3 m of 0.22 mm2', async () => {
    const solved = await answerOn(BRANCH, 'solve');
    const amps = 9 / (STALL + loopOhms());
    expect(solved.levers).toEqual({ L1: 'normal' });
    expectAbout(driveOf(solved, 'P1')?.amps, amps);
    expectAbout(driveOf(solved, 'P1')?.volts, amps * STALL);
    expect(driveOf(solved, 'P1')?.moves).toBe('normal');
    expectAbout(solved.supplies[0]?.amps, amps);
    expectAbout(solved.supplies[0]?.volts, 9);
    expect(solved.residual).toBeLessThan(1e-9);
  });

  it('reads negative where it is asked to go reverse', async () => {
    const solved = await answerOn(BRANCH, 'solve', '--set', 'L1=reverse');
    expectAbout(driveOf(solved, 'P1')?.amps, -9 / (STALL + loopOhms()));
    expect(driveOf(solved, 'P1')?.moves).toBe('reverse');
    expectAbout(solved.supplies[0]?.amps, 9 / (STALL + loopOhms()));
  });

  it('is what was measured, behind the wire that the file gives', async () => {
    const keys = {
      ...BRANCH,
      points: [{ id: 'P1', at: [100, 60], drive: 'D1' }],
      drives: [
        { id: 'D1', part: 'stall-2-wire', measured: { amps: 0.02, volts: 9 }, wire: { length: 10000, gauge: 0.14 } },
      ],
    };
    const amps = 9 / (9 / 0.02 + loopOhms(10000, 0.14));
    const solved = await answerOn(keys, 'solve');
    expectAbout(driveOf(solved, 'P1')?.amps, amps);
    expectAbout(driveOf(solved, 'P1')?.volts, (amps * 9) / 0.02);
    expect(await findingsOn(keys)).not.toContain('drive-wire-guessed D1');
  });

  it('takes the volts of its part where only amps were measured, and figures of a part of one’s own', async () => {
    const drives = [{ id: 'D1', part: 'stall-2-wire', measured: { amps: 0.0148 } }];
    const one = await answerOn({ ...BRANCH, points: [{ id: 'P1', at: [100, 60], drive: 'D1' }], drives }, 'solve');
    expectAbout(driveOf(one, 'P1')?.amps, 9 / (12 / 0.0148 + loopOhms()));
    const parts = [{ id: 'my-motor', like: 'stall-2-wire', stallAmps: 0.016 }];
    const own = await answerOn({ ...BRANCH, points: [{ id: 'P1', at: [100, 60], drive: 'my-motor' }], parts }, 'solve');
    expectAbout(driveOf(own, 'P1')?.amps, 9 / (12 / 0.016 + loopOhms()));
  });

  it('that cuts itself off carries nothing and has the whole feed', async () => {
    const keys = { ...BRANCH, points: [{ id: 'P1', at: [100, 60], drive: 'limit-2-wire' }], ...supply({ volts: 12 }) };
    const solved = await answerOn(keys, 'solve');
    expect(Math.abs(driveOf(solved, 'P1')?.amps ?? 1)).toBeLessThan(1e-4);
    expectAbout(driveOf(solved, 'P1')?.volts, 12);
    await agreesWithSpice(keys);
  });

  it.each([
    ['drives', { positive: 'reverse' }, {}],
    ['points', {}, { sense: 'opposite' }],
  ])('that runs the other way (%s) is crossed at its tags and nowhere else', async (_, drive, point) => {
    const keys = {
      ...BRANCH,
      points: [{ id: 'P1', at: [100, 60], drive: 'D1', ...point }],
      drives: [{ id: 'D1', part: 'stall-2-wire', ...drive }],
      lamps: lampsOn('normal', ['H1']),
    };
    const straight = { ...keys, points: [{ id: 'P1', at: [100, 60], drive: 'D1' }], drives: [{ id: 'D1' }] };
    const ends = async (panel: object) =>
      (await listOn({ ...panel }, 'wires.csv')).slice(1).map(([, from, to]) => `${from} ${to}`);
    const [crossed, plain] = [await ends(keys), await ends(straight)];
    expect(plain.slice(-2)).toEqual(['A.1 D1.a', 'A.2 D1.b']);
    expect(crossed.slice(-2)).toEqual(['A.1 D1.b', 'A.2 D1.a']);
    expect(crossed.slice(0, -2)).toEqual(plain.slice(0, -2));
    expect(driveOf(await answerOn(keys, 'solve'), 'P1')?.moves).toBe('normal');
    expect((await answerOn(keys, 'truth')).untruths).toEqual([]);
  });

  it('that two points share moves them against each other where their senses are opposite', async () => {
    const keys = {
      ...LOOP,
      points: [
        { id: 'P1', at: [60, 60], drive: 'D1' },
        { id: 'P2', at: [240, 60], drive: 'D1', sense: 'opposite' },
      ],
      drives: [{ id: 'D1', part: 'stall-2-wire' }],
      levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }],
    };
    const solved = await answerOn(keys, 'solve');
    expect(solved.drives.map(({ point, moves }) => [point, moves])).toEqual([
      ['P1', 'normal'],
      ['P2', 'reverse'],
    ]);
    expect((await answerOn(keys, 'check')).counts.drives).toBe(1);
    expect((await runOn(keys, 'spice')).stdout).toMatch(/^V_P1 /m);
    await agreesWithSpice(keys, '--set', 'L1=reverse');
  });

  it('is asked the other lie by a lever that works it opposite', async () => {
    const keys = { ...LOOP, levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }] };
    const solved = await answerOn(keys, 'solve');
    expectAbout(driveOf(solved, 'P1')?.volts, (9 * STALL) / (STALL + loopOhms()));
    expectAbout(driveOf(solved, 'P2')?.volts, (-9 * STALL) / (STALL + loopOhms()));
    await agreesWithSpice(keys);
  });
});

describe('a lamp', () => {
  const pair = (ohms: number, first = {}, second = {}) => ({
    ...BRANCH,
    lamps: [
      { ...lampsOn('normal', ['H1'])[0], ...first },
      { ...lampsOn('reverse', ['H2'])[0], ...second },
    ],
    lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], arrange: 'pair', ohms, guard: 'none' }],
  });

  it('obeys its law behind the resistor, with its band at the worst corners', async () => {
    const solved = await answerOn(pair(3900), 'solve');
    const lit = lampOf(solved, 'H1');
    expectAbout(lit?.amps, stringAmps(9, 3900, [1.9]));
    expectAbout(lit?.low, stringAmps(9 * 0.95, 3900 * 1.05, [2.0]));
    expectAbout(lit?.high, stringAmps(9 * 1.05, 3900 * 0.95, [1.8]));
    expect(lit?.look).toBe('good');
    expect(lampOf(solved, 'H2')).toMatchObject({ amps: 0, look: 'unlit' });
    await agreesWithSpice(pair(3900));
    await agreesWithSpice(pair(3900), '--set', 'L1=reverse');
  });

  it.each([
    ['led-3-red', 1.8, 0.002],
    ['led-3-amber', 1.85, 0.002],
    ['led-5-yellow', 1.9, 0.002],
    ['led-5-pure-green', 2.7, 0.002],
    ['led-3-blue', 2.75, 0.002],
    ['led-5-white', 2.75, 0.002],
    ['led-5-red-old', 1.9, 0.01],
    ['led-3-green-old', 2.1, 0.01],
  ])('of the kind %s has its own forward volts', async (part, vf, at) => {
    const solved = await answerOn(pair(680, { part }, { part }), 'solve');
    expectAbout(lampOf(solved, 'H1')?.amps, stringAmps(9, 680, [vf], at));
  });

  it.each([
    ['unlit', 39000],
    ['faint', 34000],
    ['faint', 7400],
    ['good', 7000],
    ['good', 360],
    ['bright', 340],
    ['bright', 180],
    ['destroyed', 150],
  ])('looks %s behind %i ohm of 9 V', async (look, ohms) => {
    const solved = await answerOn(pair(ohms, { part: 'led-3-amber' }), 'solve');
    const amps = stringAmps(9, ohms, [1.85]);
    expectAbout(lampOf(solved, 'H1')?.amps, amps);
    expect(lampOf(solved, 'H1')?.look).toBe(look);
    const codes = (await findingsOn(pair(ohms, { part: 'led-3-amber' }))).map((each) => each.split(' ')[0]);
    expect(codes.includes('lamp-destroyed') || codes.includes('lamp-over-max')).toBe(amps > 0.02);
  });

  it('shares one resistor by its forward volts, each judged at its own worst', async () => {
    const ids = ['H1', 'H2', 'H3'];
    const keys = {
      ...BRANCH,
      ...supply({}),
      lamps: [...lampsOn('normal', ids), ...lampsOn('reverse', ['H4', 'H5', 'H6'])],
      lampGroups: [{ id: 'G1', lamps: [...ids, 'H4', 'H5', 'H6'], arrange: 'parallel', ohms: 10000 }],
    };
    const solved = await answerOn(keys, 'solve');
    const each = zeroOf((amps) => 3 * amps * 10000 + ledVolts(amps, 1.9) - 9, 0, 0.01);
    for (const id of ids) expectAbout(lampOf(solved, id)?.amps, each);
    /** Amps of a lamp beside two others of other forward volts. */
    const beside = (volts: number, ohms: number, own: number, others: number) =>
      zeroOf(
        (amps) => {
          const across = ledVolts(amps, own);
          const other = zeroOf((i) => ledVolts(i, others) - across, 0, 0.1);
          return (amps + 2 * other) * ohms + across - volts;
        },
        1e-9,
        0.01,
      );
    // Within 1 %: whether the lamps of a group stand 25 mV off the edge of the band or inside it is not said.
    const low = beside(9 * 0.95, 10500, 2.0, 1.95);
    const high = beside(9 * 1.05, 9500, 1.8, 1.85);
    expect(Math.abs((lampOf(solved, 'H2')?.low ?? 0) / low - 1)).toBeLessThan(0.01);
    expect(Math.abs((lampOf(solved, 'H2')?.high ?? 0) / high - 1)).toBeLessThan(0.01);
    await agreesWithSpice(keys);
  });

  it('in a string carries what the others carry, and reversed shares with leakage', async () => {
    const keys = {
      ...BRANCH,
      ...supply({ volts: 12 }),
      lamps: [...lampsOn('normal', ['H1', 'H2', 'H3']), ...lampsOn('reverse', ['H4', 'H5', 'H6'])],
      lampGroups: [{ id: 'G1', lamps: ['H1', 'H2', 'H3', 'H4', 'H5', 'H6'], arrange: 'series', ohms: 2200 }],
    };
    const solved = await answerOn(keys, 'solve', '--set', 'L1=reverse');
    for (const id of ['H4', 'H5', 'H6']) expectAbout(lampOf(solved, id)?.amps, stringAmps(12, 2200, [1.9, 1.9, 1.9]));
    for (const id of ['H1', 'H2', 'H3']) expect(lampOf(solved, id)?.look).toBe('unlit');
    // 5.7 V and more against 5 V: doubtful, since there are three of them.
    expect(await findingsOn(keys)).toContain('lamp-reverse-doubtful H1 H2 H3');
    await agreesWithSpice(keys);
  });

  it('with a resistor of its own sees the whole feed when dark, unless a guard takes it', async () => {
    const own = (guard: string) => ({
      ...BRANCH,
      lamps: [...lampsOn('normal', ['H1']), ...lampsOn('reverse', ['H2'])],
      lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], arrange: 'own', ohms: 4700, guard }],
    });
    expect(await findingsOn(own('none'))).toContain('lamp-reverse-wrong H2');
    expect(await findingsOn(own('antiparallel'))).not.toContain('lamp-reverse-wrong H2');
    const solved = await answerOn(own('none'), 'solve');
    expectAbout(lampOf(solved, 'H1')?.amps, stringAmps(9, 4700, [1.9]));
    // The guarded side carries the guard's current too: 0.7 V at 10 mA, n 1.8, rs 0.05.
    const guarded = await answerOn(own('antiparallel'), 'solve');
    const more = (guarded.supplies[0]?.amps ?? 0) - (solved.supplies[0]?.amps ?? 0);
    const thermal = 0.0258649;
    const is = 0.01 / Math.expm1((0.7 - 0.01 * 0.05) / (1.8 * thermal));
    const guard = zeroOf((i) => i * (4700 + 0.05) + 1.8 * thermal * Math.log1p(i / is) - 9, 0, 1);
    expect(Math.abs(more / guard - 1)).toBeLessThan(1e-3);
    await agreesWithSpice(own('antiparallel'));
  });
});

describe('a supply', () => {
  const two = {
    ...BRANCH,
    lamps: [...lampsOn('normal', ['H1'], 'led-3-amber'), ...lampsOn('reverse', ['H2'], 'led-3-amber')],
    lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], ohms: 3300 }],
  };
  /** Volts at the terminals of so many drives and one lamp behind ohms. */
  const terminals = (emf: number, ohms: number, stall: number, resistor: number, vf: number, drives = 1) =>
    zeroOf(
      (volts) => ((drives * volts) / (stall + loopOhms()) + stringAmps(volts, resistor, [vf])) * ohms + volts - emf,
      2,
      emf,
    );

  it('sags by its ohms, and its band reaches up to what it gives off load', async () => {
    const keys = { ...two, ...supply({ volts: 12, ohms: 100, voltsOffLoad: 14 }) };
    const solved = await answerOn(keys, 'solve');
    const volts = terminals(12, 100, STALL, 3300, 1.85);
    expectAbout(solved.supplies[0]?.volts, volts);
    expectAbout(solved.supplies[0]?.amps, (12 - volts) / 100);
    expectAbout(lampOf(solved, 'H1')?.amps, stringAmps(volts, 3300, [1.85]));
    const high = terminals(14, 100, STALL / 0.8, 3300 * 0.95, 1.75);
    expectAbout(lampOf(solved, 'H1')?.high, stringAmps(high, 3300 * 0.95, [1.75]));
    const low = terminals(12 * 0.95, 100, STALL / 1.2, 3300 * 1.05, 1.95);
    expectAbout(lampOf(solved, 'H1')?.low, stringAmps(low, 3300 * 1.05, [1.95]));
    // What the supply itself loses is not lost in the wires.
    expect(await findingsOn(keys)).not.toContain('drive-wire-drop P1');
    await agreesWithSpice(keys);
  });

  it('of its own feeds a lever, apart from the other', async () => {
    const keys = {
      ...LOOP,
      supplies: [
        { id: 'S1', kind: 'dc', volts: 9, amps: 1 },
        { id: 'S2', kind: 'dc', volts: 12, amps: 0.5 },
      ],
      levers: [
        { id: 'L1', works: [{ point: 'P1' }] },
        { id: 'L2', works: [{ point: 'P2' }], feed: { kind: 'reversing', supplies: ['S2'] } },
      ],
    };
    const solved = await answerOn(keys, 'solve');
    expect(solved.supplies.map(({ id }) => id)).toEqual(['S1', 'S2']);
    expectAbout(solved.supplies[0]?.amps, 9 / (STALL + loopOhms()));
    expectAbout(solved.supplies[1]?.amps, 12 / (STALL + loopOhms()));
    expect((await runOn(keys, 'spice')).stdout).toMatch(/^RTIE_1 \S+ 0 1G$/m);
    await agreesWithSpice(keys, '--set', 'L2=reverse');
  });

  it('with a constant limit gives its amps at fewer volts', async () => {
    const keys = { ...two, ...supply({ amps: 0.006, limit: 'constant' }) };
    const volts = zeroOf((v) => v / (STALL + loopOhms()) + stringAmps(v, 3300, [1.85]) - 0.006, 2, 9);
    const solved = await answerOn(keys, 'solve');
    expectAbout(solved.supplies[0]?.amps, 0.006);
    expectAbout(solved.supplies[0]?.volts, volts);
    expectAbout(driveOf(solved, 'P1')?.amps, volts / (STALL + loopOhms()));
    expectAbout(lampOf(solved, 'H1')?.amps, stringAmps(volts, 3300, [1.85]));
    expect(await findingsOn(keys)).toContain('supply-too-small S1');
    await agreesWithSpice(keys);
  });

  it.each(['fold', 'hiccup'])('that limits by %s is off past its amps, and that is found', async (limit) => {
    const keys = { ...two, ...supply({ amps: 0.006, limit }) };
    const solved = await answerOn(keys, 'solve');
    expect(solved.supplies[0]).toMatchObject({ id: 'S1', volts: 0, amps: 0 });
    expect(lampOf(solved, 'H1')?.look).toBe('unlit');
    expect(await findingsOn(keys)).toContain('supply-too-small S1');
    const enough = await answerOn({ ...two, ...supply({ amps: 0.02, limit }) }, 'solve');
    expectAbout(enough.supplies[0]?.volts, 9);
    await agreesWithSpice(keys);
  });

  it('without a limit gives more than its amps, which is found and bends nothing', async () => {
    const keys = { ...two, ...supply({ amps: 0.006, fuse: { amps: 0.005, act: 'quick' } }) };
    const solved = await answerOn(keys, 'solve');
    expectAbout(solved.supplies[0]?.volts, 9);
    expect(await findingsOn(keys)).toEqual(expect.arrayContaining(['supply-too-small S1', 'fuse-too-small FU-S1']));
  });

  it('is judged with 5 % grace at its nominal volts', async () => {
    const codes = async (volts: number) =>
      (await findingsOn({ ...BRANCH, ...supply({ volts }) })).map((each) => each.split(' ')[0]);
    // 9 to 12 V: 8.55 and 12.6 are the last that do.
    expect(await codes(8.5)).toContain('drive-volts-low');
    expect(await codes(8.7)).not.toContain('drive-volts-low');
    expect(await codes(12.5)).not.toContain('drive-volts-high');
    expect(await codes(12.8)).toContain('drive-volts-high');
  });
});

describe('switches', () => {
  const lever = (part: string) => ({
    ...BRANCH,
    lamps: [...lampsOn('normal', ['H1']), ...lampsOn('reverse', ['H2'])],
    levers: [{ id: 'L1', switch: part, works: [{ point: 'P1' }] }],
  });

  it('that rest in the middle ask nothing there, and the lamps fall silent', async () => {
    const keys = lever('toggle-2p-centre-off');
    const solved = await answerOn(keys, 'solve', '--set', 'L1=centre', '--lies', 'P1=reverse');
    expect(solved.levers).toEqual({ L1: 'centre' });
    expect(driveOf(solved, 'P1')).toMatchObject({ volts: 0, amps: 0, moves: null });
    expect(solved.lamps.map(({ look }) => look)).toEqual(['unlit', 'unlit']);
    const truth = await answerOn(keys, 'truth');
    expect(truth.settings).toBe('4');
    expect(truth.untruths).toEqual([]);
    expect(new Set(truth.silent.map(({ lamp }) => lamp))).toEqual(new Set(['H1', 'H2']));
  });

  it('that spring back are let go, and name their last throw', async () => {
    const solved = await answerOn(lever('toggle-2p-sprung'), 'solve', '--set', 'L1=reverse');
    expect(solved.levers).toEqual({ L1: 'reverse' });
    expect(driveOf(solved, 'P1')).toMatchObject({ volts: 0, moves: null });
    expect(await findingsOn(lever('toggle-2p-sprung'))).toContain('switch-sprung L1');
  });

  it('have no middle where their part has none', async () => {
    const ran = await runOn(lever('mini-toggle-2p'), 'solve', '--set', 'L1=centre', '--json');
    expect([ran.status, ran.stdout]).toEqual([2, '']);
  });
});
