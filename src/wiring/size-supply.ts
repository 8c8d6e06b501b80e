/**
 * Sums of what a supply feeds, the supply and the fuse for it. Each answers with its arithmetic as lines for the screen and the
 * book. A fuse guards the wire: it is rated above the draw and no higher than the thinnest wire that it feeds carries.
 */
import { type Ampere, formatAmps, formatNumber } from '../units/index.ts';
import { FUSE_HOLDS, FUSE_MARGIN, FUSES, SAME_AMPS, SUPPLIES, SUPPLY_MARGIN } from './tolerances.ts';

/** What one drive, or one group of lamps, takes: while it is thrown, and when it has come to rest. */
export interface Draw {
  readonly id: string;
  readonly moving: Ampere;
  readonly resting: Ampere;
}

export interface SummedDraws {
  /** At the worst moment, and when all have come to rest. */
  readonly worst: Ampere;
  readonly steady: Ampere;
  /** Which move at that moment, by their draw: the greatest first, ties by id. */
  readonly moving: readonly string[];
  readonly steps: readonly string[];
}

/**
 * The worst simultaneous throw: everything at rest, but for the `atOnce` whose throw adds most. All of them (the default) is
 * switching on, when every drive that is not home moves by itself; 1 is a hand on one lever.
 */
export function sumDraws(draws: readonly Draw[], atOnce = draws.length): SummedDraws {
  const { worst, steady, more, still } = worstOf(draws, atOnce);
  const steps = [
    ...groupsOf(more.map((draw) => draw.moving)).map(
      ([amps, count]) => `${count} moving × ${formatAmps(amps)} = ${formatAmps(amps * count)}`,
    ),
    ...groupsOf(still.map((draw) => draw.resting).filter((amps) => amps > 0)).map(
      ([amps, count]) => `${count} at rest × ${formatAmps(amps)} = ${formatAmps(amps * count)}`,
    ),
    `together ${formatAmps(worst)} at the worst, ${formatAmps(steady)} at rest`,
  ];
  return { worst, steady, moving: more.map((draw) => draw.id), steps };
}

/** The same without the arithmetic in words: what moves at that moment, and what rests. */
export function worstOf(
  draws: readonly Draw[],
  atOnce = draws.length,
): Pick<SummedDraws, 'worst' | 'steady'> & { readonly more: readonly Draw[]; readonly still: readonly Draw[] } {
  const steady = draws.reduce((sum, draw) => sum + draw.resting, 0);
  const more = draws
    .filter((draw) => draw.moving > draw.resting)
    .sort((a, b) => b.moving - b.resting - (a.moving - a.resting) || (a.id < b.id ? -1 : 1))
    .slice(0, atOnce);
  const moves = new Set(more);
  const still = draws.filter((draw) => !moves.has(draw));
  // Summed by what each takes and not as steady plus the rest, so that no rounding of a difference shows.
  const worst = more.reduce((sum, draw) => sum + draw.moving, 0) + still.reduce((sum, draw) => sum + draw.resting, 0);
  return { worst, steady, more, still };
}

/** Equal amps and how often they stand in a list, the greatest first. */
function groupsOf(amps: readonly Ampere[]): readonly (readonly [Ampere, number])[] {
  const counts = new Map<Ampere, number>();
  for (const each of amps) counts.set(each, (counts.get(each) ?? 0) + 1);
  return [...counts].sort((a, b) => b[0] - a[0]);
}

export interface SizedSupply {
  /** The least rating on sale that holds the worst draw with a margin; null where none does: share it among several. */
  readonly amps: Ampere | null;
  readonly needs: Ampere;
  readonly steps: readonly string[];
}

/** The supply for a worst draw: a quarter more than it, next rating up. */
export function sizeSupply(worst: Ampere): SizedSupply {
  const needs = worst * SUPPLY_MARGIN;
  const amps = SUPPLIES.find((rating) => rating >= needs * (1 - SAME_AMPS)) ?? null;
  return {
    amps,
    needs,
    steps: [
      `${formatAmps(worst)} × ${formatNumber(SUPPLY_MARGIN, 2)} = ${formatAmps(needs)}`,
      amps === null ? 'more than one supply gives: share it' : `next supply: ${formatAmps(amps)}`,
    ],
  };
}

export interface FuseWants {
  readonly worst: Ampere;
  /** What the thinnest wire behind it carries; null where it is not known. */
  readonly wire: Ampere | null;
  /** The supply's rating where it limits itself there; null where it gives what is asked of it. */
  readonly limit: Ampere | null;
}

export interface SizedFuse {
  /** The rating to fit: above the draw with a margin. */
  readonly amps: Ampere;
  /** The greatest rating that still guards the wire; null where the wire is not known or no fuse is small enough. */
  readonly most: Ampere | null;
  /** ok; the wire carries less than the fuse; or the supply limits itself before the fuse would ever blow. */
  readonly verdict: 'ok' | 'wire-too-thin' | 'never-blows';
  /** With a supply that limits below what blows the fuse the limit is the protection, and the wire must carry that. */
  readonly wireMustCarry: Ampere;
  readonly steps: readonly string[];
}

/** The fuse for a worst draw: a third above it, next standard rating, held against the wire and the supply's own limit. */
export function sizeFuse({ worst, wire, limit }: FuseWants): SizedFuse {
  const needs = worst * FUSE_MARGIN;
  const amps = FUSES.find((rating) => rating >= needs) ?? FUSES[FUSES.length - 1] ?? worst;
  const most = wire === null ? null : (FUSES.filter((rating) => rating <= wire).at(-1) ?? null);
  const limited = limit !== null && limit <= FUSE_HOLDS * amps;
  const wireMustCarry = limited ? limit : amps;
  const thin = wire !== null && wire < wireMustCarry;
  const steps = [
    `${formatAmps(worst)} × ${formatNumber(FUSE_MARGIN, 2)} = ${formatAmps(needs)}; next fuse: ${formatAmps(amps)}`,
  ];
  if (limited) {
    steps.push(
      `the supply limits at ${formatAmps(limit)}, a fuse of ${formatAmps(amps)} holds ${formatNumber(FUSE_HOLDS, 1)} times as much: it never blows, and the wire must carry ${formatAmps(limit)}`,
    );
  }
  if (wire !== null) {
    steps.push(
      `the thinnest wire carries ${formatAmps(wire)}: ${thin ? `less than ${formatAmps(wireMustCarry)}, so thicker wire is wanted` : 'enough'}`,
    );
  }
  return { amps, most, verdict: thin ? 'wire-too-thin' : limited ? 'never-blows' : 'ok', wireMustCarry, steps };
}
