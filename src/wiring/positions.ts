/** How levers lie, alone or with a twin on another panel, and what they ask. */
import { twinId } from '../contacts/index.ts';
import { partsOf } from './circuit-parts.ts';
import type { Position, Wiring } from './types.ts';

/** Positions of levers by id. */
export type Positions = Readonly<Record<string, Position>>;

/** How a lever lies: normal where it is not named. Ids are the user's, and some are names that every object has. */
export function positionIn(levers: Positions, id: string): Position {
  return namedIn(levers, id) ?? 'normal';
}

function namedIn(levers: Positions, id: string): Position | undefined {
  return Object.hasOwn(levers, id) ? levers[id] : undefined;
}

/**
 * How a switch stands. One that springs back touches neither side but while it is `thrown`; of two that stand side by side on two panels
 * only the one thrown last: the other panel's where that is named and this panel's is not, or is in its middle.
 */
export function standsIn(wiring: Wiring, levers: Positions, id: string, thrown = false): Position {
  const { sprung, twins, twinOf } = partsOf(wiring);
  if (!sprung.has(id)) return positionIn(levers, id);
  if (!thrown) return 'centre';
  const lever = twinOf.get(id) ?? id;
  if (!twins.has(lever)) return positionIn(levers, id);
  const there = isThrownThere(levers, lever);
  if (lever === id) return there ? 'centre' : positionIn(levers, id);
  return there ? positionIn(levers, id) : 'centre';
}

/**
 * What a lever asks, its twin with it: the position in which it would stand alone to ask the same. Of two switches one before the other
 * each turns over what the other asks; of two side by side the last throw counts.
 */
export function askIn(wiring: Wiring, levers: Positions, lever: string): Position {
  const own = positionIn(levers, lever);
  const { sprung, twins } = partsOf(wiring);
  const twin = twins.get(lever);
  if (twin === undefined) return own;
  if (sprung.has(twin)) return isThrownThere(levers, lever) ? positionIn(levers, twin) : own;
  return turnedBy(own, positionIn(levers, twin));
}

/** Positions in which a lever and its twin ask what the lever would ask alone, the twin staying as it is. */
export function askedTo(wiring: Wiring, levers: Positions, lever: string, ask: Position): Positions {
  const { sprung, twins } = partsOf(wiring);
  const twin = twins.get(lever);
  if (twin === undefined) return { ...levers, [lever]: ask };
  if (sprung.has(twin)) return { ...levers, [lever]: ask, [twin]: 'centre' };
  return { ...levers, [lever]: turnedBy(ask, positionIn(levers, twin)) };
}

/** A position, turned over by a switch that stands before it in reverse. */
export function turnedBy(own: Position, before: Position): Position {
  if (own === 'centre' || before !== 'reverse') return own;
  return own === 'normal' ? 'reverse' : 'normal';
}

/** Was the twin of two side by side thrown last? */
function isThrownThere(levers: Positions, lever: string): boolean {
  const [here, there] = [namedIn(levers, lever), namedIn(levers, twinId(lever))];
  return there !== undefined && there !== 'centre' && (here === undefined || here === 'centre');
}
