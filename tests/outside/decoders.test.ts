// Accessory packets against NMRA S-9.2.1 (2012) and S-9.2.2. The table stands in data/16-accessory-packets.csv, with how it was made.
import { describe, expect, it } from 'vitest';
import {
  addressOf,
  basicPacket,
  extendedPacket,
  inBits,
  lastAddress,
  type Numbering,
  readAddress,
  readPacket,
} from '../../src/decoders/index.ts';
import { TYPICAL_PARTS } from '../../src/parts/index.ts';
import { readCsv } from './read-csv.ts';

const TABLE = readCsv('16-accessory-packets.csv', false);
const bits = (text: string): number[] => text.split(' ').map((byte) => Number.parseInt(byte, 2));
/** A packet of these bytes as S-9.2 closes it. */
const closed = (...bytes: readonly number[]): number[] => [...bytes, bytes.reduce((sum, byte) => sum ^ byte, 0)];

describe('basic packets', () => {
  it.each(TABLE.map((row) => [`board ${row.get('board')}, pair ${row.get('pair')}`, row] as const))(
    '[DC4] %s: bytes and XOR of the table, both ways',
    (_, row) => {
      const place = { board: row.number('board'), pair: row.number('pair') };
      const packet = `${row.get('byte_1')} ${row.get('byte_2')} ${row.get('xor')}`;
      expect(inBits(basicPacket(place, 0))).toBe(packet);
      expect(readPacket(bits(packet))).toEqual({ ok: true, command: { kind: 'basic', ...place, member: 0, on: true } });
    },
  );

  it('[DC4] bits 1 and 2 choose the pair, bit 0 the member, bit 3 is C (S-9.2.1)', () => {
    for (let ddd = 0; ddd < 8; ddd++)
      for (const c of [0, 1]) {
        const packet = closed(0b10000001, 0b11110000 + 8 * c + ddd);
        expect(readPacket(packet)).toEqual({
          ok: true,
          command: { kind: 'basic', board: 1, pair: Math.floor(ddd / 2), member: ddd % 2, on: c === 1 },
        });
      }
  });

  it('[DC2] 10111111 1000CDDD is the broadcast (S-9.2.1), which is the pattern of board 511', () => {
    for (let cddd = 0; cddd < 16; cddd++) {
      const packet = closed(0b10111111, 0b10000000 + cddd);
      const read = readPacket(packet);
      expect(read.ok && read.command.kind).toBe('broadcast');
      const pair = (cddd >> 1) & 3;
      expect(basicPacket({ board: 511, pair }, cddd % 2 === 1 ? 1 : 0, cddd >= 8)).toEqual(packet);
    }
  });

  it('[DC2] 512 codes of 4 pairs are 2048; without the broadcast 511 boards and 2044 pairs, without board 0 510 and 2040 (sums)', () => {
    const found = { boards: new Set<number>(), pairs: new Set<string>() };
    let codes = 0;
    for (let first = 0; first < 256; first++)
      for (let second = 0; second < 256; second++) {
        // Active, member 0: one packet for each pair.
        if ((second & 0b1001) !== 0b1000) continue;
        const read = readPacket(closed(first, second));
        if (!read.ok) continue;
        codes += 1;
        if (read.command.kind !== 'basic') continue;
        found.boards.add(read.command.board);
        found.pairs.add(`${read.command.board}/${read.command.pair}`);
      }
    expect([codes, found.boards.size, found.pairs.size]).toEqual([2048, 511, 2044]);
    expect([lastAddress('board-0'), lastAddress('board-1')]).toEqual([2044, 2040]);
  });

  it('the first byte of an accessory is 128 to 191 (S-9.2.1)', () => {
    for (let first = 0; first < 256; first++)
      expect(readPacket(closed(first, 0b11111000)).ok, String(first)).toBe(first >= 128 && first <= 191);
  });
});

describe('extended packets', () => {
  it('[DC4] 10AAAAAA 0AAA0AA1 000XXXXX, 00000 is the absolute stop (S-9.2.1)', () => {
    for (const board of [0, 1, 64, 300, 511])
      for (let pair = 0; pair < 4; pair++) {
        const text = inBits(extendedPacket({ board, pair }, 0));
        expect(text).toMatch(/^10[01]{6} 0[01]{3}0[01]{2}1 00000000 [01]{8}$/);
      }
    // The high bits are inverted here too: from memory.
    expect(extendedPacket({ board: 1, pair: 2 }, 5)).toEqual(closed(0b10000001, 0b01110101, 5));
  });
});

describe('the two numberings', () => {
  it('[DC1] linear, boards from 1: board b and pair p have 4 (b - 1) + p + 1', () => {
    for (const [board, pair, address] of [
      [1, 0, 1],
      [1, 3, 4],
      [2, 0, 5],
      [64, 0, 253],
      [510, 3, 2040],
    ] as const) {
      expect(addressOf({ board, pair }, 'board-1')).toBe(address);
      expect(readAddress(address, 'board-1')).toEqual({ kind: 'pair', place: { board, pair } });
    }
  });

  it('[DC1] by the formula of S-9.2.2 output 1 (variable 1 is 1, variable 9 is 0) is pair 0 of board 0', () => {
    for (const output of [1, 2, 4, 5, 256, 257, 1000, 2044]) {
      const [low, high] = [output % 256, Math.floor(output / 256)];
      const o = low + 256 * high - 1;
      expect(readAddress(output, 'board-0')).toEqual({ kind: 'pair', place: { board: o >> 2, pair: o & 3 } });
    }
  });

  it.each<Numbering>(['board-1', 'board-0'])('[DC5] 2048 pairs go to bytes and back (S-9.2.1), %s', (numbering) => {
    for (let board = 0; board < 512; board++)
      for (let pair = 0; pair < 4; pair++) {
        const read = readPacket(basicPacket({ board, pair }, 1));
        if (!read.ok) throw new Error(read.why);
        if (board === 511) {
          expect(read.command.kind).toBe('broadcast');
          continue;
        }
        if (read.command.kind !== 'basic') throw new Error(read.command.kind);
        const address = addressOf(read.command, numbering);
        if (address === null) expect([numbering, board]).toEqual(['board-1', 0]);
        else expect(readAddress(address, numbering)).toEqual({ kind: 'pair', place: { board, pair } });
      }
  });
});

it('a decoder works from 7 to 27 V (S-9.1, 2020, H0, S and 0)', () => {
  const part = TYPICAL_PARTS.find(({ id }) => id === 'decoder');
  expect(part?.kind === 'drive' && part.volts).toEqual({ low: 7, high: 27 });
});
