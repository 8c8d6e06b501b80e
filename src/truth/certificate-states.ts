/**
 * What each lamp carries in each state, worked out from plain records, a state naming only what decides it.
 *
 * Idea: nothing that happens beyond a rail held by an ideal supply, or beyond an open contact, is felt by a lamp. So from the lamp
 * outwards the network is walked to there, and only the contacts that are met decide. That state holds for all settings that agree on
 * them; the settings that do not are split among the other ways in which those contacts can lie, one contact after the other, until
 * nothing is left.
 * Cost: for lamps behind contacts one behind the other, one small network a contact.
 */
import { type CircuitElement, type Node, solveDc } from '../circuit/index.ts';
import type { Lie } from '../panel/index.ts';
import { lawFrom } from '../parts/index.ts';
import {
  bladesAt,
  carriersOf,
  drivesByPoint,
  type Figure,
  heldVolts,
  type IslandRecords,
  networkRecords,
  otherLie,
  type PartRecord,
  type Position,
  positionsOfLever,
  relayHolding,
  turnedBy,
  type Wiring,
} from '../wiring/index.ts';
import { CERTIFIED_STATES, CERTIFIED_TOGETHER, LEAK_AMPS } from './tolerances.ts';

/** One solved corner of a state. `group` and `lamp`: what is judged, where that matters; volts in the order of the nodes, null where floating or not told. */
export interface CertifiedPoint {
  readonly edge: 'low' | 'nominal' | 'high';
  readonly group: string | null;
  readonly lamp: string | null;
  /** Share of their volts that supplies have behind a dimmer. */
  readonly dimmed: number;
  /** Volts to which their limits hold supplies. */
  readonly held: Readonly<Record<string, number>>;
  readonly volts: readonly (number | null)[];
}

/** A state: it holds for every position of levers, and every lie, that it does not name. */
export interface CertifiedState {
  readonly levers: Readonly<Record<string, Position>>;
  /** Lies of points of which nothing is asked. */
  readonly history: Readonly<Record<string, Lie>>;
  readonly points: readonly CertifiedPoint[];
  /** Nominal, least and greatest amps of each lamp that the state tells. */
  readonly amps: Readonly<Record<string, readonly [nominal: number, low: number, high: number]>>;
  /** The greatest sum of currents at any node of any corner, A. */
  readonly residual: number;
}

export interface CertifiedIsland {
  readonly circuits: readonly string[];
  readonly nodes: readonly Node[];
  readonly records: readonly PartRecord[];
  readonly states: readonly CertifiedState[];
  /** Lamps whose states are too many: their range rests on the tool's own bounds. */
  readonly left: readonly string[];
}

/** What a point hangs on: the first point of its drive, and whether it lies against that. */
export interface PointLink {
  readonly of: string;
  readonly opposite: boolean;
}

/** Lies and positions by name: "L1" of levers, ".P1" of points. */
type Named = ReadonlyMap<string, Position>;

interface Element {
  readonly record: PartRecord;
  readonly a: number;
  readonly b: number;
}

type Certified = readonly [islands: readonly CertifiedIsland[], joints: ReturnType<typeof networkRecords>['joints']];

/** Every island, in the order of the wiring, and what is joined for good. */
export function certifyIslands(wiring: Wiring, links: ReadonlyMap<string, PointLink>): Certified {
  const { joints, islands } = networkRecords(wiring);
  const joined = new Joined();
  for (const { a, b } of joints) joined.join(a, b);
  return [islands.map((island) => certify(wiring, island, links, joined)), joints];
}

/** The first point of each point's drive, and whether the point lies against it. */
export function linksOf(wiring: Wiring): ReadonlyMap<string, PointLink> {
  return new Map(
    [...drivesByPoint(wiring)].map(([point, drive]) => [
      point,
      { of: drive.points[0] ?? point, opposite: bladesAt(drive, point, 'normal') === 'reverse' },
    ]),
  );
}

