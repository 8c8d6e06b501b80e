/**
 * What is wrong with the sheet: holes, what stands behind it, tools, bats, tape, plates. Everything is looked for among its
 * neighbours only (a grid), so that a thousand levers and lamps cost about a thousand times one.
 */

import { byId } from '../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { tapeOnPaint } from './colours.ts';
import { BoxGrid } from './grid.ts';
import { fromStroke, gap } from './path.ts';
import { type Box, boxAbout, boxesOverlap, boxOf, boxToSpot, grown, oblongsOverlap, oblongToSpot } from './shapes.ts';
import {
  BAT_WIDTH,
  BATS_CLEAR,
  BENT_WIRES,
  HOLE_TO_EDGE,
  HOLE_WEB,
  LEAST_CONTRAST,
  LEAST_LETTERING,
  NO_LENGTH,
  SCREW_HEAD,
  TAPE_THREAD,
  TOUCH,
} from './tolerances.ts';
import type { DrawnLamp, Face, FaceProblem, Hole } from './types.ts';

/** What stands behind the sheet round a hole: a switch or a button. */
export interface Body {
  readonly id: string;
  readonly at: Spot;
  readonly size: readonly [Millimetre, Millimetre];
  readonly angle: Degree;
  /** Behind the sheet; null where the part does not say. */
  readonly depth: Millimetre | null;
}

export interface ProblemInput {
  readonly face: Omit<Face, 'problems'>;
  readonly bodies: readonly Body[];
  /** Holes of one thing (a bush and its tab) are meant to stand so: both go by this name. */
  readonly owner: readonly (readonly [hole: string, owner: string])[];
  readonly keepOut: readonly Box[];
  /** Clear depth behind the sheet; null: not known. */
  readonly boxDepth: Millimetre | null;
  readonly paint: string;
}

/** In the order of the codes below, then by ids. */
const ORDER: readonly FaceProblem['code'][] = [
  'off-the-face',
  'holes-clash',
  'hole-near-edge',
  'bodies-clash',
  'body-over-hole',
  'nut-driver-fouls',
  'bats-too-close',
  'hole-cuts-tape',
  'lettering-small',
  'plates-overlap',
  'plate-hides',
  'in-keep-out',
  'box-too-shallow',
  'tape-on-paint',
];

/** Every problem of the sheet, in the order of the codes and then of the ids. */
export function findProblems(input: ProblemInput): readonly FaceProblem[] {
  const problems = [
    ...offTheFace(input),
    ...holesClash(input),
    ...bodiesClash(input),
    ...nutDriversFoul(input),
    ...batsTooClose(input),
    ...holesCutTape(input),
    ...plateProblems(input),
    ...inKeepOut(input),
    ...boxTooShallow(input),
    ...tapeOnPaintProblems(input),
  ];
  const key = (problem: FaceProblem): readonly string[] =>
    'ids' in problem
      ? problem.ids
      : 'other' in problem
        ? [problem.id, problem.other]
        : 'hole' in problem
          ? [problem.id, problem.hole]
          : 'plate' in problem
            ? [problem.plate, problem.id]
            : 'strip' in problem
              ? 'id' in problem
                ? [problem.id, problem.strip]
                : [problem.strip]
              : [problem.id];
  const compare = (a: readonly string[], b: readonly string[]): number =>
    byId(a[0] ?? '', b[0] ?? '') || byId(a[1] ?? '', b[1] ?? '');
  return problems
    .map((problem) => ({ problem, code: ORDER.indexOf(problem.code), ids: key(problem) }))
    .sort((a, b) => a.code - b.code || compare(a.ids, b.ids))
    .map(({ problem }) => problem);
}

const middle = (a: Spot, b: Spot): Spot => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
const round = ({ at, drill }: { readonly at: Spot; readonly drill: Millimetre }): Box => boxAbout(at, drill, drill);

/** How far a spot is inside the sheet; below 0 outside. */
function inside(
  [x, y]: Spot,
  { width, height }: { readonly width: Millimetre; readonly height: Millimetre },
): Millimetre {
  return Math.min(x, y, width - x, height - y);
}

