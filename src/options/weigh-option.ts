/** What an option comes to, and what stands in its way. */
import type { Finding } from '../checks/index.ts';
import type { Derived } from '../derive.ts';
import { listParts } from './list-parts.ts';
import { MOST_BY_CONTACTS, MOST_FREE, MOST_SHARED } from './tolerances.ts';
import type { Figures, LampsKnow, Obstacle, PanelOption, WeighedOption } from './types.ts';

/** How far the weighing goes. */
export interface Weighing {
  /** Every single fault is tried however long that takes; else only where it takes seconds. */
  readonly allFaults?: boolean;
}

/** Weigh an option against the panel as it is. Costly: every finding, and every single fault in every setting. */
export function weighOption(option: PanelOption, present: Derived, weighing: Weighing = {}): WeighedOption {
  return { ...option, figures: figuresOf(option.derived, weighing), obstacles: obstaclesOf(option.derived, present) };
}

/** The figures of any panel. */
export function figuresOf(derived: Derived, { allFaults = false }: Weighing = {}): Figures {
  const { wiring, loom, decoders } = derived;
  const lines = listParts(derived);
  const priced = lines.flatMap(({ price, count }) => (price === null ? [] : [price * count]));
  const pins = new Map(
    wiring.connectors.flatMap(({ part, pins: ways }) => ways.map(({ id }) => [id, part.family] as const)),
  );
  const ends = loom.wires.flatMap(({ from, to }) => [from, to]);
  const supplied = wiring.supplies.reduce((sum, { kind, worstAmps }) => sum + (kind === 'cdu' ? 0 : worstAmps), 0);
  const truth = allFaults || takesSeconds(derived) ? derived.faultTruth() : null;
  return {
    parts: lines.reduce((sum, { count, unit }) => sum + (unit === 'piece' ? count : 0), 0),
    wires: loom.wires.length,
    through: loom.wires.filter(({ side, from, to }) => side === 'layout' && (pins.has(from) || pins.has(to))).length,
    pins: pins.size,
    joints: ends.filter((end) => pins.get(end) !== 'screw').length,
    amps: supplied + decoders.draw.all,
    cost: priced.length === 0 ? null : Math.round(priced.reduce((sum, each) => sum + each, 0) * 100) / 100,
    unpriced: lines.length - priced.length,
    faults: truth === null ? null : { tried: truth.faults.tried, wrongSide: truth.faults.wrongSide },
    wrongSideShare: truth === null ? null : truth.share,
    lampsKnow: lampsKnow(derived),
  };
}

/** Few lamps lit by contacts, few drives and relays that lamps follow and nothing holds, few levers that share a rail back: then trying every fault takes seconds. */
function takesSeconds({ wiring }: Derived): boolean {
  const held = new Set<string>();
  const thrown = new Set<string>();
  for (const { points, circuit, feed } of wiring.drives)
    for (const point of circuit === null || feed === null ? [] : points)
      (feed === 'pulse' || feed === 'charge' ? thrown : held).add(point);
  const free = new Map<string, number>();
  for (const { carrier } of wiring.contacts) {
    if (carrier.kind === 'lever') continue;
    const points = carrier.points.map(({ point }) => point);
    // Of a pulse every lie is tried with the lever in every position too.
    if (points.some((point) => thrown.has(point))) free.set(carrier.id, 2);
    else if (carrier.kind === 'relay' || points.some((point) => !held.has(point))) free.set(carrier.id, 1);
  }
  const follows = [...free.values()].reduce((sum, each) => sum + each, 0);
  const shared = wiring.circuits.filter(({ feed }) => feed !== null && feed !== 'reversing' && feed !== 'pulse');
  const lit = wiring.lamps.filter(({ by }) => by === 'contacts');
  return follows <= MOST_FREE && shared.length <= MOST_SHARED && lit.length <= MOST_BY_CONTACTS;
}

/** What the lamps know that are lit by something. */
function lampsKnow({ lamps, wiring }: Derived): LampsKnow {
  const wired = new Set(wiring.lamps.map(({ id }) => id));
  const lit = lamps.filter(({ id, kind }) => wired.has(id) && kind !== 'supply');
  const count = (basis: string) => lit.filter((lamp) => lamp.basis === basis).length;
  return { lever: count('asked'), drive: count('drive'), blades: count('blades') };
}

/** Dangers and wrongs of an option that the present panel has not, one for each code. */
function obstaclesOf(derived: Derived, present: Derived): readonly Obstacle[] {
  if (derived === present) return [];
  const key = ({ code, where }: Finding) => [code, ...where.ids].join(' ');
  const known = new Set(present.findings().map(key));
  const found = new Map<string, Obstacle>();
  for (const finding of derived.findings()) {
    const { code, severity, where, message } = finding;
    if ((severity !== 'danger' && severity !== 'wrong') || known.has(key(finding))) continue;
    const before = found.get(code);
    found.set(code, {
      code,
      severity,
      ids: [...new Set([...(before?.ids ?? []), ...where.ids])],
      message: before?.message ?? message,
      count: (before?.count ?? 0) + 1,
    });
  }
  return [...found.values()];
}
