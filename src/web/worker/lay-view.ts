/** What the Lay stage draws and says of a panel, as plain data. */
import type { SketchedPanel } from '../../derive-panel.ts';
import type { LayLoose, LayView } from './types.ts';

/** Of a derived panel, what was understood while it was laid. */
export function makeLayView({ plan, face, counts }: SketchedPanel): LayView {
  const levers = new Map(plan.levers.flatMap(({ id, works }) => works.map(({ point }) => [point, id] as const)));
  return {
    face,
    counts,
    points: plan.points.map(({ id, at, toward, of }) => ({ id, at, toward, of, lever: levers.get(id) ?? null })),
    crossings: plan.crossings.map(({ id, at, kind }) => ({ id, at, kind })),
    places: plan.places.map(({ id, name, at, kind, record }) => ({ id, name, at, kind, recorded: record !== null })),
    lines: plan.spans.flatMap(({ path }) => path.slice(1).map((to, k) => ({ from: path[k] ?? to, to }))),
    loose: plan.problems.flatMap((problem): LayLoose[] =>
      problem.code === 'end-too-square' || problem.code === 'end-too-flat'
        ? [
            {
              strip: problem.strip,
              onto: problem.onto,
              at: problem.at,
              angle: problem.angle,
              square: problem.code === 'end-too-square',
            },
          ]
        : [],
    ),
  };
}
