/** Which terminals hang together by wires, and the wire that brings its net to each: nets as trees from where they begin. */
import type { CutWire } from '../loom/index.ts';
import type { Terminal } from '../wiring/index.ts';

export interface Nets {
  /** Every wire that was read, its ends as they were given. */
  readonly wires: readonly CutWire[];
  /** The name of the net that a terminal is on: its first terminal. */
  of(terminal: Terminal): Terminal;
  /** The wire that comes to this terminal from nearer the supply; null at the beginning of a net. */
  bringer(terminal: Terminal): CutWire | null;
  /** Every wire that ends here, in their order. */
  at(terminal: Terminal): readonly CutWire[];
}

/** Where a net begins: at the supply, behind a fuse, at the common of a pole, behind a resistor; else at its first terminal. */
function rank(terminal: Terminal, roots: readonly Terminal[]): number {
  const i = roots.indexOf(terminal);
  return i === -1 ? roots.length : i;
}

/** Read nets off wires. `roots` are terminals where nets begin, most important first. */
export function readNets(wires: readonly CutWire[], roots: readonly Terminal[]): Nets {
  const ends = new Map<Terminal, CutWire[]>();
  for (const wire of wires) {
    for (const end of [wire.from, wire.to]) {
      const list = ends.get(end);
      if (list === undefined) ends.set(end, [wire]);
      else list.push(wire);
    }
  }
  const order = [...ends.keys()].map((terminal, i) => ({ terminal, i, rank: rank(terminal, roots) }));
  order.sort((a, b) => a.rank - b.rank || a.i - b.i);
  const net = new Map<Terminal, Terminal>();
  const bringers = new Map<Terminal, CutWire>();
  for (const { terminal: root } of order) {
    if (net.has(root)) continue;
    net.set(root, root);
    const queue = [root];
    for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
      for (const wire of ends.get(at) ?? []) {
        const other = wire.from === at ? wire.to : wire.from;
        if (net.has(other)) continue;
        net.set(other, root);
        bringers.set(other, wire);
        queue.push(other);
      }
    }
  }
  return {
    wires,
    of: (terminal) => net.get(terminal) ?? terminal,
    bringer: (terminal) => bringers.get(terminal) ?? null,
    at: (terminal) => ends.get(terminal) ?? [],
  };
}
