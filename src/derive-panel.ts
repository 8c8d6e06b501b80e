/**
 * From a panel file to what is to be seen of it: plan, lamps, circuits, face, and what stands everywhere with the levers so. The screen's
 * worker draws from this alone; what is judged of it, in derive.ts, it fetches after the first drawing.
 */
import type { Netlist } from './circuit/index.ts';
import { type ContactProblem, chooseSwitches, type LeverSwitch } from './contacts/index.ts';
import { type DecoderList, listDecoders } from './decoders/index.ts';
import { type Face, layFace } from './face/index.ts';
import {
  groupLamps,
  type LampGroup,
  type LampProblem,
  type LampUse,
  type LightTree,
  polesOf,
  readLamps,
} from './lamps/index.ts';
import { cutWires, type Loom } from './loom/index.ts';
import { type Lies, type PanelFile, sharing } from './panel/index.ts';
import { type Catalogue, resolveCatalogue } from './parts/index.ts';
import { type Plan, type PlanReading, rereadPlan } from './plan/index.ts';
import { type Conflict, findConflicts, listRoutes, type RouteList } from './routes/index.ts';
import {
  type Fault,
  heldVolts,
  liesNow,
  NOMINAL,
  netlistOf,
  operate,
  type Position,
  positionIn,
  type Reading,
  takeOver,
  type Wiring,
  wirePanel,
} from './wiring/index.ts';

/** How many of each lie on the sheet. */
export interface LaidCounts {
  readonly strips: number;
  readonly points: number;
  readonly crossings: number;
  readonly places: number;
  readonly levers: number;
  readonly lamps: number;
}

/** How many of each there are, as `check` answers. */
export interface Counts extends LaidCounts {
  readonly drives: number;
  readonly circuits: number;
  readonly connectors: number;
  readonly wires: number;
}

/** Positions of levers by id; a lever that is not named lies normal. */
export type LeverPositions = Readonly<Record<string, Position>>;

/** What there is to see of a panel, before anything is judged. */
export interface DrawnPanel extends Omit<SketchedPanel, 'readProblems' | 'counts'> {
  /** Drives that are told by an address. */
  readonly decoders: DecoderList;
  readonly groups: readonly LampGroup[];
  readonly lampProblems: readonly LampProblem[];
  readonly wiring: Wiring;
  readonly loom: Loom;
  readonly counts: Counts;
  routes(): RouteList;
  conflicts(): readonly Conflict[];
  /** What stands everywhere with the levers so, and with what is broken. */
  operate(levers: LeverPositions, faults?: readonly Fault[], history?: Lies): Reading;
  /** The network with the levers so; all circuits, or those named. */
  netlist(levers: LeverPositions, options?: NetlistAsked): Netlist;
}

/** What a network is asked for with. */
export interface NetlistAsked {
  /** Some circuits; absent: all. */
  readonly circuits?: ReadonlySet<string> | null;
  readonly faults?: readonly Fault[];
  /** Lies of points of which nothing is asked. */
  readonly history?: Lies;
  /** Alternating supplies and capacitors as they are, for a run through time. */
  readonly time?: boolean;
}

/** A function that works at its first call and answers the same ever after. */
export function once<T>(work: () => T): () => T {
  let kept: { readonly value: T } | null = null;
  return () => {
    kept ??= { value: work() };
    return kept.value;
  };
}

/** What of a panel lies on the sheet: all that must follow the hand that lays it, before anything is wired. */
export interface SketchedPanel {
  readonly panel: PanelFile;
  readonly catalogue: Catalogue;
  readonly plan: Plan;
  /** What the plan was read from, for the next reading to take over. */
  readonly reading: PlanReading;
  readonly switches: readonly LeverSwitch[];
  readonly contactProblems: readonly ContactProblem[];
  readonly lamps: readonly LampUse[];
  /** Contacts that light lamps. */
  readonly trees: readonly LightTree[];
  /** Lamps that cannot be lit as the file asks. */
  readonly readProblems: readonly LampProblem[];
  readonly face: Face;
  readonly counts: LaidCounts;
}

