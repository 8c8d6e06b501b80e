/**
 * Where the tags of points stand: beside their toes, off the tape, the plates, the holes and each other.
 *
 * Idea: every tag has a ring of places around its toe, nearest first; one after the other takes the place that covers least. What can be
 * covered lies in a grid of squares, so that each place looks at its neighbours alone.
 */
import type { Millimetre, Spot } from '../../units/index.ts';

/** An upright oblong by its middle. */
export interface Box {
  readonly at: Spot;
  readonly width: Millimetre;
  readonly height: Millimetre;
}

export interface TagWanted {
  readonly id: string;
  readonly at: Spot;
}

export interface Tag extends Box {
  readonly id: string;
  /** The toe that it is the tag of. */
  readonly toe: Spot;
}

/** What tags keep clear of. */
export interface Obstacles {
  readonly lines: readonly { readonly from: Spot; readonly to: Spot; readonly width: Millimetre }[];
  readonly boxes: readonly Box[];
}

/** Directions tried, from straight up on, right and left in turn: degrees from up. */
const TURNS = [0, 180, 30, -30, 150, -150, 60, -60, 120, -120, 90, -90];
/** Rings tried, as shares of the tag's height beyond the toe. */
const RINGS = [1.05, 1.5, 2.1, 2.9];

/** What it costs to cover tape, a plate or hole, or another tag, by share of the tag covered; and to stand a ring farther out. */
const COST = { tape: 6, box: 9, tag: 14, ring: 0.5, turn: 0.02 };

/**
 * A tag of `width` by `height` for every point that wants one, in their order. Those that `stay`, by id, are left where they are, and the
 * others keep clear of them.
 */
export function placeTags(
  wanted: readonly TagWanted[],
  obstacles: Obstacles,
  { width, height }: { readonly width: Millimetre; readonly height: Millimetre },
  stay: ReadonlyMap<string, Tag> = new Map(),
): readonly Tag[] {
  const cell = Math.max(width, height) * 2;
  const placing = wanted.filter(({ id }) => !stay.has(id));
  // Nothing farther from every toe than a tag can get is in the way.
  const most = height * Math.max(...RINGS) + width + height;
  const isNear = (from: Spot, to: Spot, half: number): boolean =>
    placing.some(
      ({ at: [x, y] }) =>
        Math.min(from[0], to[0]) - half - most <= x &&
        x <= Math.max(from[0], to[0]) + half + most &&
        Math.min(from[1], to[1]) - half - most <= y &&
        y <= Math.max(from[1], to[1]) + half + most,
    );
  const boxIsNear = (box: Box): boolean => isNear(box.at, box.at, Math.max(box.width, box.height) / 2);
  const lines = new Grid<Obstacles['lines'][number]>(cell);
  for (const line of obstacles.lines)
    if (isNear(line.from, line.to, line.width / 2)) lines.addLine(line.from, line.to, line.width / 2, line);
  const boxes = new Grid<Box>(cell);
  for (const box of obstacles.boxes) if (boxIsNear(box)) boxes.addBox(box, box);
  const tags = new Grid<Box>(cell);
  for (const tag of stay.values()) if (boxIsNear(tag)) tags.addBox(tag, tag);
  return wanted.map(({ id, at }) => {
    const there = stay.get(id);
    if (there !== undefined) return there;
    let least = Number.POSITIVE_INFINITY;
    let chosen: Tag = { id, toe: at, at, width, height };
    for (const [ring, share] of RINGS.entries()) {
      for (const [turn, degrees] of TURNS.entries()) {
        const angle = (degrees * Math.PI) / 180;
        const [dx, dy] = [Math.sin(angle), -Math.cos(angle)];
        // So far out that the tag's edge is as far from the toe whichever way it lies.
        const out = height * share + Math.abs(dx) * (width - height) * 0.5;
        const tag: Tag = { id, toe: at, at: [at[0] + dx * out, at[1] + dy * out], width, height };
        let cost = ring * COST.ring + turn * COST.turn;
        for (const line of lines.near(tag)) cost += COST.tape * shareOnLine(tag, line);
        for (const box of boxes.near(tag)) cost += COST.box * shareCovered(tag, box);
        for (const other of tags.near(tag)) cost += COST.tag * shareCovered(tag, other);
        if (cost >= least - 1e-9) continue;
        least = cost;
        chosen = tag;
      }
      // A ring farther out costs more than what this place covers.
      if (least < (ring + 1) * COST.ring) break;
    }
    tags.addBox(chosen, chosen);
    return chosen;
  });
}

/** The share of a box that another covers, with a little room between them. */
export function shareCovered(box: Box, other: Box): number {
  const across = (box.width + other.width) / 2 - Math.abs(box.at[0] - other.at[0]);
  const down = (box.height + other.height) / 2 - Math.abs(box.at[1] - other.at[1]);
  if (across <= 0 || down <= 0) return 0;
  return (Math.min(across, box.width) * Math.min(down, box.height)) / (box.width * box.height);
}

/** The share of a box's diagonal that a line runs along inside it, widened by the line's own width. */
export function shareOnLine(
  box: Box,
  { from, to, width }: { readonly from: Spot; readonly to: Spot; readonly width: Millimetre },
): number {
  const [w, h] = [(box.width + width) / 2, (box.height + width) / 2];
  const [x, y] = [from[0] - box.at[0], from[1] - box.at[1]];
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  // Liang and Barsky: the part of the line between the four edges.
  let [enters, leaves] = [0, 1];
  for (const [step, room] of [
    [-dx, x + w],
    [dx, w - x],
    [-dy, y + h],
    [dy, h - y],
  ] as const) {
    if (step === 0) {
      if (room < 0) return 0;
      continue;
    }
    const at = room / step;
    if (step < 0) enters = Math.max(enters, at);
    else leaves = Math.min(leaves, at);
  }
  if (enters >= leaves) return 0;
  return ((leaves - enters) * Math.hypot(dx, dy)) / Math.hypot(box.width, box.height);
}

/** Things by the squares that they touch. */
class Grid<T> {
  private readonly cells = new Map<string, T[]>();

  constructor(private readonly cell: number) {}

  addBox(box: Box, thing: T): void {
    for (const key of this.keysOf(box)) this.put(key, thing);
  }

  /** A line is walked along in steps shorter than a square. */
  addLine(from: Spot, to: Spot, half: number, thing: T): void {
    const steps = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / (this.cell / 2)));
    const keys = new Set<string>();
    for (let k = 0; k <= steps; k++) {
      const at: Spot = [from[0] + ((to[0] - from[0]) * k) / steps, from[1] + ((to[1] - from[1]) * k) / steps];
      for (const key of this.keysOf({ at, width: 2 * half + this.cell / 2, height: 2 * half + this.cell / 2 }))
        keys.add(key);
    }
    for (const key of keys) this.put(key, thing);
  }

  near(box: Box): ReadonlySet<T> {
    const found = new Set<T>();
    for (const key of this.keysOf(box)) for (const thing of this.cells.get(key) ?? []) found.add(thing);
    return found;
  }

  private put(key: string, thing: T): void {
    const list = this.cells.get(key);
    if (list === undefined) this.cells.set(key, [thing]);
    else list.push(thing);
  }

  private keysOf({ at, width, height }: Box): readonly string[] {
    const keys: string[] = [];
    const of = (value: number): number => Math.floor(value / this.cell);
    for (let i = of(at[0] - width / 2); i <= of(at[0] + width / 2); i++)
      for (let j = of(at[1] - height / 2); j <= of(at[1] + height / 2); j++) keys.push(`${i} ${j}`);
    return keys;
  }
}
