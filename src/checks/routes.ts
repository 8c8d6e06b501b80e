/** Routes that the levers cannot set, and places that nothing reaches. */
import { editOf, type PanelFile } from '../panel/index.ts';
import type { Worked } from '../plan/index.ts';
import { countRoutes, presser, type Route } from '../routes/index.ts';
import { buttonsThatThrow } from '../wiring/index.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkRoutes(input: CheckInput): readonly RawFinding[] {
  const { panel, plan, routes, wiring } = input;
  const press = presser(plan, buttonsThatThrow(panel, wiring.buttons));
  const found: RawFinding[] = [];
  const nameOf = new Map(plan.places.map((place) => [place.id, place.name ?? place.id]));
  const reached = new Set(routes.routes.flatMap((route) => [route.from, route.to]));
  if (plan.places.length > 1 && !routes.cut) {
    for (const place of plan.places) {
      if (!reached.has(place.id))
        found.push(raw('place-reaches-nothing', [place.id], place.at, { name: place.name ?? '' }));
    }
  }
  const idle = routes.cut || routes.routes.length === 0 ? [] : leversThatJoinNothing(input);
  found.push(...idle);
  const told = new Set(idle.flatMap(({ ids }) => ids));
  // One finding a reason, not one a route: the same grouping loses many.
  const byReason = new Map<string, { from: string; to: string; levers: readonly string[]; count: number }>();
  for (const route of routes.routes) {
    if (route.levers !== null || route.why === null || press(route.points) !== null) continue;
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
    // A lever that joins nothing is the cause, and has been told.
    if (first.levers.length > 0 && first.levers.every((id) => told.has(id))) continue;
    found.push(
      raw('route-not-settable', first.levers, null, {
        from: nameOf.get(first.from) ?? first.from,
        to: nameOf.get(first.to) ?? first.to,
        reason,
        more: first.count - 1,
      }),
    );
  }
  if (routes.cut) {
    const { count, counted } = countRoutes(plan);
    found.push(raw('routes-cut', [], null, { limit: routes.limit, count: String(count), counted }));
  }
  return found;
}

/**
 * Levers that put their points as no route asks them, in either position: by the points that go by this lever alone, whatever other levers
 * or a hand would have to do besides. Levers that work nothing are told elsewhere.
 */
function leversThatJoinNothing({ panel, plan, routes }: CheckInput): readonly RawFinding[] {
  const taken = new Set<string>();
  const over = new Map<string, Route[]>();
  for (const route of routes.routes) {
    for (const point of Object.keys(route.points)) {
      const known = over.get(point);
      if (known === undefined) over.set(point, [route]);
      else known.push(route);
    }
  }
  return plan.levers.flatMap((lever): readonly RawFinding[] => {
    const works = lever.works.filter(({ point }) => !taken.has(point));
    for (const { point } of works) taken.add(point);
    if (works.length === 0) return [];
    const passing = new Set(works.flatMap(({ point }) => over.get(point) ?? []));
    if ([...passing].some((route) => isSetBy(works, route))) return [];
    const ids = works.map(({ point }) => point);
    return [
      raw(
        'lever-joins-nothing',
        [lever.id],
        lever.at,
        { points: inWords(ids), routes: passing.size },
        turning(panel, lever.id, works, [...passing]),
      ),
    ];
  });
}

/** Whether one position of a lever that works these points gives a route what it asks of them. */
function isSetBy(works: readonly Worked[], { points }: Route): boolean {
  const positions = works.flatMap(({ point, whenNormal }) => {
    const lie = points[point];
    return lie === undefined ? [] : [lie === whenNormal];
  });
  return positions.every((position) => position === positions[0]);
}

/** The first of the points that, turned against the others, makes the lever join something. */
function turning(panel: PanelFile, id: string, works: readonly Worked[], passing: readonly Route[]): readonly Mend[] {
  const record = panel.levers?.find((each) => each.id === id);
  const turned = works.slice(1).find(({ point }) => {
    const other = works.map((each) =>
      each.point === point
        ? ({ point, whenNormal: each.whenNormal === 'normal' ? 'reverse' : 'normal' } as const)
        : each,
    );
    return passing.some((route) => isSetBy(other, route));
  });
  if (record === undefined || turned === undefined) return [];
  const altered = (record.works ?? []).map((each) => {
    if (each.point !== turned.point) return each;
    const { opposite, ...rest } = each;
    return opposite === true ? rest : { ...rest, opposite: true };
  });
  return [
    {
      id: 'turn-point',
      text: `Let ${id} work ${turned.point} the other way`,
      price: null,
      edit: editOf(panel)
        .update('levers', id, { ...record, works: altered })
        .done('lever.works'),
    },
  ];
}

function inWords(ids: readonly string[]): string {
  return ids.length < 2 ? ids.join('') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`;
}

function leversIn(reason: string, levers: readonly string[]): readonly string[] {
  const words = new Set(reason.split(/[^A-Za-z0-9_-]+/));
  return levers.filter((id) => words.has(id));
}
