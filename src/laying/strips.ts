/**
 * Strips as a hand lays them: laid, moved, bent, drawn longer, split, joined, turned round, set by typed figures. Each answer is a
 * transaction that carries the names along, or null where nothing would change or it cannot be done.
 */
import { type Edit, editOf, newIds, type PanelFile, type Strip, stripWidth, type Transaction } from '../panel/index.ts';
import { splitStrip } from '../plan/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { accepted, type Draft, finish, isAlready, patch } from './edits.ts';
import {
  add,
  cross,
  direction,
  distance,
  footOn,
  footOnPath,
  isSameSpot,
  pathLength,
  written,
  writtenPath,
  writtenSpot,
} from './geometry.ts';
import { lampsOn, stripOf } from './on-strips.ts';
import { LEAST_STRIP, SAME_SPOT } from './tolerances.ts';
import { moveTrackSpots } from './track-spots.ts';

/** What a strip is, beside where it lies; undefined in a set takes the figure out, so that the default holds. */
export interface StripLook {
  readonly name?: string | undefined;
  readonly width?: Millimetre | undefined;
  readonly tape?: string | undefined;
  /** Radius of its bends. */
  readonly bend?: Millimetre | undefined;
  /** On the layout. */
  readonly layoutLength?: Millimetre | undefined;
}

/** Do lamps on the tape go along? Unless said otherwise they do. */
export interface Carrying extends Draft {
  readonly carry?: boolean;
}

/**
 * A strip through two or more spots, its width, tape and bends those of the strip laid last unless said otherwise. Spots on the one before
 * are left out. Null where it would be shorter than 6 mm.
 * @example layStrip(panel, [[0, 60], [300, 60]], { name: 'Main line' })
 */
export function layStrip(panel: PanelFile, path: readonly Spot[], look: StripLook = {}): Transaction | null {
  const strip = newStrip(panel, newIds(panel).next('strip-'), path, look);
  return strip === null ? null : finish(panel, editOf(panel).add('strips', strip), 'strip.lay');
}

/** A record for a strip, as the one laid last; null where it is too short. */
export function newStrip(panel: PanelFile, id: string, path: readonly Spot[], look: StripLook = {}): Strip | null {
  const corners = withoutRepeats(writtenPath(path));
  if (!(pathLength(corners) >= LEAST_STRIP)) return null;
  const last = panel.strips[panel.strips.length - 1];
  const values = { width: last?.width, tape: last?.tape, bend: last?.bend, ...look };
  const said = Object.entries(values).filter(([, value]) => value !== undefined);
  return { id, ...Object.fromEntries(said), path: corners };
}

/**
 * One corner of a strip, counted from 0, put somewhere else: an end is its first or last corner. Lamps on the two segments beside it keep
 * their share of the segment. Null where the strip would be too short.
 */
export function moveCorner(
  panel: PanelFile,
  id: string,
  corner: number,
  to: Spot,
  { carry = true, draft = false }: Carrying = {},
): Transaction | null {
  const strip = stripOf(panel, id);
  if (strip?.path[corner] === undefined) return null;
  const path = strip.path.with(corner, writtenSpot(to));
  if (!isLongEnough(path)) return null;
  const edit = setPath(editOf(panel), strip, path);
  if (carry) {
    for (const lamp of lampsOn(panel, new Set([id]))) {
      const at = carried(strip.path, path, lamp.at);
      if (at !== null && !isAlready(lamp, { at })) edit.update('lamps', lamp.id, { at });
    }
    moveTrackSpots(edit, panel, (on, at) => (on === id ? { at: carried(strip.path, path, at) } : null));
  }
  return finish(panel, edit, 'strip.bend', { draft });
}

/** A new corner on a strip where it is nearest to a spot; null on a corner that is there. Nothing moves until the corner is moved. */
export function addBend(panel: PanelFile, id: string, at: Spot): Transaction | null {
  const strip = stripOf(panel, id);
  const foot = strip === undefined ? null : footOnPath(strip.path, at);
  if (strip === undefined || foot === null || strip.path.length < 2) return null;
  const spot = writtenSpot(foot.at);
  if (strip.path.some((corner) => isSameSpot(corner, spot))) return null;
  return finish(panel, setPath(editOf(panel), strip, strip.path.toSpliced(foot.segment + 1, 0, spot)), 'strip.bend');
}

