/**
 * What a throw gives a coil, beside ngspice: the capacitor charged, the contact closed at the first instant, the real diodes in the way.
 * Outside source: ngspice. Figures of the circuits are those of the file format's table of typical parts.
 */
import { describe, expect, test } from 'vitest';
import { derive } from '../../src/index.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { runSpiceMany } from './ngspice-many.ts';

/** A coil of the table: 5 ohm, 5 mH, thrown above 2 A; behind 3 m of 0.22 mm2 there and back: 2 x 0.017241 x 3 / 0.22 ohm. */
const [OHMS, HENRIES, THROWS] = [5, 0.005, 2];
const WIRE = (2 * 0.017241 * 3) / 0.22;
/** How long a press lasts. */
const PRESS = 0.1;
/** A press, the peak within a hundredth and the time above what throws it too. */
const SHARE = 0.01;

/** Steering diode: 0.7 V at 10 mA, n 1.8, rs 0.05; a CDU's: 0.8 V at 1 A. Is = i / (exp((v - i rs) / (n Vt)) - 1), Vt at 27 C. */
function saturation(volts: number, amps: number): number {
  return amps / Math.expm1((volts - amps * 0.05) / (1.8 * 0.025864186));
}

const MODELS = `.model DS D(IS=${saturation(0.7, 0.01)} N=1.8 RS=0.05 TNOM=27)
.model DC D(IS=${saturation(0.8, 1)} N=1.8 RS=0.05 TNOM=27)
.options temp=27 tnom=27 reltol=1e-5 abstol=1e-9 vntol=1e-6`;

type Feed = 'raw' | 'unit' | 'charge';

function circuit(feed: Feed, coils: number, supplyOhms: number): string {
  const loads = Array.from(
    { length: coils },
    (_, k) => `V_P${k + 1} out c${k} DC 0\nL${k} c${k} l${k} ${HENRIES} IC=0\nR${k} l${k} 0 ${OHMS + WIRE}`,
  );
  const before = {
    raw: `VS s 0 24\nRS s out ${Math.max(supplyOhms, 1e-6)}`,
    unit: `VS s 0 24\nRC s d ${100 + supplyOhms}\nD1 d out DC\nC1 out 0 0.0047 IC=24`,
    charge: `VS s 0 24\nRS s t ${Math.max(supplyOhms, 1e-6)}\nC1 t d 0.0022 IC=0\nD1 d out DS`,
  }[feed];
  return `* throw\n${before}\n${loads.join('\n')}\n${MODELS}\n.tran 5e-5 ${PRESS} 0 5e-5 uic\n.end\n`;
}

function panel(feed: Feed, coils: number, supplyOhms: number): PanelFile {
  const points = Array.from({ length: coils }, (_, k) => ({
    id: `P${k + 1}`,
    at: [60 + 120 * k, 60] as [number, number],
    drive: 'twin-coil',
  }));
  return {
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
      ...points.map(({ at: [x] }, k) => ({
        id: `b${k}`,
        path: [
          [x, 60],
          [x + 48, 90],
          [x + 90, 90],
        ] as [number, number][],
      })),
    ],
    points,
    levers: [{ id: 'L1', at: [60, 130], works: points.map(({ id }) => ({ point: id })) }],
    feed:
      feed === 'charge'
        ? { kind: 'charge', supplies: ['S1'], farads: 0.0022 }
        : { kind: 'pulse', supplies: [feed === 'unit' ? 'C1' : 'S1'] },
    supplies: [
      { id: 'S1', volts: 24, amps: 10, ohms: supplyOhms },
      ...(feed === 'unit' ? [{ id: 'C1', kind: 'cdu' as const, from: 'S1', farads: 0.0047, chargeOhms: 100 }] : []),
    ],
  };
}

describe.each(['raw', 'unit', 'charge'] as const)('throws of a %s feed', (feed) => {
  test.each([
    [1, 0],
    [2, 0],
    [1, 0.5],
    [2, 0.5],
  ])('%d on a lever, supply of %d ohm', (coils, ohms) => {
    const [got] = runSpiceMany([circuit(feed, coils, ohms)]);
    const { drives } = derive(panel(feed, coils, ohms)).operate({});
    expect(drives.length).toBe(coils);
    for (const [k, drive] of drives.entries()) {
      const row = got?.rows.get(`i(v_p${k + 1})`) ?? new Float64Array();
      const peak = Math.max(...row);
      let above = 0;
      const { seconds = [] } = got ?? {};
      for (let i = 1; i < row.length; i++)
        if ((row[i] ?? 0) >= THROWS) above += (seconds[i] ?? 0) - (seconds[i - 1] ?? 0);
      console.log(
        `${feed}, ${coils}, ${ohms} ohm: ${drive.pulse?.amps} A said, ${peak} read; ${drive.pulse?.seconds} s said, ${above} read`,
      );
      expect(Math.abs((drive.pulse?.amps ?? 0) - peak) / peak).toBeLessThan(SHARE);
      // Read to one step of 50 us.
      expect(Math.abs((drive.pulse?.seconds ?? 0) - above)).toBeLessThan(SHARE * above + 1e-4);
    }
  });
});
