import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { runPlan } from '../../tests/oracle/every-standing.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import { findStandings, type StandingsOptions } from './standings.ts';
import type { Standing, StandingsFound, StandingTrain, WantedTrain } from './train-types.ts';

/** A neck and roads off it, all dead ends. */
const YARD = `lead 0,60 300,60
  r1 60,60 100,35 300,35
  r2 100,60 140,85 300,85
  r3 140,60 220,110 300,110
  @neck Neck 0,60 length=1000
  @a A 300,35 length=900
  @b B 300,60 length=900
  @c C 300,85 length=900
  @d D 300,110 length=900`;

const LOOP = `main 0,60 300,60
  loop 60,60 100,85 200,85 240,60
  @west West 0,60 length=1000
  @east East 300,60 length=1000
  @main Main 150,60 length=800
  @loop Loop 150,85 length=700`;

/** `T1 900 yard west`: id, length or -, where it stands, where it heads. */
function train(line: string): StandingTrain {
  const [id = '', length = '-', stands = '', heads = null] = line.split(' ');
  return { id, name: null, length: length === '-' ? null : Number(length), stands, heads };
}

const trains = (...lines: readonly string[]): Standing => lines.map(train);

/** `T1=yard T2=loop/west` */
function wants(text: string): readonly WantedTrain[] {
  return text.split(' ').map((each) => {
    const [id = '', there = ''] = each.split('=');
    const [place = '', heads = null] = there.split('/');
    return { train: id, place, heads };
  });
}

function go(
  text: string,
  standing: Standing,
  wanted: string,
  options: StandingsOptions = {},
  more: Partial<PanelFile> = {},
): StandingsFound {
  return findStandings(readPlan(tracks(text, more)), standing, wants(wanted), options);
}

/** `T1 a>neck L1r, T1 neck>b L1n` */
const line = ({ moves }: StandingsFound): string =>
  moves
    .map(({ train: id, from, to, throws }) =>
      [`${id} ${from}>${to}`, ...Object.entries(throws ?? {}).map(([lever, lie]) => `${lever}${lie[0]}`)].join(' '),
    )
    .join(', ');

const ends = ({ ends: standing }: StandingsFound): string =>
  standing.map(({ id, stands }) => `${id} ${stands}`).join(', ');

function example(name: string): Plan {
  const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return readPlan(read.panel);
}

