/**
 * Finds the blocks of a network: parts that touch the rest at few nodes only, as the levers of a panel do.
 *
 * Idea: nodes at which many branches meet are rails. Without them the network falls apart; each part is a block. A part that is
 * still large (levers along a return of some resistance) is cut where one node alone holds it together; what is then one single
 * resistance or source between two nodes is a link, and belongs to no block.
 * Cost: linear in elements. Source: Hopcroft and Tarjan 1973 (biconnected components).
 */

import { biconnected } from './biconnected.ts';
import { Sets } from './sets.ts';
import { BLOCK_ELEMENTS, NO_OHMS, RAIL_BRANCHES } from './tolerances.ts';
import type { CircuitElement, Netlist } from './types.ts';

/** The block of every element, numbered from 0; -1 for links. */
export function splitBlocks({ elements }: Netlist): Int32Array {
  const numbers = new Map<string, number>();
  const number = (node: string): number => {
    const known = numbers.get(node);
    if (known !== undefined) return known;
    numbers.set(node, numbers.size);
    return numbers.size - 1;
  };
  const ends = elements.map(({ a, b }) => [number(a), number(b)] as const);
  const one = new Sets(numbers.size);
  elements.forEach((element, m) => {
    if (element.kind === 'wire' && element.ohms < NO_OHMS) one.join(ends[m]?.[0] ?? 0, ends[m]?.[1] ?? 0);
  });
  const from = Int32Array.from(ends, ([a]) => one.find(a));
  const to = Int32Array.from(ends, ([, b]) => one.find(b));
  const degree = new Int32Array(numbers.size);
  elements.forEach((_, m) => {
    if (from[m] === to[m]) return;
    for (const node of [from[m] as number, to[m] as number]) degree[node] = (degree[node] as number) + 1;
  });
  const isRail = (node: number): boolean => (degree[node] as number) >= RAIL_BRANCHES;

  const parts = new Sets(numbers.size);
  elements.forEach((_, m) => {
    const [p, q] = [from[m] as number, to[m] as number];
    if (!isRail(p) && !isRail(q)) parts.join(p, q);
  });
  const members = new Map<number, number[]>();
  const block = new Int32Array(elements.length).fill(-1);
  let count = 0;
  elements.forEach((element, m) => {
    const [p, q] = [from[m] as number, to[m] as number];
    if (isRail(p) && isRail(q)) {
      if (!isLink(element)) block[m] = count++;
      return;
    }
    const part = parts.find(isRail(p) ? q : p);
    const list = members.get(part);
    if (list === undefined) members.set(part, [m]);
    else list.push(m);
  });
  for (const list of members.values()) {
    if (list.every((m) => isLink(elements[m]))) continue;
    if (list.length <= BLOCK_ELEMENTS) {
      for (const m of list) block[m] = count;
      count++;
      continue;
    }
    const inner = list.filter((m) => !isRail(from[m] as number) && !isRail(to[m] as number) && from[m] !== to[m]);
    const groups = biconnected(inner, from, to);
    /** A block that touches a node, for the branches between it and a rail. */
    const at = new Map<number, number>();
    for (const group of groups) {
      if (group.length === 1 && isLink(elements[group[0] as number])) continue;
      for (const m of group) {
        block[m] = count;
        for (const node of [from[m] as number, to[m] as number]) if (!at.has(node)) at.set(node, count);
      }
      count++;
    }
    for (const m of list) {
      if ((block[m] as number) >= 0 || inner.includes(m)) continue;
      const own = at.get(from[m] as number) ?? at.get(to[m] as number);
      if (own !== undefined) block[m] = own;
      else if (!isLink(elements[m])) block[m] = count++;
    }
  }
  return block;
}

/** May it stand outside of all blocks? */
function isLink(element: CircuitElement | undefined): boolean {
  return element !== undefined && element.kind !== 'diode' && element.kind !== 'contact' && element.kind !== 'open';
}
