/** What levers can set, and in plain words what they cannot. */
import type { Lie } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Route } from './types.ts';

/**
 * From the lies that a route asks to the positions of levers. A point that two levers work goes by the first of them. Null, with the
 * reason, where a point has no lever, or where one lever would have to lie both ways.
 */
export function leverSetter(plan: Plan): (points: Route['points']) => Pick<Route, 'levers' | 'why'> {
  const workers = new Map<string, { readonly lever: number; readonly whenNormal: Lie }>();
  plan.levers.forEach((lever, i) => {
    for (const { point, whenNormal } of lever.works) {
      if (!workers.has(point)) workers.set(point, { lever: i, whenNormal });
    }
  });

  return (points) => {
    const positions = new Map<number, { readonly position: Lie; readonly first: string }>();
    const idle: string[] = [];
    let clash: string | null = null;
    for (const [point, lie] of Object.entries(points)) {
      const worker = workers.get(point);
      if (worker === undefined) {
        idle.push(point);
        continue;
      }
      const position: Lie = worker.whenNormal === lie ? 'normal' : 'reverse';
      const known = positions.get(worker.lever);
      if (known === undefined) positions.set(worker.lever, { position, first: point });
      else if (known.position !== position && clash === null) {
        const id = plan.levers[worker.lever]?.id ?? '';
        const first = `${known.first} ${points[known.first]}`;
        clash = `${id} works ${known.first} and ${point} together: ${first} and ${point} ${lie} cannot both be had`;
      }
    }
    if (idle.length > 0) return { levers: null, why: `no lever works ${inWords(idle)}` };
    if (clash !== null) return { levers: null, why: clash };
    const levers: Record<string, Lie> = {};
    plan.levers.forEach((lever, i) => {
      const known = positions.get(i);
      if (known !== undefined) levers[lever.id] = known.position;
    });
    return { levers, why: null };
  };
}

function inWords(ids: readonly string[]): string {
  return ids.length < 2 ? ids.join('') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`;
}
