import { describe, expect, it } from 'vitest';
import { type Derived, derive } from '../derive.ts';
import type { PanelFile } from '../panel/index.ts';
import { leadOf } from './circuit-pages.ts';

/** Two points one behind the other, and a lamp that shows both: a tree over poles of both levers. */
const BASE: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  name: 'Bramble Siding',
  strips: [
    {
      id: 'main',
      path: [
        [0, 60],
        [400, 60],
      ],
    },
    ...[60, 200].map((x, k) => ({
      id: `b${k}`,
      path: [
        [x, 60],
        [x + 48, 90],
        [x + 90, 90],
      ] as [number, number][],
    })),
  ],
  points: [
    { id: 'P1', at: [60, 60] },
    { id: 'P2', at: [200, 60] },
  ],
  levers: [
    { id: 'L1', at: [60, 130], works: [{ point: 'P1' }] },
    { id: 'L2', at: [120, 130], works: [{ point: 'P2' }] },
  ],
};

function leads(derived: Derived): Readonly<Record<string, string>> {
  return Object.fromEntries(
    derived.wiring.circuits.map((circuit) => [
      circuit.id,
      leadOf(
        derived,
        circuit,
        derived.plan.levers.find(({ id }) => id === circuit.id),
      ),
    ]),
  );
}

describe('what stands on top of a circuit', () => {
  it('of a lever whose spare pole lights a tree names the tree', () => {
    const said = leads(
      derive({
        ...BASE,
        lamps: [{ id: 'H1', at: [350, 60], shows: { P1: 'normal', P2: 'normal' } }],
        lighting: { scheme: 'tree' },
      }),
    );
    expect(said.L1).toMatch(/no lamps of its own: L1\.3 stands in TR1 and lights lamps there/);
    expect(said.L2).toMatch(/no lamps of its own: L2\.3 stands in TR1/);
    expect(said.TR1).toContain('Its lamps know what was asked');
  });

  it('of a lever without any says so', () => {
    expect(leads(derive(BASE)).L1).toMatch(/It has no lamps\.$/);
  });

  it('of lamps that show their supply says how long they are lit', () => {
    const said = leads(derive({ ...BASE, lamps: [{ id: 'H1', at: [350, 20], claims: 'supply' }] }));
    expect(said.TR1).toBe('Lamps from S1. Lit as long as S1 is on and its fuse whole.');
  });
});
