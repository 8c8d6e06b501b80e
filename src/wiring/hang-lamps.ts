/**
 * Lamps of a lever. One chain runs from tag 2 along the resistors, one from tag 5 along the far ends of the strings; behind its
 * resistor each group is a little net of its own. A lamp of the normal lie has its anode towards tag 2, one of the reverse lie its
 * cathode.
 */
import type { LampGroup, LampUse } from '../lamps/index.ts';
import type { Lie } from '../panel/index.ts';
import type { DiodePart } from '../parts/index.ts';
import { type Join, panelJoin } from './join.ts';
import type { Terminal, WiredLamp, WiredResistor } from './types.ts';

export interface HungLamps {
  readonly joins: readonly Join[];
  readonly lamps: readonly WiredLamp[];
  readonly resistors: readonly WiredResistor[];
}

const LIES: readonly Lie[] = ['normal', 'reverse'];

/** The lamps of one lever's groups: wires in the order of the groups, normal before reverse. */
export function hangLamps(
  lever: string,
  groups: readonly LampGroup[],
  uses: ReadonlyMap<string, LampUse>,
  guardPart: DiodePart,
): HungLamps {
  const nearNet: Terminal = `${lever}.t2`;
  const farNet: Terminal = `${lever}.t5`;
  /** The last terminal so far on each chain. */
  let near = nearNet;
  let far = farNet;
  const joins: Join[] = [];
  const lamps: WiredLamp[] = [];
  const resistors: WiredResistor[] = [];
  for (const group of groups) {
    if (group.arrange === 'own') {
      for (const lie of LIES) {
        for (const id of group[lie]) {
          const middle = hangResistor(`R-${id}`, group);
          hangString([id], lie, group, middle, middle);
        }
      }
      continue;
    }
    const middle = hangResistor(`R-${group.id}`, group);
    let end = middle;
    for (const lie of LIES) for (const ids of stringsOf(group, lie)) end = hangString(ids, lie, group, middle, end);
  }
  return { joins, lamps, resistors };

  function join(from: Terminal, to: Terminal, net: Terminal): void {
    joins.push(panelJoin(from, to, lever, net));
  }

  /** A resistor on the near chain; returns its other end, which names the net behind it. */
  function hangResistor(id: string, group: LampGroup): Terminal {
    const { ohms, rating, ohmsFrom } = group;
    resistors.push({ id, group: group.id, circuit: lever, a: `${id}.1`, b: `${id}.2`, ohms, rating, ohmsFrom });
    join(near, `${id}.1`, nearNet);
    near = `${id}.1`;
    return `${id}.2`;
  }

  /**
   * Lamps one behind the other from the net behind their resistor to the far chain. The first is joined to `end`, the last terminal
   * of that net so far; returns the new one.
   */
  function hangString(ids: readonly string[], lie: Lie, group: LampGroup, middle: Terminal, end: Terminal): Terminal {
    const [into, outOf] = lie === 'normal' ? ['a', 'k'] : ['k', 'a'];
    const guarded = group.guard === 'antiparallel';
    let at = end;
    let atNet = middle;
    for (const [i, id] of ids.entries()) {
      const use = uses.get(id);
      if (use === undefined) throw new RangeError(`lamp ${id} is in group ${group.id} and not among the lamps`);
      lamps.push({
        id,
        part: use.part,
        circuit: lever,
        group: group.id,
        lie,
        series: ids.length > 1 ? `${group.id}=${lie}` : null,
        anode: `${id}.a`,
        cathode: `${id}.k`,
        guard: guarded ? { id: `GD-${id}`, part: guardPart } : null,
      });
      join(at, `${id}.${into}`, atNet);
      const last = i === ids.length - 1;
      if (last) {
        join(far, `${id}.${outOf}`, farNet);
        far = `${id}.${outOf}`;
      }
      const outNet = last ? farNet : `${id}.${outOf}`;
      if (guarded) {
        // The guard lies across the lamp, its cathode on the lamp's anode.
        join(`${id}.a`, `GD-${id}.k`, lie === 'normal' ? atNet : outNet);
        join(`${id}.k`, `GD-${id}.a`, lie === 'normal' ? outNet : atNet);
      }
      at = `${id}.${outOf}`;
      atNet = at;
    }
    const first = ids[0];
    return first === undefined ? end : `${first}.${into}`;
  }
}

/** The strings of one side: all its lamps one behind the other, or each for itself. */
function stringsOf(group: LampGroup, lie: Lie): readonly (readonly string[])[] {
  const side = group[lie];
  return group.arrange === 'series' && side.length > 0 ? [side] : side.map((id) => [id]);
}
