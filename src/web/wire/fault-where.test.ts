import { describe, expect, it } from 'vitest';
import { faultWhere, placesIn } from './fault-where.ts';

const words = new Map([
  ['W1', 'S1.p to FU-S1.1, RD'],
  ['A', '25-way D-subminiature'],
  ['A.7', 'A.7 to D4.a'],
  ['A.8', 'A.8 to D4.b'],
  ['H3', 'on Shed road'],
]);
const known = (id: string): string | undefined => words.get(id);

describe('where a fault is', () => {
  it('is from where to where a wire runs', () => {
    expect(faultWhere({ at: ['W1'] }, known)).toBe('S1.p to FU-S1.1, RD');
  });
  it('is what two pins lead to, and of a whole connector what it is', () => {
    expect(faultWhere({ at: ['A.7', 'A.8'] }, known)).toBe('A.7 to D4.a; A.8 to D4.b');
    expect(faultWhere({ at: ['A', 'A.7', 'A.8'] }, known)).toBe('25-way D-subminiature');
  });
  it('is nothing where nothing more is known', () => {
    expect(faultWhere({ at: ['R-G1'] }, known)).toBe('');
    expect(faultWhere({ at: [] }, known)).toBe('');
  });
});

describe('what is known of the parts of a circuit', () => {
  const panel = {
    strips: [
      { id: 's1', name: 'Shed road', path: [[0, 0] as const, [100, 0] as const] },
      { id: 's2', path: [[0, 50] as const, [100, 50] as const] },
    ],
  };
  type Shown = Parameters<typeof placesIn>[0];
  type Places = Parameters<typeof placesIn>[1];
  const symbol = (kind: string, id: string, note: string) => ({ kind, id, note });
  const shown = {
    wires: [{ id: 'W9', from: 'L4.t2', to: 'A.7', colour: 'GN', gauge: 0.22, length: 100, side: 'panel' }],
    connectors: [{ id: 'A', name: '25-way D-subminiature', pins: [{ id: 'A.7', to: 'D4.a' }] }],
    model: {
      symbols: [
        symbol('contact', 'L4.1', ''),
        symbol('contact', 'L5.1', ''),
        symbol('resistor', 'R-G1', '390 Ω'),
        symbol('motor', 'D4', 'P4'),
      ],
    },
  } as unknown as Shown;
  const places = {
    panel,
    face: { lamps: [{ id: 'H3', at: [40, 2] }] },
    points: [{ id: 'P4', at: [50, 49] }],
    circuits: [{ id: 'L4', kind: 'lever', name: 'Quay cross' }],
  } as unknown as Places;
  it('is said of wires, pins, poles, drives, points and lamps', () => {
    const of = placesIn(shown, places);
    const wanted = {
      W9: 'L4.t2 to A.7, GN',
      'A.7': 'A.7 to D4.a',
      A: '25-way D-subminiature',
      'L4.1': 'switch of L4 Quay cross',
      'L5.1': 'switch of L5',
      'R-G1': '390 Ω',
      D4: 'moves P4',
      P4: 'on Strip 2',
      H3: 'on Shed road',
    };
    expect(Object.fromEntries(Object.keys(wanted).map((id) => [id, of(id)]))).toEqual(wanted);
    expect(of('R-G9')).toBe(undefined);
  });
});
