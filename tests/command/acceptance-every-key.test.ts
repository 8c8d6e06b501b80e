/** One panel with every key that a file may hold: it opens, what this release wires of it is right, and the rest is kept and said. */
import { describe, expect, it } from 'vitest';
import { answerOn, expectAbout, findingsOn, listOn, loopOhms, runOn, stringAmps } from './by-hand.ts';

const EVERY_KEY = {
  name: 'Bramble Siding',
  revision: 'A',
  face: {
    width: 300,
    height: 150,
    thickness: 3,
    material: 'aluminium',
    view: 'front',
    box: { depth: 60, hinge: 'bottom' },
    fixings: [{ at: [7, 7], drill: 3.2 }],
    keepOut: [{ at: [0, 0], size: [10, 10] }],
  },
  strips: [
    {
      id: 'main',
      name: 'Main line',
      width: 5,
      tape: 'graphite',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
    {
      id: 'loop',
      path: [
        [60, 60],
        [90, 85],
        [210, 85],
        [240, 60],
      ],
      layoutLength: 2400,
    },
  ],
  places: [
    { id: 'west', name: 'West', at: [0, 60] },
    { id: 'loop-road', name: 'Loop', at: [150, 85], length: 1850 },
  ],
  points: [
    { id: 'P1', at: [60, 60], normal: 'main', drive: 'D1', sense: 'same', trap: false },
    { id: 'P2', at: [240, 60], drive: 'stall-2-wire' },
  ],
  crossings: [
    {
      id: 'X1',
      at: [120, 60],
      kind: 'double-slip',
      normal: 'main',
      ends: [{ id: 'P20', drive: 'stall-2-wire' }, { id: 'P21' }],
    },
  ],
  threeWays: [{ id: 'Y1', at: [80, 60], points: ['P30', 'P31'] }],
  frogs: [{ id: 'F1', of: 'P1', kind: 'live', from: 'D1.c1' }],
  drives: [
    {
      id: 'D1',
      part: 'stall-2-wire',
      positive: 'normal',
      contacts: { c1: 'frog:F1', c2: 'lamps' },
      wire: { length: 4500, gauge: 0.22 },
      measured: { amps: 0.0148 },
      existing: false,
    },
  ],
  levers: [
    {
      id: 'L1',
      name: 'Loop',
      at: [60, 125],
      angle: 0,
      switch: 'toggle-2p',
      works: [{ point: 'P1' }, { point: 'P2' }],
    },
  ],
  buttons: [{ id: 'B1', at: [80, 125], part: 'push-1p', sets: { P1: 'reverse' } }],
  relays: [{ id: 'K1', part: 'relay-latching-2p', follows: 'P1' }],
  lamps: [
    { id: 'H1', at: [78, 75], part: 'led-3-green', shows: { P1: 'reverse' }, current: 0.002, dark: 'nothing' },
    { id: 'H4', at: [78, 60], part: 'led-3-green', shows: { P1: 'normal' } },
  ],
  lampGroups: [{ id: 'G1', lamps: ['H1', 'H4'], arrange: 'pair', ohms: 4700, guard: 'none' }],
  feed: { kind: 'reversing', supplies: ['S1'] },
  lighting: { scheme: 'across-feed', current: 0.002, supply: 'S1' },
  supplies: [
    {
      id: 'S1',
      kind: 'dc',
      volts: 12,
      voltsOffLoad: 16.5,
      tolerance: 0.05,
      amps: 1,
      ohms: 0,
      limit: 'none',
      isolated: true,
      fuse: { amps: 0.5, act: 'quick' },
    },
    { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047, chargeOhms: 100 },
  ],
  returns: [{ id: 'R0', supply: 'S1', levers: ['L1'], pins: 3 }],
  connectors: [{ id: 'A', part: 'dsub-25', panelHalf: 'socket', spare: 0.125, pins: { '7': 'D1.a' } }],
  boards: [{ id: 'board-west' }, { id: 'board-east' }],
  boardJoints: [{ id: 'J1', between: ['board-west', 'board-east'], part: 'dsub-15' }],
  wires: [{ id: 'W12', from: 'A.8', to: 'D1.b', length: 4500, gauge: 0.22, colour: 'BN' }],
  track: {
    system: 'digital',
    bus: { gauge: 1.5, length: 8000 },
    droppers: { gauge: 0.5, length: 300 },
    feeds: [{ at: [20, 60] }],
    gaps: [{ at: [100, 60], rail: 'left' }],
    boosters: [{ id: 'Z1', volts: 15, tripAmps: 3 }],
  },
  trains: [{ id: 'T1', name: 'Goods', length: 900, stands: 'loop-road', heads: 'west' }],
  plates: [{ at: [150, 20], text: 'BRAMBLE SIDING', size: 6 }],
  platforms: [],
  parts: [{ id: 'my-motor', like: 'stall-2-wire', stallAmps: 0.016 }],
  built: {
    revision: 'A',
    date: '2026-03-01',
    wires: { W12: { from: 'A.8', to: 'D1.b', colour: 'BN', gauge: 0.22, length: 4500 } },
    pins: { 'A.7': 'D1.a' },
    holes: { H1: { at: [78, 75], drill: 3.2 } },
    groups: { G1: { lamps: ['H1', 'H4'], ohms: 4700 } },
  },
  results: [
    {
      test: 'bench:P1:reverse',
      revision: 'A',
      at: '2026-03-01T14:06:00Z',
      read: { volts: 9.1, amps: 0 },
      pass: false,
    },
  ],
  retired: [],
};

describe('a panel with every key', () => {
  it('is counted', async () => {
    const { panel, counts } = await answerOn(EVERY_KEY, 'check');
    expect(panel).toBe('Bramble Siding');
    expect(counts).toMatchObject({
      strips: 2,
      points: 2,
      crossings: 0,
      places: 3,
      levers: 1,
      lamps: 2,
      drives: 2,
      circuits: 1,
      connectors: 1,
    });
  });

  it('says that nothing lies at X1 and Y1, and that L1 and B1 both work P1', async () => {
    const found = await findingsOn(EVERY_KEY);
    expect(found).toEqual(expect.arrayContaining(['record-finds-nothing X1', 'record-finds-nothing Y1']));
    expect(found.some((each) => each.startsWith('point-worked-twice P1'))).toBe(true);
    expect((await runOn(EVERY_KEY, 'check')).status).toBe(1);
  });

  it('lists worst findings first, each with all its keys', async () => {
    const { findings } = await answerOn(EVERY_KEY, 'check');
    const order = ['danger', 'wrong', 'caution', 'hint'];
    const ranks = findings.map(({ severity }) => order.indexOf(severity));
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    for (const each of findings) {
      expect(Object.keys(each)).toEqual(
        expect.arrayContaining(['code', 'severity', 'where', 'message', 'values', 'mends']),
      );
    }
  });

  it('has these routes', async () => {
    const { places, routes, conflicts } = await answerOn(EVERY_KEY, 'routes');
    const half = 60 + Math.hypot(30, 25) + 60;
    expect(places).toEqual([
      { id: 'west', name: 'West' },
      { id: 'loop-road', name: 'Loop' },
      { id: 'E1', name: null },
    ]);
    expect(
      routes.map(({ from, to, points, levers, through }) => [from, to, points, levers, through.join(' ')]),
    ).toEqual([
      ['west', 'loop-road', { P1: 'reverse' }, { L1: 'reverse' }, ''],
      ['west', 'E1', { P1: 'normal', P2: 'normal' }, { L1: 'normal' }, ''],
      ['west', 'E1', { P1: 'reverse', P2: 'reverse' }, { L1: 'reverse' }, 'loop-road'],
      ['loop-road', 'E1', { P2: 'reverse' }, { L1: 'reverse' }, ''],
    ]);
    for (const [i, length] of [half, 300, 2 * half, half].entries())
      expect(routes[i]?.faceLength).toBeCloseTo(length, 6);
    expect(routes.map(({ layoutLength }) => layoutLength)).toEqual([null, null, null, null]);
    expect(conflicts.map(([i, j]) => `${i}${j}`)).toEqual(['01', '02', '03', '12', '13', '23']);
    expect([conflicts[0]?.[2], conflicts[3]?.[2], conflicts[4]?.[2]]).toEqual(['point:P1', 'point:P1', 'point:P2']);
    for (const i of [1, 2, 5]) expect(conflicts[i]?.[2]).toMatch(/^span:/);
  });

  it('carries these amps', async () => {
    const solved = await answerOn(EVERY_KEY, 'solve');
    const [first, second] = [12 / (12 / 0.0148 + loopOhms(4500)), 12 / (800 + loopOhms())];
    const lit = stringAmps(12, 4700, [1.9]);
    expectAbout(solved.drives.find(({ point }) => point === 'P1')?.amps, first);
    expectAbout(solved.drives.find(({ point }) => point === 'P2')?.amps, second);
    const lamp = solved.lamps.find(({ id }) => id === 'H4');
    expectAbout(lamp?.amps, lit);
    expectAbout(lamp?.low, stringAmps(12 * 0.95, 4700 * 1.05, [2]));
    expectAbout(lamp?.high, stringAmps(16.5, 4700 * 0.95, [1.8]));
    expectAbout(solved.supplies[0]?.amps, first + second + lit);
    expect(solved.lamps.map(({ id, look }) => [id, look])).toEqual([
      ['H1', 'unlit'],
      ['H4', 'good'],
    ]);
    expect(solved.faults).toEqual([]);
  });

  it('is proved in two settings', async () => {
    const truth = await answerOn(EVERY_KEY, 'truth');
    expect([truth.settings, truth.untruths, truth.contradictions, truth.silent]).toEqual(['2', [], [], []]);
  });

  it('keeps what it fixes', async () => {
    const wires = (await listOn(EVERY_KEY, 'wires.csv')).slice(1);
    expect(wires.filter(([no]) => no === 'W12')).toEqual([['W12', 'A.8', 'D1.b', 'BN', '0.22', '4500', 'L1']]);
    expect(wires.some(([, from, to]) => from === 'A.7' && to === 'D1.a')).toBe(true);
    expect(new Set(wires.map(([no]) => no)).size).toBe(wires.length);
  });

  it('answers with the same bytes twice', async () => {
    for (const args of [
      ['check', '--json'],
      ['routes', '--json'],
      ['solve', '--json'],
      ['truth', '--json'],
      ['spice'],
    ]) {
      const [command = '', ...rest] = args;
      expect((await runOn(EVERY_KEY, command, ...rest)).stdout).toBe((await runOn(EVERY_KEY, command, ...rest)).stdout);
    }
  });
});