describe('a standing that is wanted', () => {
  it('[TS3] is reached move by move, one train along one route', () => {
    const found = go(YARD, trains('T1 400 a'), 'T1=b');
    expect(line(found)).toBe('T1 a>neck L1r, T1 neck>b L1n');
    expect(found).toMatchObject({ outcome: 'found', throws: 2, bound: { moves: 2, throws: 2 }, proved: true, why: [] });
    expect(found.moves[0]).toMatchObject({ levers: { L1: 'reverse' }, points: { P1: 'reverse' }, through: [] });
    // It stands there already.
    expect(go(YARD, trains('T1 400 a'), 'T1=a')).toMatchObject({
      outcome: 'found',
      moves: [],
      throws: 0,
      proved: true,
    });
  });

  it('[TS3] passes no train that stands in the way, and none on its own road', () => {
    // Two on one road: the one nearer to the way out goes first.
    const found = go(YARD, trains('T1 300 a', 'T2 300 a'), 'T2=b');
    expect(found.moves.map(({ train: id, from }) => [id, from])).toEqual([
      ['T1', 'a'],
      ['T2', 'a'],
      ['T2', 'neck'],
    ]);
    // Main and loop: what stands on one is passed on the other.
    expect(line(go(LOOP, trains('T1 300 west', 'T2 300 main'), 'T1=east'))).toBe('T1 west>east L1r L2r');
    expect(go(LOOP, trains('T1 300 west', 'T2 300 main'), 'T1=east').moves[0]?.through).toEqual(['loop']);
  });

  it('[TS2] takes several trains one behind the other where their lengths add up to no more than its own', () => {
    const both = trains('T1 450 a', 'T2 450 b');
    expect(go(YARD, both, 'T1=c T2=c').outcome).toBe('found');
    expect(go(YARD, trains('T1 451 a', 'T2 450 b'), 'T1=c T2=c')).toMatchObject({
      outcome: 'refused',
      proved: true,
      why: ['C holds 900 mm, T1 and T2 together are 901 mm'],
    });
    expect(go(YARD, trains('T1 950 neck'), 'T1=a').why).toEqual(['A holds 900 mm, the train T1 is 950 mm']);
    // Where a length is not given one train may stand, if it is said to fit.
    expect(go(YARD.replace('C 300,85 length=900', 'C 300,85'), both, 'T1=c T2=c').why).toEqual([
      'C holds one train, as its length is not given, and T1 stands there',
    ]);
  });

  it('[TS2] asks for lengths that are not given and that it hangs on, free ends alike', () => {
    const unknown = YARD.replace('Neck 0,60 length=1000', 'Neck 0,60');
    const found = go(unknown, trains('T1 400 a', 'T2 - b'), 'T1=c T2=d');
    expect(found.outcome).toBe('asked');
    expect(found.moves).toHaveLength(4);
    expect(found.asks.map(({ place, question }) => [place, question])).toEqual([
      ['neck', 'How long may a train be to stand at Neck?'],
      [null, 'How long is T2?'],
    ]);
    // Where it stands it stands already.
    expect(go(LOOP.replace('West 0,60 length=1000', 'West 0,60'), trains('T1 300 west'), 'T1=east').asks).toEqual([]);
    // Beside moves that do without: to wait in the loop would save throws.
    const swap = go(
      LOOP.replace('Loop 150,85 length=700', 'Loop 150,85'),
      trains('T1 600 west', 'T2 900 east'),
      'T1=east T2=west',
      { levers: { L1: 'reverse' } },
    );
    expect(swap.outcome).toBe('found');
    expect(swap.asks.map(({ place }) => place)).toEqual(['loop']);
  });

  it('[TS5] heads as it did: pulled and pushed alternate, a balloon turns it', () => {
    const found = go(YARD, trains('T1 400 a neck'), 'T1=b');
    expect(found.moves.map(({ head }) => head)).toEqual(['first', 'last']);
    expect(found.ends).toEqual(trains('T1 400 b neck'));
    const pushed = go(YARD, trains('T1 400 a a'), 'T1=b');
    expect(pushed.moves.map(({ head }) => head)).toEqual(['last', 'first']);
    expect(pushed.ends).toEqual(trains('T1 400 b b'));
    expect(go(YARD, trains('T1 400 a'), 'T1=b').moves.map(({ head }) => head)).toEqual([null, null]);
    expect(go(YARD, trains('T1 400 a a'), 'T1=b/neck')).toMatchObject({ outcome: 'refused', proved: true });
    const balloon = `loop 0,60 100,60 200,60 260,100 200,140 140,100 80,60
      @in In 0,60 length=900
      @near Near 40,60 length=900
      @back Back 200,140 length=900`;
    // Round the loop and out again: it left head first, and comes back head first.
    const round = go(balloon, trains('T1 400 in near'), 'T1=in/in');
    expect(round.moves.map(({ from, to, head }) => [from, to, head])).toEqual([
      ['in', 'back', 'first'],
      ['back', 'in', 'first'],
    ]);
    expect(go(balloon, trains('T1 400 in'), 'T1=in/in').why).toEqual(['how T1 heads where it stands is not given']);
  });

  it('[TS7] says where trains end that are not named; they stay where that is asked for', () => {
    const standing = trains('T1 300 a', 'T2 300 a', 'T3 800 d');
    const free = go(YARD, standing, 'T2=b');
    expect(free.moves).toHaveLength(3);
    expect(ends(free)).toBe('T1 neck, T2 b, T3 d');
    const stays = go(YARD, standing, 'T2=b', { othersStay: true });
    expect(ends(stays)).toBe('T1 a, T2 b, T3 d');
    expect(stays.moves).toHaveLength(4);
  });

  it('[TS7] brings trains at one place into an order, from left to right, where that is asked for', () => {
    const standing = trains('T1 300 a', 'T2 300 b');
    for (const [order, first] of [
      ['T1=c T2=c', 'T2'],
      ['T2=c T1=c', 'T1'],
    ] as const) {
      const found = go(YARD, standing, order, { inOrder: true });
      // The one further right goes in first.
      expect(found.moves.find(({ to }) => to === 'c')?.train).toBe(first);
      expect(found.ends.map(({ id }) => id)).toEqual(first === 'T2' ? ['T1', 'T2'] : ['T2', 'T1']);
    }
    // Laid the other way round on the face, the order is still that from left to right.
    const mirrored = YARD.replace(/(\d+),(\d+)/g, (_, x, y) => `${300 - Number(x)},${y}`);
    const found = go(mirrored, standing, 'T1=c T2=c', { inOrder: true });
    expect(found.moves.find(({ to }) => to === 'c')?.train).toBe('T1');
  });

  it('[TS10] throws points that no lever works by themselves, and takes no route that levers cannot set', () => {
    const levers = [{ id: 'L1', works: [{ point: 'P1' }] }];
    const idle = go(YARD, trains('T1 400 b'), 'T1=c', {}, { levers });
    expect(line(idle)).toBe('T1 b>neck, T1 neck>c P2r');
    expect(idle.moves[1]?.levers).toBeNull();
    expect(line(go(YARD, trains('T1 400 b'), 'T1=c', { lies: { P2: 'reverse' } }, { levers }))).toBe(
      'T1 b>neck P2n, T1 neck>c P2r',
    );
    const crossed = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }];
    const bare = LOOP.replace(/@(main|loop).*/g, '');
    expect(go(bare, trains('T1 300 west'), 'T1=east', {}, { levers: crossed })).toMatchObject({
      outcome: 'refused',
      why: ['the levers can set no way from West to East, turning back or not'],
    });
  });

  it('[TS9] counts throws from how levers lie; a lever at centre is thrown either way', () => {
    expect(go(YARD, trains('T1 400 a'), 'T1=b', { levers: { L1: 'reverse' } }).throws).toBe(1);
    expect(go(YARD, trains('T1 400 a'), 'T1=b', { levers: { L1: 'centre' } }).throws).toBe(2);
    // The way to B asks them normal.
    expect(go(YARD, trains('T1 400 a'), 'T1=b', { levers: { L2: 'centre', L3: 'centre' } }).throws).toBe(4);
  });

  it('[TS12] is refused with reasons', () => {
    const standing = trains('T1 900 a', 'T2 300 neck');
    expect(go(YARD, standing, 'T3=a').why).toEqual(['there is no train T3 that stands on the plan']);
    expect(go(YARD, standing, 'T1=x').why).toEqual(['there is no place x']);
    expect(go(YARD, standing, 'T1=b T1=c').why).toEqual(['T1 is wanted in two places']);
    expect(go(YARD, trains('T1 900 x'), 'T1=b').why).toEqual(['T1 stands at x: there is no such place']);
    expect(go(YARD, trains('T1 900 a', 'T1 900 b'), 'T1=b').why).toEqual(['two trains are T1']);
    // The neck is too short to turn back in.
    expect(go(YARD.replace('length=1000', 'length=800'), trains('T1 900 a'), 'T1=b').why).toEqual([
      'Neck holds 800 mm, the train T1 is 900 mm',
    ]);
    const apart = `${YARD}\n  other 0,200 300,200\n  @o O 0,200 length=900`;
    expect(go(apart, trains('T1 900 a'), 'T1=o').why).toEqual(['no way leads from A to O, turning back or not']);
    // Nobody can give way.
    const full = trains('T1 900 a', 'T2 900 neck', 'T3 900 b', 'T4 900 c', 'T5 900 d');
    expect(go(YARD, full, 'T1=b T3=a')).toMatchObject({ outcome: 'refused', proved: true, moves: [], throws: null });
    expect(go(YARD, full, 'T1=b').why.slice(0, -1)).toEqual([]);
    const shut = trains('T1 300 a', 'T2 800 a', 'T3 900 neck', 'T4 900 b', 'T5 900 c', 'T6 900 d');
    expect(go(YARD.replace('A 300,35 length=900', 'A 300,35 length=1100'), shut, 'T2=neck').why[0]).toBe(
      'T2 cannot leave A while T1 stands in A',
    );
  });

  it('[TS11] where the search gives up, the best found stands with its bound, or nothing', () => {
    const standing = trains('T1 900 a', 'T2 900 b', 'T3 900 c');
    const best = go(YARD, standing, 'T1=b T2=c T3=a');
    expect(best).toMatchObject({ outcome: 'found', proved: true, bound: { moves: 8 } });
    const cut = go(YARD, standing, 'T1=b T2=c T3=a', { most: 30 });
    expect(cut.proved).toBe(false);
    expect(cut.bound.moves).toBeGreaterThanOrEqual(6);
    expect(cut.bound.moves).toBeLessThanOrEqual(8);
    expect(cut.bound.throws).toBeGreaterThan(0);
    const none = go(YARD, standing, 'T1=b T2=c T3=a', { most: 3 });
    expect(none).toMatchObject({ outcome: 'stopped', moves: [], throws: null, proved: false });
    expect(none.bound.moves).toBeGreaterThanOrEqual(6);
    expect(none.why[0]).toMatch(/^nothing is found in \d+ standings: it takes \d moves at least/);
  });
});

