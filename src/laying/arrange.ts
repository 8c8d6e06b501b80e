/**
 * Many things at once: moved, aligned, spaced, mirrored, turned. Each is one map of spots laid over everything that is picked; the names of
 * points, crossings and places go along with the strips.
 */
import { editOf, type PanelFile, type Strip, stripWidth, type Transaction } from '../panel/index.ts';
import type { Degree, Spot } from '../units/index.ts';
import { finish, isAlready } from './edits.ts';
import { add, type Box, boxOf, normalAngle, turned, writtenPath, writtenSpot } from './geometry.ts';
import { lampsOn, stripAt } from './on-strips.ts';
import {
  type AnyThing,
  type Picked,
  present,
  recordLevers,
  recordOf,
  type Selection,
  spotOf,
  updateThing,
} from './picked.ts';
import type { Carrying } from './strips.ts';
import { RECORD_REACH } from './tolerances.ts';
import { moveTrackSpots } from './track-spots.ts';

/** A map of the sheet onto itself that keeps lengths. */
interface SheetMap {
  readonly spot: (spot: Spot) => Spot;
  /** How a lever's angle is altered. */
  readonly angle: (angle: Degree) => Degree;
  /** Is what lay across now down? Of oblongs, that stay square to the sheet. */
  readonly across: boolean;
  /** Lettering that is anchored at its start is anchored at its end. */
  readonly mirrored: boolean;
  /** Is what lay to the left of a way now to its right? */
  readonly flips: boolean;
}

/** Everything picked moved by so much. `carry`: lamps on a strip that is moved whole go along even where they are not picked. */
export function moveThings(
  panel: PanelFile,
  selection: Selection,
  by: Spot,
  { carry = true, draft = false }: Carrying = {},
): Transaction | null {
  return mapThings(panel, withLamps(panel, selection, carry), shiftBy(by), 'thing.move', draft);
}

/** Whole strips moved by so much. */
export function moveStrips(
  panel: PanelFile,
  ids: readonly string[],
  by: Spot,
  { carry = true, draft = false }: Carrying = {},
): Transaction | null {
  const strips = ids.map((id): Picked => ({ list: 'strips', id }));
  return mapThings(panel, withLamps(panel, strips, carry), shiftBy(by), 'strip.move', draft);
}

/** Where a thing is lined up: an edge of the selection, or its middle across or down the sheet. */
export type Alignment = 'left' | 'right' | 'top' | 'bottom' | 'across' | 'down';

/** Every picked thing put to one edge of the selection or to its middle; `across` lines up middles from left to right, so that all have one x. */
export function alignThings(panel: PanelFile, selection: Selection, to: Alignment): Transaction | null {
  const boxes = boxesOf(panel, selection);
  const whole = boxAround(boxes.map(({ box }) => box));
  if (whole === null || boxes.length < 2) return null;
  const off = ({ left, top, right, bottom }: Box): Spot => {
    if (to === 'left') return [whole.left - left, 0];
    if (to === 'right') return [whole.right - right, 0];
    if (to === 'top') return [0, whole.top - top];
    if (to === 'bottom') return [0, whole.bottom - bottom];
    if (to === 'across') return [(whole.left + whole.right - left - right) / 2, 0];
    return [0, (whole.top + whole.bottom - top - bottom) / 2];
  };
  return shiftEach(panel, boxes, off, 'thing.align');
}

/** The middles of three or more picked things spaced evenly between the first and the last, across or down the sheet. */
export function spaceThings(panel: PanelFile, selection: Selection, way: 'across' | 'down'): Transaction | null {
  const axis = way === 'across' ? 0 : 1;
  const middle = ({ left, top, right, bottom }: Box) => (axis === 0 ? (left + right) / 2 : (top + bottom) / 2);
  const boxes = boxesOf(panel, selection)
    .map((each, i) => ({ ...each, i }))
    .sort((a, b) => middle(a.box) - middle(b.box) || a.i - b.i);
  const [first, last] = [boxes[0], boxes[boxes.length - 1]];
  if (first === undefined || last === undefined || boxes.length < 3) return null;
  const from = middle(first.box);
  const pitch = (middle(last.box) - from) / (boxes.length - 1);
  const places = new Map(boxes.map(({ box }, k) => [box, from + k * pitch]));
  const off = (box: Box): Spot => {
    const by = (places.get(box) ?? 0) - middle(box);
    return axis === 0 ? [by, 0] : [0, by];
  };
  return shiftEach(panel, boxes, off, 'thing.space');
}

/**
 * Everything picked mirrored about the middle of the selection. Lettering stays readable; oblongs stay square to the sheet. A lever that
 * stands upright, as in a row, stays so; one that lies along a leg goes with the leg.
 */
