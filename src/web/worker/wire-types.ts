/** What the stage Wire is told of a circuit: plain data that can be cloned. */
import type { CircuitFigures, CircuitModel } from '../../book/index.ts';
import type { LeverPositions } from '../../derive-panel.ts';
import type { Lies } from '../../panel/index.ts';
import type { Suggestion } from '../../truth/index.ts';
import type { Ampere, Millimetre, Ohm, Spot, SquareMillimetre, Volt } from '../../units/index.ts';
import type { Look, Position, WiredSupply } from '../../wiring/index.ts';

/** What is asked: a circuit, levers as they lie, one fault by its code, and how points lay of which nothing is asked. */
export interface WireAsk {
  /** Null: the first. */
  readonly circuit: string | null;
  readonly levers: LeverPositions;
  readonly fault: string | null;
  readonly history: Lies;
}

/** A circuit as the list has it. */
export interface WireCircuit {
  readonly id: string;
  readonly kind: 'lever' | 'point' | 'tree';
  readonly name: string | null;
  readonly works: readonly string[];
  /** What a finding may name that speaks of it. */
  readonly ids: readonly string[];
  readonly lamps: readonly string[];
}

export interface WireWire {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly colour: string;
  readonly gauge: SquareMillimetre;
  readonly length: Millimetre;
  readonly side: 'panel' | 'layout';
}

/** A pin that this circuit uses. */
export interface WirePin {
  readonly id: string;
  readonly number: number;
  readonly to: string;
  readonly panelColour: string | null;
  readonly layoutColour: string | null;
  readonly fixed: boolean;
}

export interface WireConnector {
  readonly id: string;
  readonly name: string;
  readonly family: 'dsub' | 'header' | 'screw' | 'din';
  readonly panelHalf: 'plug' | 'socket';
  /** Ways from the wiring side of the panel's half and of the layout's, way 1 first, mm. */
  readonly panelSide: readonly Spot[];
  readonly layoutSide: readonly Spot[];
  /** Numbers of all ways that carry anything. */
  readonly used: readonly number[];
  readonly pins: readonly WirePin[];
}

/** One tag of a switch from behind. */
export interface WireTag {
  readonly name: string;
  readonly role: 'normal' | 'common' | 'reverse';
  readonly pole: number;
  /** mm from the middle of the body. */
  readonly at: Spot;
  readonly wires: readonly { readonly id: string; readonly colour: string; readonly to: string }[];
}

export interface WireSwitch {
  readonly id: string;
  readonly name: string;
  readonly body: Spot;
  readonly tags: readonly WireTag[];
  /** Poles in use, of so many. */
  readonly used: number;
  readonly poles: number;
}

export interface WireSupply {
  readonly id: string;
  readonly kind: WiredSupply['kind'];
  readonly volts: Volt;
  /** The most that it gives, and the sum at switch-on. */
  readonly amps: Ampere;
  readonly worst: Ampere;
  readonly steady: Ampere;
  readonly from: string | null;
  readonly fuse: { readonly id: string; readonly amps: Ampere; readonly given: boolean } | null;
  readonly circuits: readonly string[];
  readonly returns: readonly { readonly id: string; readonly circuits: readonly string[]; readonly pins: number }[];
  /** The volts stand in the file. */
  readonly given: boolean;
}

/** A single fault that this circuit can have. */
export interface WireFault {
  readonly code: string;
  readonly says: string;
  /** Parts and wires that it is at. */
  readonly at: readonly string[];
}

/** A figure that the user can fix. */
export type WireValue =
  | { readonly what: 'ohms'; readonly id: string; readonly group: string; readonly ohms: Ohm; readonly given: boolean }
  | { readonly what: 'lamp-amps'; readonly id: string; readonly amps: Ampere; readonly given: boolean }
  | { readonly what: 'supply-volts'; readonly id: string; readonly volts: Volt; readonly given: boolean }
  | { readonly what: 'drive-amps'; readonly id: string; readonly amps: Ampere; readonly given: boolean }
  | { readonly what: 'wire-length'; readonly id: string; readonly length: Millimetre; readonly given: boolean };

/** A lamp group as the tool wires it, to be written down when one of its figures is fixed. */
export interface WireGroup {
  readonly id: string;
  readonly lamps: readonly string[];
  readonly arrange: 'pair' | 'own' | 'series' | 'parallel';
  readonly guard: 'none' | 'antiparallel';
  readonly recorded: boolean;
}

/** Everything about one circuit in one setting. */
export interface WireView {
  readonly circuits: readonly WireCircuit[];
  readonly supplies: readonly WireSupply[];
  /** Null where nothing is wired. */
  readonly shown: WireShown | null;
}

export interface WireShown {
  readonly circuit: string;
  readonly feed: string | null;
  readonly positions: readonly Position[];
  readonly levers: readonly string[];
  readonly model: CircuitModel;
  readonly figures: CircuitFigures;
  /** The most volts of its supplies. */
  readonly top: Volt;
  readonly wires: readonly WireWire[];
  readonly connectors: readonly WireConnector[];
  readonly switch: WireSwitch | null;
  readonly values: readonly WireValue[];
  readonly groups: readonly WireGroup[];
  readonly faults: readonly WireFault[];
  readonly fault: WireFault | null;
  /** Looks of every lamp of the panel; with a fault, those of other circuits as they are while all is well. */
  readonly looks: Readonly<Record<string, Look>>;
  /** Points of which nothing is asked, whose lie is told. */
  readonly free: readonly string[];
}

/** How many single faults of a circuit would make a lamp lie, and what would tell better. */
export interface WireTruth {
  readonly byCircuit: Readonly<Record<string, { readonly tried: number; readonly lie: number }>>;
  /** Codes of the faults that make a lamp lie somewhere, with the first lamp that does. */
  readonly lies: Readonly<Record<string, string>>;
  readonly suggestions: readonly Suggestion[];
}
