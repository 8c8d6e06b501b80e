import { describe, expect, it } from 'vitest';
import { bentPath, nearestOn, pathLength, strokePath } from './geometry.ts';

describe('bentPath', () => {
  it('bends a corner of 32 degrees as the drawing of the running line does', () => {
    // Tangent of a bend of radius 9 at atan(30/48): 9 tan(16.0 deg) = 2.581, so the bend begins at 100 - 2.581 (geometry).
    expect(
      bentPath(
        [
          [0, 96],
          [100, 96],
          [148, 126],
        ],
        9,
      ),
    ).toBe('M0 96L97.419 96A9 9 0 0 1 102.189 97.368L148 126');
  });
  it('leaves a straight corner unbent and drops a corner that is there twice', () => {
    expect(
      bentPath(
        [
          [0, 0],
          [5, 0],
          [5, 0],
          [10, 0],
        ],
        9,
      ),
    ).toBe('M0 0L5 0L10 0');
  });
  it('tightens a bend that has no room', () => {
    // Square corner with 4 on one side: half of it, 2, is the reach, and at 90 degrees the radius is the reach.
    expect(
      bentPath(
        [
          [0, 0],
          [4, 0],
          [4, 40],
        ],
        9,
      ),
    ).toBe('M0 0L2 0A2 2 0 0 1 4 2L4 40');
  });
  it('gives nothing for less than a line', () => {
    expect(bentPath([[1, 1]], 9)).toBe('');
    expect(bentPath([], 9)).toBe('');
  });
});

describe('strokePath', () => {
  it('joins strokes that follow one another and turns an arc the way it says', () => {
    expect(
      strokePath([
        { kind: 'line', from: [0, 0], to: [10, 0] },
        { kind: 'arc', from: [10, 0], to: [12, 2], centre: [10, 2], radius: 2, clockwise: true },
        { kind: 'line', from: [20, 2], to: [30, 2] },
      ]),
    ).toBe('M0 0L10 0A2 2 0 0 1 12 2M20 2L30 2');
  });
});

describe('measuring', () => {
  it('measures along corners', () => {
    expect(
      pathLength([
        [0, 0],
        [3, 4],
        [3, 10],
      ]),
    ).toBe(11);
    expect(pathLength([])).toBe(0);
  });
  it('finds the nearest place on a line and how far along it is', () => {
    expect(
      nearestOn(
        [4, 3],
        [
          [0, 0],
          [10, 0],
          [10, 10],
        ],
      ),
    ).toEqual({ gap: 3, along: 4 });
    expect(
      nearestOn(
        [12, 6],
        [
          [0, 0],
          [10, 0],
          [10, 10],
        ],
      ),
    ).toEqual({ gap: 2, along: 16 });
    expect(nearestOn([0, 0], []).gap).toBe(Number.POSITIVE_INFINITY);
  });
});
