import { describe, expect, it } from 'vitest';
import { type Coil, chargeThrow, throwCoils } from '../circuit/index.ts';
import { forwardVolts } from '../parts/index.ts';
import { ladder, wireFile } from './panel-wired.ts';
import { pulseFromTwin, pulseOf } from './pulses.ts';
import { STEERING_AMPS } from './tolerances.ts';

const twin = (i: number) => ({ id: `P${i}`, at: [60 * i, 60], drive: 'twin-coil' });

/** So many coils on one lever. */
function pulse(feed: object, supplies: readonly object[], coils = 1, more: object = {}) {
  const points = Array.from({ length: coils }, (_, i) => twin(i + 1));
  const levers = [{ id: 'L1', works: points.map(({ id }) => ({ point: id })) }];
  const { wiring } = wireFile(ladder(coils, { points, levers, feed, supplies, ...more }));
  const [drive] = wiring.drives;
  const reading = drive === undefined ? null : pulseOf(wiring, drive);
  if (reading === null) throw new Error('no pulse');
  return { ...reading, wiring };
}

const CHARGE = { kind: 'charge', farads: 0.0022 };
const S1 = { id: 'S1', volts: 24 };
/** 3 m of 0.22 mm2, there and back: 2 x 0.017241 x 3 / 0.22 = 0.4702 ohm. */
const WIRE = (2 * 0.017241 * 3) / 0.22;
const COIL: Coil = { ohms: 5, henries: 0.005, wireOhms: WIRE, throwAmps: 2, throwSeconds: 0.008 };

