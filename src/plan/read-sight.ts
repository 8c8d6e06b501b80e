/**
 * What ends that lie together, or one alone, mean: a point, a branch, a butt, a crossing, a free end, or a problem.
 * Hangs on the sight alone and the lines in it. Rules: SPEC.md, JN.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { angleOfLines, type Branch, readBranch } from './branch.ts';
import type { LineEnd, Meet, Miss, Sight } from './find-ends.ts';
import { angleBetween, distance, heading, type Line, spotAlong } from './line.ts';
import { bend, type Port, portOf } from './port.ts';
import { ANGLE_SLACK, BRANCH_LEAST, BRANCH_MOST, BUTT_KINK_MOST, STRAIGHT_ON } from './tolerances.ts';
import type { Butt, PlanProblem } from './types.ts';

interface Junction {
  readonly at: Spot;
  /** Half the width of the tape that is met: what a record's reach counts from. */
  readonly half: Millimetre;
}

/** Ports: toe, then the heel legs; of a point first the one that carries on along the met strip, where there is one. */
export interface RawPoint extends Junction {
  readonly kind: 'point' | 'three-way';
  readonly ports: readonly Port[];
}

/** Ports: both ways of the line laid first, then of the other. */
export interface RawCrossing extends Junction {
  readonly kind: 'crossing';
  readonly ports: readonly Port[];
  readonly lines: readonly [Line, Line];
  /** Ends of strips that meet here: where the crossing is a bridge they carry on into each other. */
  readonly seams: readonly (readonly [LineEnd, LineEnd])[];
}

export interface RawEnd extends Junction {
  readonly kind: 'end';
  readonly ports: readonly Port[];
  /** The problem that made it stay free, or that it is, is told elsewhere. */
  readonly end: LineEnd;
}

export type RawFeature = RawPoint | RawCrossing | RawEnd;

/** Spots of lines that lie together: interiors do not cross where they are joined. */
export interface Together {
  readonly kind: 'together';
  readonly spots: readonly { readonly line: Line; readonly along: Millimetre }[];
  readonly half: Millimetre;
}

/** One thing that a sight tells. */
export type Told =
  | RawFeature
  | Together
  | { readonly kind: 'branch'; readonly branch: Branch }
  /** Ends that carry on into each other. */
  | { readonly kind: 'joint'; readonly ends: readonly [LineEnd, LineEnd] }
  | { readonly kind: 'butt'; readonly butt: Butt }
  | { readonly kind: 'problem'; readonly problem: PlanProblem }
  | { readonly kind: 'miss'; readonly end: LineEnd; readonly miss: Miss; readonly problem: PlanProblem };

