import type { Millimetre, SquareMillimetre } from '../units/index.ts';
import type { Wire } from '../wiring/index.ts';

/** A wire as it is cut, coloured and numbered. */
export interface CutWire extends Omit<Wire, 'colour' | 'gauge' | 'length'> {
  /** IEC 60757 letters. */
  readonly colour: string;
  readonly gauge: SquareMillimetre;
  /** With slack, rounded up to 10 mm. */
  readonly length: Millimetre;
  /** True where no one gave a length: the default stands in. */
  readonly guess: boolean;
}

export interface Loom {
  readonly wires: readonly CutWire[];
}
