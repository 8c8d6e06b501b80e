import fc from 'fast-check';
import { expect, it } from 'vitest';
import { LOUPE, loupeSpot } from './loupe-spot.ts';

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
