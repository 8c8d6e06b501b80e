import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import type { Spot } from '../units/index.ts';
import { alongSpan, legsOf, type Plan, readPlan, type Span, spanAt } from './index.ts';
import { SAME_SPOT } from './tolerances.ts';

const loop = readPlan(tracks('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60'));

describe('spanAt', () => {
  it('[QR1] gives the nearest span within reach, how far along from its end 0, and how far off', () => {
    const found = spanAt(loop, [120, 57], 3);
    expect(found).toEqual({ span: 'P1/P2', along: 60, distance: 3 });
    expect(spanAt(loop, [120, 56.9], 3)).toBeNull();
  });

  it('[QR1] of spans equally near the one whose id is first', () => {
    expect(spanAt(loop, [60, 60], 1)?.span).toBe('P1/E1');
  });

  it('[QR1] along runs with the corners', () => {
    expect(spanAt(loop, [150, 85], 1)).toMatchObject({ span: 'P1/P2#2', along: Math.hypot(40, 25) + 50 });
  });
});

describe('alongSpan', () => {
  const withPath = (...path: readonly Spot[]): Pick<Span, 'path'> => ({ path });

  it('[QR3] gives the spot and the angle, clockwise from straight right', () => {
    expect(alongSpan(withPath([60, 60], [100, 90], [100, 90], [100, 190]), 110)).toEqual({ at: [100, 150], angle: 90 });
  });

  it('[QR3] stays at the ends beyond them', () => {
    const straight = withPath([60, 60], [100, 60]);
    expect(alongSpan(straight, -5)).toEqual({ at: [60, 60], angle: 0 });
    expect(alongSpan(straight, 45)).toEqual({ at: [100, 60], angle: 0 });
    expect(alongSpan(withPath([1, 2]), 3)).toEqual({ at: [1, 2], angle: 0 });
  });

  it('[QR3] is where spanAt says that it is (seed 733)', () => {
    const plan = readPlan(generatePanel(5, 40));
    fc.assert(
      fc.property(fc.constantFrom(...plan.spans), fc.double({ min: 0, max: 1, noNaN: true }), (span, share) => {
        const along = share * span.length;
        const { at } = alongSpan(span, along);
        const found = spanAt(plan, at, 1);
        expect(found?.distance).toBeLessThan(1e-6);
        if (found?.span === span.id) expect(found.along).toBeCloseTo(along, 6);
      }),
      { seed: 733, numRuns: 400 },
    );
  });
});

describe('spanAt on generated panels', () => {
  it('[QR1] looks at no less than all spans one by one (seed 731)', () => {
    const plan = readPlan(generatePanel(3, 60));
    const spots = plan.spans.flatMap(({ path }) => path);
    const [right, down] = [Math.max(...spots.map(([x]) => x)), Math.max(...spots.map(([, y]) => y))];
    const near = ([x, y]: Spot): fc.Arbitrary<Spot> =>
      fc
        .tuple(fc.double({ min: -9, max: 9, noNaN: true }), fc.double({ min: -9, max: 9, noNaN: true }))
        .map(([dx, dy]): Spot => [x + dx, y + dy]);
    const anywhere = fc.tuple(
      fc.double({ min: -200, max: right + 200, noNaN: true }),
      fc.double({ min: -200, max: down + 200, noNaN: true }),
    );
    fc.assert(
      fc.property(
        fc.oneof(fc.constantFrom(...spots), fc.constantFrom(...spots).chain(near), anywhere),
        fc.constantFrom(0, 2.5, 6, 150, 4000),
        (spot, reach) => {
          expect(spanAt(plan, spot, reach)).toEqual(oneByOne(plan, spot, reach));
        },
      ),
      { seed: 731, numRuns: 1500 },
    );
  });
});

/** The nearest span, by measuring to every piece of every one. */
function oneByOne(plan: Plan, [x, y]: Spot, reach: number) {
  const found = plan.spans.flatMap(({ id, path }) => {
    let passed = 0;
    return path.slice(1).map((b, i) => {
      const a = path[i] ?? b;
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
      const t = Math.min(length, Math.max(0, (x - a[0]) * ux + (y - a[1]) * uy));
      const piece = { span: id, along: passed + t, distance: Math.hypot(a[0] + ux * t - x, a[1] + uy * t - y) };
      passed += length;
      return piece;
    });
  });
  const least = Math.min(...found.map(({ distance }) => distance));
  return least > reach + SAME_SPOT ? null : (found.find(({ distance }) => distance === least) ?? null);
}

describe('legsOf', () => {
  it('[QR2] names the heel legs at both ends of a span', () => {
    expect(legsOf(loop, 'P1/P2#2')).toEqual([
      { end: 0, point: 'P1', lie: 'reverse' },
      { end: 1, point: 'P2', lie: 'reverse' },
    ]);
    expect(legsOf(loop, 'P1/E1')).toEqual([]);
  });

  it('[QR2] a leg of a three-way names both its points', () => {
    const plan = readPlan(tracks('main 0,60 300,60\nup 100,60 180,10\ndown 100,60 180,110'));
    const legs = (end: readonly [number, number]) =>
      legsOf(plan, plan.places.find(({ at }) => at[0] === end[0] && at[1] === end[1])?.span ?? '').map(
        ({ point, lie }) => `${point} ${lie}`,
      );
    expect(legs([180, 10])).toEqual(['P1 reverse', 'P2 normal']);
    expect(legs([180, 110])).toEqual(['P1 normal', 'P2 reverse']);
    expect(legs([300, 60])).toEqual(['P1 normal', 'P2 normal']);
    expect(legs([0, 60])).toEqual([]);
  });

  it('[QR2] a leg of a double slip names the lie at the other end that leads to it', () => {
    const plan = readPlan(
      tracks('a 0,0 200,0\nb 20,50 180,-50', { crossings: [{ id: 'X1', at: [100, 0], kind: 'double-slip' }] }),
    );
    expect(plan.spans.map(({ id }) => legsOf(plan, id).map(({ point, lie }) => `${point} ${lie}`))).toEqual([
      ['P2 normal'],
      ['P2 reverse'],
      ['P1 reverse'],
      ['P1 normal'],
    ]);
  });
});
