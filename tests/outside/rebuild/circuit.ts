/**
 * The circuit as a builder would have it who owns only the lists: wires joined by the names of their ends, resistors by
 * their printed values. What a name stands for is read from the name.
 */
import { GUARD, type Law, type PanelFacts, type Position } from './panel-facts.ts';
import { type Row, readLetterCode, readTable } from './read-table.ts';

/** The three lists, record by record. */
export interface Lists {
  readonly wires: readonly Row[];
  readonly pins: readonly Row[];
  readonly parts: readonly Row[];
}

/** Reads the lists as text; columns must be those that are promised. */
export function readLists(wires: string, pins: string, parts: string): Lists {
  return {
    wires: readTable('wires.csv', wires, ['no', 'from', 'to', 'colour', 'gauge_mm2', 'length_mm', 'circuit']),
    pins: readTable('pins.csv', pins, ['connector', 'pin', 'net', 'colour', 'circuit', 'setting', 'volts']),
    parts: readTable('parts.csv', parts, ['part', 'count', 'for', 'price']),
  };
}

/** Ohms of each resistor by id. A value that cannot be read throws. */
export function resistorsOf(parts: readonly Row[]): ReadonlyMap<string, number> {
  const ohms = new Map<string, number>();
  for (const row of parts) {
    const code = /^resistor (\S+)/.exec(row.part ?? '')?.[1];
    if (code === undefined) continue;
    const value = readLetterCode(code);
    if (value === null) throw new RangeError(`parts.csv: "${row.part}" has no value in letter code`);
    for (const id of (row.for ?? '').split(' ').filter((each) => each !== '')) {
      if (ohms.has(id)) throw new RangeError(`parts.csv lists ${id} twice`);
      ohms.set(id, value);
    }
  }
  return ohms;
}

/** Tags of a drive, by its record's name or its point's. */
export function driveOf(terminal: string, facts: PanelFacts): string | null {
  const id = /^(.+)\.[ab]$/.exec(terminal)?.[1];
  return id !== undefined && facts.drives.has(id) ? id : null;
}

export type Element =
  | { readonly kind: 'ohms'; readonly id: string; readonly a: number; readonly b: number; readonly ohms: number }
  | { readonly kind: 'diode'; readonly id: string; readonly a: number; readonly b: number; readonly law: Law }
  | { readonly kind: 'lamp'; readonly id: string; readonly a: number; readonly b: number; readonly law: Law }
  | {
      readonly kind: 'drive';
      readonly id: string;
      readonly a: number;
      readonly b: number;
      readonly ohms: number | null;
    }
  | {
      readonly kind: 'supply';
      readonly id: string;
      readonly a: number;
      readonly b: number;
      readonly volts: number;
      readonly ohms: number;
    };

/** Nets count from 0, which is the minus of the first supply. */
export interface Rebuilt {
  readonly nets: ReadonlyMap<string, number>;
  readonly elements: readonly Element[];
  /** Nets that no element leads to from a supply: their volts are nobody's to say. */
  readonly floating: ReadonlySet<number>;
  /** Nets that nothing but diodes leads to: what leaks through them is all that holds their volts. */
  readonly loose: ReadonlySet<number>;
}

