/**
 * Lamps of a circuit in their groups. Across a feed one chain runs from the near net along the resistors and one from the far net along
 * the far ends of the strings; behind its resistor each group is a little net of its own; lamps of the two lies face opposite ways. Lit by
 * contacts every lamp has its anode towards the throw that lights it, and the resistor stands at the far end, where both throws may share
 * it. In series the groups stand one behind the other on the way to the drives.
 */
import type { LampGroup, LampUse } from '../lamps/index.ts';
import type { Lie } from '../panel/index.ts';
import type { DiodePart } from '../parts/index.ts';
import { type Join, panelJoin } from './join.ts';
import { chain, type Net } from './rails.ts';
import type { Terminal, WiredLamp, WiredResistor } from './types.ts';

export interface HungLamps {
  readonly lamps: readonly WiredLamp[];
  readonly resistors: readonly WiredResistor[];
  /** Where the drives go on from: behind lamps in series, else the near net. */
  readonly near: Net;
}

/** What lamps hang on: the nets of the feed, or nodes of contacts by name. */
export interface LampNets {
  readonly near: Net;
  readonly far: Net;
  node(name: string): Net | null;
}

const LIES: readonly Lie[] = ['normal', 'reverse'];

/** The lamps of one circuit's groups: wires in the order of the groups, normal before reverse. */
export function hangLamps(
  circuit: string,
  groups: readonly LampGroup[],
  uses: ReadonlyMap<string, LampUse>,
  guardPart: DiodePart,
  nets: LampNets,
  joins: Join[],
): HungLamps {
  const lamps: WiredLamp[] = [];
  const resistors: WiredResistor[] = [];
  const joined = new Set<string>();
  let { near } = nets;
  for (const group of groups) {
    if (group.nodes !== null) hangOnContacts(group);
    else if (group.scheme === 'in-series') near = hangInSeries(group, near);
    else hangAcross(group);
  }
  return { lamps, resistors, near };

  function join(from: Terminal, to: Terminal, net: Terminal): void {
    // The leads of a lamp of two colours serve both its elements.
    if (from === to || joined.has(`${from} ${to}`)) return;
    joined.add(`${from} ${to}`);
    joins.push(panelJoin(from, to, circuit, net));
  }

  function addResistor(id: string, { id: group, ohms, rating, ohmsFrom }: LampGroup): readonly [Terminal, Terminal] {
    const [a, b] = [`${id}.1`, `${id}.2`];
    resistors.push({ id, group, circuit, a, b, ohms, rating, ohmsFrom });
    return [a, b];
  }

  function hangAcross(group: LampGroup): void {
    for (const { resistor, sides } of behindOne(group)) {
      const [a, b] = addResistor(resistor, group);
      nets.near.reach(a);
      let end: Terminal = b;
      for (const { lie, ids } of sides) end = hangString(ids, lie, group, b, end, nets.far);
    }
  }

  /** One way through for each direction, and no resistor unless the file gives one. */
  function hangInSeries(group: LampGroup, from: Net): Net {
    let net = from;
    for (const { resistor, sides } of behindOne(group)) {
      if (group.ohms > 0) {
        const [a, b] = addResistor(resistor, group);
        net.reach(a);
        net = chain(joins, circuit, b);
      }
      const before = net;
      let after: Net | null = null;
      for (const { lie, ids } of sides) {
        const out: Net = after ?? {
          name: outOf(ids, lie),
          start: outOf(ids, lie),
          rail: false,
          reach: () => undefined,
        };
        hangString(ids, lie, group, before.name, null, out, before);
        after ??= chain(joins, circuit, out.start);
      }
      net = after ?? net;
    }
    return net;
  }

  function outOf(ids: readonly string[], lie: Lie): Terminal {
    const last = ids[ids.length - 1] ?? '';
    const { anode, cathode } = leadsOf(last);
    return lie === 'normal' ? cathode : anode;
  }

  function hangOnContacts(group: LampGroup): void {
    const far = nets.node(group.nodes?.far ?? '');
    for (const { resistor, sides } of behindOne(group)) {
      const [a, b] = addResistor(resistor, group);
      let end: Terminal = a;
      for (const { lie, ids } of sides) {
        const into = nets.node(uses.get(ids[0] ?? '')?.hang?.plus ?? '');
        for (const [i, id] of ids.entries()) {
          const { anode, cathode } = addLamp(id, lie, group, ids.length > 1);
          if (i === 0) into?.reach(anode);
          else join(leadsOf(ids[i - 1] ?? '').cathode, anode, leadsOf(ids[i - 1] ?? '').cathode);
          const isLast = i === ids.length - 1;
          guardOf(id, i === 0 ? (into?.name ?? anode) : leadsOf(ids[i - 1] ?? '').cathode, isLast ? a : cathode, group);
          if (!isLast) continue;
          join(end, cathode, a);
          end = cathode;
        }
      }
      far?.reach(b);
    }
  }

  /** What stands behind each resistor of a group: its strings by lie. */
  function behindOne(group: LampGroup): readonly {
    readonly resistor: string;
    readonly sides: readonly { readonly lie: Lie; readonly ids: readonly string[] }[];
  }[] {
    if (group.arrange === 'own')
      return LIES.flatMap((lie) => group[lie].map((id) => ({ resistor: `R-${id}`, sides: [{ lie, ids: [id] }] })));
    const sides = LIES.flatMap((lie) => stringsOf(group, lie).map((ids) => ({ lie, ids })));
    return [{ resistor: `R-${group.id}`, sides }];
  }

  function leadsOf(id: string): { readonly anode: Terminal; readonly cathode: Terminal } {
    const use = uses.get(id);
    if (use === undefined) throw new RangeError(`lamp ${id} is in a group and not among the lamps`);
    const { of, element, part } = use;
    if (element === null) return { anode: `${id}.a`, cathode: `${id}.k` };
    // Two leads: what is the anode of one element is the cathode of the other. Three: a common cathode.
    if (part.leads === 3) return { anode: element === 'A' ? `${of}.a1` : `${of}.a2`, cathode: `${of}.k` };
    return element === 'A' ? { anode: `${of}.a`, cathode: `${of}.k` } : { anode: `${of}.k`, cathode: `${of}.a` };
  }

  function addLamp(id: string, lie: Lie, group: LampGroup, inString: boolean) {
    const use = uses.get(id);
    if (use === undefined) throw new RangeError(`lamp ${id} is in group ${group.id} and not among the lamps`);
    const leads = leadsOf(id);
    lamps.push({
      id,
      of: use.of,
      part: use.part,
      circuit,
      group: group.id,
      by: group.nodes !== null ? 'contacts' : group.scheme === 'in-series' ? 'series' : 'feed',
      cube: use.hang?.cube ?? null,
      lie,
      series: inString ? `${group.id}=${lie}` : null,
      ...leads,
      guard: group.guard === 'antiparallel' ? { id: `GD-${id}`, part: guardPart } : null,
    });
    return leads;
  }

  /** The guard lies across the lamp, its cathode on the lamp's anode. */
  function guardOf(id: string, anodeNet: Terminal, cathodeNet: Terminal, group: LampGroup): void {
    if (group.guard !== 'antiparallel') return;
    const { anode, cathode } = leadsOf(id);
    join(anode, `GD-${id}.k`, anodeNet);
    join(cathode, `GD-${id}.a`, cathodeNet);
  }

  /**
   * Lamps one behind the other from the net behind their resistor to the far net. The first is joined to `end`, the last terminal
   * of that net so far, or reached by `from`; returns the new one. Normal lamps have their anode towards the near net.
   */
  function hangString(
    ids: readonly string[],
    lie: Lie,
    group: LampGroup,
    middle: Terminal,
    end: Terminal | null,
    far: Net,
    from?: Net,
  ): Terminal {
    let at = end;
    let atNet = middle;
    let first: Terminal | null = null;
    for (const [i, id] of ids.entries()) {
      const { anode, cathode } = addLamp(id, lie, group, ids.length > 1);
      const [into, out] = lie === 'normal' ? [anode, cathode] : [cathode, anode];
      if (i === 0 && from !== undefined) from.reach(into);
      else if (at !== null) join(at, into, atNet);
      first ??= into;
      const last = i === ids.length - 1;
      if (last) far.reach(out);
      const outNet = last ? far.name : out;
      guardOf(id, lie === 'normal' ? atNet : outNet, lie === 'normal' ? outNet : atNet, group);
      at = out;
      atNet = at;
    }
    return first ?? end ?? middle;
  }
}

/** The strings of one side: all its lamps one behind the other, or each for itself. */
function stringsOf(group: LampGroup, lie: Lie): readonly (readonly string[])[] {
  const side = group[lie];
  return group.arrange === 'series' && side.length > 0 ? [side] : side.map((id) => [id]);
}
