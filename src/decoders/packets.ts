/**
 * Packets for accessories, byte by byte, as NMRA S-9.2.1 (2012) lays them out.
 * Basic `10AAAAAA 1AAACDDD`: six low bits of the board, its three high bits inverted, C on, two bits of pair, one of member. Extended
 * `10AAAAAA 0AAA0AA1 000XXXXX`, the bits of board and pair alike. The last byte is the XOR of the others (S-9.2). That the high bits are
 * inverted in the extended packet too is from memory.
 */
import { BROADCAST_BOARD, expectPair } from './addresses.ts';
import type { AccessoryCommand, Member, Packet, PacketRead, PairPlace } from './types.ts';

/** First byte of every packet for accessories: 10 and the six low bits of the board. */
const FIRST = 0b10000000;
const LOW_BITS = 0b00111111;
const HIGH_BITS = 0b111;
const BASIC = 0b10000000;
const ON = 0b00001000;
/** Bits of the second byte of an extended packet that are neither board nor pair, and what they are: 0AAA0AA1. */
const EXTENDED_MASK = 0b10001001;
const EXTENDED = 0b00000001;
/** Aspects of an extended packet: five bits; 0 is the absolute stop. */
const LAST_ASPECT = 31;

/**
 * The packet that switches one output of a pair on or off. Board 511 gives the broadcast. Throws RangeError for what is no pair.
 * @example basicPacket({ board: 1, pair: 0 }, 0) // [0b10000001, 0b11111000, 0b01111001]
 */
export function basicPacket(place: PairPlace, member: Member, on = true): Packet {
  const { first, high } = boardBits(place);
  return closed([first, BASIC | high | (on ? ON : 0) | (place.pair << 1) | member]);
}

/** The packet that shows an aspect, 0 (stop) to 31, at the output of this board and pair. Throws RangeError out of that. */
export function extendedPacket(place: PairPlace, aspect: number): Packet {
  if (!Number.isInteger(aspect) || aspect < 0 || aspect > LAST_ASPECT)
    throw new RangeError(`aspect ${aspect} of 0 to ${LAST_ASPECT}`);
  const { first, high } = boardBits(place);
  return closed([first, EXTENDED | high | (place.pair << 1), aspect]);
}

/** What bytes say: a command for accessories, or why they are none. Never throws. */
export function readPacket(bytes: Packet): PacketRead {
  const [first = 0, second = 0, third = 0] = bytes;
  if (bytes.some((byte) => !Number.isInteger(byte) || byte < 0 || byte > 255)) return no('a byte is 0 to 255');
  if (bytes.length !== 3 && bytes.length !== 4) return no(`${bytes.length} bytes: accessories take 3 or 4`);
  if (xorOf(bytes) !== 0) return no('the last byte is not the XOR of the others');
  if ((first & ~LOW_BITS) !== FIRST) return no('the first byte is not that of an accessory');
  const board = (first & LOW_BITS) | ((~(second >> 4) & HIGH_BITS) << 6);
  const pair = (second >> 1) & 0b11;
  if (bytes.length === 3) {
    if ((second & BASIC) === 0) return no('the second byte is not that of a basic packet');
    const member: Member = (second & 1) === 1 ? 1 : 0;
    const on = (second & ON) !== 0;
    return yes(
      board === BROADCAST_BOARD ? { kind: 'broadcast', on, pair, member } : { kind: 'basic', board, pair, member, on },
    );
  }
  if ((second & EXTENDED_MASK) !== EXTENDED) return no('the second byte is not that of an extended packet');
  if (third > LAST_ASPECT) return no(`the third byte is not an aspect of 0 to ${LAST_ASPECT}`);
  return yes({ kind: 'extended', board, pair, aspect: third });
}

/** Bytes as eight bits each: "10000001 11111000 01111001". */
export function inBits(bytes: Packet): string {
  return bytes.map((byte) => byte.toString(2).padStart(8, '0')).join(' ');
}

/** Bytes as two figures of sixteen each: "81 F8 79". */
export function inHex(bytes: Packet): string {
  return bytes.map((byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(' ');
}

function boardBits(place: PairPlace): { readonly first: number; readonly high: number } {
  expectPair(place);
  return { first: FIRST | (place.board & LOW_BITS), high: (~(place.board >> 6) & HIGH_BITS) << 4 };
}

function xorOf(bytes: readonly number[]): number {
  return bytes.reduce((sum, byte) => sum ^ byte, 0);
}

function closed(bytes: readonly number[]): Packet {
  return [...bytes, xorOf(bytes)];
}

function yes(command: AccessoryCommand): PacketRead {
  return { ok: true, command };
}

function no(why: string): PacketRead {
  return { ok: false, why };
}
