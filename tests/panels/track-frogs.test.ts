/**
 * Which rails cross at a frog: both rails of each way drawn, a gauge apart, and intersected. Nothing but geometry: a frog lies on the
 * rail of the way that is used, so that rail's polarity is what the frog must have.
 */
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import type { Plan, SpanEnd } from '../../src/plan/index.ts';
import type { FrogCase, Rail, TrackFrog } from '../../src/track/index.ts';
import { tracks } from '../generate/tracks.ts';
import { away, spanOf } from '../oracle/rails.ts';

type Spot = readonly [number, number];
/** Half the gauge of the rails that are drawn; small beside the legs. */
const HALF = 0.5;

const turned =
  (degrees: number, mirror: boolean) =>
  ([x, y]: Spot): [number, number] => {
    const a = (degrees * Math.PI) / 180;
    const [p, q] = [x - 150, mirror ? 60 - y : y - 60];
    return [150 + p * Math.cos(a) - q * Math.sin(a), 60 + p * Math.sin(a) + q * Math.cos(a)];
  };

function moved(panel: PanelFile, degrees: number, mirror: boolean): PanelFile {
  const to = turned(degrees, mirror);
  return {
    ...panel,
    strips: panel.strips.map((strip) => ({ ...strip, path: strip.path.map(([x, y]) => to([x, y])) })),
    ...(panel.crossings === undefined
      ? {}
      : {
          crossings: panel.crossings.map((record) => ({
            ...record,
            at: to([record.at[0], record.at[1]]),
            ...(record.curve === undefined ? {} : { curve: to([record.curve[0], record.curve[1]]) }),
          })),
        }),
  };
}

/** A rail of a straight line through the feature: a spot on it and its direction. y runs down, so left is (dy, -dx). */
function railOf(ahead: Spot, hand: Rail): { readonly at: Spot; readonly along: Spot } {
  const off = hand === 'left' ? HALF : -HALF;
  return { at: [ahead[1] * off, -ahead[0] * off], along: ahead };
}

function meet(a: ReturnType<typeof railOf>, b: ReturnType<typeof railOf>): Spot {
  const cross = a.along[0] * b.along[1] - a.along[1] * b.along[0];
  const [dx, dy] = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
  const t = (dx * b.along[1] - dy * b.along[0]) / cross;
  return [a.at[0] + a.along[0] * t, a.at[1] + a.along[1] * t];
}

/** The rails of two ways that run out over these legs and cross ahead, between the legs. */
function crossing(plan: Plan, a: SpanEnd, b: SpanEnd): { readonly ofA: Rail; readonly ofB: Rail } {
  const [u, v] = [away(spanOf(plan, a.span), a.end), away(spanOf(plan, b.span), b.end)];
  const hands = ['left', 'right'] as const;
  const found = hands.flatMap((ofA) =>
    hands.map((ofB) => {
      const [x, y] = meet(railOf(u, ofA), railOf(v, ofB));
      return { ofA, ofB, ahead: x * (u[0] + v[0]) + y * (u[1] + v[1]) };
    }),
  );
  const [best] = found.sort((p, q) => q.ahead - p.ahead);
  if (best === undefined) throw new Error('no rails');
  return best;
}

function proveFrog(plan: Plan, frog: TrackFrog): void {
  const [left, right] = frog.legs;
  if (left === undefined || right === undefined) throw new Error(`${frog.id} has no legs`);
  const { ofA, ofB } = crossing(plan, left, right);
  const same = (a: SpanEnd, b: SpanEnd) => a.span === b.span && a.end === b.end;
  for (const used of [frog.normal, frog.reverse]) {
    expect(
      [left, right].some((leg) => same(leg, used.leg)),
      frog.id,
    ).toBe(true);
    expect(used.rail, `${frog.id} over ${used.leg.span}`).toBe(same(used.leg, left) ? ofA : ofB);
  }
  // And the leg of a case is one that the case's lies do lead over.
  for (const { when, leg } of [frog.normal, frog.reverse]) {
    const ways = plan.passages.filter(
      ({ asks, between }) =>
        between.some((end) => same(end, leg)) && Object.entries(when).every(([id, lie]) => (asks[id] ?? lie) === lie),
    );
    expect(ways.length, `${frog.id}: ${JSON.stringify(when)} leads over ${leg.span}`).toBeGreaterThan(0);
  }
}

