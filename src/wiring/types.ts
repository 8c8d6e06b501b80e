import type { CircuitProblem } from '../circuit/index.ts';
import type { Lie } from '../panel/index.ts';
import type { ConnectorPart, DiodePart, DrivePart, LampPart, SwitchPart } from '../parts/index.ts';
import type { Ampere, Millimetre, Ohm, SquareMillimetre, Volt, Watt } from '../units/index.ts';

/**
 * Where a wire can end, by the names that drawings, schedules, faults and SPICE share: tags `L4.t1`, leads `H3.a` `H3.k`,
 * resistor leads `R-G1.1` `R-G1.2`, guard diodes `GD-H1.a` `GD-H1.k`, fuses `FU-S1.1` `FU-S1.2`, supplies `S1.p` `S1.m`,
 * pins `A.7` (panel half and layout half alike), drive tags `D1.a` `D1.b`.
 */
export type Terminal = string;

/** How a lever lies. */
export type Position = 'normal' | 'reverse' | 'centre';

/** One length of wire with its two soldered joints. */
export interface Wire {
  readonly id: string;
  readonly from: Terminal;
  readonly to: Terminal;
  /** The lever's id, or the supply's where it serves several levers. */
  readonly circuit: string;
  /** The terminal that names the net: "L4.t2". */
  readonly net: string;
  /** Inside the panel (0 ohm in operating points) or under the layout. */
  readonly side: 'panel' | 'layout';
  readonly ohms: Ohm;
  /** What the file says; absent: chosen in loom. */
  readonly colour: string | null;
  readonly gauge: SquareMillimetre | null;
  readonly length: Millimetre | null;
}

/** One way of a connector that carries something. */
export interface Pin {
  readonly id: string;
  readonly connector: string;
  readonly number: number;
  readonly circuit: string;
  readonly net: string;
  /** The drive tag that it leads to. */
  readonly to: Terminal;
  readonly fixed: boolean;
}

export interface WiredConnector {
  readonly id: string;
  readonly part: ConnectorPart;
  readonly panelHalf: 'plug' | 'socket';
  readonly pins: readonly Pin[];
  readonly spare: number;
  readonly recorded: boolean;
}

export interface WiredSwitch {
  /** The lever's id. */
  readonly id: string;
  readonly part: SwitchPart;
  /** By pole, 1 first: tags normal, common, reverse. */
  readonly poles: readonly {
    readonly id: string;
    readonly normal: Terminal;
    readonly common: Terminal;
    readonly reverse: Terminal;
    readonly use: 'feed' | 'spare';
  }[];
}

export interface WiredLamp {
  readonly id: string;
  readonly part: LampPart;
  readonly circuit: string;
  readonly group: string;
  /** Lit when the lever lies so. */
  readonly lie: Lie;
  /** Names the string of lamps one behind the other that it stands in; null where it stands alone. */
  readonly series: string | null;
  readonly anode: Terminal;
  readonly cathode: Terminal;
  readonly guard: { readonly id: string; readonly part: DiodePart } | null;
}

export interface WiredResistor {
  readonly id: string;
  readonly group: string;
  readonly circuit: string;
  readonly a: Terminal;
  readonly b: Terminal;
  readonly ohms: Ohm;
  readonly rating: Watt;
  readonly ohmsFrom: 'file' | 'built' | 'computed';
}

export interface WiredDrive {
  /** Its record's id, or its point's. */
  readonly id: string;
  /** Points that it moves, in the order of the file; the first names it in faults and SPICE. */
  readonly points: readonly string[];
  readonly part: DrivePart;
  readonly circuit: string | null;
  readonly a: Terminal;
  readonly b: Terminal;
  /** Settled: the resistance of a stalled motor; null for a limit-switched one that has run and cut itself off. */
  readonly ohms: Ohm | null;
  readonly measured: boolean;
  /** Half width of the band of its amps, as a share: the part's, or the meter's where it is measured. */
  readonly ampsBand: number;
  /** The lie that the lever's normal asks of its first point; where no lever works that, the lie that its drive takes it to. */
  readonly whenNormal: Lie;
  /** The same for each of its points; `whenNormal` null where no lever works the point, `goes` where the drive takes it all the same. */
  readonly asks: readonly { readonly point: string; readonly whenNormal: Lie | null; readonly goes: Lie }[];
  /** True where tag a is plus when the lever is normal. */
  readonly plusToA: boolean;
  readonly wire: { readonly length: Millimetre; readonly gauge: SquareMillimetre; readonly guess: boolean };
}

