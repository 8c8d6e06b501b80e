import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { PanelFile } from '../../panel/index.ts';
import { joinAngle, LOUPE, loupeSpot } from './loupe-spot.ts';

/** Half a fingertip: about 10 mm across, from memory. px at 96 to the inch. */
const FINGER = 20;

it('the loupe is off the finger and never off the view (seed 733)', () => {
  const size = fc.record({ width: fc.integer({ min: 480, max: 2000 }), height: fc.integer({ min: 360, max: 1400 }) });
  fc.assert(
    fc.property(size, fc.nat({ max: 1000 }), fc.nat({ max: 1000 }), (view, a, b) => {
      const finger = [(a / 1000) * view.width, (b / 1000) * view.height] as const;
      const [x, y] = loupeSpot(finger, view);
      expect(Math.hypot(x - finger[0], y - finger[1])).toBeGreaterThanOrEqual(LOUPE.radius + FINGER);
      expect(Math.min(x, y, view.width - x, view.height - y)).toBeGreaterThanOrEqual(LOUPE.radius);
    }),
    { seed: 733 },
  );
});

it('in a view too small for it, it stays in the view', () => {
  expect(loupeSpot([100, 100], { width: 200, height: 200 })).toEqual([100, 96]);
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
  // arctan(30 / 48) = 32.005 degrees; square on: 90; along it: 0.
  expect(joinAngle(panel, [52, 20], [100, 50], null)).toBeCloseTo(32.005, 3);
  expect(joinAngle(panel, [148, 80], [100, 50], null)).toBeCloseTo(32.005, 3);
  expect(joinAngle(panel, [100, 0], [100, 50], null)).toBe(90);
  expect(joinAngle(panel, [20, 50], [100, 50], null)).toBe(0);
  expect(joinAngle(panel, [52, 20], [100, 20], null)).toBeNull();
  expect(joinAngle(panel, [52, 20], [100, 50], 'main')).toBeNull();
  expect(joinAngle(panel, [100, 50], [100, 50], null)).toBeNull();
});
