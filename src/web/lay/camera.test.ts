import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Spot } from '../../units/index.ts';
import {
  type Camera,
  CSS_PX_PER_MM,
  fitted,
  kept,
  panned,
  pinched,
  shareOfTrue,
  showing,
  stepped,
  toFace,
  toView,
  zoomed,
} from './camera.ts';

const FACE = { width: 600, height: 300 };
const VIEW = { width: 988, height: 560 };

const spot: fc.Arbitrary<Spot> = fc.tuple(
  fc.double({ min: -200, max: 900, noNaN: true }),
  fc.double({ min: -200, max: 900, noNaN: true }),
);
const camera: fc.Arbitrary<Camera> = fc
  .record({ pxPerMm: fc.double({ min: 0.3, max: 40, noNaN: true }), at: spot })
  .map((made) => made);

describe('the camera', () => {
  it('draws the whole face when it is fitted, and leaves room below it', () => {
    const made = fitted(FACE, VIEW);
    const [left, top] = toView(made, [0, 0]);
    const [right, bottom] = toView(made, [600, 300]);
    expect(left).toBeCloseTo(VIEW.width - right, 9);
    expect(Math.min(left, top)).toBeGreaterThanOrEqual(20 - 1e-9);
    expect(top).toBeCloseTo(20, 9);
    expect(VIEW.height - bottom).toBeGreaterThanOrEqual(76 - 1e-9);
  });

  it('is at true size where a millimetre of the face is one of the screen (CSS Values 4: 96 px to the inch)', () => {
    expect(shareOfTrue({ pxPerMm: CSS_PX_PER_MM, at: [0, 0] }, CSS_PX_PER_MM)).toBe(1);
    expect(CSS_PX_PER_MM * 25.4).toBeCloseTo(96, 9);
  });

  it('keeps what is under the pointer there when it zooms (seed 701)', () => {
    fc.assert(
      fc.property(camera, spot, fc.double({ min: 0.2, max: 5, noNaN: true }), (made, about, factor) => {
        const before = toFace(made, about);
        const after = toFace(zoomed(made, about, factor), about);
        expect(after[0]).toBeCloseTo(before[0], 6);
        expect(after[1]).toBeCloseTo(before[1], 6);
      }),
      { seed: 701 },
    );
  });

  it('keeps the middle between two fingers under it (seed 702)', () => {
    fc.assert(
      fc.property(camera, spot, spot, spot, spot, (made, p, q, r, s) => {
        const before = toFace(made, [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]);
        const after = toFace(pinched(made, [p, q], [r, s]), [(r[0] + s[0]) / 2, (r[1] + s[1]) / 2]);
        expect(after[0]).toBeCloseTo(before[0], 6);
        expect(after[1]).toBeCloseTo(before[1], 6);
      }),
      { seed: 702 },
    );
  });

  it('never loses the face from sight (seed 703)', () => {
    fc.assert(
      fc.property(camera, spot, (made, by) => {
        const there = kept(panned(made, [by[0] * 50, by[1] * 50]), FACE, VIEW);
        const [left, top] = toView(there, [0, 0]);
        const [right, bottom] = toView(there, [600, 300]);
        for (const [from, to, side, of] of [
          [left, right, VIEW.width, 600],
          [top, bottom, VIEW.height, 300],
        ] as const) {
          const seen = Math.min(side, to) - Math.max(0, from);
          expect(seen).toBeGreaterThanOrEqual(Math.min(80, of * there.pxPerMm) - 1e-6);
        }
      }),
      { seed: 703 },
    );
  });

  it('moves no farther than it must to show a spot (seed 704)', () => {
    fc.assert(
      fc.property(camera, spot, (made, at) => {
        const there = showing(made, at, VIEW);
        const [x, y] = toView(there, at);
        expect(x).toBeGreaterThanOrEqual(80 - 1e-6);
        expect(x).toBeLessThanOrEqual(VIEW.width - 80 + 1e-6);
        expect(y).toBeGreaterThanOrEqual(80 - 1e-6);
        expect(y).toBeLessThanOrEqual(VIEW.height - 80 + 1e-6);
        expect(showing(there, at, VIEW).at[0]).toBeCloseTo(there.at[0], 6);
      }),
      { seed: 704 },
    );
  });

  it('steps up and down and meets true size on the way', () => {
    let made = fitted(FACE, VIEW);
    const shares: number[] = [];
    for (let k = 0; k < 6; k++) {
      made = stepped(made, 1, VIEW, CSS_PX_PER_MM);
      shares.push(Number(shareOfTrue(made, CSS_PX_PER_MM).toFixed(3)));
    }
    expect(shares).toEqual([0.5, 0.67, 0.75, 1, 1.25, 1.5]);
    expect(shareOfTrue(stepped(made, -1, VIEW, CSS_PX_PER_MM), CSS_PX_PER_MM)).toBeCloseTo(1.25, 6);
  });
});
