import { describe, expect, it } from 'vitest';
import type { WorkView } from '../worker/work-view.ts';
import { faceSpots, fitFace, isCrowded, markSize, nearestSpot, nextSize, stepFrom, tiesOf } from './face-spots.ts';

const point = (id: string, x: number, levers: readonly string[]) => ({
  id,
  at: [x, 0] as const,
  levers,
  drive: 'stall-2-wire',
  what: 'stall' as const,
  shares: [],
  free: levers.length === 0,
  given: false,
});
const lever = (id: string, x: number) => ({ id, at: [x, 50] as const }) as WorkView['levers'][number];
const view = {
  points: [point('P2', 60, ['L1']), point('P1', 10, ['L1']), point('P3', 90, [])],
  levers: [lever('L1', 10), lever('L2', 60)],
} as unknown as WorkView;

describe('spots on the face', () => {
  it('are points from left to right, then levers', () => {
    expect(faceSpots(view).map(({ id, lever: by, place, free }) => [id, by, place, free])).toEqual([
      ['P1', 'L1', 0, false],
      ['P2', 'L1', 0, false],
      ['P3', null, -1, true],
      ['L1', 'L1', 0, false],
      ['L2', 'L2', 1, false],
    ]);
  });
  it('are found by the nearest within reach', () => {
    expect(nearestSpot(faceSpots(view), [52, 3], 20)?.id).toBe('P2');
    expect(nearestSpot(faceSpots(view), [35, 25], 20)).toBe(null);
  });
  it('are gone through round and round', () => {
    expect([
      stepFrom(3, 2, 'ArrowRight'),
      stepFrom(3, 0, 'ArrowUp'),
      stepFrom(3, 1, 'End'),
      stepFrom(3, 1, 'a'),
    ]).toEqual([0, 2, 2, null]);
    expect(stepFrom(0, 0, 'Home')).toBe(null);
  });
});

describe('the face in its room', () => {
  it('fits both ways', () => {
    expect(fitFace({ width: 600, height: 300 }, { width: 640, height: 232 })).toBeCloseTo(200 / 300);
    expect(fitFace({ width: 600, height: 300 }, { width: 640, height: 900 })).toBeCloseTo(1);
  });
});

describe('marks', () => {
  it('shrink so that none covers another, as far as they can be read', () => {
    const spots = faceSpots(view);
    // 30 mm is the least between two points.
    expect(markSize(spots, 'point', 1, 26)).toBe(26);
    expect(markSize(spots, 'point', 0.8, 26)).toBe(24);
    expect(markSize(spots, 'point', 0.1, 26)).toBe(18);
    expect(markSize([], 'lever', 1, 26)).toBe(26);
    expect([isCrowded(spots, 0.5), isCrowded(spots, 0.4)]).toEqual([false, true]);
  });
});

describe('sizes of the face', () => {
  it('go up and down step by step, and no further', () => {
    expect([nextSize(1, 1), nextSize(1, -1), nextSize(4, -1), nextSize(8, 1)]).toEqual([1.5, 1, 3, 8]);
  });
});

describe('ties', () => {
  it('join each to the nearest', () => {
    const spots = [
      [0, 0],
      [100, 0],
      [0, 10],
      [100, 10],
    ] as const;
    expect(tiesOf(spots)).toEqual([
      [
        [0, 0],
        [0, 10],
      ],
      [
        [0, 0],
        [100, 0],
      ],
      [
        [100, 0],
        [100, 10],
      ],
    ]);
    expect(tiesOf([])).toEqual([]);
  });
});
