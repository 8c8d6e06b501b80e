/**
 * What of a network can carry nothing, whatever its values: told from how it hangs together alone.
 *
 * Idea: current needs a closed way through a source. A part that no source touches has none. Neither has a branch that is not on a
 * ring with a source: parts that are joined at one node only (biconnected blocks) exchange nothing, so a block without a source is
 * dead. And diodes let current one way only: a branch between two nodes of which the second does not reach the first again, diodes
 * taken as one-way, carries their leakage at most.
 * Cost: linear in elements. Source: Tarjan 1972 (strong components), Hopcroft and Tarjan 1973 (blocks).
 */
import { biconnected } from './biconnected.ts';
import { Role, readNetlist } from './read-netlist.ts';
import { Sets } from './sets.ts';
import type { Netlist } from './types.ts';

/** Why an element carries nothing: no source in its part; on no ring with a source; the wrong way round for every ring. */
export type DeadWhy = 'no-source' | 'no-ring' | 'one-way';

export interface Dead {
  readonly element: string;
  readonly why: DeadWhy;
}

/**
 * Elements that carry no more than the leakage of dark diodes in any setting of the values, in the order of the netlist. Open contacts
 * and `open` elements are left out: they are no branch at all.
 */
export function deadElements(netlist: Netlist): readonly Dead[] {
  const { elements, nodes, from, to, role } = readNetlist(netlist);
  const live = elements.flatMap((_, m) => (role[m] === Role.absent ? [] : [m]));
  const isSource = (m: number): boolean => elements[m]?.kind === 'source';

  const parts = new Sets(nodes.length);
  for (const m of live) parts.join(from[m] as number, to[m] as number);
  const powered = new Set(live.filter(isSource).map((m) => parts.find(from[m] as number)));

  const ringed = new Set<number>();
  const loops = live.filter((m) => from[m] !== to[m]);
  for (const group of biconnected(loops, from, to)) {
    if (group.length > 1 && group.some(isSource)) for (const m of group) ringed.add(m);
  }
  const strong = strongComponents(
    nodes.length,
    live
      .filter((m) => ringed.has(m))
      .flatMap((m): [number, number][] => {
        const [a, b] = [from[m] as number, to[m] as number];
        return role[m] === Role.diode
          ? [[a, b]]
          : [
              [a, b],
              [b, a],
            ];
      }),
  );
  return live.flatMap((m): Dead[] => {
    const element = elements[m]?.id ?? '';
    if (!powered.has(parts.find(from[m] as number))) return [{ element, why: 'no-source' }];
    // A source across itself is a short, not dead.
    if (from[m] === to[m]) return isSource(m) ? [] : [{ element, why: 'no-ring' }];
    if (!ringed.has(m)) return [{ element, why: 'no-ring' }];
    if (strong[from[m] as number] !== strong[to[m] as number]) return [{ element, why: 'one-way' }];
    return [];
  });
}

/** The strong component of every node, by number; Tarjan's way, without recursion. */
function strongComponents(size: number, arcs: readonly (readonly [number, number])[]): Int32Array {
  const ways: number[][] = Array.from({ length: size }, () => []);
  for (const [a, b] of arcs) ways[a]?.push(b);
  const component = new Int32Array(size).fill(-1);
  const order = new Int32Array(size).fill(-1);
  const low = new Int32Array(size);
  const next = new Int32Array(size);
  const stack: number[] = [];
  let clock = 0;
  let count = 0;
  for (let root = 0; root < size; root++) {
    if (order[root] !== -1) continue;
    const path = [root];
    while (path.length > 0) {
      const node = path[path.length - 1] as number;
      if (order[node] === -1) {
        order[node] = low[node] = clock++;
        stack.push(node);
      }
      const far = ways[node]?.[next[node] as number];
      if (far !== undefined) {
        next[node] = (next[node] as number) + 1;
        if (order[far] === -1) path.push(far);
        else if (component[far] === -1) low[node] = Math.min(low[node] as number, order[far] as number);
        continue;
      }
      path.pop();
      const back = path[path.length - 1];
      if (back !== undefined) low[back] = Math.min(low[back] as number, low[node] as number);
      if (low[node] !== order[node]) continue;
      for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
        component[at] = count;
        if (at === node) break;
      }
      count++;
    }
  }
  return component;
}
