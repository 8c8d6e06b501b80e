/**
 * Numbers the nodes of a netlist and says what each element is to the solver.
 */
import type { DiodeLaw } from '../parts/index.ts';
import {
  LEAST_EMISSION,
  LEAST_SATURATION,
  MOST_EMISSION,
  MOST_FARADS,
  MOST_HENRIES,
  MOST_HERTZ,
  MOST_OHMS,
  MOST_SATURATION,
  MOST_SERIES_OHMS,
  MOST_VOLTS,
  NO_OHMS,
} from './tolerances.ts';
import type { CircuitElement, CircuitProblem, Netlist, Node } from './types.ts';

/** What an element is to the solver. */
export const Role = {
  /** An open contact, an `open` element, or one whose values cannot be used: no branch at all. */
  absent: 0,
  /** 0 ohm: its nodes are one. */
  joined: 1,
  /** A source of 0 ohm: its nodes are a known number of volts apart. */
  ideal: 2,
  /** amps = siemens (volts - emf). */
  linear: 3,
  diode: 4,
} as const;

export interface ReadNetlist {
  readonly elements: readonly CircuitElement[];
  /** Nodes in the order of first mention. */
  readonly nodes: readonly Node[];
  readonly index: ReadonlyMap<Node, number>;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly role: Uint8Array;
  readonly siemens: Float64Array;
  readonly emf: Float64Array;
  readonly problems: readonly CircuitProblem[];
}

/** The netlist in flat arrays; elements with bad values are named as problems and left out, as if cut. */
export function readNetlist(netlist: Netlist): ReadNetlist {
  const elements = netlist.elements;
  const count = elements.length;
  const nodes: Node[] = [];
  const index = new Map<Node, number>();
  const from = new Int32Array(count);
  const to = new Int32Array(count);
  const role = new Uint8Array(count);
  const siemens = new Float64Array(count);
  const emf = new Float64Array(count);
  const problems: CircuitProblem[] = [];
  const ids = new Set<string>();
  const number = (node: Node): number => {
    const known = index.get(node);
    if (known !== undefined) return known;
    index.set(node, nodes.length);
    nodes.push(node);
    return nodes.length - 1;
  };
  elements.forEach((element, m) => {
    from[m] = number(element.a);
    to[m] = number(element.b);
    const what = ids.has(element.id) ? 'its id is given twice' : fault(element);
    ids.add(element.id);
    if (what !== null) {
      problems.push({ code: 'value-bad', element: element.id, what });
      return;
    }
    role[m] = roleOf(element);
    if (element.kind === 'source') emf[m] = element.volts;
    if (role[m] === Role.linear && 'ohms' in element) siemens[m] = 1 / element.ohms;
  });
  return { elements, nodes, index, from, to, role, siemens, emf, problems };
}

/** What an element with good values is to the solver. */
export function roleOf(element: CircuitElement): number {
  if (element.kind === 'open' || element.kind === 'capacitor') return Role.absent;
  if (element.kind === 'contact' && !element.closed) return Role.absent;
  if (element.kind === 'diode') return Role.diode;
  if (element.ohms >= NO_OHMS) return Role.linear;
  return element.kind === 'source' ? Role.ideal : Role.joined;
}

/** What is wrong with an element's values, or null. An open contact's ohms are not looked at. */
export function fault(element: CircuitElement): string | null {
  if (element.kind === 'open' || (element.kind === 'contact' && !element.closed)) return null;
  if (element.kind === 'diode') return lawFault(element.law);
  if (element.kind === 'capacitor') {
    if (!(element.farads > 0 && element.farads <= MOST_FARADS)) return `farads ${element.farads}`;
    return Math.abs(element.volts) <= MOST_VOLTS ? null : `volts ${element.volts}`;
  }
  if (element.kind === 'coil') {
    if (!(element.henries >= 0 && element.henries <= MOST_HENRIES)) return `henries ${element.henries}`;
    // A coil is wire: without ohms its current would never end.
    if (!(element.ohms >= NO_OHMS)) return `ohms ${element.ohms}`;
  }
  if (element.kind === 'source') {
    const { volts, swing } = element;
    if (!(Math.abs(volts) <= MOST_VOLTS)) return `volts ${volts}`;
    if (swing !== undefined && !(Math.abs(swing.peak) <= MOST_VOLTS)) return `peak ${swing.peak}`;
    if (swing !== undefined && !(swing.hertz > 0 && swing.hertz <= MOST_HERTZ)) return `hertz ${swing.hertz}`;
  }
  return element.ohms >= 0 && element.ohms <= MOST_OHMS ? null : `ohms ${element.ohms}`;
}

function lawFault(law: DiodeLaw): string | null {
  if (!(law.is >= LEAST_SATURATION && law.is <= MOST_SATURATION)) return `is ${law.is}`;
  if (!(law.n >= LEAST_EMISSION && law.n <= MOST_EMISSION)) return `n ${law.n}`;
  return law.rs >= 0 && law.rs <= MOST_SERIES_OHMS ? null : `rs ${law.rs}`;
}
