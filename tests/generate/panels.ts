/**
 * Sound panels of any size from a seed: lines with loops, sidings, crossovers, yards and diamonds, laid on a grid of 40 by 25 mm, so
 * that every branch makes atan(25/40) = 32.0 degrees. Every point has a record, two lamps and a lever (loops and crossovers one for
 * both); every free end and some roads have names. Reads without a problem.
 */
import type { PanelFile } from '../../src/panel/index.ts';
import { type Random, randomOf } from './random.ts';

type Spot = [number, number];

/** Across and down for one step of a branch. */
const DX = 40;
const DY = 25;
/** Points on one line of track at most, before the next line is begun below it. */
const LINE_MOST = 24;
/** Height of what hangs on one line, rows of yards above and below included. */
const LINE_HEIGHT = 500;
/** Loops on one line at most: each doubles the number of ways through. */
const LOOPS_MOST = 4;

interface Laying {
  readonly random: Random;
  readonly strips: { id: string; name: string; path: Spot[] }[];
  readonly places: { id: string; name: string; at: Spot; length?: number }[];
  readonly points: { id: string; at: Spot; drive?: string }[];
  readonly levers: { id: string; name: string; at: Spot; works: { point: string; opposite?: boolean }[] }[];
  readonly lamps: { id: string; at: Spot; part: string; shows: Record<string, 'normal' | 'reverse'> }[];
}

/** A panel with exactly `size` points, 1 to some thousands. The same seed and size, the same panel. */
export function generatePanel(seed: number, size: number): PanelFile {
  if (!Number.isInteger(size) || size < 1) throw new RangeError(`a panel has 1 point or more, not ${size}`);
  const laying: Laying = { random: randomOf(seed), strips: [], places: [], points: [], levers: [], lamps: [] };
  let left = size;
  for (let line = 0; left > 0; line++) {
    const share = Math.min(left, laying.random.whole(Math.ceil(LINE_MOST / 2), LINE_MOST));
    layLine(laying, 250 + line * LINE_HEIGHT, share);
    left -= share;
  }
  const bottom = Math.max(...laying.strips.flatMap(({ path }) => path.map(([, y]) => y)));
  for (const [i, lever] of laying.levers.entries()) lever.at = [40 + 44 * i, bottom + 60];
  return {
    format: 'mimic-panel',
    version: 1,
    name: `Generated ${size} from ${seed}`,
    strips: laying.strips,
    places: laying.places,
    points: laying.points,
    levers: laying.levers,
    lamps: laying.lamps,
  };
}

/** A main line, or an oval, with blocks along it from left to right. */
function layLine(laying: Laying, y: number, share: number): void {
  const { random } = laying;
  let left = share;
  let x = 80;
  let loops = 0;
  /** The second track of a stretch of double line, while there is one. */
  const start = x - 80;
  const id = stripId(laying);
  const main = { id, name: `Line ${id}`, path: [] as Spot[] };
  laying.strips.push(main);
  while (left > 0) {
    const up = random.chance(50) ? -1 : 1;
    const kind = random.pick(['siding', 'loop', 'yard', 'crossover', 'over-siding'] as const);
    if (kind === 'loop' && left >= 2 && loops < LOOPS_MOST) {
      x = layLoop(laying, x, y, up);
      left -= 2;
      loops += 1;
    } else if (kind === 'crossover' && left >= 2) {
      x = layCrossover(laying, x, y, up);
      left -= 2;
    } else if (kind === 'yard' && left >= 3) {
      const roads = Math.min(left, random.whole(3, 5));
      x = layYard(laying, x, y, up, roads);
      left -= roads;
    } else if (kind === 'over-siding') {
      x = layOverSiding(laying, x, y, up);
      left -= 1;
    } else {
      x = laySiding(laying, x, y, up);
      left -= 1;
    }
    x += DX * random.whole(1, 2);
  }
  if (random.chance(30)) {
    // An oval: back below everything that hangs on the line, the seam in the middle of the way back.
    const low = y + LINE_HEIGHT / 2 - 20;
    const seam: Spot = [(start + x) / 2, low];
    main.path.push(seam, [start, low], [start, y], [x, y], [x, low], seam);
    name(laying, seam, 1200, 'road');
  } else {
    main.path.push([start, y], [x, y]);
    name(laying, [start, y], null, 'end');
    name(laying, [x, y], null, 'end');
  }
}

/** A strip in either direction: nothing hangs on which way it was laid. */
function lay(laying: Laying, path: Spot[]): void {
  const id = stripId(laying);
  laying.strips.push({ id, name: `Strip ${id}`, path: laying.random.chance(50) ? path : [...path].reverse() });
}

function stripId({ strips }: Laying): string {
  return `s${strips.length + 1}`;
}

