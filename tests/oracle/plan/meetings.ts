/**
 * What strips do to one another, from the text alone: an end near an end is a butt, an end on an interior a point, three ends a
 * point, two branches from one spot in one direction a three-way, interiors crossing a diamond, an end alone a free end. Where the
 * text does not say what holds, the place is written down as `open` and the panel is not compared.
 */
import {
  type Along,
  type Arm,
  apart,
  between,
  meet,
  nearest,
  type Piece,
  piecesOf,
  SAME,
  type Spot,
  spotAt,
  type Tape,
  tapeOf,
  wayOf,
} from './face.ts';

/** Degrees: between these a branch is read. */
const LEAST = 10;
const MOST = 75;
/** Degrees: limits and ties of angles hold within this. */
const EVEN = 1e-6;

/** Half widths of a tape within which two strips that meet may not cross again: the text does not say what that is. */
const BESIDE = 6;

export type Meeting =
  | { readonly kind: 'end'; readonly at: Spot; readonly arm: Arm }
  | { readonly kind: 'butt'; readonly at: Spot; readonly arms: readonly [Arm, Arm] }
  | { readonly kind: 'point'; readonly at: Spot; readonly toe: Arm; readonly legs: readonly [Arm, Arm] }
  | { readonly kind: 'three-way'; readonly at: Spot; readonly toe: Arm; readonly legs: readonly Arm[] }
  | { readonly kind: 'crossing'; readonly at: Spot; readonly lines: readonly [Along, Along] };

export interface Meetings {
  readonly meetings: readonly Meeting[];
  readonly problems: readonly string[];
  readonly open: readonly string[];
}

export function armsOf({ tape, s }: Along): [Arm, Arm] {
  return [
    { tape, s, sense: -1 },
    { tape, s, sense: 1 },
  ];
}

/** Degrees between two straight pieces, whichever way each was laid. */
function acuteBetween(a: Piece, b: Piece): number {
  const along = (piece: Piece): Spot => [piece.b[0] - piece.a[0], piece.b[1] - piece.a[1]];
  const angle = between(along(a), along(b));
  return Math.min(angle, 180 - angle);
}

