/** Each answer as plain data from the derived panel. Pure: the same panel gives the same bytes. */
import type { BuiltFile } from '../book/index.ts';
import type { Derived, LeverPositions } from '../derive.ts';
import type { Lie, Lies } from '../panel/index.ts';
import {
  countConflicts,
  countRoutes,
  findConflicts,
  findLosses,
  type Leg,
  type Losses,
  listRoutes,
  MOST_CONFLICTS,
  type ProvedLeg,
} from '../routes/index.ts';
import type { Fault, LampReading } from '../wiring/index.ts';
import type { BuildAnswer, CheckAnswer, RoutesAnswer, SolveAnswer, TruthAnswer } from './answer-schemas.ts';
import { certificateAnswer } from './certificate-answer.ts';
import { standingsAnswer, type TrainsAsked, trainsAnswer } from './train-answers.ts';

const panelName = (derived: Derived): string => derived.panel.name ?? '';

/** Counts, and every finding in the order of the checks; edits that would mend one stay inside. */
export function checkAnswer(derived: Derived): CheckAnswer {
  return {
    format: 'mimic-check',
    version: 1,
    panel: panelName(derived),
    counts: { ...derived.counts },
    findings: derived.findings().map(({ code, severity, where, message, values, mends }) => ({
      code,
      severity,
      where: { ids: [...where.ids], at: where.at === null ? null : [where.at[0], where.at[1]] },
      message,
      values: { ...values },
      mends: mends.map(({ id, text, price }) => ({ id, text, price })),
    })),
  };
}

/**
 * Every route, or those between two places, either of which may be left open (null). Routes are listed one way only, so that
 * asking from east to west gives what is listed from west to east. Conflicts and what is lost count in the list as it is given; the
 * fewest levers and the proving run are those of the whole panel. With both places and the length of a train, mm on the layout, the
 * move between them too, in the direction that is asked. Where trains of the file stand on the plan, what they can do and who fouls
 * whom; and where they are wanted elsewhere, the moves there.
 */
export function routesAnswer(
  derived: Derived,
  from: string | null = null,
  to: string | null = null,
  length: number | null = null,
  trains: TrainsAsked = { wanted: null, options: {}, lies: {} },
): RoutesAnswer {
  const { routes, cut, limit } = derived.routes();
  // A list that is cut may lack some of those asked for: they are listed anew, by themselves.
  const asked = { ...(from === null ? {} : { from }), ...(to === null ? {} : { to }) };
  const isPart = from !== null || to !== null;
  const own = cut && isPart ? listRoutes(derived.plan, asked) : null;
  const touches = (
    route: { readonly from: string; readonly to: string },
    a: string | null,
    b: string | null,
  ): boolean => (a === null || route.from === a) && (b === null || route.to === b);
  const { lost, least, proved, atLeast, groups } = derived.grouping();
  const shown = own?.routes ?? routes.filter((route) => touches(route, from, to) || touches(route, to, from));
  const conflicts = isPart ? findConflicts(shown) : derived.conflicts();
  const lostHere = shown.length === routes.length ? lost : findLosses(derived.plan, shown);
  const isCut = own === null ? cut : own.cut;
  const { count, counted } = isCut
    ? countRoutes(derived.plan, asked)
    : ({ count: BigInt(shown.length), counted: 'exact' } as const);
  return {
    format: 'mimic-routes',
    version: 1,
    panel: panelName(derived),
    places: derived.plan.places.map(({ id, name }) => ({ id, name })),
    routes: shown.map((route) => ({
      from: route.from,
      to: route.to,
      points: { ...route.points },
      levers: route.levers === null ? null : { ...route.levers },
      ...(route.why === null ? {} : { why: route.why }),
      through: [...route.through],
      faceLength: route.faceLength,
      layoutLength: route.layoutLength,
    })),
    conflicts: conflicts.map(([i, j, reason]) => [i, j, reason]),
    conflictCount: conflicts.length < MOST_CONFLICTS ? conflicts.length : countConflicts(shown),
    grouping: {
      lost: plainLosses(lostHere),
      least,
      proved,
      atLeast,
      groups: groups.map((group) => ({ ...group })),
    },
    proving: provingAnswer(derived),
    ...(from === null || to === null || length === null ? {} : { moves: movesAnswer(derived, from, to, length) }),
    ...(derived.trains.length === 0 ? {} : { trains: trainsAnswer(derived, trains.lies) }),
    ...(trains.wanted === null ? {} : { standings: standingsAnswer(derived, trains.wanted, trains.options) }),
    cut: isCut,
    limit,
    count: String(count),
    counted,
  };
}

