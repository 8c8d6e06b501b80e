/**
 * How what decides contacts lies: a drive's slider, its blades, a relay. While all is well each is where its lever asks it to be; where
 * nothing is asked, in the middle or with no lever, it is where it was.
 */
import type { Carrier } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import { partsOf } from './circuit-parts.ts';
import { otherLie } from './drives.ts';
import { askIn, type Positions, positionIn } from './positions.ts';
import type { Position, Wiring } from './types.ts';

/** Lies by carrier. */
export type CarrierLies = Readonly<Record<string, Lie>>;

const CARRIERS = new WeakMap<Wiring, ReadonlyMap<string, Carrier>>();

/** Every carrier of contacts that is no lever, by id. */
export function carriersOf(wiring: Wiring): ReadonlyMap<string, Carrier> {
  const known = CARRIERS.get(wiring);
  if (known !== undefined) return known;
  const found = new Map(
    wiring.contacts.flatMap(({ carrier }) => (carrier.kind === 'lever' ? [] : [[carrier.id, carrier] as const])),
  );
  CARRIERS.set(wiring, found);
  return found;
}

/** How a lever's switch lies at rest: a sprung one is let go. */
export function restOf(wiring: Wiring, lever: string, levers: Positions): Position {
  const own = partsOf(wiring).sprung.has(lever);
  return own ? 'centre' : positionIn(levers, lever);
}

/**
 * Lies of carriers with the levers so, while all is well. A sprung lever's position names its last throw. `history`: lies of points of
 * which nothing is asked; normal where it does not say.
 */
export function carrierLies(wiring: Wiring, levers: Positions, history: Lies = {}): CarrierLies {
  const carriers = carriersOf(wiring);
  if (carriers.size === 0) return NONE;
  return Object.fromEntries(
    [...carriers.values()].map((carrier) => [carrier.id, lieOf(wiring, carrier, levers, history)]),
  );
}

const NONE: CarrierLies = {};

/** How one carrier lies while all is well. */
export function lieOf(wiring: Wiring, carrier: Carrier, levers: Positions, history: Lies): Lie {
  const position = carrier.lever === null ? 'centre' : askIn(wiring, levers, carrier.lever);
  if (position !== 'centre') return position === 'normal' ? carrier.whenNormal : otherLie(carrier.whenNormal);
  for (const { point, whenNormal } of carrier.points) {
    const lies = Object.hasOwn(history, point) ? history[point] : undefined;
    if (lies !== undefined) return lies === 'normal' ? whenNormal : otherLie(whenNormal);
  }
  return carrier.points[0]?.whenNormal ?? 'normal';
}
