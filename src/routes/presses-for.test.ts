import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import type { PanelFile } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { presser } from './index.ts';
import type { Pressed } from './presses-for.ts';

const loop: PanelFile = {
  ...tracks('main 0,60 300,60\nloop 60,60 90,85 210,85 240,60'),
  levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
};
const plan = readPlan(loop);
const press = (buttons: readonly Pressed[], points: Parameters<ReturnType<typeof presser>>[0]) =>
  presser(plan, buttons)(points);

describe('[LR5] a route beyond its levers', () => {
  const buttons = [
    { id: 'B1', sets: { P2: 'normal' as const } },
    { id: 'B2', sets: { P2: 'reverse' as const } },
  ];
  it('is levers, and the button that throws the rest', () => {
    expect(press(buttons, { P1: 'reverse', P2: 'reverse' })).toEqual({ levers: { L1: 'reverse' }, buttons: ['B2'] });
    expect(press(buttons, { P2: 'normal' })).toEqual({ levers: {}, buttons: ['B1'] });
  });

  it('is none where a point is left', () => {
    expect(press(buttons.slice(0, 1), { P1: 'normal', P2: 'reverse' })).toBe(null);
    expect(press([], { P2: 'normal' })).toBe(null);
  });

  it('takes no button that throws another of its points the other way', () => {
    const both = [{ id: 'B3', sets: { P1: 'normal' as const, P2: 'reverse' as const } }];
    expect(press(both, { P1: 'reverse', P2: 'reverse' })).toBe(null);
    expect(press([...both, ...buttons], { P1: 'reverse', P2: 'reverse' })?.buttons).toEqual(['B2']);
  });

  it('presses one button for two points', () => {
    const free = readPlan({ ...loop, levers: [] });
    const one = [{ id: 'B4', sets: { P1: 'reverse' as const, P2: 'reverse' as const } }];
    expect(presser(free, one)({ P1: 'reverse', P2: 'reverse' })).toEqual({ levers: {}, buttons: ['B4'] });
  });
});