function certify(
  wiring: Wiring,
  island: IslandRecords,
  links: ReadonlyMap<string, PointLink>,
  joined: Joined,
): CertifiedIsland {
  const { records, ideal } = island;
  const nodes: Node[] = [];
  const places = new Map<Node, number>();
  const placeOf = (terminal: Node): number => {
    const root = joined.find(terminal);
    const known = places.get(root);
    if (known !== undefined) return known;
    places.set(root, nodes.length);
    nodes.push(terminal);
    return nodes.length - 1;
  };
  const elements: Element[] = records.map((record) => ({ record, a: placeOf(record.a), b: placeOf(record.b) }));
  const at = nodes.map((): Element[] => []);
  for (const element of elements) {
    at[element.a]?.push(element);
    if (element.b !== element.a) at[element.b]?.push(element);
  }
  const sources = elements.filter(({ record }) => record.kind === 'source');
  const held = new Set(ideal ? sources.flatMap(({ a, b }) => [a, b]) : []);
  const carriers = carriersOf(wiring);
  const sprung = new Set(
    wiring.switches.flatMap(({ id, part }) => (part.sprung && relayHolding(wiring, id) === null ? [id] : [])),
  );
  const twins = new Map(
    wiring.switches.flatMap(({ id, twinOf, part }) => (twinOf === undefined || part.sprung ? [] : [[twinOf, id]])),
  );
  const states = new Map<string, CertifiedState>();
  const left: string[] = [];
  // What shares a weak supply feels everything: all settings, or none.
  const many = !ideal && settingsOf() > CERTIFIED_TOGETHER;
  for (const element of elements) {
    if (element.record.kind !== 'lamp') continue;
    if (many) {
      left.push(element.record.id);
      continue;
    }
    const before = new Map(states);
    if (cover(element, new Map(), { count: 0 })) continue;
    left.push(element.record.id);
    states.clear();
    for (const [key, state] of before) states.set(key, state);
  }
  return { circuits: island.circuits, nodes, records, states: [...states.values()], left };

  /** States that hold between them for every setting that agrees with what is fixed; false where they are too many. */
  function cover(lamp: Element, fixed: Named, made: { count: number }): boolean {
    made.count += 1;
    if (made.count > CERTIFIED_STATES) return false;
    const named: Map<string, Position> = new Map();
    const part = reach(lamp, fixed, named);
    const key = `${[...named].map(([name, lies]) => `${name}=${lies}`).sort()} ${[...part.reached].sort((a, b) => a - b)}`;
    if (!states.has(key)) states.set(key, solve(part, named));
    const passed = new Map(fixed);
    for (const [name, lies] of named) {
      if (!fixed.has(name))
        for (const other of choicesOf(name))
          if (other !== lies && !cover(lamp, new Map(passed).set(name, other), made)) return false;
      passed.set(name, lies);
    }
    return true;
  }

  function settingsOf(): number {
    const names = new Set(
      records.flatMap((record) => {
        if (record.kind !== 'contact' || record.by === null) return [];
        return 'lever' in record.by ? [record.by.lever] : [`.${record.by.carrier}`];
      }),
    );
    return [...names].reduce((product, name) => product * choicesOf(name).length, 1);
  }

  function choicesOf(name: string): readonly Position[] {
    return name.startsWith('.') ? ['normal', 'reverse'] : positionsOfLever(wiring, name);
  }

  /** What a lamp feels, and by name what decides it. What is not fixed lies normal. */
  function reach(lamp: Element, fixed: Named, named: Map<string, Position>): Reached {
    const reached = new Set<number>();
    const inside = new Set<Element>([lamp]);
    const queue = [lamp.a, lamp.b];
    if (!ideal) queue.push(...sources.flatMap(({ a, b }) => [a, b]));
    for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
      if (reached.has(node)) continue;
      reached.add(node);
      if (held.has(node)) continue;
      for (const element of at[node] ?? []) {
        if (!conducts(element.record, fixed, named)) continue;
        inside.add(element);
        queue.push(element.a, element.b);
      }
    }
    return { reached, inside: elements.filter((each) => inside.has(each)) };
  }

  function conducts(record: PartRecord, fixed: Named, named: Map<string, Position>): boolean {
    if (record.kind === 'open') return false;
    if (record.kind !== 'contact') return true;
    if (record.by === null) return false;
    return lieOf(record.by, fixed, named) === record.by.lies;
  }

  function lieOf(
    by: { readonly lever: string } | { readonly carrier: string },
    fixed: Named,
    named: Map<string, Position>,
  ): Position {
    const lookUp = (name: string): Position => {
      const lies = fixed.get(name) ?? 'normal';
      named.set(name, lies);
      return lies;
    };
    if ('lever' in by) return lookUp(by.lever);
    const carrier = carriers.get(by.carrier);
    const [first] = carrier?.points ?? [];
    if (carrier === undefined || first === undefined) throw new RangeError(`no carrier ${by.carrier}`);
    if (carrier.lever !== null && !sprung.has(carrier.lever)) {
      const twin = twins.get(carrier.lever);
      const position = turnedBy(lookUp(carrier.lever), twin === undefined ? 'normal' : lookUp(twin));
      if (position !== 'centre') return position === 'normal' ? carrier.whenNormal : otherLie(carrier.whenNormal);
    }
    const link = links.get(first.point) ?? { of: first.point, opposite: false };
    const isNormal = (lookUp(`.${link.of}`) === 'normal') !== link.opposite;
    return isNormal === (first.whenNormal === 'normal') ? 'normal' : 'reverse';
  }

  function solve({ reached, inside }: Reached, named: Named): CertifiedState {
    const lamps = inside.flatMap(({ record }) => (record.kind === 'lamp' ? [record] : []));
    const levers = Object.fromEntries([...named].filter(([name]) => !name.startsWith('.')));
    const history = Object.fromEntries(
      [...named].flatMap(([name, lies]) => (name.startsWith('.') && lies !== 'centre' ? [[name.slice(1), lies]] : [])),
    );
    const points = new Map<string, CertifiedPoint>();
    let residual = 0;
    const readings = new Map<CertifiedPoint, ReadonlyMap<string, number | null>>();
    const pointAt = (edge: CertifiedPoint['edge'], group: string | null, lamp: string | null, dimmed: number) => {
      const key = JSON.stringify([edge, group, lamp, dimmed]);
      const known = points.get(key);
      if (known !== undefined) return known;
      const draw = edge === 'low' ? 'high' : edge === 'high' ? 'low' : 'nominal';
      const corner = { supply: edge, dimmed, lamps: edge, draw, group, lamp } as const;
      const limits = island.limited ? Object.fromEntries(heldVolts(wiring, levers, corner)) : {};
      const point = { edge, group, lamp, dimmed, held: limits };
      const network = [...inside, ...sources.filter((each) => !inside.includes(each))].map((each) =>
        elementAt(each, nodes, point),
      );
      const solved = solveDc({ elements: network, reference: nodes[sources[0]?.b ?? 0] ?? null });
      residual = Math.max(residual, solved.residual);
      // The volts of what is not reached were worked out without what else hangs there.
      const volts = nodes.map((node, i) => (reached.has(i) || held.has(i) ? rounded(solved.volts.get(node)) : null));
      const made: CertifiedPoint = { ...point, volts };
      points.set(key, made);
      readings.set(made, solved.amps);
      return made;
    };
    const ampsIn = (point: CertifiedPoint, id: string): number => {
      const amps = readings.get(point)?.get(id) ?? 0;
      return Math.abs(amps) < LEAK_AMPS ? 0 : amps;
    };
    const amps: Record<string, readonly [number, number, number]> = {};
    for (const { id, group, beside } of lamps) {
      const own = beside !== null || !ideal ? group : null;
      const apart = beside === null ? null : id;
      const nominal = ampsIn(pointAt('nominal', null, null, 1), id);
      const low = ampsIn(pointAt('low', own, apart, island.dimmed.get(id) ?? 1), id);
      const high = ampsIn(pointAt('high', own, apart, 1), id);
      amps[id] = [nominal, Math.min(nominal, low), Math.max(nominal, high)];
    }
    return { levers, history, points: [...points.values()], amps, residual };
  }
}

