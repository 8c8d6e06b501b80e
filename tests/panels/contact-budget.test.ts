/** Contacts that a drive has, less one for each frog that it feeds, less one for each root of lamps: the trade's own rule. */
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import { checkPanel } from '../../src/panel/index.ts';

function derived(more: object) {
  const read = checkPanel({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'siding',
        path: [
          [100, 60],
          [140, 35],
          [300, 35],
        ],
      },
    ],
    points: [{ id: 'P1', at: [100, 60], drive: 'D1' }],
    drives: [{ id: 'D1', part: 'stall-2-wire' }],
    levers: [{ id: 'L1', at: [150, 100], works: [{ point: 'P1' }] }],
    frogs: [{ id: 'F1', of: 'P1', kind: 'live' }],
    lamps: [
      { id: 'H1', at: [160, 60] },
      { id: 'H2', at: [180, 35] },
    ],
    lighting: { scheme: 'drive-contact', supply: 'S1' },
    supplies: [{ id: 'S1', volts: 12, amps: 0.5 }],
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return derive(read.panel);
}
const codes = (of: ReturnType<typeof derived>) => of.findings().map(({ code }) => code);
const overdrawn = (of: ReturnType<typeof derived>) => of.findings().filter(({ code }) => code === 'contacts-overdrawn');
/** A slip: the line at 20 degrees crosses the main line. */
const SLIP = {
  strips: [
    {
      id: 'main',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
    {
      id: 'cross',
      path: [
        [40, 100],
        [260, 20],
      ],
    },
  ],
  crossings: [
    {
      id: 'X1',
      at: [150, 60],
      kind: 'double-slip',
      ends: [
        { id: 'P1', drive: 'D1' },
        { id: 'P2', drive: 'D2' },
      ],
    },
  ],
  points: [],
  levers: [
    { id: 'L1', at: [100, 140], works: [{ point: 'P1' }] },
    { id: 'L2', at: [200, 140], works: [{ point: 'P2' }] },
  ],
  lamps: [],
};

describe('contact budget', () => {
  it('[CO8] lamps take the last free contact and frogs the first: a stall drive serves both', () => {
    const panel = derived({});
    expect(panel.wiring.contacts.map(({ id }) => id)).toEqual(['D1.c2']);
    expect(panel.track().frogs[0]?.contact).toEqual({ id: 'D1.c1', stated: false });
    expect(panel.contactBudget()).toEqual([
      { drive: 'D1', has: 2, frogs: 1, lamps: 1, other: 0, needs: 2, left: 0, free: [], without: [] },
    ]);
    expect(codes(panel)).not.toContain('contacts-overdrawn');
    // The tool proposes a contact; the frog says none yet.
    expect(codes(panel)).toContain('frog-unfed');
  });

  it('[CO8] the only contact of a drive lights lamps: the live frog has none, and the mends have prices', () => {
    const panel = derived({ drives: [{ id: 'D1', part: 'limit-2-wire' }] });
    expect(panel.track().frogs[0]?.contact).toBeNull();
    const [found] = overdrawn(panel);
    expect(found).toMatchObject({
      severity: 'wrong',
      where: { ids: ['D1', 'F1'], at: [100, 60] },
      values: { has: 1, frogs: 1, lamps: 1, needs: 2 },
    });
    const mends = new Map(found?.mends.map(({ id, price }) => [id, price]));
    expect([...mends.keys()].sort()).toEqual(['add-drive', 'add-relay', 'frog-module', 'lamps-across-feed']);
    for (const id of ['add-drive', 'add-relay', 'frog-module']) expect(mends.get(id)).toBeGreaterThan(0);
    expect(codes(panel)).not.toContain('frog-unfed');
  });

  it('[CO8] a drive that works both ends of a crossover owes two frogs', () => {
    const panel = derived({
      strips: [
        {
          id: 'up',
          path: [
            [0, 35],
            [300, 35],
          ],
        },
        {
          id: 'down',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
        {
          id: 'over',
          path: [
            [100, 35],
            [150, 60],
          ],
        },
      ],
      points: [
        { id: 'P1', at: [100, 35], drive: 'D1' },
        { id: 'P2', at: [150, 60], drive: 'D1' },
      ],
      levers: [{ id: 'L1', at: [150, 120], works: [{ point: 'P1' }, { point: 'P2' }] }],
      frogs: [
        { id: 'F1', of: 'P1', kind: 'live' },
        { id: 'F2', of: 'P2', kind: 'live' },
      ],
      lamps: [{ id: 'H1', at: [200, 35], shows: { P1: 'normal' } }],
    });
    expect(panel.contactBudget()).toMatchObject([{ has: 2, frogs: 2, lamps: 1, needs: 3, left: -1, without: ['F2'] }]);
    expect(overdrawn(panel)[0]?.where.ids).toEqual(['D1', 'F2']);
  });

  it('[CO8] in a slip the frog at one end is fed from the other end\u2019s drive (from memory)', () => {
    const drives = [
      { id: 'D1', part: 'stall-2-wire' },
      { id: 'D2', part: 'servo-board' },
    ];
    // D2 has no contact: the frog that its blades choose, at the end P1, has none.
    const panel = derived({ ...SLIP, drives, frogs: [{ id: 'F1', of: 'P1', kind: 'live' }] });
    expect(panel.track().frogs.find(({ id }) => id === 'F1')?.toldBy).toBe('P2');
    expect(overdrawn(panel)[0]?.where.ids).toEqual(['D2', 'F1']);
    const other = derived({
      ...SLIP,
      drives,
      frogs: [
        { id: 'F1', of: 'P1', kind: 'module' },
        { id: 'F2', of: 'P2', kind: 'live' },
      ],
    });
    expect(overdrawn(other)).toEqual([]);
    expect(other.track().frogs.find(({ id }) => id === 'F2')?.contact?.id).toBe('D1.c1');
  });

  it('[CO8] a contact that is named for a frog and for lamps is found where it is', () => {
    const panel = derived({
      drives: [{ id: 'D1', part: 'stall-2-wire', contacts: { c1: 'lamps' } }],
      frogs: [{ id: 'F1', of: 'P1', kind: 'live', from: 'D1.c1' }],
    });
    const found = panel.findings().find(({ code }) => code === 'contact-used-twice');
    expect(found).toMatchObject({
      severity: 'wrong',
      where: { ids: ['D1.c1'], at: [100, 60] },
      values: { by: 'F1 and lamps' },
    });
  });

  it('[CO8] a frog of which the file says nothing, and a dead one, want nothing', () => {
    for (const frogs of [[], [{ id: 'F1', of: 'P1', kind: 'dead' }], [{ id: 'F1', of: 'P1', kind: 'module' }]]) {
      const panel = derived({ drives: [{ id: 'D1', part: 'limit-2-wire' }], frogs });
      expect(panel.contactBudget()).toMatchObject([{ has: 1, frogs: 0, lamps: 1, left: 0 }]);
      expect(overdrawn(panel)).toEqual([]);
    }
  });
});
