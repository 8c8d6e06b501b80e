/**
 * Synthesis: from plan, switches, drives, lamps and supplies to every wire, pin, contact, resistor and lamp, each with the name
 * that drawing, schedule, faults and SPICE share. One circuit a lever, one for each point that no lever works and something shows or
 * throws, one for contacts of several levers. The order of everything: by lever, then lie, then terminal.
 */
import { type Latch, type LeverSwitch, latchesOf, type TwinKind, twinId } from '../contacts/index.ts';
import type { Carrier, LampGroup, LampUse, LightTree, TreeLink } from '../lamps/index.ts';
import { type LeverRecord, lightingOf, newIds, type PanelFile, suppliesOf } from '../panel/index.ts';
import type { Catalogue, DiodePart } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import { type Ohm, wireOhms } from '../units/index.ts';
import { allotPins, type Bundle } from './allot-pins.ts';
import { canWork, hasCoils, wireDrives } from './drives.ts';
import { grouped } from './grouped.ts';
import { hangLamps } from './hang-lamps.ts';
import { type Join, panelJoin } from './join.ts';
import { type FeedNets, feedFor, holderTag, type LeverFeed, layFeed } from './lay-feed.ts';
import { numberWires } from './number-wires.ts';
import { pressButtons } from './press-buttons.ts';
import { chain, type Net, ownerOf, Rails, railNames } from './rails.ts';
import { wireRelays } from './relays.ts';
import { defaultReturn, returnsOf } from './returns.ts';
import { type Beyond, type Leaving, runWires } from './run-drives.ts';
import { NO_OHMS } from './tolerances.ts';
import { TWIN_CABLE, twinLeads, twinLinks, twinSwitch } from './twins.ts';
import type {
  Circuit,
  Position,
  Terminal,
  WiredButton,
  WiredCapacitor,
  WiredContact,
  WiredDiode,
  WiredDrive,
  WiredLamp,
  WiredResistor,
  WiredReturn,
  WiredSwitch,
  Wiring,
  WiringProblem,
} from './types.ts';
import { wireSupplies } from './wire-supplies.ts';

export interface WiringInput {
  readonly panel: PanelFile;
  readonly catalogue: Catalogue;
  readonly plan: Plan;
  readonly switches: readonly LeverSwitch[];
  readonly lamps: readonly LampUse[];
  readonly trees: readonly LightTree[];
  readonly groups: readonly LampGroup[];
}

/** The guard diode that stands across a lamp. */
const GUARD_PART = 'diode-small';
/** Diodes that steer a feed or catch a coil's kick. */
const POWER_PART = 'diode-power';

/** A circuit before it is wired. */
interface Begun {
  readonly id: string;
  readonly lever: string | null;
  readonly switch: LeverSwitch | null;
  readonly feed: LeverFeed | null;
  readonly drives: readonly WiredDrive[];
  readonly buttons: readonly WiredButton[];
  readonly trees: readonly LightTree[];
  readonly groups: readonly LampGroup[];
}

