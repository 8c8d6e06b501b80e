import type { DiodeLaw } from '../parts/index.ts';
import type { Ampere, Farad, Henry, Hertz, Ohm, Volt } from '../units/index.ts';

export type Node = string;

interface ElementBase {
  readonly id: string;
  /** What it is on the panel, for the SPICE comment: "wire W12, A.8 to D1.b". */
  readonly says?: string;
  /** Named in SPICE by a source of 0 V, `V_<probe>`; positive along `sign` times the element's own direction. */
  readonly probe?: { readonly name: string; readonly sign: 1 | -1 };
}

/** Current is positive into the first terminal (a, anode, plus) and out of the second. */
export type CircuitElement =
  | (ElementBase & { readonly kind: 'resistor'; readonly a: Node; readonly b: Node; readonly ohms: Ohm })
  | (ElementBase & { readonly kind: 'wire'; readonly a: Node; readonly b: Node; readonly ohms: Ohm })
  | (ElementBase & {
      readonly kind: 'contact';
      readonly a: Node;
      readonly b: Node;
      readonly closed: boolean;
      readonly ohms: Ohm;
    })
  | (ElementBase & { readonly kind: 'open'; readonly a: Node; readonly b: Node })
  | (ElementBase & { readonly kind: 'diode'; readonly a: Node; readonly b: Node; readonly law: DiodeLaw })
  | (ElementBase & {
      readonly kind: 'source';
      readonly a: Node;
      readonly b: Node;
      /** Volts at rest: of an alternating source those about which it swings. */
      readonly volts: Volt;
      readonly ohms: Ohm;
      readonly swing?: { readonly peak: Volt; readonly hertz: Hertz };
    })
  /** At rest its ohms alone. */
  | (ElementBase & {
      readonly kind: 'coil';
      readonly a: Node;
      readonly b: Node;
      readonly ohms: Ohm;
      readonly henries: Henry;
    })
  /** At rest no branch at all. `volts`: what stands across it, a above b, when time begins. */
  | (ElementBase & {
      readonly kind: 'capacitor';
      readonly a: Node;
      readonly b: Node;
      readonly farads: Farad;
      readonly volts: Volt;
    });

/** A network of elements; node names are the terminals of the panel. The reference need not be given: each island has its own. */
export interface Netlist {
  readonly elements: readonly CircuitElement[];
  /** The node that reads 0 V where its island holds it. */
  readonly reference: Node | null;
}

export type CircuitProblem =
  | { readonly code: 'source-shorted'; readonly source: string; readonly nodes: readonly Node[] }
  | { readonly code: 'sources-disagree'; readonly sources: readonly string[] }
  | { readonly code: 'no-convergence'; readonly nodes: readonly Node[]; readonly residual: Ampere }
  | { readonly code: 'value-bad'; readonly element: string; readonly what: string };

export interface OperatingPoint {
  /** Volts of every node to the reference (or to its island's own); null where the node floats. */
  readonly volts: ReadonlyMap<Node, Volt | null>;
  /** Amps of every element, positive into its first terminal; null only where zero-ohm loops leave it undetermined. */
  readonly amps: ReadonlyMap<string, Ampere | null>;
  /** Nodes with no path to a source, island by island, sorted. */
  readonly floating: readonly (readonly Node[])[];
  readonly islands: number;
  readonly iterations: number;
  /** Worst sum of currents at a node, and where. */
  readonly residual: Ampere;
  readonly worst: Node | null;
  readonly problems: readonly CircuitProblem[];
}