function name(laying: Laying, at: Spot, length: number | null, kind: 'end' | 'road'): void {
  const id = `${kind}-${laying.places.length + 1}`;
  laying.places.push({ id, name: `Place ${laying.places.length + 1}`, at, ...(length === null ? {} : { length }) });
}

/** A point with a lamp on each leg, 0.6 of a step from it. `ahead`: 1 leaves to the right; `up`: -1 upwards. */
function point(laying: Laying, at: Spot, ahead: 1 | -1, legs: readonly [straight: number, branch: number]): string {
  const id = `P${laying.points.length + 1}`;
  laying.points.push({ id, at, drive: 'stall-2-wire' });
  legs.forEach((slope, i) => {
    const shows = { [id]: i === 0 ? ('normal' as const) : ('reverse' as const) };
    const lamp: Spot = [at[0] + ahead * DX * 0.6, at[1] + slope * DY * 0.6];
    laying.lamps.push({
      id: `H${laying.lamps.length + 1}`,
      at: lamp,
      part: i === 0 ? 'led-3-green' : 'led-3-amber',
      shows,
    });
  });
  return id;
}

function lever(laying: Laying, points: readonly string[]): void {
  const id = `L${laying.levers.length + 1}`;
  laying.levers.push({ id, name: id, at: [0, 0], works: points.map((each) => ({ point: each })) });
}

function laySiding(laying: Laying, x: number, y: number, up: 1 | -1): number {
  const back = laying.random.chance(50);
  const end = x + DX + 40 * laying.random.whole(2, 3);
  const far = y + up * DY;
  if (back) {
    lay(laying, [
      [end, y],
      [end - DX, far],
      [x, far],
    ]);
    name(laying, [x, far], 600, 'end');
    lever(laying, [point(laying, [end, y], -1, [0, up])]);
  } else {
    lay(laying, [
      [x, y],
      [x + DX, far],
      [end, far],
    ]);
    name(laying, [end, far], 600, 'end');
    lever(laying, [point(laying, [x, y], 1, [0, up])]);
  }
  return end;
}

function layLoop(laying: Laying, x: number, y: number, up: 1 | -1): number {
  const length = 40 * laying.random.whole(2, 4);
  const far = y + up * DY;
  const end = x + 2 * DX + length;
  lay(laying, [
    [x, y],
    [x + DX, far],
    [end - DX, far],
    [end, y],
  ]);
  if (laying.random.chance(50)) name(laying, [x + DX + length / 2, far], 1500, 'road');
  const pair = [point(laying, [x, y], 1, [0, up]), point(laying, [end, y], -1, [0, up])];
  if (laying.random.chance(60)) lever(laying, pair);
  else for (const each of pair) lever(laying, [each]);
  return end;
}

/** A second track beside the line, joined to it by a crossover. */
function layCrossover(laying: Laying, x: number, y: number, up: 1 | -1): number {
  const far = y + up * 2 * DY;
  const end = x + 5 * DX;
  lay(laying, [
    [x, far],
    [end, far],
  ]);
  lay(laying, [
    [x + DX, y],
    [x + 3 * DX, far],
  ]);
  name(laying, [x, far], 900, 'end');
  name(laying, [end, far], null, 'end');
  lever(laying, [point(laying, [x + DX, y], 1, [0, up]), point(laying, [x + 3 * DX, far], -1, [0, -up])]);
  return end;
}

/** A lead off the line, with a road off it at each row. */
function layYard(laying: Laying, x: number, y: number, up: 1 | -1, points: number): number {
  const end = x + DX * (points + 3);
  lay(laying, [
    [x, y],
    [x + DX * points, y + up * DY * points],
    [end, y + up * DY * points],
  ]);
  name(laying, [end, y + up * DY * points], 800, 'end');
  lever(laying, [point(laying, [x, y], 1, [0, up])]);
  for (let row = 1; row < points; row++) {
    const at: Spot = [x + DX * row, y + up * DY * row];
    lay(laying, [at, [end, at[1]]]);
    name(laying, [end, at[1]], 700, 'end');
    lever(laying, [point(laying, at, 1, [up, 0])]);
  }
  return end;
}

/** A siding that crosses a track of its own beside the line. */
function layOverSiding(laying: Laying, x: number, y: number, up: 1 | -1): number {
  const end = x + 5 * DX;
  lay(laying, [
    [x, y + up * 2 * DY],
    [end, y + up * 2 * DY],
  ]);
  name(laying, [x, y + up * 2 * DY], null, 'end');
  name(laying, [end, y + up * 2 * DY], null, 'end');
  lay(laying, [
    [x + DX / 2, y],
    [x + DX / 2 + 4 * DX, y + up * 4 * DY],
  ]);
  name(laying, [x + DX / 2 + 4 * DX, y + up * 4 * DY], 500, 'end');
  lever(laying, [point(laying, [x + DX / 2, y], 1, [0, up])]);
  return end;
}
