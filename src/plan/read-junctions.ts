/**
 * From what lies near to what it means: points, three-ways, crossings, butts and free ends, and what cannot be read.
 * Nothing is numbered here. Rules: SPEC.md, JN and CR.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { angleOfLines, type Branch, readBranch } from './branch.ts';
import { findCrossings } from './find-crossings.ts';
import { findEnds, type LineEnd, type Meet } from './find-ends.ts';
import { angleBetween, distance, heading, type Line, spotAlong, type Way } from './line.ts';
import { bend, type Port, portOf } from './port.ts';
import { indexSegments } from './segment-grid.ts';
import {
  ANGLE_SLACK,
  BRANCH_LEAST,
  BRANCH_MOST,
  BUTT_KINK_MOST,
  JOINT_TAIL,
  SAME_SPOT,
  STRAIGHT_ON,
} from './tolerances.ts';
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

export interface Junctions {
  readonly points: readonly RawPoint[];
  readonly crossings: readonly RawCrossing[];
  readonly freeEnds: readonly RawEnd[];
  /** Pairs of ends that carry on into each other. */
  readonly joints: readonly (readonly [LineEnd, LineEnd])[];
  readonly butts: readonly Butt[];
  readonly problems: readonly PlanProblem[];
  /** Free ends that nearly join something; a place with a name takes the doubt away. */
  readonly misses: readonly { readonly end: LineEnd; readonly problem: PlanProblem }[];
}

