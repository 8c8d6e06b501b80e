/**
 * The sheet as a list in reading order: each strip from the top left on, and under it what lies on it, along it; then what stands off the tape, row
 * by row. What a row says is what can be seen.
 */
import { type Picked, stripAt } from '../../laying/index.ts';
import { type PanelFile, stripWidth } from '../../panel/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { list } from '../words.ts';
import type { LayView } from '../worker/types.ts';
import { kinds, outlineWords } from './lay-words.ts';
import { distance, footOf, type StripEnd, stripFacts } from './strip-facts.ts';
import { stripName, thingName } from './thing-names.ts';

/** Things no farther apart than this down the sheet stand in one row: half the distance of two roads. */
const ROW: Millimetre = 12;
/** A leg of a point is looked for so far along from its spot: beyond the width of the tape, short of the next point. */
const LEG: Millimetre = 8;

export interface OutlineRow {
  readonly key: string;
  readonly text: string;
  /** Shortly, for what is said of it. */
  readonly name: string;
  /** What Enter picks and Alt with an arrow moves; null where it cannot be moved by itself. */
  readonly picks: Picked | null;
  /** Can it be lifted by itself? */
  readonly lifts: boolean;
  /** It lies on the strip of the row above it that is not so. */
  readonly on: boolean;
}

/** Rows of a panel. `view` was read from it. */
export function outlineRows(panel: PanelFile, view: LayView): readonly OutlineRow[] {
  const rows: OutlineRow[] = [];
  const told = new Set<string>();
  const lamps = new Map<string, { readonly id: string; readonly at: Spot; readonly name?: string | undefined }[]>();
  for (const lamp of panel.lamps ?? []) {
    const strip = stripAt(panel, lamp.at, 0)?.strip.id ?? '';
    lamps.set(strip, [...(lamps.get(strip) ?? []), lamp]);
  }
  const strips = inReadingOrder(panel.strips, ({ path }) => topLeftOf(path));
  for (const strip of strips) {
    const facts = stripFacts(panel, view, strip);
    const name = stripName(panel, strip.id);
    const ends = facts.ends.map((end) => endText(panel, end));
    const whole: Picked = { list: 'strips', id: strip.id };
    rows.push({
      key: `strip ${strip.id}`,
      name,
      text: outlineWords.strip(name, facts.length, ends),
      picks: whole,
      lifts: true,
      on: false,
    });
    const along = (at: Spot): Millimetre => footOf(strip.path, at).along;
    const onIt: { readonly at: Spot; readonly row: OutlineRow }[] = [];
    for (const point of view.points) {
      if (told.has(point.id) || footOf(strip.path, point.at).off > stripWidth(strip) / 2) continue;
      told.add(point.id);
      onIt.push({ at: point.at, row: pointRow(panel, point) });
    }
    for (const place of view.places) {
      if (told.has(`place ${place.id}`) || footOf(strip.path, place.at).off > stripWidth(strip) / 2) continue;
      told.add(`place ${place.id}`);
      onIt.push({ at: place.at, row: placeRow(place, name) });
    }
    for (const lamp of lamps.get(strip.id) ?? []) onIt.push({ at: lamp.at, row: lampRow(panel, lamp, name) });
    onIt.sort((a, b) => along(a.at) - along(b.at));
    rows.push(...onIt.map(({ row }) => row));
  }
  const off: { readonly at: Spot; readonly row: OutlineRow }[] = [];
  for (const lamp of lamps.get('') ?? []) off.push({ at: lamp.at, row: { ...lampRow(panel, lamp, null), on: false } });
  for (const { id, at } of view.face.levers) {
    const works = view.points.filter(({ lever }) => lever === id).map((point) => point.id);
    const plate = panel.levers?.find((lever) => lever.id === id)?.name ?? null;
    off.push({ at, row: single({ list: 'levers', id }, id, outlineWords.lever(id, plate, list(works))) });
  }
  for (const { id, at, name } of panel.buttons ?? [])
    off.push({ at, row: single({ list: 'buttons', id }, id, outlineWords.thing(kinds.buttons[0], id, name ?? null)) });
  panel.platforms?.forEach(({ at }, id) => {
    const picked: Picked = { list: 'platforms', id };
    off.push({
      at,
      row: single(
        picked,
        thingName(panel, picked),
        outlineWords.thing(kinds.platforms[0], thingName(panel, picked), null),
      ),
    });
  });
  panel.plates?.forEach(({ at, text }, id) => {
    const picked: Picked = { list: 'plates', id };
    off.push({ at, row: single(picked, thingName(panel, picked), outlineWords.thing(kinds.plates[0], text, null)) });
  });
  panel.face?.fixings?.forEach(({ at }, id) => {
    const picked: Picked = { list: 'fixings', id };
    off.push({ at, row: single(picked, thingName(panel, picked), thingName(panel, picked)) });
  });
  return [...rows, ...inReadingOrder(off, ({ at }) => at).map(({ row }) => row)];
}

