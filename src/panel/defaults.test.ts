import { describe, expect, it } from 'vitest';
import {
  DEFAULTS,
  faceOf,
  feedOf,
  leverRow,
  lightingOf,
  nextFreeId,
  nextFreeLetters,
  stripBend,
  stripWidth,
  suppliesOf,
} from './defaults.ts';
import type { PanelFile } from './schema.ts';

const bare: PanelFile = { format: 'mimic-panel', version: 1, strips: [] };

describe('DEFAULTS', () => {
  // Expected: the published description of the file, section "Defaults".
  it('[DF1] are the published ones', () => {
    expect(DEFAULTS).toMatchObject({
      face: { margin: 30, step: 10 },
      strip: { width: 5, bend: 9 },
      drive: { part: 'stall-2-wire' },
      wire: { length: 3000, gauge: 0.22 },
      lever: { pitch: 44, below: 22 },
      lamp: { part: 'led-3-amber', current: 0.002 },
      lighting: { scheme: 'across-feed' },
      connector: { part: 'dsub-25' },
    });
    expect(feedOf(bare)).toEqual({ kind: 'reversing', supplies: ['S1'], farads: null });
    expect(suppliesOf(bare)).toMatchObject([{ id: 'S1', kind: 'dc', volts: 9, amps: 1, tolerance: 0.05, ohms: 0 }]);
  });

  it("[DF1] never stand in a user's place", () => {
    expect(stripWidth({ id: 'a', path: [], width: 3 })).toBe(3);
    expect(stripBend({ id: 'a', path: [], bend: 0 })).toBe(0);
    expect(stripWidth({ id: 'a', path: [] })).toBe(5);
    expect(stripBend({ id: 'a', path: [] })).toBe(9);
  });
});

describe('suppliesOf', () => {
  it('[DF2] gives one where the key is absent and none where the list is empty', () => {
    expect(suppliesOf(bare)).toHaveLength(1);
    expect(suppliesOf(bare)[0]?.recorded).toBe(false);
    expect(suppliesOf({ ...bare, supplies: [] })).toEqual([]);
  });

  it('[DF2] passes over the name S1 where something else has it', () => {
    const panel: PanelFile = { ...bare, strips: [{ id: 's1', path: [] }] };
    expect(suppliesOf(panel)[0]?.id).toBe('S2');
    expect(feedOf(panel).supplies).toEqual(['S2']);
  });

  it('[DF1] settles every field, a fuse three ways, a CDU by what charges it', () => {
    const supplies: PanelFile['supplies'] = [
      { id: 'S1', name: 'Bench', volts: 12, fuse: null, isolated: false },
      { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047, chargeOhms: 100, fuse: { amps: 0.5 } },
    ];
    expect(suppliesOf({ ...bare, supplies })).toEqual([
      {
        id: 'S1',
        name: 'Bench',
        kind: 'dc',
        volts: 12,
        voltsOffLoad: null,
        tolerance: 0.05,
        amps: 1,
        ohms: 0,
        limit: 'none',
        isolated: false,
        fuse: null,
        from: null,
        farads: null,
        chargeOhms: null,
        frequency: 50,
        recorded: true,
      },
      {
        id: 'C1',
        name: null,
        kind: 'cdu',
        volts: 12,
        voltsOffLoad: null,
        tolerance: 0.05,
        amps: 1,
        ohms: 0,
        limit: 'none',
        isolated: true,
        fuse: { amps: 0.5, act: 'quick' },
        from: 'S1',
        farads: 0.0047,
        chargeOhms: 100,
        frequency: 50,
        recorded: true,
      },
    ]);
    expect(suppliesOf({ ...bare, supplies: [{ id: 'S1' }] })[0]?.fuse).toBe('computed');
  });
});

