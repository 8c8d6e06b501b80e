/**
 * Standings of trains by brute force, for small plans: every walk from place to place, every standing with every way of lying of the levers,
 * move by move outwards from the first, in strings and sets, nothing pruned. Also a checker that runs a plan as it is printed. Shares no
 * code with the search.
 */
import type { Lie } from '../../src/panel/index.ts';
import type { Place, Plan, Span } from '../../src/plan/index.ts';
import type { Standing, TrainMove, WantedTrain } from '../../src/routes/index.ts';

/** A walk without turning back, as spans with the end toward which each is run. */
interface Walk {
  readonly from: string;
  readonly to: string;
  readonly path: readonly (readonly [span: string, toward: 0 | 1])[];
  readonly asks: Readonly<Record<string, Lie>>;
  readonly passes: readonly string[];
}

/** Places on a span in the order of travel toward its end 1. */
function placesOn(plan: Plan, span: Span): readonly Place[] {
  const rank = (place: Place) => {
    if (place.kind === 'road') return 0;
    return place.along === 0 && span.ends[0] === place.id ? -1 : 1;
  };
  return plan.places
    .map((place, i) => ({ place, i }))
    .filter(({ place }) => place.span === span.id)
    .sort((a, b) => rank(a.place) - rank(b.place) || a.place.along - b.place.along || a.i - b.i)
    .map(({ place }) => place);
}

function everyWalk(plan: Plan): readonly Walk[] {
  const walks: Walk[] = [];
  const spanOf = (id: string) => {
    const span = plan.spans.find((each) => each.id === id);
    if (span === undefined) throw new RangeError(`no span ${id}`);
    return span;
  };
  const go = (from: string, path: Walk['path'], asks: Walk['asks'], passes: readonly string[]): void => {
    const [id, toward] = path[path.length - 1] ?? ['', 0];
    let row = [...placesOn(plan, spanOf(id))];
    if (toward === 0) row.reverse();
    if (path.length === 1) row = row.slice(row.findIndex((place) => place.id === from) + 1);
    const passed = [...passes];
    for (const place of row) {
      // What is met where one comes in is no place to arrive at when it is the free end behind.
      walks.push({ from, to: place.id, path, asks, passes: [...passed] });
      passed.push(place.id);
    }
    for (const { between, asks: more } of plan.passages) {
      for (const [a, b] of [between, [between[1], between[0]] as const]) {
        if (a.span !== id || a.end !== toward || path.some(([span]) => span === b.span)) continue;
        if (Object.entries(more).some(([point, lie]) => asks[point] !== undefined && asks[point] !== lie)) continue;
        go(from, [...path, [b.span, b.end === 0 ? 1 : 0]], { ...asks, ...more }, passed);
      }
    }
  };
  for (const place of plan.places) {
    go(place.id, [[place.span, 1]], {}, []);
    go(place.id, [[place.span, 0]], {}, []);
  }
  return walks;
}

/** What works each point, and how it lies when the point lies normal. */
function workers(plan: Plan): ReadonlyMap<string, { readonly by: string; readonly same: boolean }> {
  const map = new Map<string, { by: string; same: boolean }>();
  for (const point of plan.points) {
    const lever = plan.levers.find(({ works }) => works.some((work) => work.point === point.id));
    const work = lever?.works.find((each) => each.point === point.id);
    map.set(point.id, { by: lever?.id ?? point.id, same: work === undefined || work.whenNormal === 'normal' });
  }
  return map;
}

/** Positions that some lies need; null where one thing would have to lie both ways. */
function positionsFor(plan: Plan, asks: Readonly<Record<string, Lie>>): ReadonlyMap<string, Lie> | null {
  const map = workers(plan);
  const positions = new Map<string, Lie>();
  for (const [point, lie] of Object.entries(asks)) {
    const worker = map.get(point);
    if (worker === undefined) throw new RangeError(`no point ${point}`);
    const position: Lie = worker.same ? lie : lie === 'normal' ? 'reverse' : 'normal';
    if ((positions.get(worker.by) ?? position) !== position) return null;
    positions.set(worker.by, position);
  }
  return positions;
}

/** Whether trains may stand at a place one behind the other; lengths not given are enough where one hopes. */
function holds(plan: Plan, standing: Standing, place: string, trains: readonly string[], hoped: boolean): boolean {
  const most = plan.places.find(({ id }) => id === place)?.length ?? null;
  const lengths = trains.map((id) => standing.find((train) => train.id === id)?.length ?? null);
  if (!hoped && (most === null || lengths.includes(null))) return false;
  if (most === null) return trains.length < 2;
  return lengths.reduce<number>((sum, length) => sum + (length ?? 0), 0) <= most;
}

