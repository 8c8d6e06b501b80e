/**
 * What is copied, as a plain object that can be kept anywhere and pasted into this or another panel. Pasted things have fresh ids; what they
 * said of each other they go on to say, and what they said of anything else is dropped and listed.
 */
import {
  checkPanel,
  editOf,
  FORMAT,
  type ListKey,
  type PanelFile,
  type PlainRecord,
  type Transaction,
  VERSION,
} from '../panel/index.ts';
import { type Plan, recordsToAdd } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import { after, finish, freshNames, planOf } from './edits.ts';
import { add, boxOf, writtenSpot } from './geometry.ts';
import {
  addThing,
  isFaceList,
  PICK_LISTS,
  type Picked,
  present,
  recordLevers,
  recordOf,
  type Selection,
  spotOf,
} from './picked.ts';
import { BESIDE } from './tolerances.ts';

const CLIP_FORMAT = 'mimic-clip';
const CLIP_VERSION = 1;

/** Lists of a clip: things that lie on the sheet, and what goes with strips, points and lamps. */
const CLIP_LISTS = [...PICK_LISTS, 'points', 'crossings', 'threeWays', 'drives', 'frogs', 'lampGroups'] as const;
type ClipList = (typeof CLIP_LISTS)[number];

/** Plain JSON: a tag, a version, and records by list with the ids that they had. */
export interface Clip {
  readonly format: typeof CLIP_FORMAT;
  readonly version: typeof CLIP_VERSION;
  readonly records: Readonly<Partial<Record<ClipList, readonly PlainRecord[]>>>;
}

/** What a pasted thing said of something that is not in the clip. */
export interface Dropped {
  /** Id in the clip, or list and index where it has none. */
  readonly of: string;
  /** The key of its record that said it. */
  readonly key: string;
  /** What it spoke of. */
  readonly ref: string;
}

export interface Pasted {
  /** Null where the clip is empty or does not fit on the sheet. */
  readonly edit: Transaction | null;
  /** What is new and lies on the sheet, as it is called in the panel after. */
  readonly made: readonly Picked[];
  readonly dropped: readonly Dropped[];
}

/**
 * A clip of what is picked. Points, crossings and three-ways between picked strips go along with the drives, frogs and lies that they have, and so
 * do groups all of whose lamps are picked.
 */
export function copyThings(panel: PanelFile, selection: Selection): Clip {
  const whole = present(panel, selection).filter(({ part }) => part === undefined);
  // Everything has a record, so that what is inferred can be spoken of.
  const full = after(panel, recordsToAdd(panel, planOf(panel)));
  const plan = planOf(full);
  const records: Partial<Record<ClipList, PlainRecord[]>> = {};
  const take = (list: ClipList, record: object) => {
    const known = records[list] ?? [];
    known.push(structuredClone(record) as PlainRecord);
    records[list] = known;
  };
  const strips = new Set(whole.filter(({ list }) => list === 'strips').map(({ id }) => String(id)));
  for (const picked of whole) {
    const record = recordOf(panel, picked);
    if (record !== undefined) take(picked.list, record);
    else {
      const lever = plan.levers.find(({ id }) => id === picked.id);
      if (lever !== undefined) take('levers', { id: lever.id, works: lever.works.map(({ point }) => ({ point })) });
    }
  }
  const features = new Set<string>();
  const inside = (ids: readonly string[]) => ids.length > 0 && ids.every((id) => strips.has(id));
  for (const record of full.points ?? []) {
    const point = plan.points.find(({ id, of }) => id === record.id && of === 'point');
    if (point === undefined || !inside(stripsOf(plan, record.id))) continue;
    const { normalStrip, reverseStrip } = point;
    // Said outright: which leg is straighter, or leads to a trap, can hang on what was not copied.
    take('points', normalStrip === reverseStrip ? record : { ...record, normal: normalStrip });
    features.add(record.id);
  }
  for (const record of full.threeWays ?? []) {
    const [first] = record.points ?? [];
    if (first === undefined || !inside(stripsOf(plan, first))) continue;
    const normal = plan.points.find(({ id }) => id === first)?.normalStrip;
    take('threeWays', normal === undefined ? record : { ...record, normal });
    for (const id of record.points ?? []) {
      features.add(id);
      const point = full.points?.find((each) => each.id === id);
      if (point !== undefined) take('points', point);
    }
  }
  for (const record of full.crossings ?? []) {
    const crossing = [...plan.crossings, ...plan.bridges].find((each) => each.record?.id === record.id);
    if (!inside(crossing?.strips ?? [])) continue;
    take('crossings', record);
    features.add(record.id);
    for (const { id } of record.ends ?? []) features.add(id);
  }
  const drives = new Set([
    ...(records.points ?? []).map(({ drive }) => drive),
    ...(records.crossings ?? []).flatMap(({ ends }) => (Array.isArray(ends) ? ends : []).map((end) => end.drive)),
  ]);
  // Another drive than the one that is there: nothing of it was bought, measured or numbered.
  for (const { existing: _, measured: __, address: ___, ...record } of full.drives ?? [])
    if (drives.has(record.id)) take('drives', record);
  for (const record of full.frogs ?? []) if (features.has(record.of)) take('frogs', record);
  const lamps = new Set((records.lamps ?? []).map(({ id }) => id));
  for (const record of full.lampGroups ?? [])
    if (record.lamps.length > 0 && record.lamps.every((id) => lamps.has(id))) take('lampGroups', record);
  return { format: CLIP_FORMAT, version: CLIP_VERSION, records };
}

