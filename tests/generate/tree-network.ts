/** The real network of trees of contacts: a battery between the rails, every contact by the lie of its carrier, a lamp and its resistor. */
import { type CircuitElement, solveDc } from '../../src/circuit/index.ts';
import type { TreePlan } from '../../src/lamps/index.ts';
import type { Lie } from '../../src/panel/index.ts';
import { lawFrom } from '../../src/parts/index.ts';

type Lies = Readonly<Record<string, Lie>>;

/** Every way in which these carriers can lie. */
export function everySetting(carriers: readonly string[]): readonly Lies[] {
  return Array.from({ length: 2 ** carriers.length }, (_, bits) =>
    Object.fromEntries(carriers.map((id, k) => [id, (bits >> k) & 1 ? 'reverse' : 'normal'] as const)),
  );
}

export function holds(cube: Lies, setting: Lies): boolean {
  return Object.entries(cube).every(([id, lie]) => setting[id] === lie);
}

/** A lamp of about 2 V that passes current one way, or a resistor of 1 kohm that passes it both ways. */
export type Bulb = 'led' | 'filament';

/** Amps of every lamp at 9 V, each behind 3.3 kohm, with the carriers lying so. */
export function treeAmps(
  plan: Pick<TreePlan, 'contacts' | 'lamps'>,
  setting: Lies,
  bulb: Bulb = 'led',
): ReadonlyMap<string, number> {
  const elements: CircuitElement[] = [{ kind: 'source', id: 'S1', a: 'plus', b: 'minus', volts: 9, ohms: 0 }];
  for (const { carrier, which, from, normal, reverse } of plan.contacts) {
    for (const [lie, to] of [['normal', normal] as const, ['reverse', reverse] as const]) {
      if (to === null) continue;
      const closed = setting[carrier] === lie;
      elements.push({ kind: 'contact', id: `${carrier}.c${which}${lie}`, a: from, b: to, closed, ohms: 0 });
    }
  }
  const law = lawFrom(2, 0.002, 2, 5);
  for (const { id, plus, minus } of plan.lamps) {
    const between = `${id}.a`;
    elements.push({ kind: 'resistor', id: `R-${id}`, a: plus, b: between, ohms: 3300 });
    elements.push(
      bulb === 'led'
        ? { kind: 'diode', id, a: between, b: minus, law }
        : { kind: 'resistor', id, a: between, b: minus, ohms: 1000 },
    );
  }
  const point = solveDc({ elements, reference: 'minus' });
  if (point.problems.length > 0) throw new RangeError(JSON.stringify(point.problems));
  return new Map(plan.lamps.map(({ id }) => [id, point.amps.get(id) ?? Number.NaN]));
}

/** From this current a lamp is seen, and up to that it is dark: an efficient lamp, and a twentieth of it. */
export const [SEEN, DARK] = [0.2e-3, 0.01e-3];
