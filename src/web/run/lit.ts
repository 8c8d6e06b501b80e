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
  readonly elsewhere: number;
  /** The one standing route that accounts for every lamp lit elsewhere; null where none does, or nothing is lit there. */
  readonly elsewhereOn: number | null;
  readonly faint: number;
  readonly destroyed: number;
}

/** Count the lamps of a reading, on the picked route and elsewhere. `picked` is its place in the list of routes, or null. */
export function countLit(view: View, reading: ViewReading, picked: number | null): LitCount {
  const lit = view.lamps.filter(({ id }) => isLit(reading.looks[id]));
  const route = picked === null ? undefined : view.routes[picked];
  const mine = new Set(route?.lamps ?? []);
  const rest = lit.filter(({ id }) => !mine.has(id)).map(({ id }) => id);
  return {
    lit: lit.length,
    all: view.lamps.length,
    onRoute: lit.length - rest.length,
    elsewhere: rest.length,
    elsewhereOn: rest.length === 0 ? null : standingRouteOver(view, reading, rest),
    faint: view.lamps.filter(({ id }) => reading.looks[id] === 'faint').length,
    destroyed: view.lamps.filter(({ id }) => reading.looks[id] === 'destroyed').length,
  };
}

/** The standing route with the fewest lamps that has all of these on it; ties by the order of the list. */
function standingRouteOver(view: View, reading: ViewReading, lamps: readonly string[]): number | null {
  let best: { readonly index: number; readonly size: number } | null = null;
  view.routes.forEach((route, index) => {
    const stands = leversToThrow(view, route.levers, reading.levers)?.length === 0;
    if (!stands || !lamps.every((lamp) => route.lamps.includes(lamp))) return;
    if (best === null || route.lamps.length < best.size) best = { index, size: route.lamps.length };
  });
  return (best as { readonly index: number } | null)?.index ?? null;
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
