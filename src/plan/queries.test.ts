import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import { legsOf, readPlan, spanAt } from './index.ts';

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