export function findMeetings(tapes: readonly Tape[]): Meetings {
  const open: string[] = [];
  const problems: string[] = [];
  const meetings: Meeting[] = [];
  const ends: Arm[] = tapes.flatMap((tape) => [
    { tape, s: 0, sense: 1 as const },
    { tape, s: tape.length, sense: -1 as const },
  ]);
  const touching = (a: Arm, b: Arm) => apart(spotAt(a), spotAt(b)) <= Math.max(a.tape.half, b.tape.half) + SAME;

  // Ends that meet, however many, are one group.
  const groups: Arm[][] = [];
  for (const end of ends) {
    const mine = groups.filter((group) => group.some((other) => touching(end, other)));
    const joined = [...mine.flat(), end];
    for (const group of mine) groups.splice(groups.indexOf(group), 1);
    groups.push(joined);
  }
  const taken: { group: Arm[]; throughs: Along[] }[] = groups.map((group) => {
    const throughs: Along[] = [];
    for (const end of group) {
      for (const tape of tapes) {
        const found = nearest(tape, spotAt(end)).find(
          ({ s, gap }) =>
            gap <= tape.half + SAME &&
            !group.some((each) => each.tape === tape && Math.abs(each.s - s) <= 4 * tape.half) &&
            s > SAME &&
            s < tape.length - SAME,
        );
        if (found === undefined) continue;
        if (!throughs.some((each) => each.tape === tape && Math.abs(each.s - found.s) <= 2 * tape.half))
          throughs.push({ tape, s: found.s });
      }
    }
    return { group, throughs };
  });

  for (const { group, throughs } of taken) {
    for (const { tape, s } of throughs)
      if (tape.marks.some((mark) => Math.abs(mark - s) > SAME && Math.abs(mark - s) <= 2 * tape.half))
        open.push(`a branch beside a corner of ${tape.id}`);
    readGroup(group, throughs);
  }

  // Interiors that cross, leaving out those at an end that has met its strip there.
  const crossings: { at: Spot; lines: [Along, Along] }[] = [];
  tapes.forEach((one, i) => {
    tapes.slice(i).forEach((two) => {
      piecesOf(one).forEach((a, m) => {
        piecesOf(two).forEach((b, n) => {
          if (one === two && n <= m) return;
          if (runAlong(a, b, Math.max(one.half, two.half))) {
            open.push(`${one.id} lies along ${two.id}`);
            return;
          }
          const found = meet(a, b);
          if (found === null) return;
          if (found === 'along') {
            open.push(`${one.id} lies along ${two.id}`);
            return;
          }
          if (one === two && Math.abs(found.s - found.r) <= SAME) return;
          const at = spotAt({ tape: one, s: found.s });
          // An end may run over the strip that it meets by half that strip's width, square to it.
          const over = Math.max(one.half, two.half) / Math.sin((Math.max(LEAST, acuteBetween(a, b)) * Math.PI) / 180);
          const metWithin = (reach: number) =>
            taken.some(({ group, throughs }) => {
              const met = [...group, ...throughs];
              const on = (tape: Tape, s: number, list: readonly Along[]) =>
                list.some((each) => each.tape === tape && Math.abs(each.s - s) <= reach + SAME);
              return (
                (on(one, found.s, group) && on(two, found.r, met)) || (on(two, found.r, group) && on(one, found.s, met))
              );
            });
          if (metWithin(over)) return;
          if (metWithin(BESIDE * Math.max(one.half, two.half)))
            open.push(`${one.id} and ${two.id} meet, and cross at once`);
          const inside = (s: number, tape: Tape) => s > SAME && s < tape.length - SAME;
          if (!inside(found.s, one) || !inside(found.r, two)) return;
          if (
            crossings.some(
              (each) => apart(each.at, at) <= SAME && each.lines[0].tape === one && each.lines[1].tape === two,
            )
          )
            return;
          crossings.push({
            at,
            lines: [
              { tape: one, s: found.s },
              { tape: two, s: found.r },
            ],
          });
        });
      });
    });
  });
  for (const { at, lines } of crossings) {
    const near = (other: Spot) => apart(at, other) <= 2 * Math.max(lines[0].tape.half, lines[1].tape.half);
    if (crossings.some((each) => each.lines !== lines && near(each.at))) open.push(`two crossings close by ${at}`);
    if (meetings.some((each) => near(each.at))) open.push(`a crossing close by something else at ${at}`);
    const [a, b] = lines.map((line) => armsOf(line).map(wayOf));
    const [west, east, up, down] = [a?.[0], a?.[1], b?.[0], b?.[1]];
    if (west === undefined || east === undefined || up === undefined || down === undefined) continue;
    const turn = (way: Spot) =>
      (Math.atan2(way[1], way[0]) - Math.atan2(west[1], west[0]) + 4 * Math.PI) % (2 * Math.PI);
    if (turn(up) < turn(east) === turn(down) < turn(east)) open.push(`${lines[0].tape.id} touches ${lines[1].tape.id}`);
    if (Math.min(between(west, up), between(west, down)) < LEAST) open.push(`a flat crossing at ${at}`);
    meetings.push({ kind: 'crossing', at, lines });
  }
  meetings.forEach((one, i) => {
    meetings.slice(i + 1).forEach((two) => {
      if (apart(one.at, two.at) <= 2 * SAME) open.push(`two things at ${one.at}`);
    });
  });
  return { meetings, problems, open };

  /** Whether two straight pieces lie over one another for longer than a crossing that can be read would. */
  function runAlong(a: Piece, b: Piece, half: number): boolean {
    if (acuteBetween(a, b) > LEAST / 2) return false;
    const [one, two] = [a, b].map(({ a: from, b: to }) => tapeOf('', 0, [from, to]));
    if (one === undefined || two === undefined) return false;
    const off = (i: 0 | 1) =>
      Math.max(
        Math.min(a.a[i], a.b[i]) - Math.max(b.a[i], b.b[i]),
        Math.min(b.a[i], b.b[i]) - Math.max(a.a[i], a.b[i]),
      );
    if (off(0) > half || off(1) > half) return false;
    const steps = Math.ceil(one.length);
    const over = Array.from({ length: steps + 1 }, (_, i) => spotAt({ tape: one, s: (one.length * i) / steps })).filter(
      (spot) => (nearest(two, spot)[0]?.gap ?? half) < half,
    );
    return over.length > 2 * half + 1;
  }

  function freeEnd(arm: Arm): void {
    meetings.push({ kind: 'end', at: spotAt(arm), arm });
  }

  function readGroup(group: Arm[], throughs: Along[]): void {
    const [first, second, third] = group;
    const [through] = throughs;
    if (first === undefined) return;
    const at = spotAt(first);
    if (throughs.length > 1 || group.length > 3 || (through !== undefined && group.length > 2)) {
      open.push(`${group.length} ends and ${throughs.length} strips at ${at}`);
    } else if (through === undefined) {
      if (second === undefined) freeEnd(first);
      else if (third === undefined) {
        if (between(wayOf(first), wayOf(second)) < 90) open.push(`a butt that turns back at ${at}`);
        else meetings.push({ kind: 'butt', at, arms: [first, second] });
      } else readThree(at, [first, second, third]);
    } else if (second === undefined) readBranch(first, through);
    else readTwo(first, second, through);
  }

  function readThree(at: Spot, arms: readonly [Arm, Arm, Arm]): void {
    const found = arms.flatMap((toe) => {
      const [one, two] = arms.filter((arm) => arm !== toe);
      if (one === undefined || two === undefined) return [];
      const angle = between(wayOf(one), wayOf(two));
      const away = [one, two].every((leg) => between(wayOf(leg), wayOf(toe)) >= 90);
      return away && angle >= LEAST - EVEN && angle <= MOST + EVEN ? [{ toe, legs: [one, two] as const }] : [];
    });
    const [only] = found;
    // The text gives limits for the angle of a branch, not for how far a leg may turn from the toe.
    const turns = only?.legs.some((leg) => 180 - between(wayOf(leg), wayOf(only.toe)) > MOST);
    if (only === undefined || found.length > 1 || turns) open.push(`three ends at ${at}`);
    else {
      const spots = arms.map(spotAt);
      const mean = (i: 0 | 1) => spots.reduce((sum, spot) => sum + spot[i], 0) / 3;
      meetings.push({ kind: 'point', at: [mean(0), mean(1)], ...only });
    }
  }

  /** The heel leg and the toe that a branch makes of a strip: the leg is on the side of the acute angle. */
  function sides(branch: Arm, through: Along): { toe: Arm; leg: Arm; angle: number; other: number } {
    const [back, ahead] = armsOf(through);
    const [a, b] = [between(wayOf(branch), wayOf(back)), between(wayOf(branch), wayOf(ahead))];
    return a < b ? { toe: ahead, leg: back, angle: a, other: b } : { toe: back, leg: ahead, angle: b, other: a };
  }

  function readable(branch: Arm, through: Along): boolean {
    const { toe, leg, angle, other } = sides(branch, through);
    if (between(wayOf(toe), wayOf(leg)) < 90) open.push(`a branch at a sharp corner of ${through.tape.id}`);
    if (angle >= LEAST - EVEN && angle <= MOST + EVEN) {
      if (other < 90) open.push(`a branch to either side of a corner of ${through.tape.id}`);
      return true;
    }
    problems.push(angle > MOST ? 'end-too-square' : 'end-too-flat');
    freeEnd(branch);
    return false;
  }

  function readBranch(branch: Arm, through: Along): void {
    if (!readable(branch, through)) return;
    const { toe, leg } = sides(branch, through);
    meetings.push({ kind: 'point', at: spotAt(through), toe, legs: [leg, branch] });
  }

  function readTwo(first: Arm, second: Arm, through: Along): void {
    const read = [first, second].filter((branch) => {
      const { angle } = sides(branch, through);
      return angle >= LEAST - EVEN && angle <= MOST + EVEN;
    });
    if (read.length < 2) {
      open.push(`two ends at one spot of ${through.tape.id}, not both to be read`);
      return;
    }
    if (apart(spotAt(first), spotAt(second)) > 0.02) open.push(`two ends close together on ${through.tape.id}`);
    const [one, two] = [sides(first, through), sides(second, through)];
    if (!readable(first, through) || !readable(second, through)) return;
    if (one.toe.sense !== two.toe.sense)
      open.push(`two branches from one spot of ${through.tape.id} in two directions`);
    else if (between(wayOf(first), wayOf(second)) < LEAST)
      open.push(`two branches close together on ${through.tape.id}`);
    else meetings.push({ kind: 'three-way', at: spotAt(through), toe: one.toe, legs: [one.leg, first, second] });
  }
}