function offTheFace({ face }: ProblemInput): FaceProblem[] {
  const found: FaceProblem[] = [];
  for (const { id, at, drill } of face.holes) {
    if (inside(at, face) < 0) {
      found.push({ code: 'off-the-face', id, at });
      continue;
    }
    const left = inside(at, face) - drill / 2;
    if (left < HOLE_TO_EDGE - NO_LENGTH) found.push({ code: 'hole-near-edge', id, at, gap: left, least: HOLE_TO_EDGE });
  }
  for (const { id, strokes } of face.strips) {
    const spots = strokes.flatMap((stroke) => [stroke.from, stroke.to]);
    const outside = spots.find((spot) => inside(spot, face) < -TOUCH);
    if (outside !== undefined) found.push({ code: 'off-the-face', id, at: outside });
  }
  for (const { id, at } of face.relays) if (inside(at, face) < 0) found.push({ code: 'off-the-face', id, at });
  for (const { id, at, width, height } of face.plates) {
    const box = boxAbout(at, width, height);
    if (Math.min(inside([box[0], box[1]], face), inside([box[2], box[3]], face)) < -TOUCH)
      found.push({ code: 'off-the-face', id, at });
  }
  return found;
}

function holesClash({ face, owner: owners }: ProblemInput): FaceProblem[] {
  const owner = new Map(owners);
  return pairsOf(face.holes, (hole) => grown(round(hole), HOLE_WEB)).flatMap(([a, b]): FaceProblem[] => {
    if ((owner.get(a.id) ?? a.id) === (owner.get(b.id) ?? b.id)) return [];
    const web = gap(a.at, b.at) - a.drill / 2 - b.drill / 2;
    if (web >= HOLE_WEB - NO_LENGTH) return [];
    return [{ code: 'holes-clash', ids: [a.id, b.id], at: middle(a.at, b.at), gap: web, least: HOLE_WEB }];
  });
}

function bodiesClash({ face, bodies }: ProblemInput): FaceProblem[] {
  const found: FaceProblem[] = pairsOf(bodies, boxOf).flatMap(([a, b]): FaceProblem[] => {
    const overlap = oblongsOverlap(a, b);
    return overlap > TOUCH ? [{ code: 'bodies-clash', ids: [a.id, b.id], at: middle(a.at, b.at), overlap }] : [];
  });
  const others = face.holes.filter((hole) => hole.what === 'lamp' || hole.what === 'fixing');
  const grid = gridOf(others, round);
  for (const body of bodies) {
    for (const number of grid.near(boxOf(body))) {
      const hole = others[number];
      if (hole === undefined || oblongToSpot(body, hole.at) >= hole.drill / 2 - NO_LENGTH) continue;
      found.push({ code: 'body-over-hole', id: body.id, hole: hole.id, at: hole.at });
    }
  }
  return found;
}

interface Round {
  readonly id: string;
  readonly at: Spot;
  readonly drill: Millimetre;
}

/** Of a lamp of two colours, whose elements share a hole, the first. */
function lampsOnce({ lamps, holes }: ProblemInput['face']): readonly DrawnLamp[] {
  const inHole = new Set<string>();
  const ids = new Set(holes.map(({ id }) => id));
  return lamps.filter(({ id, at }) => {
    if (ids.has(id)) return true;
    const spot = at.join(' ');
    const first = !inHole.has(spot);
    inHole.add(spot);
    return first;
  });
}

/** Bodies of which nothing stands in front of the sheet but what is drawn there already: levers, and relays. */
function behindOnly({ levers, relays }: ProblemInput['face']): ReadonlySet<string> {
  return new Set([...levers, ...relays].map(({ id }) => id));
}

