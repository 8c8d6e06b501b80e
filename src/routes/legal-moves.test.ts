import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import type { Lies, PanelFile } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { legalMoves } from './legal-moves.ts';
import { readTrains } from './read-trains.ts';
import type { JudgedMove, Standing } from './train-types.ts';
import { pairsOf, whoFouls } from './who-fouls.ts';

/** A loop, a spur off the main between, and a road in the loop. */
const LOOP = `main 0,60 400,60
  loop 60,60 100,85 300,85 340,60
  spur 160,60 200,35 300,35
  @west West 0,60 length=1000
  @east East 400,60 length=1000
  @spur Spur 300,35 length=500
  @loop Loop 200,85 length=700`;

const train = (id: string, length: number | null, stands: string, heads: string | null = null) => ({
  id,
  name: null,
  length,
  stands,
  heads,
});

function moves(
  standing: Standing,
  lies: Lies | null = null,
  text = LOOP,
  more: Partial<PanelFile> = {},
): readonly JudgedMove[] {
  return legalMoves(readPlan(tracks(text, more)), standing, lies).moves;
}

/** `T1>east now`, `T1>loop L1r`, `T1>spur T2@east` */
const line = ({ train: id, to, now, throws, fouledBy, asks, full }: JudgedMove): string =>
  [
    `${id}>${to}`,
    ...(now ? ['now'] : []),
    ...Object.entries(throws ?? {}).map(([lever, lie]) => `${lever}${lie[0]}`),
    ...fouledBy.map((foul) => `${foul.train}@${foul.place}`),
    ...(asks.length > 0 ? ['asked'] : []),
    ...(full === null ? [] : ['full']),
  ].join(' ');

describe('what trains can do where they stand', () => {
  it('[TS4] is every route, with what has to be thrown for it', () => {
    // P1 the loop's west end, P2 the spur's, P3 the loop's east end.
    expect(moves([train('T1', 400, 'west')]).map(line)).toEqual([
      'T1>east now',
      'T1>east L1r L3r',
      'T1>spur L2r',
      'T1>loop L1r',
    ]);
    expect(moves([train('T1', 400, 'west')], { P1: 'reverse' }).map(line)).toEqual([
      'T1>east L1n',
      'T1>east L3r',
      'T1>spur L1n L2r',
      'T1>loop now',
    ]);
  });

  it('[TS4] is barred by trains on the way, each with its place and span', () => {
    const found = moves([train('T1', 400, 'west'), train('T2', 300, 'loop')]);
    expect(found.filter((move) => move.train === 'T1').map(line)).toEqual([
      'T1>east now',
      'T1>east L1r L3r T2@loop',
      'T1>spur L2r',
      // There is room for both.
      'T1>loop L1r',
    ]);
    expect(found[1]?.fouledBy[0]).toMatchObject({ train: 'T2', place: 'loop', span: 'P1/P3' });
    // Nearer to the way out of a dead end, and too long together.
    const row = moves([train('T1', 400, 'west'), train('T2', 500, 'west'), train('T3', 400, 'loop')]);
    expect(row.filter((move) => move.train === 'T1').map(line)).toContain('T1>east T2@west');
    expect(row.filter((move) => move.train === 'T2').map(line)).toContain('T2>loop L1r full');
    expect(row.find((move) => move.train === 'T2' && move.full !== null)?.full).toBe(
      'Loop holds 700 mm, T3 and T2 together are 900 mm',
    );
  });

  it('[TS1] the first of several at one place stands furthest left', () => {
    const east = moves([train('T1', 400, 'east'), train('T2', 500, 'east')]);
    expect(east.filter(({ fouledBy }) => fouledBy.length > 0).every((move) => move.train === 'T2')).toBe(true);
    // On the same track laid the other way round, and turned to run down.
    const back = LOOP.replace('main 0,60 400,60', 'main 400,60 0,60');
    expect(moves([train('T1', 400, 'east'), train('T2', 500, 'east')], null, back).map(line)).toEqual(east.map(line));
    const down = LOOP.replace(/(\d+),(\d+)/g, '$2,$1');
    const below = moves([train('T1', 400, 'east'), train('T2', 500, 'east')], null, down);
    expect(below.filter(({ fouledBy }) => fouledBy.length > 0).every((move) => move.train === 'T2')).toBe(true);
  });

  it('[TS2] asks for lengths that are not given', () => {
    const unknown = LOOP.replace('Spur 300,35 length=500', 'Spur 300,35');
    expect(moves([train('T1', 400, 'west')], null, unknown).map(line)).toContain('T1>spur L2r asked');
    expect(moves([train('T1', null, 'west')]).map(line)).toContain('T1>loop L1r asked');
    expect(moves([train('T1', 400, 'west'), train('T2', 100, 'spur')], null, unknown).map(line)).toContain(
      'T1>spur L2r full',
    );
  });

  it('[TS10] names points that no lever works, and what no lever can set', () => {
    const idle = moves([train('T1', 400, 'west')], null, LOOP, { levers: [{ id: 'L1', works: [{ point: 'P1' }] }] });
    expect(idle.map(line)).toContain('T1>spur P2r');
    const crossed = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P3', opposite: true }, { point: 'P2' }] }];
    const found = moves([train('T1', 400, 'west')], null, LOOP, { levers: crossed });
    expect(found.filter(({ throws }) => throws === null).map(({ to, now }) => [to, now])).toEqual([
      ['east', false],
      ['east', false],
      ['spur', false],
    ]);
  });

  it('[TS1] reads trains of the file that stand on the plan', () => {
    const panel = tracks(LOOP, {
      trains: [
        { id: 'T1', name: 'Goods', length: 400, stands: 'west', heads: 'east' },
        { id: 'T2', stands: 'nowhere' },
        { id: 'T3' },
      ],
    });
    expect(readTrains(panel, readPlan(panel))).toEqual([{ ...train('T1', 400, 'west', 'east'), name: 'Goods' }]);
  });
});

