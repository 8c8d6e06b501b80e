/**
 * A netlist as SPICE text that runs as it stands in batch mode.
 *
 * Idea: nodes joined by 0 ohm become one node, since loops of 0 V sources cannot be solved by SPICE; the comments say
 * which names are one. What must be read, a `probe`, keeps a 0 V source of its own. A source or a probed 0 ohm element that
 * would close a loop of sources gets 1 milliohm. Open contacts stand as comments.
 */
import type { DiodeLaw } from '../parts/index.ts';
import type { Ohm, Second } from '../units/index.ts';
import { fault, type ReadNetlist, Role, readNetlist } from './read-netlist.ts';
import { Sets } from './sets.ts';
import { byId } from './stiff-graph.ts';
import type { CircuitElement, Netlist } from './types.ts';

export interface SpiceOptions {
  readonly title: string;
  /** Lines under the title. */
  readonly comments?: readonly string[];
  /** Run through time from what capacitors hold, in steps of so many seconds; absent: the point at rest. */
  readonly time?: { readonly step: Second; readonly stop: Second };
}

/** Resistor that ties an island without a way to node 0, and that stands for an open element whose current is to be read. */
const TIE = '1G';

/** Ohms that break a loop of sources: too little to matter beside any wire, enough for SPICE. */
const LOOP_OHMS: Ohm = 1e-3;

/**
 * Closer than a plain run's 1e-3, so that currents stand to five digits; at 1e-6 ngspice 39 ends in NaN where dark strings have
 * guard diodes. Temperatures alike, so that IS is not rescaled.
 *
 * `abstol` through time: a capacitor's amps are volts times C / step, and the last digit of 24 V across 4700 uF in a short step is already
 * a nanoampere. `vntol` where an island is tied: all of it floats on 1 Gohm, where the last digits of its own currents, some 1e-14 A,
 * are 10 uV. Asked for less than it can hold, SPICE ends without an answer or shortens its steps without end.
 */
function optionsFor(through: boolean, tied: boolean): string {
  const vntol = tied ? '1e-4' : through ? '1e-6' : '1e-8';
  return `.options temp=27 tnom=27 reltol=1e-5 abstol=${through ? '1e-9' : '1e-12'} vntol=${vntol} itl1=500`;
}

/**
 * SPICE text of the netlist: a comment and a card for each element in its order, `V_<probe>` of 0 V in series with what has a probe
 * (reads positive as the probe's sign says), one model for each diode law, `RTIE_n` for islands without a way to
 * node 0, then `.op` (or `.print` of all probes and `.tran`) and `.end`. Node 0 is the netlist's reference; without one the minus of the first source by id, or the first
 * node by name. Names keep letters, digits and `_`; two that would be the same but for case get `_2`, `_3`.
 */
export function spiceText(netlist: Netlist, options: SpiceOptions): string {
  const read = readNetlist(netlist);
  const { elements, nodes, from, to, role } = read;
  const merged = new Sets(nodes.length);
  elements.forEach((element, m) => {
    if (role[m] === Role.joined && element.probe === undefined) merged.join(from[m] as number, to[m] as number);
  });
  const names = nameNodes(read, merged, zeroNode(netlist, read));
  const cards = new Cards(names.taken);
  const looped = loopClosers(read, merged);
  elements.forEach((element, m) => {
    cards.say(`${element.id}: ${says(element)}${note(read, m)}`);
    cards.element(element, role[m] as number, names.of(from[m] as number), names.of(to[m] as number), looped.has(m));
  });
  const ties = tieCards(read, merged, names.of, cards);
  return [
    `* ${plain(options.title)}`,
    ...(options.comments ?? []).map((line) => `* ${plain(line)}`),
    ...names.comments,
    ...cards.lines,
    ...ties,
    ...cards.models(),
    ...(options.time === undefined
      ? [optionsFor(false, ties.length > 0), '.op']
      : [
          optionsFor(true, ties.length > 0),
          ...printed(cards.probes),
          `.tran ${number(options.time.step)} ${number(options.time.stop)} uic`,
        ]),
    '.end',
    '',
  ].join('\n');
}

/** Without a list of what to print a plain run in batch mode does not run through time at all. */
function printed(probes: readonly string[]): readonly string[] {
  return probes.length === 0 ? [] : [`.print tran ${probes.map((name) => `i(${name})`).join(' ')}`];
}

/** The node that becomes 0; -1 for an empty netlist. */
function zeroNode(netlist: Netlist, read: ReadNetlist): number {
  const given = netlist.reference === null ? undefined : read.index.get(netlist.reference);
  if (given !== undefined) return given;
  const source = read.elements
    .flatMap((element, m) => (element.kind === 'source' && read.role[m] !== Role.absent ? [m] : []))
    .sort((p, q) => byId(read.elements[p]?.id ?? '', read.elements[q]?.id ?? ''))[0];
  if (source !== undefined) return read.to[source] as number;
  const first = [...read.nodes].sort(byId)[0];
  return first === undefined ? -1 : (read.index.get(first) ?? -1);
}