/** What lies on the sheet, after an earlier one: only its plan is taken over. */
export function sketchPanel(before: Pick<SketchedPanel, 'reading'> | null, panel: PanelFile): SketchedPanel {
  const reading = rereadPlan(before?.reading ?? null, panel);
  const catalogue = resolveCatalogue(panel.parts);
  const { plan } = reading;
  const { lamps, trees, problems: readProblems } = readLamps(panel, catalogue, plan);
  const { switches, problems: contactProblems } = chooseSwitches(panel, catalogue, plan, polesOf(trees));
  const face = layFace(panel, catalogue, plan, switches, lamps);
  const counts: LaidCounts = {
    strips: panel.strips.length,
    points: plan.points.length,
    crossings: plan.crossings.length,
    places: plan.places.length,
    levers: plan.levers.length,
    lamps: panel.lamps?.length ?? 0,
  };
  return { panel, catalogue, plan, reading, switches, contactProblems, lamps, trees, readProblems, face, counts };
}

/** What a panel is to look at, after an earlier one: its plan is taken over, and its circuits where it was wired. */
export function drawPanel(
  before: (Pick<SketchedPanel, 'reading'> & Partial<Pick<DrawnPanel, 'wiring'>>) | null,
  panel: PanelFile,
): DrawnPanel {
  return drawSketch(before, sketchPanel(before, panel));
}

/** What lies on a sheet already, wired; after an earlier panel: what was worked out of circuits that are as they were in it serves again. */
export function drawSketch(before: Partial<Pick<DrawnPanel, 'wiring'>> | null, sketch: SketchedPanel): DrawnPanel {
  const { panel, catalogue, plan, switches, lamps, trees, readProblems, face } = sketch;
  const decoders = listDecoders(panel, catalogue, plan);
  const { groups, problems: groupProblems } = groupLamps(panel, catalogue, plan, lamps);
  const lampProblems = [...readProblems, ...groupProblems];
  const wired = before?.wiring;
  const wiring = sharing(wired, wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups }));
  if (wired !== undefined && wired !== wiring) takeOver(wired, wiring);
  const loom = cutWires(wiring, face);

  const operateOnce = READINGS.get(wiring) ?? new Map<string, Reading>();
  READINGS.set(wiring, operateOnce);
  const operateAt = (levers: LeverPositions, faults: readonly Fault[] = [], history: Lies = {}): Reading => {
    const lies = plan.levers.map((lever) => `${lever.id}=${positionIn(levers, lever.id)}`);
    // A twin that springs back is not the same unnamed as named.
    const twins = wiring.switches.flatMap(({ id, twinOf }) =>
      twinOf === undefined ? [] : [`${id}=${levers[id] ?? ''}`],
    );
    const before = Object.entries(history).map(([point, lie]) => `${point}:${lie}`);
    const key = [...lies, ...twins, ...faults.map(({ code }) => code), ...before].join(' ');
    const known = operateOnce.get(key);
    if (known !== undefined) return known;
    const reading = operate(wiring, levers, faults, history);
    if (operateOnce.size >= READINGS_KEPT) operateOnce.clear();
    operateOnce.set(key, reading);
    return reading;
  };

  const routes = once(() => listRoutes(plan));
  const conflicts = once(() => findConflicts(routes().routes));
  const counts: Counts = {
    ...sketch.counts,
    drives: wiring.drives.length,
    circuits: wiring.circuits.length,
    connectors: wiring.connectors.length,
    wires: loom.wires.length,
  };

  return {
    panel,
    catalogue,
    plan,
    reading: sketch.reading,
    decoders,
    switches,
    contactProblems: sketch.contactProblems,
    lamps,
    trees,
    groups,
    lampProblems,
    wiring,
    face,
    loom,
    counts,
    routes,
    conflicts,
    operate: operateAt,
    netlist: (levers, { circuits = null, faults = [], history = {}, time = false }: NetlistAsked = {}) =>
      netlistOf(wiring, levers, {
        circuits,
        held: heldVolts(wiring, levers, NOMINAL, faults),
        lies: liesNow(wiring, levers, faults, history),
        faults,
        time,
      }),
  };
}

/** What stands in the settings that were asked for, by wiring: an edit that leaves it as it was leaves them. */
const READINGS = new WeakMap<Wiring, Map<string, Reading>>();

/** Readings kept for settings already asked for: enough for an evening's play, small beside the panel itself. */
const READINGS_KEPT = 512;
