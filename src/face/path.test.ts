import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Spot } from '../units/index.ts';
import { fromStroke, gap, guidePath, pathText } from './path.ts';
import type { Stroke } from './types.ts';

const spots = fc.array(fc.tuple(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 0, max: 300 })), {
  minLength: 2,
  maxLength: 7,
});

/** The direction in which a stroke leaves its beginning or reaches its end. */
function heading(stroke: Stroke, at: 'from' | 'to'): Spot {
  if (stroke.kind === 'line') {
    const length = gap(stroke.from, stroke.to);
    return [(stroke.to[0] - stroke.from[0]) / length, (stroke.to[1] - stroke.from[1]) / length];
  }
  const spot = stroke[at];
  const [x, y] = [(spot[0] - stroke.centre[0]) / stroke.radius, (spot[1] - stroke.centre[1]) / stroke.radius];
  return stroke.clockwise ? [-y, x] : [y, -x];
}

describe('strokes of a strip', () => {
  it('[FA1] a square bend of 9 begins 9 before its corner and ends 9 after it', () => {
    // Geometry: the tangent length of a circle of radius r in an angle turning by t is r tan(t / 2); tan 45 = 1.
    const strokes = guidePath(
      [
        [0, 0],
        [50, 0],
        [50, 50],
      ],
      9,
    );
    expect(pathText(strokes)).toBe('M0 0L41 0A9 9 0 0 1 50 9L50 50');
    expect(strokes[1]).toMatchObject({ centre: [41, 9], radius: 9, clockwise: true });
  });

  it('[FA1] a short leg between two bends tightens both so that the arcs only touch', () => {
    // The leg is 10 long, each bend may have 5 of it: radius 5 in a square corner.
    const strokes = guidePath(
      [
        [0, 0],
        [50, 0],
        [50, 10],
        [100, 10],
      ],
      9,
    );
    expect(pathText(strokes)).toBe('M0 0L45 0A5 5 0 0 1 50 5A5 5 0 0 0 55 10L100 10');
  });

  it('[FA2] nothing without length, a corner that doubles back stays sharp, corners twice over count once', () => {
    expect(guidePath([[5, 5]], 9)).toEqual([]);
    expect(
      guidePath(
        [
          [5, 5],
          [5, 5],
        ],
        9,
      ),
    ).toEqual([]);
    expect(
      pathText(
        guidePath(
          [
            [0, 0],
            [50, 0],
            [50, 0],
            [20, 0],
          ],
          9,
        ),
      ),
    ).toBe('M0 0L50 0L20 0');
  });

  it('[FA1] [FA2] strokes follow one another smoothly from the first corner to the last (seed 41)', () => {
    fc.assert(
      fc.property(spots, fc.double({ min: 0.5, max: 40, noNaN: true }), (corners, radius) => {
        const strokes = guidePath(corners, radius);
        const [first, last] = [strokes[0], strokes.at(-1)];
        if (first === undefined || last === undefined)
          return corners.every((each) => gap(each, [...(corners[0] ?? [0, 0])]) === 0);
        expect(gap(first.from, corners[0] ?? [0, 0])).toBeLessThan(1e-6);
        expect(gap(last.to, corners.at(-1) ?? [0, 0])).toBeLessThan(1e-6);
        for (const [i, stroke] of strokes.entries()) {
          const next = strokes[i + 1];
          if (stroke.kind === 'arc') {
            expect(stroke.radius).toBeLessThanOrEqual(radius + 1e-9);
            expect(gap(stroke.from, stroke.centre)).toBeCloseTo(stroke.radius, 5);
            expect(gap(stroke.to, stroke.centre)).toBeCloseTo(stroke.radius, 5);
          }
          if (next === undefined) continue;
          expect(gap(stroke.to, next.from)).toBeLessThan(1e-6);
          if (stroke.kind === 'line' && next.kind === 'line') continue;
          // A bend leaves and meets its legs in their own direction, unless it is too small to have one.
          const radii = [stroke, next].flatMap((each) => (each.kind === 'arc' ? [each.radius] : []));
          const lengths = [gap(stroke.from, stroke.to), gap(next.from, next.to)];
          if (Math.min(...radii, ...lengths) < 0.01) continue;
          const [a, b] = [heading(stroke, 'to'), heading(next, 'from')];
          expect(a[0] * b[0] + a[1] * b[1]).toBeGreaterThan(0.999);
        }
        return true;
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  it('[FA3] the distance from a stroke is that of its nearest spot, tried at 4,000 of them (seed 42)', () => {
    fc.assert(
      fc.property(
        spots,
        fc.tuple(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 0, max: 300 })),
        (corners, at) => {
          for (const stroke of guidePath(corners, 20)) {
            const tried = along(stroke, 4000).map((spot) => gap(spot, at));
            const step = stroke.kind === 'line' ? gap(stroke.from, stroke.to) / 4000 : (stroke.radius * Math.PI) / 4000;
            expect(Math.abs(fromStroke(at, stroke).gap - Math.min(...tried))).toBeLessThanOrEqual(step + 1e-6);
          }
        },
      ),
      { seed: 42, numRuns: 60 },
    );
  });
});

/** Spots along a stroke, made without the code under test. */
function along(stroke: Stroke, count: number): Spot[] {
  return Array.from({ length: count + 1 }, (_, i): Spot => {
    const share = i / count;
    const { from, to } = stroke;
    if (stroke.kind === 'line') return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    const { centre, radius, clockwise } = stroke;
    const begin = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
    let turn = Math.atan2(to[1] - centre[1], to[0] - centre[0]) - begin;
    while (clockwise && turn < 0) turn += 2 * Math.PI;
    while (!clockwise && turn > 0) turn -= 2 * Math.PI;
    return [centre[0] + radius * Math.cos(begin + turn * share), centre[1] + radius * Math.sin(begin + turn * share)];
  });
}