describe('who fouls whom', () => {
  const fouls = (standing: Standing, a: string, b: string, more: Partial<PanelFile> = {}, text = LOOP) => {
    const [x = '', y = ''] = a.split('>');
    const [v = '', w = ''] = b.split('>');
    return whoFouls(readPlan(tracks(text, more)), standing, [
      { train: x, place: y },
      { train: v, place: w },
    ]);
  };

  it('[TS6] all pairs of what trains can do say the same as two at a time', () => {
    const plan = readPlan(tracks(LOOP));
    const standing = [train('T1', 400, 'loop'), train('T2', 300, 'spur'), train('T3', 200, 'east')];
    const { moves: list } = legalMoves(plan, standing);
    const pairs = pairsOf(list);
    expect(pairs.length).toBeGreaterThan(3);
    for (const [i, j, why] of pairs) {
      const [a, b] = [list[i], list[j]];
      if (a === undefined || b === undefined) throw new Error(`no move ${i} or ${j}`);
      const two = whoFouls(plan, standing, [
        { train: a.train, place: a.to },
        { train: b.train, place: b.to },
      ]);
      const at = (side: 0 | 1, move: JudgedMove) =>
        two.moves[side].findIndex(({ points }) => JSON.stringify(points) === JSON.stringify(move.points));
      const [x, y] = [at(0, a), at(1, b)];
      expect(two.conflicts.find(([p, q]) => p === x && q === y)?.[2] ?? null).toBe(why);
      expect(two.together.some(([p, q]) => p === x && q === y)).toBe(why === null);
    }
  });

  it('[TS6] two moves that need a point both ways, or the same span, conflict', () => {
    // Out of the loop to the east while another goes from the spur to the west: nothing in common.
    const two = [train('T1', 400, 'loop'), train('T2', 300, 'spur')];
    expect(fouls(two, 'T1>east', 'T2>west')).toMatchObject({ together: [[0, 0]], conflicts: [] });
    // Both to the west: P1 is needed both ways.
    expect(fouls(two, 'T1>west', 'T2>west')).toMatchObject({ together: [], conflicts: [[0, 0, 'point:P1']] });
    const meet = fouls([train('T1', 400, 'west'), train('T2', 300, 'east')], 'T1>east', 'T2>west');
    expect(meet.moves.map(({ length }) => length)).toEqual([2, 2]);
    // By the same road they share all of it, by two roads the points at its ends; and neither end is free.
    expect(meet.conflicts.map(([i, j, reason]) => `${i}${j} ${reason}`)).toEqual([
      '00 span:P1/P2',
      '01 point:P1',
      '10 point:P1',
      '11 span:P1/P3',
    ]);
  });

  it('[TS6] a crossing, and a lever that would have to lie both ways', () => {
    const cross =
      'a 0,0 200,125\nb 0,125 200,0\n@a A 0,0 length=900\n@b B 200,125 length=900\n@c C 0,125 length=900\n@d D 200,0 length=900';
    expect(fouls([train('T1', 400, 'a'), train('T2', 300, 'c')], 'T1>b', 'T2>d', {}, cross).conflicts).toEqual([
      [0, 0, 'crossing:X1'],
    ]);
    const two = [train('T1', 400, 'loop'), train('T2', 300, 'spur')];
    const works = (opposite: boolean) => [
      { id: 'L1', works: [{ point: 'P3' }, { point: 'P2', opposite }] },
      { id: 'L2', works: [{ point: 'P1' }] },
    ];
    // Out of the loop P3 lies reverse, out of the spur P2.
    expect(fouls(two, 'T1>east', 'T2>west', { levers: works(false) }).together).toEqual([[0, 0]]);
    expect(fouls(two, 'T1>east', 'T2>west', { levers: works(true) })).toMatchObject({
      together: [],
      conflicts: [[0, 0, 'lever:L1']],
    });
  });

  it('[TS6] a standing train bars a move whatever the other does', () => {
    const three = [train('T1', 400, 'west'), train('T2', 300, 'spur'), train('T3', 300, 'loop')];
    const found = fouls(three, 'T1>east', 'T2>west');
    expect(found.moves[0].map(line)).toEqual(['T1>east now', 'T1>east L1r L3r T3@loop']);
    expect(found.together).toEqual([]);
  });

  it('[TS6] says what cannot be asked', () => {
    expect(fouls([train('T1', 400, 'west')], 'T1>east', 'T1>loop').why).toEqual(['T1 is wanted in two places']);
    expect(fouls([train('T1', 400, 'west')], 'T1>x', 'T2>loop').why).toEqual([
      'there is no place x',
      'there is no train T2',
    ]);
  });
});
