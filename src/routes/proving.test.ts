import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { printTracks, tracks } from '../../tests/generate/tracks.ts';
import { type Lie, type PanelFile, readPanel } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import { provingRun } from './proving.ts';
import type { ProvingRun } from './types.ts';

function run(text: string, more: Partial<PanelFile> = {}): ProvingRun {
  return provingRun(readPlan(tracks(text, more)));
}

function example(name: string): Plan {
  const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return readPlan(read.panel);
}

/** `turns toe>left {L1 reverse}` */
function lines({ moves }: ProvingRun): readonly string[] {
  return moves.map(({ from, to, turns, carried, throws }) => {
    const thrown = Object.entries(throws).map(([id, lie]) => `${id} ${lie}`);
    return `${carried ? 'carried ' : ''}${turns ? 'turns ' : ''}${from}>${to} {${thrown.join(', ')}}`;
  });
}

interface Stand {
  readonly place: string;
  readonly heading: number;
}

/**
 * Walk the printed run on the plan, by spans and lies alone: every step begins where the last ended, its throws give every lie that its
 * spans ask, and what it passes is counted. Shares no code with the search.
 */
function walkRun(plan: Plan, { moves }: ProvingRun) {
  const worker = new Map<string, { readonly id: string; readonly whenNormal: Lie }>();
  for (const { id, works } of plan.levers) {
    for (const { point, whenNormal } of works) if (!worker.has(point)) worker.set(point, { id, whenNormal });
  }
  const lies = new Map<string, Lie>();
  const lieOf = (point: string): Lie => {
    const by = worker.get(point);
    const position = lies.get(by?.id ?? point) ?? 'normal';
    if (by === undefined || by.whenNormal === 'normal') return position;
    return position === 'normal' ? 'reverse' : 'normal';
  };
  const taken = new Set<string>();
  let reversals = 0;
  let throws = 0;
  let stands: Stand | null = null;
  for (const move of moves) {
    for (const [id, lie] of Object.entries(move.throws)) {
      expect(lies.get(id) ?? 'normal', `${id} lies ${lie} already`).not.toBe(lie);
      lies.set(id, lie);
      throws += 1;
    }
    // Two ways from span to span may differ in their ends: keep every heading that the passages allow.
    let at: { readonly first: number; readonly heading: number; readonly passed: readonly string[] }[] = [0, 1].map(
      (heading) => ({ first: heading, heading, passed: [] }),
    );
    for (const [i, span] of move.spans.entries()) {
      const next = move.spans[i + 1];
      if (next === undefined) break;
      at = at.flatMap(({ first, heading, passed }) =>
        plan.passages.flatMap(({ between, asks }) =>
          [between, [between[1], between[0]] as const].flatMap(([a, b]) => {
            if (a.span !== span || a.end !== heading || b.span !== next) return [];
            if (Object.entries(asks).some(([point, lie]) => lieOf(point) !== lie)) return [];
            const key = `${a.span} ${a.end} ${b.span} ${b.end}`;
            return [
              { first, heading: b.end === 0 ? 1 : 0, passed: Object.keys(asks).length > 0 ? [...passed, key] : passed },
            ];
          }),
        ),
      );
    }
    const before: Stand | null = stands;
    const mayHead = (heading: number): boolean =>
      before === null || move.carried || (heading === before.heading) !== move.turns;
    const way = at.find(({ first }) => mayHead(first));
    if (way === undefined) throw new Error(`${move.from}>${move.to} cannot be run as it is set`);
    if (before !== null && !move.carried) expect(move.from).toBe(before.place);
    reversals += Number(move.turns);
    for (const key of way.passed) taken.add(key);
    for (const [point, lie] of Object.entries(move.points)) expect(lieOf(point)).toBe(lie);
    stands = { place: move.to, heading: way.heading };
  }
  return { reversals, throws, covered: taken.size };
}

/** Ways through points, both directions. */
const allOf = (plan: Plan) => 2 * plan.passages.filter(({ asks }) => Object.keys(asks).length > 0).length;

