import { describe, expect, it } from 'vitest';
import type { PanelFile } from '../panel/index.ts';
import { TYPICAL_PARTS } from '../parts/index.ts';
import { driveTrap } from './index.ts';

const on = (feed: PanelFile['feed'], supplies: PanelFile['supplies']): PanelFile => ({
  format: 'mimic-panel',
  version: 1,
  strips: [],
  ...(feed === undefined ? {} : { feed }),
  ...(supplies === undefined ? {} : { supplies }),
});
const raw: PanelFile['supplies'] = [{ id: 'S1', volts: 24 }];
const unit: PanelFile['supplies'] = [
  { id: 'S1', volts: 24 },
  { id: 'C1', kind: 'cdu', from: 'S1' },
];

describe('driveTrap', () => {
  // What happens to a twin coil on each feed: common practice, no source.
  it('[CO14] tells a twin coil by what feeds it', () => {
    expect(driveTrap(on(undefined, undefined), 'twin-coil')).toBe('burns');
    expect(driveTrap(on({ kind: 'reversing', supplies: ['C1'] }, unit), 'twin-coil')).toBe('empties');
    expect(driveTrap(on({ kind: 'pulse', supplies: ['C1'] }, unit), 'twin-coil')).toBe('weak-together');
    expect(driveTrap(on({ kind: 'pulse', supplies: ['S1'] }, raw), 'twin-coil')).toBe('burns');
    expect(driveTrap(on({ kind: 'charge', supplies: ['S1'], farads: 0.0022 }, raw), 'twin-coil')).toBe('all-charge');
  });

  it('[CO14] has one for every kind that the catalogue holds, no two alike', () => {
    const kinds = new Set(TYPICAL_PARTS.flatMap((part) => (part.kind === 'drive' ? [part.what] : [])));
    const traps = [...kinds].map((what) => driveTrap(on(undefined, undefined), what));
    expect(new Set(traps).size).toBe(kinds.size);
    expect(kinds.size).toBe(7);
  });
});
