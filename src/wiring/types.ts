import type { CircuitProblem } from '../circuit/index.ts';
import type { Carrier } from '../lamps/index.ts';
import type { Feed, Lie, Lies } from '../panel/index.ts';
import type {
  ButtonPart,
  ConnectorPart,
  DiodePart,
  DrivePart,
  LampPart,
  RelayPart,
  SwitchPart,
} from '../parts/index.ts';
import type { Ampere, Farad, Joule, Millimetre, Ohm, Second, SquareMillimetre, Volt, Watt } from '../units/index.ts';

/**
 * Where a wire can end, by the names that drawings, schedules, faults and SPICE share: tags `L4.t1`, leads `H3.a` `H3.k`,
 * resistor leads `R-G1.1` `R-G1.2`, guard diodes `GD-H1.a` `GD-H1.k`, fuses `FU-S1.1` `FU-S1.2`, supplies `S1.p` `S1.m`,
 * pins `A.7` (panel half and layout half alike), drive tags `D1.a` `D1.b` (coils `D1.n` `D1.r` `D1.com`), contacts `D1.c1.c` `D1.c1.n`
 * `D1.c1.r` (common, normal, reverse), the ways of a return under the layout `R0.1`.
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
  /** Of a supply's wire, the circuit that it reaches; null where it reaches none by itself. */
  readonly feeds: string | null;
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
  /** The lever's id; of a switch on another panel that works the same "L1.twin". */
  readonly id: string;
  readonly part: SwitchPart;
  /** The lever whose circuit a switch on another panel works too; absent: it is a lever of this panel. */
  readonly twinOf?: string;
  /** By pole, 1 first: tags normal, common, reverse. */
  readonly poles: readonly {
    readonly id: string;
    readonly normal: Terminal;
    readonly common: Terminal;
    readonly reverse: Terminal;
    readonly use: 'feed' | 'lamps' | 'spare';
  }[];
}

/** A changeover contact on a drive, on its blades or of a relay that lights lamps. */
export interface WiredContact {
  readonly id: string;
  readonly circuit: string;
  readonly carrier: Carrier;
  readonly common: Terminal;
  /** Null where nothing hangs on that throw. */
  readonly normal: Terminal | null;
  readonly reverse: Terminal | null;
}

/** A relay that follows a point: what sets and resets it, and where its contacts stand is among the contacts. */
export interface WiredRelay {
  readonly id: string;
  readonly part: RelayPart;
  readonly circuit: string;
  readonly point: string;
  /** True where its contacts hold the feed of a lever and its twin on another panel. */
  readonly holds?: boolean;
  /** Coils by their ends: the one that sets it, and the one that resets it. */
  /** With the diode across each, that catches its kick. */
  readonly coils: readonly {
    readonly id: string;
    readonly a: Terminal;
    readonly b: Terminal;
    readonly diode: string;
  }[];
}

/** A push button: closed while it is pressed. */
export interface WiredButton {
  readonly id: string;
  readonly part: ButtonPart;
  readonly circuit: string;
  readonly poles: readonly {
    readonly id: string;
    readonly a: Terminal;
    readonly b: Terminal;
    readonly point: string;
    readonly lie: Lie;
  }[];
}

/** A diode that steers a feed, rectifies, or catches the kick of a coil. */
export interface WiredDiode {
  readonly id: string;
  readonly part: DiodePart;
  readonly circuit: string;
  readonly what: 'steering' | 'rectifier' | 'flyback';
  readonly anode: Terminal;
  readonly cathode: Terminal;
}

export interface WiredCapacitor {
  readonly id: string;
  readonly circuit: string;
  readonly farads: Farad;
  readonly plus: Terminal;
  readonly minus: Terminal;
}

/** A wire that several drives share on their way back. */
export interface WiredReturn {
  readonly id: string;
  readonly supply: string;
  readonly circuits: readonly string[];
  readonly pins: readonly string[];
  /** Where it ends under the layout, a terminal a pin, linked. */
  readonly terminals: readonly Terminal[];
}

export interface WiredLamp {
  readonly id: string;
  /** The lamp of the file: of two colours each element is a lamp. */
  readonly of: string;
  readonly part: LampPart;
  readonly circuit: string;
  readonly group: string;
  /** Lit across a feed that turns its polarity over, in series with the drives on it, or by contacts that bring it plus. */
  readonly by: 'feed' | 'series' | 'contacts';
  /** Where contacts light it: lies of levers, drives, blades or relays that all must hold. */
  readonly cube: Lies | null;
  /** Lit when the lever, or the last contact before it, lies so. */
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
  /** The feed that works it; null where nothing does, or nothing that suits it. */
  readonly feed: Feed['kind'] | null;
  /** Of a twin coil the ends of coil N and coil R; of a driver board its input and its common. */
  readonly a: Terminal;
  readonly b: Terminal;
  /** Where both coils end, or a driver board has its volts. */
  readonly com: Terminal | null;
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
  readonly kind: 'dc' | 'battery' | 'ac' | 'cdu' | 'track';
  /** Effective volts of an alternating one; of a CDU those of what charges it. */
  readonly volts: Volt;
  /** Cycles a second of an alternating one. */
  readonly frequency: number;
  /** A CDU: what charges it, through how much, and its capacitor. */
  readonly from: string | null;
  readonly farads: Farad | null;
  readonly chargeOhms: Ohm | null;
  /** What its rails hold without load, and the edges of its band; behind the diodes of a half-wave feed those of one rail. */
  readonly railVolts: Volt;
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
  /** What its fuse must hold: the sum at switch-on, of which a slow fuse feels a quarter of each pulse. */
  readonly holdAmps: Ampere;
  /** True where drives are thrown by pulses straight from it: its fuse is a slow one. */
  readonly pulsed: boolean;
}

