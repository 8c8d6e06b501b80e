/**
 * Trains on roads: who stands where and in what order, how they head, what a place holds.
 * Each place has its trains in order along its span, from the span's end 0; at a free end that makes a stack. A train that runs toward
 * the span's end 1 comes in before all others and leaves after them; one that runs the other way the other way round.
 */
import type { Plan } from '../plan/index.ts';
import { LENGTH_STEP } from './limits.ts';
import type { AskedFit, Standing, StandingTrain } from './train-types.ts';
import type { TrainWays } from './train-ways.ts';

export interface Stands {
  readonly trains: readonly StandingTrain[];
  /** By train: its place. */
  readonly places: readonly number[];
  /** By place: trains along its span. */
  readonly rows: readonly (readonly number[])[];
  /** By train: the way along its span to which its head points, 0 toward end 1; null: not given, or not to be told. */
  readonly heads: readonly (0 | 1 | null)[];
}

/** Whether a place takes a train: `asked` where a length is not given that it hangs on. */
export type Fit = 'yes' | 'asked' | 'no';

/** The stands of a standing; null with why where a train stands at no place, or has the id of another. */
export function standsOf(
  plan: Plan,
  ways: TrainWays,
  standing: Standing,
): { readonly stands: Stands | null; readonly why: readonly string[] } {
  const index = new Map(plan.places.map(({ id }, i) => [id, i]));
  const why = standing.flatMap((train, i) => [
    ...(index.has(train.stands) ? [] : [`${trainName(train)} stands at ${train.stands}: there is no such place`]),
    ...(standing.findIndex(({ id }) => id === train.id) < i ? [`two trains are ${train.id}`] : []),
  ]);
  if (why.length > 0) return { stands: null, why };
  const places = standing.map((train) => index.get(train.stands) ?? -1);
  const rows = plan.places.map((_, place) => {
    const row = places.flatMap((each, train) => (each === place ? [train] : []));
    return isLeftToRight(plan, place) ? row : row.reverse();
  });
  const heads = standing.map(({ heads: to }, i) => (to === null ? null : headingTo(plan, ways, places[i] ?? 0, to)));
  return { stands: { trains: standing, places, rows, heads }, why: [] };
}

/** Trains as they stand, in their own order but for those at one place, which go from left to right. */
export function standingOf(plan: Plan, ways: TrainWays, stands: Stands): Standing {
  const rows = stands.rows.map((row, place) => (isLeftToRight(plan, place) ? [...row] : [...row].reverse()));
  const taken = rows.map(() => 0);
  return stands.places.map((place) => {
    const turn = taken[place] ?? 0;
    taken[place] = turn + 1;
    const number = rows[place]?.[turn] ?? -1;
    const train = stands.trains[number];
    if (train === undefined) throw new RangeError(`no train ${turn} at place ${place}`);
    const way = stands.heads[number] ?? null;
    return {
      ...train,
      stands: plan.places[place]?.id ?? '',
      heads: way === null ? null : placeAhead(plan, ways, place, way),
    };
  });
}

/** Whether its span runs from left to right where a place is; where it runs straight up or down, from top to bottom. */
export function isLeftToRight(plan: Plan, place: number): boolean {
  const { span: id, along } = plan.places[place] ?? { span: '', along: 0 };
  const path = plan.spans.find((span) => span.id === id)?.path ?? [];
  let passed = 0;
  let answer = true;
  for (let i = 0; i + 1 < path.length; i++) {
    const [a, b] = [path[i], path[i + 1]];
    if (a === undefined || b === undefined || (i > 0 && passed >= along)) break;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    answer = Math.abs(dx) > LENGTH_STEP ? dx > 0 : dy >= 0;
    passed += Math.hypot(dx, dy);
  }
  return answer;
}

/** The way along its span in which one place lies from another: null where it lies neither way, or both. */
export function headingTo(plan: Plan, ways: TrainWays, place: number, to: string): 0 | 1 | null {
  const target = plan.places.findIndex(({ id }) => id === to);
  const out = ways.travel.starts[place]?.[0]?.state ?? 0;
  if (plan.places[place]?.kind === 'end') {
    if (target === place) return (out & 1) === 0 ? 1 : 0;
    return target < 0 ? null : (out & 1) === 0 ? 0 : 1;
  }
  const found = new Set(ways.from[place]?.filter((way) => way.to === target).map(({ leaves }) => leaves));
  const [only] = found;
  return found.size === 1 && only !== undefined ? only : null;
}

/** The first place, in their order, that lies this way alone. */
export function placeAhead(plan: Plan, ways: TrainWays, place: number, way: 0 | 1): string | null {
  return (
    plan.places.find(({ id }, i) => headingTo(plan, ways, place, id) === way && i !== place)?.id ??
    (headingTo(plan, ways, place, plan.places[place]?.id ?? '') === way ? (plan.places[place]?.id ?? null) : null)
  );
}

/** Whether a place takes these trains, one behind the other; several only where its length is given. Lengths add up without a gap. */
export function fitOf(plan: Plan, place: number, trains: readonly StandingTrain[]): Fit {
  const most = plan.places[place]?.length ?? null;
  if (most === null) return trains.length > 1 ? 'no' : 'asked';
  const known = trains.reduce((sum, { length }) => sum + (length ?? 0), 0);
  if (known > most) return 'no';
  return trains.every(({ length }) => length !== null) ? 'yes' : 'asked';
}

/** Why a place does not take these trains, the last the one that would come. */
export function fullWords(plan: Plan, place: number, trains: readonly StandingTrain[]): string {
  const name = placeName(plan, place);
  const most = plan.places[place]?.length ?? null;
  const [only] = trains;
  const comes = trains[trains.length - 1];
  if (only === undefined || comes === undefined) return `${name} takes none`;
  if (trains.length === 1)
    return `${name} holds ${most ?? 0} mm, the train ${trainName(only)} is ${only.length ?? 0} mm`;
  const others = inWords(trains.slice(0, -1).map(trainName));
  if (most === null) return `${name} holds one train, as its length is not given, and ${others} stands there`;
  const sum = trains.reduce((total, { length }) => total + (length ?? 0), 0);
  return `${name} holds ${most} mm, ${others} and ${trainName(comes)} together are ${sum} mm`;
}

/** What has to be asked before these trains may stand at a place. */
export function asksOf(plan: Plan, place: number, trains: readonly StandingTrain[]): readonly AskedFit[] {
  const [only] = trains;
  const asks: AskedFit[] = [];
  if (plan.places[place]?.length === null && only !== undefined)
    asks.push({
      train: only.id,
      place: plan.places[place]?.id ?? null,
      question: `How long may a train be to stand at ${placeName(plan, place)}?`,
    });
  for (const train of trains) {
    if (train.length === null)
      asks.push({ train: train.id, place: null, question: `How long is ${trainName(train)}?` });
  }
  return asks;
}

export function trainName({ id, name }: StandingTrain): string {
  return name ?? id;
}

export function placeName(plan: Plan, place: number): string {
  return plan.places[place]?.name ?? plan.places[place]?.id ?? '';
}

/** "A", "A and B", "A, B and C". */
export function inWords(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}
