/** Records for what the file does not name yet, written when it is next saved, so that names stay. */
import { editOf, nextFreeId, type PanelFile, type Transaction } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { threeWaysOf } from './features-of.ts';
import { compareSpots, distance } from './line.ts';
import { RECORD_REACH, RECORD_STEP, SAME_SPOT } from './tolerances.ts';
import type { Plan } from './types.ts';

/**
 * The edit that gives every inferred point, crossing, three-way and free end without a record one of its own (and slips and three-ways the ids of
 * their points), with its id and where it is, to
 * 0.01 mm. Null where nothing is missing. Levers by default get none: with the key `levers` in the file, points laid later would have
 * no lever. Reading the panel after the edit gives the same plan, but for the records in it.
 */
export function recordsToAdd(panel: PanelFile, plan: Plan): Transaction | null {
  const edit = editOf(panel);
  let added = 0;
  const named = new Set((panel.points ?? []).map((record) => record.id));
  for (const { id, at, of, record } of plan.points) {
    if (of !== 'point' || record !== null || named.has(id)) continue;
    edit.add('points', { id, at: rounded(at) });
    added += 1;
  }
  for (const { id, at, record } of plan.crossings) {
    if (record !== null) continue;
    edit.add('crossings', { id, at: rounded(at) });
    added += 1;
  }
  for (const { id, at, record } of plan.places) {
    if (record !== null) continue;
    edit.add('places', { id, at: rounded(at) });
    added += 1;
  }
  for (const crossing of plan.crossings) {
    const { record, kind } = crossing;
    if (record === null || kind === 'diamond' || (record.ends?.length ?? 0) >= 2) continue;
    const ends = endsOf(plan, crossing.id).map((id, i) => record.ends?.[i] ?? { id });
    edit.update('crossings', record.id, { ends });
    added += 1;
  }
  for (const [one, two] of threeWaysOf(plan)) {
    if (panel.threeWays?.some(({ points }) => points?.[0] === one.id && points[1] === two.id)) continue;
    const points = [one.id, two.id];
    const known = panel.threeWays?.find(
      (record) => (record.points?.length ?? 0) < 2 && distance(record.at, one.at) <= RECORD_REACH,
    );
    if (known === undefined) edit.add('threeWays', { id: nextFreeId(edit.panel, 'Y'), at: rounded(one.at), points });
    else edit.update('threeWays', known.id, { points });
    added += 1;
  }
  return added === 0 ? null : edit.done('plan.name');
}

/** Points of a slip's two ends, the left (upper) one first. */
function endsOf(plan: Plan, crossing: string): readonly string[] {
  const asked = new Set(
    plan.passages.filter((each) => each.crossing === crossing).flatMap((each) => Object.keys(each.asks)),
  );
  return plan.points
    .filter((point) => asked.has(point.id))
    .sort((a, b) => compareSpots(a.at, b.at, SAME_SPOT))
    .map((point) => point.id);
}

/** To the step of the records that the tool writes. */
export function rounded([x, y]: Spot): [number, number] {
  const step = (value: number) => Math.round(value * RECORD_STEP) / RECORD_STEP;
  return [step(x), step(y)];
}
