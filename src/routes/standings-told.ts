/** A plan as it is told: each move with what is thrown before it, where all stand at the end, and the lengths that it hangs on. */
import type { Plan } from '../plan/index.ts';
import type { PlannedMove } from './standings-throws.ts';
import { headAfter, moveTeller } from './train-moves.ts';
import { asksOf, fitOf, type Stands, standingOf } from './train-stands.ts';
import type { AskedFit, Standing, TrainMove } from './train-types.ts';
import { type TrainWay, type TrainWays, throwsFor } from './train-ways.ts';

/** `before`: how all lies, by what is thrown. */
export function tellPlan(
  plan: Plan,
  ways: TrainWays,
  stands: Stands,
  moves: readonly PlannedMove[],
  before: Uint8Array,
): { readonly moves: readonly TrainMove[]; readonly ends: Standing } {
  const tell = moveTeller(plan, ways);
  const lies = before.slice();
  let now = stands;
  const told = moves.map(({ train, way }) => {
    const throws = throwsFor(way, lies);
    for (const [thing, position] of throws) lies[thing] = position;
    const move = tell(stands.trains[train]?.id ?? '', way, now.heads[train] ?? null, throws);
    now = standsAfter(now, train, way);
    return move;
  });
  return { moves: told, ends: standingOf(plan, ways, now) };
}

/** Where all stand after one train has run. */
export function standsAfter(stands: Stands, train: number, way: TrainWay): Stands {
  const rows = stands.rows.map((row) => row.filter((each) => each !== train));
  const there = rows[way.to] ?? [];
  if (way.enters === 0) there.unshift(train);
  else there.push(train);
  return {
    ...stands,
    rows,
    places: stands.places.map((place, i) => (i === train ? way.to : place)),
    heads: stands.heads.map((head, i) => (i === train ? headAfter(way, head) : head)),
  };
}

/** The lengths not given that a plan hangs on, in the order of its moves, each once. */
export function asksAlong(plan: Plan, stands: Stands, moves: readonly PlannedMove[]): readonly AskedFit[] {
  const asks: AskedFit[] = [];
  let now = stands;
  for (const { train, way } of moves) {
    const there = [...(now.rows[way.to] ?? []), train].flatMap((each) => stands.trains[each] ?? []);
    if (fitOf(plan, way.to, there) === 'asked') {
      for (const ask of asksOf(plan, way.to, there))
        if (!asks.some(({ question }) => question === ask.question)) asks.push(ask);
    }
    now = standsAfter(now, train, way);
  }
  return asks;
}
