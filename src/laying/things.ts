/** Single things put on the sheet and set: places, platforms, plates, fixings, keep-outs, levers, buttons, lamps. */
import {
  DEFAULTS,
  editOf,
  type LampRecord,
  type LeverRecord,
  newIds,
  type PanelFile,
  type PlateRecord,
  type PlatformRecord,
  type RecordOf,
  type Transaction,
} from '../panel/index.ts';
import { pointsWithoutLever } from '../plan/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { finish, freshNames, isAlready, known, patch, planOf } from './edits.ts';
import { distance, isSameSpot, writtenPath, writtenSpot } from './geometry.ts';
import { stripAt } from './on-strips.ts';
import {
  addThing,
  isDefaultLever,
  type Picked,
  type PickList,
  recordLevers,
  recordOf,
  type ThingOf,
  updateThing,
} from './picked.ts';
import { showsAt } from './shows.ts';
import { STRIP_REACH } from './tolerances.ts';

type ButtonRecord = RecordOf<'buttons'>;

/** The records of things without what makes them that very thing. */
type Said<R> = { readonly [K in keyof R as Exclude<K, 'id' | 'at'>]?: R[K] | undefined };

/**
 * A name for what lies at a spot: the free end within reach, whether it has a record or not, else the road there. Null where there is no
 * strip, or it is called so already.
 */
export function namePlace(
  panel: PanelFile,
  at: Spot,
  said: { readonly name?: string; readonly length?: Millimetre },
): Transaction | null {
  const plan = planOf(panel);
  const near = (kind: 'end' | 'road') =>
    plan.places
      .filter((place) => place.kind === kind && distance(place.at, at) <= STRIP_REACH + DEFAULTS.strip.width / 2)
      .sort((a, b) => distance(a.at, at) - distance(b.at, at))[0];
  const place = near('end') ?? near('road');
  if (place?.record != null) return setThing(panel, { list: 'places', id: place.record.id }, said);
  const edit = editOf(panel);
  if (place !== undefined) {
    addThing(edit, 'places', { id: place.id, ...said, at: [place.at[0], place.at[1]] });
    return finish(panel, edit, 'place.name');
  }
  const on = stripAt(panel, at);
  if (on === null) return null;
  addThing(edit, 'places', { id: freshNames(panel).next('place-'), ...said, at: writtenSpot(on.at) });
  return finish(panel, edit, 'place.name');
}

/** A platform from one corner to the one across; null where it would be no wider or higher than nothing. */
export function putPlatform(
  panel: PanelFile,
  from: Spot,
  to: Spot,
  said: Pick<PlatformRecord, 'names'> = {},
): Transaction | null {
  const box = oblong(from, to);
  return box === null ? null : put(panel, 'platforms', { ...box, ...said }, 'platform.put');
}

/** An oblong that nothing may stand in, from one corner to the one across. */
export function putKeepOut(panel: PanelFile, from: Spot, to: Spot): Transaction | null {
  const box = oblong(from, to);
  return box === null ? null : put(panel, 'keepOut', box, 'keep-out.put');
}

/** A plate with its middle at a spot. */
export function putPlate(panel: PanelFile, at: Spot, text: string, said: Said<PlateRecord> = {}): Transaction | null {
  return put(panel, 'plates', { at: writtenSpot(at), ...said, text }, 'plate.put');
}

/** A hole for a screw that holds the sheet. */
export function putFixing(panel: PanelFile, at: Spot, drill: Millimetre): Transaction | null {
  return put(panel, 'fixings', { at: writtenSpot(at), drill }, 'fixing.put');
}

/** A lever, in the tool's row where no spot is given. Levers that points have by default are written down with it. */
export function putLever(panel: PanelFile, at: Spot | null, said: Said<LeverRecord> = {}): Transaction | null {
  const edit = editOf(panel);
  recordLevers(edit);
  const spot = at === null ? {} : { at: writtenSpot(at) };
  addThing(edit, 'levers', { id: freshNames(edit.panel).next('L'), ...spot, ...known(said) });
  return finish(panel, edit, 'lever.put');
}

