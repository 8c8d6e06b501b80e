import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, type PanelFile, type Transaction } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { lampsThatFit, strewAlong, strewLegs, strewSpan } from './index.ts';

const lampsOf = (panel: PanelFile, tx: Transaction | null) =>
  applyTransaction(panel, tx ?? { name: 'nothing.done', changes: [] }).lamps ?? [];
const YARD = tracks('main 0,60 300,60\nb 100,60 140,85 240,85');

describe('lamps in a row', () => {
  it('stand evenly from here to there, both included', () => {
    const row = lampsOf(YARD, strewAlong(YARD, { strip: 'main', from: [120, 61], to: [180, 58] }, { count: 4 }));
    expect(row.map(({ at }) => at)).toEqual([
      [120, 60],
      [140, 60],
      [160, 60],
      [180, 60],
    ]);
    expect(row.map(({ shows }) => shows)).toEqual(Array.from({ length: 4 }, () => ({ P1: 'normal' })));
    const one = lampsOf(YARD, strewAlong(YARD, { strip: 'main', from: [180, 60], to: [120, 60] }, { count: 1 }));
    expect(one.map(({ at }) => at)).toEqual([[150, 60]]);
  });

  it('are no more than fit', () => {
    expect(lampsThatFit(30, { count: 9, apart: 10 })).toBe(4);
    expect(lampsThatFit(29.9, { count: 9, apart: 10 })).toBe(3);
    expect(lampsThatFit(0, { count: 9 })).toBe(1);
    expect(lampsThatFit(30, { count: -2 })).toBe(0);
    expect(lampsThatFit(30, { count: 2, apart: 0 })).toBe(0);
    expect(strewAlong(YARD, { strip: 'main', from: [0, 60], to: [9, 60] }, { count: 0 })).toBe(null);
    expect(strewAlong(YARD, { strip: 'nobody', from: [0, 60], to: [9, 60] }, { count: 2 })).toBe(null);
  });

  it('fill a leg between two features, on the tape where it bends', () => {
    const span = readPlan(YARD).points[0]?.reverse.span ?? '';
    const row = lampsOf(YARD, strewSpan(YARD, span, { count: 40, apart: 4, lamp: { part: 'led-3-green' } }));
    // 47.170 + 100, less 0.134 at the bend, less 24: 123.036 mm, 31 lamps 4.1 mm apart.
    expect(row).toHaveLength(31);
    expect(row.every(({ shows, part }) => JSON.stringify(shows) === '{"P1":"reverse"}' && part === 'led-3-green')).toBe(
      true,
    );
    // The first and the last are 12 mm from the point and the end.
    const first = row[0]?.at ?? [0, 0];
    const last = row[30]?.at ?? [0, 0];
    expect(Math.hypot(first[0] - 100, first[1] - 60)).toBeCloseTo(12, 2);
    expect(last).toEqual([228, 85]);
    // At the bend of 9 mm the tape passes inside its corner at 140,85: r (1 / cos 16 - 1) = 0.363 mm.
    const nearest = Math.min(...row.map(({ at }) => Math.hypot((at[0] ?? 0) - 140, (at[1] ?? 0) - 85)));
    expect(nearest).toBeGreaterThan(0.36);
    expect(strewSpan(YARD, 'nowhere', { count: 2 })).toBe(null);
  });

  it('stand on both legs of a point as opposed pairs', () => {
    const row = lampsOf(YARD, strewLegs(YARD, 'P1', { count: 3 }));
    expect(row.map(({ id, shows }) => [id, shows])).toEqual([
      ['H1', { P1: 'normal' }],
      ['H2', { P1: 'reverse' }],
      ['H3', { P1: 'normal' }],
      ['H4', { P1: 'reverse' }],
      ['H5', { P1: 'normal' }],
      ['H6', { P1: 'reverse' }],
    ]);
    expect(row.filter((_, i) => i % 2 === 0).every(({ at }) => at[1] === 60)).toBe(true);
    // As far along the one leg as along the other: the first pair 12 mm from the toe.
    expect([0, 1].map((i) => Math.hypot((row[i]?.at[0] ?? 0) - 100, (row[i]?.at[1] ?? 0) - 60))).toEqual([
      12,
      expect.closeTo(12, 2),
    ]);
    expect(strewLegs(YARD, 'P9', { count: 3 })).toBe(null);
  });

  it('of a loop show the points at both ends', () => {
    const loop = tracks('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60');
    const row = lampsOf(loop, strewAlong(loop, { strip: 'loop', from: [110, 85], to: [190, 85] }, { count: 2 }));
    expect(row.map(({ shows }) => shows)).toEqual([
      { P1: 'reverse', P2: 'reverse' },
      { P1: 'reverse', P2: 'reverse' },
    ]);
  });
});
