import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import type { PanelFile } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import { angleAtJoin, angleAtPoint, cornerLength, distanceBetween, lengthOfStrip, meetingAt } from './index.ts';

const PANEL = tracks('main 0,60 300,60\nbent 0,100 100,100 100,200\nb 100,60 140,85 240,85', {
  platforms: [{ at: [20, 70], size: [40, 10] }],
  lamps: [
    { id: 'H1', at: [30, 60] },
    { id: 'H2', at: [33, 64] },
  ],
});
const strip = (id: string) => ({ list: 'strips' as const, id });

describe('measures', () => {
  it('of a strip as its tape lies: a square bend of radius r is shorter by (2 - pi / 2) r', () => {
    const [, bent] = PANEL.strips;
    if (bent === undefined) throw new Error('no strip');
    expect(cornerLength(bent)).toBe(200);
    expect(lengthOfStrip(bent)).toBeCloseTo(200 - (2 - Math.PI / 2) * 9, 9);
    expect(lengthOfStrip({ ...bent, bend: 0 })).toBe(200);
    expect(lengthOfStrip({ id: 'none', path: [] })).toBe(0);
  });

  it('of the angle at a join', () => {
    const steep = (Math.atan2(25, 40) * 180) / Math.PI;
    expect(angleAtJoin(PANEL, 'b', 'main')).toBeCloseTo(steep, 9);
    expect(angleAtPoint(readPlan(PANEL), 'P1')).toBeCloseTo(steep, 9);
    expect(angleAtJoin(PANEL, 'bent', 'main')).toBe(null);
    expect(angleAtJoin(PANEL, 'main', 'nobody')).toBe(null);
    expect(angleAtPoint(readPlan(PANEL), 'P7')).toBe(null);
  });

  it('of the distance between two things', () => {
    const lamps = distanceBetween(PANEL, { list: 'lamps', id: 'H1' }, { list: 'lamps', id: 'H2' });
    expect(lamps).toEqual({ distance: 5, across: 3, down: 4, from: [30, 60], to: [33, 64] });
    expect(distanceBetween(PANEL, strip('main'), strip('bent'))?.distance).toBe(40);
    expect(distanceBetween(PANEL, strip('main'), strip('b'))?.distance).toBe(0);
    expect(distanceBetween(PANEL, strip('main'), { list: 'platforms', id: 0 })?.distance).toBe(10);
    expect(distanceBetween(PANEL, [10, 10], { ...strip('main'), part: 1 })?.across).toBe(290);
    expect(distanceBetween(PANEL, [10, 10], strip('nobody'))).toBe(null);
  });

  it('of strips that cross is nought, where they cross', () => {
    const cross = tracks('a 0,0 100,100\nb 0,100 100,0');
    expect(distanceBetween(cross, strip('a'), strip('b'))).toEqual({
      distance: 0,
      across: 0,
      down: 0,
      from: [50, 50],
      to: [50, 50],
    });
  });
});

it('tells the angle at which a stretch meets the strip that it ends on', () => {
  const panel: PanelFile = {
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 50],
          [200, 50],
        ],
      },
    ],
  };
  const angleOf = (from: Spot, end: Spot, own: string | null) => meetingAt(panel, from, end, own)?.angle ?? null;
  // arctan(30 / 48) = 32.005 degrees; square on: 90; along it: 0.
  expect(angleOf([52, 20], [100, 50], null)).toBeCloseTo(32.005, 3);
  expect(angleOf([148, 80], [100, 50], null)).toBeCloseTo(32.005, 3);
  expect(angleOf([100, 0], [100, 50], null)).toBe(90);
  expect(angleOf([20, 50], [100, 50], null)).toBe(0);
  expect(angleOf([52, 20], [100, 20], null)).toBeNull();
  expect(angleOf([52, 20], [100, 50], 'main')).toBeNull();
  expect(angleOf([100, 50], [100, 50], null)).toBeNull();
});