interface Reached {
  readonly reached: ReadonlySet<number>;
  readonly inside: readonly Element[];
}

/** One record as an element of the network at a corner. */
function elementAt(
  { record, a: from, b: to }: Element,
  nodes: readonly Node[],
  point: Omit<CertifiedPoint, 'volts'>,
): CircuitElement {
  const { id } = record;
  const [a, b] = [nodes[from] ?? '', nodes[to] ?? ''];
  const judged = (group: string): CertifiedPoint['edge'] =>
    point.group === null || point.group === group ? point.edge : against(point.edge);
  if (record.kind === 'contact') return { kind: 'contact', id, a, b, closed: true, ohms: 0 };
  if (record.kind === 'resistor') {
    const edge = record.group !== null ? judged(record.group) : against(point.edge);
    return { kind: 'resistor', id, a, b, ohms: figureAt(record.ohms, edge) };
  }
  if (record.kind === 'lamp') {
    const edge = judged(record.group);
    const neighbour = point.lamp !== null && point.lamp !== id && point.group === record.group;
    const vf =
      neighbour && record.beside !== null && edge !== 'nominal'
        ? record.beside[edge === 'low' ? 0 : 1]
        : figureAt(record.vf, edge);
    return { kind: 'diode', id, a, b, law: lawFrom(vf, record.at, record.n, record.rs) };
  }
  if (record.kind === 'diode')
    return { kind: 'diode', id, a, b, law: lawFrom(record.vf, record.at, record.n, record.rs) };
  if (record.kind === 'open') return { kind: 'open', id, a, b };
  const own = Object.hasOwn(point.held, id) ? point.held[id] : undefined;
  const volts = own ?? figureAt(record.volts, point.edge) * point.dimmed;
  return { kind: 'source', id, a, b, volts, ohms: record.ohms };
}

function against(edge: CertifiedPoint['edge']): CertifiedPoint['edge'] {
  return edge === 'low' ? 'high' : edge === 'high' ? 'low' : 'nominal';
}

function figureAt(figure: Figure, edge: CertifiedPoint['edge']): number {
  if (typeof figure === 'number') return figure;
  return figure[edge === 'low' ? 0 : edge === 'nominal' ? 1 : 2];
}

/** To a millionth of a millionth of a volt: across a diode's 0.05 ohm that is 20 pA. */
function rounded(volts: number | null | undefined): number | null {
  return volts === null || volts === undefined ? null : Math.round(volts * 1e12) / 1e12;
}

/** Terminals that are one node. */
class Joined {
  private readonly up = new Map<Node, Node>();

  find(node: Node): Node {
    let root = node;
    for (let next = this.up.get(root); next !== undefined; next = this.up.get(root)) root = next;
    // The next look-up is short.
    for (let each = node; each !== root; ) {
      const next = this.up.get(each) ?? root;
      this.up.set(each, root);
      each = next;
    }
    return root;
  }

  join(a: Node, b: Node): void {
    const [one, other] = [this.find(a), this.find(b)];
    if (one !== other) this.up.set(other, one);
  }
}
