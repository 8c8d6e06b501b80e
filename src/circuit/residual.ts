/**
 * An independent check of an operating point: do the currents sum to nothing at every node?
 */
import type { Ampere, Volt } from '../units/index.ts';
import { diodeCurrent } from './diode-law.ts';
import { type ReadNetlist, Role, readNetlist } from './read-netlist.ts';
import { Sets } from './sets.ts';
import { byId } from './stiff-graph.ts';
import type { Netlist, Node, OperatingPoint } from './types.ts';

/**
 * The worst sum of currents at any node, in amps (never below 0), and that node (the first by name among nodes that are one;
 * null for an empty netlist). Every current is worked out again from the volts of the nodes and the exact law. Nodes joined by
 * 0 ohm count as one, and so do the ends of an ideal source whose current is not known. Where a node has no volts (it
 * floats, or hangs on dark diodes), the current stated in the point stands in; an ideal source's stated current is taken too.
 */
export function residual(netlist: Netlist, point: Pick<OperatingPoint, 'volts' | 'amps'>): Residual {
  return residualOf(readNetlist(netlist), point);
}

/** The worst sum of currents, and where. */
export interface Residual {
  readonly worst: Node | null;
  readonly amps: Ampere;
}

/** The same for a netlist that has been read already. */
export function residualOf(read: ReadNetlist, point: Pick<OperatingPoint, 'volts' | 'amps'>): Residual {
  const { elements, nodes, from, to, role, siemens } = read;
  const one = new Sets(nodes.length);
  elements.forEach((element, m) => {
    const unknown = role[m] === Role.ideal && (point.amps.get(element.id) ?? null) === null;
    if (role[m] === Role.joined || unknown) one.join(from[m] as number, to[m] as number);
  });

  const sum = new Float64Array(nodes.length);
  elements.forEach((element, m) => {
    if (role[m] === Role.absent || role[m] === Role.joined) return;
    const a = volt(point, element.a);
    const b = volt(point, element.b);
    let amps = point.amps.get(element.id) ?? 0;
    if (a !== null && b !== null && role[m] !== Role.ideal) {
      if (element.kind === 'diode') amps = diodeCurrent(element.law, a - b);
      else amps = (siemens[m] as number) * (a - b - (read.emf[m] as number));
    }
    const p = one.find(from[m] as number);
    const q = one.find(to[m] as number);
    sum[p] = (sum[p] as number) + amps;
    sum[q] = (sum[q] as number) - amps;
  });
  // The first by name stands for nodes that are one, so that the order of the netlist decides nothing.
  let worst: Node | null = null;
  let most = 0;
  nodes.forEach((name, node) => {
    const amps = Math.abs(sum[one.find(node)] as number);
    if (worst === null || amps > most || (amps === most && byId(name, worst) < 0)) {
      most = amps;
      worst = name;
    }
  });
  return { worst, amps: most };
}

function volt(point: Pick<OperatingPoint, 'volts'>, node: Node): Volt | null {
  return point.volts.get(node) ?? null;
}
