/**
 * A plan told by where its features lie, without ids of its own, so that plans of one layout drawn two ways can be compared:
 * turned, mirrored, moved, laid the other way, in another order, with a seam more.
 */
import type { PanelFile } from '../../src/panel/index.ts';
import type { Plan } from '../../src/plan/index.ts';

type Spot = readonly [number, number];

/** Lines of the graph, sorted. `back` takes a spot of this drawing to the drawing that it is compared with. */
export function graphOf(plan: Plan, back: (spot: Spot) => Spot = (spot) => spot): readonly string[] {
  const spotOf = new Map<string, Spot>();
  for (const { id, at } of [...plan.points, ...plan.crossings, ...plan.places]) spotOf.set(id, at);
  // Off the halves, where rounding could fall either way.
  const tenth = (x: number) => Math.round((x + 0.0213) * 10);
  const key = (id: string) => {
    const at = back(spotOf.get(id) ?? [NaN, NaN]);
    return `${tenth(at[0])},${tenth(at[1])}`;
  };
  const span = new Map(
    plan.spans.map((each) => {
      const ends = each.ends.map(key).sort();
      const middle = back(half(each.path, each.length));
      return [each.id, `<${ends.join(' ')} ${tenth(each.length)} ${tenth(middle[0])},${tenth(middle[1])}>`];
    }),
  );
  const asks = (lies: Readonly<Record<string, string>>) =>
    Object.entries(lies)
      .map(([id, lie]) => `${key(id)}=${lie}`)
      .sort()
      .join(' ');
  return [
    ...[...span.values()].map((each) => `span ${each}`),
    ...plan.passages.map((passage) => {
      const ends = passage.between.map((end) => span.get(end.span)).sort();
      return `passage ${key(passage.feature)} ${ends.join(' ')} ${asks(passage.asks)}`;
    }),
    ...plan.points.map((point) => `point ${key(point.id)} ${point.of} ${tenth(point.angle)}`),
    ...plan.crossings.map((crossing) => `crossing ${key(crossing.id)} ${crossing.kind} ${tenth(crossing.angle)}`),
    ...plan.places.map((place) => `place ${place.name} ${place.kind} ${key(place.id)} on ${span.get(place.span)}`),
    ...plan.problems.map((problem) => `problem ${problem.code}`),
  ].sort();
}

function half(path: readonly Spot[], length: number): Spot {
  let left = length / 2;
  for (let i = 0; i + 1 < path.length; i++) {
    const [a, b] = [path[i], path[i + 1]];
    if (a === undefined || b === undefined) continue;
    const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (step > 0 && left <= step) return [a[0] + ((b[0] - a[0]) * left) / step, a[1] + ((b[1] - a[1]) * left) / step];
    left -= step;
  }
  return path[path.length - 1] ?? [0, 0];
}

/** The same panel with every spot of its strips, places, points and crossings moved. */
export function moved(panel: PanelFile, move: (spot: Spot) => Spot): PanelFile {
  const to = (spot: Spot): [number, number] => [...move(spot)];
  const at = <R extends { at: [number, number] }>(record: R): R => ({ ...record, at: to(record.at) });
  return {
    ...panel,
    strips: panel.strips.map((strip) => ({ ...strip, path: strip.path.map(to) })),
    ...(panel.places === undefined ? {} : { places: panel.places.map(at) }),
    ...(panel.points === undefined ? {} : { points: panel.points.map(at) }),
    ...(panel.crossings === undefined ? {} : { crossings: panel.crossings.map(at) }),
  };
}

/** Turned clockwise about the corner of the face. */
export function turned(degrees: number): (spot: Spot) => Spot {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return ([x, y]) => [c * x - s * y, s * x + c * y];
}