interface NodeNames {
  readonly of: (node: number) => string;
  readonly comments: readonly string[];
  readonly taken: Names;
}

function nameNodes(read: ReadNetlist, merged: Sets, zero: number): NodeNames {
  const taken = new Names();
  // Both mean node 0 to SPICE; no other node may have either name.
  taken.take('0');
  taken.take('gnd');
  const groups = new Map<number, string[]>();
  read.nodes.forEach((name, node) => {
    const group = groups.get(merged.find(node)) ?? [];
    groups.set(merged.find(node), group);
    group.push(name);
  });
  const name = new Map<number, string>();
  const comments: string[] = [];
  const ground = zero < 0 ? -1 : merged.find(zero);
  const sorted = [...groups].map(([group, all]) => [group, all.sort(byId)] as const);
  sorted.sort(([p, a], [q, b]) => (p === ground ? -1 : q === ground ? 1 : byId(a[0] ?? '', b[0] ?? '')));
  for (const [group, all] of sorted) {
    const spice = group === ground ? '0' : taken.take(tidy(all[0] ?? ''));
    name.set(group, spice);
    if (all.length > 1 || all[0] !== spice) comments.push(`* node ${spice} is ${all.map(plain).join(', ')}`);
  }
  const of = (node: number): string => name.get(merged.find(node)) ?? '0';
  return { of, comments, taken };
}

/** Sources and probed 0 ohm elements that would close a loop of sources: sources first, then by the order of the netlist. */
function loopClosers(read: ReadNetlist, merged: Sets): ReadonlySet<number> {
  const { elements, from, to, role, nodes } = read;
  const stiff = new Sets(nodes.length);
  nodes.forEach((_, node) => {
    stiff.join(node, merged.find(node));
  });
  const closers = new Set<number>();
  for (const kind of [Role.ideal, Role.joined]) {
    elements.forEach((element, m) => {
      if (role[m] !== kind || (kind === Role.joined && element.probe === undefined)) return;
      if (!stiff.join(from[m] as number, to[m] as number)) closers.add(m);
    });
  }
  return closers;
}

/** One resistor from each island without node 0: from its first source's minus, or from its first node by name. */
function tieCards(read: ReadNetlist, merged: Sets, nameOf: (node: number) => string, cards: Cards): string[] {
  const { elements, from, to, role, nodes } = read;
  const islands = new Sets(nodes.length);
  const printed = new Set<number>();
  const atCapacitor = new Set<number>();
  // They let nothing through at rest: where two meet and nothing else does there is no way to node 0 either.
  const offerBetween = (node: number): void => {
    if (atCapacitor.has(node)) printed.add(node);
    atCapacitor.add(node);
  };
  nodes.forEach((_, node) => {
    islands.join(node, merged.find(node));
  });
  elements.forEach((element, m) => {
    if (isCapacitor(element)) for (const node of [from[m] as number, to[m] as number]) offerBetween(merged.find(node));
    if (role[m] === Role.absent && element.probe === undefined) return;
    islands.join(from[m] as number, to[m] as number);
    if (role[m] === Role.joined && element.probe === undefined) return;
    printed.add(from[m] as number).add(to[m] as number);
  });
  const grounded = new Set(nodes.flatMap((_, node) => (nameOf(node) === '0' ? [islands.find(node)] : [])));
  const tie = new Map<number, number>();
  const offer = (node: number): void => {
    const island = islands.find(node);
    if (!grounded.has(island) && !tie.has(island)) tie.set(island, node);
  };
  const ids = elements.map((_, m) => m).sort((p, q) => byId(elements[p]?.id ?? '', elements[q]?.id ?? ''));
  for (const m of ids) if (elements[m]?.kind === 'source' && role[m] !== Role.absent) offer(to[m] as number);
  for (const node of [...printed].sort((p, q) => byId(nodes[p] ?? '', nodes[q] ?? ''))) offer(node);
  const at = [...tie.values()].map(nameOf).sort(byId);
  // A text without a single part is no circuit to SPICE.
  if (at.length === 0 && cards.empty) at.push(cards.name('n'));
  return at.flatMap((node, n) => [
    '* an island without a way to node 0, tied to it',
    `${cards.name(`RTIE_${n + 1}`)} ${node} 0 ${TIE}`,
  ]);
}

/** Gathers cards, models and the names of both. */
class Cards {
  readonly lines: string[] = [];
  /** Names of the 0 V sources that are read. */
  readonly probes: string[] = [];
  private readonly laws = new Map<string, string>();
  private readonly elementNames = new Names();
  private count = 0;

  constructor(private readonly nodeNames: Names) {}

  get empty(): boolean {
    return this.count === 0;
  }

  say(text: string): void {
    this.lines.push(`* ${plain(text)}`);
  }

  name(wanted: string): string {
    return this.elementNames.take(tidy(wanted));
  }

