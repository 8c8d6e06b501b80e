/**
 * Nets inside the panel, each a chain of wires from terminal to terminal: what comes next is joined to the last. Those of supplies are
 * rails, which many circuits share: the first of them brings the fuse, the diodes or the charging resistor that stand before it.
 */
import type { Supply } from '../panel/index.ts';
import { type Join, panelJoin } from './join.ts';
import type { Terminal } from './types.ts';

/** A net that more can be joined to. */
export interface Net {
  /** The terminal that names it. */
  readonly name: Terminal;
  /** Where it begins. */
  readonly start: Terminal;
  /** True for a rail of a supply, which has no beginning of its own in a circuit. */
  readonly rail: boolean;
  /** Join a terminal to it. */
  reach(terminal: Terminal): void;
}

/** A net of one circuit that begins at a terminal of its own. */
export function chain(joins: Join[], circuit: string, start: Terminal, name: Terminal = start): Net {
  let last = start;
  return {
    name,
    start,
    rail: false,
    reach(terminal) {
      if (terminal !== last) joins.push(panelJoin(last, terminal, circuit, name));
      last = terminal;
    },
  };
}

/** A rail by its name: "S1.p". */
export type RailName = Terminal;

/** Names of what stands between a supply and its rails. */
export const railNames = {
  plus: (supply: string): RailName => `${supply}.p`,
  minus: (supply: string): RailName => `${supply}.m`,
  /** Behind the two diodes of a half-wave feed. */
  rectifiedPlus: (supply: string): RailName => `SD-${supply}p.k`,
  rectifiedMinus: (supply: string): RailName => `SD-${supply}m.a`,
};

/** What a panel's supplies bring into its circuits. */
export class Rails {
  private readonly last = new Map<RailName, Terminal>();
  private readonly reached = new Map<string, { terminal: Terminal; net: RailName }[]>();
  private readonly supplies: ReadonlyMap<string, Supply>;

  constructor(
    private readonly joins: Join[],
    supplies: readonly Supply[],
  ) {
    this.supplies = new Map(supplies.map((supply) => [supply.id, supply]));
  }

  /** Supplies whose rails any circuit reached. */
  readonly used = new Set<string>();

  private readonly tied = new Set<RailName>();
  /** Supplies whose plus is the middle of a split feed: their fuse stands in the minus. */
  private readonly turned = new Set<string>();

  /** Make the minus of one supply and the plus of another one rail, the middle of a split feed. */
  tie(minus: RailName, plus: RailName): void {
    if (this.tied.has(plus)) return;
    this.tied.add(plus);
    this.turned.add(ownerOf(plus));
    this.begin(minus);
    this.begin(plus);
    this.join(this.lastOf(minus), plus, ownerOf(minus), minus);
    this.last.set(minus, plus);
  }

  /** Bring a rail to a terminal of a circuit. */
  reach(net: RailName, terminal: Terminal, circuit: string): void {
    this.begin(net);
    if (this.lastOf(net) !== terminal)
      this.joins.push({
        ...panelJoin(this.lastOf(net), terminal, ownerOf(net), net),
        feeds: this.supplies.has(circuit) ? null : circuit,
      });
    this.last.set(net, terminal);
    this.note(net, terminal, circuit);
  }

  /** Say that a terminal of a circuit is on a rail, whatever joins it. */
  note(net: RailName, terminal: Terminal, circuit: string): void {
    const list = this.reached.get(circuit);
    if (list === undefined) this.reached.set(circuit, [{ terminal, net }]);
    else list.push({ terminal, net });
  }

  /** A rail as a net of one circuit. */
  net(name: RailName, circuit: string): Net {
    return { name, start: name, rail: true, reach: (terminal) => this.reach(name, terminal, circuit) };
  }

  /** Where rails come into a circuit. */
  into(circuit: string): readonly { readonly terminal: Terminal; readonly net: RailName }[] {
    return this.reached.get(circuit) ?? [];
  }

  /** Supplies of a circuit's rails, in the order in which it reached them. */
  suppliesOf(circuit: string): readonly string[] {
    return [...new Set(this.into(circuit).map(({ net }) => ownerOf(net)))];
  }

  private lastOf(net: RailName): Terminal {
    return this.last.get(net) ?? net;
  }

  /** Lay what stands before a rail, once: the fuse on a plus, a diode and its capacitor, a CDU's charging resistor and diode. */
  private begin(net: RailName): void {
    if (this.last.has(net)) return;
    const id = ownerOf(net);
    const supply = this.supplies.get(id);
    this.used.add(id);
    if (net === railNames.rectifiedPlus(id) || net === railNames.rectifiedMinus(id)) this.rectify(id, net);
    else if (supply?.kind === 'cdu') this.charge(supply, net);
    else if (net === (this.turned.has(id) ? railNames.minus(id) : railNames.plus(id)) && supply?.fuse !== null) {
      this.join(net, `FU-${id}.1`, id, net);
      this.last.set(net, `FU-${id}.2`);
    } else this.last.set(net, net);
  }

  private rectify(id: string, net: RailName): void {
    const plus = net === railNames.rectifiedPlus(id);
    const diode = plus ? `SD-${id}p` : `SD-${id}m`;
    this.extend(railNames.plus(id), plus ? `${diode}.a` : `${diode}.k`);
    this.last.set(net, net);
    if (this.supplies.get(id)?.farads === null) return;
    const capacitor = plus ? `CAP-${id}p` : `CAP-${id}m`;
    const [near, far] = plus ? [`${capacitor}.p`, `${capacitor}.m`] : [`${capacitor}.m`, `${capacitor}.p`];
    this.join(net, near, id, net);
    this.last.set(net, near);
    this.extend(railNames.minus(id), far);
  }

  /** A CDU: plus through its charging resistor and its diode to its capacitor, minus straight. */
  private charge(cdu: Supply, net: RailName): void {
    const { id } = cdu;
    const from = cdu.from ?? '';
    if (net === railNames.minus(id)) {
      this.last.set(net, net);
      this.extend(railNames.minus(from), net);
      return;
    }
    this.extend(railNames.plus(from), `R-${id}.1`);
    this.join(`R-${id}.2`, `SD-${id}.a`, id, `R-${id}.2`);
    this.join(`SD-${id}.k`, net, id, net);
    this.last.set(net, net);
  }

  /** Bring a rail to a terminal that is no circuit's own. */
  private extend(net: RailName, terminal: Terminal): void {
    this.begin(net);
    this.join(this.lastOf(net), terminal, ownerOf(net), net);
    this.last.set(net, terminal);
  }

  private join(from: Terminal, to: Terminal, circuit: string, net: Terminal): void {
    this.joins.push(panelJoin(from, to, circuit, net));
  }
}

/** The supply of a rail: "S1" of "S1.p", of "SD-S1p.k" and of "SD-S1m.a". */
export function ownerOf(net: RailName): string {
  const [, rectified] = net.startsWith('SD-') ? (/^SD-(.+)[pm]\.[ka]$/.exec(net) ?? []) : [];
  return rectified ?? net.replace(/\.[pm]$/, '');
}