/** A corner taken out of a strip; null for the last two, and where what is left would be too short. */
export function takeOutBend(
  panel: PanelFile,
  id: string,
  corner: number,
  { carry = true, draft = false }: Carrying = {},
): Transaction | null {
  const strip = stripOf(panel, id);
  if (strip?.path[corner] === undefined || strip.path.length <= 2) return null;
  const path = strip.path.toSpliced(corner, 1);
  if (!isLongEnough(path)) return null;
  const edit = setPath(editOf(panel), strip, path);
  const inner = corner > 0 && corner < strip.path.length - 1;
  if (carry && inner) {
    for (const lamp of lampsOn(panel, new Set([id]))) {
      const was = footOnPath(strip.path, lamp.at);
      const [a, b] = [path[corner - 1], path[corner]];
      if (was === null || a === undefined || b === undefined) continue;
      // Only lamps of the two segments that have become one leave their place.
      if (was.segment !== corner - 1 && was.segment !== corner) continue;
      edit.update('lamps', lamp.id, { at: writtenSpot(footOn(a, b, lamp.at).at) });
    }
  }
  return finish(panel, edit, 'strip.bend', { draft });
}

/** A strip drawn on from one of its ends (0: the first) over more spots; an end drawn back is `moveCorner`. */
export function drawOn(panel: PanelFile, id: string, end: 0 | 1, spots: readonly Spot[]): Transaction | null {
  const strip = stripOf(panel, id);
  if (strip === undefined || spots.length === 0) return null;
  const more = writtenPath(spots);
  const path = withoutRepeats(end === 0 ? [...more.reverse(), ...strip.path] : [...strip.path, ...more]);
  return isLongEnough(path) ? finish(panel, setPath(editOf(panel), strip, path), 'strip.draw') : null;
}

/**
 * One strip made two where it is nearest to a spot; the first piece keeps the id and both the tape. What lies on it keeps its name, and
 * levers and lamps what they mean. Null within half the tape's width of an end.
 */
export function splitStripAt(panel: PanelFile, id: string, at: Spot): Transaction | null {
  if (stripOf(panel, id) === undefined || !at.every(Number.isFinite)) return null;
  return accepted(panel, tidied(splitStrip(panel, id, at)));
}

/**
 * Two strips made one at the nearest pair of their ends, which must lie within half the wider tape of each other, as a butt does. The first
 * keeps its id, its way and its tape. A seam on a straight line leaves no corner.
 */
export function joinStripEnds(panel: PanelFile, first: string, second: string): Transaction | null {
  const [one, two] = [stripOf(panel, first), stripOf(panel, second)];
  if (one === undefined || two === undefined || one === two) return null;
  if (one.path.length < 2 || two.path.length < 2) return null;
  const [oneBack, twoBack] = [[...one.path].reverse(), [...two.path].reverse()];
  const ways = [
    { a: one.path, b: two.path, back: false },
    { a: one.path, b: twoBack, back: false },
    { a: oneBack, b: two.path, back: true },
    { a: oneBack, b: twoBack, back: true },
  ].map((way) => ({ ...way, gap: gapOf(way.a, way.b) }));
  const nearest = ways.reduce((best, way) => (way.gap < best.gap - SAME_SPOT ? way : best));
  if (!(nearest.gap <= Math.max(stripWidth(one), stripWidth(two)) / 2 + SAME_SPOT)) return null;
  const joined = withoutSeam(nearest.a, nearest.b);
  const both = one.layoutLength !== undefined && two.layoutLength !== undefined;
  const layoutLength = both ? written((one.layoutLength ?? 0) + (two.layoutLength ?? 0)) : undefined;
  const edit = editOf(panel)
    .update('strips', first, patch<Strip>({ path: nearest.back ? joined.reverse() : joined, layoutLength }))
    .remove('strips', second);
  // The second strip runs on as the first does: where it was laid the other way, its rails change hands.
  const against = (nearest.b === twoBack) !== nearest.back;
  if (against) moveTrackSpots(edit, panel, (on) => (on === second ? { changesHands: true } : null));
  return finish(panel, edit, 'strip.join');
}

/** A strip laid the other way round: nothing that it means changes. */
export function turnRound(panel: PanelFile, id: string): Transaction | null {
  const strip = stripOf(panel, id);
  if (strip === undefined || strip.path.length < 2) return null;
  const edit = setPath(editOf(panel), strip, [...strip.path].reverse());
  moveTrackSpots(edit, panel, (on) => (on === id ? { changesHands: true } : null));
  return finish(panel, edit, 'strip.reverse');
}

