/** Figures of the user's own parts reach every sum, drawing and finding that rests on them. */
import { describe, expect, it } from 'vitest';
import { type Derived, derive } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';

const VOLTS = 12;
const OHMS = 4700;
/** k T / q at 27 C, from the constants of the SI (CODATA 2018). */
const VT = (1.380649e-23 * 300.15) / 1.602176634e-19;

/** One point, one lever, a pair of lamps behind one resistor; wires so short that they count for nothing. */
function panelWith(parts: PanelFile['parts'], changes: Partial<PanelFile> = {}): Derived {
  return derive({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [200, 60],
        ],
      },
      {
        id: 'branch',
        path: [
          [60, 60],
          [110, 100],
        ],
      },
    ],
    points: [{ id: 'P1', at: [60, 60], normal: 'main', drive: 'D1' }],
    drives: [{ id: 'D1', wire: { length: 1, gauge: 50 } }],
    lamps: [
      { id: 'H1', at: [100, 60], shows: { P1: 'normal' } },
      { id: 'H2', at: [90, 84], shows: { P1: 'reverse' } },
    ],
    lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], arrange: 'pair', ohms: OHMS }],
    supplies: [{ id: 'S1', volts: VOLTS }],
    ...(parts === undefined ? {} : { parts }),
    ...changes,
  });
}

const lampOf = (panel: Derived, id = 'H1') => panel.operate({}).lamps.find((lamp) => lamp.id === id);
const codes = (panel: Derived): readonly string[] => panel.findings().map((finding) => finding.code);

/** How far the current is from the law of the file format behind a resistor: i R + n Vt ln(1 + i / Is) + i rs = V. */
function offBy(amps: number, { vf, at, n, rs }: Readonly<Record<'vf' | 'at' | 'n' | 'rs', number>>): number {
  const is = at / Math.expm1((vf - at * rs) / (n * VT));
  return amps * OHMS + n * VT * Math.log1p(amps / is) + amps * rs - VOLTS;
}

describe('own figures', () => {
  it('of a lamp set its current, under the typical id that nothing names', () => {
    const typical = { vf: 1.85, at: 0.002, n: 2, rs: 5 };
    expect(Math.abs(offBy(lampOf(panelWith([]))?.amps ?? 0, typical))).toBeLessThan(1e-6);
    for (const own of [{ vf: 2.1 }, { vf: 2.1, at: 0.01 }, { n: 3 }, { rs: 300 }]) {
      const amps = lampOf(panelWith([{ id: 'led-3-amber', ...own }]))?.amps ?? 0;
      expect(Math.abs(offBy(amps, { ...typical, ...own })), JSON.stringify(own)).toBeLessThan(1e-6);
      expect(Math.abs(offBy(amps, typical)), JSON.stringify(own)).toBeGreaterThan(0.001);
    }
  });

  it('reach through a chain of own parts', () => {
    const lamps = [{ id: 'H1', at: [100, 60] as [number, number], part: 'mine', shows: { P1: 'normal' as const } }];
    const panel = panelWith(
      [
        { id: 'mine', like: 'other', rs: 100 },
        { id: 'other', like: 'led-3-red', vf: 1.7 },
      ],
      { lamps, lampGroups: [{ id: 'G1', lamps: ['H1'], arrange: 'own', ohms: OHMS }] },
    );
    const amps = lampOf(panel)?.amps ?? 0;
    expect(Math.abs(offBy(amps, { vf: 1.7, at: 0.002, n: 2, rs: 100 }))).toBeLessThan(1e-6);
  });

  // File format: faint to five times `seen`, good to `max`, bright to twice that, destroyed above.
  it.each([
    [{}, 'good'],
    [{ seen: 0.001 }, 'faint'],
    [{ seen: 0.01 }, 'unlit'],
    [{ max: 0.0015 }, 'bright'],
    [{ max: 0.001 }, 'destroyed'],
  ])('of a lamp set how it looks: %o', (own, look) => {
    expect(lampOf(panelWith([{ id: 'led-3-amber', ...own }]))?.look).toBe(look);
  });

  it('widen the band of a lamp', () => {
    const [narrow, wide] = [0.01, 0.5].map((vfTolerance) => lampOf(panelWith([{ id: 'led-3-amber', vfTolerance }])));
    expect((wide?.high ?? 0) - (wide?.low ?? 0)).toBeGreaterThan((narrow?.high ?? 0) - (narrow?.low ?? 0));
  });

  // File format: a stalled drive is the resistance stallVolts / stallAmps.
  it('of a drive set what it draws', () => {
    for (const own of [{ stallAmps: 0.02 }, { stallVolts: 9, stallAmps: 0.01 }]) {
      const { stallVolts, stallAmps } = { stallVolts: 12, ...own };
      const drive = panelWith([{ id: 'stall-2-wire', ...own }]).operate({}).drives[0];
      expect(Math.abs(drive?.amps ?? 0)).toBeCloseTo((VOLTS * stallAmps) / stallVolts, 6);
    }
  });

  it('of a toggle set its hole and its tab', () => {
    const face = panelWith([{ id: 'toggle-2p', hole: 11.4, tabHole: 1.7 }]).face;
    expect(face.holes.find((hole) => hole.what === 'lever')?.drill).toBe(11.4);
    expect(face.holes.find((hole) => hole.what === 'tab')?.drill).toBe(1.7);
  });

  it('of a lamp set its hole', () => {
    const face = panelWith([{ id: 'led-3-amber', hole: 6.4 }]).face;
    expect(face.holes.find((hole) => hole.id === 'H1')?.drill).toBe(6.4);
  });

  it('bring findings that the typical part does not', () => {
    expect(codes(panelWith([]))).not.toContain('switch-overloaded');
    expect(codes(panelWith([{ id: 'toggle-2p', amps: 0.01 }]))).toContain('switch-overloaded');
    expect(codes(panelWith([{ id: 'dsub-25', amps: 0.01 }]))).toContain('pin-overloaded');
    expect(codes(panelWith([{ id: 'stall-2-wire', volts: { low: 14, high: 16 } }]))).toContain('drive-volts-low');
  });

  it('that cannot be right are findings and change no sum', () => {
    const panel = panelWith([
      { id: 'led-3-amber', vf: 1850, coilOhms: 5 },
      { id: 'mine', like: 'nothing' },
    ]);
    expect([...codes(panel)].filter((code) => code.startsWith('part-')).sort()).toEqual([
      'part-figure-bad',
      'part-figure-unknown',
      'part-like-unknown',
    ]);
    expect(lampOf(panel)?.amps).toBe(lampOf(panelWith([]))?.amps);
  });
});