/** In the order in which it is found. */
export function readSight(sight: Sight): readonly Told[] {
  const told: Told[] = [];
  readEnds(sight.ends);
  return told;

  function attachAll(ends: readonly LineEnd[], more: readonly Meet[] = []): void {
    const spots = [...ends, ...more].map(({ line, along }) => ({ line, along }));
    told.push({ kind: 'together', spots, half: Math.max(...spots.map(({ line }) => line.half)) });
  }

  function leaveAmbiguous(ends: readonly LineEnd[], also: readonly Line[] = []): void {
    told.push(...ambiguous(ends, also));
  }

  function problem(found: PlanProblem): void {
    told.push({ kind: 'problem', problem: found });
  }

  function meetAt(end: LineEnd): Meet | null {
    const met = sight.meets[sight.ends.indexOf(end)] ?? null;
    return met === null || 'two' in met ? null : met;
  }

  function readEnds(ends: readonly LineEnd[]): void {
    const [a, b] = ends;
    if (a === undefined) return;
    const two = sight.meets.find((met) => met !== null && 'two' in met);
    if (two !== undefined && two !== null && 'two' in two) {
      attachAll(ends, two.two);
      leaveAmbiguous(
        ends,
        two.two.map((meet) => meet.line),
      );
      return;
    }
    if (b === undefined) readLone(a);
    else if (ends.length === 2) readPair(a, b);
    else readMany(ends);
  }

  function readLone(end: LineEnd): void {
    const met = meetAt(end);
    if (met !== null) {
      takeBranch(end, met);
      return;
    }
    told.push(freeEnd(end));
    const { miss } = sight;
    if (miss === null) return;
    const found: PlanProblem = {
      code: 'end-misses',
      strip: end.line.id,
      onto: miss.line.id,
      at: end.spot,
      gap: miss.gap,
      snapTo: spotAlong(miss.line, miss.along),
    };
    told.push({ kind: 'miss', end, miss, problem: found });
  }

  function takeBranch(end: LineEnd, met: Meet): void {
    attachAll([end], [met]);
    const read = readBranch(end, met);
    if ('code' in read) {
      told.push(freeEnd(end));
      problem(read);
    } else told.push({ kind: 'branch', branch: read });
  }

  function readPair(a: LineEnd, b: LineEnd): void {
    const [onA, onB] = [meetAt(a), meetAt(b)];
    if (onA === null || onB === null) {
      joinEnds(a, b);
      return;
    }
    if (onA.line !== onB.line || Math.abs(onA.along - onB.along) > 2 * (onA.line.half + a.line.half)) {
      attachAll([a, b], [onA, onB]);
      leaveAmbiguous([a, b], [onA.line, onB.line]);
      return;
    }
    const kink = kinkOf(a, b);
    const half = onA.line.half;
    const ahead = heading(onA.line, onA.along, 1, half);
    const opposite = sideOf(ahead, portOf(a, half).toward) !== sideOf(ahead, portOf(b, half).toward);
    if (opposite && kink <= BUTT_KINK_MOST) {
      // A seam on a strip that it crosses: the eye sees no seam.
      attachAll([a, b], [onA, onB]);
      const crossing = crossingOf(
        spotAlong(onA.line, onA.along),
        [onA.line, (onA.along + onB.along) / 2],
        [portOf(a, half), portOf(b, half)],
        a.line.order <= b.line.order ? a.line : b.line,
        [[a, b]],
      );
      told.push(crossing);
      addButt(a, b, kink);
      return;
    }
    takeBranch(a, onA);
    takeBranch(b, onB);
  }

  function joinEnds(a: LineEnd, b: LineEnd): void {
    attachAll([a, b]);
    told.push({ kind: 'joint', ends: [a, b] });
    const kink = kinkOf(a, b);
    addButt(a, b, kink);
    if (kink > BUTT_KINK_MOST + ANGLE_SLACK)
      problem({ code: 'butt-kink', strips: [a.line.id, b.line.id], at: a.spot, kink });
  }

  function addButt(a: LineEnd, b: LineEnd, kink: number): void {
    told.push({ kind: 'butt', butt: { at: a.spot, strips: [a.line.id, b.line.id], kink } });
  }

  function readMany(ends: readonly LineEnd[]): void {
    const half = Math.max(...ends.map((end) => end.line.half));
    const ports = ends.map((end) => portOf(end, half));
    const others = ends.map(meetAt).filter((met) => met !== null);
    if (others.length > 0) {
      attachAll(ends, others);
      leaveAmbiguous(
        ends,
        others.map((met) => met.line),
      );
      return;
    }
    attachAll(ends);
    const toes = ports.filter((toe) =>
      ports.every((leg) => leg === toe || bend(toe, leg) <= BRANCH_MOST + ANGLE_SLACK),
    );
    const [toe] = toes;
    // A toe with four legs or more is nothing of the trade.
    if (toe !== undefined && toes.length === 1 && ends.length <= 4) {
      const legs = ports.filter((port) => port !== toe);
      if (legsApart(legs)) {
        // Where the spot of a joint lies does not hang on the order of the strips.
        const at = middleOf(ends.map((end) => end.spot));
        legs.sort((p, q) => bend(toe, p) - bend(toe, q) || p.line.order - q.line.order || p.along - q.along);
        told.push({ kind: ends.length === 3 ? 'point' : 'three-way', at, half, ports: [toe, ...legs] });
        return;
      }
    }
    if (ends.length === 4 && readFour(ends, ports, half)) return;
    if (ends.length === 3 && readStraightOn(ends, ports)) return;
    leaveAmbiguous(ends);
  }

  /** Four ends that are two straight lines: a crossing laid in four pieces. */
  function readFour(ends: readonly LineEnd[], ports: readonly Port[], half: Millimetre): boolean {
    const ways = [
      [0, 1, 2, 3],
      [0, 2, 1, 3],
      [0, 3, 1, 2],
    ].map((order) => order.flatMap((i) => ports[i] ?? []));
    const straight = ways.filter(
      ([a, b, c, d]) =>
        a !== undefined &&
        b !== undefined &&
        c !== undefined &&
        d !== undefined &&
        bend(a, b) <= STRAIGHT_ON &&
        bend(c, d) <= STRAIGHT_ON,
    );
    const [only] = straight;
    if (straight.length !== 1 || only === undefined) return false;
    const laid = (pair: readonly Port[]) => Math.min(...pair.map((port) => port.line.order));
    const pairs = [only.slice(0, 2), only.slice(2)].sort((a, b) => laid(a) - laid(b));
    const lineOf = (pair: readonly Port[] = []) => pair.map(({ line }) => line).sort((a, b) => a.order - b.order)[0];
    const [one, two] = [lineOf(pairs[0]), lineOf(pairs[1])];
    if (one === undefined || two === undefined) return false;
    const seams = pairs.flatMap((pair) => {
      const [a, b] = pair.flatMap((port) => ends[ports.indexOf(port)] ?? []);
      return a === undefined || b === undefined ? [] : [[a, b] as const];
    });
    const at = middleOf(ends.map((end) => end.spot));
    told.push({ kind: 'crossing', at, half, ports: pairs.flat(), lines: [one, two], seams });
    for (const [a, b] of seams) addButt(a, b, kinkOf(a, b));
    return true;
  }

  /** Two of three ends lie straight, the third cannot be read: the line carries on, the third is read as ending on it. */
  function readStraightOn(ends: readonly LineEnd[], ports: readonly Port[]): boolean {
    for (const [i, j, k] of [
      [0, 1, 2],
      [0, 2, 1],
      [1, 2, 0],
    ] as const) {
      const [a, b, odd] = [ends[i], ends[j], ends[k]];
      const [p, q, r] = [ports[i], ports[j], ports[k]];
      if (!a || !b || !odd || !p || !q || !r || bend(p, q) > STRAIGHT_ON) continue;
      told.push({ kind: 'joint', ends: [a, b] });
      addButt(a, b, kinkOf(a, b));
      told.push(freeEnd(odd));
      const angle = Math.min(angleBetween(p.toward, r.toward), angleBetween(q.toward, r.toward));
      const where = { strip: odd.line.id, onto: a.line.id, at: odd.spot, angle };
      if (angle < BRANCH_LEAST) problem({ code: 'end-too-flat', ...where });
      else problem({ code: 'end-too-square', ...where, swingTo: odd.spot });
      return true;
    }
    return false;
  }
}