/** A strip's name, width, tape, bends or length on the layout, as typed. Null where a file would not take the figure. */
export function setStrip(panel: PanelFile, ids: string | readonly string[], look: StripLook): Transaction | null {
  const wanted = new Set(typeof ids === 'string' ? [ids] : ids);
  const edit = editOf(panel);
  for (const strip of panel.strips)
    if (wanted.has(strip.id) && !isAlready(strip, { ...look }))
      edit.update('strips', strip.id, patch<Strip>({ ...look }));
  return finish(panel, edit, 'strip.set');
}

/** Strips brought to the front or to the back of the others: later strips lie on top. */
export function reorderStrips(panel: PanelFile, ids: readonly string[], to: 'front' | 'back'): Transaction | null {
  const wanted = new Set(ids);
  const [moved, rest] = [
    panel.strips.filter(({ id }) => wanted.has(id)),
    panel.strips.filter(({ id }) => !wanted.has(id)),
  ];
  const strips = to === 'front' ? [...rest, ...moved] : [...moved, ...rest];
  if (strips.every((strip, i) => strip === panel.strips[i])) return null;
  return finish(panel, editOf(panel).set('strips', strips), 'strip.order');
}

function setPath(edit: Edit, { id }: Strip, path: Strip['path']): Edit {
  return edit.update('strips', id, { path });
}

function isLongEnough(path: readonly Spot[]): boolean {
  return pathLength(path) >= LEAST_STRIP;
}

function withoutRepeats(path: readonly [number, number][]): [number, number][] {
  return path.filter((spot, i) => {
    const before = path[i - 1];
    return before === undefined || before[0] !== spot[0] || before[1] !== spot[1];
  });
}

/** Paths and lengths that an edit of strips leaves, as they are written. */
function tidied(tx: Transaction | null): Transaction | null {
  if (tx === null) return null;
  const tidy = (record: Readonly<Record<string, unknown>>) => {
    const { path, layoutLength } = record as Partial<Strip>;
    return {
      ...record,
      ...(path === undefined ? {} : { path: writtenPath(path) }),
      ...(layoutLength === undefined ? {} : { layoutLength: written(layoutLength) }),
    };
  };
  const changes = tx.changes.map((change) => {
    if (!('list' in change) || change.list !== 'strips') return change;
    if (change.kind === 'update') return { ...change, to: tidy(change.to) };
    return change.kind === 'add' ? { ...change, record: tidy(change.record) } : change;
  });
  return { ...tx, changes };
}

/** Between the end of one path and the beginning of the other. */
function gapOf(a: Strip['path'], b: Strip['path']): Millimetre {
  const [last, first] = [a[a.length - 1], b[0]];
  return last === undefined || first === undefined ? Infinity : distance(last, first);
}

function withoutSeam(a: Strip['path'], b: Strip['path']): [number, number][] {
  const [seam, first, before, next] = [a[a.length - 1], b[0], a[a.length - 2], b[1]];
  if (seam === undefined || first === undefined || !isSameSpot(seam, first)) return [...a, ...b];
  // A split leaves its spot rounded: on a straight line it is dropped again, so that the line is drawn as it was.
  const straight =
    before !== undefined &&
    next !== undefined &&
    footOn(before, next, seam).off <= SAME_SPOT &&
    distance(before, seam) <= distance(before, next) &&
    distance(next, seam) <= distance(before, next);
  return straight ? [...a.slice(0, -1), ...b.slice(1)] : [...a, ...b.slice(1)];
}

/** Where a lamp on a strip goes when its corners move: the same share of its segment, as far off to the same side. */
function carried(from: Strip['path'], to: Strip['path'], at: Spot): [number, number] | null {
  const foot = footOnPath(from, at);
  if (foot === null) return null;
  const [a, b] = [from[foot.segment], from[foot.segment + 1]];
  const [c, d] = [to[foot.segment], to[foot.segment + 1]];
  if (a === undefined || b === undefined || c === undefined || d === undefined) return null;
  if (a === c && b === d) return null;
  const [was, is] = [direction(a, b), direction(c, d)];
  if (was === null || is === null) return null;
  const share = distance(a, foot.at) / distance(a, b);
  const off = cross(was, [at[0] - foot.at[0], at[1] - foot.at[1]]);
  return writtenSpot(add(add(c, is, share * distance(c, d)), [-is[1], is[0]], off));
}
