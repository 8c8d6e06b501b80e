/**
 * Relative, no unit. A computed resistance this close to a preferred value is that value: sums in binary numbers miss a
 * round decimal by some 1e-15, and rounding 470.0000000000001 ohm up to 560 would be wrong. Far below any real tolerance.
 */
export const SAME_VALUE = 1e-9;
