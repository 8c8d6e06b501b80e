/**
 * A slip as two points, one for each end.
 * Trade rule: the blades of one end choose the exit at the other.
 */
import type { CrossingRecord } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { angleOfLines } from './branch.ts';
import { angleBetween, compareSpots } from './line.ts';
import type { RawCrossing } from './read-sight.ts';
import { ANGLE_SLACK, BRANCH_LEAST, BRANCH_MOST, SAME_SPOT } from './tolerances.ts';

/** Ports of a slip by what they are; the first end is the left one (the upper where neither is). */
export interface Slip {
  readonly kind: 'single-slip' | 'double-slip';
  /** First end, second end; in each the port of the line whose straight way is normal, then the other's. */
  readonly first: readonly [main: number, other: number];
  readonly second: readonly [main: number, other: number];
  /** Away from the crossing towards each end, half way between its two legs. */
  readonly toward: readonly [Spot, Spot];
}

/**
 * Null where its curves cannot be told: lines nearer to square than 75 degrees or flatter than 10, a `normal` that is neither strip,
 * a single slip whose `curve` is missing or does not say on which side it lies. Of a single slip `main` is the line that the curve
 * leaves at the first end.
 */
export function readSlip(crossing: RawCrossing, record: CrossingRecord): Slip | null {
  if (record.kind !== 'single-slip' && record.kind !== 'double-slip') return null;
  const [a, b, c, d] = crossing.ports;
  if (a === undefined || b === undefined || c === undefined || d === undefined) return null;
  const { acute } = angleOfLines(a.toward, c.toward);
  if (acute > BRANCH_MOST + ANGLE_SLACK || acute < BRANCH_LEAST - ANGLE_SLACK) return null;
  // Legs of one end lie at the acute angle to each other.
  const together = angleBetween(a.toward, c.toward) <= 90;
  const ends = together
    ? ([
        [0, 2],
        [1, 3],
      ] as const)
    : ([
        [0, 3],
        [1, 2],
      ] as const);
  const between = ([p, q]: readonly [number, number]): Spot => {
    const [u, v] = [crossing.ports[p]?.toward ?? [0, 0], crossing.ports[q]?.toward ?? [0, 0]];
    const length = Math.hypot(u[0] + v[0], u[1] + v[1]);
    return [(u[0] + v[0]) / length, (u[1] + v[1]) / length];
  };
  const flip = compareSpots(between(ends[0]), between(ends[1]), SAME_SPOT) > 0;
  const [first, second] = flip ? [ends[1], ends[0]] : [ends[0], ends[1]];
  const toward = [between(first), between(second)] as const;
  const swapped = { first: [first[1], first[0]] as const, second: [second[1], second[0]] as const, toward };
  const straight = { first, second, toward };

  if (record.kind === 'double-slip') {
    const main = record.normal ?? crossing.lines[0].id;
    const is = crossing.lines.map((line) => line.id === main);
    if (is[0] === is[1] && record.normal !== undefined) return null;
    return { kind: record.kind, ...(is[0] || !is[1] ? straight : swapped) };
  }
  const { curve } = record;
  if (curve === undefined) return null;
  const off: Spot = [curve[0] - crossing.at[0], curve[1] - crossing.at[1]];
  if (Math.hypot(off[0], off[1]) <= SAME_SPOT) return null;
  // The curve joins a leg of the first end to the other line's leg of the second, and bulges into the wide sector between them.
  const sector = ([p, q]: readonly [number, number]) => angleBetween(off, between([p, q]));
  const ways = [straight, swapped].map((way) => ({ way, off: sector([way.first[0], way.second[1]]) }));
  const inside = ways.filter((each) => each.off < (180 - acute) / 2);
  const [only] = inside;
  return only === undefined || inside.length > 1 ? null : { kind: record.kind, ...only.way };
}
