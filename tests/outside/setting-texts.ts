/** The settings and histories of a panel, the texts of the `spice` command in them, and what ngspice reads beside the product. */
import { spiceText } from '../../src/circuit/index.ts';
import type { Derived, LeverPositions } from '../../src/index.ts';
import type { Lies } from '../../src/panel/index.ts';
import { type Fault, timeFor } from '../../src/wiring/index.ts';
import { lastOf, meanOfLast, runSpiceMany, type SpiceRows } from './ngspice-many.ts';

/** One state of a panel to be compared, and what is broken in it. */
export interface Asked {
  readonly name: string;
  readonly derived: Derived;
  readonly levers: LeverPositions;
  readonly history: Lies;
  readonly faults: readonly Fault[];
}

const LIES = ['normal', 'reverse'] as const;

/** Every setting of its levers with every history of the points that no lever asks. */
export function settingsOf(name: string, derived: Derived): readonly Asked[] {
  const { plan, wiring } = derived;
  let made: Asked[] = [{ name, derived, levers: {}, history: {}, faults: [] }];
  for (const { id } of plan.levers) {
    const part = wiring.switches.find((each) => each.id === id)?.part;
    const positions =
      part?.centreOff === true && !part.sprung
        ? (['normal', 'reverse', 'centre'] as const)
        : (['normal', 'reverse'] as const);
    const twin = wiring.switches.find(({ twinOf }) => twinOf === id);
    const chosen: readonly LeverPositions[] =
      twin === undefined
        ? positions.map((position) => ({ [id]: position }))
        : twin.part.sprung
          ? LIES.flatMap((lie) => [
              { [id]: lie, [twin.id]: 'centre' },
              { [id]: 'centre', [twin.id]: lie },
            ])
          : positions.flatMap((position) => LIES.map((lie) => ({ [id]: position, [twin.id]: lie })));
    made = made.flatMap((one) => chosen.map((each) => ({ ...one, levers: { ...one.levers, ...each } })));
  }
  const worked = new Map(plan.levers.flatMap((lever) => lever.works.map(({ point }) => [point, lever.id] as const)));
  for (const { id } of plan.points)
    made = made.flatMap((one) => {
      const lever = worked.get(id);
      // What is asked of a point that has a lever is no history, but for a lever in its middle.
      const thrown = lever === undefined ? undefined : one.levers[`${lever}.twin`];
      const isHeld = wiring.switches.some(({ twinOf, part }) => twinOf === lever && !part.sprung);
      const isAsked = lever !== undefined && (one.levers[lever] !== 'centre' || (!isHeld && thrown !== undefined));
      if (isAsked) return [one];
      return (['normal', 'reverse'] as const).map((lie) => ({ ...one, history: { ...one.history, [id]: lie } }));
    });
  return made;
}

/** The text that the `spice` command prints, less its comments on top. */
export function textOf({ derived, levers, history, faults, name }: Asked): string {
  const time = timeFor(derived.wiring, null);
  const netlist = derived.netlist(levers, { faults, history, time: time !== null });
  return spiceText(netlist, { title: name, ...(time === null ? {} : { time }) });
}

/** The length of a cycle of its slowest alternating supply; null where it has none. */
export function cycleOf({ wiring }: Derived): number | null {
  const swings = wiring.supplies.filter(({ kind }) => kind === 'ac').map(({ frequency }) => frequency);
  return swings.length === 0 ? null : 1 / Math.min(...swings);
}

/** One reading of the product beside ngspice's. */
export interface Pair {
  readonly what: string;
  readonly said: number;
  readonly read: number;
}

/** Every lamp, element and drive: `V_H1`, `V_P4`, coil N less coil R. Two points on one drive share the source of the first in the file. */
export function pairsOf(asked: Asked, got: SpiceRows): readonly Pair[] {
  const { derived, levers, faults, history, name } = asked;
  const cycle = cycleOf(derived);
  const at = (probe: string) => (cycle === null ? lastOf(got, `i(${probe})`) : meanOfLast(got, `i(${probe})`, cycle));
  const said = derived.operate(levers, faults, history);
  const where = `${name} ${JSON.stringify(levers)} ${JSON.stringify(history)}${faults.map(({ code }) => ` ${code}`).join('')}`;
  return [
    ...said.lamps.map((lamp) => ({ what: `${where}: ${lamp.id}`, said: lamp.amps, read: at(`v_${lamp.id}`) })),
    ...said.drives.map((drive) => {
      const wired = derived.wiring.drives.find(({ id }) => id === drive.drive);
      const first = wired?.asks[0];
      const own = wired?.asks.find(({ point }) => point === drive.point);
      const turned = (first?.whenNormal ?? first?.goes) !== (own?.whenNormal ?? own?.goes);
      const point = wired?.points[0] ?? drive.point;
      const read = at(`v_${point}`) + at(`v_${point}n`) - at(`v_${point}r`);
      return { what: `${where}: ${drive.point}`, said: drive.amps, read: turned ? -read : read };
    }),
  ];
}

/** All of them through ngspice. */
export function compareAll(asked: readonly Asked[]): readonly Pair[] {
  const got = runSpiceMany(asked.map(textOf));
  return asked.flatMap((each, k) => {
    const rows = got[k];
    if (rows === undefined) throw new RangeError(`nothing for ${each.name}`);
    return pairsOf(each, rows);
  });
}

/** Pairs that differ by more than the share and the amps, in words. */
export function disagreements(pairs: readonly Pair[], share: number, leastAmps: number): readonly string[] {
  return pairs
    .filter(({ said, read }) => !(Math.abs(said - read) <= Math.max(leastAmps, share * Math.abs(read))))
    .map(({ what, said, read }) => `${what}: ${said} A said, ${read} A read`);
}

/** A line that can be quoted: the greatest difference, and as a share of readings of 0.1 mA and more. */
export function worstOf(pairs: readonly Pair[]): string {
  let [amps, share] = [0, 0];
  for (const { said, read } of pairs) {
    amps = Math.max(amps, Math.abs(said - read));
    if (Math.abs(read) >= 1e-4) share = Math.max(share, Math.abs(said - read) / Math.abs(read));
  }
  return `${pairs.length} readings, worst ${amps.toExponential(2)} A, ${share.toExponential(2)} of the reading`;
}
