/**
 * Reversing sections: where a train can come back the other way round, so that left rail meets right.
 * Idea: give every span one direction; a passage says whether two spans have the same or opposite ones. Where a passage contradicts
 * what others have said, the track turns a train round. Sets with parity; each connected piece of track is named once, by the first
 * passage (in the order of the plan) that contradicts. Cost: about one step a passage.
 */
import type { Plan } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';

export interface TurnedRound {
  /** The point or crossing where the two rails meet. */
  readonly feature: string;
  readonly at: Spot | null;
}

export function turnedRound(plan: Plan): readonly TurnedRound[] {
  const parent = new Map<string, { readonly to: string; readonly flip: boolean }>();
  const spotOf = new Map<string, Spot>([...plan.points, ...plan.crossings].map(({ id, at }) => [id, at]));
  const told = new Map<string, TurnedRound>();
  for (const { feature, between } of plan.passages) {
    const [a, b] = between;
    // Out of one span at its end and into the other at its start: they run the same way.
    const opposite = a.end === b.end;
    const [one, two] = [rootOf(a.span), rootOf(b.span)];
    if (one.root !== two.root) {
      parent.set(one.root, { to: two.root, flip: (one.flip !== two.flip) !== opposite });
      const known = told.get(one.root);
      if (known !== undefined && !told.has(two.root)) told.set(two.root, known);
      told.delete(one.root);
    } else if ((one.flip !== two.flip) !== opposite && !told.has(one.root)) {
      told.set(one.root, { feature, at: spotOf.get(feature) ?? null });
    }
  }
  return [...told.values()];

  function rootOf(span: string): { readonly root: string; readonly flip: boolean } {
    let root = span;
    let flip = false;
    for (let up = parent.get(root); up !== undefined; up = parent.get(root)) {
      root = up.to;
      flip = flip !== up.flip;
    }
    return { root, flip };
  }
}
