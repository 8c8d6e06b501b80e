import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { covers, deedsSpot } from './deeds-spot.ts';

const SEED = 713;
const view = { width: 1000, height: 540 };
const bar = { width: 360, height: 50 };

describe('where the bar of deeds stands', () => {
  it('stands above what is picked, in its middle', () => {
    expect(deedsSpot({ left: 300, top: 200, right: 500, bottom: 260 }, bar, view)).toEqual({ left: 220, top: 136 });
  });
  it('stands below where there is no room above', () => {
    expect(deedsSpot({ left: 300, top: 20, right: 500, bottom: 60 }, bar, view)).toEqual({ left: 220, top: 74 });
  });
  it('stands beside what is as high as the view', () => {
    expect(deedsSpot({ left: 100, top: 0, right: 200, bottom: 540 }, bar, view).left).toBe(214);
    expect(deedsSpot({ left: 800, top: 0, right: 900, bottom: 540 }, bar, view).left).toBe(800 - 14 - 360);
  });
  it('stays off what stands at the bottom of the view', () => {
    const { top } = deedsSpot({ left: 300, top: 20, right: 500, bottom: 450 }, bar, view, 70);
    expect(top + bar.height).toBeLessThanOrEqual(540 - 70);
  });
  it(`is always on the view, and off the thing where there is room (seed ${SEED})`, () => {
    const at = fc.integer({ min: -800, max: 1800 });
    const size = fc.integer({ min: 0, max: 1600 });
    fc.assert(
      fc.property(at, at, size, size, (left, top, width, height) => {
        const thing = { left, top, right: left + width, bottom: top + height };
        const spot = deedsSpot(thing, bar, view);
        const pane = { ...spot, right: spot.left + bar.width, bottom: spot.top + bar.height };
        expect(pane.left).toBeGreaterThanOrEqual(0);
        expect(pane.top).toBeGreaterThanOrEqual(0);
        expect(pane.right).toBeLessThanOrEqual(view.width);
        expect(pane.bottom).toBeLessThanOrEqual(view.height);
        const room =
          top - 14 - bar.height >= 8 ||
          thing.bottom + 14 + bar.height <= view.height - 8 ||
          thing.right + 14 + bar.width <= view.width - 8 ||
          left - 14 - bar.width >= 8;
        if (room) expect(covers(thing, pane)).toBe(0);
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
});
