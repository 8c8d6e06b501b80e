/**
 * Biconnected components: groups of branches of which every two lie on one ring.
 *
 * Idea: a walk in depth keeps branches on a stack; where nothing below a branch reaches above its first node, all since that branch
 * is one group. Cost: linear in branches. Source: Hopcroft and Tarjan 1973.
 */

/** The branches of each group, named by their places in `from` and `to`; those between the same two nodes are together. A branch on no ring is alone. */
export function biconnected(
  inner: readonly number[],
  from: Int32Array,
  to: Int32Array,
): readonly (readonly number[])[] {
  const ways = new Map<number, number[]>();
  for (const m of inner) {
    for (const node of [from[m] as number, to[m] as number]) {
      const list = ways.get(node);
      if (list === undefined) ways.set(node, [m]);
      else list.push(m);
    }
  }
  const order = new Map<number, number>();
  const low = new Map<number, number>();
  const next = new Map<number, number>();
  const stack: number[] = [];
  const used = new Set<number>();
  const groups: number[][] = [];
  for (const root of ways.keys()) {
    if (order.has(root)) continue;
    const path: [node: number, by: number][] = [[root, -1]];
    order.set(root, order.size);
    low.set(root, order.get(root) ?? 0);
    while (path.length > 0) {
      const [node, by] = path[path.length - 1] as [number, number];
      const k = next.get(node) ?? 0;
      const m = ways.get(node)?.[k];
      if (m !== undefined) {
        next.set(node, k + 1);
        if (used.has(m)) continue;
        used.add(m);
        stack.push(m);
        const far = from[m] === node ? (to[m] as number) : (from[m] as number);
        const seen = order.get(far);
        if (seen === undefined) {
          order.set(far, order.size);
          low.set(far, order.get(far) ?? 0);
          path.push([far, m]);
        } else low.set(node, Math.min(low.get(node) ?? 0, seen));
        continue;
      }
      path.pop();
      const back = path[path.length - 1];
      if (back === undefined) continue;
      low.set(back[0], Math.min(low.get(back[0]) ?? 0, low.get(node) ?? 0));
      if ((low.get(node) ?? 0) < (order.get(back[0]) ?? 0)) continue;
      // Nothing below reaches above the node before it: all since the branch that led here is one component.
      groups.push(stack.splice(stack.lastIndexOf(by)));
    }
  }
  return groups;
}
