import { describe, expect, test } from 'vitest';
import { boundsOf, opsInside, opsWithin } from './bounds.ts';
import { describeOps, type Op, pt } from './page.ts';
import { writeDxf } from './write-dxf.ts';

const quarter: Op = {
  op: 'path',
  steps: [
    { go: 'move', to: [0, 10] },
    { go: 'arc', to: [10, 0], centre: [10, 10], radius: 10, clockwise: true },
  ],
  stroke: '#000000',
  width: 5,
};

describe('pages', () => {
  test('a point is 1/72 inch', () => {
    expect(pt(72)).toBeCloseTo(25.4, 12);
  });
  test('operations can be read', () => {
    const ops: Op[] = [
      { op: 'circle', at: [1, 2], radius: 1.6 },
      {
        op: 'group',
        layer: 'HOLES',
        shift: [0, 0],
        scale: 1,
        turn: 0,
        clip: null,
        ops: [{ op: 'line', from: [0, 0], to: [1, 1] }],
      },
    ];
    expect(describeOps(ops)).toEqual(['circle 1,2 r 1.6', 'group HOLES 0,0', '  line 0,0 1,1']);
  });
  test('bounds hold what is drawn', () => {
    expect(boundsOf({ op: 'circle', at: [5, 5], radius: 2 })).toEqual([3, 3, 7, 7]);
    const [x0, y0] = boundsOf(quarter);
    expect(x0).toBeLessThanOrEqual(0);
    expect(y0).toBeLessThanOrEqual(0);
  });
  test('a window keeps what reaches into it, or only what is whole in it', () => {
    const ops: Op[] = [
      { op: 'circle', at: [0, 0], radius: 2 },
      { op: 'circle', at: [5, 5], radius: 2 },
      { op: 'circle', at: [50, 5], radius: 2 },
    ];
    expect(opsWithin(ops, [0, 0, 10, 10])).toHaveLength(2);
    expect(opsInside(ops, [0, 0, 10, 10])).toHaveLength(1);
  });
});

describe('DXF', () => {
  // DXF reference: the bulge is the tangent of a quarter of the included angle, negative when it goes clockwise from start to end.
  test('a quarter circle clockwise has the bulge -tan(22.5 degrees), y turned up', () => {
    const lines = writeDxf({
      size: [20, 20],
      ops: [{ op: 'group', layer: 'TAPE', shift: [0, 0], scale: 1, turn: 0, clip: null, ops: [quarter] }],
      bookmarks: [],
      names: [],
    })
      .split('\n')
      .map((line) => line.trim());
    const start = lines.indexOf('LWPOLYLINE');
    const value = (code: string): number => Number(lines[lines.indexOf(code, start) + 1]);
    expect(value('42')).toBeCloseTo(-Math.tan(Math.PI / 8), 5);
    expect(value('43')).toBe(5);
    expect([value('10'), value('20')]).toEqual([0, 10]);
  });
});