function plainLeg({ from, to, turns, points, levers, why, through, faceLength, layoutLength }: Leg) {
  return {
    from,
    to,
    turns,
    points: { ...points },
    levers: levers === null ? null : { ...levers },
    ...(why === null ? {} : { why }),
    through: [...through],
    faceLength,
    layoutLength,
  };
}

function provingAnswer(derived: Derived): RoutesAnswer['proving'] {
  const { moves, legs, missed, reversals, throws, bound, proved } = derived.proving();
  const plain = ({ points, way, from, to }: ProvedLeg) => ({ points: { ...points }, way, from, to });
  return {
    moves: moves.map((move) => ({
      ...plainLeg(move),
      carried: move.carried,
      throws: { ...move.throws },
      takes: move.takes.map(plain),
    })),
    legs: { ...legs },
    missed: missed.map((leg) => ({ ...plain(leg), why: leg.why })),
    reversals,
    throws,
    bound: { ...bound },
    proved,
  };
}

function movesAnswer(derived: Derived, from: string, to: string, length: number): NonNullable<RoutesAnswer['moves']> {
  const { outcome, reversals, legs, asks, why, complete } = derived.moves(from, to, length);
  return {
    from,
    to,
    length,
    outcome,
    reversals,
    legs: legs.map(plainLeg),
    asks: asks.map((each) => ({ ...each })),
    why: [...why],
    complete,
  };
}

function plainLosses({ routes, pairs, meets, counts, cut }: Losses): RoutesAnswer['grouping']['lost'] {
  return {
    routes: [...routes],
    pairs: pairs.map(([i, j]) => [i, j]),
    meets: meets.map(([i, j]) => [i, j]),
    counts: { ...counts },
    cut,
  };
}

/** Volts, amps and looks in one setting of the levers. */
export function solveAnswer(
  derived: Derived,
  levers: LeverPositions,
  history: Lies = {},
  faults: readonly Fault[] = [],
): SolveAnswer {
  const reading = derived.operate(levers, faults, history);
  return {
    format: 'mimic-solve',
    version: 1,
    panel: panelName(derived),
    levers: { ...levers },
    history: { ...history },
    faults: faults.map(({ code }) => code),
    supplies: reading.supplies.map(({ id, volts, amps }) => ({ id, volts, amps })),
    drives: reading.drives.map(({ point, drive, volts, amps, moves, pulse }) => ({
      point,
      drive,
      volts,
      amps,
      moves,
      ...(pulse === null ? {} : { pulse: { ...pulse } }),
    })),
    lamps: lampAnswers(derived, reading.lamps),
    nodes: reading.nodes.map(({ circuit, node, volts }) => ({ circuit, node, volts })),
    residual: reading.residual,
    problems: reading.problems.map((problem) => ({ ...problem })),
  };
}

function elementsOf(lamp: SolveAnswer['lamps'][number] | undefined): readonly LampElement[] {
  return lamp?.elements ?? [];
}

type LampElement = NonNullable<SolveAnswer['lamps'][number]['elements']>[number];

