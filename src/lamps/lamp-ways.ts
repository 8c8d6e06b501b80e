/**
 * How each lamp can be lit: across the feed or in series with the drive by one lever, or by changeover contacts that follow a lever's
 * switch, a drive, its blades or a relay. Lamps that contacts light hang in trees; what a scheme cannot do is reported, and the lamp is
 * left out.
 */
import {
  contactsForLamps,
  drivesOfPoints,
  latchesOf,
  type PointDrive,
  poleBudgets,
  polesForLever,
  twinOf,
} from '../contacts/index.ts';
import {
  DEFAULTS,
  feedOf,
  type LeverRecord,
  type Lie,
  type Lies,
  type Lighting,
  lightingOf,
  newIds,
  type PanelFile,
  suppliesOf,
} from '../panel/index.ts';
import { type Catalogue, type LampPart, worksWithoutLever } from '../parts/index.ts';
import type { Lever, Plan } from '../plan/index.ts';
import type { Ampere, Spot } from '../units/index.ts';
import { growTrees } from './grow-trees.ts';
import type { Basis, Carrier, Hang, LampProblem, LampUse, LightTree, Scheme, SchemeUnfit } from './types.ts';

/** A lamp whose claim is read. */
export interface Claimed {
  readonly id: string;
  readonly at: Spot;
  readonly claim: readonly Lies[];
  readonly part: LampPart;
  readonly element: LampUse['element'];
}

/** What lights a lamp. */
export interface Way {
  readonly scheme: Scheme;
  readonly basis: Basis;
  /** The circuit, where a feed lights it; contacts have theirs from their tree. */
  readonly circuit: string | null;
  readonly lever: string | null;
  readonly lie: Lie | null;
  readonly supply: string | null;
  readonly current: Ampere;
}

export interface LampWays {
  /** The panel's own lighting. */
  readonly usual: Lighting;
  wayOf(lamp: Claimed): Way | { readonly problem: readonly LampProblem[] };
  /** A lamp that shows its supply: across it behind its fuse, with nothing in the way. */
  steady(lamp: Claimed): Way | { readonly problem: readonly LampProblem[] };
  /** The same lamps with their places in trees of contacts. */
  hang(
    lamps: readonly LampUse[],
    problems: LampProblem[],
  ): { readonly lamps: readonly LampUse[]; readonly trees: readonly LightTree[] };
}

/** Schemes that a lever's own feed lights. */
const FED: ReadonlySet<Scheme> = new Set(['across-feed', 'in-series']);

const BASIS: Readonly<Record<Carrier['kind'], Basis>> = {
  lever: 'asked',
  relay: 'asked',
  drive: 'drive',
  blades: 'blades',
};
const WEAKEST_FIRST: readonly Basis[] = ['asked', 'drive', 'blades'];

