/** Lamps lit otherwise, as steps of an edit, and which ways there are. */
import type { DerivedPanel } from '../derive.ts';
import type { Scheme } from '../lamps/index.ts';
import { type Edit, feedOf, lightingOf, nextFreeId, recordSupplies, suppliesOf } from '../panel/index.ts';
import { type DrivePart, HELD_RELAY } from '../parts/index.ts';
import { hasCoils, turnsOver } from '../wiring/index.ts';
import { feedKind, type NewFeed } from './set-feed.ts';
import { COIL_SIZES } from './tolerances.ts';

/** Ways to light lamps; `relays`: relays that repeat their lever as long as it is fed. */
export type Way = Scheme | 'relays';

/** Ways in the order in which they are offered. */
export const WAYS: readonly Way[] = [
  'across-feed',
  'in-series',
  'spare-pole',
  'drive-contact',
  'blade-contact',
  'latching-relay',
  'relays',
  'tree',
];

/** Can lamps be lit so, beside drives of this kind on this feed? Null: no feed, what moves the drives comes from elsewhere. */
export function canLight(way: Way, part: DrivePart, feed: NewFeed | 'pulse' | null): boolean {
  const turns = feed !== null && turnsOver(feedKind(feed));
  switch (way) {
    case 'across-feed':
      return turns && !hasCoils(part);
    case 'in-series':
      return turns && part.what === 'stall';
    case 'spare-pole':
    case 'tree':
      return feed !== null && feed !== 'unit' && feed !== 'pulse';
    case 'drive-contact':
      return part.contacts > 0;
    case 'blade-contact':
      return true;
    case 'latching-relay':
      return feed === 'unit' || feed === 'pulse';
    case 'relays':
      return feed === 'reversing' || feed === 'split';
  }
}

/**
 * Ways to try where drives or feed change: the present one first, then what is nearest to the lever, the drive, the blades. Latching
 * relays are no second choice: a contact on the blades costs less and knows more.
 */
export function waysToTry(present: Way, part: DrivePart, feed: NewFeed | null): readonly Way[] {
  const all: readonly Way[] = [present, 'spare-pole', 'drive-contact', 'blade-contact'];
  return [...new Set(all)].filter((way) => canLight(way, part, feed));
}

/** How the lamps are lit now; null where levers differ. */
export function presentWay({ panel }: DerivedPanel): Way | null {
  const all = lightingOf(panel);
  const ways = new Set((panel.levers ?? []).map((lever) => lightingOf(panel, lever).scheme));
  if (ways.size > 1) return null;
  const scheme = [...ways][0] ?? all.scheme;
  const held = (panel.relays ?? []).some(({ part }) => part === HELD_RELAY);
  return scheme === 'latching-relay' && held ? 'relays' : scheme;
}

/**
 * Every lamp is lit so; schemes of levers go. Lamps keep the supply that they are lit from where it is one of DC, so that a new feed
 * does not take them along; resistors that the file gives are sized anew.
 */
export function setLighting(edit: Edit, present: DerivedPanel, way: Way): void {
  recordSupplies(edit);
  const scheme: Scheme = way === 'relays' ? 'latching-relay' : way;
  const isDirect = (id: string | null | undefined) =>
    suppliesOf(edit.panel).some((each) => each.id === id && (each.kind === 'dc' || each.kind === 'battery'));
  const now = lightingOf(present.panel).supply;
  const direct = suppliesOf(edit.panel).find(({ id }) => isDirect(id))?.id;
  const supply = isDirect(now) ? now : direct;
  edit.set('lighting', { ...edit.panel.lighting, scheme, ...(supply == null ? {} : { supply }) });
  for (const { id, lighting } of edit.panel.levers ?? []) {
    if (lighting?.scheme === undefined) continue;
    const { scheme: _, ...rest } = lighting;
    edit.update('levers', id, { lighting: Object.keys(rest).length === 0 ? undefined : rest });
  }
  for (const { id, ohms } of edit.panel.lampGroups ?? [])
    if (ohms !== undefined) edit.update('lampGroups', id, { ohms: undefined });
  setRelays(edit, present, way);
}

/** A relay for each point that a lever works where they repeat it; where none do, those that did go. */
function setRelays(edit: Edit, present: DerivedPanel, way: Way): void {
  const { plan } = present;
  if (way !== 'relays') {
    for (const { id, part } of edit.panel.relays ?? []) if (part === HELD_RELAY) edit.remove('relays', id);
    return;
  }
  const part = coilFor(edit, present);
  for (const lever of plan.levers) {
    for (const { point } of lever.works) {
      const own = edit.panel.relays?.find(({ follows }) => follows === point);
      if (own === undefined) edit.add('relays', { id: nextFreeId(edit.panel, 'K'), part, follows: point });
      else if (own.part !== part) edit.update('relays', own.id, { part });
    }
  }
}

/** The relay whose coil is made for the volts of the feed: the usual one, or one like it with another coil of as many watts. */
function coilFor(edit: Edit, { panel, catalogue }: DerivedPanel): string {
  const usual = catalogue.find('relay', HELD_RELAY);
  const volts = suppliesOf(panel).find(({ id }) => id === feedOf(panel).supplies[0])?.volts;
  if (usual === undefined || volts === undefined) return HELD_RELAY;
  const coilVolts = COIL_SIZES.reduce((best, each) => (Math.abs(each - volts) < Math.abs(best - volts) ? each : best));
  if (coilVolts === usual.coilVolts) return HELD_RELAY;
  const id = `${HELD_RELAY}-${coilVolts}-volts`;
  const coilOhms = Number((usual.coilOhms * (coilVolts / usual.coilVolts) ** 2).toPrecision(3));
  if (!catalogue.has(id)) edit.add('parts', { id, like: HELD_RELAY, coilVolts, coilOhms });
  return id;
}
