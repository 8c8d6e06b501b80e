import type { Severity } from '../checks/index.ts';
import type { Derived } from '../derive.ts';
import type { PanelFile, Transaction } from '../panel/index.ts';

/** What of the panel an option makes otherwise. */
export type OptionKind = 'as-is' | 'drives' | 'feed' | 'lamps';

/** The same panel made otherwise, before it is weighed. */
export interface PanelOption {
  /** Stays the same whatever else is offered: "as-is", "drives:limit-2-wire", "feed:split", "lamps:tree". */
  readonly id: string;
  readonly kind: OptionKind;
  /** In plain trade words: "Split feed". */
  readonly name: string;
  /** What it does and brings with it, a sentence each; nothing for the panel as it is. */
  readonly says: readonly string[];
  /** What takes it over as one step that undoes; null for the panel as it is. */
  readonly edit: Transaction | null;
  /** The panel that results. */
  readonly panel: PanelFile;
  /** What follows from that; its costly parts are worked out when they are first asked for. */
  readonly derived: Derived;
}

/** How many lamps know what their lever asks, how the drive lies, how the blades lie. */
export interface LampsKnow {
  readonly lever: number;
  readonly drive: number;
  readonly blades: number;
}

/** What an option comes to. */
export interface Figures {
  /** Pieces of the list of parts; wire and tape go by the metre and are not counted. */
  readonly parts: number;
  /** Every wire with a name, in the panel and under the layout. */
  readonly wires: number;
  /** Wires that pass a connector. */
  readonly through: number;
  /** Ways of connectors that carry something. */
  readonly pins: number;
  /** Soldered ends of wires: two a wire, but for those that a screw of a connector holds. */
  readonly joints: number;
  /** A, at switch-on: every supply at its worst, together; a capacitor unit counts at what charges it, decoders at the bus. */
  readonly amps: number;
  /** In the user's own money, of all that has a price; null where nothing has. */
  readonly cost: number | null;
  /** Lines of the list of parts that have no price: they come on top. */
  readonly unpriced: number;
  /** Single faults tried, and those that make a lamp lie; null where they were not tried, which would take long. */
  readonly faults: { readonly tried: number; readonly wrongSide: number } | null;
  /** The second over the first; nothing to try: 0; null where they were not tried. */
  readonly wrongSideShare: number | null;
  readonly lampsKnow: LampsKnow;
}

/** Why an option cannot be built: what is dangerous or wrong in it and not in the panel as it is. */
export interface Obstacle {
  readonly code: string;
  readonly severity: Extract<Severity, 'danger' | 'wrong'>;
  /** Everything that it is told of, each once, in the order of the findings. */
  readonly ids: readonly string[];
  /** Of the first such finding, with its numbers. */
  readonly message: string;
  /** Findings of this code. */
  readonly count: number;
}

/** An option with what it comes to and what stands in its way. */
export interface WeighedOption extends PanelOption {
  readonly figures: Figures;
  /** Dangers first, then in the order of the findings; empty where it can be built. */
  readonly obstacles: readonly Obstacle[];
}

/** What options can be ranked by. `knows`: how many lamps know more than the lever, those that know the blades twice. */
export type Measure = 'parts' | 'wires' | 'pins' | 'joints' | 'amps' | 'cost' | 'wrongSideShare' | 'knows';
