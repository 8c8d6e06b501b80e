/**
 * The heart: from a panel file to everything that follows from it, in one pure pipeline.
 * Each step takes what the steps below it gave. What is costly and not always asked for is computed at its first use and kept.
 */
import { type CheckInput, type Finding, findAll } from './checks/index.ts';
import type { Netlist } from './circuit/index.ts';
import { type ContactBudget, type ContactProblem, chooseSwitches, type LeverSwitch } from './contacts/index.ts';
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
import type { Lies, PanelFile } from './panel/index.ts';
import { type Catalogue, resolveCatalogue } from './parts/index.ts';
import { type Plan, type PlanReading, pointsWithoutLever, rereadPlan } from './plan/index.ts';
import { type BenchTest, writeTests } from './prove/index.ts';
import {
  type Conflict,
  findConflicts,
  findMoves,
  findStandings,
  type Grouping,
  groupLevers,
  type JoinList,
  type LegalMoves,
  legalMoves,
  listRoutes,
  type Moves,
  type ProvingRun,
  provingRun,
  type RouteList,
  readTrains,
  type Standing,
  type StandingsFound,
  type StandingsOptions,
  suggestJoins,
  type WantedTrain,
} from './routes/index.ts';
import { type TrackFeed, trackFeed } from './track/index.ts';
import {
  type Certificate,
  certifyHealthy,
  type FaultTruth,
  type HealthyTruth,
  KeptTruth,
  type PowerUp,
  powerUp,
  proveFaults,
  proveHealthy,
  type Suggestion,
  suggestCures,
} from './truth/index.ts';
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
  type Wiring,
  wirePanel,
} from './wiring/index.ts';

/** How many of each there are, as `check` answers. */
export interface Counts {
  readonly strips: number;
  readonly points: number;
  readonly crossings: number;
  readonly places: number;
  readonly levers: number;
  readonly lamps: number;
  readonly drives: number;
  readonly circuits: number;
  readonly connectors: number;
  readonly wires: number;
}

/** Positions of levers by id; a lever that is not named lies normal. */
export type LeverPositions = Readonly<Record<string, Position>>;

