import { describe, expect, it } from 'vitest';
import { integrate } from './integrate.ts';
import { TIGHTEST } from './time-tolerances.ts';

describe('integrate', () => {
  it('[TM5] has the exponential to its tolerance, at each tolerance', () => {
    for (const relative of [1e-4, 1e-6, 1e-8, 1e-10, 1e-12]) {
      const run = integrate(
        (_, [y = 0], into) => {
          into[0] = -y;
        },
        0,
        [1],
        3,
        { relative, absolute: 1e-15 },
      );
      expect(run.done).toBe(true);
      expect(Math.abs((run.state[0] ?? 0) / Math.exp(-3) - 1)).toBeLessThan(30 * relative);
    }
  });

  it('[TM5] has the two-body orbit of Arenstorf closed after its period (Hairer, Norsett and Wanner, II.0)', () => {
    // Restricted three bodies, moon 0.012277471: the initial values are published, and the orbit is closed.
    const m = 0.012277471;
    const period = 17.065216560157964;
    const run = integrate(
      (_, [x = 0, y = 0, vx = 0, vy = 0], into) => {
        const d1 = Math.hypot(x + m, y) ** 3;
        const d2 = Math.hypot(x - 1 + m, y) ** 3;
        into[0] = vx;
        into[1] = vy;
        into[2] = x + 2 * vy - ((1 - m) * (x + m)) / d1 - (m * (x - 1 + m)) / d2;
        into[3] = y - 2 * vx - ((1 - m) * y) / d1 - (m * y) / d2;
      },
      0,
      [0.994, 0, 0, -2.0015851063790824],
      period,
      { relative: 1e-13, absolute: 1e-13 },
    );
    expect(run.done).toBe(true);
    expect(run.state[0]).toBeCloseTo(0.994, 5);
    expect(Math.abs(run.state[1] ?? 1)).toBeLessThan(1e-4);
  });

  it('[TM6] locates events between steps: each crossing of a cosine, rising, falling, either', () => {
    const seen = (crossing: 'rising' | 'falling' | 'either') =>
      integrate(
        (_, [x = 0, v = 0], into) => {
          into[0] = v;
          into[1] = -x;
        },
        0,
        [1, 0],
        10,
        { ...TIGHTEST, events: [{ value: (_, [x = 0]) => x, crossing, ends: false }] },
      ).happened.map((each) => each.seconds);
    const halves = [1, 3, 5].map((k) => (k * Math.PI) / 2);
    seen('either').forEach((t, k) => {
      expect(t).toBeCloseTo(halves[k] ?? Number.NaN, 10);
    });
    expect(seen('either')).toHaveLength(3);
    expect(seen('falling')).toHaveLength(2);
    expect(seen('rising')).toHaveLength(1);
  });

  it('[TM6] ends at the first event that says so, with the state of that instant', () => {
    const run = integrate(
      (_, __, into) => {
        into[0] = 1;
      },
      0,
      [0],
      10,
      { events: [{ value: (_, [y = 0]) => y - 3, crossing: 'rising', ends: true }] },
    );
    expect(run.seconds).toBeCloseTo(3, 12);
    expect(run.state[0]).toBeCloseTo(3, 12);
  });

  it('[TM6] gives any instant of a step to who asks', () => {
    let worst = 0;
    const into = new Float64Array(1);
    integrate(
      (t, _, rate) => {
        rate[0] = Math.cos(t);
      },
      0,
      [0],
      6,
      {
        relative: 1e-10,
        absolute: 1e-10,
        onStep: (from, to, at) => {
          for (const share of [0, 0.3, 0.7, 1]) {
            const t = from + share * (to - from);
            at(t, into);
            worst = Math.max(worst, Math.abs((into[0] ?? 0) - Math.sin(t)));
          }
        },
      },
    );
    expect(worst).toBeLessThan(1e-8);
  });

  it('leaves the start as it was, steps no longer than it may, and says when it gives up', () => {
    const start = new Float64Array([1]);
    let longest = 0;
    integrate(
      (_, [y = 0], into) => {
        into[0] = -y;
      },
      0,
      start,
      1,
      {
        longest: 0.01,
        onStep: (from, to) => {
          longest = Math.max(longest, to - from);
        },
      },
    );
    expect(start[0]).toBe(1);
    expect(longest).toBeLessThanOrEqual(0.01 * (1 + 1e-12));
    // y' = y^2 from 1 has no value at 1: it must stop before, and say so.
    const burst = integrate(
      (_, [y = 0], into) => {
        into[0] = y * y;
      },
      0,
      [1],
      2,
    );
    expect(burst.done).toBe(false);
    expect(burst.seconds).toBeLessThan(1.0001);
    expect(() => integrate(() => undefined, 1, [0], 1)).toThrow(RangeError);
  });
});