/** A clip from anything: text that was pasted and parsed, say. Null where it is none, or holds what a file would not take. */
export function readClip(value: unknown): Clip | null {
  if (typeof value !== 'object' || value === null) return null;
  const { format, version, records } = value as Partial<Record<keyof Clip, unknown>>;
  if (format !== CLIP_FORMAT || version !== CLIP_VERSION || typeof records !== 'object' || records === null)
    return null;
  const clean: Partial<Record<ClipList, readonly PlainRecord[]>> = {};
  for (const list of CLIP_LISTS) {
    const held: unknown = Object.hasOwn(records, list) ? Reflect.get(records, list) : undefined;
    if (held === undefined) continue;
    if (!Array.isArray(held)) return null;
    clean[list] = held;
  }
  const { fixings, keepOut, ...lists } = clean;
  const face = { ...(fixings === undefined ? {} : { fixings }), ...(keepOut === undefined ? {} : { keepOut }) };
  const read = checkPanel({ format: FORMAT, version: VERSION, strips: [], face, ...lists });
  return read.ok ? { format: CLIP_FORMAT, version: CLIP_VERSION, records: clean } : null;
}

/** A clip laid on a panel, moved by so much from where its things were copied. */
export function pasteClip(panel: PanelFile, clip: Clip, by: Spot = [0, 0]): Pasted {
  const dropped: Dropped[] = [];
  const made: Picked[] = [];
  const edit = editOf(panel);
  // Levers that points have by default are written down first: then their ids are taken.
  if ((clip.records.levers ?? []).length > 0) recordLevers(edit);
  const ids = freshIds(edit.panel, clip);
  const references = new References(ids, dropped);
  for (const list of CLIP_LISTS) {
    (clip.records[list] ?? []).forEach((record, i) => {
      const of = typeof record.id === 'string' ? record.id : `${list} ${i}`;
      const moved = movedRecord(references.of(list, record, of), by);
      if (isPickList(list)) {
        const index = addThing(edit, list, moved);
        made.push({ list, id: typeof moved.id === 'string' ? moved.id : index });
      } else edit.add(list as Exclude<ListKey, 'strips'>, moved as never);
    });
  }
  const tx = finish(panel, edit, 'clip.paste');
  return tx === null ? { edit: null, made: [], dropped: [] } : { edit: tx, made, dropped };
}

/** What is picked laid a second time beside itself, with fresh ids. */
export function duplicateThings(panel: PanelFile, selection: Selection, by: Spot = [BESIDE, BESIDE]): Pasted {
  return pasteClip(panel, copyThings(panel, selection), by);
}

