import { describe, expect, it } from 'vitest';
import { followStiff } from './follow-stiff.ts';

const OPTIONS = { relative: 1e-7, absolute: 1e-10, longest: 0.1 };

describe('followStiff', () => {
  /** y' = -k (y - cos t), which runs to (k^2 cos t + k sin t) / (1 + k^2) within 1 / k (Prothero and Robinson's kind). */
  const behind = (k: number) => ({
    rate: (t: number, y: number) => -k * (y - Math.cos(t)),
    perState: () => -k,
    perSecond: (t: number) => -k * Math.sin(t),
  });

  it.each([1, 1e3, 1e6, 1e9])(
    '[TM18] follows a cosine at a pace of %d a second, in some thousand steps whatever the pace',
    (k) => {
      const run = followStiff(behind(k), 0, 0, 2, OPTIONS);
      expect(run.done).toBe(true);
      expect(run.steps).toBeLessThan(5000);
      const c = -(k * k) / (1 + k * k);
      const exact = (k * k * Math.cos(2) + k * Math.sin(2)) / (1 + k * k) + c * Math.exp(-2 * k);
      expect(Math.abs(run.y - exact)).toBeLessThan(2e-5);
    },
  );

  it('gives any instant of a step', () => {
    let worst = 0;
    followStiff({ rate: (t) => Math.cos(t), perState: () => 0, perSecond: (t) => -Math.sin(t) }, 0, 0, 3, {
      ...OPTIONS,
      onStep: (from, to, at) => {
        for (const x of [0, 0.25, 0.5, 0.75, 1]) {
          const t = from + x * (to - from);
          worst = Math.max(worst, Math.abs(at(t) - Math.sin(t)));
        }
      },
    });
    expect(worst).toBeLessThan(2e-5);
  });

  it('says when it gives up', () => {
    const burst = {
      rate: (_: number, y: number) => y * y,
      perState: (_: number, y: number) => 2 * y,
      perSecond: () => 0,
    };
    expect(followStiff(burst, 0, 1, 2, OPTIONS).done).toBe(false);
  });
});