/** What a nut driver turns into: nuts, lamps, heads of screws, buttons. */
function nutDriversFoul({ face, bodies }: ProblemInput): FaceProblem[] {
  const levers = behindOnly(face);
  const rounds: readonly Round[] = [
    ...face.levers.map(({ id, at, nut }) => ({ id, at, drill: nut })),
    ...lampsOnce(face).map(({ id, at, size }) => ({ id, at, drill: size })),
    ...face.fixings.map(({ id, at, drill }) => ({ id, at, drill: drill * SCREW_HEAD })),
    ...bodies.filter(({ id }) => !levers.has(id)).map(({ id, at, size }) => ({ id, at, drill: Math.min(...size) })),
  ];
  const grid = gridOf(rounds, round);
  const driverOf = new Map(face.levers.map((lever) => [lever.id, lever.driver]));
  return face.levers.flatMap(({ id, at, driver }) =>
    grid.near(boxAbout(at, driver, driver)).flatMap((number): FaceProblem[] => {
      const other = rounds[number];
      if (other === undefined || other.id === id) return [];
      const between = gap(at, other.at) - driver / 2 - other.drill / 2;
      if (between >= -NO_LENGTH) return [];
      // Of two nuts the greater driver says it, or the first of equals.
      const theirs = driverOf.get(other.id);
      if (theirs !== undefined && (theirs > driver || (theirs === driver && byId(other.id, id) < 0))) return [];
      return [{ code: 'nut-driver-fouls', id, other: other.id, at: middle(at, other.at), gap: between }];
    }),
  );
}

function batsTooClose({ face }: ProblemInput): FaceProblem[] {
  const reach = (nut: Millimetre): Millimetre => BATS_CLEAR + nut * BAT_WIDTH;
  return pairsOf(face.levers, ({ at, nut }) => boxAbout(at, reach(nut), reach(nut))).flatMap(
    ([a, b]): FaceProblem[] => {
      const clear = gap(a.at, b.at) - ((a.nut + b.nut) / 2) * BAT_WIDTH;
      if (clear >= BATS_CLEAR - NO_LENGTH) return [];
      return [{ code: 'bats-too-close', ids: [a.id, b.id], at: middle(a.at, b.at), clear, least: BATS_CLEAR }];
    },
  );
}

/** Lamps only: a lever's nut covers the tape that its hole cuts. */
function holesCutTape({ face }: ProblemInput): FaceProblem[] {
  const lamps = face.holes.filter((hole) => hole.what === 'lamp');
  const grid = gridOf(lamps, ({ at }) => boxAbout(at, 0, 0));
  const found: FaceProblem[] = [];
  for (const strip of face.strips) {
    const least = new Map<Hole, Millimetre>();
    for (const stroke of strip.strokes) {
      for (const box of boxesAlong(stroke.from, stroke.to, strip.width)) {
        for (const number of grid.near(box)) {
          const lamp = lamps[number];
          if (lamp === undefined) continue;
          const off = fromStroke(lamp.at, stroke);
          if (off.atEnd || off.gap > strip.width / 2) continue;
          least.set(lamp, Math.min(off.gap, least.get(lamp) ?? Number.POSITIVE_INFINITY));
        }
      }
    }
    for (const [lamp, off] of least) {
      const left = strip.width / 2 + off - lamp.drill / 2;
      if (left >= TAPE_THREAD - NO_LENGTH) continue;
      const { id, at, drill } = lamp;
      found.push({
        code: 'hole-cuts-tape',
        id,
        strip: strip.id,
        at,
        drill,
        width: strip.width,
        left: Math.max(0, left),
      });
    }
  }
  return found;
}

/** Longest piece of a line that is looked up at once: a long slanting one would have a box as large as the sheet. */
const PIECE: Millimetre = 40;
const MOST_PIECES = 1000;

/** Boxes that hold a line (or the arc on it, which bulges less than its chord is long) and so much to each side. */
function boxesAlong(from: Spot, to: Spot, side: Millimetre): readonly Box[] {
  const length = gap(from, to);
  const count = Math.min(MOST_PIECES, Math.max(1, Math.ceil(length / PIECE)));
  return Array.from({ length: count }, (_, i): Box => {
    const at = (share: number): Spot => [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    const [a, b] = [at(i / count), at((i + 1) / count)];
    const bulge = count === 1 ? length / 2 : 0;
    return grown(
      [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1])],
      side + bulge,
    );
  });
}

