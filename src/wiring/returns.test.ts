import { describe, expect, it } from 'vitest';
import { ladder, wireFile } from './panel-wired.ts';
import { defaultReturn } from './returns.ts';

const split = (points: number, more: object = {}) =>
  wireFile(
    ladder(points, {
      feed: { kind: 'split', supplies: ['S1', 'S2'] },
      supplies: [
        { id: 'S1', volts: 12 },
        { id: 'S2', volts: 12 },
      ],
      ...more,
    }),
  ).wiring;

describe('returns', () => {
  it('[RN1] one way for six drives, and never one alone where more than two hang on it (common practice, no source)', () => {
    expect([1, 2, 3, 6, 12, 13].map(defaultReturn)).toEqual([1, 1, 2, 2, 2, 3]);
  });

  it('[RN1] drives of a split feed share R0, which is the middle; its ways are linked where it ends', () => {
    const wiring = split(3);
    expect(wiring.returns).toEqual([
      {
        id: 'R0',
        supply: 'S1',
        circuits: ['L1', 'L2', 'L3'],
        pins: ['A.4', 'A.5'],
        terminals: ['R0.1', 'R0.2'],
      },
    ]);
    const layout = wiring.wires.filter(({ side }) => side === 'layout').map(({ from, to }) => `${from} ${to}`);
    expect(layout).toEqual([
      'A.4 R0.1',
      'A.5 R0.2',
      'R0.1 R0.2',
      'A.1 P1.a',
      'R0.1 P1.b',
      'A.2 P2.a',
      'R0.1 P2.b',
      'A.3 P3.a',
      'R0.1 P3.b',
    ]);
  });

  it('[RN2] a record gives it its name, its ways and its levers; what it does not name goes back by a return of its own', () => {
    const wiring = split(3, { returns: [{ id: 'R7', supply: 'S1', levers: ['L1', 'L3'], pins: 2 }] });
    expect(wiring.returns.map(({ id, circuits, pins }) => [id, circuits, pins.length])).toEqual([
      ['R7', ['L1', 'L3'], 2],
      ['R0', ['L2'], 1],
    ]);
  });

  it('[RN2] coils and boards go back by one that the file names, else each by its own wire', () => {
    const coils = (returns: readonly object[]) =>
      split(1, {
        feed: { kind: 'pulse' },
        points: [{ id: 'P1', at: [60, 60], drive: 'twin-coil' }],
        returns,
      });
    const layout = (wiring: ReturnType<typeof coils>) =>
      wiring.wires.filter(({ side }) => side === 'layout').map(({ from, to }) => `${from} ${to}`);
    expect(layout(coils([]))).toEqual(['A.1 P1.n', 'A.2 P1.r', 'A.3 P1.com']);
    expect(layout(coils([{ id: 'R7', supply: 'S1' }]))).toEqual(['A.3 R7.1', 'A.1 P1.n', 'A.2 P1.r', 'R7.1 P1.com']);
  });

  it('[RN2] a lever that it names and that is not there is reported', () => {
    expect(split(1, { returns: [{ id: 'R7', supply: 'S1', levers: ['L9'] }] }).problems).toEqual([
      { code: 'return-unknown', return: 'R7', lever: 'L9' },
    ]);
  });

  it('[RN1] R0 is passed over where something else in the file is called that', () => {
    expect(split(1, { places: [{ id: 'r0', at: [0, 60] }] }).returns.map(({ id }) => id)).toEqual(['R1']);
  });
});