/** What stands on the panel: all that the screen draws and checks. */
export interface DerivedPanel {
  readonly panel: PanelFile;
  readonly catalogue: Catalogue;
  readonly plan: Plan;
  /** What the plan was read from, for the next reading to take over. */
  readonly reading: PlanReading;
  /** What was proved of circuits, for the next panel to take over of those that are as they were. */
  readonly kept: KeptTruth;
  /** Drives that are told by an address. */
  readonly decoders: DecoderList;
  readonly switches: readonly LeverSwitch[];
  readonly contactProblems: readonly ContactProblem[];
  readonly lamps: readonly LampUse[];
  /** Contacts that light lamps. */
  readonly trees: readonly LightTree[];
  readonly groups: readonly LampGroup[];
  readonly lampProblems: readonly LampProblem[];
  readonly wiring: Wiring;
  readonly face: Face;
  readonly loom: Loom;
  readonly counts: Counts;
  routes(): RouteList;
  conflicts(): readonly Conflict[];
  /** Rails, frogs, gaps, droppers and the bus. */
  track(): TrackFeed;
  /** What contacts each drive has and owes: to live frogs, to lamps, to what its record says. */
  contactBudget(): readonly ContactBudget[];
  truth(): HealthyTruth;
  findings(): readonly Finding[];
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

/** Everything that follows from a panel. */
export interface Derived extends DerivedPanel {
  /** What the present levers lose, and the fewest that lose nothing. */
  grouping(): Grouping;
  /** Every two levers as one: what that would lose, and the price of the switch that it saves. */
  joins(): JoinList;
  /** The best move between two places by id, for a train of this length (mm on the layout; null: one that may stand anywhere). */
  moves(from: string, to: string, length: number | null): Moves;
  /** The trains of the file that stand on the plan. */
  readonly trains: Standing;
  /** What they can do where they stand, with points lying so; points that are not named lie as with every lever normal. */
  legalMoves(lies?: Lies): LegalMoves;
  /** The fewest moves, then throws, to where trains are wanted. */
  standings(wanted: readonly WantedTrain[], options?: StandingsOptions): StandingsFound;
  proving(): ProvingRun;
  /** What every single fault does to what the lamps say. */
  faultTruth(): FaultTruth;
  /** Who moves when the supply comes on, what that draws, and what the lamps show before the first throw. */
  powerUp(): PowerUp;
  /** What another program needs to work the proof of the healthy panel out again. */
  certificate(): Certificate;
  /** What would turn faults that make a lamp lie, with its price. */
  suggestions(): readonly Suggestion[];
  tests(): readonly BenchTest[];
}

/** A function that works at its first call and answers the same ever after. */
function once<T>(work: () => T): () => T {
  let kept: { readonly value: T } | null = null;
  return () => {
    kept ??= { value: work() };
    return kept.value;
  };
}

/** Derive everything from a panel. Pure: the same file gives the same answers, byte for byte. */
export function derive(panel: PanelFile): Derived {
  return rederive(null, panel);
}

/**
 * Derive everything from a panel after an edit: the answers are those of `derive`, to the byte. What was measured for the plan of an
 * earlier panel is taken over among the strips that still say the same; every later step is done anew. Null: there is no earlier one.
 */
export function rederive(before: DerivedPanel | null, panel: PanelFile): Derived {
  const base = derivePanel(before, panel);
  const { plan, switches, lamps, groups, wiring, decoders, routes, kept, operate: operateAt } = base;
  const trains = readTrains(panel, plan);
  const faultTruth = once(() => proveFaults(kept.input, kept.take().faults));
  return {
    ...base,
    grouping: once(() => groupLevers(plan, routes(), pointsWithoutLever(panel, plan.points))),
    joins: once(() => {
      const prices = new Map(switches.map(({ lever, part }) => [lever, part.price]));
      // A lever that works more than points cannot take another's: what it does besides would go with them.
      const more = (panel.levers ?? []).filter(({ works }) => works?.some(({ point }) => point === undefined) === true);
      return suggestJoins(plan, routes().routes, {
        priceOf: (lever) => prices.get(lever) ?? null,
        without: new Set(more.map(({ id }) => id)),
      });
    }),
    moves: (from, to, length) => findMoves(plan, { from, to, length }),
    trains,
    legalMoves: (lies) => legalMoves(plan, trains, lies),
    standings: (wanted, options) => findStandings(plan, trains, wanted, options),
    proving: once(() => provingRun(plan)),
    faultTruth,
    suggestions: once(() => suggestCures({ ...base, panel }, faultTruth())),
    powerUp: once(() => powerUp({ plan, switches, lamps, wiring })),
    certificate: once(() => certifyHealthy({ plan, switches, lamps, wiring })),
    tests: once(() => writeTests({ panel, plan, wiring, groups, lamps, decoders, operate: operateAt })),
  };
}

/** What stands on the panel, after an earlier one as `rederive` does. The screen's worker takes this alone and stays light. */
export function derivePanel(before: DerivedPanel | null, panel: PanelFile): DerivedPanel {
  const reading = rereadPlan(before?.reading ?? null, panel);
  const catalogue = resolveCatalogue(panel.parts);
  const { plan } = reading;
  const decoders = listDecoders(panel, catalogue, plan);
  const { lamps, trees, problems: readProblems } = readLamps(panel, catalogue, plan);
  const { switches, problems: contactProblems } = chooseSwitches(panel, catalogue, plan, polesOf(trees));
  const { groups, problems: groupProblems } = groupLamps(panel, catalogue, plan, lamps);
  const lampProblems = [...readProblems, ...groupProblems];
  const wiring = wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups });
  const face = layFace(panel, catalogue, plan, switches, lamps);
  const loom = cutWires(wiring, face);

  const operateOnce = new Map<string, Reading>();
  const operateAt = (levers: LeverPositions, faults: readonly Fault[] = [], history: Lies = {}): Reading => {
    const lies = plan.levers.map((lever) => `${lever.id}=${positionIn(levers, lever.id)}`);
    const before = Object.entries(history).map(([point, lie]) => `${point}:${lie}`);
    const key = [...lies, ...faults.map(({ code }) => code), ...before].join(' ');
    const known = operateOnce.get(key);
    if (known !== undefined) return known;
    const reading = operate(wiring, levers, faults, history);
    if (operateOnce.size >= READINGS_KEPT) operateOnce.clear();
    operateOnce.set(key, reading);
    return reading;
  };

  const routes = once(() => listRoutes(plan));
  const conflicts = once(() => findConflicts(routes().routes));
  const track = once(() => trackFeed({ panel, catalogue, plan, wiring, routes }));
  const kept = new KeptTruth({ plan, switches, lamps, wiring }, before?.kept ?? null);
  const truth = once(() => proveHealthy(kept.input, kept.take()));
  const findings = once((): readonly Finding[] => {
    const everyLever = (position: Position): LeverPositions => {
      const answer: Record<string, Position> = {};
      for (const circuit of wiring.circuits)
        answer[circuit.id] = circuit.positions.includes(position) ? position : 'normal';
      return answer;
    };
    const readings = (['normal', 'reverse', 'centre'] as const)
      .filter(
        (position) => position === 'normal' || wiring.circuits.some((circuit) => circuit.positions.includes(position)),
      )
      .map((position) => operateAt(everyLever(position)));
    const input: CheckInput = {
      panel,
      catalogue,
      plan,
      decoders,
      routes: routes(),
      switches,
      contactProblems,
      lamps,
      groups,
      lampProblems,
      wiring,
      loom,
      face,
      track: track(),
      truth: truth(),
      readings,
      circuitProblems: readings.flatMap((reading) => reading.problems),
    };
    return findAll(input);
  });

  const counts: Counts = {
    strips: panel.strips.length,
    points: plan.points.length,
    crossings: plan.crossings.length,
    places: plan.places.length,
    levers: plan.levers.length,
    lamps: panel.lamps?.length ?? 0,
    drives: wiring.drives.length,
    circuits: wiring.circuits.length,
    connectors: wiring.connectors.length,
    wires: loom.wires.length,
  };

  return {
    panel,
    catalogue,
    plan,
    reading,
    kept,
    decoders,
    switches,
    contactProblems,
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
    track,
    contactBudget: () => track().contacts,
    truth,
    findings,
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

/** Readings kept for settings already asked for: enough for an evening's play, small beside the panel itself. */
const READINGS_KEPT = 512;