function plateProblems({ face, bodies }: ProblemInput): FaceProblem[] {
  const found: FaceProblem[] = [];
  const boxes = new Map(face.plates.map((plate) => [plate, boxAbout(plate.at, plate.width, plate.height)]));
  const boxOfPlate = (plate: (typeof face.plates)[number]): Box => boxes.get(plate) ?? boxAbout(plate.at, 0, 0);
  for (const plate of face.plates) {
    const size = Math.min(...plate.lines.filter((line) => line.text.trim() !== '').map((line) => line.size));
    if (size < LEAST_LETTERING - NO_LENGTH)
      found.push({ code: 'lettering-small', id: plate.id, at: plate.at, size, least: LEAST_LETTERING });
  }
  for (const [a, b] of pairsOf(face.plates, boxOfPlate)) {
    if (boxesOverlap(boxOfPlate(a), boxOfPlate(b)) <= TOUCH) continue;
    found.push({ code: 'plates-overlap', ids: [a.id, b.id], at: middle(a.at, b.at) });
  }
  const levers = behindOnly(face);
  const hidden: readonly Round[] = [
    ...lampsOnce(face).map(({ id, at, size }) => ({ id, at, drill: size })),
    ...face.levers.map(({ id, at, nut }) => ({ id, at, drill: nut })),
    ...face.fixings,
    ...bodies.filter(({ id }) => !levers.has(id)).map(({ id, at, size }) => ({ id, at, drill: Math.min(...size) })),
  ];
  const grid = gridOf(hidden, round);
  for (const plate of face.plates) {
    const box = boxOfPlate(plate);
    for (const number of grid.near(box)) {
      const each = hidden[number];
      if (each === undefined || boxToSpot(box, each.at) >= each.drill / 2 - TOUCH) continue;
      found.push({ code: 'plate-hides', plate: plate.id, id: each.id, at: each.at });
    }
  }
  return found;
}

function inKeepOut({ face, bodies, keepOut }: ProblemInput): FaceProblem[] {
  const at = new Map<string, Spot>();
  for (const box of keepOut) {
    for (const hole of face.holes) if (boxToSpot(box, hole.at) < hole.drill / 2 - NO_LENGTH) at.set(hole.id, hole.at);
    const asOblong = {
      at: middle([box[0], box[1]], [box[2], box[3]]),
      size: [box[2] - box[0], box[3] - box[1]] as const,
      angle: 0,
    };
    for (const body of bodies) if (oblongsOverlap(body, asOblong) > TOUCH) at.set(body.id, body.at);
  }
  return [...at].map(([id, spot]) => ({ code: 'in-keep-out', id, at: spot }));
}

function boxTooShallow({ bodies, boxDepth }: ProblemInput): FaceProblem[] {
  if (boxDepth === null) return [];
  return bodies.flatMap(({ id, at, depth }): FaceProblem[] => {
    if (depth === null || depth + BENT_WIRES <= boxDepth + NO_LENGTH) return [];
    return [{ code: 'box-too-shallow', id, at, needs: depth + BENT_WIRES, has: boxDepth }];
  });
}

function tapeOnPaintProblems({ face, paint }: ProblemInput): FaceProblem[] {
  // Few tapes are of many strips.
  const tapes = [...new Set(face.strips.map(({ tape }) => tape))];
  const ratios = new Map(tapes.map((tape) => [tape, tapeOnPaint(tape, paint)]));
  return face.strips.flatMap(({ id, tape }): FaceProblem[] => {
    const ratio = ratios.get(tape) ?? null;
    return ratio === null || ratio >= LEAST_CONTRAST
      ? []
      : [{ code: 'tape-on-paint', strip: id, ratio, least: LEAST_CONTRAST }];
  });
}

function gridOf<T>(items: readonly T[], boxOfItem: (item: T) => Box): BoxGrid {
  const grid = new BoxGrid();
  for (const item of items) grid.add(boxOfItem(item));
  return grid;
}

/** Pairs of items whose boxes touch, each once, the earlier first. */
function pairsOf<T>(items: readonly T[], boxOfItem: (item: T) => Box): readonly (readonly [T, T])[] {
  const grid = gridOf(items, boxOfItem);
  return items.flatMap((a, i) =>
    grid.near(boxOfItem(a)).flatMap((j) => {
      const b = items[j];
      return b === undefined || j <= i ? [] : [[a, b] as const];
    }),
  );
}
