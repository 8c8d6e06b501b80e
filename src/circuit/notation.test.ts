import { describe, expect, test } from 'vitest';
import { netlistOf } from './notation.ts';

describe('netlistOf', () => {
  test('reads every kind', () => {
    expect(
      netlistOf(
        'S1 p m 12V/0.5; R1 p x 4.7k\nW1 x y; W2 y z 20m; C1 z u on; C2 z u off/0.05; O1 u m; D1 u m 1e-18,2,5',
        'm',
      ),
    ).toEqual({
      reference: 'm',
      elements: [
        { id: 'S1', a: 'p', b: 'm', kind: 'source', volts: 12, ohms: 0.5 },
        { id: 'R1', a: 'p', b: 'x', kind: 'resistor', ohms: 4700 },
        { id: 'W1', a: 'x', b: 'y', kind: 'wire', ohms: 0 },
        { id: 'W2', a: 'y', b: 'z', kind: 'wire', ohms: 0.02 },
        { id: 'C1', a: 'z', b: 'u', kind: 'contact', closed: true, ohms: 0 },
        { id: 'C2', a: 'z', b: 'u', kind: 'contact', closed: false, ohms: 0.05 },
        { id: 'O1', a: 'u', b: 'm', kind: 'open' },
        { id: 'D1', a: 'u', b: 'm', kind: 'diode', law: { is: 1e-18, n: 2, rs: 5 } },
      ],
    });
  });

  test('shows the line that it cannot read', () => {
    for (const line of ['R1 p', 'R1 p m 4k7', 'X1 p m 3', 'S1 p m 12', 'C1 p m half', 'D1 p m 1,2', 'R1 p m 1 2']) {
      expect(() => netlistOf(line)).toThrow(`"${line}"`);
    }
  });
});
