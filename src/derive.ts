/**
 * The heart: from a panel file to everything that follows from it, in one pure pipeline.
 * Each step takes what the steps below it gave. What is costly and not always asked for is computed at its first use and kept.
 */
import { type CheckInput, CODES, type Finding, type FindingCode, findAll } from './checks/index.ts';
import type { ContactBudget } from './contacts/index.ts';
import { type DrawnPanel, drawPanel, type LeverPositions, once } from './derive-panel.ts';
import type { Lies, PanelFile } from './panel/index.ts';
import { pointsWithoutLever } from './plan/index.ts';
import { type BenchTest, writeTests } from './prove/index.ts';
import {
  findMoves,
  findStandings,
  type Grouping,
  groupLevers,
  type JoinList,
  type LegalMoves,
  legalMoves,
  type Moves,
  type ProvingRun,
  provingRun,
  type RunningSheet,
  readTrains,
  runSheet,
  type SheetMove,
  type Standing,
  type StandingsFound,
  type StandingsOptions,
  suggestJoins,
  type Thrown,
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
  type Suggestion,
  suggestCures,
} from './truth/index.ts';
import type { Position } from './wiring/index.ts';

export type { Counts, DrawnPanel, LeverPositions } from './derive-panel.ts';

const codes: Readonly<Record<string, FindingCode>> = CODES;

/** What a finding means and why it matters, by its code, in one sentence; the empty text for a code that there is not. */
export const whyOf = (code: string): string => codes[code]?.why ?? '';

/** What stands on the panel: all that the screen draws and checks. */
export interface DerivedPanel extends DrawnPanel {
  /** What was proved of circuits, for the next panel to take over of those that are as they were. */
  readonly kept: KeptTruth;
  /** Rails, frogs, gaps, droppers and the bus. */
  track(): TrackFeed;
  /** What contacts each drive has and owes: to live frogs, to lamps, to what its record says. */
  contactBudget(): readonly ContactBudget[];
  truth(): HealthyTruth;
  findings(): readonly Finding[];
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
  /** Moves of the trains of the file one after the other, with levers lying so at first: what is thrown before each, and what bars one. */
  runningSheet(moves: readonly SheetMove[], thrown?: Thrown): RunningSheet;
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

/** Derive everything from a panel. Pure: the same file gives the same answers, byte for byte. */
export function derive(panel: PanelFile): Derived {
  return rederive(null, panel);
}

/**
 * Derive everything from a panel after an edit: the answers are those of `derive`, to the byte. What was measured for the plan of an
 * earlier panel is taken over among the strips that still say the same; every later step is done anew. Null: there is no earlier one.
 */
export function rederive(before: DerivedPanel | null, panel: PanelFile): Derived {
  return deriveMore(derivePanel(before, panel));
}

/** Everything that follows from a panel, of what was drawn and judged of it already. */
export function deriveMore(base: DerivedPanel): Derived {
  const { panel, plan, switches, lamps, groups, wiring, decoders, routes, kept, operate: operateAt } = base;
  const trains = readTrains(panel, plan);
  const faultTruth = () => kept.faultTruth();
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
    runningSheet: (moves, thrown = {}) => runSheet(plan, { standing: trains, thrown }, moves),
    proving: once(() => provingRun(plan)),
    faultTruth,
    suggestions: once(() => suggestCures({ ...base, panel }, faultTruth())),
    powerUp: once(() => powerUp({ plan, switches, lamps, wiring })),
    certificate: once(() => certifyHealthy({ plan, switches, lamps, wiring })),
    tests: once(() => writeTests({ panel, plan, wiring, groups, lamps, decoders, operate: operateAt })),
  };
}

/** What is judged of a panel, after an earlier one: what was proved of circuits that are as they were is taken over. */
export function judgePanel(before: DerivedPanel | null, drawn: DrawnPanel): DerivedPanel {
  const { panel, catalogue, plan, decoders, lamps, groups, lampProblems, switches, contactProblems } = drawn;
  const { wiring, face, loom, routes, operate } = drawn;
  const track = once(() => trackFeed({ panel, catalogue, plan, wiring, routes }));
  const kept = new KeptTruth({ plan, switches, lamps, wiring }, before?.kept ?? null);
  const truth = () => kept.healthy();
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
      .map((position) => operate(everyLever(position)));
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

  return { ...drawn, kept, track, contactBudget: () => track().contacts, truth, findings };
}

/** What stands on the panel, drawn and judged, after an earlier one as `rederive` does. */
export function derivePanel(before: DerivedPanel | null, panel: PanelFile): DerivedPanel {
  return judgePanel(before, drawPanel(before, panel));
}