const SLIP = 'main 0,60 300,60\ncross 90,97.5 210,22.5';
const LAID: readonly (readonly [string, PanelFile, number])[] = [
  ['a point to the right', tracks('main 0,60 300,60\nsiding 150,60 190,85 250,85'), 1],
  ['a point from the other side', tracks('main 0,60 300,60\nsiding 150,60 110,85 50,85'), 1],
  ['a wye', tracks('stem 0,60 150,60\na 150,60 250,30\nb 150,60 250,90'), 1],
  ['a three-way to either hand', tracks('main 0,60 300,60\na 150,60 190,85 250,85\nb 150,60 190,35 250,35'), 3],
  ['a double slip', tracks(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'double-slip' }] }), 2],
  [
    'a double slip, normal over the other',
    tracks(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'double-slip', normal: 'cross' }] }),
    2,
  ],
  [
    'a single slip',
    tracks(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'single-slip', curve: [150, 50] }] }),
    2,
  ],
  [
    'a single slip, the other curve',
    tracks(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'single-slip', curve: [150, 70] }] }),
    2,
  ],
];

describe('frogs drawn as rails that cross', () => {
  it.each(LAID)('[TF6] [TF7] %s, turned and mirrored: the rail of the way in use', (_, panel, count) => {
    for (const mirror of [false, true])
      for (const degrees of [0, 40, 90, 155, 180, 270, 331]) {
        const { plan, track } = derive(moved(panel, degrees, mirror));
        const { frogs } = track();
        expect(frogs).toHaveLength(count);
        for (const frog of frogs) proveFrog(plan, frog);
      }
  });

  it.each([20, 45, 80, 100, 160])(
    '[TF6] a diamond at %s degrees: two acute and two obtuse, first the one further left',
    (angle) => {
      const a = (angle * Math.PI) / 180;
      const arm: Spot = [100 * Math.cos(a), 100 * Math.sin(a)];
      const laid = tracks(`main 50,60 250,60\ncross ${150 - arm[0]},${60 - arm[1]} ${150 + arm[0]},${60 + arm[1]}`);
      for (const mirror of [false, true])
        for (const degrees of [0, 33, 90, 200]) {
          const { plan, track } = derive(moved(laid, degrees, mirror));
          const { frogs } = track();
          expect(frogs.map(({ what }) => what)).toEqual([
            'diamond-acute',
            'diamond-acute',
            'diamond-obtuse',
            'diamond-obtuse',
          ]);
          const spots = frogs.map(({ normal, reverse }) => {
            // Along each line in use, from its span's end into the crossing.
            const ahead = ({ leg }: FrogCase): Spot => {
              const [x, y] = away(spanOf(plan, leg.span), leg.end);
              return [-x, -y];
            };
            expect(ahead(normal)[0] * ahead(reverse)[0] + ahead(normal)[1] * ahead(reverse)[1]).toBeGreaterThan(-1e-9);
            return meet(railOf(ahead(normal), normal.rail), railOf(ahead(reverse), reverse.rail));
          });
          const out = spots.map(([x, y]) => Math.hypot(x, y));
          // Two lines a gauge wide: acute crossings lie at half the gauge over the sine of half the angle, obtuse ones over its cosine.
          const sharp = (Math.min(angle, 180 - angle) * Math.PI) / 360;
          const expected = [
            HALF / Math.sin(sharp),
            HALF / Math.sin(sharp),
            HALF / Math.cos(sharp),
            HALF / Math.cos(sharp),
          ];
          out.forEach((each, i) => expect(each).toBeCloseTo(expected[i] ?? 0, 6));
          const [first, second] = spots;
          const order = (first?.[0] ?? 0) - (second?.[0] ?? 0);
          expect(order < -1e-9 || (Math.abs(order) <= 1e-9 && (first?.[1] ?? 0) < (second?.[1] ?? 0))).toBe(true);
        }
    },
  );

  it('[TF1] [TF2] has one wire a rail: a walker keeps the wire on the left through every passage', () => {
    for (const [, panel] of LAID) {
      const { plan, track } = derive(panel);
      const rails = new Map(track().rails.map((each) => [each.span, each]));
      for (const { between } of plan.passages) {
        const [from, to] = between;
        const left = from.end === 1 ? rails.get(from.span)?.left : rails.get(from.span)?.right;
        expect(left).not.toBeUndefined();
        expect(to.end === 0 ? rails.get(to.span)?.left : rails.get(to.span)?.right).toBe(left);
      }
    }
  });
});
