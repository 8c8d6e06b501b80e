/**
 * Which spot of which strip is which after an edit of the strips. Strips that keep their id are laid corner against corner; a strip
 * that comes into the file or leaves it is followed where it lies on one that has changed, so that what is split or joined is not lost.
 */
import type { PanelFile } from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { corner, distance, type Line, readLines, spotAlong } from './line.ts';
import { footOn } from './segment-grid.ts';
import { SAME_SPOT } from './tolerances.ts';

/** A spot on a strip and the way along it that leads away; 0 where that cannot be told. */
export interface StripSpot {
  readonly strip: string;
  readonly along: Millimetre;
  readonly way: 1 | -1 | 0;
}

export interface StripMap {
  /** Where a spot of a strip is after the edit; null where that piece of tape has gone. */
  carry(spot: StripSpot): StripSpot | null;
  /** Is it the very end of a strip before the edit? */
  isEnd(spot: StripSpot): boolean;
  readonly before: ReadonlyMap<string, Line>;
  readonly after: ReadonlyMap<string, Line>;
}

/** A stretch of a strip before (`from` < `to`) and where it is after; `sign` -1: laid the other way. */
interface Piece {
  readonly from: Millimetre;
  readonly to: Millimetre;
  readonly strip: string;
  readonly start: Millimetre;
  readonly stop: Millimetre;
  readonly sign: 1 | -1;
}

/** What became of one strip. `turned`: the same strip, and whether its ends have changed places; null: followed by where it lies. */
interface Followed {
  readonly pieces: readonly Piece[];
  readonly turned: boolean | null;
  readonly to: Line | null;
}

/** Follows the strips of a panel through an edit. Cost: the corners, and those of what has changed against each other. */
export function mapStrips(before: PanelFile, after: PanelFile): StripMap {
  const was = new Map(readLines(before).lines.map((line) => [line.id, line]));
  const is = new Map(readLines(after).lines.map((line) => [line.id, line]));
  const changed = [...was.values()].filter((line) => {
    const now = is.get(line.id);
    return now === undefined || !sameCorners(line, now);
  });
  const fresh = [...is.values()].filter((line) => !was.has(line.id));
  const followed = new Map<string, Followed>();
  for (const line of was.values()) {
    const now = is.get(line.id);
    if (now !== undefined && !changed.includes(line)) followed.set(line.id, aligned(line, now));
  }
  const claims = new Map<string, Piece[]>();
  const claimed = new Set<string>();
  const claim = (line: Line, piece: Piece | null) => {
    if (piece === null) return;
    claims.set(line.id, [...(claims.get(line.id) ?? []), piece]);
    claimed.add(line.id).add(piece.strip);
  };
  for (const line of changed) {
    for (const onto of fresh) claim(line, partOf(line, onto));
    if (is.has(line.id)) continue;
    for (const other of changed) {
      const onto = is.get(other.id);
      if (onto !== undefined) claim(line, wholeIn(line, onto));
    }
    for (const onto of fresh) if (!claims.has(line.id)) claim(line, wholeIn(line, onto));
  }
  for (const line of changed) {
    const now = is.get(line.id) ?? null;
    const pieces = claims.get(line.id) ?? [];
    if (now === null) {
      followed.set(line.id, { pieces, turned: null, to: null });
      continue;
    }
    // Split or joined: the rest lies where it lay.
    const rest = claimed.has(line.id) ? (wholeIn(line, now) ?? partOf(line, now)) : null;
    followed.set(line.id, rest === null ? aligned(line, now) : { pieces: [rest, ...pieces], turned: null, to: null });
  }

  const isEnd = ({ strip, along, way }: StripSpot) => {
    const length = was.get(strip)?.length ?? Infinity;
    return (along <= SAME_SPOT && way !== -1) || (along >= length - SAME_SPOT && way !== 1);
  };
  const carry = (spot: StripSpot): StripSpot | null => {
    const line = was.get(spot.strip);
    const found = followed.get(spot.strip);
    if (line === undefined || found === undefined) return null;
    if (found.turned !== null && found.to !== null && isEnd(spot)) {
      const first = spot.along <= SAME_SPOT !== found.turned;
      return { strip: found.to.id, along: first ? 0 : found.to.length, way: first ? 1 : -1 };
    }
    const { along, way } = spot;
    const holding = found.pieces.filter((piece) => along >= piece.from - SAME_SPOT && along <= piece.to + SAME_SPOT);
    const inside = (piece: Piece) =>
      way === 1 ? piece.to > along + SAME_SPOT : way === -1 ? piece.from < along - SAME_SPOT : true;
    const piece = holding.find(inside) ?? holding[0];
    if (piece === undefined) return null;
    const share = piece.to > piece.from ? (along - piece.from) / (piece.to - piece.from) : 0;
    const there = piece.start + (piece.stop - piece.start) * Math.min(1, Math.max(0, share));
    return { strip: piece.strip, along: there, way: way === 0 ? 0 : way === piece.sign ? 1 : -1 };
  };
  return { carry, isEnd, before: was, after: is };
}

function sameCorners(a: Line, b: Line): boolean {
  return a.corners.length === b.corners.length && a.corners.every((spot, i) => distance(spot, corner(b, i)) === 0);
}

