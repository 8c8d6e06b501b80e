/** What a lamp at a spot is to show: the lies of the legs that it stands on. */
import { keptFor, type Lies, type PanelFile } from '../panel/index.ts';
import { legsOf, type Plan, spanAt } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import { planOf } from './edits.ts';
import { LAMP_REACH } from './tolerances.ts';

/**
 * The lies that light a lamp at a spot: those of the legs at both ends of the span under it, as a lamp claims that says nothing itself.
 * Null where no span is within 10 mm, where it runs from toe to toe, and where its two ends are the two legs of one point.
 */
export function showsAt(plan: Plan, spot: Spot): Lies | null {
  const on = spanAt(plan, spot, LAMP_REACH);
  return on === null ? null : showsOf(plan, on.span);
}

/** The same on a panel: what a lamp there is lit by while it says nothing itself. */
export function claimAt(panel: PanelFile, spot: Spot): Lies | null {
  return showsAt(planOf(panel), spot);
}

/** The same for a span. */
export function showsOf(plan: Plan, span: string): Lies | null {
  const known = told(plan);
  const shows = known.get(span);
  if (shows !== undefined) return shows;
  const made = readShows(plan, span);
  known.set(span, made);
  return made;
}

/** What each span asks, as it is asked for: a row of lamps asks the same again and again. */
const told = keptFor((_: Plan) => new Map<string, Lies | null>());

function readShows(plan: Plan, span: string): Lies | null {
  const lies: Record<string, 'normal' | 'reverse'> = {};
  for (const { point, lie } of legsOf(plan, span)) {
    if (lies[point] !== undefined && lies[point] !== lie) return null;
    lies[point] = lie;
  }
  return Object.keys(lies).length === 0 ? null : lies;
}