export function readJunctions(lines: readonly Line[]): Junctions {
  const grid = indexSegments(lines);
  const found = findEnds(lines, grid);
  const crossed = findCrossings(lines, grid);
  const points: RawPoint[] = [];
  const crossings: RawCrossing[] = [];
  const freeEnds: RawEnd[] = [];
  const joints: (readonly [LineEnd, LineEnd])[] = [];
  const butts: Butt[] = [];
  const problems: PlanProblem[] = [];
  const misses: { end: LineEnd; problem: PlanProblem }[] = [];
  const branches: Branch[] = [];
  /** What lies together at one spot: interiors do not cross where they are joined. */
  const attached = new Map<Line, { readonly along: Millimetre; readonly group: object; readonly half: Millimetre }[]>();

  for (const cluster of found.clusters) readCluster(cluster);
  readBranches();
  readHits();
  for (const { lines: pair, at, length } of crossed.overlaps) {
    problems.push({ code: 'strips-overlap', strips: [pair[0].id, pair[1].id], at, length });
  }
  if (crossed.cut) {
    const last = crossed.hits[crossed.hits.length - 1];
    if (last !== undefined)
      problems.push({ code: 'crossing-unreadable', strips: last.lines.map((line) => line.id), at: last.spot });
  }
  return { points, crossings, freeEnds, joints, butts, problems, misses };

  function attach(group: object, line: Line, along: Millimetre, half: Millimetre): void {
    const entry = { along, group, half };
    const known = attached.get(line);
    if (known === undefined) attached.set(line, [entry]);
    else known.push(entry);
  }

  function attachAll(ends: readonly LineEnd[], more: readonly Meet[] = []): void {
    const group = {};
    const half = Math.max(...ends.map((end) => end.line.half), ...more.map((meet) => meet.line.half));
    for (const { line, along } of [...ends, ...more]) attach(group, line, along, half);
  }

  function leaveFree(end: LineEnd): void {
    freeEnds.push({ kind: 'end', at: end.spot, half: end.line.half, ports: [portOf(end, end.line.half)], end });
  }

  function leaveAmbiguous(ends: readonly LineEnd[], also: readonly Line[] = []): void {
    const [first] = ends;
    if (first === undefined) return;
    for (const end of ends) leaveFree(end);
    const strips = [...new Set([...ends.map((end) => end.line), ...also].map((line) => line.id))];
    problems.push({ code: 'ends-ambiguous', strips, at: first.spot });
  }

  function meetAt(end: LineEnd): Meet | null {
    const met = found.meets[end.index] ?? null;
    return met === null || 'two' in met ? null : met;
  }

  function readCluster(ends: readonly LineEnd[]): void {
    const [a, b] = ends;
    if (a === undefined) return;
    const two = ends.map((end) => found.meets[end.index] ?? null).find((met) => met !== null && 'two' in met);
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
    leaveFree(end);
    const miss = found.misses[end.index] ?? null;
    if (miss === null) return;
    // A gap between two ends is told once.
    if (miss.end !== null && miss.end < end.index && found.misses[miss.end]?.end === end.index) return;
    const snapTo = spotAlong(miss.line, miss.along);
    const problem: PlanProblem = {
      code: 'end-misses',
      strip: end.line.id,
      onto: miss.line.id,
      at: end.spot,
      gap: miss.gap,
      snapTo,
    };
    misses.push({ end, problem });
  }

  function takeBranch(end: LineEnd, met: Meet): void {
    attachAll([end], [met]);
    const read = readBranch(end, met);
    if ('code' in read) {
      leaveFree(end);
      problems.push(read);
    } else branches.push(read);
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
      addCrossing(
        spotAlong(onA.line, onA.along),
        [onA.line, (onA.along + onB.along) / 2],
        [portOf(a, half), portOf(b, half)],
        a.line.index <= b.line.index ? a.line : b.line,
        [[a, b]],
      );
      addButt(a, b, kink);
      return;
    }
    takeBranch(a, onA);
    takeBranch(b, onB);
  }

  function joinEnds(a: LineEnd, b: LineEnd): void {
    attachAll([a, b]);
    joints.push([a, b]);
    const kink = kinkOf(a, b);
    addButt(a, b, kink);
    if (kink > BUTT_KINK_MOST + ANGLE_SLACK)
      problems.push({ code: 'butt-kink', strips: [a.line.id, b.line.id], at: a.spot, kink });
  }

  function addButt(a: LineEnd, b: LineEnd, kink: number): void {
    butts.push({ at: a.spot, strips: [a.line.id, b.line.id], kink });
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
        legs.sort((p, q) => bend(toe, p) - bend(toe, q) || p.line.index - q.line.index || p.along - q.along);
        points.push({ kind: ends.length === 3 ? 'point' : 'three-way', at, half, ports: [toe, ...legs] });
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
    const laid = (pair: readonly Port[]) => Math.min(...pair.map((port) => port.line.index));
    const pairs = [only.slice(0, 2), only.slice(2)].sort((a, b) => laid(a) - laid(b));
    const lineOf = (pair: readonly Port[] = []) => pair.map(({ line }) => line).sort((a, b) => a.index - b.index)[0];
    const [one, two] = [lineOf(pairs[0]), lineOf(pairs[1])];
    if (one === undefined || two === undefined) return false;
    const seams = pairs.flatMap((pair) => {
      const [a, b] = pair.flatMap((port) => ends[ports.indexOf(port)] ?? []);
      return a === undefined || b === undefined ? [] : [[a, b] as const];
    });
    const at = middleOf(ends.map((end) => end.spot));
    crossings.push({ kind: 'crossing', at, half, ports: pairs.flat(), lines: [one, two], seams });
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
      joints.push([a, b]);
      addButt(a, b, kinkOf(a, b));
      leaveFree(odd);
      const angle = Math.min(angleBetween(p.toward, r.toward), angleBetween(q.toward, r.toward));
      const told = { strip: odd.line.id, onto: a.line.id, at: odd.spot, angle };
      if (angle < BRANCH_LEAST) problems.push({ code: 'end-too-flat', ...told });
      else problems.push({ code: 'end-too-square', ...told, swingTo: odd.spot });
      return true;
    }
    return false;
  }

  /** Branches on one strip: alone a point; two that leave the same way from one spot a three-way. */
  function readBranches(): void {
    const byLine = new Map<Line, Branch[]>();
    for (const branch of branches) {
      const known = byLine.get(branch.met.line);
      if (known === undefined) byLine.set(branch.met.line, [branch]);
      else known.push(branch);
    }
    for (const [line, on] of byLine) {
      on.sort((a, b) => a.met.along - b.met.along || a.end.index - b.end.index);
      let spot: Branch[] = [];
      for (const branch of on) {
        const before = spot[spot.length - 1];
        if (before !== undefined && branch.met.along - before.met.along > line.half) {
          readSpot(line, spot);
          spot = [];
        }
        spot.push(branch);
      }
      readSpot(line, spot);
    }
  }

  function readSpot(line: Line, spot: readonly Branch[]): void {
    const [first, second] = spot;
    if (first === undefined) return;
    const together = {};
    for (const { end, met } of spot) {
      attach(together, end.line, end.along, line.half);
      attach(together, met.line, met.along, line.half);
    }
    const readable = spot.length === 2 && second !== undefined && first.way === second.way;
    if (spot.length > 1 && !(readable && legsApart([first.leg, second.leg]))) {
      leaveAmbiguous(
        spot.map((branch) => branch.end),
        [line],
      );
      return;
    }
    const along = spot.reduce((sum, branch) => sum + branch.met.along, 0) / spot.length;
    const port = (way: Way): Port => ({ line, along, way, toward: heading(line, along, way, line.half) });
    const [toe, on] = [port(first.way === 1 ? -1 : 1), port(first.way)];
    points.push({
      kind: spot.length === 1 ? 'point' : 'three-way',
      at: tidySpot(
        spotAlong(line, along),
        spot.map((branch) => branch.end.spot),
      ),
      half: line.half,
      ports: [toe, on, ...spot.map((branch) => branch.leg)],
    });
  }

  function readHits(): void {
    for (const { lines: pair, alongs, spot, crosses } of crossed.hits) {
      if (joinedNear(pair, alongs)) continue;
      if (!crosses) {
        problems.push({ code: 'crossing-unreadable', strips: [...new Set([pair[0].id, pair[1].id])], at: spot });
        continue;
      }
      const half = Math.max(pair[0].half, pair[1].half);
      const port = (line: Line, along: number, way: Way): Port => ({
        line,
        along,
        way,
        toward: heading(line, along, way, half),
      });
      addCrossing(spot, [pair[1], alongs[1]], [port(pair[0], alongs[0], -1), port(pair[0], alongs[0], 1)], pair[0]);
    }
  }

  function joinedNear(pair: readonly [Line, Line], alongs: readonly [number, number]): boolean {
    const [one, two] = pair.map((line, i) =>
      (attached.get(line) ?? []).filter(({ along, half }) => Math.abs(along - (alongs[i] ?? 0)) <= JOINT_TAIL * half),
    );
    return (one ?? []).some((a) => (two ?? []).some((b) => b !== a && b.group === a.group));
  }

  function addCrossing(
    at: Spot,
    [line, along]: readonly [Line, number],
    first: readonly Port[],
    of: Line,
    seams: RawCrossing['seams'] = [],
  ): void {
    const half = Math.max(line.half, of.half);
    const second = ([-1, 1] as const).map((way) => ({ line, along, way, toward: heading(line, along, way, half) }));
    const ordered = of.index <= line.index;
    crossings.push({
      kind: 'crossing',
      at,
      half,
      ports: ordered ? [...first, ...second] : [...second, ...first],
      lines: ordered ? [of, line] : [line, of],
      seams,
    });
  }
}

/** A spot as the file has it, where the sum along a strip comes to the same but for rounding. */
function tidySpot(spot: Spot, given: readonly Spot[]): Spot {
  return given.find((other) => distance(other, spot) <= SAME_SPOT) ?? spot;
}

function kinkOf(a: LineEnd, b: LineEnd): number {
  const half = Math.max(a.line.half, b.line.half);
  return bend(portOf(a, half), portOf(b, half));
}

function legsApart(legs: readonly Port[]): boolean {
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
