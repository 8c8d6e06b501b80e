/**
 * The panel as it is, and the same panel made otherwise: with other drives, other feeds, lamps lit otherwise.
 *
 * Idea: each option is an edit of the panel, from which everything follows as from any panel. What goes with the change (supplies,
 * switches, connectors) is fitted to it, so that what is compared could be built. Options come one by one, so that a screen can show
 * each as it comes and stop between two. Cost: an option is one to five readings of the panel; its figures come later, in weighOption.
 */
import type { Derived } from '../derive.ts';
import { type Edit, editOf, suppliesOf } from '../panel/index.ts';
import { type DriveKind, type DrivePart, worksWithoutLever } from '../parts/index.ts';
import { formatAmps } from '../units/index.ts';
import { canWork } from '../wiring/index.ts';
import { fitPanel, loosenSwitches } from './fit-panel.ts';
import { feedKind, type NewFeed, presentFeed, setFeed, supplyWords } from './set-feed.ts';
import { canLight, presentWay, setLighting, WAYS, type Way, waysToTry } from './set-lighting.ts';
import { swapDrives } from './swap-drives.ts';
import type { OptionKind, PanelOption } from './types.ts';
import { AS_IS, driveName, FEED_NAMES, WAY_NAMES } from './words.ts';

/** Kinds of drive in the order in which they are offered. */
const KINDS: readonly DriveKind[] = ['stall', 'limit', 'twin-coil', 'twin-coil-end-off', 'servo', 'decoder', 'hand'];
/** Feeds in the order in which they are offered. */
const FEEDS: readonly NewFeed[] = ['reversing', 'split', 'half-wave', 'unit', 'charge', 'contact'];
/** Feeds that are tried with a new kind of drive: one that turns polarity over will do in one way, coils can be had in two. */
const FIRST_FEEDS: readonly NewFeed[] = ['reversing', 'unit', 'charge', 'contact'];

/**
 * Every option, the panel as it is first, then by drives, by feed and by lamps, each in a stated order. A pure generator: it does no
 * work that is not asked for.
 */
export function* listOptions(present: Derived): Generator<PanelOption, void> {
  const { panel, plan } = present;
  yield { id: 'as-is', kind: 'as-is', name: AS_IS, says: [], edit: null, panel, derived: present };
  if (plan.points.length === 0) return;
  yield* byDrives(present);
  yield* byFeed(present);
  yield* byLamps(present);
}

function* byDrives(present: Derived): Generator<PanelOption, void> {
  const feedNow = presentFeed(present);
  const kinds = new Set(present.wiring.drives.map(({ part }) => part.what));
  for (const kind of KINDS) {
    const part = partOfKind(present, kind);
    if (part === null || (kinds.size === 1 && kinds.has(kind))) continue;
    const fits = FEEDS.filter((feed) => canWork(feedKind(feed), part));
    const feeds =
      feedNow !== null && feedNow !== 'pulse' && fits.includes(feedNow)
        ? [feedNow]
        : fits.filter((feed) => FIRST_FEEDS.includes(feed));
    for (const feed of feeds.length === 0 ? [null] : feeds) {
      const both = feeds.length > 1 && feed !== null;
      yield make(present, {
        id: `drives:${part.id}${both ? `:${feed}` : ''}`,
        kind: 'drives',
        name: driveName(part, both ? feed : null),
        part,
        drives: true,
        feed,
        ways: waysToTry(presentWay(present) ?? 'spare-pole', part, feed),
      });
    }
  }
}

function* byFeed(present: Derived): Generator<PanelOption, void> {
  const fed = present.wiring.drives.filter(({ circuit }) => circuit !== null);
  const [first] = fed;
  if (first === undefined) return;
  const now = presentFeed(present);
  for (const feed of FEEDS) {
    if (feed === now || !fed.every(({ part }) => canWork(feedKind(feed), part))) continue;
    yield make(present, {
      id: `feed:${feed}`,
      kind: 'feed',
      name: FEED_NAMES[feed],
      part: first.part,
      drives: false,
      feed,
      ways: waysToTry(presentWay(present) ?? 'spare-pole', first.part, feed),
    });
  }
}