describe('pulseOf', () => {
  it('[TH1] charge: 24 V, 5 ohm, 5 mH, 2,200 uF give 3.5 to 4 A, 10 ms above 2 A (notes of the trade, run in ngspice)', () => {
    const { amps, seconds, joules } = pulse(CHARGE, [S1]);
    expect(amps).toBeGreaterThanOrEqual(3.5);
    expect(amps).toBeLessThanOrEqual(4);
    expect(seconds).toBeCloseTo(0.01, 3);
    // A steering diode at 2 A: 0.7 V at 10 mA, n 1.8, rs 0.05: 0.7 + 1.8 x 25.9 mV x ln 200 + 0.05 x 2 = 1.05 V; C V^2 / 2 of the rest.
    const drop = 0.7 + 1.8 * 0.025865 * Math.log(200) + 0.05 * 2;
    expect(joules).toBeCloseTo(0.5 * 0.0022 * (24 - drop) ** 2, 3);
  });

  it('[TH1] charge: the closed form of one capacitor, wire, diode and coil', () => {
    const { wiring, ...told } = pulse(CHARGE, [S1]);
    const [diode] = wiring.diodes;
    if (diode === undefined) throw new RangeError('no steering diode');
    const { law } = diode.part;
    // The diode's own ohms stand in the loop, the rest of its volts is taken as steady.
    const dropAt = (amps: number) => forwardVolts(law, amps) - law.rs * amps;
    const feed = { volts: 24, supplyOhms: 0, farads: 0.0022, ohms: law.rs, drop: dropAt(STEERING_AMPS) };
    const { amps, seconds } = chargeThrow(feed, COIL, 'charging', 0);
    expect([told.amps / amps, told.seconds / seconds].map((share) => share.toFixed(9))).toEqual([
      '1.000000000',
      '1.000000000',
    ]);
    // Two coils on one capacitor: each gets what half of it would give it.
    const two = pulse(CHARGE, [S1], 2);
    const both = { ...feed, farads: 0.0011, ohms: 2 * law.rs, drop: dropAt(2 * STEERING_AMPS) };
    const half = chargeThrow(both, COIL, 'charging', 0);
    expect(two.amps / half.amps).toBeCloseTo(1, 9);
    expect(two.seconds / half.seconds).toBeCloseTo(1, 9);
    expect(two.amps).toBeLessThan(told.amps);
  });

  it('[TH2] raw: V / R as long as it is pressed, nothing stored; wires under the layout take their share', () => {
    const { amps, joules, seconds } = pulse({ kind: 'pulse' }, [S1]);
    // Time constant 5 mH / 5.47 ohm = 0.9 ms, so after a tenth of a second all of it: 24 / 5.4702 = 4.387 A.
    expect(amps).toBeCloseTo(24 / (5 + WIRE), 6);
    expect(joules).toBe(0);
    // 2 A is reached after L / R ln(1 / (1 - 2 / 4.387)).
    const rise = (0.005 / (5 + WIRE)) * Math.log(1 / (1 - (2 * (5 + WIRE)) / 24));
    expect(seconds).toBeCloseTo(0.1 - rise, 9);
    // 5 m of thin wire lose volts that the coil needs.
    const far = pulse({ kind: 'pulse' }, [S1], 1, {
      points: [{ ...twin(1), drive: 'D1' }],
      drives: [{ id: 'D1', part: 'twin-coil', wire: { length: 5000, gauge: 0.14 } }],
    });
    expect(far.amps).toBeCloseTo(24 / (5 + (2 * 0.017241 * 5) / 0.14), 6);
  });

  it('[TH2] raw and too weak for its coil: it is never above what throws it', () => {
    // 9 V / 5.47 ohm = 1.6 A, below 2 A: a battery only heats a coil.
    expect(pulse({ kind: 'pulse' }, [{ id: 'S1', volts: 9 }])).toMatchObject({ seconds: 0 });
  });

  it('[TH3] from a unit: what its capacitor holds, and the closed form of its discharge', () => {
    const unit = [S1, { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047, chargeOhms: 100 }];
    const { amps, seconds, joules } = pulse({ kind: 'pulse', supplies: ['C1'] }, unit);
    // Full it holds 24 V: its diode then carries nothing.
    expect(joules).toBeCloseTo(0.5 * 0.0047 * 24 ** 2, 9);
    const full = (volts: number) =>
      throwCoils(
        { farads: 0.0047, charger: { volts, ohms: 100, most: null, drop: 0 }, ohms: 0, steering: null },
        [COIL],
        { press: 0.1 },
      ).coils[0];
    expect(amps).toBeGreaterThan(full(23.2)?.amps ?? Number.NaN);
    expect(amps).toBeCloseTo(full(24)?.amps ?? Number.NaN, 9);
    expect(seconds).toBeGreaterThan(full(23.2)?.seconds ?? Number.NaN);
    expect(seconds).toBeCloseTo(full(24)?.seconds ?? Number.NaN, 9);
    // Two at once share it.
    expect(pulse({ kind: 'pulse', supplies: ['C1'] }, unit, 2).seconds).toBeLessThan(seconds);
  });

  it('[TH4] what no pulse throws has none', () => {
    const { wiring } = wireFile(ladder(1, {}));
    const [drive] = wiring.drives;
    expect(drive === undefined ? undefined : pulseOf(wiring, drive)).toBeNull();
    const coils = wireFile(ladder(1, { points: [twin(1)] })).wiring;
    // Coils on a reversing feed are not wired.
    expect(coils.drives.map((each) => pulseOf(coils, each))).toEqual([null]);
  });

  it('[TH5] from another panel the cable counts besides: 24 / (5 + 0.47 + 0.47) = 4.04 A, and of two coils at once twice', () => {
    const thrown = (coils: number, by = 'latch') => {
      const points = Array.from({ length: coils }, (_, i) => twin(i + 1));
      const levers = [
        { id: 'L1', works: points.map(({ id }) => ({ point: id })), twin: { panel: 'East', lever: 'L2', by } },
      ];
      const feed = { kind: 'pulse', supplies: ['S1'] };
      const { wiring } = wireFile(ladder(coils, { points, levers, feed, supplies: [{ ...S1, amps: 20 }] }));
      const [drive] = wiring.drives;
      return drive === undefined ? null : pulseFromTwin(wiring, drive);
    };
    expect(thrown(1)?.amps).toBeCloseTo(24 / (5 + 2 * WIRE), 3);
    expect(thrown(2)?.amps).toBeCloseTo(24 / (5 + WIRE + 2 * WIRE), 3);
    // Crossed switches work no pulse feed.
    expect(thrown(1, 'two-way')).toBeNull();
  });
});
