import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { degreesText, lengthText, lengthWords, readDegrees, readLength } from './lengths.ts';

const SEED = 712;

describe('lengths', () => {
  it('reads millimetres and inches, decimals and fractions', () => {
    expect(readLength('12.5', 'mm')).toBe(12.5);
    expect(readLength(' 12,5 mm ', 'in')).toBe(12.5);
    expect(readLength('−3', 'mm')).toBe(-3);
    expect(readLength('.5', 'mm')).toBe(0.5);
    expect(readLength('4 cm', 'in')).toBe(40);
    expect(readLength('1.2 m', 'mm')).toBe(1200);
    // 1 in = 25.4 mm exactly: NIST SP 811, B.8.
    expect(readLength('1', 'in')).toBe(25.4);
    expect(readLength('1/2 in', 'mm')).toBe(12.7);
    expect(readLength('0.5"', 'mm')).toBe(12.7);
    expect(readLength('1 1/2 in', 'mm')).toBe(38.1);
    expect(readLength('-1/4', 'in')).toBe(-6.35);
    expect(readLength('2 INCHES', 'mm')).toBe(50.8);
  });
  it('takes nothing that is no length', () => {
    for (const text of ['', ' ', 'mm', 'twelve', '1/0', '1/2/3', '1.2.3', '5 ft', '1e3', 'NaN', '--2', '1 2'])
      expect(readLength(text, 'mm'), text).toBeNull();
  });
  it('shows one place at least and three at most', () => {
    expect(lengthText(148, 'mm')).toBe('148.0');
    expect(lengthText(244.875, 'mm')).toBe('244.875');
    expect(lengthText(9.0004, 'mm')).toBe('9.0');
    expect(lengthText(-0.0001, 'mm')).toBe('0.0');
    expect(lengthText(-3.5, 'mm')).toBe('−3.5');
    expect(lengthText(25.4, 'in')).toBe('1.00');
    expect(lengthText(12.7, 'in')).toBe('0.50');
    expect(lengthWords(309.24, 'mm')).toBe('309.2 mm');
    expect(lengthWords(148.05, 'in')).toBe('5.83 in');
  });
  it('reads and shows angles', () => {
    expect(degreesText(32)).toBe('32.0');
    expect(readDegrees('32°')).toBe(32);
    expect(readDegrees('-90 deg')).toBe(-90);
    expect(readDegrees('north')).toBeNull();
  });
  it(`reads back what it shows, in either unit (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -2_000_000, max: 2_000_000 }),
        fc.constantFrom('mm' as const, 'in' as const),
        (k, unit) => {
          const mm = k / 1000;
          const back = readLength(lengthText(mm, unit), unit) ?? Number.NaN;
          // Three places of an inch are 0.0254 mm: half of it is lost at most.
          expect(Math.abs(back - mm)).toBeLessThanOrEqual(unit === 'mm' ? 1e-9 : 0.0127 + 1e-6);
        },
      ),
      { seed: SEED, numRuns: 300 },
    );
  });
});