describe('feedOf and lightingOf', () => {
  it("[DF3] take a lever's own first, key by key", () => {
    const panel: PanelFile = {
      ...bare,
      feed: { kind: 'split', supplies: ['S1', 'S2'] },
      lighting: { current: 0.004, dimmer: { least: 0.4 } },
    };
    expect(feedOf(panel, { id: 'L1' })).toEqual({ kind: 'split', supplies: ['S1', 'S2'], farads: null });
    expect(feedOf(panel, { id: 'L1', feed: { kind: 'charge', farads: 0.001 } })).toEqual({
      kind: 'charge',
      supplies: ['S1', 'S2'],
      farads: 0.001,
    });
    expect(lightingOf(panel, { id: 'L1', lighting: { scheme: 'spare-pole' } })).toEqual({
      scheme: 'spare-pole',
      current: 0.004,
      supply: 'S1',
      from: null,
      dimmerLeast: 0.4,
    });
  });

  it('[DF1] come from S1 where there is one, else from the first supply; split from the first two', () => {
    const supplies: PanelFile['supplies'] = [{ id: 'A1' }, { id: 'S1' }, { id: 'B1' }];
    expect(feedOf({ ...bare, supplies }).supplies).toEqual(['S1']);
    expect(feedOf({ ...bare, supplies: [{ id: 'bench' }] }).supplies).toEqual(['bench']);
    expect(feedOf({ ...bare, supplies, feed: { kind: 'split' } }).supplies).toEqual(['A1', 'S1']);
    expect(feedOf({ ...bare, supplies: [] }).supplies).toEqual(['S1']);
  });
});

describe('faceOf', () => {
  const strips: PanelFile['strips'] = [
    {
      id: 'a',
      path: [
        [0, 60],
        [300, 61],
      ],
    },
  ];

  it('[DF4] reaches 30 past the furthest spot, rounded up to 10', () => {
    expect(faceOf({ ...bare, strips })).toEqual({
      width: 330,
      height: 100,
      thickness: 3,
      material: 'aluminium',
      colour: 'sage',
      view: 'front',
    });
    expect(faceOf({ ...bare, strips }, [[60, 125]])).toMatchObject({ width: 330, height: 160 });
    expect(faceOf({ ...bare, strips, lamps: [{ id: 'H1', at: [311, 90] }] })).toMatchObject({
      width: 350,
      height: 120,
    });
    expect(faceOf({ ...bare, plates: [{ at: [100, 100], text: 'A', width: 22 }] })).toMatchObject({
      width: 150,
      height: 130,
    });
    expect(faceOf(bare)).toMatchObject({ width: 30, height: 30 });
    expect(faceOf({ ...bare, strips: [{ id: 'a', path: [[-500, -500]] }] })).toMatchObject({ width: 30, height: 30 });
  });

  it('[DF1] takes width and height from the file, each by itself', () => {
    expect(faceOf({ ...bare, strips, face: { width: 299.5, view: 'rear' } })).toMatchObject({
      width: 299.5,
      height: 100,
      view: 'rear',
    });
  });

  it('[DF1] puts the row of levers 22 below the lowest strip', () => {
    expect(leverRow({ ...bare, strips })).toBe(83);
  });
});

describe('nextFreeId', () => {
  it('[ID6] passes over ids used and retired, case aside', () => {
    const panel: PanelFile = {
      ...bare,
      strips: [{ id: 'p2', path: [] }],
      points: [{ id: 'P1', at: [0, 0] }],
      crossings: [{ id: 'X1', at: [0, 0], ends: [{ id: 'P3' }] }],
      threeWays: [{ id: 'Y1', at: [0, 0], points: ['P5'] }],
      retired: ['P4', 'B'],
      connectors: [{ id: 'A' }],
    };
    expect(nextFreeId(panel, 'P')).toBe('P6');
    expect(nextFreeId(panel, 'P', ['p6', 'P7'])).toBe('P8');
    expect(nextFreeId(bare, 'P')).toBe('P1');
    expect(nextFreeLetters(panel)).toBe('C');
    expect(nextFreeLetters(bare, [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'])).toBe('AA');
    expect(nextFreeLetters(bare, [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ', 'aa'])).toBe('AB');
  });
});