describe('the proving run', () => {
  it('[PR1] takes every leg of a point, facing and trailing', () => {
    const fork = run('main 0,60 300,60\nb 100,60 180,110\n@toe Toe 0,60\n@left Left 300,60\n@right Right 180,110');
    expect(fork).toMatchObject({
      legs: { covered: 4, all: 4 },
      missed: [],
      reversals: 3,
      throws: 1,
      proved: true,
      bound: { reversals: 3, throws: 1 },
    });
    expect(lines(fork)).toEqual([
      'toe>left {}',
      'turns left>toe {}',
      'turns toe>right {L1 reverse}',
      'turns right>toe {}',
    ]);
    expect(fork.moves.map(({ takes }) => takes.map(({ points, way }) => [points, way]))).toEqual([
      [[{ P1: 'normal' }, 'facing']],
      [[{ P1: 'normal' }, 'trailing']],
      [[{ P1: 'reverse' }, 'facing']],
      [[{ P1: 'reverse' }, 'trailing']],
    ]);
  });

  it('[PR1] goes round an oval lap by lap, and turns back once', () => {
    const oval = `main 60,60 40,100 60,140 240,140 260,100 240,60 60,60
      loop 100,60 140,35 160,35 200,60
      @road Road 150,140`;
    const found = run(oval);
    expect(found).toMatchObject({ legs: { covered: 8, all: 8 }, missed: [], reversals: 1, proved: true });
  });

  it('[PR2] of the demo takes all of its legs, with the fewest reversals there can be', () => {
    const plan = example('quillhaven-harbour');
    const found = provingRun(plan);
    // 17 points, two legs each, in both directions.
    expect(found.legs).toEqual({ covered: 68, all: 4 * 17 });
    expect(found.missed).toEqual([]);
    expect(found.reversals).toBe(found.bound.reversals);
    expect(walkRun(plan, found)).toEqual({ reversals: found.reversals, throws: found.throws, covered: 68 });
  });

  it('[PR3] names what it cannot take, and why', () => {
    const levers = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }];
    const crossed = run('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60', { levers });
    expect(crossed).toMatchObject({ legs: { covered: 0, all: 8 }, moves: [], proved: true });
    expect(crossed.missed[0]).toMatchObject({
      points: { P1: 'normal' },
      why: 'L1 works P1 and P2 together: P1 normal and P2 normal cannot both be had',
    });
    // A loop without a name: out of it one would need the point both ways.
    const balloon = run('loop 0,60 100,60 200,60 260,100 200,140 140,100 80,60\n@in In 0,60');
    expect(balloon.legs).toEqual({ covered: 0, all: 4 });
    expect(balloon.missed.map(({ why }) => why)[0]).toBe(
      'no way from place to place takes it: give a road or an end on either side a name',
    );
  });

  it('[PR4] is carried over to track that nothing joins', () => {
    const fork = (y: number) => `m${y} 0,${y} 300,${y}\nb${y} 100,${y} 180,${y + 50}`;
    const found = run(`${fork(0)}\n${fork(100)}`);
    expect(found).toMatchObject({ legs: { covered: 8, all: 8 }, reversals: 6, throws: 2, proved: true });
    expect(found.moves.map(({ carried }) => carried)).toEqual([false, false, false, false, true, false, false, false]);
  });

  it('[PR5] throws a point that nothing works by itself, and says so', () => {
    const found = run('main 0,60 300,60\nb 100,60 180,110', { levers: [] });
    expect(found.legs).toEqual({ covered: 4, all: 4 });
    expect(found.moves.flatMap(({ throws }) => Object.keys(throws))).toEqual(['P1']);
    expect(found.moves[0]?.why).toBe('no lever works P1');
  });

  it('[PR6] of a slip and a three-way counts the ways through it', () => {
    const slip = run('a 0,60 300,60\nb 60,110 240,10', {
      crossings: [{ id: 'X1', at: [150, 60], kind: 'double-slip' }],
    });
    expect(slip).toMatchObject({ legs: { covered: 8, all: 8 }, proved: true });
    expect(slip.moves[0]?.takes[0]?.way).toBe('across');
    const three = run('main 0,60 300,60\nl 100,60 180,10\nr 100,60 180,110');
    expect(three).toMatchObject({ legs: { covered: 6, all: 6 }, reversals: 5, proved: true });
  });

  it('[PR3] stays honest where there are more ways than it looks into', () => {
    // Twenty loops in a row, none with a name: a million ways from end to end.
    const rows = Array.from({ length: 20 }, (_, i) => {
      const x = 200 * i;
      return `l${i} ${x + 20},60 ${x + 60},85 ${x + 100},85 ${x + 140},60`;
    });
    const plan = readPlan(tracks(`main 0,60 4000,60\n${rows.join('\n')}`));
    const found = provingRun(plan);
    expect(found).toMatchObject({ proved: false, bound: { reversals: 0 } });
    expect(found.legs.all).toBe(160);
    expect(found.legs.covered + found.missed.length).toBe(160);
    expect(walkRun(plan, found)).toEqual({
      reversals: found.reversals,
      throws: found.throws,
      covered: found.legs.covered,
    });
  });

  it('[PR6] of a plan without a point is empty', () => {
    expect(run('main 0,60 300,60')).toMatchObject({ moves: [], legs: { covered: 0, all: 0 }, proved: true });
  });
});

/** Legs between places as brute force has them: `place heading`, what is passed, what has to lie how. */
interface SlowHop {
  readonly from: string;
  readonly to: string;
  readonly takes: readonly string[];
  readonly set: ReadonlyMap<string, boolean>;
}

