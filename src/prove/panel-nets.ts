/** What is joined to what inside the panel by wires alone, and the spots of each net that a probe can reach. */
import type { Terminal, WiredSupply, Wiring } from '../wiring/index.ts';

/** A supply's two ends as the panel has them: behind the fuse where one stands in that lead. */
export interface SupplyEnds {
  readonly plus: Terminal;
  readonly minus: Terminal;
}

export interface PanelNets {
  /** Are two terminals joined by wires? */
  joined(a: Terminal, b: Terminal): boolean;
  /** Does any wire end here? */
  wired(terminal: Terminal): boolean;
  /** The best spot for a probe on this terminal's net: a rail of a supply, else its pins, else the terminal itself. */
  probes(terminal: Terminal): readonly Terminal[];
  /** The rail that the terminal's net is; null where it is none. */
  rail(terminal: Terminal): Terminal | null;
  ends(supply: WiredSupply): SupplyEnds;
}

export function panelNets(wiring: Wiring): PanelNets {
  const parent = new Map<Terminal, Terminal>();
  const find = (terminal: Terminal): Terminal => {
    let at = terminal;
    for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) at = up;
    parent.set(terminal, at);
    return at;
  };
  for (const { from, to, side } of wiring.wires) {
    if (side !== 'panel') continue;
    for (const end of [from, to]) if (!parent.has(end)) parent.set(end, end);
    parent.set(find(from), find(to));
  }
  const pinsOf = new Map<Terminal, Terminal[]>();
  for (const pin of wiring.connectors.flatMap(({ pins }) => pins)) {
    if (!parent.has(pin.id)) continue;
    const root = find(pin.id);
    pinsOf.set(root, [...(pinsOf.get(root) ?? []), pin.id]);
  }
  const railOf = new Map<Terminal, Terminal>();
  for (const supply of wiring.supplies) {
    const { plus, minus } = ends(supply);
    const rectified = wiring.diodes
      .filter(({ circuit, what }) => circuit === supply.id && what === 'rectifier' && supply.kind === 'ac')
      .map(({ id, anode, cathode }) => (id.endsWith('p') ? cathode : anode));
    for (const rail of [plus, minus, ...rectified])
      if (parent.has(rail) && !railOf.has(find(rail))) railOf.set(find(rail), rail);
  }
  const rail = (terminal: Terminal) => (parent.has(terminal) ? (railOf.get(find(terminal)) ?? null) : null);
  return {
    joined: (a, b) => parent.has(a) && parent.has(b) && find(a) === find(b),
    wired: (terminal) => parent.has(terminal),
    rail,
    ends,
    probes(terminal) {
      const on = rail(terminal);
      if (on !== null) return [on];
      const pins = parent.has(terminal) ? (pinsOf.get(find(terminal)) ?? []) : [];
      return pins.length > 0 ? pins : [terminal];
    },
  };

  /** The fuse stands in the plus lead; of the second supply of a split feed in the minus. */
  function ends({ id, fuse }: WiredSupply): SupplyEnds {
    const behind = (terminal: Terminal): Terminal => {
      const [near, far] = fuse === null ? [] : [`${fuse.id}.1`, `${fuse.id}.2`];
      const fused = near !== undefined && parent.has(near) && parent.has(terminal) && find(near) === find(terminal);
      return fused && far !== undefined ? far : terminal;
    };
    return { plus: behind(`${id}.p`), minus: behind(`${id}.m`) };
  }
}
