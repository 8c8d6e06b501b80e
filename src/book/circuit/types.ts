/** A circuit as a drawing that knows what it draws: every line says which net and wire it belongs to, every symbol where its terminals are. */
import type { Spot } from '../../units/index.ts';
import type { Terminal } from '../../wiring/index.ts';

/** A length on the drawing: at its own size one is a px on the screen. x to the right, y down. */
export type Px = number;

/** What a symbol is drawn as. `ways` of connectors and poles of switches are symbols too. */
export type SymbolKind =
  | 'supply'
  | 'battery'
  | 'ac'
  | 'fuse'
  | 'contact'
  | 'resistor'
  | 'lamp'
  | 'diode'
  | 'capacitor'
  | 'motor'
  | 'coil'
  | 'relay-coil'
  | 'button'
  | 'way'
  | 'board';

/** Where a terminal of a symbol stands: a conductor that ends there is soldered to it. The side of a pin under the layout ends in `~`. */
export interface ModelEnd {
  readonly terminal: Terminal;
  readonly at: Spot;
}

export interface ModelSymbol {
  readonly kind: SymbolKind;
  /** The part's own id: "R-G1", "H3", "P4", "A.7", "L4.1". */
  readonly id: string;
  /** Its middle. */
  readonly at: Spot;
  /** Degrees clockwise from upright, where what comes first is at the top. */
  readonly turn: 0 | 90 | 180 | 270;
  readonly ends: readonly ModelEnd[];
  /** Said beside it: the id, and under it a value or the points that it moves. */
  readonly title: string;
  readonly note: string;
  /** Where these words begin or end. */
  readonly words: { readonly at: Spot; readonly anchor: 'start' | 'middle' | 'end' };
  /** Of a way: which half is the panel's. */
  readonly panelHalf?: 'plug' | 'socket';
  /** Of a board: its size. */
  readonly size?: Spot;
}

/** A straight piece of conductor. */
export interface ModelLine {
  /** The net that it belongs to, by the net's first terminal. */
  readonly net: Terminal;
  /** The terminal whose volts it has. */
  readonly node: Terminal;
  /** The wire that ends at that terminal; null of what several wires share. */
  readonly wire: string | null;
  /** Wires of its net that no line stands for alone, such as those from lever to lever: at the lines that several share, else at all. */
  readonly shares: readonly string[];
  readonly from: Spot;
  readonly to: Spot;
}

/** A dot where conductors join. */
export interface ModelDot {
  readonly net: Terminal;
  readonly at: Spot;
}

/** A name on a conductor: conductors with the same name are joined. `box` is what it is written in; null: on the line itself. */
export interface ModelMark {
  readonly net: Terminal;
  readonly name: string;
  /** Where the conductor meets it. */
  readonly at: Spot;
  readonly box: { readonly at: Spot; readonly size: Spot } | null;
}

/** The letters of a wire's colour, on its conductor. */
export interface ModelChip {
  readonly wire: string;
  readonly colour: string;
  readonly net: Terminal;
  readonly node: Terminal;
  readonly at: Spot;
}

/** Where the volts of a terminal, or the amps through a part, can be written; at its middle. */
export interface ModelValue {
  readonly of: { readonly volts: Terminal } | { readonly amps: string };
  readonly at: Spot;
}

/** A head on a conductor: points the way that a positive current of the element flows; degrees clockwise from down. */
export interface ModelArrow {
  readonly of: string;
  readonly at: Spot;
  readonly turn: 0 | 90 | 180 | 270;
}

/** What stands together: under the layout, or a lever's link. */
export interface ModelFrame {
  readonly what: 'layout';
  readonly at: Spot;
  readonly size: Spot;
}

/** The link between the poles of a lever that are thrown together. */
export interface ModelLink {
  readonly lever: string;
  readonly from: Spot;
  readonly to: Spot;
}

/** A circuit, drawn. */
export interface CircuitModel {
  readonly circuit: string;
  readonly size: Spot;
  /** In reading order: from the supply to what it feeds. */
  readonly symbols: readonly ModelSymbol[];
  readonly lines: readonly ModelLine[];
  readonly dots: readonly ModelDot[];
  readonly marks: readonly ModelMark[];
  readonly chips: readonly ModelChip[];
  readonly values: readonly ModelValue[];
  readonly arrows: readonly ModelArrow[];
  readonly frames: readonly ModelFrame[];
  readonly links: readonly ModelLink[];
  /** False where no rule of drawing covers it: its wires are listed instead. */
  readonly covered: boolean;
}