/** To the next place from every place, either way; a lap may come back to its own span. Shares no code with the search. */
function slowHops(plan: Plan): readonly SlowHop[] {
  const hops: SlowHop[] = [];
  const lengthOf = (id: string) => plan.spans.find((span) => span.id === id)?.length ?? Number.NaN;
  const worker = new Map<string, readonly [string, boolean]>();
  for (const { id, works } of plan.levers) {
    for (const { point, whenNormal } of works)
      if (!worker.has(point)) worker.set(point, [id, whenNormal === 'reverse']);
  }
  const go = (
    from: string,
    self: string,
    span: string,
    toward: 0 | 1,
    at: number,
    passed: readonly string[],
    takes: readonly string[],
    set: ReadonlyMap<string, boolean>,
  ): void => {
    const entered = passed.length > 1;
    const far = toward === 1 ? lengthOf(span) : 0;
    const ahead = plan.places
      .filter((place) => place.span === span && (entered || place.id !== self))
      .map((place) => ({ place, beyond: toward === 1 ? place.along - at : at - place.along }))
      .filter(({ place, beyond }) => beyond >= 0 && (place.kind === 'road' || place.along === far))
      .sort((a, b) => a.beyond - b.beyond);
    const [next] = ahead;
    if (next !== undefined) {
      hops.push({ from, to: `${next.place.id} ${toward}`, takes, set });
      return;
    }
    for (const { between, asks } of plan.passages) {
      for (const [a, b] of [between, [between[1], between[0]] as const]) {
        if (a.span !== span || a.end !== toward || passed.slice(1).includes(b.span)) continue;
        const more = new Map(set);
        const clash = Object.entries(asks).some(([point, lie]) => {
          const [key, turned] = worker.get(point) ?? [point, false];
          const value = (lie === 'reverse') !== turned;
          if ((more.get(key) ?? value) !== value) return true;
          more.set(key, value);
          return false;
        });
        if (clash) continue;
        const key = `${a.span} ${a.end} ${b.span} ${b.end}`;
        go(
          from,
          self,
          b.span,
          b.end === 0 ? 1 : 0,
          b.end === 0 ? 0 : lengthOf(b.span),
          [...passed, b.span],
          Object.keys(asks).length > 0 ? [...takes, key] : takes,
          more,
        );
      }
    }
  };
  for (const place of plan.places) {
    for (const toward of [0, 1] as const)
      go(`${place.id} ${toward}`, place.id, place.span, toward, place.along, [place.span], [], new Map());
  }
  return hops;
}

/**
 * Fewest reversals and then throws over everything that hops take, by trying all of it: states in the order of what they cost. Null where
 * the hops do not hang together. Without `throws` only reversals count, and of what was taken at one place only the most is kept.
 */
function slowRun(
  hops: readonly SlowHop[],
  countThrows: boolean,
): { readonly reversals: number; readonly throws: number } | null {
  const wanted = [...new Set(hops.flatMap(({ takes }) => takes))];
  const full = 2 ** wanted.length - 1;
  const keys = [...new Set(hops.flatMap(({ set }) => [...set.keys()]))];
  const mask = (takes: readonly string[]) => takes.reduce((sum, key) => sum | (2 ** wanted.indexOf(key)), 0);
  const flip = (stand: string) => `${stand.split(' ')[0]} ${stand.endsWith('1') ? 0 : 1}`;
  interface State {
    readonly stand: string;
    readonly taken: number;
    readonly lie: number;
  }
  const seen = new Set<string>();
  const most = new Map<string, number[]>();
  const isOld = ({ stand, taken, lie }: State): boolean => {
    if (countThrows) {
      const key = `${stand} ${taken} ${lie}`;
      return seen.has(key) || !seen.add(key);
    }
    const known = most.get(stand) ?? [];
    if (known.some((mask) => (mask & taken) === taken)) return true;
    most.set(stand, [...known.filter((mask) => (mask & taken) !== mask), taken]);
    return false;
  };
  /** By throws so far. */
  let layer: State[][] = [hops.map(({ from }) => ({ stand: from, taken: 0, lie: 0 }))];
  for (let reversals = 0; layer.some((states) => states.length > 0); reversals++) {
    const buckets = layer;
    layer = [];
    const into = (list: State[][], throws: number, state: State) => {
      while (list.length <= throws) list.push([]);
      list[throws]?.push(state);
    };
    for (let throws = 0; throws < buckets.length; throws++) {
      const bucket = buckets[throws] ?? [];
      for (let state = bucket.pop(); state !== undefined; state = bucket.pop()) {
        if (state.taken === full) return { reversals, throws };
        if (isOld(state)) continue;
        into(layer, throws, { ...state, stand: flip(state.stand) });
        for (const hop of hops) {
          if (hop.from !== state.stand) continue;
          let { lie } = state;
          let more = 0;
          for (const [key, value] of countThrows ? hop.set : []) {
            const bit = 1 << keys.indexOf(key);
            if (((lie & bit) !== 0) === value) continue;
            lie ^= bit;
            more += 1;
          }
          into(buckets, throws + more, { stand: hop.to, taken: state.taken | mask(hop.takes), lie });
        }
      }
    }
  }
  return null;
}