/** Wire the panel. Total: what cannot be wired is left out and reported. */
export function wirePanel(input: WiringInput): Wiring {
  const { panel, catalogue, plan } = input;
  const problems: WiringProblem[] = [];
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const supplies = suppliesOf(panel);
  const supplyIds = new Set(supplies.map(({ id }) => id));
  const treesBy = grouped(input.trees.filter(knownSupply), (tree) => tree.circuit);
  const groupsBy = grouped(input.groups, (group) => group.circuit);
  const latches = latchesOf(panel, catalogue, plan);
  const feeds = new Map(
    input.switches.map((each) => {
      // A lever that works nothing has nothing for a relay to hold.
      const idle = each.twin === 'latch' && !latches.has(each.lever);
      return [each.lever, idle ? null : feedFor(panel, supplies, records.get(each.lever), each, problems)];
    }),
  );
  const switchOf = new Map(input.switches.map((each) => [each.lever, each]));
  const asked = wireDrives(panel, catalogue, plan, problems);
  const pressed = pressButtons(panel, catalogue, asked, supplies, problems);
  const drives = asked.map((drive): WiredDrive => feedDrive(pressed.drives.get(drive.id) ?? drive));
  const drivesBy = grouped(
    drives.filter(({ feed }) => feed !== null),
    (drive) => drive.circuit ?? '',
  );
  const buttonsBy = grouped(pressed.buttons, (button) => button.circuit);
  const begun = begin();

  const uses = new Map(input.lamps.map((lamp) => [lamp.id, lamp]));
  const joins: Join[] = [];
  const rails = new Rails(joins, supplies);
  const lamps: WiredLamp[] = [];
  const resistors: WiredResistor[] = [];
  const contacts: WiredContact[] = [];
  const diodes: WiredDiode[] = [];
  const capacitors: WiredCapacitor[] = [];
  const relays = wireRelays(panel, catalogue, input.trees, drives, latches);
  const named = returnsOf(
    panel,
    problems,
    begun.flatMap(({ lever }) => lever ?? []),
  );
  returnsThatMiss();
  const wireNames = newIds(panel);
  const madeReturns = new Map<string, string>();
  const returns = new Map<string, WiredReturn>();
  const { connectors, pinsOf } = allotPins(panel, catalogue, bundles(), problems);
  // First, so that nothing else stands between a supply and what many drives share.
  const owned = returnsWired();
  for (const each of begun) wireCircuit(each);
  const wires = numberWires(panel, joins, problems);

  const wiresBy = grouped(wires, (wire) => wire.circuit);
  const idsBy = new Map<string, readonly string[]>();
  const lampsBy = grouped(lamps, (lamp) => lamp.circuit);
  const levers = new Map(plan.levers.map((lever) => [lever.id, lever]));
  const circuits = begun.map(circuitOf);
  const listed = wireSupplies(supplies, circuits, rails, drives, input.groups, lamps, diodes, capacitors, resistors, {
    rectifier: part(POWER_PART),
    cdu: part('diode-cdu'),
  });
  return {
    circuits,
    supplies: listed,
    switches: begun.flatMap((each) => {
      const twin = twinIn(each);
      const own = each.switch === null ? [] : [wiredSwitch(each.switch)];
      return twin === null || each.lever === null
        ? own
        : [...own, twinSwitch(catalogue, each.lever, twin.kind, twin.feed.kind)];
    }),
    lamps,
    lampOrder: input.lamps.map((lamp) => lamp.id),
    resistors,
    drives,
    contacts,
    relays: relays.filter(({ circuit }) => circuits.some(({ id }) => id === circuit)),
    buttons: pressed.buttons,
    diodes,
    capacitors,
    returns: owned,
    connectors,
    wires,
    problems,
  };

  function knownSupply(tree: LightTree): boolean {
    if (supplyIds.has(tree.supply)) return true;
    problems.push({ code: 'supply-unknown', supply: tree.supply, by: tree.lamps[0] ?? tree.circuit });
    return false;
  }

  /** The feed that works a drive; kinds that do not go together are reported. */
  function feedDrive(drive: WiredDrive): WiredDrive {
    if (drive.feed !== null) return drive;
    const lever = drive.circuit;
    const feed = lever === null ? null : (feeds.get(lever) ?? null);
    if (feed === null || lever === null) return drive;
    if (!canWork(feed.kind, drive.part)) {
      problems.push({ code: 'drive-kind-unfit', drive: drive.id, part: drive.part.id, feed: feed.kind, lever });
      return drive;
    }
    const own = switchOf.get(lever);
    const supply = feed.supplies[0];
    if (feed.kind === 'pulse' && drive.part.what === 'twin-coil' && own?.part.sprung === false && supply !== undefined)
      problems.push({ code: 'coil-held', drive: drive.id, lever, supply: supply.id, cdu: supply.kind === 'cdu' });
    return { ...drive, feed: feed.kind };
  }

  /** Circuits in order: levers as in the plan, points that no lever works, contacts of several levers. */
  function begin(): readonly Begun[] {
    const found: Begun[] = [];
    const lever = new Set(input.switches.map((each) => each.lever));
    for (const each of input.switches) {
      const feed = feeds.get(each.lever) ?? null;
      const mine = treesBy.get(each.lever) ?? [];
      if (feed === null && mine.length === 0) continue;
      found.push({
        id: each.lever,
        lever: each.lever,
        switch: each,
        feed,
        drives: drivesBy.get(each.lever) ?? [],
        buttons: [],
        trees: mine,
        groups: (groupsBy.get(each.lever) ?? []).filter((group) => group.nodes !== null || feed !== null),
      });
    }
    const others = [...buttonsBy.keys(), ...treesBy.keys()].filter((id) => !lever.has(id));
    for (const id of new Set(others)) {
      found.push({
        id,
        lever: null,
        switch: null,
        feed: pressed.feeds.get(id) ?? null,
        drives: drivesBy.get(id) ?? [],
        buttons: buttonsBy.get(id) ?? [],
        trees: treesBy.get(id) ?? [],
        groups: groupsBy.get(id) ?? [],
      });
    }
    return found;
  }

  /** What leaves the panel, before it has pins. Nets are named here and laid when the circuit is. */
  function bundles(): readonly Bundle[] {
    const list: Bundle[] = [];
    for (const each of begun) {
      for (const drive of each.drives) {
        const { to, nets } = leadsOf(each, drive);
        list.push({ circuit: each.id, names: drive.id, to, net: nets });
      }
      const twin = twinIn(each);
      if (twin !== null) {
        const { to, nets } = twinLeads(each.id, twin.kind, twin.feed);
        list.push({ circuit: each.id, names: twinId(each.id), to, net: nets });
      }
      for (const link of each.trees.flatMap(({ links }) => links)) {
        if (link.carrier.kind !== 'drive' && link.carrier.kind !== 'blades') continue;
        const tags = tagsOf(link);
        const to = [tags.common, tags.normal, tags.reverse].filter((tag) => tag !== null);
        list.push({ circuit: each.id, names: link.id, to, net: to });
      }
    }
    for (const each of begun) {
      if (each.feed === null || each.drives.length === 0) continue;
      const back = returnFor(each);
      if (back === null || returns.has(back.id)) continue;
      const on = begun.filter((other) => other.drives.length > 0 && returnFor(other)?.id === back.id);
      const count = back.pins ?? defaultReturn(on.reduce((sum, other) => sum + other.drives.length, 0));
      const terminals = Array.from({ length: count }, (_, i) => `${back.id}.${i + 1}`);
      const supply = ownerOf(back.net);
      returns.set(back.id, { id: back.id, supply, circuits: on.map(({ id }) => id), pins: [], terminals });
      list.push({ circuit: supply, names: back.id, to: terminals, net: terminals.map(() => back.net) });
    }
    return list;
  }

  /** How another panel works a circuit too, where its feed is laid. */
  function twinIn({ switch: own, feed }: Begun): { readonly kind: TwinKind; readonly feed: LeverFeed } | null {
    return own?.twin === undefined || feed === null ? null : { kind: own.twin, feed };
  }

  /** The relay that remembers for both and holds the feed; null where none does. */
  function latchIn(each: Begun): Latch | null {
    return twinIn(each)?.kind === 'latch' ? (latches.get(each.id) ?? null) : null;
  }

  /** Levers that a return names and that come back to another supply: to the middle of their own feed. */
  function returnsThatMiss(): void {
    for (const { id, supply, levers } of named)
      for (const each of begun) {
        const [first] = each.feed?.supplies ?? [];
        if (supply === null || first === undefined || first.id === supply) continue;
        if (levers?.includes(each.lever ?? '') !== true) continue;
        problems.push({ code: 'return-unknown', return: id, lever: each.lever ?? each.id, supply, back: first.id });
      }
  }

  /** The return that a circuit's drives share, and the rail that it is; null where each drive has its own wire back. */
  function returnFor({
    lever,
    feed,
  }: Begun): { readonly id: string; readonly net: string; readonly pins: number | null } | null {
    const [first] = feed?.supplies ?? [];
    if (feed === null || first === undefined || feed.kind === 'reversing') return null;
    const net = railNames.minus(first.id);
    const own = named.find(
      (each) => each.supply === first.id && (each.levers === null || each.levers.includes(lever ?? '')),
    );
    if (own !== undefined) return { id: own.id, net, pins: own.pins };
    if (feed.kind !== 'split' && feed.kind !== 'half-wave') return null;
    return { id: madeReturn(first.id), net, pins: null };
  }

  /** Where a drive's wires end, and the nets that they come from, by name: crossed here, never in the connector. */
  function leadsOf(
    each: Begun,
    drive: WiredDrive,
  ): { readonly to: readonly string[]; readonly nets: readonly string[] } {
    const id = each.lever ?? each.id;
    const [first, second] = drive.plusToA ? [drive.a, drive.b] : [drive.b, drive.a];
    const rail = railNames.minus(each.feed?.supplies[0]?.id ?? '');
    const shared = returnFor(each) !== null;
    const latch = latchIn(each);
    const [held, other] = ([1, 2] as const).map((pole) => holderTag(id, latch, pole, 2)) as [string, string];
    switch (drive.feed) {
      case 'split':
      case 'half-wave':
        return { to: [first], nets: [held] };
      case 'pulse':
      case 'charge': {
        const coils = drive.feed === 'pulse' ? [`${id}.t1`, `${id}.t3`] : [`SD-${id}n.k`, `SD-${id}r.a`];
        const com = drive.com ?? '';
        const all = shared
          ? { to: [first, second], nets: coils }
          : { to: [first, second, com], nets: [...coils, rail] };
        // A coil that no button throws has no wire.
        const idle = (['normal', 'reverse'] as const).map((lie) => each.lever === null && !pressed.throws(id, lie));
        const kept = <T>(list: readonly T[]): readonly T[] => list.filter((_, i) => idle[i] !== true);
        return { to: kept(all.to), nets: kept(all.nets) };
      }
      case 'contact': {
        const power = railNames.plus(each.feed?.supplies[0]?.id ?? '');
        return shared
          ? { to: [drive.a, drive.com ?? ''], nets: [held, power] }
          : { to: [drive.a, drive.b, drive.com ?? ''], nets: [held, rail, power] };
      }
      default:
        return { to: [first, second], nets: [held, other] };
    }
  }

  /** R0 for the first supply that needs a return of the tool's own, then the next free. */
  function madeReturn(supply: string): string {
    const known = madeReturns.get(supply);
    if (known !== undefined) return known;
    const made = wireNames.claim('R0') ?? wireNames.next('R');
    madeReturns.set(supply, made);
    return made;
  }

  function wireCircuit(each: Begun): void {
    const { id, feed } = each;
    const twin = twinIn(each);
    const latch = latchIn(each);
    const nodes = new Map<string, Net>();
    const nets: FeedNets | null =
      feed === null
        ? null
        : each.lever === null
          ? pressed.lay(id, feed, rails, joins)
          : layFeed(each.lever, feed, rails, joins, { twin: twin?.kind ?? null, latch });
    if (feed?.kind === 'pulse' && nets !== null && each.lever !== null) pressed.beside(id, feed, nets, rails);
    if (feed?.kind === 'charge' && nets !== null) chargeParts(id, feed.farads ?? 0);
    const leaving: Leaving[] = [];
    if (twin !== null && nets !== null) {
      leaving.push(leavingTo(id, twin, nets));
      joins.push(...twinLinks(id, twin.kind, twin.feed));
    }
    if (latch !== null) holdFeed(each, latch);
    for (const tree of each.trees) {
      if (tree.links.length === 0) railsOf(each, tree, nodes);
      for (const link of tree.links) layContact(each, tree, link, nodes);
    }
    const none = chain(joins, id, `${id}.t2`);
    const hung = hangLamps(
      id,
      each.groups,
      uses,
      part(GUARD_PART),
      {
        near: nets?.near ?? none,
        far: nets?.far ?? none,
        node: (name) => nodes.get(name) ?? null,
      },
      joins,
    );
    lamps.push(...hung.lamps);
    resistors.push(...hung.resistors);
    for (const relay of relays) {
      if (relay.circuit !== id || nets === null) continue;
      if (relay.part.latching) layRelay(relay, nets.pulses ?? nets);
      else layHeldRelay(relay, nets);
    }
    const beyond: Beyond[] = [];
    const back = returnFor(each);
    const ret = back === null ? undefined : returns.get(back.id);
    for (const drive of each.drives) {
      if (nets === null) continue;
      const { to, nets: names } = leadsOf(each, drive);
      const near = names.map((name) => netNamed(name, nets, hung.near, id));
      leaving.push({ names: drive.id, circuit: id, to, nets: near, along: drive });
      const [, second] = drive.plusToA ? [drive.a, drive.b] : [drive.b, drive.a];
      const goes = hasCoils(drive.part) ? (drive.com ?? '') : drive.feed === 'contact' ? drive.b : second;
      const [terminal] = ret?.terminals ?? [];
      if (back !== null && terminal !== undefined && pinsOf.has(drive.id)) {
        beyond.push({ circuit: id, from: terminal, to: goes, net: back.net, along: drive });
        rails.note(back.net, terminal, id);
      }
    }
    runWires(leaving, beyond, pinsOf, joins);
  }

  function netNamed(name: string, nets: FeedNets, near: Net, circuit: string): Net {
    if (name === nets.near.name) return near;
    if (name === nets.far.name) return nets.far;
    if (name === nets.reverse?.name) return nets.reverse;
    return rails.net(name, circuit);
  }

  /** What a tree stands between. Lamps want one polarity: of an alternating supply the rail behind its diode. */
  function railsOf(each: Begun, tree: LightTree, nodes: Map<string, Net>): void {
    const alternates = supplies.some(({ id, kind }) => id === tree.supply && kind === 'ac');
    const plus = alternates ? railNames.rectifiedPlus(tree.supply) : railNames.plus(tree.supply);
    nodes.set('plus', rails.net(plus, each.id));
    nodes.set('minus', rails.net(railNames.minus(tree.supply), each.id));
  }

  /** A contact of a tree: its common on the node before it, its throws the nodes behind it. */
  function layContact(each: Begun, tree: LightTree, link: TreeLink, nodes: Map<string, Net>): void {
    const pins = new Map((pinsOf.get(link.id) ?? []).map((pin) => [pin.to, pin.id]));
    const tags = tagsOf(link);
    const outside = link.carrier.kind === 'drive' || link.carrier.kind === 'blades';
    const inside = (tag: string) => (outside ? (pins.get(tag) ?? null) : tag);
    const into = inside(tags.common);
    if (into === null) return;
    railsOf(each, tree, nodes);
    nodes.get(link.from)?.reach(into);
    for (const [node, tag] of [
      [link.normal, tags.normal],
      [link.reverse, tags.reverse],
    ] as const) {
      const start = node === null || tag === null ? null : inside(tag);
      if (node !== null && tag !== null && start !== null) nodes.set(node, chain(joins, each.id, start, tag));
    }
    contacts.push({ ...tags, id: link.id, circuit: each.id, carrier: link.carrier });
    if (!outside) return;
    const drive = drives.find(({ points }) => points.includes(link.carrier.points[0]?.point ?? ''));
    for (const [tag, pin] of pins) {
      const run = drive === undefined ? null : { length: drive.wire.length, gauge: drive.wire.gauge };
      joins.push({ ...panelJoin(pin, tag, each.id, tag), side: 'layout', ohms: ohmsOf(drive), run });
    }
  }

  /** Where the wires to a twin come from, and where those that come back go on. */
  function leavingTo(
    lever: string,
    { kind, feed }: { readonly kind: TwinKind; readonly feed: LeverFeed },
    nets: FeedNets,
  ) {
    const { near, reverse } = nets.pulses ?? nets;
    const { to, nets: names } = twinLeads(lever, kind, feed);
    const own = [near, reverse].filter((net) => net !== null);
    const brought = names.map(
      (name) =>
        own.find((net) => net.name === name) ??
        (name.startsWith(`${lever}.t`) ? chain(joins, lever, name) : rails.net(name, lever)),
    );
    return { names: twinId(lever), circuit: lever, to, nets: brought, along: TWIN_CABLE };
  }

  /** The contacts of a relay that stand where a lever's poles would. */
  function holdFeed(each: Begun, { id, feed, point, whenNormal }: Latch): void {
    const carrier: Carrier = {
      id,
      kind: 'relay',
      contacts: [],
      points: [{ point, whenNormal: 'normal' }],
      lever: each.lever,
      whenNormal,
    };
    for (const contact of feed)
      contacts.push({
        id: contact,
        circuit: each.id,
        carrier,
        common: `${contact}.c`,
        normal: `${contact}.n`,
        reverse: `${contact}.r`,
      });
  }

  /** The coil that resets it hangs on the pulse that sends its point normal, the one that sets it on the other. */
  function layRelay(
    { coils, circuit, point }: (typeof relays)[number],
    nets: Pick<FeedNets, 'near' | 'far' | 'reverse'>,
  ): void {
    for (const coil of coils) {
      const net = coil.id.endsWith('r') === isStraight(point) ? nets.near : (nets.reverse ?? nets.near);
      net.reach(coil.a);
      nets.far.reach(coil.b);
      addFlyback(coil, circuit, net.name, nets.far.name);
    }
  }

  /** Does a lever's normal ask normal of a point? */
  function isStraight(point: string): boolean {
    const ask = drives.flatMap(({ asks }) => asks).find((each) => each.point === point);
    return (ask?.whenNormal ?? ask?.goes ?? 'normal') === 'normal';
  }

  function addFlyback(
    { a, b, diode }: (typeof relays)[number]['coils'][number],
    circuit: string,
    plus: string,
    minus: string,
  ): void {
    const power = part(POWER_PART);
    diodes.push({ id: diode, part: power, circuit, what: 'flyback', anode: `${diode}.a`, cathode: `${diode}.k` });
    joins.push(panelJoin(a, `${diode}.k`, circuit, plus), panelJoin(b, `${diode}.a`, circuit, minus));
  }

  /** One coil across the feed, behind a diode that lets through what asks its point reverse. */
  function layHeldRelay({ id, coils, circuit, point }: (typeof relays)[number], nets: FeedNets): void {
    const [from, to] = isStraight(point) ? [nets.far, nets.near] : [nets.near, nets.far];
    const steering = `SD-${id}`;
    const [anode, cathode] = [`${steering}.a`, `${steering}.k`];
    diodes.push({ id: steering, part: part(POWER_PART), circuit, what: 'steering', anode, cathode });
    for (const coil of coils) {
      from.reach(anode);
      joins.push(panelJoin(cathode, coil.a, circuit, coil.a));
      to.reach(coil.b);
      addFlyback(coil, circuit, coil.a, to.name);
    }
  }

  function chargeParts(lever: string, farads: number): void {
    const power = part(POWER_PART);
    const [n, r] = [`SD-${lever}n`, `SD-${lever}r`];
    capacitors.push({ id: `CAP-${lever}`, circuit: lever, farads, plus: `CAP-${lever}.p`, minus: `CAP-${lever}.m` });
    for (const id of [n, r])
      diodes.push({ id, part: power, circuit: lever, what: 'steering', anode: `${id}.a`, cathode: `${id}.k` });
  }

  /** Returns with the pins that they got, each pin's wire to its terminal and the links from terminal to terminal. */
  function returnsWired(): readonly WiredReturn[] {
    return [...returns.values()].map((each) => {
      const pins = pinsOf.get(each.id) ?? [];
      const net = railNames.minus(each.supply);
      const leaving: Leaving = {
        names: each.id,
        circuit: each.supply,
        to: each.terminals,
        nets: each.terminals.map(() => rails.net(net, each.supply)),
        along: null,
      };
      runWires([leaving], [], pinsOf, joins);
      const there = each.terminals.slice(0, Math.max(1, pins.length));
      for (const [i, terminal] of there.slice(1).entries())
        joins.push({ ...panelJoin(there[i] ?? '', terminal, each.supply, net), side: 'layout' });
      return { ...each, pins: pins.map(({ id }) => id), terminals: there };
    });
  }

  function circuitOf(each: Begun): Circuit {
    const { id, lever, feed, trees } = each;
    const links = trees.flatMap((tree) => tree.links);
    const poles = links.filter(({ carrier }) => carrier.kind === 'lever').map(({ carrier }) => carrier.id);
    const twin = twinIn(each);
    const latch = latchIn(each);
    const held = latch === null ? [] : [latch.id];
    const follows = [
      ...held,
      ...links.filter(({ carrier }) => carrier.kind !== 'lever').map(({ carrier }) => carrier.id),
    ];
    const into = rails.into(id);
    const wired = [...(feed?.supplies.map((supply) => supply.id) ?? []), ...rails.suppliesOf(id)];
    // Contacts that found no pin reach no rail: what would light their lamps is still theirs.
    const reached = wired.length > 0 ? wired : trees.map(({ supply }) => supply);
    // What charges a unit feeds all that the unit feeds.
    const on = [...new Set(reached.flatMap((supply) => [supply, ...chargerOf(supply)]))];
    const [only] = on;
    const plain = on.length === 1 && into.every(({ net }) => net === `${only}.p` || net === `${only}.m`);
    const steady = supplies.find((supply) => supply.id === only)?.kind;
    return {
      id,
      supply: on[0] ?? '',
      supplies: on,
      feed: feed?.kind ?? null,
      positions: each.switch === null ? [] : positionsOf(each.switch),
      levers: [...new Set([...(lever === null ? [] : [lever]), ...(twin === null ? [] : [twinId(id)]), ...poles])],
      follows: [...new Set(follows)],
      rails: into,
      load:
        plain &&
        ['.p', '.m'].every((side) => into.some(({ net }) => net.endsWith(side))) &&
        (steady === 'dc' || steady === 'battery'),
      // No dimmer gives more than it gets.
      dimmed: Math.min(1, lightingOf(panel, records.get(id)).dimmerLeast ?? 1),
      points: levers.get(id)?.works.map((worked) => worked.point) ?? [],
      drives: each.drives.map((drive) => drive.id),
      groups: each.groups.map((group) => group.id),
      lamps: (lampsBy.get(id) ?? []).map((lamp) => lamp.id),
      wires: [...chainIds(on), ...wireIds(id)],
    };
  }

  function wireIds(owner: string): readonly string[] {
    const known = idsBy.get(owner) ?? (wiresBy.get(owner) ?? []).map((wire) => wire.id);
    idsBy.set(owner, known);
    return known;
  }

  /** Wires of some supplies; most circuits hang on the same. */
  function chainIds(on: readonly string[]): readonly string[] {
    const [only] = on;
    if (only !== undefined && on.length === 1) return wireIds(only);
    const key = on.join(' ');
    const known = idsBy.get(key) ?? on.flatMap(wireIds);
    idsBy.set(key, known);
    return known;
  }

  function chargerOf(id: string): readonly string[] {
    const supply = supplies.find((each) => each.id === id);
    return supply?.kind === 'cdu' && supply.from !== null ? [supply.from] : [];
  }

  function part(id: string): DiodePart {
    const found = catalogue.find('diode', id);
    if (found === undefined) throw new RangeError(`the catalogue holds no ${id}`);
    return found;
  }
}

