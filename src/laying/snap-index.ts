/** What lies still while something is dragged, made ready once for each drag. */
import { type PanelFile, stripWidth } from '../panel/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { type BoxGrid, gridOf } from './box-grid.ts';
import { planOf } from './edits.ts';
import { direction } from './geometry.ts';
import { present, type Selection } from './picked.ts';
import { SAME_DIRECTION } from './tolerances.ts';

/** A straight piece of a strip. */
export interface SnapSegment {
  readonly strip: string;
  readonly a: Spot;
  readonly b: Spot;
  readonly way: Spot;
  readonly length: Millimetre;
  /** Half its tape's width: nearer than that to an end of the strip is the end. */
  readonly half: Millimetre;
  /** Does the strip end at a, at b? */
  readonly ends: readonly [boolean, boolean];
}

/** A thing that others can stand in line with, or meet. */
export interface SnapSpot {
  readonly id: string;
  readonly at: Spot;
  readonly kind: 'end' | 'corner' | 'lamp' | 'lever';
}

/** Made by `snapContext`; nothing in it changes during a drag. */
export interface SnapContext {
  readonly segments: readonly SnapSegment[];
  readonly segmentGrid: BoxGrid;
  readonly ends: readonly SnapSpot[];
  readonly endGrid: BoxGrid;
  /** All spots to line up with, by x and by y. */
  readonly byX: readonly SnapSpot[];
  readonly byY: readonly SnapSpot[];
  /** Directions of strips, 0 (included) to 180 (not) degrees clockwise from to the right, each once. */
  readonly directions: readonly { readonly angle: Degree; readonly strip: string }[];
}

/**
 * The context of a drag: the panel without what moves. Of a strip one of whose corners moves, the segments beside it move too; what is left
 * of it lies still.
 */
export function snapContext(panel: PanelFile, moving: Selection = []): SnapContext {
  const picked = present(panel, moving);
  const still = (list: string, id: string) =>
    !picked.some((each) => each.list === list && each.id === id && each.part === undefined);
  const corners = new Set(
    picked.flatMap(({ list, id, part }) => (list === 'strips' && part !== undefined ? [`${id} ${part}`] : [])),
  );
  const gone = new Set(picked.filter(({ part }) => part === undefined).map(({ list, id }) => `${list} ${id}`));
  const segments: SnapSegment[] = [];
  const ends: SnapSpot[] = [];
  const spots: SnapSpot[] = [];
  for (const strip of panel.strips) {
    if (!still('strips', strip.id)) continue;
    const { id, path } = strip;
    const last = path.length - 1;
    path.forEach((spot, i) => {
      if (corners.has(`${id} ${i}`)) return;
      const kind = i === 0 || i === last ? 'end' : 'corner';
      const at: SnapSpot = { id, at: [spot[0], spot[1]], kind };
      spots.push(at);
      if (kind === 'end') ends.push(at);
    });
    for (let i = 0; i < last; i++) {
      const [a, b] = [path[i], path[i + 1]];
      if (a === undefined || b === undefined || corners.has(`${id} ${i}`) || corners.has(`${id} ${i + 1}`)) continue;
      const way = direction(a, b);
      if (way === null) continue;
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      segments.push({ strip: id, a, b, way, length, half: stripWidth(strip) / 2, ends: [i === 0, i === last - 1] });
    }
  }
  for (const { id, at } of panel.lamps ?? []) if (!gone.has(`lamps ${id}`)) spots.push({ id, at, kind: 'lamp' });
  for (const { id, at } of planOf(panel).levers) if (!gone.has(`levers ${id}`)) spots.push({ id, at, kind: 'lever' });
  const box = ({ at: [x, y] }: SnapSpot) => ({ left: x, top: y, right: x, bottom: y });
  const by = (axis: 0 | 1) =>
    [...spots].sort((a, b) => a.at[axis] - b.at[axis] || a.at[(1 - axis) as 0 | 1] - b.at[(1 - axis) as 0 | 1]);
  return {
    segments,
    segmentGrid: gridOf(segments),
    ends,
    endGrid: gridOf(ends.map(box)),
    byX: by(0),
    byY: by(1),
    directions: directionsOf(segments),
  };
}

/** The angle of a line, without a way along it. */
export function angleOf([x, y]: Spot): Degree {
  const angle = (Math.atan2(y, x) * 180) / Math.PI;
  return ((angle % 180) + 180) % 180;
}

function directionsOf(segments: readonly SnapSegment[]): SnapContext['directions'] {
  const found: { angle: Degree; strip: string }[] = [];
  const known = new Set<number>();
  for (const { way, strip } of segments) {
    const angle = angleOf(way);
    const step = Math.round(angle / SAME_DIRECTION) % Math.round(180 / SAME_DIRECTION);
    if (known.has(step)) continue;
    known.add(step);
    found.push({ angle, strip });
  }
  return found;
}
