/** What a hand has picked, and how each kind of thing is found, altered and taken out. */
import type { Edit, PanelFile, RecordOf } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { planOf } from './edits.ts';

/** Lists of things that lie on the sheet; `fixings` and `keepOut` stand in the face's record. */
export const PICK_LISTS = [
  'strips',
  'places',
  'lamps',
  'levers',
  'buttons',
  'relays',
  'plates',
  'platforms',
  'fixings',
  'keepOut',
] as const;

export type PickList = (typeof PICK_LISTS)[number];

/**
 * One thing that is picked: its list and its id, or its index from 0 where its kind has no ids (plates, platforms, fixings, keepOut).
 * `part`: of a strip the one corner that is meant, from 0.
 */
export interface Picked {
  readonly list: PickList;
  readonly id: string | number;
  readonly part?: number;
}

/** Several things that are picked, in any order; one named twice counts once. */
export type Selection = readonly Picked[];

type FaceList = 'fixings' | 'keepOut';
type Fixing = NonNullable<NonNullable<PanelFile['face']>['fixings']>[number];
type KeepOut = NonNullable<NonNullable<PanelFile['face']>['keepOut']>[number];

/** The record of a thing of each kind. */
export type ThingOf<L extends PickList> = L extends 'fixings'
  ? Fixing
  : L extends 'keepOut'
    ? KeepOut
    : L extends Exclude<PickList, FaceList>
      ? RecordOf<L>
      : never;

/** Any record of a thing, by the keys that laying touches. */
export interface AnyThing {
  readonly id?: string;
  readonly at?: Spot;
  readonly size?: Spot | number;
  readonly angle?: number;
  readonly path?: readonly Spot[];
  readonly name?: string;
  readonly width?: number;
  readonly height?: number;
}

export function isFaceList(list: PickList): list is FaceList {
  return list === 'fixings' || list === 'keepOut';
}

/** Records of one kind, in the order of the file. */
export function recordsOf(panel: PanelFile, list: PickList): readonly AnyThing[] {
  const records: readonly unknown[] = (isFaceList(list) ? panel.face?.[list] : panel[list]) ?? [];
  return records as readonly AnyThing[];
}

/** The record of a picked thing; undefined where there is none. */
export function recordOf(panel: PanelFile, { list, id }: Picked): AnyThing | undefined {
  const records = recordsOf(panel, list);
  return typeof id === 'number' ? records[id] : records.find((record) => record.id === id);
}

/** Picked things that are there, each once: a whole strip takes its corners along. In the order of lists, then of the file. */
export function present(panel: PanelFile, selection: Selection): readonly Picked[] {
  const known = new Map<string, Picked>();
  const whole = new Set(selection.filter(({ part }) => part === undefined).map(({ list, id }) => `${list} ${id}`));
  const place = new Map<string, number>();
  for (const list of new Set(selection.map((each) => each.list)))
    recordsOf(panel, list).forEach((record, i) => place.set(`${list} ${record.id ?? i}`, i));
  for (const picked of selection) {
    const key = `${picked.list} ${picked.id}`;
    const standsThere = place.has(key) || isDefaultLever(panel, picked);
    if (!standsThere) continue;
    if (picked.part === undefined) known.set(key, picked);
    else if (picked.list === 'strips' && !whole.has(key)) {
      if (recordOf(panel, picked)?.path?.[picked.part] !== undefined) known.set(`${key} ${picked.part}`, picked);
    }
  }
  const order = ({ list, id }: Picked) => place.get(`${list} ${id}`) ?? Infinity;
  return [...known.values()].sort(
    (a, b) =>
      PICK_LISTS.indexOf(a.list) - PICK_LISTS.indexOf(b.list) ||
      compare(order(a), order(b)) ||
      (a.part ?? -1) - (b.part ?? -1),
  );
}

function compare(a: number, b: number): number {
  return a === b ? 0 : a - b;
}

/** Is it a lever that the file does not name, which a point has by default? */
export function isDefaultLever(panel: PanelFile, { list, id }: Picked): boolean {
  return list === 'levers' && panel.levers === undefined && planOf(panel).levers.some((lever) => lever.id === id);
}

/** Where a thing stands: its middle, or its top left corner where it has a size; of levers without a place their spot in the row. */
export function spotOf(panel: PanelFile, picked: Picked): Spot | null {
  const record = recordOf(panel, picked);
  if (record?.at !== undefined) return record.at;
  if (picked.list !== 'levers') return null;
  return planOf(panel).levers.find(({ id }) => id === picked.id)?.at ?? null;
}

/** Lays a patch over a thing's record; undefined takes a key out. The thing must be there. */
export function updateThing(edit: Edit, { list, id }: Picked, values: Readonly<Record<string, unknown>>): void {
  if (isFaceList(list)) {
    const records = (edit.panel.face?.[list] ?? []).map((record, i) => (i === id ? laidOver(record, values) : record));
    setFaceList(edit, list, records);
    return;
  }
  edit.update(list, id, { ...values });
}

/** A record added at the end of its list; its index. */
export function addThing(edit: Edit, list: PickList, record: Readonly<Record<string, unknown>>): number {
  const index = recordsOf(edit.panel, list).length;
  if (isFaceList(list)) setFaceList(edit, list, [...(edit.panel.face?.[list] ?? []), record]);
  else edit.add(list, record as RecordOf<typeof list> & Readonly<Record<string, unknown>>);
  return index;
}

/** All records of a list of the face; an empty one leaves with its key. */
export function setFaceList(edit: Edit, list: FaceList, records: readonly object[]): void {
  const { [list]: _, ...rest } = edit.panel.face ?? {};
  const face: Record<string, unknown> = records.length === 0 ? rest : { ...rest, [list]: records };
  edit.set('face', face as NonNullable<PanelFile['face']>);
}

/**
 * Levers that points have by default, written down without a place, so that one of them can be altered: with the key in the file, only
 * those that it names are there. Nothing where the file has the key.
 */
export function recordLevers(edit: Edit): void {
  const { panel } = edit;
  if (panel.levers !== undefined) return;
  for (const { id, works } of planOf(panel).levers)
    edit.add('levers', { id, works: works.map(({ point }) => ({ point })) });
}

function laidOver(record: object, values: Readonly<Record<string, unknown>>): object {
  return Object.fromEntries(Object.entries({ ...record, ...values }).filter(([, value]) => value !== undefined));
}
