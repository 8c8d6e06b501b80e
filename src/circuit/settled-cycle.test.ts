import { describe, expect, test } from 'vitest';
import { lawFrom } from '../parts/index.ts';
import { cycleMeans } from './settled-cycle.ts';
import type { CircuitElement } from './types.ts';

/** 0.7 V at 10 mA: a steering diode of the file format. */
const LAW = lawFrom(0.7, 0.01, 1.8, 0.05);
const PEAK = 9 * Math.SQRT2;
const LOAD = 10_000;

const SUPPLY: CircuitElement = {
  kind: 'source',
  id: 'S1',
  a: 's',
  b: '0',
  volts: 0,
  ohms: 0,
  swing: { peak: PEAK, hertz: 50 },
};

function rectifier(turned: boolean, capacitors: readonly CircuitElement[]): readonly CircuitElement[] {
  const [a, b] = turned ? ['out', 's'] : ['s', 'out'];
  return [
    SUPPLY,
    { kind: 'diode', id: 'D1', a, b, law: LAW },
    ...capacitors,
    { kind: 'resistor', id: 'R1', a: 'out', b: '0', ohms: LOAD },
  ];
}

const CAPACITOR = { kind: 'capacitor', id: 'C1', a: 'out', b: '0', farads: 0.0047, volts: 11.9 } as const;

const meansOf = (elements: readonly CircuitElement[]) => cycleMeans({ elements, reference: '0' });

describe('settled cycles', () => {
  // Ripple of 1.2 mA in 20 ms on 4.7 mF is 5 mV; a diode that charges so little drops some 0.7 V.
  test.each([
    ['a diode as it should be', false],
    ['a diode turned round charges below nought', true],
  ])('%s', (_, turned) => {
    const means = meansOf(rectifier(turned, [CAPACITOR]));
    const out = means?.volts.get('out') ?? 0;
    expect(means?.settled).toBe(true);
    expect(turned ? -out : out).toBeGreaterThan(PEAK - 0.85);
    expect(turned ? -out : out).toBeLessThan(PEAK - 0.6);
  });

  test('two capacitors side by side are one of both their farads, whichever way round', () => {
    const one = meansOf(rectifier(false, [{ ...CAPACITOR, farads: 0.0001 }]));
    const half = { ...CAPACITOR, farads: 0.00005 };
    const two = meansOf(
      rectifier(false, [
        half,
        { kind: 'wire', id: 'W1', a: 'out', b: 'far', ohms: 0 },
        { ...half, id: 'C2', a: '0', b: 'far' },
      ]),
    );
    expect(two?.settled).toBe(true);
    expect(two?.volts.get('out')).toBeCloseTo(one?.volts.get('out') ?? 0, 3);
    expect(two?.held.get('C2')).toBeCloseTo(-(two?.held.get('C1') ?? 0), 12);
  });
});
