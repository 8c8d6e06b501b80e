/** What a route asks of the levers: which to throw, in what order, and what is done. */
import type { LeverPositions } from '../../derive.ts';
import type { Lie, Lies } from '../../panel/index.ts';
import type { Position } from '../../wiring/index.ts';
import type { View, ViewRoute } from '../worker/types.ts';
import { nearestOn } from './geometry.ts';
import { lineOf, type Picked, routeAlong } from './routes.ts';

/** What the card of one lever says. */
export type Card =
  | { readonly lever: string; readonly kind: 'free' }
  | { readonly lever: string; readonly kind: 'leave'; readonly lie: Lie }
  | {
      readonly lever: string;
      readonly kind: 'throw';
      readonly lie: Lie;
      readonly number: number;
      readonly done: boolean;
    };

export const positionOf = (levers: LeverPositions, lever: string): Position => levers[lever] ?? 'normal';

/** Levers that a route asks something of, in the order in which its line comes to their points; ties by the panel's order. */
export function leversAlong(view: View, picked: Picked): readonly string[] {
  const asked = picked.route.levers ?? {};
  const line = lineOf(picked);
  const place = (id: string): number => {
    const points = view.points.filter((point) => point.lever === id && point.id in picked.route.points);
    return Math.min(...points.map((point) => nearestOn(point.at, line).along));
  };
  return view.levers
    .map((lever, order) => ({ id: lever.id, order }))
    .filter(({ id }) => id in asked)
    .map(({ id, order }) => ({ id, order, along: place(id) }))
    .sort((a, b) => (a.along === b.along ? a.order - b.order : a.along - b.along))
    .map(({ id }) => id);
}

/**
 * One card for each lever of the panel, in the panel's order.
 * `atPick` is how the levers lay when the route was picked: what lay right then is left, what did not is thrown, in the
 * order of the line, and what was moved away since has to be thrown back.
 */
export function cardsFor(
  view: View,
  picked: Picked | null,
  atPick: LeverPositions,
  levers: LeverPositions,
): readonly Card[] {
  const asked = picked?.route.levers ?? {};
  const along = picked === null ? [] : leversAlong(view, picked);
  const thrown = along.filter((id) => positionOf(atPick, id) !== asked[id] || positionOf(levers, id) !== asked[id]);
  return view.levers.map(({ id }): Card => {
    const lie = asked[id];
    if (lie === undefined) return { lever: id, kind: 'free' };
    const number = thrown.indexOf(id) + 1;
    if (number === 0) return { lever: id, kind: 'leave', lie };
    return { lever: id, kind: 'throw', lie, number, done: positionOf(levers, id) === lie };
  });
}

/** Levers that must still be thrown before a route stands, in the panel's order; null where the levers cannot set it. */
export function leversToThrow(
  view: View,
  asked: Readonly<Record<string, Lie>> | null,
  levers: LeverPositions,
): readonly string[] | null {
  if (asked === null) return null;
  return view.levers
    .map(({ id }) => id)
    .filter((id) => asked[id] !== undefined && positionOf(levers, id) !== asked[id]);
}

/** Levers in the order in which a move's line comes to their points, as its cards number them; others after them, as they stand. */
export function inOrderOf(
  view: View,
  move: { readonly from: string; readonly to: string; readonly points: Readonly<Record<string, Lie>> },
  levers: readonly string[],
): readonly string[] {
  const picked = routeAlong(view, move);
  if (picked === undefined) return levers;
  const along = leversAlong(view, picked);
  const place = (id: string): number => {
    const at = along.indexOf(id);
    return at < 0 ? along.length : at;
  };
  return [...levers].sort((a, b) => place(a) - place(b));
}

/** How a point lies as it was told: by its lever, else as a button threw it; null while its lever is in the middle. */
export function lieOf(view: View, point: string, levers: LeverPositions, lies: Lies): Lie | null {
  const known = view.points.find(({ id }) => id === point);
  if (known === undefined || known.lever === null) return lies[point] ?? 'normal';
  const position = positionOf(levers, known.lever);
  if (position === 'centre') return null;
  return position === 'normal' ? known.whenNormal : known.whenNormal === 'normal' ? 'reverse' : 'normal';
}

/** Push buttons that must still be pressed before a route stands, in its order. */
export function buttonsToPress(
  view: View,
  { points, presses }: ViewRoute,
  levers: LeverPositions,
  lies: Lies,
): readonly string[] {
  return presses.filter((id) => {
    const sets = view.buttons.find((button) => button.id === id)?.sets ?? {};
    return Object.entries(sets).some(
      ([point, lie]) => points[point] !== undefined && lieOf(view, point, levers, lies) !== lie,
    );
  });
}

/** How a picked route stands. */
export type RouteState =
  | { readonly kind: 'none' }
  | { readonly kind: 'impossible'; readonly why: string }
  | { readonly kind: 'throwing'; readonly left: readonly string[]; readonly presses: readonly string[] }
  | { readonly kind: 'set'; readonly thrown: number; readonly kept: number; readonly pressed: number };

/** How the picked route stands, told from its cards and the buttons that are still to be pressed. */
export function routeState(picked: Picked | null, cards: readonly Card[], presses: readonly string[] = []): RouteState {
  if (picked === null) return { kind: 'none' };
  if (picked.route.levers === null) return { kind: 'impossible', why: picked.route.why ?? '' };
  const throws = cards.filter((card) => card.kind === 'throw').sort((a, b) => a.number - b.number);
  const left = throws.filter((card) => !card.done).map((card) => card.lever);
  if (left.length + presses.length > 0) return { kind: 'throwing', left, presses };
  const kept = cards.filter((card) => card.kind === 'leave').length;
  return { kind: 'set', thrown: throws.length, kept, pressed: picked.route.presses.length };
}

/** The position that follows at the next throw: over and back; a lever with a centre steps through it and round. */
export function nextPosition(positions: readonly Position[], now: Position): Position {
  const at = positions.indexOf(now);
  return positions[(at + 1) % positions.length] ?? 'normal';
}

/** Positions of the levers that the panel still has, and takes. */
export function keepPositions(view: View, levers: LeverPositions): LeverPositions {
  const kept: Record<string, Position> = {};
  for (const { id, positions } of view.levers) {
    const position = levers[id];
    if (position !== undefined && positions.includes(position)) kept[id] = position;
  }
  return kept;
}