/** Where the whole of `part` lies on `whole`, if it does, in either direction. */
function layOn(part: Line, whole: Line): { readonly start: Millimetre; readonly stop: Millimetre } | null {
  const [first, last] = [corner(part, 0), corner(part, part.corners.length - 1)];
  for (const start of feetOn(whole, first)) {
    for (const stop of feetOn(whole, last)) {
      if (Math.abs(Math.abs(stop - start) - part.length) > SAME_SPOT * part.corners.length) continue;
      const sign = Math.sign(stop - start);
      const lies = part.corners.every(
        (spot, i) => distance(spot, spotAlong(whole, start + sign * (part.marks[i] ?? 0))) <= 2 * SAME_SPOT,
      );
      if (lies) return { start, stop };
    }
  }
  return null;
}

/** All places of a spot along a line that it lies on. */
function feetOn(line: Line, spot: Spot): readonly Millimetre[] {
  const feet: Millimetre[] = [];
  for (let i = 0; i + 1 < line.corners.length; i++) {
    const [a, b, from] = [corner(line, i), corner(line, i + 1), line.marks[i] ?? 0];
    const foot = footOn({ line, i, a, b, from, length: distance(a, b) }, spot);
    if (foot.distance <= SAME_SPOT && !feet.some((known) => Math.abs(known - foot.along) <= SAME_SPOT))
      feet.push(foot.along);
  }
  return feet;
}

/** A new strip that is a stretch of the old one. */
function partOf(line: Line, part: Line): Piece | null {
  const lies = layOn(part, line);
  if (lies === null) return null;
  const forth = lies.start < lies.stop;
  return forth
    ? { from: lies.start, to: lies.stop, strip: part.id, start: 0, stop: part.length, sign: 1 }
    : { from: lies.stop, to: lies.start, strip: part.id, start: part.length, stop: 0, sign: -1 };
}

/** The old strip as a stretch of a new one. */
function wholeIn(line: Line, whole: Line): Piece | null {
  const lies = layOn(line, whole);
  if (lies === null) return null;
  return { from: 0, to: line.length, strip: whole.id, ...lies, sign: lies.start < lies.stop ? 1 : -1 };
}

/** Corner against corner: as many corners one by one; else those that begin and end both alike, and what lies between in proportion. */
function aligned(line: Line, now: Line): Followed {
  const back: Line = {
    ...now,
    corners: [...now.corners].reverse(),
    marks: [...now.marks].reverse().map((mark) => now.length - mark),
  };
  const turned = !isShift(line, now) && alike(line, back) > alike(line, now);
  const onto = turned ? back : now;
  const pairs: (readonly [Millimetre, Millimetre])[] = [];
  if (line.corners.length === onto.corners.length) {
    line.marks.forEach((mark, i) => pairs.push([mark, onto.marks[i] ?? 0]));
  } else {
    const least = Math.min(line.corners.length, onto.corners.length);
    const head = Math.min(commonHead(line, onto), least - 1);
    const tail = Math.min(commonTail(line, onto), least - head);
    for (let i = 0; i < Math.max(head, 1); i++) pairs.push([line.marks[i] ?? 0, onto.marks[i] ?? 0]);
    for (let i = Math.max(tail, 1); i > 0; i--) {
      pairs.push([line.marks[line.marks.length - i] ?? 0, onto.marks[onto.marks.length - i] ?? 0]);
    }
  }
  const pieces: Piece[] = [];
  for (let i = 0; i + 1 < pairs.length; i++) {
    const [from, start] = pairs[i] ?? [0, 0];
    const [to, stop] = pairs[i + 1] ?? [0, 0];
    if (to <= from) continue;
    pieces.push(
      turned
        ? { from, to, strip: now.id, start: now.length - start, stop: now.length - stop, sign: -1 }
        : { from, to, strip: now.id, start, stop, sign: 1 },
    );
  }
  return { pieces, turned, to: now };
}

/** The same line moved as a whole. */
function isShift(a: Line, b: Line): boolean {
  if (a.corners.length !== b.corners.length) return false;
  const [dx, dy] = [corner(b, 0)[0] - corner(a, 0)[0], corner(b, 0)[1] - corner(a, 0)[1]];
  return a.corners.every(([x, y], i) => distance([x + dx, y + dy], corner(b, i)) <= SAME_SPOT);
}

/** Corners that lie where they lay. */
function alike(a: Line, b: Line): number {
  if (a.corners.length !== b.corners.length) return commonHead(a, b) + commonTail(a, b);
  return a.corners.filter((spot, i) => distance(spot, corner(b, i)) <= SAME_SPOT).length;
}

function commonHead(a: Line, b: Line): number {
  let count = 0;
  const most = Math.min(a.corners.length, b.corners.length);
  while (count < most && distance(corner(a, count), corner(b, count)) <= SAME_SPOT) count += 1;
  return count;
}

function commonTail(a: Line, b: Line): number {
  let count = 0;
  const [m, n] = [a.corners.length, b.corners.length];
  while (count < Math.min(m, n) && distance(corner(a, m - 1 - count), corner(b, n - 1 - count)) <= SAME_SPOT)
    count += 1;
  return count;
}