/** How lamps of a panel can be lit. Carriers of contacts are asked for as lamps need them, and kept. */
export function lampWays(panel: PanelFile, catalogue: Catalogue, plan: Plan): LampWays {
  const usual = lightingOf(panel);
  const leverRecords = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const workedBy = leversOfPoints(plan);
  const budgets = poleBudgets(panel, catalogue, plan);
  const drives = drivesOfPoints(panel, catalogue, plan);
  const relays = new Map(
    (panel.relays ?? []).flatMap(({ id, follows, part }) =>
      follows === undefined ? [] : [[follows, { id, part: part ?? DEFAULTS.relay.part }] as const],
    ),
  );
  const latches = latchesOf(panel, catalogue, plan);
  const names = newIds(panel);
  // A relay that remembers for two levers lights lamps with what it has left; where it has nothing left another stands beside it.
  for (const { id, part, point, left } of latches.values()) {
    names.claim(id);
    if (left.length > 0) relays.set(point, { id, part: part.id });
    else relays.delete(point);
  }
  const carriers = new Map<string, Carrier>();
  /** What lights each lamp by contacts: lies of carriers, by lamp. */
  const cubes = new Map<string, ReadonlyMap<Carrier, Lie>>();
  const steadies = new Set<string>();
  return { usual, wayOf, steady, hang };

  function wayOf(lamp: Claimed): Way | { readonly problem: readonly LampProblem[] } {
    const named = lamp.claim.flatMap((lies) => Object.keys(lies));
    const first = named.map((point) => workedBy.get(point)?.lever.id).find((lever) => lever !== undefined);
    const lighting = lightingOf(panel, first === undefined ? undefined : leverRecords.get(first));
    const { scheme } = lighting;
    // A point worked by hand or by a decoder has no lever and can be shown by its contact alone.
    const byHand = named.every((point) => !workedBy.has(point) && isLeverless(drives.get(point)));
    if (byHand && scheme !== 'blade-contact') return byContacts(lamp, 'drive-contact', lighting);
    if (FED.has(scheme) || scheme === 'spare-pole') return byLever(lamp, scheme, lighting);
    return byContacts(lamp, scheme, lighting);
  }

  function steady(lamp: Claimed): Way | { readonly problem: readonly LampProblem[] } {
    const leads = whyNoLeads(lamp);
    if (leads !== null) return { problem: [unfit(lamp, lamp.id, usual.scheme, leads, lamp.part.id)] };
    steadies.add(lamp.id);
    // A capacitor unit gives what charges it: a lamp across the unit would draw on what the throw wants.
    const named = suppliesOf(panel).find(({ id }) => id === usual.supply);
    const supply = named?.kind === 'cdu' ? named.from : usual.supply;
    return { scheme: 'tree', basis: 'asked', circuit: null, lever: null, lie: null, supply, current: usual.current };
  }

  function byLever(
    lamp: Claimed,
    scheme: Scheme,
    lighting: Lighting,
  ): Way | { readonly problem: readonly LampProblem[] } {
    const bound = bindToLever(lamp);
    if ('code' in bound) return { problem: [bound] };
    const { lever, lie } = bound;
    const record = leverRecords.get(lever);
    const feed = feedOf(panel, record);
    const say = (why: SchemeUnfit, of = lever) => ({ problem: [unfit(lamp, lamp.id, scheme, why, of)] });
    const { current } = lighting;
    if (scheme === 'spare-pole') {
      const carrier = leverCarrier(lever);
      const [pole, leads] = [whyNoPole(lever), whyNoLeads(lamp)];
      if (pole !== null) return say(pole);
      if (leads !== null) return say(leads, lamp.part.id);
      if (carrier.contacts.length === 0) return { problem: [short(lamp, carrier, 1)] };
      cubes.set(lamp.id, new Map([[carrier, lie]]));
      return { scheme, basis: 'asked', circuit: null, lever, lie, supply: lighting.supply, current };
    }
    if (feed.kind === 'pulse' || feed.kind === 'charge') return say('feed-at-rest');
    if (feed.kind === 'contact') return say('feed-is-signal');
    if (lamp.element !== null && lamp.part.leads !== 2) return say('needs-two-leads', lamp.part.id);
    if (scheme === 'in-series') {
      const other = worksOf(lever).find((point) => drives.get(point)?.part?.what !== 'stall');
      if (other !== undefined) return say('not-a-stall-drive', drives.get(other)?.drive ?? other);
    }
    return { scheme, basis: 'asked', circuit: lever, lever, lie, supply: feed.supplies[0] ?? null, current };
  }

  /** Contacts of the kind that the scheme asks for, one for each point that the claim names. */
  function byContacts(
    lamp: Claimed,
    scheme: Scheme,
    lighting: Lighting,
  ): Way | { readonly problem: readonly LampProblem[] } {
    const leads = whyNoLeads(lamp);
    if (leads !== null) return { problem: [unfit(lamp, lamp.id, scheme, leads, lamp.part.id)] };
    const found: LampProblem[] = [];
    const ways = lamp.claim.flatMap((lies): ReadonlyMap<Carrier, Lie>[] => {
      const cube = new Map<Carrier, Lie>();
      for (const [point, lie] of Object.entries(lies)) {
        const told = carrierOf(point, scheme);
        if ('why' in told) {
          found.push(unfit(lamp, lamp.id, scheme, told.why, told.of));
          continue;
        }
        const asks = told.points.find((each) => each.point === point)?.whenNormal === lie ? 'normal' : 'reverse';
        // Both lies of one carrier: this alternative never holds.
        if ((cube.get(told) ?? asks) !== asks) return [];
        cube.set(told, asks);
        if (told.contacts.length === 0) found.push(short(lamp, told, 1));
      }
      return [cube];
    });
    if (found.length > 0) return { problem: found.slice(0, 1) };
    const merged = merge(ways);
    const [cube] = merged;
    if (cube === undefined || merged.some((each) => each.size === 0))
      return { problem: [{ code: 'lamp-never-or-always', lamp: lamp.id, at: lamp.at }] };
    if (merged.length > 1)
      return { problem: [{ code: 'lamp-several-ways', lamp: lamp.id, ways: merged.length, at: lamp.at }] };
    cubes.set(lamp.id, cube);
    const [[only, lie] = [null, null]] = cube;
    const alone = cube.size === 1 && only !== null && only.lever !== null && lie !== null;
    const basis = WEAKEST_FIRST.find((each) => [...cube.keys()].some(({ kind }) => BASIS[kind] === each)) ?? 'asked';
    return {
      scheme,
      basis,
      circuit: null,
      lever: alone ? only.lever : null,
      lie: alone ? (only.whenNormal === lie ? 'normal' : 'reverse') : null,
      supply: lighting.supply,
      current: lighting.current,
    };
  }

  function carrierOf(point: string, scheme: Scheme): Carrier | { readonly why: SchemeUnfit; readonly of: string } {
    const lever = workedBy.get(point)?.lever.id;
    switch (scheme) {
      case 'blade-contact':
        return bladesCarrier(point);
      case 'latching-relay': {
        const named = catalogue.find('relay', relays.get(point)?.part ?? DEFAULTS.relay.part);
        if (named?.latching === false)
          return followsFeed(lever) ? relayCarrier(point) : { why: 'relay-falls-back', of: lever ?? point };
        const kind = lever === undefined ? feedOf(panel).kind : feedOf(panel, leverRecords.get(lever)).kind;
        // A switch that stays holds the relay's coil as long as it lies.
        const held = lever !== undefined && budgets.get(lever)?.stays === true;
        const pulsed = kind === 'pulse' || (lever !== undefined && latches.has(lever));
        return pulsed && !held ? relayCarrier(point) : { why: 'no-pulse', of: lever ?? point };
      }
      case 'tree': {
        const poles = lever !== undefined && whyNoPole(lever) === null ? leverCarrier(lever) : null;
        if (poles !== null && poles.contacts.length > 0) return poles;
        const drive = driveCarrier(point);
        return drive.contacts.length > 0 ? drive : (poles ?? drive);
      }
      default:
        return driveCarrier(point);
    }
  }

  /** Is a lever's feed there, one way or the other, as long as the panel is on? What hangs across it behind a diode follows it. */
  function followsFeed(lever: string | undefined): boolean {
    const record = lever === undefined ? undefined : leverRecords.get(lever);
    const { kind } = feedOf(panel, record);
    const part = catalogue.find('switch', record?.switch ?? '');
    const twin = twinOf(panel, record) !== null;
    return lever !== undefined && (kind === 'reversing' || kind === 'split') && part?.centreOff !== true && !twin;
  }

  /** Why a lever's poles may light nothing. */
  function whyNoPole(lever: string): SchemeUnfit | null {
    if (budgets.get(lever)?.stays === false) return 'pole-lets-go';
    return twinOf(panel, leverRecords.get(lever)) === 'two-way' ? 'pole-of-twin' : null;
  }

  /** Contacts light one element of three leads from each of their throws; two opposed ones want their polarity turned over. */
  function whyNoLeads({ element, part }: Claimed): SchemeUnfit | null {
    if (element === null) return null;
    if (part.leads !== 3) return 'needs-three-leads';
    return part.common === 'anode' ? 'needs-common-cathode' : null;
  }

  /** Lamps that show a supply: a circuit for each supply. */
  function steadyTrees(lamps: readonly LampUse[]): readonly LightTree[] {
    const mine = lamps.filter(({ id }) => steadies.has(id));
    return [...new Set(mine.map(({ supply }) => supply ?? ''))].map((supply) => ({
      circuit: names.next('TR'),
      supply,
      links: [],
      lamps: mine.filter((lamp) => (lamp.supply ?? '') === supply).map(({ id }) => id),
      least: 0,
      proved: true,
    }));
  }

  function leverCarrier(lever: string): Carrier {
    return keep(lever, () => {
      const budget = budgets.get(lever);
      const feed = polesForLever(panel, leverRecords.get(lever));
      const contacts = Array.from({ length: budget?.left ?? 0 }, (_, i) => `${lever}.${feed + i + 1}`);
      const works = plan.levers.find(({ id }) => id === lever)?.works ?? [];
      const points = works.filter(({ point }) => workedBy.get(point)?.lever.id === lever);
      return { id: lever, kind: 'lever', contacts, points, lever, whenNormal: 'normal' };
    });
  }

  function driveCarrier(point: string): Carrier {
    const own = drives.get(point);
    const id = own?.drive ?? point;
    return keep(id, () => {
      const moved = [...drives.values()].filter((each) => each.drive === id);
      const points = moved.map((each): Carrier['points'][number] => ({
        point: each.point,
        whenNormal: each.same ? 'normal' : 'reverse',
      }));
      // The first of its points that a lever works decides it.
      const asked = moved.find((each) => workedBy.has(each.point));
      const worked = asked === undefined ? undefined : workedBy.get(asked.point);
      const whenNormal =
        worked === undefined || (worked.whenNormal === 'normal') === (asked?.same ?? true) ? 'normal' : 'reverse';
      const contacts = own === undefined ? [] : contactsForLamps(panel, own);
      return { id, kind: 'drive', contacts, points, lever: worked?.lever.id ?? null, whenNormal };
    });
  }

  function bladesCarrier(point: string): Carrier {
    return keep(`${point}.b`, () => ({
      id: `${point}.b`,
      kind: 'blades',
      contacts: [`${point}.b1`],
      points: [{ point, whenNormal: 'normal' }],
      lever: workedBy.get(point)?.lever.id ?? null,
      whenNormal: workedBy.get(point)?.whenNormal ?? 'normal',
    }));
  }

  function relayCarrier(point: string): Carrier {
    const known = relays.get(point) ?? { id: names.next('K'), part: DEFAULTS.relay.part };
    relays.set(point, known);
    return keep(known.id, () => {
      const poles = catalogue.find('relay', known.part)?.poles ?? 0;
      const latch = [...latches.values()].find(({ id }) => id === known.id);
      return {
        id: known.id,
        kind: 'relay',
        contacts: latch?.left ?? Array.from({ length: poles }, (_, i) => `${known.id}.${i + 1}`),
        points: [{ point, whenNormal: 'normal' }],
        lever: workedBy.get(point)?.lever.id ?? null,
        whenNormal: workedBy.get(point)?.whenNormal ?? 'normal',
      };
    });
  }

  function keep(id: string, make: () => Carrier): Carrier {
    const known = carriers.get(id) ?? make();
    carriers.set(id, known);
    return known;
  }

  function worksOf(lever: string): readonly string[] {
    return (plan.levers.find(({ id }) => id === lever)?.works ?? []).map(({ point }) => point);
  }

  function bindToLever({ id, at, claim }: Claimed): { lever: string; lie: Lie } | LampProblem {
    const levers = new Set<string>();
    const positions = new Set<Lie>();
    for (const lies of claim) {
      const asked = new Set<Lie>();
      for (const [point, lie] of Object.entries(lies)) {
        const worked = workedBy.get(point);
        if (worked === undefined) return { code: 'lamp-point-has-no-lever', lamp: id, point, at };
        levers.add(worked.lever.id);
        asked.add(worked.whenNormal === lie ? 'normal' : 'reverse');
      }
      // Both positions of one lever at once: this alternative never holds.
      if (asked.size === 1 || levers.size > 1) for (const position of asked) positions.add(position);
    }
    if (levers.size > 1) return { code: 'lamp-needs-two-levers', lamp: id, levers: [...levers].sort(), at };
    const [lever] = levers;
    const [lie] = positions;
    if (lever === undefined || lie === undefined || positions.size > 1)
      return { code: 'lamp-never-or-always', lamp: id, at };
    return { lever, lie };
  }

  function hang(
    lamps: readonly LampUse[],
    problems: LampProblem[],
  ): { readonly lamps: readonly LampUse[]; readonly trees: readonly LightTree[] } {
    // A guard would carry current backwards between two trees: then all contacts stand on one side.
    const guarded = (panel.lampGroups ?? []).some(({ guard }) => guard === 'antiparallel');
    const { hangs, trees: grown, left } = growTrees(lamps, cubes, names, guarded ? 'plus' : 'both');
    const trees = [...grown, ...steadyTrees(lamps)];
    for (const { lamp, carrier, needs } of left) {
      const use = lamps.find(({ id }) => id === lamp);
      if (use !== undefined) problems.push(short(use, carrier, needs));
    }
    const circuits = new Map(trees.flatMap((tree) => tree.lamps.map((id) => [id, tree.circuit] as const)));
    return {
      trees,
      lamps: lamps.map((lamp) => {
        const hung = steadies.has(lamp.id) ? STEADY : hangs.get(lamp.id);
        const lost = left.some((each) => each.lamp === lamp.id);
        if (lost) return { ...lamp, circuit: null, lever: null, lie: null };
        return hung === undefined ? lamp : { ...lamp, hang: hung, circuit: circuits.get(lamp.id) ?? null };
      }),
    };
  }
}