describe('what is known of the least number of moves', () => {
  // Roads that hold one train each, one of them empty, all joined by a neck that holds one. Every change of road is two moves, by the
  // neck. A train that is not where it is wanted changes at least once; of each ring of trains that want each other's roads one has to
  // change twice, since the first of it that moves cannot go to its own road, where another stands; and so many do (proof by hand).
  it('[TS9] a shuffle with one empty road takes two moves for each train astray and two for each ring (seed 20260301)', () => {
    const roads = ['a', 'b', 'c'];
    const shuffles = [
      [1, 0, 2],
      [1, 2, 0],
      [2, 0, 1],
      [0, 2, 1],
      [2, 1, 0],
    ] as const;
    for (const shuffle of shuffles) {
      const standing = roads.map((road, i) => train(`T${i} 900 ${road}`));
      const wanted = shuffle.map((to, i) => `T${i}=${roads[to] ?? ''}`).join(' ');
      const astray = shuffle.filter((to, i) => to !== i).length;
      const found = go(YARD, standing, wanted);
      expect([found.moves.length, found.proved]).toEqual([2 * (astray + 1), true]);
    }
  });

  it('[TS9] trains in a row in a dead end, wanted the other way round, take two moves each', () => {
    // Each has to come out by the neck, so two each; and so many do: one after the other, the last out of the one end up first in the other.
    const standing = trains('T1 300 a', 'T2 300 a', 'T3 300 a');
    expect(go(YARD, standing, 'T3=b T2=b T1=b', { inOrder: true }).moves).toHaveLength(6);
  });

  it('[TS9] two trains that meet on a single line pass at a loop in three moves', () => {
    // Neither end is free before the other has left it, so one has to stop between: three, and the loop shows that three do.
    const found = go(LOOP, trains('T1 600 west', 'T2 600 east'), 'T1=east T2=west');
    expect(found).toMatchObject({ outcome: 'found', proved: true });
    expect(found.moves).toHaveLength(3);
    // Too long for either road they cannot.
    expect(go(LOOP, trains('T1 900 west', 'T2 900 east'), 'T1=east T2=west').outcome).toBe('refused');
  });
});