/** Names in sets: two names in one set are one net. */
class Nets {
  readonly #above = new Map<string, string>();
  root(name: string): string {
    let top = name;
    for (let up = this.#above.get(top); up !== undefined && up !== top; up = this.#above.get(top)) top = up;
    this.#above.set(name, top);
    return top;
  }
  join(a: string, b: string): void {
    this.#above.set(this.root(a), this.root(b));
  }
  names(): readonly string[] {
    return [...this.#above.keys()];
  }
}

export interface RebuildOptions {
  /** Wires of this circuit, a lever's or one of contacts, and of supplies alone; absent: every wire. */
  readonly only?: string;
}

/**
 * Rebuilds the panel with its levers so; a lever that is not named lies normal. Throws where a name means nothing, a resistor has no value,
 * or a supply without ohms has both its ends on one net.
 */
export function rebuild(
  lists: Lists,
  facts: PanelFacts,
  levers: Readonly<Record<string, Position>>,
  options: RebuildOptions = {},
): Rebuilt {
  const { only } = options;
  const shared = new Set([only, ...facts.supplies.map((supply) => supply.id)]);
  const wires = only === undefined ? lists.wires : lists.wires.filter((row) => shared.has(row.circuit));
  // What only the wires of a supply lead to belongs to another circuit.
  const own = new Set(wires.filter((row) => row.circuit === only).flatMap(({ from, to }) => [from, to]));
  const isOwn = (...ends: readonly string[]): boolean => only === undefined || ends.some((end) => own.has(end));
  const nets = new Nets();
  const underLayout: { id: string; from: string; to: string; ohms: number }[] = [];
  for (const row of wires) {
    const { no = '', from = '', to = '' } = row;
    nets.root(from);
    nets.root(to);
    const drive = driveOf(from, facts) ?? driveOf(to, facts);
    if (drive === null) nets.join(from, to);
    else underLayout.push({ id: no, from, to, ohms: facts.drives.get(drive)?.wire.ohms ?? Number.NaN });
  }

  const supplies = new Map(facts.supplies.map((supply) => [supply.id, supply]));
  const positions = new Map(facts.levers.map((lever) => [lever.id, levers[lever.id] ?? 'normal']));
  const connectors = new Set(lists.pins.map((row) => `${row.connector}.${row.pin}`));
  const resistors = resistorsOf(lists.parts);
  const found = new Map<string, string>();
  for (const name of nets.names()) {
    const [, id = '', end = ''] = /^(.+)\.([^.]+)$/.exec(name) ?? [];
    const tag = /^t(\d+)$/.exec(end)?.[1];
    if (positions.has(id) && tag !== undefined) {
      // Three tags a pole: normal, common, reverse. The bat joins the common to the tag of its position.
      const common = 3 * Math.floor((Number(tag) - 1) / 3) + 2;
      const position = positions.get(id);
      if (position !== 'centre') nets.join(`${id}.t${common}`, `${id}.t${common + (position === 'normal' ? -1 : 1)}`);
    } else if (supplies.has(id) && (end === 'p' || end === 'm')) found.set(id, 'supply');
    else if (facts.lamps.has(id) && (end === 'a' || end === 'k')) {
      if (isOwn(`${id}.a`, `${id}.k`)) found.set(id, 'lamp');
    } else if (id.startsWith('GD-') && facts.lamps.has(id.slice(3)) && (end === 'a' || end === 'k'))
      found.set(id, 'guard');
    else if (id.startsWith('R-') && (end === '1' || end === '2')) {
      if (isOwn(`${id}.1`, `${id}.2`)) found.set(id, 'resistor');
    } else if (id.startsWith('FU-') && supplies.has(id.slice(3)) && (end === '1' || end === '2'))
      nets.join(`${id}.1`, `${id}.2`);
    else if (driveOf(name, facts) !== null) found.set(id, 'drive');
    else if (!connectors.has(name)) throw new RangeError(`wires.csv names ${name}, which this panel has not`);
  }

  const zero = facts.supplies.find((supply) => found.has(supply.id));
  const numbers = new Map<string, number>(zero === undefined ? [] : [[nets.root(`${zero.id}.m`), 0]]);
  const net = (terminal: string): number => {
    const root = nets.root(terminal);
    const number = numbers.get(root) ?? numbers.size;
    numbers.set(root, number);
    return number;
  };

  const elements: Element[] = underLayout.map(({ id, from, to, ohms }) => ({
    kind: 'ohms',
    id,
    a: net(from),
    b: net(to),
    ohms,
  }));
  for (const [id, kind] of found) {
    if (kind === 'supply') {
      const { volts, ohms } = supplies.get(id) ?? { volts: Number.NaN, ohms: 0 };
      const [a, b] = [net(`${id}.p`), net(`${id}.m`)];
      if (a === b && ohms === 0) throw new RangeError(`supply ${id} is shorted`);
      elements.push({ kind: 'supply', id, a, b, volts, ohms });
    } else if (kind === 'resistor') {
      const ohms = resistors.get(id);
      if (ohms === undefined) throw new RangeError(`parts.csv has no value for ${id}`);
      elements.push({ kind: 'ohms', id, a: net(`${id}.1`), b: net(`${id}.2`), ohms });
    } else {
      const [a, b] = kind === 'drive' ? [net(`${id}.a`), net(`${id}.b`)] : [net(`${id}.a`), net(`${id}.k`)];
      const lamp = facts.lamps.get(id);
      if (kind === 'drive') elements.push({ kind, id, a, b, ohms: facts.drives.get(id)?.ohms ?? null });
      else if (lamp !== undefined) elements.push({ kind: 'lamp', id, a, b, law: lamp.law });
      else elements.push({ kind: 'diode', id, a, b, law: GUARD });
    }
  }
  return {
    nets: new Map(nets.names().map((name) => [name, net(name)])),
    elements,
    floating: floatingNets(numbers.size, elements),
    loose: floatingNets(
      numbers.size,
      elements.filter(({ kind }) => kind !== 'lamp' && kind !== 'diode'),
    ),
  };
}

function floatingNets(count: number, elements: readonly Element[]): ReadonlySet<number> {
  const held = new Set(elements.flatMap(({ kind, a, b }) => (kind === 'supply' ? [a, b] : [])));
  for (const net of held) {
    for (const { a, b } of elements) {
      if (a === net) held.add(b);
      if (b === net) held.add(a);
    }
  }
  return new Set(Array.from({ length: count }, (_, net) => net).filter((net) => !held.has(net)));
}
