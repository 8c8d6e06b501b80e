import type { Lie, PanelFile } from '../panel/index.ts';
import type { DrivePart } from '../parts/index.ts';
import type { Ampere, Spot } from '../units/index.ts';

/** Which board holds address 1: the two ways to count outputs differ by four. */
export type Numbering = NonNullable<NonNullable<PanelFile['track']>['numbering']>;

/** One pair of outputs on the bus: `board` from 0 to 511 (511 is the broadcast), `pair` from 0 to 3. */
export interface PairPlace {
  readonly board: number;
  readonly pair: number;
}

/** Bit 0 of a basic packet: one output of the pair or the other. */
export type Member = 0 | 1;

/** Bytes on the bus, each 0 to 255; the last is the XOR of the others. */
export type Packet = readonly number[];

/** What a packet for accessories says. `on`: its output is switched on, else off. */
export type AccessoryCommand =
  | ({ readonly kind: 'basic'; readonly on: boolean; readonly member: Member } & PairPlace)
  | { readonly kind: 'broadcast'; readonly on: boolean; readonly pair: number; readonly member: Member }
  | ({ readonly kind: 'extended'; readonly aspect: number } & PairPlace);

/** Bytes read back; what they are not is said in one sentence. */
export type PacketRead =
  | { readonly ok: true; readonly command: AccessoryCommand }
  | { readonly ok: false; readonly why: string };

/** What an address comes to in a numbering. */
export type AddressRead =
  | { readonly kind: 'pair'; readonly place: PairPlace }
  /** On board 511, whose pattern every decoder obeys. */
  | { readonly kind: 'broadcast' }
  /** No board has it. */
  | { readonly kind: 'out-of-range' };

/** A point that a decoder moves. */
export interface DecoderPoint {
  readonly point: string;
  /** How it lies when the decoder is told normal. */
  readonly whenNormal: Lie;
}

/** A drive that is told by an address. */
export interface Decoder {
  /** Its record's id, or that of the point whose drive it is. */
  readonly id: string;
  readonly recorded: boolean;
  readonly part: DrivePart;
  /** In the order of the plan; empty where it moves none. */
  readonly points: readonly DecoderPoint[];
  /** Where its first point lies on the face. */
  readonly at: Spot | null;
  readonly address: number | null;
  /** Null where there is no address. */
  readonly read: AddressRead | null;
  /** The output that sends it to normal. */
  readonly member: Member;
  /** Packets that switch an output on: to normal and to reverse. Null without a pair of its own. */
  readonly packets: { readonly normal: Packet; readonly reverse: Packet } | null;
  /** What it draws while it throws: as measured, else its part's. */
  readonly amps: Ampere;
}

/** What one bus gives accessories before it trips. */
export interface DecoderDraw {
  /** The most that one command draws: all decoders of one address throw at once. */
  readonly one: Ampere;
  /** The ids of those. */
  readonly oneOf: readonly string[];
  /** All at once, as may be at power-up. */
  readonly all: Ampere;
  /** Null where the file does not say, or one booster of several does not. Of several boosters the greatest. */
  readonly trip: Ampere | null;
  /** All boosters of the bus together. */
  readonly tripAll: Ampere | null;
}

export interface DecoderList {
  readonly numbering: Numbering;
  /** True where the file says it. */
  readonly numberingSaid: boolean;
  /** By address, then by id; those without an address last. */
  readonly decoders: readonly Decoder[];
  /** Decoders that share an address, by address. */
  readonly shared: readonly { readonly address: number; readonly ids: readonly string[] }[];
  /** Accessories have a bus of their own. */
  readonly ownBus: boolean;
  readonly draw: DecoderDraw;
  /** Drives of another kind that have an address all the same, in the order of the file. */
  readonly idle: readonly { readonly id: string; readonly address: number; readonly part: string }[];
}