/** Lamps in the order of the file; one of two colours has its elements, and the greater of their amps. */
function lampAnswers(derived: Derived, readings: readonly LampReading[]): SolveAnswer['lamps'] {
  const uses = new Map(derived.lamps.map((lamp) => [lamp.id, lamp]));
  const answers = new Map<string, SolveAnswer['lamps'][number]>();
  for (const { id, amps, low, high, look, reverseVolts } of readings) {
    const use = uses.get(id);
    const own = { amps, low, high, look, reverseVolts };
    if (use === undefined || use.element === null) {
      answers.set(id, { id, ...own });
      continue;
    }
    const before = answers.get(use.of);
    const elements = [...elementsOf(before), { id, ...own }];
    const brightest = elements.reduce((best, each) => (each.amps > best.amps ? each : best));
    answers.set(use.of, { ...brightest, id: use.of, elements });
  }
  return [...answers.values()];
}

/** What the lamps of the healthy panel say in every setting. */
export function truthAnswer(derived: Derived): TruthAnswer {
  const truth = derived.truth();
  const faults = derived.faultTruth();
  const entry = ({
    levers,
    history,
    lamp,
  }: {
    readonly levers: LeverPositions;
    readonly history: Lies;
    readonly lamp: string;
  }) => ({
    levers: { ...levers },
    history: { ...history },
    lamp,
  });
  return {
    format: 'mimic-truth',
    version: 1,
    panel: panelName(derived),
    settings: truth.settings,
    // Lamps that claim no lie are left out; a claim has the shape of the file's `shows`.
    lamps: truth.lamps
      .filter(({ kind }) => kind !== 'supply' && kind !== 'occupancy' && kind !== 'test')
      .map(({ id, claim, kind, basis }) => ({ id, claim: asShows(claim), kind, basis })),
    untruths: truth.untruths.map((untruth) => ({ ...entry(untruth), shown: untruth.shown, should: untruth.should })),
    doubtful: truth.doubtful.map((doubt) => ({ ...entry(doubt), side: doubt.side })),
    contradictions: truth.contradictions.map(entry),
    silent: truth.silent.map(entry),
    leads: truth.leads.map(({ lamp, seconds }) => ({ lamp, seconds })),
    faults: { ...faults.faults },
    wrongSide: faults.wrongSide.map((each) => ({
      fault: each.fault,
      ...entry(each),
      shown: each.shown,
      should: each.should,
      mark: each.mark,
    })),
    outcomes: faults.outcomes.map((each) => ({ fault: each.fault, class: each.class })),
    share: faults.share,
    weightedShare: faults.weightedShare,
    suggestions: derived.suggestions().map(({ id, text, lamps, cures, price }) => ({
      id,
      text,
      lamps: [...lamps],
      cures,
      price: { ...price, parts: price.parts.map((each) => ({ ...each })) },
    })),
    certificate: certificateAnswer(derived.certificate()),
    powerUp: powerUpAnswer(derived),
  };
}

/** What happens when the supply comes on. */
function powerUpAnswer(derived: Derived): TruthAnswer['powerUp'] {
  const { drives, supplies, settles, lies } = derived.powerUp();
  return {
    drives: drives.map((each) => ({ ...each })),
    supplies: supplies.map((each) => ({ ...each })),
    settles: settles.map((each) => ({ ...each })),
    lies: lies.map(({ levers, history, latches, ...each }) => ({
      ...each,
      levers: { ...levers },
      history: { ...history },
      latches: { ...latches },
    })),
  };
}

/** One alternative is an object, several are a list; a claim that cannot be read is an empty list. */
function asShows(claim: readonly Lies[]): Record<string, Lie> | Record<string, Lie>[] {
  const [only, ...others] = claim.map((lies) => ({ ...lies }));
  return only !== undefined && others.length === 0 ? only : claim.map((lies) => ({ ...lies }));
}

/** The files that were written, in the order of writing; `bytes` is how many each has. */
export function buildAnswer(derived: Derived, files: readonly BuiltFile[]): BuildAnswer {
  return {
    format: 'mimic-build',
    version: 1,
    panel: panelName(derived),
    files: files.map(({ path, kind, pages, bytes }) => ({ path, kind, pages, bytes: bytes.byteLength })),
  };
}
