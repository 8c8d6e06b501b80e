/** What changed between two panels, in plain words by name, and where it stands on the sheet. */
import { boxOfThings, PICK_LISTS, type PickList } from '../../laying/index.ts';
import type { PanelFile, PlainRecord, RecordName } from '../../panel/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { difference, type KeyChange, type ListDifference } from '../document/index.ts';
import { changeWords } from '../words/keep.ts';
import { lengthWords } from './lengths.ts';
import type { RulerUnit } from './rulers.ts';
import { thingName } from './thing-names.ts';

export interface Changes {
  /** How much of each kind: "Strips: 1 laid, 2 altered". */
  readonly counts: readonly string[];
  /** Each thing by its name: "P7 moved 12.0 mm". */
  readonly lines: readonly ChangeLine[];
}

export interface ChangeLine {
  /** No other of the same changes has it. */
  readonly id: string;
  readonly text: string;
}

/** A mark round what has changed: a spot, or the corners of a strip; `gone`: it was there before alone. */
export interface ChangeMark {
  readonly id: string;
  readonly gone: boolean;
  readonly at: Spot | null;
  readonly path: readonly Spot[];
}

/** Lists whose changes say nothing to a reader. */
const UNSAID: ReadonlySet<string> = new Set(['retired', 'format', 'version']);

/** What is other in `after`, in words; nothing for panels alike. Order of lists by name, of things as they stand in the panel. */
export function changesBetween(before: PanelFile, after: PanelFile, unit: RulerUnit): Changes {
  const { lists, keys } = allChanges(before, after);
  const counts = lists
    .filter(({ added, removed, changed }) => added.length + removed.length + changed.length > 0)
    .map(({ list, added, removed, changed }) => changeWords.counts(list, added.length, removed.length, changed.length));
  const lines = lists.flatMap((each) => listLines(before, after, each, unit));
  const own = keys.panel.filter(({ key }) => !UNSAID.has(key) && key !== 'face');
  return {
    counts,
    lines: [...lines, ...keyLine(changeWords.panel, own, unit), ...keyLine(changeWords.face, keys.face, unit)],
  };
}

/** Where the changes stand on the sheet, millimetres of the face; what has no place there has no mark. */
export function marksBetween(before: PanelFile, after: PanelFile): readonly ChangeMark[] {
  return allChanges(before, after).lists.flatMap(({ list, added, removed, changed }) => [
    ...[...added, ...changed].flatMap(({ id }) => markOf(after, list, id, false)),
    ...removed.flatMap(({ id }) => markOf(before, list, id, true)),
  ]);
}

/** Lists of the panel and of its face; keys of both apart. */
function allChanges(before: PanelFile, after: PanelFile) {
  const panel = difference(before, after);
  const face = difference(before.face ?? {}, after.face ?? {});
  return { lists: [...panel.lists, ...face.lists], keys: { panel: panel.keys, face: face.keys } };
}

function listLines(before: PanelFile, after: PanelFile, each: ListDifference, unit: RulerUnit): ChangeLine[] {
  const { list, added, removed, changed, reordered } = each;
  return [
    ...added.map(({ id }) => ({ id: `${list} ${id} now`, text: changeWords.added(list, nameOf(after, list, id)) })),
    ...removed.map(({ id }) => ({
      id: `${list} ${id} gone`,
      text: changeWords.removed(list, nameOf(before, list, id)),
    })),
    ...changed.map(({ id, keys }) => ({
      id: `${list} ${id} other`,
      text: changeWords.altered(
        nameOf(after, list, id),
        keys.map((key) => deedOf(key, unit)),
      ),
    })),
    ...(reordered ? [{ id: list, text: changeWords.order(list) }] : []),
  ];
}

function keyLine(name: string, keys: readonly KeyChange[], unit: RulerUnit): ChangeLine[] {
  if (keys.length === 0) return [];
  const deeds = keys.map((key) => deedOf(key, unit));
  return [{ id: name, text: changeWords.altered(name, deeds) }];
}

function nameOf(panel: PanelFile, list: string, id: RecordName): string {
  if (isPickList(list)) return thingName(panel, { list, id });
  return typeof id === 'string' ? id : changeWords.nth(list, id);
}

/** What became of one key: "moved 12.0 mm", "has width 6 in place of 5". */
function deedOf({ key, from, to }: KeyChange, unit: RulerUnit): string {
  if (key === 'at' && isSpot(from) && isSpot(to)) return changeWords.moved(lengthWords(apart(from, to), unit));
  if (key === 'path' && isPath(from) && isPath(to)) return pathDeed(from, to, unit);
  const [was, is] = [plainOf(from), plainOf(to)];
  return was === undefined || is === undefined ? changeWords.other(key) : changeWords.set(key, was, is);
}

/** Corners that moved less lie where they lay: a ten-thousandth of a millimetre, the last place that a file holds. */
const STILL: Millimetre = 0.0001;

function pathDeed(from: readonly Spot[], to: readonly Spot[], unit: RulerUnit): string {
  if (from.length !== to.length) return changeWords.drawnAnew(from.length, to.length);
  const moves = from.map((spot, i): Spot => {
    const now = to[i] ?? spot;
    return [now[0] - spot[0], now[1] - spot[1]];
  });
  const far = moves.map(([x, y]) => Math.hypot(x, y)).filter((size) => size > STILL);
  const [first = [0, 0]] = moves;
  const alike = moves.every(([x, y]) => Math.hypot(x - first[0], y - first[1]) <= STILL);
  if (alike) return changeWords.moved(lengthWords(Math.hypot(...first), unit));
  return changeWords.cornersMoved(far.length, lengthWords(Math.max(...far), unit));
}

/** A value as it can be said; null where there is none, undefined where it is more than a word. */
function plainOf(value: unknown): string | null | undefined {
  if (value === undefined) return null;
  if (typeof value === 'string') return `“${value}”`;
  return typeof value === 'number' ? String(value).replace('-', '−') : undefined;
}

function markOf(panel: PanelFile, list: string, id: RecordName, gone: boolean): ChangeMark[] {
  const base = { id: `${list} ${id} ${gone ? 'gone' : 'now'}`, gone };
  if (list === 'strips') {
    const path = panel.strips.find((strip) => strip.id === id)?.path ?? [];
    return path.length === 0 ? [] : [{ ...base, at: null, path }];
  }
  const box = isPickList(list) ? boxOfThings(panel, [{ list, id }]) : null;
  const at: Spot | null =
    box === null ? spotOf(panel, list, id) : [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  return at === null ? [] : [{ ...base, at, path: [] }];
}

/** Where a record says that it is. */
function spotOf(panel: PlainRecord, list: string, id: RecordName): Spot | null {
  const records: unknown = panel[list];
  if (!Array.isArray(records)) return null;
  const record: unknown = records.find((each: unknown, i) => i === id || (isRecord(each) && each.id === id));
  return isRecord(record) && isSpot(record.at) ? record.at : null;
}

const isPickList = (list: string): list is PickList => PICK_LISTS.some((each) => each === list);

function isSpot(value: unknown): value is Spot {
  return Array.isArray(value) && value.length === 2 && value.every((each) => typeof each === 'number');
}

const isPath = (value: unknown): value is readonly Spot[] => Array.isArray(value) && value.every(isSpot);

const isRecord = (value: unknown): value is PlainRecord =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const apart = (a: Spot, b: Spot): Millimetre => Math.hypot(b[0] - a[0], b[1] - a[1]);
