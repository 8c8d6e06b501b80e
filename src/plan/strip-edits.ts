/**
 * Edits of strips as a hand makes them: moved, bent, split, joined, turned round, taken off. Each is a transaction of the strips alone,
 * null where there is nothing to do; `keepNames` carries the names along.
 */
import {
  type Edit,
  editOf,
  nextFreeId,
  type PanelFile,
  type Strip,
  stripWidth,
  type Transaction,
} from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { corner, cornersBetween, distance, type Line, readLines } from './line.ts';
import { footOn } from './segment-grid.ts';
import { SAME_SPOT } from './tolerances.ts';

/** All corners of these strips moved by so much, in mm. Throws where there is no such strip, as all of these do. */
export function moveStrips(panel: PanelFile, ids: readonly string[], [dx, dy]: Spot): Transaction | null {
  if (ids.length === 0 || (dx === 0 && dy === 0)) return null;
  const edit = editOf(panel);
  for (const id of ids)
    setPath(
      edit,
      id,
      stripOf(panel, id).path.map(([x, y]): [number, number] => [x + dx, y + dy]),
    );
  return edit.done('strip.move');
}

/** One corner of a strip, counted from 0, put somewhere else: an end is its first or last corner. */
export function moveCorner(panel: PanelFile, id: string, at: number, to: Spot): Transaction | null {
  const { path } = stripOf(panel, id);
  const there = cornerOf(path, id, at);
  if (there[0] === to[0] && there[1] === to[1]) return null;
  return setPath(editOf(panel), id, path.with(at, [to[0], to[1]])).done('strip.bend');
}

/** A new corner that becomes number `at` of the strip: 0 before the first, the number of corners after the last. */
export function addCorner(panel: PanelFile, id: string, at: number, spot: Spot): Transaction {
  const { path } = stripOf(panel, id);
  if (!Number.isInteger(at) || at < 0 || at > path.length)
    throw new RangeError(`strip ${id} has ${path.length} corners: no room for one at ${at}`);
  return setPath(editOf(panel), id, path.toSpliced(at, 0, [spot[0], spot[1]])).done('strip.bend');
}

/** A corner taken out; null where fewer than two would be left. */
export function removeCorner(panel: PanelFile, id: string, at: number): Transaction | null {
  const { path } = stripOf(panel, id);
  cornerOf(path, id, at);
  return path.length <= 2 ? null : setPath(editOf(panel), id, path.toSpliced(at, 1)).done('strip.bend');
}

/**
 * One strip made two where it is nearest to a spot: the first piece keeps the id, the second comes right after it as `<id>-1` or the
 * next free number, and both share the tape and, by length, the `layoutLength`. Null within half the tape's width of either end, where
 * a piece would be no longer than its own seam.
 */
export function splitStrip(panel: PanelFile, id: string, at: Spot): Transaction | null {
  const strip = stripOf(panel, id);
  const line = readLines(panel).lines.find((each) => each.id === id);
  if (line === undefined) return null;
  const along = nearestAlong(line, at);
  if (along <= line.half + SAME_SPOT || along >= line.length - line.half - SAME_SPOT) return null;
  const [first, second] = [cornersBetween(line, 0, along), cornersBetween(line, along, line.length)];
  const { layoutLength } = strip;
  const share = (length: Millimetre) =>
    layoutLength === undefined ? {} : { layoutLength: layoutLength * (length / line.length) };
  const place = panel.strips.findIndex((each) => each.id === id);
  return editOf(panel)
    .update('strips', id, { path: copyOf(first), ...share(along) })
    .add(
      'strips',
      { ...strip, id: nextFreeId(panel, `${id}-`), path: copyOf(second), ...share(line.length - along) },
      place + 1,
    )
    .done('strip.split');
}

/**
 * Two strips made one at the nearest pair of their ends, which must lie within half the wider tape of each other, as a butt does; else
 * null. The first keeps its id, its direction and its tape; the second goes and its id is retired. The `layoutLength` is the sum, absent
 * where one of them says none.
 */
