/** What the lamps show, counted and put into lists. */
import type { Look } from '../../wiring/index.ts';
import type { View, ViewReading } from '../worker/types.ts';
import { leversToThrow } from './throws.ts';

/** Seen to be lit; a glimmer is doubtful and a burnt lamp is dark. */
const isLit = (look: Look | undefined): boolean => look === 'good' || look === 'bright';

export interface LitCount {
  readonly lit: number;
  readonly all: number;
  readonly onRoute: number;
  /** The one other standing route that most of the rest are on: its place in the list, and how many; null where none has any. */
  readonly onOther: { readonly index: number; readonly lit: number } | null;
  /** On neither. */
  readonly elsewhere: number;
  readonly faint: number;
  /** Lit by more current than they are made for; they count as lit. */
  readonly bright: number;
  readonly destroyed: number;
}

/** Count the lamps of a reading, on the picked route and elsewhere. `picked` is its place in the list of routes, or null. */
export function countLit(view: View, reading: ViewReading, picked: number | null): LitCount {
  const lit = view.lamps.filter(({ id }) => isLit(reading.looks[id])).map(({ id }) => id);
  const mine = new Set(picked === null ? [] : view.routes[picked]?.lamps);
  const rest = lit.filter((id) => !mine.has(id));
  const onOther = picked === null ? null : standingRouteOver(view, reading, new Set(rest));
  return {
    lit: lit.length,
    all: view.lamps.length,
    onRoute: lit.length - rest.length,
    onOther,
    elsewhere: rest.length - (onOther?.lit ?? 0),
    faint: view.lamps.filter(({ id }) => reading.looks[id] === 'faint').length,
    bright: view.lamps.filter(({ id }) => reading.looks[id] === 'bright').length,
    destroyed: view.lamps.filter(({ id }) => reading.looks[id] === 'destroyed').length,
  };
}

/** The standing route with the most of these lamps on it; of equals the one with the fewest lamps, then the first of the list. */
function standingRouteOver(view: View, reading: ViewReading, lamps: ReadonlySet<string>): LitCount['onOther'] {
  const found = view.routes.flatMap((route, index) => {
    // How points lie that buttons throw is not read off the levers.
    if (route.presses.length > 0) return [];
    if (leversToThrow(view, route.levers, reading.levers)?.length !== 0) return [];
    return [{ index, lit: route.lamps.filter((id) => lamps.has(id)).length, size: route.lamps.length }];
  });
  const [best] = found.sort((a, b) => b.lit - a.lit || a.size - b.size || a.index - b.index);
  return best === undefined || best.lit === 0 ? null : { index: best.index, lit: best.lit };
}

/** Names of the strips on which lamps came on and went out between two readings, each once, in the order of the lamps. */
export function changedLamps(
  view: View,
  before: ViewReading,
  after: ViewReading,
): { readonly on: readonly string[]; readonly off: readonly string[] } {
  const on = new Set<string>();
  const off = new Set<string>();
  for (const lamp of view.lamps) {
    const was = isLit(before.looks[lamp.id]);
    const is = isLit(after.looks[lamp.id]);
    if (!was && is) on.add(lamp.on);
    if (was && !is) off.add(lamp.on);
  }
  return { on: [...on], off: [...off] };
}
