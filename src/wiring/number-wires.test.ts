import { describe, expect, it } from 'vitest';
import { checkPanel } from '../panel/index.ts';
import { type Join, panelJoin } from './join.ts';
import { numberWires } from './number-wires.ts';
import type { WiringProblem } from './types.ts';

const LAYOUT: Join = {
  from: 'A.1',
  to: 'D1.a',
  circuit: 'L1',
  feeds: null,
  net: 'L1.t2',
  side: 'layout',
  // 0.017241 x 3 m / 0.22 mm2 = 0.23510 ohm.
  ohms: (0.017241 * 3) / 0.22,
  run: { length: 3000, gauge: 0.22 },
};
const JOINS: readonly Join[] = [
  panelJoin('S1.p', 'L1.t1', 'S1', 'S1.p'),
  panelJoin('L1.t2', 'A.1', 'L1', 'L1.t2'),
  LAYOUT,
];

function number(more: object) {
  const read = checkPanel({ format: 'mimic-panel', version: 1, strips: [], ...more });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const problems: WiringProblem[] = [];
  const wires = numberWires(read.panel, JOINS, problems);
  return { wires, ids: wires.map(({ id }) => id), problems };
}

const ENDS = { from: 'A.1', to: 'D1.a' };

describe('numberWires', () => {
  it('[WI4] numbers in order, past what is used or retired, case aside', () => {
    expect(number({}).ids).toEqual(['W1', 'W2', 'W3']);
    expect(number({ retired: ['W1'], places: [{ id: 'w3', at: [0, 0] }] }).ids).toEqual(['W2', 'W4', 'W5']);
  });

  it('[WI4] knows a wire by its two ends, either way round, and keeps its number and figures', () => {
    const { wires } = number({
      wires: [{ id: 'W1', from: 'D1.a', to: 'A.1', colour: 'BN', gauge: 0.5, length: 6000 }],
    });
    expect(wires.map(({ id }) => id)).toEqual(['W2', 'W3', 'W1']);
    expect(wires[2]).toMatchObject({ ...ENDS, colour: 'BN', gauge: 0.5, length: 6000 });
    // What the file says of its wire is what it loses: 0.017241 x 6 m / 0.5 mm2.
    expect(wires[2]?.ohms).toBeCloseTo((0.017241 * 6) / 0.5, 9);
    expect(number({}).wires[2]?.ohms).toBeCloseTo((0.017241 * 3) / 0.22, 9);
    // A wire inside the panel loses nothing, however long.
    expect(number({ wires: [{ id: 'W9', from: 'L1.t2', to: 'A.1', length: 300 }] }).wires[1]?.ohms).toBe(0);
  });

  it('[WI4] keeps what is built: number and figures; a number built elsewhere is never given again', () => {
    const built = { wires: { W2: { ...ENDS, colour: 'BU', gauge: 0.14, length: 2000 }, W1: { from: 'X', to: 'Y' } } };
    const { wires, ids } = number({ built });
    expect(ids).toEqual(['W3', 'W4', 'W2']);
    expect(wires[2]).toMatchObject({ colour: 'BU', gauge: 0.14, length: 2000 });
    // The same wire in the file: what is built stands, what it does not say may be added.
    const both = number({ built: { wires: { W2: ENDS } }, wires: [{ id: 'W2', ...ENDS, colour: 'PK' }] });
    expect([both.ids, both.wires[2]?.colour]).toEqual([['W1', 'W3', 'W2'], 'PK']);
  });

  it('[WI4] gives one number to one wire, even where the file moves a built one', () => {
    const moved = number({
      built: { wires: { W7: ENDS } },
      wires: [{ id: 'W7', from: 'L1.t2', to: 'A.1' }],
    });
    expect(moved.ids).toEqual(['W1', 'W2', 'W7']);
  });

  it('[WI4] reports a wire of the file that joins nothing', () => {
    expect(number({ wires: [{ id: 'W5', from: 'A.9', to: 'D9.a' }] }).problems).toEqual([
      { code: 'wire-joins-nothing', wire: 'W5', from: 'A.9', to: 'D9.a' },
    ]);
  });
});
