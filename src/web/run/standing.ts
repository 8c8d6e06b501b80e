/** Which routes can stand beside the picked one, and what keeps the others from it. */
import type { LeverPositions } from '../../derive.ts';
import type { Lie, Lies } from '../../panel/index.ts';
import type { View } from '../worker/types.ts';
import { buttonsToPress, leversToThrow } from './throws.ts';

/** Why two routes cannot stand together. */
export type Clash =
  | { readonly kind: 'lever'; readonly lever: string; readonly lie: Lie }
  | { readonly kind: 'point'; readonly point: string; readonly lie: Lie }
  | { readonly kind: 'crossing'; readonly crossing: string }
  | { readonly kind: 'track'; readonly between: readonly [string, string] };

interface Against {
  readonly index: number;
  readonly clash: Clash;
}

interface Beside {
  readonly index: number;
  /** Levers to throw, in the panel's order; none: it stands already. */
  readonly levers: readonly string[];
  /** Push buttons to press as well. */
  readonly presses: readonly string[];
}

export interface Standing {
  /** Cannot stand with the picked route. */
  readonly against: readonly Against[];
  /** Can be set as well; those that stand already first, then by how many levers they take. */
  readonly beside: readonly Beside[];
  /** The levers can set these with nothing: see the route's `why`. */
  readonly never: readonly number[];
  /** All routes but the picked one. */
  readonly of: number;
}

/**
 * Sort every other route by whether it can stand with the picked one. `against` and `never` are in the order of the routes.
 * A pair that needs one lever both ways conflicts even where the track would allow it.
 */
export function standingWith(view: View, picked: number, levers: LeverPositions, lies: Lies = {}): Standing {
  const mine = view.routes[picked];
  if (mine === undefined) return { against: [], beside: [], never: [], of: 0 };
  const reasons = new Map<number, string>();
  for (const [i, j, reason] of view.conflicts) {
    if (i === picked) reasons.set(j, reason);
    if (j === picked) reasons.set(i, reason);
  }
  const against: Against[] = [];
  const beside: Beside[] = [];
  const never: number[] = [];
  view.routes.forEach((route, index) => {
    if (index === picked) return;
    if (route.levers === null) {
      never.push(index);
      return;
    }
    const asked = route.levers;
    const lever = view.levers.find(({ id }) => {
      const ours = mine.levers?.[id];
      return ours !== undefined && asked[id] !== undefined && asked[id] !== ours;
    })?.id;
    const lie = lever === undefined ? undefined : asked[lever];
    const reason = reasons.get(index);
    if (lever !== undefined && lie !== undefined) against.push({ index, clash: { kind: 'lever', lever, lie } });
    else if (reason !== undefined) against.push({ index, clash: readReason(reason, route.points) });
    else
      beside.push({
        index,
        levers: leversToThrow(view, asked, levers) ?? [],
        presses: buttonsToPress(view, route, levers, lies),
      });
  });
  // What stands already comes first, then what takes fewest throws.
  const work = ({ levers: thrown, presses }: Beside): number => thrown.length + presses.length;
  beside.sort((a, b) => work(a) - work(b) || a.index - b.index);
  return { against, beside, never, of: view.routes.length - 1 };
}

/** `point:P4`, `crossing:X1`, `span:P1/E1` or `span:P1/E1#2`, as the conflicts name them. */
function readReason(reason: string, points: Readonly<Record<string, Lie>>): Clash {
  const colon = reason.indexOf(':');
  const kind = reason.slice(0, colon);
  const what = reason.slice(colon + 1);
  if (kind === 'point') return { kind: 'point', point: what, lie: points[what] ?? 'normal' };
  if (kind === 'crossing') return { kind: 'crossing', crossing: what };
  const [a = what, b = ''] = what.replace(/#\d+$/, '').split('/');
  return { kind: 'track', between: [a, b] };
}