/** Whether a span is laid from left to right (straight up and down: from top to bottom) about a spot on it. */
function runsRight(plan: Plan, place: Place): boolean {
  const path = plan.spans.find(({ id }) => id === place.span)?.path ?? [];
  const at = (along: number): readonly [number, number] => {
    let left = along;
    for (let i = 0; i + 1 < path.length; i++) {
      const [a, b] = [path[i] ?? [0, 0], path[i + 1] ?? [0, 0]];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (left <= length || i + 2 === path.length)
        return [a[0] + ((b[0] - a[0]) * left) / length, a[1] + ((b[1] - a[1]) * left) / length];
      left -= length;
    }
    return [0, 0];
  };
  // The stretch before the spot, or after it where it is the first.
  const [low, high] = place.along > 0 ? [place.along - 0.01, place.along] : [0, 0.01];
  const [a, b] = [at(low), at(high)];
  return Math.abs(b[0] - a[0]) > 1e-6 ? b[0] > a[0] : b[1] >= a[1];
}

/** Rows by place, a head by train: `T1>` points to the span's end 1, `T1<` to its end 0, `T1` nobody knows. */
type Rows = ReadonlyMap<string, readonly string[]>;

const trainOf = (marker: string): string => marker.replace(/[<>]$/, '');

function rowsOf(plan: Plan, walks: readonly Walk[], standing: Standing): Rows {
  return new Map(
    plan.places.map((place) => {
      const row = standing
        .filter(({ stands }) => stands === place.id)
        .map(({ id, heads }) => {
          const toward = heads === null ? null : towardOf(plan, walks, place.id, heads);
          return toward === null ? id : `${id}${toward === 1 ? '>' : '<'}`;
        });
      return [place.id, runsRight(plan, place) ? row : row.reverse()] as const;
    }),
  );
}

/** The end of its span toward which one place lies from another. */
function towardOf(plan: Plan, walks: readonly Walk[], from: string, to: string): 0 | 1 | null {
  const place = plan.places.find(({ id }) => id === from);
  const span = plan.spans.find(({ id }) => id === place?.span);
  if (place?.kind === 'end' && span !== undefined) {
    const far: 0 | 1 = place.along === 0 && span.ends[0] === place.id ? 0 : 1;
    return to === from ? far : far === 0 ? 1 : 0;
  }
  const ways = new Set(walks.filter((walk) => walk.from === from && walk.to === to).map(({ path }) => path[0]?.[1]));
  const [only] = ways;
  return ways.size === 1 && only !== undefined ? only : null;
}

const turned = (marker: string): string =>
  marker.endsWith('>') ? `${trainOf(marker)}<` : marker.endsWith('<') ? `${trainOf(marker)}>` : marker;

/** Rows after a train has run, or null where it may not. */
function runTrain(plan: Plan, standing: Standing, rows: Rows, train: string, walk: Walk, hoped: boolean): Rows | null {
  const [leaves, enters] = [walk.path[0]?.[1], walk.path[walk.path.length - 1]?.[1]];
  const here = rows.get(walk.from) ?? [];
  const marker = leaves === 1 ? here[here.length - 1] : here[0];
  if (marker === undefined || trainOf(marker) !== train) return null;
  if (walk.passes.some((place) => (rows.get(place) ?? []).length > 0)) return null;
  const there = rows.get(walk.to) ?? [];
  if (!holds(plan, standing, walk.to, [...there.map(trainOf), train], hoped)) return null;
  // Run toward end 1 both times, or toward end 0: its head still points the same way along the span.
  const comes = leaves === enters ? marker : turned(marker);
  return new Map([
    ...rows,
    [walk.from, here.filter((each) => each !== marker)],
    [walk.to, enters === 1 ? [comes, ...there] : [...there, comes]],
  ]);
}

export interface Sought {
  readonly levers?: Readonly<Record<string, Lie>>;
  readonly hoped?: boolean;
  readonly othersStay?: boolean;
  readonly inOrder?: boolean;
  /** Pairs of a standing and how levers lie that are looked at before giving up. */
  readonly most: number;
}