/** A lever in the row for each point that nothing works, numbered as its point where that is free. Null where none is missing. */
export function putMissingLevers(panel: PanelFile): Transaction | null {
  if (panel.levers === undefined) return null;
  const { points, levers } = planOf(panel);
  const worked = new Set(levers.flatMap(({ works }) => works.map(({ point }) => point)));
  for (const { sets } of panel.buttons ?? []) for (const point of Object.keys(sets ?? {})) worked.add(point);
  const free = pointsWithoutLever(panel, points);
  const ids = newIds(panel);
  const edit = editOf(panel);
  for (const { id } of points) {
    if (worked.has(id) || free.has(id)) continue;
    const number = /\d+$/.exec(id)?.[0];
    const own = number === undefined ? null : ids.claim(`L${number}`);
    edit.add('levers', { id: own ?? ids.next('L'), works: [{ point: id }] });
  }
  return finish(panel, edit, 'lever.put');
}

/** A button with its middle at a spot. */
export function putButton(panel: PanelFile, at: Spot, said: Said<ButtonRecord> = {}): Transaction | null {
  const id = newIds(panel).next('B');
  return put(panel, 'buttons', { id, at: writtenSpot(at), ...known(said) }, 'button.put');
}

/** A lamp with its middle at a spot. Where `shows` is not said it is what the leg there asks; null for none: then it claims what it lies on. */
export function putLamp(
  panel: PanelFile,
  at: Spot,
  said: Omit<Said<LampRecord>, 'shows'> & { readonly shows?: LampRecord['shows'] | null } = {},
): Transaction | null {
  const { shows, ...rest } = said;
  const speaks = shows === undefined ? (rest.claims === undefined ? showsAt(planOf(panel), at) : null) : shows;
  const id = newIds(panel).next('H');
  const record = { id, at: writtenSpot(at), ...known(rest), ...(speaks === null ? {} : { shows: speaks }) };
  return put(panel, 'lamps', record, 'lamp.put');
}

/**
 * Figures of one thing, as typed: its spot, size, name and whatever its record holds; undefined takes one out. Null where there is no such
 * thing, it says so already, or a file would not take it.
 * @example setThing(panel, { list: 'levers', id: 'L1' }, { at: [60, 125], angle: 90 })
 */
export function setThing<L extends PickList>(
  panel: PanelFile,
  picked: Picked & { readonly list: L },
  values: { readonly [K in keyof ThingOf<L> as Exclude<K, 'id'>]?: ThingOf<L>[K] | undefined },
): Transaction | null {
  const edit = editOf(panel);
  if (isDefaultLever(panel, picked)) recordLevers(edit);
  const record = recordOf(edit.panel, picked);
  const wanted = asWritten(values);
  if (record === undefined || Reflect.has(wanted, 'id') || isAlready(record, wanted)) return null;
  updateThing(edit, picked, patch(wanted));
  return finish(panel, edit, `${NOUNS[picked.list]}.set`);
}

/** What one thing of a list is called in the name of an edit. */
export const NOUNS: Readonly<Record<PickList, string>> = {
  strips: 'strip',
  places: 'place',
  lamps: 'lamp',
  levers: 'lever',
  buttons: 'button',
  relays: 'relay',
  plates: 'plate',
  platforms: 'platform',
  fixings: 'fixing',
  keepOut: 'keep-out',
};

function put(panel: PanelFile, list: PickList, record: Readonly<Record<string, unknown>>, name: string) {
  const edit = editOf(panel);
  addThing(edit, list, record);
  return finish(panel, edit, name);
}

function oblong(from: Spot, to: Spot): { readonly at: [number, number]; readonly size: [number, number] } | null {
  const [a, b] = [writtenSpot(from), writtenSpot(to)];
  const at: [number, number] = [Math.min(a[0], b[0]), Math.min(a[1], b[1])];
  const size = writtenSpot([Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1])]);
  return size[0] > 0 && size[1] > 0 && !isSameSpot(from, to) ? { at, size } : null;
}

/** Spots and paths among typed values are rounded like all others. */
function asWritten(values: object): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    Object.entries(values).map(([key, value]: [string, unknown]) => {
      if (key === 'path' && Array.isArray(value)) return [key, writtenPath(value as readonly Spot[])];
      if ((key === 'at' || key === 'size') && Array.isArray(value)) return [key, writtenSpot(value as unknown as Spot)];
      return [key, value];
    }),
  );
}
