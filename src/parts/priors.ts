/**
 * How often each fault is met, for the weighted share of faults that lie and for ranking suspects: weights, of no unit, by what is at
 * fault and how. From memory: in hand wiring joints and crossed wires lead, parts that break come last; "half of all drives come out
 * running the wrong way round" is common practice, no source.
 */

/** What is at fault, and how. */
export type FaultKind = keyof typeof FAULT_WEIGHTS;

export const FAULT_WEIGHTS = {
  'wire-open': 5,
  'wire-dry': 5,
  'pin-short': 2,
  'pin-swapped': 4,
  'pin-moved': 3,
  'shell-apart': 3,
  'shell-mated': 2,
  'pole-open': 1,
  'pole-weld': 0.2,
  'pole-bridge': 0.5,
  'switch-upside': 4,
  'lamp-open': 2,
  'lamp-short': 0.3,
  'lamp-backwards': 6,
  'diode-open': 0.3,
  'diode-short': 0.3,
  'diode-backwards': 3,
  'resistor-open': 0.3,
  'resistor-short': 0.1,
  'resistor-value': 1.5,
  'drive-open': 1,
  'drive-short': 0.3,
  'drive-crossed': 10,
  'drive-stuck': 3,
  'drive-linkage': 4,
  'contact-open': 1,
  'contact-weld': 0.2,
  'relay-open': 0.5,
  'relay-stuck': 0.3,
  'capacitor-open': 0.3,
  'capacitor-short': 0.3,
  'capacitor-value': 0.3,
  'common-open': 2,
  'supply-off': 3,
  'supply-low': 1,
  'supply-high': 0.5,
  'fuse-open': 2,
} as const;

/** The weight of a fault's kind. */
export function faultWeight(kind: FaultKind): number {
  return FAULT_WEIGHTS[kind];
}