/** Tags of a contact: of a pole its three, of others common, normal and reverse; a throw that nothing hangs on is none. */
function tagsOf(link: TreeLink): {
  readonly common: Terminal;
  readonly normal: Terminal | null;
  readonly reverse: Terminal | null;
} {
  const { id, carrier } = link;
  const pole = carrier.kind === 'lever' ? Number(id.slice(id.lastIndexOf('.') + 1)) : null;
  const tag = (at: 0 | 1 | 2) =>
    pole === null ? `${id}.${['n', 'c', 'r'][at]}` : `${carrier.id}.t${3 * (pole - 1) + 1 + at}`;
  return {
    common: tag(1),
    normal: link.normal === null ? null : tag(0),
    reverse: link.reverse === null ? null : tag(2),
  };
}

function ohmsOf(drive: WiredDrive | undefined): Ohm {
  return drive === undefined ? NO_OHMS : wireOhms(drive.wire.length, drive.wire.gauge);
}

function positionsOf(each: LeverSwitch): readonly Position[] {
  return each.part.centreOff && !each.part.sprung ? ['normal', 'reverse', 'centre'] : ['normal', 'reverse'];
}

function wiredSwitch(each: LeverSwitch): WiredSwitch {
  return {
    id: each.lever,
    part: each.part,
    poles: each.poles.map((use, i) => ({
      id: `${each.lever}.${i + 1}`,
      normal: `${each.lever}.t${3 * i + 1}`,
      common: `${each.lever}.t${3 * i + 2}`,
      reverse: `${each.lever}.t${3 * i + 3}`,
      use,
    })),
  };
}
