import { describe, expect, it } from 'vitest';
import { ladder, lampOf, wireFile } from './panel-wired.ts';
import { decidersOf, positionsOfLever, statesOf } from './states.ts';
import type { Wiring } from './types.ts';

function of(wiring: Wiring, id: string) {
  const circuit = wiring.circuits.find((each) => each.id === id);
  if (circuit === undefined) throw new Error(`no circuit ${id} among ${wiring.circuits.map((each) => each.id)}`);
  return circuit;
}

const lies = (points: number, lie: string) =>
  Object.fromEntries(Array.from({ length: points }, (_, i) => [`P${i + 1}`, lie]));

/** One lamp behind a contact on the blades of every point. */
const road = (points: number, more: object = {}) =>
  wireFile(
    ladder(points, { lighting: { scheme: 'blade-contact' }, lamps: [lampOf('H1', lies(points, 'reverse'))], ...more }),
  ).wiring;

describe('statesOf', () => {
  it('[ST1] a lever by itself: both positions, and the middle where it has one; let go, a sprung one has none', () => {
    const states = (part: string) => {
      const wiring = road(1, { levers: [{ id: 'L1', works: [{ point: 'P1' }], switch: part }] });
      return statesOf(wiring, of(wiring, 'L1')).map(({ levers }) => levers.L1);
    };
    expect(states('toggle-2p')).toEqual(['normal', 'reverse']);
    expect(states('toggle-2p-centre-off')).toEqual(['normal', 'reverse', 'centre']);
    const pulse = road(1, { points: [{ id: 'P1', at: [60, 60], drive: 'twin-coil' }], feed: { kind: 'pulse' } });
    expect(positionsOfLever(pulse, 'L1')).toEqual(['normal', 'reverse']);
  });

  it('[ST1] a tree is decided by the levers of the drives that it follows; six of them have all 64 states', () => {
    const wiring = road(6);
    const tree = of(wiring, 'TR1');
    expect(decidersOf(wiring, tree)).toEqual(['L1', 'L2', 'L3', 'L4', 'L5', 'L6']);
    const states = statesOf(wiring, tree);
    expect(states.length).toBe(64);
    expect(new Set(states.map(({ levers }) => JSON.stringify(levers))).size).toBe(64);
    expect(states[0]?.levers).toEqual(Object.fromEntries([1, 2, 3, 4, 5, 6].map((n) => [`L${n}`, 'normal'])));
  });

  it('[ST1] points that a hand works have their lie as history', () => {
    const hand = {
      points: [{ id: 'P1', at: [60, 60], drive: 'hand' }],
      levers: [{ id: 'L2', works: [{ point: 'P2' }] }],
    };
    const alone = wireFile(ladder(2, { ...hand, lamps: [lampOf('H1', { P1: 'normal' })] })).wiring;
    expect(statesOf(alone, of(alone, 'P1'))).toEqual([
      { levers: {}, history: { P1: 'normal' } },
      { levers: {}, history: { P1: 'reverse' } },
    ]);
    const both = road(2, hand);
    expect(statesOf(both, of(both, 'TR1')).map(({ levers, history }) => `${levers.L2} ${history.P1}`)).toEqual([
      'normal normal',
      'normal reverse',
      'reverse normal',
      'reverse reverse',
    ]);
  });

  it('[ST2] of seven levers those that matter: the way closed, open at each one contact, all normal and all reverse', () => {
    const wiring = road(7);
    const states = statesOf(wiring, of(wiring, 'TR1')).map(({ levers }) => Object.values(levers));
    // All reverse lights it, each of seven opened alone darkens it, and all normal: nine.
    expect(states.length).toBe(9);
    const reverse = states.map((each) => each.filter((lie) => lie === 'reverse').length).sort();
    expect(reverse).toEqual([0, 6, 6, 6, 6, 6, 6, 6, 7]);
  });

  it('[ST2] the rest lies normal and reverse where a lamp does not ask it, and each lever stands in the middle once', () => {
    const levers = Array.from({ length: 7 }, (_, i) => ({
      id: `L${i + 1}`,
      works: [{ point: `P${i + 1}` }],
      switch: 'toggle-2p-centre-off',
    }));
    const lamps = [lampOf('H1', lies(7, 'normal')), lampOf('H2', { P1: 'reverse' })];
    const wiring = road(7, { lamps, levers });
    const states = statesOf(wiring, of(wiring, 'TR1')).map(({ levers: at }) => at);
    for (let n = 1; n <= 7; n++) expect(states.filter((at) => at[`L${n}`] === 'centre').length).toBe(1);
    const first = (lie: string, rest: string) =>
      states.some((at) => at.L1 === lie && [2, 3, 4, 5, 6, 7].every((n) => at[`L${n}`] === rest));
    expect(['normal', 'reverse'].flatMap((lie) => [first(lie, 'normal'), first(lie, 'reverse')])).toEqual([
      true,
      true,
      true,
      true,
    ]);
  });
});
