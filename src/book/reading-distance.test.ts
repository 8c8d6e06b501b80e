import { describe, expect, test } from 'vitest';
import { ARM_BENT, ARM_STRETCHED, capitalAt, capitalOf, typeAt } from './reading-distance.ts';

describe('letters read from a distance', () => {
  // Computed from the 16 minutes of arc of NUREG-0700 rev. 3, as handbook tables round them.
  test.each([
    [500, 2.33],
    [1000, 4.65],
  ])('at %d mm a capital is %d mm high', (distance, height) => {
    expect(capitalAt(distance)).toBeCloseTo(height, 2);
  });

  test('type and its capitals agree', () => {
    for (const distance of [ARM_BENT, ARM_STRETCHED])
      expect(capitalOf(typeAt(distance))).toBeCloseTo(capitalAt(distance), 9);
  });
});