export function mirrorThings(
  panel: PanelFile,
  selection: Selection,
  way: 'left-right' | 'up-down',
  { carry = true, draft = false }: Carrying = {},
): Transaction | null {
  const picked = withLamps(panel, selection, carry);
  const box = boxOfThings(panel, picked);
  if (box === null) return null;
  const sum = way === 'left-right' ? box.left + box.right : box.top + box.bottom;
  const upright = (angle: Degree) => normalAngle(angle) % 180 === 0;
  const map: SheetMap = {
    spot: ([x, y]) => (way === 'left-right' ? [sum - x, y] : [x, sum - y]),
    angle: (angle) => (upright(angle) ? angle : normalAngle(way === 'left-right' ? -angle : 180 - angle)),
    across: false,
    mirrored: way === 'left-right',
    flips: true,
  };
  return mapThings(panel, picked, map, 'thing.mirror', draft);
}

/**
 * Everything picked turned clockwise by so many degrees, about `about` or the mean of its spots, which stays where it is. Oblongs and plates stay
 * square to the sheet: their middles go round, and their sides change over at odd quarters.
 */
export function turnThings(
  panel: PanelFile,
  selection: Selection,
  by: Degree,
  { about, carry = true, draft = false }: Carrying & { readonly about?: Spot } = {},
): Transaction | null {
  if (!Number.isFinite(by)) return null;
  const picked = withLamps(panel, selection, carry);
  const centre = about ?? middleOfThings(panel, picked);
  if (centre === null) return null;
  const quarters = Math.sign(by) * Math.round(Math.abs(by) / 90);
  const map: SheetMap = {
    spot: (spot) => turnedAbout(spot, centre, by),
    angle: (angle) => normalAngle(angle + by),
    across: quarters % 2 !== 0,
    mirrored: false,
    flips: false,
  };
  return mapThings(panel, picked, map, 'thing.turn', draft);
}

/** A spot turned clockwise about another. */
export function turnedAbout(spot: Spot, about: Spot, by: Degree): Spot {
  return add(about, turned([spot[0] - about[0], spot[1] - about[1]], by));
}

/** The oblong around all spots of what is picked; null around nothing. */
export function boxOfThings(panel: PanelFile, selection: Selection): Box | null {
  return boxAround(boxesOf(panel, firmOf(selection)).map(({ box }) => box));
}

/** Names of places go where their strips go, and their spots are put right on the way: they count only where nothing else is picked. */
function firmOf(selection: Selection): Selection {
  const firm = selection.filter(({ list }) => list !== 'places');
  return firm.length === 0 ? selection : firm;
}

/** The mean of the spots of what is picked: turned about it, a selection keeps it. Null of nothing. */
function middleOfThings(panel: PanelFile, selection: Selection): Spot | null {
  const spots = present(panel, firmOf(selection)).flatMap((picked) => middlesOf(panel, picked));
  if (spots.length === 0) return null;
  const sum = spots.reduce((all, spot) => add(all, spot), [0, 0] as Spot);
  // Rounded, so that what was turned has the same mean though its spots were rounded.
  return writtenSpot([sum[0] / spots.length, sum[1] / spots.length]);
}

/** What is picked, and with `carry` the lamps on strips that are picked whole. */
export function withLamps(panel: PanelFile, selection: Selection, carry: boolean): Selection {
  const strips = selection.flatMap(({ list, id, part }) =>
    list === 'strips' && part === undefined && typeof id === 'string' ? [id] : [],
  );
  if (!carry || strips.length === 0) return selection;
  return [...selection, ...lampsOn(panel, new Set(strips)).map(({ id }) => ({ list: 'lamps' as const, id }))];
}

interface Boxed {
  readonly picked: Picked;
  readonly box: Box;
}

function boxesOf(panel: PanelFile, selection: Selection): readonly Boxed[] {
  return present(panel, selection).flatMap((picked) => {
    const box = boxOf(spotsOf(panel, picked));
    return box === null ? [] : [{ picked, box }];
  });
}

function boxAround(boxes: readonly Box[]): Box | null {
  return boxOf(
    boxes.flatMap(({ left, top, right, bottom }): Spot[] => [
      [left, top],
      [right, bottom],
    ]),
  );
}

/** The spots that bound a thing: corners of a strip, both far corners of an oblong, else its middle. */
function spotsOf(panel: PanelFile, picked: Picked): readonly Spot[] {
  const record = recordOf(panel, picked);
  if (picked.list === 'strips') return pathOf(record, picked);
  const at = spotOf(panel, picked);
  if (at === null) return [];
  const size = sizeOf(picked, record);
  return size === null ? [at] : [at, add(at, size)];
}

/** The spots that go round when a thing is turned: as bounds, but of an oblong its middle. */
function middlesOf(panel: PanelFile, picked: Picked): readonly Spot[] {
  const size = sizeOf(picked, recordOf(panel, picked));
  const at = spotOf(panel, picked);
  return size === null || at === null ? spotsOf(panel, picked) : [add(at, size, 1 / 2)];
}

function pathOf(record: AnyThing | undefined, { part }: Picked): readonly Spot[] {
  const path = record?.path ?? [];
  return part === undefined ? path : path.slice(part, part + 1);
}

/** Across and down of a thing that stands by its top left corner. */
function sizeOf({ list }: Picked, record: AnyThing | undefined): Spot | null {
  if (list !== 'platforms' && list !== 'keepOut') return null;
  return typeof record?.size === 'object' ? record.size : null;
}

