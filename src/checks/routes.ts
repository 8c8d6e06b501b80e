/** Routes that the levers cannot set, and places that nothing reaches. */
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput } from './types.ts';

export function checkRoutes({ plan, routes }: CheckInput): readonly RawFinding[] {
  const found: RawFinding[] = [];
  const nameOf = new Map(plan.places.map((place) => [place.id, place.name ?? place.id]));
  const reached = new Set(routes.routes.flatMap((route) => [route.from, route.to]));
  if (plan.places.length > 1 && !routes.cut) {
    for (const place of plan.places) {
      if (!reached.has(place.id))
        found.push(raw('place-reaches-nothing', [place.id], place.at, { name: place.name ?? '' }));
    }
  }
  // One finding a reason, not one a route: the same grouping loses many.
  const byReason = new Map<string, { from: string; to: string; levers: readonly string[]; count: number }>();
  for (const route of routes.routes) {
    if (route.levers !== null || route.why === null) continue;
    const known = byReason.get(route.why);
    if (known === undefined)
      byReason.set(route.why, {
        from: route.from,
        to: route.to,
        levers: leversIn(
          route.why,
          plan.levers.map((l) => l.id),
        ),
        count: 1,
      });
    else known.count += 1;
  }
  for (const [reason, first] of byReason) {
    found.push(
      raw('route-not-settable', first.levers, null, {
        from: nameOf.get(first.from) ?? first.from,
        to: nameOf.get(first.to) ?? first.to,
        reason,
        more: first.count - 1,
      }),
    );
  }
  if (routes.cut) found.push(raw('routes-cut', [], null, { limit: routes.limit }));
  return found;
}

function leversIn(reason: string, levers: readonly string[]): readonly string[] {
  const words = new Set(reason.split(/[^A-Za-z0-9_-]+/));
  return levers.filter((id) => words.has(id));
}