export interface WiredSupply {
  readonly id: string;
  readonly volts: Volt;
  /** Edges of its band at the terminals, without load. */
  readonly low: Volt;
  readonly high: Volt;
  readonly ohms: Ohm;
  readonly amps: Ampere;
  readonly limit: 'none' | 'constant' | 'fold' | 'hiccup';
  readonly fuse: { readonly id: string; readonly amps: Ampere; readonly act: string; readonly given: boolean } | null;
  readonly circuits: readonly string[];
  /** The sum at switch-on: every drive at once, and lamps. */
  readonly worstAmps: Ampere;
  readonly steadyAmps: Ampere;
}

/** The network of one lever. */
export interface Circuit {
  /** The lever's id. */
  readonly id: string;
  readonly supply: string;
  readonly positions: readonly Position[];
  /** Share of the volts that a dimmer leaves its lamps at its lowest; 1 where there is none. */
  readonly dimmed: number;
  readonly points: readonly string[];
  readonly drives: readonly string[];
  readonly groups: readonly string[];
  readonly lamps: readonly string[];
  /** Wires of its own and of its supply's chain, in order. */
  readonly wires: readonly string[];
}

/** Everything that joins everything. Lists in the order of levers, then lie, then terminal. */
export interface Wiring {
  readonly circuits: readonly Circuit[];
  readonly supplies: readonly WiredSupply[];
  readonly switches: readonly WiredSwitch[];
  readonly lamps: readonly WiredLamp[];
  /** Every lamp of the file in its order, wired or not: the order of readings. */
  readonly lampOrder: readonly string[];
  readonly resistors: readonly WiredResistor[];
  readonly drives: readonly WiredDrive[];
  readonly connectors: readonly WiredConnector[];
  readonly wires: readonly Wire[];
  readonly problems: readonly WiringProblem[];
}

/** A corner of the bands: which edge each figure takes. */
export type Edge = 'low' | 'nominal' | 'high';

export type Look = 'unlit' | 'faint' | 'good' | 'bright' | 'destroyed';

export interface LampReading {
  readonly id: string;
  readonly amps: Ampere;
  readonly low: Ampere;
  readonly high: Ampere;
  readonly look: Look;
  /** Volts across its dark string the wrong way round, at the worst corner; 0 when it is not reversed. */
  readonly reverseVolts: Volt;
}

export interface DriveReading {
  readonly point: string;
  readonly drive: string;
  /** Positive when it is asked to go normal. */
  readonly volts: Volt;
  readonly amps: Ampere;
  readonly moves: Lie | null;
}

/** What stands everywhere in one setting of the levers. */
export interface Reading {
  readonly levers: Readonly<Record<string, Position>>;
  readonly supplies: readonly { readonly id: string; readonly volts: Volt; readonly amps: Ampere }[];
  readonly drives: readonly DriveReading[];
  /** In the order of the file; a lamp that is not wired reads 0 A. */
  readonly lamps: readonly LampReading[];
  readonly nodes: readonly { readonly circuit: string; readonly node: string; readonly volts: Volt | null }[];
  readonly residual: Ampere;
  readonly problems: readonly CircuitProblem[];
}

export type WiringProblem =
  | { readonly code: 'supply-unknown'; readonly supply: string; readonly by: string }
  | { readonly code: 'supply-kind-unfit'; readonly supply: string; readonly kind: string; readonly feed: string }
  | { readonly code: 'feed-not-built'; readonly lever: string; readonly feed: string }
  | { readonly code: 'drive-unknown'; readonly point: string; readonly drive: string }
  | { readonly code: 'drive-part-unknown'; readonly drive: string; readonly part: string }
  | {
      readonly code: 'drive-kind-unfit';
      readonly drive: string;
      readonly part: string;
      readonly feed: string;
      readonly lever: string;
    }
  | { readonly code: 'drive-two-levers'; readonly drive: string; readonly levers: readonly string[] }
  | {
      readonly code: 'drive-pulled-both-ways';
      readonly drive: string;
      readonly lever: string;
      readonly points: readonly string[];
    }
  | { readonly code: 'connector-part-unknown'; readonly connector: string; readonly part: string }
  | {
      readonly code: 'connector-full';
      readonly needs: number;
      readonly has: number;
      readonly lacking: readonly string[];
    }
  | {
      readonly code: 'connector-spare-used';
      readonly connector: string;
      readonly free: number;
      readonly wanted: number;
    }
  | { readonly code: 'connectors-alike'; readonly connectors: readonly string[] }
  | { readonly code: 'pin-unknown'; readonly connector: string; readonly pin: string }
  | { readonly code: 'pin-leads-nowhere'; readonly connector: string; readonly pin: string; readonly to: string }
  | { readonly code: 'wire-joins-nothing'; readonly wire: string; readonly from: string; readonly to: string };