/** The middle of what a clip holds, so that it can be pasted under a pointer; null of an empty one. */
export function middleOfClip(clip: Clip): Spot | null {
  const panel = { format: FORMAT, version: VERSION, strips: [], ...clip.records } as PanelFile;
  const spots = CLIP_LISTS.filter(isPickList).flatMap((list): readonly Spot[] =>
    (clip.records[list] ?? []).flatMap((record, i) => {
      if (list === 'strips') return record.path as readonly Spot[];
      const at = isFaceList(list)
        ? (record.at as Spot)
        : spotOf(panel, { list, id: typeof record.id === 'string' ? record.id : i });
      return at === null ? [] : [at];
    }),
  );
  const box = boxOf(spots);
  return box === null ? null : [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
}

function isPickList(list: ClipList): list is (typeof PICK_LISTS)[number] {
  return (PICK_LISTS as readonly string[]).includes(list);
}

/** Strips at a point: of its toe and of both its legs. */
function stripsOf(plan: Plan, id: string): readonly string[] {
  const point = plan.points.find((each) => each.id === id);
  if (point === undefined) return [];
  const { toe, normalStrip, reverseStrip } = point;
  const stretches = plan.spans.find((span) => span.id === toe.span)?.stretches ?? [];
  const stretch = toe.end === 0 ? stretches[0] : stretches[stretches.length - 1];
  return [normalStrip, reverseStrip, ...(stretch === undefined ? [] : [stretch.strip])];
}

/** Prefixes of ids by list; things that have a letter of their own in the trade's habit keep it. */
const PREFIXES: Readonly<Partial<Record<ClipList, string>>> = {
  strips: 'strip-',
  places: 'place-',
  lamps: 'H',
  levers: 'L',
  buttons: 'B',
  relays: 'K',
  points: 'P',
  crossings: 'X',
  threeWays: 'Y',
  drives: 'D',
  frogs: 'F',
  lampGroups: 'G',
};

function freshIds(panel: PanelFile, clip: Clip): ReadonlyMap<string, string> {
  const ids = freshNames(panel);
  const fresh = new Map<string, string>();
  for (const list of CLIP_LISTS) {
    const prefix = PREFIXES[list];
    if (prefix === undefined) continue;
    for (const { id } of clip.records[list] ?? [])
      if (typeof id === 'string' && !fresh.has(id)) fresh.set(id, ids.next(prefix));
  }
  // Ends of slips and points of three-ways are points, some without a record of their own.
  const inner = [
    ...(clip.records.crossings ?? []).flatMap(({ ends }) => (Array.isArray(ends) ? ends.map(({ id }) => id) : [])),
    ...(clip.records.threeWays ?? []).flatMap(({ points }) => (Array.isArray(points) ? points : [])),
  ];
  for (const id of inner) if (typeof id === 'string' && !fresh.has(id)) fresh.set(id, ids.next('P'));
  return fresh;
}

/** References of records, brought over to the fresh ids; what leads out of the clip is dropped and noted. */
class References {
  private readonly fresh: ReadonlyMap<string, string>;
  private readonly dropped: Dropped[];

  constructor(fresh: ReadonlyMap<string, string>, dropped: Dropped[]) {
    this.fresh = fresh;
    this.dropped = dropped;
  }

  of(list: ClipList, record: PlainRecord, of: string): PlainRecord {
    const over: Record<string, unknown> = { ...record };
    if (typeof record.id === 'string') over.id = this.fresh.get(record.id) ?? record.id;
    const set = (key: string, value: unknown) => {
      if (value === undefined) delete over[key];
      else over[key] = value;
    };
    const one = (key: string) => {
      if (typeof record[key] === 'string') set(key, this.ref(of, key, record[key]));
    };
    if (list === 'points' || list === 'crossings' || list === 'threeWays') {
      const { normal } = record;
      if (normal !== 'left' && normal !== 'right') one('normal');
    }
    if (list === 'points') set('drive', this.drive(record.drive));
    if (list === 'crossings' && Array.isArray(record.ends))
      set(
        'ends',
        record.ends.map((end: PlainRecord) => {
          const drive = this.drive(end.drive);
          const { drive: _, ...rest } = end;
          return { ...rest, id: this.fresh.get(String(end.id)) ?? end.id, ...(drive === undefined ? {} : { drive }) };
        }),
      );
    if (list === 'threeWays' && Array.isArray(record.points))
      set(
        'points',
        record.points.map((id: string) => this.fresh.get(id) ?? id),
      );
    if (list === 'frogs') {
      one('of');
      if (typeof record.from === 'string') set('from', this.contact(of, 'from', record.from));
    }
    if (list === 'drives' && typeof record.contacts === 'object' && record.contacts !== null)
      set('contacts', this.contacts(of, record.contacts as Readonly<Record<string, string>>));
    if (list === 'relays') one('follows');
    if (list === 'lamps') {
      one('from');
      set('shows', this.shows(of, 'shows', record.shows));
      if (Array.isArray(record.elements))
        set(
          'elements',
          record.elements.map(({ shows, ...rest }: PlainRecord) => {
            const now = this.shows(of, 'elements', shows);
            return now === undefined ? rest : { ...rest, shows: now };
          }),
        );
    }
    if (list === 'lampGroups' && Array.isArray(record.lamps)) set('lamps', this.many(of, 'lamps', record.lamps));
    if (list === 'buttons' && typeof record.sets === 'object' && record.sets !== null)
      set('sets', this.lies(of, 'sets', record.sets as Readonly<Record<string, string>>));
    if (list === 'levers') this.lever(of, record, set);
    return over;
  }

  /** The fresh id of something in the clip; else dropped. */
  private ref(of: string, key: string, id: string): string | undefined {
    const fresh = this.fresh.get(id);
    if (fresh === undefined) this.dropped.push({ of, key, ref: id });
    return fresh;
  }

  private many(of: string, key: string, ids: readonly string[]): readonly string[] {
    return ids.flatMap((id) => this.ref(of, key, id) ?? []);
  }

  /** A drive's record in the clip, or the name of a part, which every panel knows. */
  private drive(drive: unknown): unknown {
    return typeof drive === 'string' ? (this.fresh.get(drive) ?? drive) : undefined;
  }

  /** A contact, as `D1.c1`. */
  private contact(of: string, key: string, contact: string): string | undefined {
    const [id = '', ...rest] = contact.split('.');
    const fresh = this.ref(of, key, id);
    return fresh === undefined ? undefined : [fresh, ...rest].join('.');
  }

  private contacts(of: string, contacts: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
    return Object.fromEntries(
      Object.entries(contacts).flatMap(([contact, use]) => {
        if (!use.startsWith('frog:')) return [[contact, use]];
        const fresh = this.ref(of, 'contacts', use.slice('frog:'.length));
        return fresh === undefined ? [] : [[contact, `frog:${fresh}`]];
      }),
    );
  }

  private lies(of: string, key: string, lies: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
    return Object.fromEntries(
      Object.entries(lies).flatMap(([point, lie]) => {
        const fresh = this.ref(of, key, point);
        return fresh === undefined ? [] : [[fresh, lie]];
      }),
    );
  }

  /** All that a lamp shows, or nothing of it: a part of a claim would be another claim. */
  private shows(of: string, key: string, shows: unknown): unknown {
    if (typeof shows !== 'object' || shows === null) return undefined;
    const all = (Array.isArray(shows) ? shows : [shows]) as readonly Readonly<Record<string, string>>[];
    const before = this.dropped.length;
    const now = all.map((lies) => this.lies(of, key, lies));
    if (this.dropped.length > before) return undefined;
    return Array.isArray(shows) ? now : now[0];
  }

  private lever(of: string, record: PlainRecord, set: (key: string, value: unknown) => void): void {
    if (Array.isArray(record.works))
      set(
        'works',
        record.works.flatMap((work: PlainRecord) => {
          if (typeof work.point !== 'string') return [work];
          const point = this.ref(of, 'works', work.point);
          return point === undefined ? [] : [{ ...work, point }];
        }),
      );
    // Supplies and the other panel's lever are never on the sheet.
    for (const key of ['feed', 'lighting'] as const) {
      const own = record[key];
      if (typeof own !== 'object' || own === null) continue;
      const { supplies, supply, from, ...rest } = own as PlainRecord;
      for (const ref of [...(Array.isArray(supplies) ? supplies : []), supply])
        if (typeof ref === 'string') this.dropped.push({ of, key, ref });
      const place = typeof from === 'string' ? this.ref(of, key, from) : undefined;
      set(key, { ...rest, ...(place === undefined ? {} : { from: place }) });
    }
    const twin = record.twin as PlainRecord | undefined;
    if (twin !== undefined) {
      this.dropped.push({ of, key: 'twin', ref: `${String(twin.panel)} ${String(twin.lever)}` });
      set('twin', undefined);
    }
    set('existing', undefined);
  }
}

function movedRecord(record: PlainRecord, by: Spot): PlainRecord {
  const over: Record<string, unknown> = { ...record };
  const shift = (spot: unknown) => writtenSpot(add(spot as Spot, by));
  for (const key of ['at', 'curve']) if (Array.isArray(record[key])) over[key] = shift(record[key]);
  if (Array.isArray(record.path)) over.path = record.path.map(shift);
  if (Array.isArray(record.names))
    over.names = record.names.map((name: PlainRecord) => ({ ...name, at: shift(name.at) }));
  return over;
}