/** The network of one lever; or of a point that no lever works, or of contacts of several levers, and the lamps that they light. */
export interface Circuit {
  /** The lever's id, the point's, or a name of its own. */
  readonly id: string;
  /** What feeds it; where no feed does, what lights its lamps. */
  readonly supply: string;
  /** All that it hangs on, the feed's first. */
  readonly supplies: readonly string[];
  readonly feed: Feed['kind'] | null;
  /** Positions of its own lever; none where it has none. */
  readonly positions: readonly Position[];
  /** Levers whose poles stand in it. */
  readonly levers: readonly string[];
  /** What decides its other contacts: ids of carriers. */
  readonly follows: readonly string[];
  /** Where the wires of supplies come into it, and which wire that is: "S1.p". */
  readonly rails: readonly { readonly terminal: Terminal; readonly net: Terminal }[];
  /** True where it is a load of two terminals, the plus and the minus of one supply, whatever else hangs on that. */
  readonly load: boolean;
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
  readonly contacts: readonly WiredContact[];
  readonly relays: readonly WiredRelay[];
  readonly buttons: readonly WiredButton[];
  readonly diodes: readonly WiredDiode[];
  readonly capacitors: readonly WiredCapacitor[];
  readonly returns: readonly WiredReturn[];
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
  /** Of a pulse or charge feed: what a throw gives it. */
  readonly pulse: PulseReading | null;
}

/** What one throw gives a coil. */
export interface PulseReading {
  /** At its peak. */
  readonly amps: Ampere;
  /** Stored when it starts. */
  readonly joules: Joule;
  /** Above what throws it. */
  readonly seconds: Second;
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
  | {
      readonly code: 'supply-kind-unfit';
      readonly supply: string;
      readonly kind: string;
      readonly feed: Feed['kind'];
    }
  /** A split feed wants two supplies that are isolated and not the same; a charge feed a capacitor; a half-wave feed an AC supply. */
  | {
      readonly code: 'feed-lacks';
      readonly lever: string;
      readonly feed: string;
      readonly what: 'second-supply' | 'farads';
    }
  /** A coil that a maintained switch holds: it burns, or, behind a CDU, nothing else works any more. */
  | {
      readonly code: 'coil-held';
      readonly drive: string;
      readonly lever: string;
      readonly supply: string;
      readonly cdu: boolean;
    }
  | {
      readonly code: 'button-unfit';
      readonly button: string;
      readonly point: string;
      readonly why: 'feed' | 'drive' | 'poles' | 'unknown';
    }
  /** A return names a lever that is not there; with `back`, one whose drives come back to that supply and not to the return's. */
  | {
      readonly code: 'return-unknown';
      readonly return: string;
      readonly lever: string;
      readonly supply?: string | undefined;
      readonly back?: string | undefined;
    }
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

/** One change of one element of the network, by the element's id. */
export type FaultEdit =
  /** No branch any more. */
  | { readonly do: 'cut'; readonly element: string }
  /** 0 ohm in its place. */
  | { readonly do: 'short'; readonly element: string }
  /** Its two ends exchanged. */
  | { readonly do: 'turn'; readonly element: string }
  | { readonly do: 'ohms'; readonly element: string; readonly ohms: Ohm }
  /** Its second end lands elsewhere. */
  | { readonly do: 'move'; readonly element: string; readonly b: Terminal }
  /** A new joint of 0 ohm. */
  | { readonly do: 'join'; readonly element: string; readonly a: Terminal; readonly b: Terminal }
  /** A contact that no longer opens. */
  | { readonly do: 'close'; readonly element: string }
  /** Two contacts that do each other's work. */
  | { readonly do: 'exchange'; readonly element: string; readonly other: string }
  /** A source of so many times its volts. */
  | { readonly do: 'volts'; readonly element: string; readonly times: number }
  /** A rail that a settled network holds, of so many times its volts: what stands before it is broken. */
  | { readonly do: 'rail'; readonly element: string; readonly times: number }
  /** A relay that keeps its contacts where they are. */
  | { readonly do: 'keep'; readonly carrier: string; readonly at: Lie }
  /** A drive that cannot leave a lie: what should have cut itself off runs on against the stop. */
  | { readonly do: 'hold'; readonly drive: string; readonly at: Lie };