describe('the best run', () => {
  /** Those parts of a plan that hang together, each by itself. */
  const parts = (hops: readonly SlowHop[]): readonly (readonly SlowHop[])[] => {
    const placeOf = (stand: string) => stand.split(' ')[0] ?? '';
    const left = new Set(hops);
    const found: SlowHop[][] = [];
    for (const first of hops) {
      if (!left.has(first)) continue;
      const places = new Set([placeOf(first.from)]);
      const part: SlowHop[] = [];
      for (let grows = true; grows; ) {
        grows = false;
        for (const hop of left) {
          if (!places.has(placeOf(hop.from)) && !places.has(placeOf(hop.to))) continue;
          places.add(placeOf(hop.from)).add(placeOf(hop.to));
          part.push(hop);
          left.delete(hop);
          grows = true;
        }
      }
      if (part.some(({ takes }) => takes.length > 0)) found.push(part);
    }
    return found;
  };

  function agree(panel: PanelFile, countThrows: boolean): void {
    const plan = readPlan(panel);
    const found = provingRun(plan);
    const shown = printTracks(panel);
    expect(walkRun(plan, found), shown).toEqual({
      reversals: found.reversals,
      throws: found.throws,
      covered: found.legs.covered,
    });
    const hops = slowHops(plan);
    expect(found.legs, shown).toEqual({
      covered: new Set(hops.flatMap(({ takes }) => takes)).size,
      all: allOf(plan),
    });
    expect(found.missed.length).toBe(found.legs.all - found.legs.covered);
    const slow = parts(hops).map((part) => slowRun(part, countThrows));
    const sum = (pick: 'reversals' | 'throws') => slow.reduce((all, part) => all + (part?.[pick] ?? Number.NaN), 0);
    expect([found.proved, found.reversals], shown).toEqual([true, sum('reversals')]);
    if (countThrows) expect(found.throws, shown).toBe(sum('throws'));
  }

  it('[PR7] has the reversals and throws that brute force finds, up to three points (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 3 }), (seed, size) =>
        agree(generatePanel(seed, size), true),
      ),
      { seed: 20_260_301, numRuns: 25 },
    );
  }, 60_000);

  it('[PR7] and the reversals up to five points (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 4, max: 5 }), (seed, size) =>
        agree(generatePanel(seed, size), false),
      ),
      { seed: 20_260_301, numRuns: 25 },
    );
  }, 60_000);

  it('[PR8] of larger plans can be run as it is printed, and is never below its bound (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 6, max: 40 }), (seed, size) => {
        const panel = generatePanel(seed, size);
        const plan = readPlan(panel);
        const found = provingRun(plan);
        expect(walkRun(plan, found), printTracks(panel)).toEqual({
          reversals: found.reversals,
          throws: found.throws,
          covered: found.legs.covered,
        });
        expect([found.legs.all, found.missed]).toEqual([4 * size, []]);
        expect(found.reversals).toBeGreaterThanOrEqual(found.bound.reversals);
        expect(found.throws).toBeGreaterThanOrEqual(found.bound.throws);
      }),
      { seed: 20_260_301, numRuns: 20 },
    );
  }, 60_000);

  it('[PR9] has no more reversals where a road more has a name (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 4 }), (seed, size) => {
        const panel = generatePanel(seed, size);
        const plan = readPlan(panel);
        const span = plan.spans[seed % plan.spans.length];
        const [a, b] = span?.path ?? [];
        fc.pre(a !== undefined && b !== undefined);
        const at: [number, number] = [((a?.[0] ?? 0) + (b?.[0] ?? 0)) / 2, ((a?.[1] ?? 0) + (b?.[1] ?? 0)) / 2];
        const more = readPlan({
          ...panel,
          places: [...(panel.places ?? []), { id: 'new-road', name: 'New road', at }],
        });
        fc.pre(more.places.length === plan.places.length + 1);
        const [before, after] = [provingRun(plan), provingRun(more)];
        expect(after.legs.covered).toBeGreaterThanOrEqual(before.legs.covered);
        if (after.legs.covered === before.legs.covered && before.proved && after.proved)
          expect(after.reversals).toBeLessThanOrEqual(before.reversals);
      }),
      { seed: 20_260_301, numRuns: 40 },
    );
  }, 60_000);
});
