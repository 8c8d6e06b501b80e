/**
 * A running sheet: moves of several trains, one after the other, each with what has to be thrown before it, and where all stand after it.
 * It is worked out from where it begins, so that a sheet says of itself at which move it can no longer be run, and why.
 */
import type { Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { judgeOf } from './legal-moves.ts';
import { standsAfter } from './standings-told.ts';
import { liesBefore, moveTeller } from './train-moves.ts';
import { placeName, standingOf, standsOf, trainName } from './train-stands.ts';
import type { JudgedMove, Standing, Thrown } from './train-types.ts';
import { type TrainWay, throwsFor, trainWays } from './train-ways.ts';
import { LIES } from './travel.ts';
import { canRun } from './who-fouls.ts';

/** One line as it is written: a train to a place, by the way along which the points lie so. */
export interface SheetMove {
  readonly train: string;
  readonly to: string;
  readonly points: Lies;
}

/** One line worked out. */
export interface SheetStep {
  readonly wanted: SheetMove;
  /** The move with what stands against it; null where there is no such way from where the train stands then. */
  readonly move: JudgedMove | null;
  /** Why it cannot be run; empty where it can. A length that is not given does not stop it: the move asks for it. */
  readonly why: readonly string[];
  /** Where all stand, and how levers and points that no lever works lie, once it has run; as before it where it cannot be run. */
  readonly standing: Standing;
  readonly thrown: Thrown;
}

export interface RunningSheet {
  /** In order, up to the first that cannot be run, and that one. */
  readonly steps: readonly SheetStep[];
  /** Moves that can be run, counted from the first. */
  readonly runs: number;
  /** Single throws of all moves that can be run. */
  readonly throws: number;
  /** Why the standing that it begins with cannot be read: a train at no place, two trains of one id. */
  readonly why: readonly string[];
}

/** How all lies where a sheet begins. */
export interface SheetBegin {
  readonly standing: Standing;
  /** Levers, and points that no lever works; those not named lie normal. */
  readonly thrown?: Thrown;
}

/** Work a running sheet out. */
export function runSheet(plan: Plan, begin: SheetBegin, moves: readonly SheetMove[]): RunningSheet {
  const ways = trainWays(plan);
  const { stands: first, why } = standsOf(plan, ways, begin.standing);
  if (first === null) return { steps: [], runs: 0, throws: 0, why };
  const tell = moveTeller(plan, ways);
  const lies = liesBefore(ways, begin.thrown ?? {}, {});
  const thrownNow = (): Thrown =>
    Object.fromEntries(ways.thrown.ids.map((id, i) => [id, lies[i] === 2 ? 'centre' : LIES[lies[i] === 1 ? 1 : 0]]));
  const steps: SheetStep[] = [];
  let now = first;
  let throws = 0;
  for (const wanted of moves) {
    const train = now.trains.findIndex(({ id }) => id === wanted.train);
    const place = now.places[train] ?? -1;
    const way = (ways.from[place] ?? []).find((each) => isWanted(each, wanted));
    if (way === undefined) {
      const against = noWay(plan, wanted, now.trains[train] === undefined ? null : place);
      steps.push({ wanted, move: null, why: [against], standing: standingOf(plan, ways, now), thrown: thrownNow() });
      break;
    }
    const asked = way.needs === null ? null : throwsFor(way, lies);
    const { throws: told } = tell(wanted.train, way, now.heads[train] ?? null, asked);
    const judged = judgeOf(plan, ways, now, {})(train, way);
    const runs = canRun({ ...judged, throws: told });
    const move: JudgedMove = { ...judged, throws: told, now: runs && asked?.length === 0 && judged.asks.length === 0 };
    if (runs) {
      for (const [thing, position] of asked ?? []) lies[thing] = position;
      throws += asked?.length ?? 0;
      now = standsAfter(now, train, way);
    }
    const stopped = runs ? [] : whyStopped(plan, begin.standing, move);
    steps.push({ wanted, move, why: stopped, standing: standingOf(plan, ways, now), thrown: thrownNow() });
    if (!runs) break;
  }
  return { steps, runs: steps.filter((step) => step.why.length === 0).length, throws, why: [] };

  function isWanted(way: TrainWay, { to, points }: SheetMove): boolean {
    if (plan.places[way.to]?.id !== to) return false;
    const lie = tell('', way, null, null).points;
    const ids = Object.keys(lie);
    return ids.length === Object.keys(points).length && ids.every((id) => lie[id] === points[id]);
  }
}

function noWay(plan: Plan, { train, to }: SheetMove, from: number | null): string {
  if (from === null) return `there is no train ${train}`;
  const there = plan.places.findIndex(({ id }) => id === to);
  if (there < 0) return `there is no place ${to}`;
  return `no such way leads from ${placeName(plan, from)} to ${placeName(plan, there)}`;
}

function whyStopped(plan: Plan, standing: Standing, { fouledBy, full, throws, why }: JudgedMove): readonly string[] {
  const nameOf = (id: string): string => {
    const train = standing.find((each) => each.id === id);
    return train === undefined ? id : trainName(train);
  };
  const placeOf = (id: string): string =>
    placeName(
      plan,
      plan.places.findIndex((place) => place.id === id),
    );
  return [
    ...(throws === null ? [why ?? 'no lever can set it'] : []),
    ...fouledBy.map(({ train, place }) => `${nameOf(train)} stands at ${placeOf(place)}`),
    ...(full === null ? [] : [full]),
  ];
}