/** From rail to rail, with no contact in the way. */
const STEADY: Hang = { plus: 'plus', minus: 'minus', side: 'normal', contact: '', cube: {} };

function isLeverless(drive: PointDrive | undefined): boolean {
  return drive?.part != null && worksWithoutLever(drive.part);
}

/** Ways that differ in one lie of one carrier are one way without it; the same way twice is one; what another way holds besides goes. */
function merge(ways: readonly ReadonlyMap<Carrier, Lie>[]): readonly ReadonlyMap<Carrier, Lie>[] {
  let now = [...ways];
  for (;;) {
    const pair = firstPair(now);
    if (pair === null) return now.filter((way) => !now.some((other) => other !== way && isWithin(other, way)));
    const { one, other, joined } = pair;
    now = [...now.filter((each) => each !== one && each !== other), joined];
  }
}

/** Does one way ask nothing that another does not? */
function isWithin(one: ReadonlyMap<Carrier, Lie>, other: ReadonlyMap<Carrier, Lie>): boolean {
  return [...one].every(([carrier, lie]) => other.get(carrier) === lie);
}

function firstPair(ways: readonly ReadonlyMap<Carrier, Lie>[]) {
  for (const [i, one] of ways.entries())
    for (const other of ways.slice(i + 1)) {
      if (one.size !== other.size || [...one.keys()].some((carrier) => !other.has(carrier))) continue;
      const apart = [...one].filter(([carrier, lie]) => other.get(carrier) !== lie);
      if (apart.length > 1) continue;
      const joined = new Map(one);
      for (const [carrier] of apart) joined.delete(carrier);
      return { one, other, joined };
    }
  return null;
}

/** The problem of a scheme that cannot light a lamp. */
export function unfit(
  lamp: { readonly at: Spot },
  id: string,
  scheme: string,
  why: SchemeUnfit,
  of: string,
): LampProblem {
  return { code: 'lamp-scheme-unfit', lamp: id, scheme, why, of, at: lamp.at };
}

function short(lamp: { readonly id: string; readonly at: Spot }, carrier: Carrier, needs: number): LampProblem {
  const { id, kind, contacts } = carrier;
  return { code: 'lamp-contacts-short', lamp: lamp.id, carrier: id, kind, needs, has: contacts.length, at: lamp.at };
}

/** The lever that works each point, and the point's lie when it is normal; the first lever where two claim one point. */
export function leversOfPoints(
  plan: Pick<Plan, 'levers'>,
): ReadonlyMap<string, { readonly lever: Lever; readonly whenNormal: Lie }> {
  const answer = new Map<string, { lever: Lever; whenNormal: Lie }>();
  for (const lever of plan.levers) {
    for (const worked of lever.works) {
      if (!answer.has(worked.point)) answer.set(worked.point, { lever, whenNormal: worked.whenNormal });
    }
  }
  return answer;
}
