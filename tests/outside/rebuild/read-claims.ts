/**
 * Which lies each lamp of a plain diagram claims, read off the strips alone. Where the end of one strip lies on another there is a point: its
 * toe and its normal leg are the strip that runs through, its reverse leg is the strip that ends there, and the heel is on the side to
 * which that strip leaves. Holds diagrams of points alone: no crossings, and no strip ends on the end of another.
 */
import type { Lie } from './panel-facts.ts';

type Spot = readonly [number, number];
interface Strip {
  readonly id: string;
  readonly path: readonly Spot[];
}
interface Plain {
  readonly strips: readonly Strip[];
  readonly points: readonly { readonly id: string; readonly at: Spot }[];
  readonly lamps: readonly {
    readonly id: string;
    readonly at: Spot;
    readonly claims?: string;
    readonly shows?: object;
  }[];
}

/** Within half of a tape of 5 mm, in millimetres. */
const ON = 2.5;

const between = (a: Spot, b: Spot): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The spot of the strip nearest to `at`: how far away, and how far along from the strip's first corner. */
function along(strip: Strip, at: Spot): { readonly off: number; readonly along: number } {
  let best = { off: Number.POSITIVE_INFINITY, along: 0 };
  let passed = 0;
  strip.path.slice(1).forEach((to, k) => {
    const from = strip.path[k] ?? to;
    const length = between(from, to);
    const share = ((at[0] - from[0]) * (to[0] - from[0]) + (at[1] - from[1]) * (to[1] - from[1])) / length ** 2;
    const held = Math.min(1, Math.max(0, share));
    const foot: Spot = [from[0] + held * (to[0] - from[0]), from[1] + held * (to[1] - from[1])];
    if (between(foot, at) < best.off) best = { off: between(foot, at), along: passed + held * length };
    passed += length;
  });
  return best;
}

/** A point as met on one strip: where, and which lie the strip is there, on the side before and the side after. */
interface Met {
  readonly point: string;
  readonly along: number;
  readonly before: Lie | null;
  readonly after: Lie | null;
}

function pointsOn(strip: Strip, { strips, points }: Plain): readonly Met[] {
  return points.flatMap(({ id, at }): readonly Met[] => {
    const here = along(strip, at);
    if (here.off > ON) return [];
    for (const branch of strips) {
      for (const path of [branch.path, [...branch.path].reverse()]) {
        const [end, next] = path;
        if (end === undefined || next === undefined || between(end, at) > ON) continue;
        if (branch === strip) return [{ point: id, along: here.along, before: 'reverse', after: 'reverse' }];
        // A step along the branch falls beside the strip after the point, or before it: there is the heel.
        const step: Spot = [end[0] + (next[0] - end[0]) / 4, end[1] + (next[1] - end[1]) / 4];
        const heelAfter = along(strip, step).along > here.along;
        return [
          { point: id, along: here.along, before: heelAfter ? null : 'normal', after: heelAfter ? 'normal' : null },
        ];
      }
    }
    throw new RangeError(`no strip ends at ${id}`);
  });
}

/** What each lamp claims, lies by point. A lamp that says `shows` itself, and one on no strip, are left out. */
export function readClaims(panelText: string): ReadonlyMap<string, Readonly<Record<string, Lie>>> {
  const plain: Plain = JSON.parse(panelText);
  const claims = new Map<string, Readonly<Record<string, Lie>>>();
  for (const lamp of plain.lamps) {
    const strip = plain.strips.find((each) => along(each, lamp.at).off <= ON);
    if (lamp.shows !== undefined || strip === undefined) continue;
    const at = along(strip, lamp.at).along;
    const met = pointsOn(strip, plain).toSorted((a, b) => a.along - b.along);
    const last = met.findLast((each) => each.along <= at);
    const next = met.find((each) => each.along > at);
    const legs = [
      { point: last?.point, lie: last?.after, away: at - (last?.along ?? 0) },
      { point: next?.point, lie: next?.before, away: (next?.along ?? 0) - at },
    ]
      .flatMap(({ point, lie, away }) =>
        point === undefined || lie === null || lie === undefined ? [] : [{ point, lie, away }],
      )
      .toSorted((a, b) => a.away - b.away);
    const kept = lamp.claims === 'leg' ? legs.slice(0, 1) : legs;
    claims.set(lamp.id, Object.fromEntries(kept.map(({ point, lie }) => [point, lie])));
  }
  return claims;
}
