import { describe, expect, it } from 'vitest';
import type { Strip } from '../panel/index.ts';
import { orderStrips } from './strip-order.ts';

const strip = (id: string, ...path: [number, number][]): Strip => ({ id, path });
const order = (...strips: Strip[]) => orderStrips(strips).map(({ id }) => id);

describe('the order of drawing', () => {
  it('[FA4] a joining end tucks under the through strip, wherever the file has it', () => {
    const main = strip('main', [0, 60], [300, 60]);
    const loop = strip('loop', [60, 60], [90, 85], [210, 85], [240, 60]);
    const siding = strip('siding', [120, 85], [150, 110], [250, 110]);
    expect(order(main, loop, siding)).toEqual(['siding', 'loop', 'main']);
    expect(order(siding, loop, main)).toEqual(['siding', 'loop', 'main']);
  });

  it('[FA4] strips that do not join keep the order of the file; ends that butt are no join', () => {
    const a = strip('a', [0, 10], [100, 10]);
    const b = strip('b', [100, 10], [200, 10]);
    const c = strip('c', [0, 50], [100, 50]);
    expect(order(c, b, a)).toEqual(['c', 'b', 'a']);
  });

  it('[FA4] a ring of joins is cut at the first in the file', () => {
    const a = strip('a', [0, 0], [100, 0], [100, 60]);
    const b = strip('b', [0, 60], [200, 60], [200, 0], [50, 0]);
    expect(order(a, b)).toEqual(['a', 'b']);
    expect(order(b, a)).toEqual(['b', 'a']);
  });
});
