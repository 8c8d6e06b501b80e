/**
 * From one standing of trains to another: the fewest moves, then the fewest throws.
 * The model: trains stand at places (free ends and named roads), several one behind the other where the place's `length` holds them. A
 * move takes one train along one route, without turning back, past empty places only, from its place to another where it fits. Before a
 * move levers are thrown, and points that no lever works. A route that levers cannot set is not used.
 * Search: first the fewest moves, over standings (standings-search.ts), then the fewest throws among all plans of so few moves
 * (standings-throws.ts). Lengths that are not given are first taken to be enough; where the plan hangs on one, it is searched without.
 */
import type { Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { compareCosts } from './moves-queue.ts';
import { throwsAtLeast } from './standings-bound.ts';
import { HURRY, MOST_LABELS, MOST_STANDINGS } from './standings-limits.ts';
import { type StandingsModel, standingsModel } from './standings-model.ts';
import { searchStandings } from './standings-search.ts';
import { fewestThrows, type PlannedMove } from './standings-throws.ts';
import { asksAlong, tellPlan } from './standings-told.ts';
import { readWanted, whyNot } from './standings-wanted.ts';
import { liesBefore } from './train-moves.ts';
import { standsOf } from './train-stands.ts';
import type { Standing, StandingsFound, Thrown, WantedTrain } from './train-types.ts';
import { type TrainWays, trainWays } from './train-ways.ts';

export interface StandingsOptions {
  /** How levers lie before; those not named lie normal. `centre` lies neither way. */
  readonly levers?: Thrown;
  /** How points lie that no lever works; those not named lie normal. */
  readonly lies?: Lies;
  /** Trains that are not named end where they stood; else they may end anywhere. */
  readonly othersStay?: boolean;
  /** Trains wanted at one place stand there in the order in which they are named, from left to right on the face; else in any. */
  readonly inOrder?: boolean;
  /** Standings looked at before the search gives up. */
  readonly most?: number;
}

/** What a search with lengths hoped for, or known alone, gave. */
interface Searched {
  readonly plan: readonly PlannedMove[] | null;
  readonly throws: number;
  readonly bound: { readonly moves: number; readonly throws: number };
  readonly proved: boolean;
  readonly standings: number;
  readonly moved: Uint8Array;
}

/**
 * The moves from a standing to one where every train named in `wanted` stands where it is wanted.
 * @example findStandings(plan, standing, [{ train: 'T1', place: 'yard' }]).moves.length
 */
export function findStandings(
  plan: Plan,
  standing: Standing,
  wanted: readonly WantedTrain[],
  options: StandingsOptions = {},
): StandingsFound {
  const ways = trainWays(plan);
  const { stands, why: unread } = standsOf(plan, ways, standing);
  const none = {
    moves: [],
    throws: null,
    bound: { moves: 0, throws: 0 },
    ends: standing,
    asks: [],
    standings: 0,
  } as const;
  if (stands === null) return { ...none, outcome: 'refused', proved: true, why: unread };
  const { wants, orders, why: wrong } = readWanted(plan, ways, stands, wanted, options);
  if (wrong.length > 0) return { ...none, outcome: 'refused', proved: true, why: wrong };

  const search = (hoped: boolean): Searched =>
    searchWith(ways, standingsModel(plan, ways, stands, wants, orders, hoped), options);
  const hoped = search(true);
  const asks = hoped.plan === null ? [] : asksAlong(plan, stands, hoped.plan);
  const known = asks.length === 0 && hoped.plan !== null ? hoped : search(false);
  const before = liesBefore(ways, options.levers ?? {}, options.lies ?? {});
  const told = (searched: Searched) => tellPlan(plan, ways, stands, searched.plan ?? [], before);
  if (known.plan !== null) {
    const better =
      hoped.plan !== null && compareCosts([hoped.plan.length, hoped.throws], [known.plan.length, known.throws]) < 0;
    return {
      outcome: 'found',
      ...told(known),
      throws: known.throws,
      bound: known.bound,
      proved: known.proved,
      asks: better ? asks : [],
      why: [],
      standings: known === hoped ? known.standings : known.standings + hoped.standings,
    };
  }
  const standings = known.standings + hoped.standings;
  if (hoped.plan !== null)
    return {
      outcome: 'asked',
      ...told(hoped),
      throws: hoped.throws,
      bound: hoped.bound,
      proved: hoped.proved,
      asks,
      why: [],
      standings,
    };
  if (!hoped.proved)
    return {
      ...none,
      outcome: 'stopped',
      bound: hoped.bound,
      proved: false,
      why: [
        ways.complete
          ? `nothing is found in ${standings} standings: it takes ${hoped.bound.moves} moves at least, if it can be had`
          : 'there are more routes than are listed: nothing is found with those',
      ],
      standings,
    };
  return {
    ...none,
    outcome: 'refused',
    proved: true,
    why: whyNot(plan, ways, stands, wants, hoped),
    standings,
  };
}

/** A search to its end, or to what can be had where that is too far. */
function searchWith(ways: TrainWays, model: StandingsModel, options: StandingsOptions): Searched {
  const most = options.most ?? MOST_STANDINGS;
  const lies = liesBefore(ways, options.levers ?? {}, options.lies ?? {});
  const first = searchStandings(model, most);
  // Whatever one finds in a hurry is a plan, if not the best.
  const hurried = first.moves === null && !first.complete ? searchStandings(model, most, HURRY) : null;
  const best = hurried ?? first;
  const exact = first.moves === null ? null : fewestThrows(model, first, first.rank, lies, MOST_LABELS);
  const plan =
    exact ?? (best.moves === null ? null : fewestThrows(model, best, best.chain, lies, Number.POSITIVE_INFINITY));
  const bound = ways.complete
    ? {
        moves: first.atLeast,
        throws: exact !== null && first.complete ? exact.throws : throwsAtLeast(model, lies),
      }
    : // With routes missing from the list every train that is not there yet still needs a move.
      {
        moves: model.wants.filter(({ place }, i) => place >= 0 && place !== model.start.places[i]).length,
        throws: 0,
      };
  return {
    plan: plan?.moves ?? null,
    throws: plan?.throws ?? 0,
    bound,
    proved:
      plan === null
        ? first.complete && ways.complete
        : plan.moves.length === bound.moves && plan.throws === bound.throws,
    standings: first.store.size + (hurried?.store.size ?? 0),
    moved: first.moved,
  };
}