describe('laws', () => {
  const cases = (seed: number) => {
    const panel = generatePanel(seed, 4 + (seed % 9));
    const places = panel.places ?? [];
    const at = (k: number) => places[(seed * 7 + k * 3) % places.length]?.id ?? '';
    const standing = ['T1', 'T2', 'T3', 'T4'].map((id, k) => train(`${id} ${200 + 100 * k} ${at(k)}`));
    return {
      panel: { ...panel, places: places.map((place) => ({ ...place, length: 1000 })) },
      standing,
      wanted: ['T1', 'T2', 'T3', 'T4'].map((id, k) => ({ train: id, place: at(k + 5) })),
    };
  };
  const seeds = fc.integer({ min: 1, max: 1e6 });

  it('[TS8] each plan can be run as it is printed (seed 20260301)', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { panel, standing, wanted } = cases(seed);
        const plan = readPlan(panel);
        const found = findStandings(plan, standing, wanted, { most: 20_000 });
        const ran = runPlan(plan, standing, found.moves);
        expect([ran.fault, ran.throws]).toEqual([null, found.throws ?? 0]);
        if (found.outcome !== 'found') return;
        for (const { train: id, place } of wanted) expect(ran.ends[place]).toContain(id);
        for (const { id, stands } of found.ends) expect(ran.ends[stands]).toContain(id);
      }),
      { seed: 20_260_301, numRuns: 60 },
    );
  });

  it('[TS13] other names and another order of places and trains change no number (seed 20260301)', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { panel, standing, wanted } = cases(seed);
        const found = findStandings(readPlan(panel), standing, wanted);
        const other = (id: string) => `z${id}`;
        const renamed = findStandings(
          readPlan({
            ...panel,
            places: [...panel.places].reverse().map((place) => ({ ...place, id: other(place.id) })),
          }),
          standing.map((each) => ({ ...each, id: other(each.id), stands: other(each.stands) })),
          wanted.map((each) => ({ train: other(each.train), place: other(each.place) })).reverse(),
        );
        const numbers = ({ outcome, moves, throws, bound, proved }: StandingsFound) => [
          outcome,
          moves.length,
          throws,
          bound,
          proved,
        ];
        expect(numbers(renamed)).toEqual(numbers(found));
      }),
      { seed: 20_260_301, numRuns: 40 },
    );
  });

  it('[TS14] there is back again in as many moves, where all fits and every train is named (seed 20260301)', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { panel, standing, wanted } = cases(seed);
        const plan = readPlan(panel);
        // One train a place, at first and at the end: no order along a road is asked for.
        fc.pre(
          new Set(standing.map(({ stands }) => stands)).size === 4 &&
            new Set(wanted.map(({ place }) => place)).size === 4,
        );
        const there = findStandings(plan, standing, wanted);
        const back = findStandings(
          plan,
          standing.map((each, i) => ({ ...each, stands: wanted[i]?.place ?? '' })),
          standing.map(({ id, stands }) => ({ train: id, place: stands })),
        );
        expect([back.outcome, back.moves.length]).toEqual([there.outcome, there.moves.length]);
      }),
      { seed: 20_260_301, numRuns: 40 },
    );
  });

  it('[TS9] the demo shuffles four trains in its yard and its storage', () => {
    const plan = example('quillhaven-harbour');
    const standing = trains('T1 700 yard-road-1', 'T2 600 yard-road-2', 'T3 700 storage-1', 'T4 900 platform-1');
    const found = findStandings(plan, standing, wants('T1=yard-road-2 T2=yard-road-1 T3=platform-1 T4=storage-3'));
    expect(found).toMatchObject({ outcome: 'found', proved: true });
    // A shuffle with empty roads: three changes of road by the neck, and a move for each of the others, which are in nobody's way.
    expect(found.moves).toHaveLength(8);
    expect(runPlan(plan, standing, found.moves)).toMatchObject({ fault: null, throws: found.throws });
  });
});
