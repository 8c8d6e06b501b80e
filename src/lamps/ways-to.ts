/** What must lie how for a train to come from a place to a span, without turning back: one set of lies for each way. */
import type { Lie, Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { WAYS_MOST } from './tolerances.ts';

/**
 * The ways from a place, by id, to a span, in the order in which they are found: each the lies of every point that it passes, facing or
 * trailing. A place on the span itself: one way that asks nothing. A road is left both ways. No more than WAYS_MOST are told; null where
 * there are more. No span is passed twice.
 */
export function waysTo(plan: Plan, place: string, span: string): readonly Lies[] | null {
  const start = plan.places.find(({ id }) => id === place);
  if (start === undefined) return [];
  if (start.span === span) return [{}];
  const steps = new Map<string, { readonly span: string; readonly end: 0 | 1; readonly asks: Lies }[]>();
  for (const { between, asks } of plan.passages)
    for (const [from, to] of [between, [between[1], between[0]] as const]) {
      const key = `${from.span} ${from.end}`;
      const list = steps.get(key) ?? [];
      steps.set(key, list);
      list.push({ span: to.span, end: to.end, asks });
    }
  const found: Lies[] = [];
  let tooMany = false;
  for (const end of [0, 1] as const) walk(start.span, end, {}, new Set([start.span]));
  return tooMany ? null : found;

  /** Leave a span by one of its ends. */
  function walk(at: string, end: 0 | 1, lies: Lies, passed: ReadonlySet<string>): void {
    for (const step of steps.get(`${at} ${end}`) ?? []) {
      if (tooMany || passed.has(step.span)) continue;
      const both = together(lies, step.asks);
      if (both === null) continue;
      if (step.span !== span) {
        walk(step.span, step.end === 0 ? 1 : 0, both, new Set([...passed, step.span]));
        continue;
      }
      if (found.length === WAYS_MOST) tooMany = true;
      else found.push(both);
    }
  }
}

/** Lies that all hold; null where one point would have to lie both ways. */
function together(lies: Lies, more: Lies): Lies | null {
  const both: Record<string, Lie> = { ...lies };
  for (const [point, lie] of Object.entries(more)) {
    if ((Object.hasOwn(both, point) ? both[point] : lie) !== lie) return null;
    both[point] = lie;
  }
  return both;
}