function single(picks: Picked, name: string, text: string): OutlineRow {
  return { key: `${picks.list} ${picks.id}`, name, text, picks, lifts: true, on: false };
}

function pointRow(panel: PanelFile, point: LayView['points'][number]): OutlineRow {
  const leg = ([dx, dy]: Spot): string | null => {
    const at: Spot = [point.at[0] + dx * LEG, point.at[1] + dy * LEG];
    return stripAt(panel, at, 0)?.strip.id ?? null;
  };
  const named = (id: string | null): string | null => (id === null ? null : stripName(panel, id));
  const { toe, normal, reverse } = point.toward;
  const text = outlineWords.point(point.id, named(leg(toe)), named(leg(normal)), named(leg(reverse)), point.lever);
  return { key: `point ${point.id}`, name: point.id, text, picks: endAt(panel, point.at), lifts: false, on: true };
}

/** The end of a strip that makes a point: the one that lies nearest its spot. */
function endAt(panel: PanelFile, at: Spot): Picked | null {
  let best: { readonly picked: Picked; readonly off: Millimetre } | null = null;
  for (const { id, path } of panel.strips)
    for (const part of [0, path.length - 1]) {
      const end = path[part];
      const off = end === undefined ? Infinity : distance(end, at);
      if (off <= ROW / 2 && (best === null || off < best.off)) best = { picked: { list: 'strips', id, part }, off };
    }
  return best?.picked ?? null;
}

function placeRow(place: LayView['places'][number], on: string): OutlineRow {
  const name = place.name ?? place.id;
  const text = outlineWords.place(name, place.kind === 'end', on, place.name !== null);
  const picks: Picked | null = place.recorded ? { list: 'places', id: place.id } : null;
  return { key: `place ${place.id}`, name, text, picks, lifts: place.recorded, on: true };
}

function lampRow(
  panel: PanelFile,
  { id, name }: { readonly id: string; readonly name?: string | undefined },
  on: string | null,
): OutlineRow {
  const shows = panel.lamps?.find((lamp) => lamp.id === id)?.shows;
  const lies =
    shows === undefined
      ? null
      : [shows].flat().map((each) => list(Object.entries(each).map(([p, lie]) => `${p} ${lie}`)));
  const text = outlineWords.lamp(id, name ?? null, on, lies);
  return { key: `lamp ${id}`, name: id, text, picks: { list: 'lamps', id }, lifts: true, on: true };
}

function endText(panel: PanelFile, { kind, point, onto, place }: StripEnd): string {
  const other = onto === null ? '' : stripName(panel, onto);
  return outlineWords.end(kind, point, other, place?.name ?? null);
}

/** From top to bottom in rows, in each from left to right; those alike in the order of the file. */
export function inReadingOrder<T>(things: readonly T[], at: (thing: T) => Spot): readonly T[] {
  const left = things.map((thing, i) => ({ thing, i, at: at(thing) })).sort((a, b) => a.at[1] - b.at[1] || a.i - b.i);
  const rows: (typeof left)[] = [];
  for (const each of left) {
    const row = rows[rows.length - 1];
    const first = row?.[0];
    if (row !== undefined && first !== undefined && each.at[1] - first.at[1] < ROW) row.push(each);
    else rows.push([each]);
  }
  return rows.flatMap((row) => row.sort((a, b) => a.at[0] - b.at[0] || a.i - b.i).map(({ thing }) => thing));
}

/** The end of a path that is read first: the one further left, of two alike the upper. */
function topLeftOf(path: readonly Spot[]): Spot {
  const [first = [0, 0], last = first] = [path[0], path[path.length - 1]];
  return last[0] < first[0] || (last[0] === first[0] && last[1] < first[1]) ? last : first;
}
