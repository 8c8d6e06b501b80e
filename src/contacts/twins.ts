/**
 * A lever with a twin on another panel: how the two work one point together, and what they cannot do.
 *
 * two-way: a switch that stays on either panel, the other's before ours, each turning over what comes from the one before it: the point
 * goes to the other lie whichever is thrown. beside: switches that spring back stand side by side on the pulse that throws a coil, which
 * remembers by itself. latch: the same on the two coils of a latching relay, whose contacts then hold the feed in place of the switch.
 */
import { DEFAULTS, type Feed, feedOf, type LeverRecord, newIds, type PanelFile } from '../panel/index.ts';
import type { Catalogue, RelayPart } from '../parts/index.ts';
import type { Lever, Plan } from '../plan/index.ts';
import type { TwinKind, TwinUnfit } from './types.ts';

/** How many poles a feed takes of whatever holds it, a switch or a relay: two where both wires change over. */
const HELD_POLES: Readonly<Record<Feed['kind'], number>> = {
  reversing: 2,
  split: 1,
  'half-wave': 1,
  pulse: 1,
  charge: 1,
  contact: 1,
};

/** Poles that a kind of feed takes of what holds it: 1 or 2. */
export function polesForFeed(kind: Feed['kind']): number {
  return HELD_POLES[kind];
}

/** The switch of the other panel: "L1.twin". No id of a file has a dot. */
export function twinId(lever: string): string {
  return `${lever}.twin`;
}

type TwinBy = NonNullable<LeverRecord['twin']>['by'];

/**
 * How the file should join a twin where its lever gets a feed of this kind: pulses come from switches that spring back side by side, and
 * a driver board has no volts for a relay that remembers; on any other feed as before.
 */
export function twinFor(kind: Feed['kind'], before: TwinBy): TwinBy {
  return kind === 'pulse' ? 'latch' : kind === 'contact' ? 'two-way' : before;
}

/** How a lever and its twin work together; null where it has none, or where its feed cannot be worked so. */
export function twinOf(panel: PanelFile, record: LeverRecord | undefined): TwinKind | null {
  if (record?.twin === undefined || whyNoTwin(panel, record) !== null) return null;
  const { kind } = feedOf(panel, record);
  if (record.twin.by === 'two-way') return 'two-way';
  return kind === 'pulse' ? 'beside' : 'latch';
}

/** Why a lever's feed cannot be worked from two panels as its record says; null where it can, or where nothing is said. */
export function whyNoTwin(panel: PanelFile, record: LeverRecord | undefined): TwinUnfit | null {
  if (record?.twin === undefined) return null;
  const { kind } = feedOf(panel, record);
  if (kind === 'charge') return 'charge';
  return kind === 'pulse' && record.twin.by === 'two-way' ? 'two-way-pulse' : null;
}

/** Poles that its feed takes of a lever's own switch: one where a relay holds the feed. */
export function polesForLever(panel: PanelFile, record: LeverRecord | undefined): number {
  return twinOf(panel, record) === 'latch' ? 1 : polesForFeed(feedOf(panel, record).kind);
}

/** Is a lever's switch one that springs back: does it throw by a pulse, a coil's or that of a relay that remembers? */
export function springsBack(panel: PanelFile, record: LeverRecord | undefined): boolean {
  return feedOf(panel, record).kind === 'pulse' || twinOf(panel, record) === 'latch';
}

/** Poles that the feed takes of the switch on the other panel: a two-way turns both wires over, but for the one of an input. */
export function polesForTwin(kind: TwinKind, feed: Feed['kind']): number {
  return kind === 'two-way' && feed !== 'contact' ? 2 : 1;
}

/** The relay that remembers for two levers, and what its contacts do. */
export interface Latch {
  readonly id: string;
  readonly part: RelayPart;
  /** Contacts that hold the feed, and those that are left for lamps, by id. */
  readonly feed: readonly string[];
  readonly left: readonly string[];
  /** The point that it follows, and how that lies when the lever is normal. */
  readonly point: string;
  readonly whenNormal: 'normal' | 'reverse';
}

/**
 * The relay of every lever that a latch joins to its twin, by lever: the one whose record follows the lever's first point, else the next
 * free K. The usual one stands in where the file names none, one that is not there, does not latch or has too few poles. A lever that
 * works no point has none. Throws where the catalogue lacks the usual relay, which is a fault of the catalogue.
 */
export function latchesOf(panel: PanelFile, catalogue: Catalogue, plan: Plan): ReadonlyMap<string, Latch> {
  const found = new Map<string, Latch>();
  if ((panel.levers ?? []).every(({ twin }) => twin?.by !== 'latch')) return found;
  const usual = catalogue.find('relay', DEFAULTS.relay.part);
  if (usual === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.relay.part}`);
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const names = newIds(panel);
  for (const lever of plan.levers) {
    const record = records.get(lever.id);
    if (twinOf(panel, record) !== 'latch') continue;
    const [first] = ownWorks(plan, lever);
    if (first === undefined) continue;
    const poles = polesForFeed(feedOf(panel, record).kind);
    const relay = panel.relays?.find(({ follows }) => follows === first.point);
    const named = relay?.part === undefined ? undefined : catalogue.find('relay', relay.part);
    const part = named?.latching === true && named.poles >= poles ? named : usual;
    const id = relay?.id ?? names.next('K');
    const contacts = Array.from({ length: part.poles }, (_, i) => `${id}.${i + 1}`);
    found.set(lever.id, {
      id,
      part,
      feed: contacts.slice(0, poles),
      left: contacts.slice(poles),
      point: first.point,
      whenNormal: first.whenNormal,
    });
  }
  return found;
}

/** What a lever works and no lever before it does. */
function ownWorks(plan: Plan, lever: Lever): Lever['works'] {
  const before = plan.levers.slice(0, plan.levers.indexOf(lever));
  return lever.works.filter(({ point }) => !before.some(({ works }) => works.some((each) => each.point === point)));
}
