import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveCatalogue } from '../parts/index.ts';
import { heatPerMetre, sizeWire, wireDrop } from './size-wire.ts';

const WIRES = resolveCatalogue(undefined).all('wire');

describe('wireDrop', () => {
  it('[LO7] 3 m of 0.22 mm2 there and back is 0.47 ohm, as the file format says: 0.017241 x metres / mm2', () => {
    const drop = wireDrop({ amps: 4, length: 3000, volts: 24 }, 0.22);
    expect(drop.ohms).toBeCloseTo((2 * 0.017241 * 3) / 0.22, 12);
    expect(drop.drop).toBeCloseTo(4 * drop.ohms, 12);
    expect(drop.left + drop.drop).toBeCloseTo(24, 12);
    expect(drop.steps).toEqual([
      '2 × 3000 mm of 0.22 mm²: R4702',
      '4.00 A × R4702 = 1.88 V, 7.8 % of 24.00 V; 22.12 V left',
    ]);
  });

  it('refuses what is no run', () => {
    expect(() => wireDrop({ amps: 1, length: 1000, volts: 0 }, 0.22)).toThrow(RangeError);
    expect(() => wireDrop({ amps: 1, length: 1000, volts: 12 }, 0)).toThrow(RangeError);
  });
});

describe('sizeWire', () => {
  it('[LO7] heavy pulses need copper: 4 A through 5 m on 24 V wants 0.5 mm2 for the drop, though a pulse warms nothing', () => {
    const sized = sizeWire({ amps: 4, length: 5000, volts: 24 }, WIRES, { heating: 0.24, share: 0.08 });
    // By hand: 2 x 0.017241 x 5 x 4 / (0.08 x 24) = 0.359 mm2.
    expect(sized.least).toBeCloseTo(0.3592, 4);
    expect(sized.part?.gauge).toBe(0.5);
    expect(sized.settles).toBe('drop');
  });

  it('[LO7] a short run is settled by the amps', () => {
    const sized = sizeWire({ amps: 2.5, length: 300, volts: 16 }, WIRES);
    expect(sized.part?.gauge).toBe(0.5);
    expect(sized.settles).toBe('amps');
  });

  it('[LO7] says so where none of the list serves', () => {
    const sized = sizeWire({ amps: 20, length: 3000, volts: 12 }, WIRES);
    expect(sized.part).toBeNull();
    expect(sized.found?.share).toBeGreaterThan(0.1);
    expect(sized.steps.some((step) => step.startsWith('none of the list'))).toBe(true);
    expect(sizeWire({ amps: 1, length: 3000, volts: 12 }, [])).toMatchObject({ part: null, found: null });
  });

  it('[LO7] what it chooses serves, and the next thinner would not (seed 1307)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 8, noNaN: true }),
        fc.integer({ min: 100, max: 20_000 }),
        fc.constantFrom(9, 12, 16, 24),
        (amps, length, volts) => {
          const run = { amps, length, volts };
          const { part } = sizeWire(run, WIRES);
          if (part === null) return;
          const serves = (each: (typeof WIRES)[number]) =>
            each.amps >= amps && wireDrop(run, each.gauge).share <= 0.1 * (1 + 1e-12);
          expect(serves(part)).toBe(true);
          expect(WIRES.filter((each) => each.gauge < part.gauge && serves(each))).toEqual([]);
        },
      ),
      { seed: 1307 },
    );
  });
});

describe('heatPerMetre', () => {
  it('[LO7] 5 A in ribbon is some 5 W a metre (notes of the trade): 28 AWG, 0.081 mm2', () => {
    expect(heatPerMetre(5, 0.081)).toBeCloseTo(5.3, 1);
  });
});