function* byLamps(present: Derived): Generator<PanelOption, void> {
  const { wiring, panel } = present;
  if ((panel.lamps ?? []).length === 0) return;
  const now = presentWay(present);
  const feed = presentFeed(present);
  const parts = wiring.drives.map(({ part }) => part);
  const [first] = parts;
  if (first === undefined) return;
  for (const way of WAYS) {
    if (way === now || !parts.every((part) => canLight(way, part, feed))) continue;
    yield make(present, {
      id: `lamps:${way}`,
      kind: 'lamps',
      name: WAY_NAMES[way],
      part: first,
      drives: false,
      feed: null,
      ways: [way],
    });
  }
}

interface Wish {
  readonly id: string;
  readonly kind: OptionKind;
  readonly name: string;
  /** What moves the points: the new part, or the one that is there. */
  readonly part: DrivePart;
  /** Every point gets that part. */
  readonly drives: boolean;
  /** Null: as it is. */
  readonly feed: NewFeed | null;
  /** Ways to light the lamps, the first that lights them all counts; none: as it is. */
  readonly ways: readonly Way[];
}

/** The panel with a wish fulfilled, with the first of its ways that lights every lamp; where none does with the first of all. */
function make(present: Derived, wish: Wish): PanelOption {
  const before = present.lampProblems.length;
  let first: PanelOption | null = null;
  for (const way of wish.ways.length === 0 ? [null] : wish.ways) {
    const option = makeLit(present, wish, way);
    if (option.derived.lampProblems.length <= before) return option;
    first ??= option;
  }
  if (first === null) throw new RangeError(`option ${wish.id} has no way to be made`);
  return first;
}

function makeLit(present: Derived, { id, kind, name, part, drives, feed }: Wish, way: Way | null): PanelOption {
  const edit = editOf(present.panel);
  const says: string[] = [];
  if (drives) swapDrives(edit, present, part);
  if (feed !== null) says.push(...setFeed(edit, present, feed, part));
  const lit = (present.panel.lamps ?? []).length > 0;
  if (way !== null && lit) setLighting(edit, present, way);
  loosenSwitches(edit);
  const derived = fitPanel(edit, present);
  if (drives && worksWithoutLever(part))
    says.push(
      part.what === 'hand'
        ? 'No lever moves a point: the panel only shows.'
        : 'No lever moves a point: commands on the bus do.',
    );
  if (kind !== 'lamps' && way !== null && lit && way !== presentWay(present)) says.push(`${WAY_NAMES[way]}.`);
  says.push(...brings(present, edit));
  return { id, kind, name, says, edit: edit.done('option.take'), panel: edit.panel, derived };
}

/** Supplies and connectors that come or go, a sentence each. */
function brings({ panel }: Derived, edit: Edit): readonly string[] {
  const says: string[] = [];
  const before = new Map(suppliesOf(panel).map((each) => [each.id, each]));
  for (const each of suppliesOf(edit.panel)) {
    const old = before.get(each.id);
    if (each.kind === 'cdu') {
      if (old === undefined) says.push(`A capacitor unit, ${each.id}, charged by ${each.from ?? ''}.`);
    } else if (old === undefined) says.push(`A supply more, ${each.id}: ${supplyWords(each)}.`);
    else if (old.amps !== each.amps)
      says.push(`${each.id} gives ${formatAmps(each.amps)}, not ${formatAmps(old.amps)}.`);
  }
  const shells = new Set((panel.connectors ?? []).map(({ id }) => id));
  const left = new Set((edit.panel.connectors ?? []).map(({ id }) => id));
  for (const { id, part } of edit.panel.connectors ?? [])
    if (!shells.has(id)) says.push(`A connector more, ${id}: ${part ?? ''}.`);
  for (const id of shells) if (!left.has(id)) says.push(`No connector ${id}.`);
  return says;
}

/** The part that stands for a kind: the user's own of that kind, else the typical one. */
function partOfKind({ catalogue, panel }: Derived, kind: DriveKind): DrivePart | null {
  const own = new Set((panel.parts ?? []).map(({ id }) => id));
  const all = catalogue.all('drive').filter(({ what }) => what === kind);
  return all.find(({ id }) => own.has(id)) ?? all[0] ?? null;
}