  element(element: CircuitElement, role: number, a: string, b: string, looped: boolean): void {
    const id = element.id;
    if (element.probe === undefined) {
      this.body(element, role, a, b, looped);
      return;
    }
    const { name, sign } = element.probe;
    // A bridge of 0 ohm is its own 0 V source: no other part stands in series.
    const alone = role === Role.joined && !looped;
    const isHere = role !== Role.absent || isCapacitor(element);
    const inner = alone ? b : this.nodeNames.take(tidy(`${id}_x`));
    this.probes.push(this.card(`V_${name}`, ...(sign === 1 ? [a, inner] : [inner, a]), 'DC 0'));
    if (alone) return;
    if (!isHere) this.card(`RO_${id}`, inner, b, TIE);
    else this.body(element, role, inner, b, looped);
  }

  private body(element: CircuitElement, role: number, a: string, b: string, looped: boolean): void {
    const id = element.id;
    if (isCapacitor(element)) this.card(`C_${id}`, a, b, number(element.farads), `IC=${number(element.volts)}`);
    if (role === Role.absent) return;
    if (role === Role.joined) {
      if (element.probe !== undefined) this.card(`RL_${id}`, a, b, number(LOOP_OHMS));
      return;
    }
    switch (element.kind) {
      case 'diode':
        this.card(`D_${id}`, a, b, this.model(element.law));
        return;
      case 'source': {
        const ohms = role === Role.ideal ? (looped ? LOOP_OHMS : 0) : element.ohms;
        const plus = ohms === 0 ? a : this.nodeNames.take(tidy(`${id}_emf`));
        const { swing } = element;
        const sine =
          swing === undefined ? '' : ` SIN(${number(element.volts)} ${number(swing.peak)} ${number(swing.hertz)})`;
        this.card(`VS_${id}`, plus, b, `DC ${number(element.volts)}${sine}`);
        if (ohms !== 0) this.card(`RS_${id}`, a, plus, number(ohms));
        return;
      }
      case 'coil': {
        const inner = element.henries === 0 ? a : this.nodeNames.take(tidy(`${id}_l`));
        if (inner !== a) this.card(`L_${id}`, a, inner, number(element.henries), 'IC=0');
        this.card(`RL_${id}`, inner, b, number(element.ohms));
        return;
      }
      case 'open':
      case 'capacitor':
        return;
      default:
        this.card(`${PREFIX[element.kind]}_${id}`, a, b, number(element.ohms));
    }
  }

  models(): string[] {
    return [...this.laws].map(([law, name]) => `.model ${name} ${law}`);
  }

  private model(law: DiodeLaw): string {
    const text = `D(IS=${number(law.is)} N=${number(law.n)} RS=${number(law.rs)} TNOM=27)`;
    const known = this.laws.get(text) ?? `DM${this.laws.size + 1}`;
    this.laws.set(text, known);
    return known;
  }

  /** The name that the card has got. */
  private card(name: string, ...rest: readonly string[]): string {
    this.count++;
    const own = this.name(name);
    this.lines.push([own, ...rest].join(' '));
    return own;
  }
}

/** A capacitor that can be used: no branch at rest, and a card all the same. */
function isCapacitor(element: CircuitElement): element is Extract<CircuitElement, { readonly kind: 'capacitor' }> {
  return element.kind === 'capacitor' && fault(element) === null;
}

const PREFIX = { resistor: 'R', wire: 'RW', contact: 'RC' } as const;

/** Hands out names that differ by more than case. */
class Names {
  private readonly used = new Set<string>();

  take(wanted: string): string {
    let name = wanted;
    for (let n = 2; this.used.has(name.toLowerCase()); n++) name = `${wanted}_${n}`;
    this.used.add(name.toLowerCase());
    return name;
  }
}

function tidy(name: string): string {
  return name.replace(/[^A-Za-z0-9_]/g, '_') || '_';
}

/** One line of plain characters. */
function plain(text: string): string {
  return text.replace(/[^\x20-\x7e]+/g, ' ').trim();
}

function number(value: number): string {
  return String(value);
}

function says(element: CircuitElement): string {
  return element.says ?? `${element.kind}, ${element.a} to ${element.b}`;
}

/** What a reader of the text should know of an element that has no card of its own. */
function note(read: ReadNetlist, m: number): string {
  const element = read.elements[m];
  if (element === undefined) return '';
  const bad = read.problems.some((problem) => problem.code === 'value-bad' && problem.element === element.id);
  if (read.role[m] === Role.absent) {
    if (element.kind === 'contact' && !element.closed) return ' (open)';
    if (element.kind === 'capacitor' && !bad) return '';
    if (element.kind === 'open')
      return element.probe === undefined ? ' (open)' : ' (open: 1 Gohm, so that its current can be read)';
    return bad ? ' (left out: its value cannot be used)' : '';
  }
  return read.role[m] === Role.joined ? ' (0 ohm)' : '';
}