/** An end that stays free. */
export function freeEnd(end: LineEnd): RawEnd {
  return { kind: 'end', at: end.spot, half: end.line.half, ports: [portOf(end, end.line.half)], end };
}

/** Ends that stay free because it cannot be told what they join, and the strips that they might. */
export function ambiguous(ends: readonly LineEnd[], also: readonly Line[] = []): readonly Told[] {
  const [first] = ends;
  if (first === undefined) return [];
  const strips = [...new Set([...ends.map((end) => end.line), ...also].map((line) => line.id))];
  return [...ends.map(freeEnd), { kind: 'problem', problem: { code: 'ends-ambiguous', strips, at: first.spot } }];
}

/** The crossing of a line, at a spot on it, by another; the ports of the other are given. */
export function crossingOf(
  at: Spot,
  [line, along]: readonly [Line, Millimetre],
  first: readonly Port[],
  of: Line,
  seams: RawCrossing['seams'] = [],
): RawCrossing {
  const half = Math.max(line.half, of.half);
  const second = ([-1, 1] as const).map((way) => ({ line, along, way, toward: heading(line, along, way, half) }));
  const ordered = of.order <= line.order;
  return {
    kind: 'crossing',
    at,
    half,
    ports: ordered ? [...first, ...second] : [...second, ...first],
    lines: ordered ? [of, line] : [line, of],
    seams,
  };
}

function kinkOf(a: LineEnd, b: LineEnd): number {
  const half = Math.max(a.line.half, b.line.half);
  return bend(portOf(a, half), portOf(b, half));
}

/** Are legs far enough from each other to be told apart? */
export function legsApart(legs: readonly Port[]): boolean {
  return legs.every((a, i) =>
    legs.slice(i + 1).every((b) => angleBetween(a.toward, b.toward) >= BRANCH_LEAST - ANGLE_SLACK),
  );
}

function sideOf(ahead: Spot, toward: Spot): boolean {
  return angleOfLines(ahead, toward).right;
}

function middleOf(spots: readonly Spot[]): Spot {
  const first = spots[0] ?? [0, 0];
  if (spots.every((spot) => distance(spot, first) === 0)) return first;
  const sum = (i: 0 | 1) =>
    spots
      .map((spot) => spot[i])
      .sort((a, b) => a - b)
      .reduce((total, x) => total + x, 0);
  return [sum(0) / spots.length, sum(1) / spots.length];
}