export function joinStrips(panel: PanelFile, first: string, second: string): Transaction | null {
  const [one, two] = [stripOf(panel, first), stripOf(panel, second)];
  if (first === second || one.path.length < 2 || two.path.length < 2) return null;
  const ways = [one.path, [...one.path].reverse()].flatMap((a, turned) =>
    [two.path, [...two.path].reverse()].map((b) => ({ a, b, turned: turned === 1, gap: gapOf(a, b) })),
  );
  const nearest = ways.reduce((best, way) => (way.gap < best.gap - SAME_SPOT ? way : best));
  if (nearest.gap > Math.max(stripWidth(one), stripWidth(two)) / 2 + SAME_SPOT) return null;
  const joined = [...nearest.a, ...(nearest.gap <= SAME_SPOT ? nearest.b.slice(1) : nearest.b)];
  const path = nearest.turned ? joined.reverse() : joined;
  const both = one.layoutLength !== undefined && two.layoutLength !== undefined;
  const layoutLength = both ? (one.layoutLength ?? 0) + (two.layoutLength ?? 0) : undefined;
  const edit = editOf(panel).update('strips', first, { path: copyOf(path) });
  if (layoutLength !== one.layoutLength) setLength(edit, first, layoutLength);
  return edit.remove('strips', second).done('strip.join');
}

/** These strips taken off, their ids retired. */
export function deleteStrips(panel: PanelFile, ids: readonly string[]): Transaction | null {
  if (ids.length === 0) return null;
  const edit = editOf(panel);
  for (const id of ids) edit.remove('strips', id);
  return edit.done('strip.delete');
}

/** A strip laid the other way round: nothing that it means changes. */
export function reverseStrip(panel: PanelFile, id: string): Transaction | null {
  const { path } = stripOf(panel, id);
  return path.length < 2 ? null : setPath(editOf(panel), id, [...path].reverse()).done('strip.reverse');
}

function stripOf(panel: PanelFile, id: string): Strip {
  const strip = panel.strips.find((each) => each.id === id);
  if (strip === undefined) throw new RangeError(`no strip ${id} among ${panel.strips.length}`);
  return strip;
}

function cornerOf(path: Strip['path'], id: string, at: number): Spot {
  const spot = path[at];
  if (spot === undefined) throw new RangeError(`strip ${id} has ${path.length} corners: no corner ${at}`);
  return spot;
}

function setPath(edit: Edit, id: string, path: Strip['path']): Edit {
  return edit.update('strips', id, { path });
}

function setLength(edit: Edit, id: string, layoutLength: Millimetre | undefined): void {
  // A key that is absent is told by undefined in a patch.
  const patch: Partial<Strip> = {};
  Object.assign(patch, { layoutLength });
  edit.update('strips', id, patch);
}

function copyOf(path: readonly Spot[]): Strip['path'] {
  return path.map(([x, y]): [number, number] => [x, y]);
}

/** Between the end of one path and the beginning of the other. */
function gapOf(a: Strip['path'], b: Strip['path']): Millimetre {
  const [last, first] = [a[a.length - 1], b[0]];
  return last === undefined || first === undefined ? Infinity : distance(last, first);
}

function nearestAlong(line: Line, at: Spot): Millimetre {
  let best = { along: 0, distance: Infinity };
  for (let i = 0; i + 1 < line.corners.length; i++) {
    const [a, b] = [corner(line, i), corner(line, i + 1)];
    const foot = footOn({ line, i, a, b, from: line.marks[i] ?? 0, length: distance(a, b) }, at);
    if (foot.distance < best.distance) best = foot;
  }
  // A spot as good as a corner is the corner, so that no crumb is left beside it.
  const mark = line.marks.find((each) => Math.abs(each - best.along) <= SAME_SPOT);
  return mark ?? best.along;
}