function shiftBy(by: Spot): SheetMap {
  return { spot: (spot) => add(spot, by), angle: (angle) => angle, across: false, mirrored: false, flips: false };
}

function shiftEach(
  panel: PanelFile,
  boxes: readonly Boxed[],
  off: (box: Box) => Spot,
  name: string,
): Transaction | null {
  const shifts = new Map<Picked, SheetMap>();
  const taken = new Set(boxes.map(({ picked: { list, id } }) => `${list} ${id}`));
  const all: Picked[] = [];
  for (const { picked, box } of boxes) {
    const shift = shiftBy(off(box));
    for (const each of withLamps(panel, [picked], true)) {
      // A lamp that is picked itself goes its own way.
      if (each !== picked && taken.has(`${each.list} ${each.id}`)) continue;
      shifts.set(each, shift);
      all.push(each);
    }
  }
  return mapEach(panel, all, (picked) => shifts.get(picked) ?? shiftBy([0, 0]), name);
}

function mapThings(
  panel: PanelFile,
  selection: Selection,
  map: SheetMap,
  name: string,
  draft: boolean,
): Transaction | null {
  return mapEach(panel, present(panel, selection), () => map, name, draft);
}

function mapEach(
  panel: PanelFile,
  picked: readonly Picked[],
  mapOf: (picked: Picked) => SheetMap,
  name: string,
  draft = false,
): Transaction | null {
  const edit = editOf(panel);
  if (picked.some(({ list }) => list === 'levers')) recordLevers(edit);
  const strips = new Map<string, [number, number][]>();
  const whole = new Map<string, SheetMap>();
  for (const each of picked) {
    if (each.list !== 'strips' || typeof each.id !== 'string') continue;
    const strip = recordOf(panel, each) as Strip | undefined;
    if (strip === undefined) continue;
    const map = mapOf(each);
    const { spot } = map;
    const path = strips.get(strip.id) ?? writtenPathOf(strip);
    if (each.part === undefined) {
      whole.set(strip.id, map);
      strips.set(strip.id, writtenPath(strip.path.map(spot)));
    } else {
      const corner = strip.path[each.part];
      if (corner !== undefined) path[each.part] = writtenSpot(spot(corner));
      strips.set(strip.id, path);
    }
  }
  for (const [id, path] of strips) edit.update('strips', id, { path });
  if (!draft)
    moveTrackSpots(edit, panel, (strip, at) => {
      const map = whole.get(strip);
      return map === undefined ? null : { at: map.spot(at), changesHands: map.flips };
    });
  for (const each of picked) {
    if (each.list === 'strips') continue;
    // A place on a strip that goes along is carried by its name.
    if (!draft && each.list === 'places' && isCarried(panel, each, whole)) continue;
    const at = spotOf(panel, each);
    const record = recordOf(edit.panel, each);
    if (at === null || record === undefined) continue;
    const values = mapped(each, record, at, mapOf(each));
    if (!isAlready(record, values)) updateThing(edit, each, values);
  }
  return finish(panel, edit, name, { draft });
}

/** Corners that are not picked stay to the last figure. */
function writtenPathOf({ path }: Strip): [number, number][] {
  return path.map(([x, y]) => [x, y]);
}

function isCarried(panel: PanelFile, picked: Picked, strips: ReadonlyMap<string, unknown>): boolean {
  const at = spotOf(panel, picked);
  const on = at === null ? null : stripAt(panel, at, RECORD_REACH);
  return on !== null && strips.has(on.strip.id) && on.off <= stripWidth(on.strip) / 2 + RECORD_REACH;
}

/** What a thing's record says after the map. */
function mapped(picked: Picked, record: AnyThing, at: Spot, map: SheetMap): Readonly<Record<string, unknown>> {
  const size = sizeOf(picked, record);
  if (size === null) {
    if (picked.list !== 'levers') return { at: writtenSpot(map.spot(at)) };
    const angle = map.angle(record.angle ?? 0);
    return { at: writtenSpot(map.spot(at)), ...(angle === (record.angle ?? 0) ? {} : { angle }) };
  }
  const middle = map.spot(add(at, size, 1 / 2));
  const now: Spot = map.across ? [size[1], size[0]] : size;
  const corner = writtenSpot(add(middle, now, -1 / 2));
  const names = Reflect.get(record, 'names') as readonly Lettering[] | undefined;
  return {
    at: corner,
    ...(map.across ? { size: writtenSpot(now) } : {}),
    // Lettering keeps its place on its platform, seen from the middle; it is never turned or mirrored itself.
    ...(names === undefined ? {} : { names: names.map((name) => lettered(name, map)) }),
  };
}

interface Lettering {
  readonly at: Spot;
  readonly text: string;
  readonly anchor?: 'start' | 'middle' | 'end';
}

function lettered(name: Lettering, map: SheetMap): Lettering {
  const at = writtenSpot(map.spot(name.at));
  if (!map.mirrored || name.anchor === undefined || name.anchor === 'middle') return { ...name, at };
  return { ...name, at, anchor: name.anchor === 'start' ? 'end' : 'start' };
}
