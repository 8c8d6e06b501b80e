/** What stands in one circuit with the levers so, and with one thing broken: plain data. */
import type { Basis, ClaimKind } from '../../lamps/index.ts';
import type { Lie, Lies } from '../../panel/index.ts';
import type { Ampere, Ohm, Volt } from '../../units/index.ts';
import type { Look, Position, Terminal } from '../../wiring/index.ts';

/** Is a lamp to be seen, over all bands: lit, dark, or neither for sure (rule 6 of the truth of lamps). */
export type Seen = 'lit' | 'dark' | 'doubtful';

/** A lamp against its claim: true; it lies; it may lie, as it is doubtful or as the blades may lie either way; it says nothing. */
export type Says = 'true' | 'lies' | 'may lie' | 'nothing';

export interface LampFigures {
  readonly id: string;
  readonly amps: Ampere;
  readonly low: Ampere;
  readonly high: Ampere;
  readonly look: Look;
  readonly seen: Seen;
  /** Across its dark string the wrong way round, at the worst corner; 0 where it is not reversed. */
  readonly reverse: Volt;
  /** What it stands in reverse. */
  readonly limit: Volt;
  readonly claim: readonly Lies[];
  readonly kind: ClaimKind;
  readonly basis: Basis;
  readonly says: Says;
  /** Where it lies: what its claim's points lie as while it says otherwise. */
  readonly blades: Lies;
}

/** One string of lamps that its position shall light, and the sum of its volts. */
export interface StringSum {
  readonly group: string;
  readonly lamps: readonly string[];
  readonly resistor: { readonly id: string; readonly ohms: Ohm; readonly from: 'file' | 'built' | 'computed' } | null;
  /** The drive that it stands in series with; null where it has its own way. */
  readonly drive: string | null;
  /** What string and resistor have between them: the supply's volts, less what is lost before. */
  readonly across: Volt;
  /** Of each of its lamps. */
  readonly volts: readonly Volt[];
  /** Left for the resistor. */
  readonly left: Volt;
  /** Through each lamp. */
  readonly amps: Ampere;
  /** Alike strings side by side, whose currents share the resistor. */
  readonly strings: number;
  readonly low: Ampere;
  readonly high: Ampere;
  /** What the string wants at the current that is asked for, and that current. */
  readonly wants: Volt;
  readonly wanted: Ampere;
  /** Seen from here; dark up to there; no more than this. */
  readonly seenFrom: Ampere;
  readonly darkTo: Ampere;
  readonly most: Ampere;
  readonly seen: Seen;
  readonly look: Look;
  /** The string that is dark meanwhile, what it stands in reverse, and what each of its lamps stands. */
  readonly dark: { readonly lamps: readonly string[]; readonly volts: Volt; readonly limit: Volt } | null;
}

/** The sums of one position of the lever. */
export interface PositionSum {
  /** Null where no lever decides it: everything as it is asked for. */
  readonly position: Position | null;
  readonly strings: readonly StringSum[];
}

export interface DriveFigures {
  readonly id: string;
  readonly points: readonly string[];
  /** Across its tags, a above b. */
  readonly volts: Volt | null;
  readonly amps: Ampere;
  /** The lie that is asked of its first point; null where nothing is. */
  readonly moves: Lie | null;
}

export interface CircuitFigures {
  readonly circuit: string;
  readonly position: Position | null;
  /** By terminal; the side of a pin under the layout ends in `~`. Null: it floats. A terminal that is not wired is missing. */
  readonly volts: Readonly<Record<Terminal, Volt | null>>;
  /** By element, positive into its first terminal; of a contact by its own id. */
  readonly amps: Readonly<Record<string, Ampere>>;
  /** Which throw of each contact is closed. */
  readonly closed: Readonly<Record<string, 'normal' | 'reverse' | 'both' | 'none'>>;
  readonly lamps: readonly LampFigures[];
  readonly drives: readonly DriveFigures[];
  readonly sums: readonly PositionSum[];
  /** Wires and parts that the fault is at. */
  readonly broken: readonly string[];
  /** The network has no answer that holds: figures are not to be relied on. */
  readonly unsolved: boolean;
}