/** The fewest moves, and the fewest throws of so few moves; null where it cannot be had; 'far' where that is too far to say. */
export function everyStanding(
  plan: Plan,
  standing: Standing,
  wanted: readonly WantedTrain[],
  { levers = {}, hoped = false, othersStay = false, inOrder = false, most }: Sought,
): { readonly moves: number; readonly throws: number } | null | 'far' {
  const walks = everyWalk(plan);
  const runs = walks.flatMap((walk) => {
    const positions = positionsFor(plan, walk.asks);
    return positions === null ? [] : [{ walk, positions }];
  });
  const things = [...new Set([...workers(plan).values()].map(({ by }) => by))].sort();
  const isWanted = (rows: Rows): boolean => {
    const at = (train: string, place: string) => (rows.get(place) ?? []).find((marker) => trainOf(marker) === train);
    for (const { train, place, heads = null } of wanted) {
      const marker = at(train, place);
      if (marker === undefined) return false;
      if (heads !== null && !marker.endsWith(towardOf(plan, walks, place, heads) === 1 ? '>' : '<')) return false;
    }
    if (othersStay) {
      for (const { id, stands } of standing)
        if (!wanted.some(({ train }) => train === id) && at(id, stands) === undefined) return false;
    }
    if (!inOrder) return true;
    return plan.places.every((place) => {
      const row = (rows.get(place.id) ?? []).map(trainOf);
      if (!runsRight(plan, place)) row.reverse();
      const named = wanted.filter((want) => want.place === place.id).map(({ train }) => train);
      return row.filter((train) => named.includes(train)).join() === named.join();
    });
  };
  const print = (rows: Rows) => [...rows].map(([place, row]) => `${place}:${row.join('+')}`).join(' ');
  type Pair = { readonly rows: Rows; readonly lies: ReadonlyMap<string, Lie>; readonly throws: number };
  const keyOf = ({ rows, lies }: Pair) => `${print(rows)} | ${things.map((id) => lies.get(id)?.[0] ?? '').join('')}`;

  const first: Pair = {
    rows: rowsOf(plan, walks, standing),
    lies: new Map(things.map((id) => [id, levers[id] ?? 'normal'])),
    throws: 0,
  };
  const seen = new Set([keyOf(first)]);
  let layer: Pair[] = [first];
  for (let moves = 0; layer.length > 0; moves++) {
    const there = layer.filter(({ rows }) => isWanted(rows));
    if (there.length > 0) return { moves, throws: Math.min(...there.map(({ throws }) => throws)) };
    const next = new Map<string, Pair>();
    for (const { rows, lies, throws } of layer) {
      for (const { walk, positions } of runs) {
        for (const train of (rows.get(walk.from) ?? []).map(trainOf)) {
          const after = runTrain(plan, standing, rows, train, walk, hoped);
          if (after === null) continue;
          const thrown = [...positions].filter(([id, position]) => lies.get(id) !== position).length;
          const pair = { rows: after, lies: new Map([...lies, ...positions]), throws: throws + thrown };
          const key = keyOf(pair);
          if (seen.has(key)) continue;
          if ((next.get(key)?.throws ?? Number.POSITIVE_INFINITY) > pair.throws) next.set(key, pair);
        }
      }
    }
    for (const key of next.keys()) seen.add(key);
    if (seen.size > most) return 'far';
    layer = [...next.values()];
  }
  return null;
}

/**
 * Run moves one after the other as they are printed. Says what is wrong with the first that cannot be run, or null and where all stand at
 * the end: by place, trains along its span.
 */
export function runPlan(
  plan: Plan,
  standing: Standing,
  moves: readonly TrainMove[],
  levers: Readonly<Record<string, Lie>> = {},
  hoped = false,
): {
  readonly fault: string | null;
  readonly ends: Readonly<Record<string, readonly string[]>>;
  readonly throws: number;
} {
  const walks = everyWalk(plan);
  const map = workers(plan);
  let rows = rowsOf(plan, walks, standing);
  const lies = new Map<string, Lie>([...map.values()].map(({ by }) => [by, levers[by] ?? 'normal']));
  let throws = 0;
  const end = (fault: string | null) => ({
    fault,
    ends: Object.fromEntries(
      [...rows].filter(([, row]) => row.length > 0).map(([place, row]) => [place, row.map(trainOf)]),
    ),
    throws,
  });
  for (const [i, move] of moves.entries()) {
    for (const [id, lie] of Object.entries(move.throws ?? {})) {
      if (!lies.has(id)) return end(`${i}: nothing is called ${id}`);
      if (lies.get(id) === lie) return end(`${i}: ${id} lies ${lie} already`);
      lies.set(id, lie);
      throws += 1;
    }
    const walk = walks.find(
      ({ from, to, path, asks }) =>
        from === move.from &&
        to === move.to &&
        path.map(([span]) => span).join() === move.spans.join() &&
        JSON.stringify(Object.entries(asks).sort()) === JSON.stringify(Object.entries(move.points).sort()),
    );
    if (walk === undefined) return end(`${i}: there is no such way ${move.spans.join(' ')}`);
    if (walk.passes.join() !== move.through.join()) return end(`${i}: it passes ${walk.passes.join(' ')}`);
    for (const [point, lie] of Object.entries(walk.asks)) {
      const worker = map.get(point);
      if (worker === undefined) return end(`${i}: no point ${point}`);
      const lying =
        lies.get(worker.by) === 'reverse' ? (worker.same ? 'reverse' : 'normal') : worker.same ? 'normal' : 'reverse';
      if (lying !== lie) return end(`${i}: ${point} lies ${lying}`);
    }
    const after = runTrain(plan, standing, rows, move.train, walk, hoped);
    if (after === null) return end(`${i}: ${move.train} cannot run to ${move.to} from ${print(rows)}`);
    rows = after;
  }
  return end(null);

  function print(all: Rows): string {
    return [...all].flatMap(([place, row]) => (row.length > 0 ? [`${place}:${row.join('+')}`] : [])).join(' ');
  }
}
