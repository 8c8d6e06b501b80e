/**
 * Addresses as people type them, and pairs as the bus knows them (NMRA S-9.2.1, 2012: nine bits of board, two of pair).
 * The standards can be read in two ways that differ by four: address 1 is pair 0 of board 1 when boards are counted from 1 and pairs
 * from there, and pair 0 of board 0 by the output formula of S-9.2.2. Neither is guessed: every function here is told.
 */
import type { AddressRead, Numbering, PairPlace } from './types.ts';

/** Pairs on one board: two bits. */
export const PAIRS_PER_BOARD = 4;
/** Its pattern is that of the broadcast, so no decoder has it. */
export const BROADCAST_BOARD = 511;

/** The board that holds address 1, by numbering. */
const FIRST_BOARD: Readonly<Record<Numbering, number>> = { 'board-1': 1, 'board-0': 0 };

/**
 * The pair that an address means.
 * @example readAddress(5, 'board-1') // { kind: 'pair', place: { board: 2, pair: 0 } }
 */
export function readAddress(address: number, numbering: Numbering): AddressRead {
  const output = address - 1;
  const board = FIRST_BOARD[numbering] + Math.floor(output / PAIRS_PER_BOARD);
  if (!Number.isInteger(address) || address < 1 || board > BROADCAST_BOARD) return { kind: 'out-of-range' };
  if (board === BROADCAST_BOARD) return { kind: 'broadcast' };
  return { kind: 'pair', place: { board, pair: output % PAIRS_PER_BOARD } };
}

/**
 * The address of a pair; null for board 0 where boards are counted from 1, and for the broadcast. Throws RangeError for what is no pair.
 * @example addressOf({ board: 2, pair: 0 }, 'board-0') // 9
 */
export function addressOf(place: PairPlace, numbering: Numbering): number | null {
  expectPair(place);
  const { board, pair } = place;
  if (board < FIRST_BOARD[numbering] || board === BROADCAST_BOARD) return null;
  return PAIRS_PER_BOARD * (board - FIRST_BOARD[numbering]) + pair + 1;
}

/** The last address that a decoder can have: 2040 where address 1 is on board 1, 2044 where it is on board 0. The first is 1. */
export function lastAddress(numbering: Numbering): number {
  return PAIRS_PER_BOARD * (BROADCAST_BOARD - FIRST_BOARD[numbering]);
}

/** The lowest address that no one of these has; null where all are taken. */
export function lowestFree(taken: Iterable<number>, numbering: Numbering): number | null {
  const used = new Set(taken);
  const last = lastAddress(numbering);
  for (let address = 1; address <= last; address++) if (!used.has(address)) return address;
  return null;
}

/** Throws RangeError for what the bits cannot hold. */
export function expectPair({ board, pair }: PairPlace): void {
  if (!Number.isInteger(board) || board < 0 || board > BROADCAST_BOARD)
    throw new RangeError(`board ${board} of 0 to ${BROADCAST_BOARD}`);
  if (!Number.isInteger(pair) || pair < 0 || pair >= PAIRS_PER_BOARD)
    throw new RangeError(`pair ${pair} of 0 to ${PAIRS_PER_BOARD - 1}`);
}
