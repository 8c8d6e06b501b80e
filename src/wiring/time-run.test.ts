import { describe, expect, it } from 'vitest';
import { ladder, wireFile } from './panel-wired.ts';
import { timeFor } from './time-run.ts';

const run = (feed: object, supplies: readonly object[], circuits: ReadonlySet<string> | null = null) =>
  timeFor(
    wireFile(ladder(2, { feed, supplies, points: [{ id: 'P1', at: [60, 60] }], levers: LEVERS })).wiring,
    circuits,
  );
/** L2 stays on a reversing feed from a supply of its own. */
const LEVERS = [
  { id: 'L1', works: [{ point: 'P1' }] },
  { id: 'L2', works: [{ point: 'P2' }], feed: { kind: 'reversing', supplies: ['S2'] } },
];
const S2 = { id: 'S2' };

describe('timeFor', () => {
  it('[TI1] nothing changes with time where all is held', () => {
    expect(run({ kind: 'reversing' }, [{ id: 'S1' }, S2])).toBeNull();
  });

  it('[TI1] an alternating supply runs for fifty cycles in steps of a two-hundredth, of 50 Hz unless it says otherwise', () => {
    const half = { kind: 'half-wave' };
    const own = run(half, [{ id: 'S1', kind: 'ac', farads: 0.0022 }, S2]);
    expect(own?.stop).toBeCloseTo(1, 12);
    expect(own?.step).toBeCloseTo(1 / 50 / 200, 12);
    const sixty = run(half, [{ id: 'S1', kind: 'ac', frequency: 60 }, S2]);
    expect(sixty?.stop).toBeCloseTo(50 / 60, 12);
    // The whole run is whole cycles, the last of which holds the means.
    expect(((sixty?.stop ?? 0) * 60) % 1).toBeCloseTo(0, 9);
  });

  it('[TI1] pulse and charge run until lamps have settled; circuits that are held need no run', () => {
    for (const kind of ['pulse', 'charge']) {
      const feed = { kind, farads: 0.0022 };
      expect(run(feed, [{ id: 'S1' }, S2])?.stop).toBe(0.5);
      expect(run(feed, [{ id: 'S1' }, S2], new Set(['L1']))?.stop).toBe(0.5);
      expect(run(feed, [{ id: 'S1' }, S2], new Set(['L2']))).toBeNull();
    }
  });
});
