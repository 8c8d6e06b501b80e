import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { basicPacket, extendedPacket, inBits, inHex, readPacket } from './packets.ts';

const bytes = fc.array(fc.integer({ min: 0, max: 255 }), { maxLength: 6 });

describe('packets', () => {
  it('[DC5] all 2048 pairs come back, both members, on and off, and no two alike', () => {
    const seen = new Set<string>();
    for (let board = 0; board <= 511; board++)
      for (let pair = 0; pair < 4; pair++)
        for (const member of [0, 1] as const)
          for (const on of [true, false]) {
            const packet = basicPacket({ board, pair }, member, on);
            seen.add(inHex(packet));
            expect(readPacket(packet)).toEqual({
              ok: true,
              command:
                board === 511 ? { kind: 'broadcast', pair, member, on } : { kind: 'basic', board, pair, member, on },
            });
          }
    expect(seen.size).toBe(2048 * 2 * 2);
  });

  it('[DC5] an extended packet comes back with its aspect (seed 9213)', () => {
    const wanted = fc.record({
      board: fc.integer({ min: 0, max: 511 }),
      pair: fc.integer({ min: 0, max: 3 }),
      aspect: fc.integer({ min: 0, max: 31 }),
    });
    fc.assert(
      fc.property(wanted, ({ board, pair, aspect }) => {
        const packet = extendedPacket({ board, pair }, aspect);
        expect(packet).toHaveLength(4);
        expect(readPacket(packet)).toEqual({ ok: true, command: { kind: 'extended', board, pair, aspect } });
      }),
      { seed: 9213, numRuns: 300 },
    );
  });

  it('[DC4] a single bit that flips on the way is seen (seed 9214)', () => {
    const flipped = fc.record({
      board: fc.integer({ min: 0, max: 511 }),
      pair: fc.integer({ min: 0, max: 3 }),
      bit: fc.integer({ min: 0, max: 23 }),
    });
    fc.assert(
      fc.property(flipped, ({ board, pair, bit }) => {
        const packet = basicPacket({ board, pair }, 1).map((byte, i) =>
          i === bit >> 3 ? byte ^ (1 << (bit & 7)) : byte,
        );
        expect(readPacket(packet).ok).toBe(false);
      }),
      { seed: 9214, numRuns: 300 },
    );
  });

  it('[DC6] any bytes are read as what packs to them, or refused with a reason (seed 9215)', () => {
    fc.assert(
      fc.property(bytes, fc.boolean(), (some, close) => {
        const packet = close ? [...some, some.reduce((sum, byte) => sum ^ byte, 0)] : some;
        const read = readPacket(packet);
        if (!read.ok) {
          expect(read.why).toMatch(/\w+ \w+/);
          return;
        }
        const { command } = read;
        expect(packet).toEqual(
          command.kind === 'extended'
            ? extendedPacket(command, command.aspect)
            : basicPacket(
                { board: command.kind === 'broadcast' ? 511 : command.board, pair: command.pair },
                command.member,
                command.on,
              ),
        );
      }),
      { seed: 9215, numRuns: 2000 },
    );
  });

  it.each([
    ['the idle packet (S-9.2)', [0xff, 0x00, 0xff]],
    ['the reset packet (S-9.2)', [0, 0, 0]],
    ['a locomotive of a short number', [3, 0b01100101, 3 ^ 0b01100101]],
    ['a byte short', [0x81, 0xf8]],
    ['nothing', []],
    ['no byte', [0x81, 0xf8, 0x179]],
    ['a fraction', [0x81, 0xf8, 0.5]],
    ['a basic packet of four bytes', [0x81, 0xf8, 0, 0x79]],
    ['an extended packet of three bytes', [0x81, 0x71, 0xf0]],
    ['an aspect above 31', [0x81, 0x71, 32, 0xd0]],
  ])('[DC6] %s is refused', (_, packet) => {
    expect(readPacket(packet).ok).toBe(false);
  });

  it('are written bit by bit and in sixteens', () => {
    expect(inBits([0x81, 0x08])).toBe('10000001 00001000');
    expect(inHex([0x81, 0x08])).toBe('81 08');
  });

  it('throw for what no bits hold', () => {
    expect(() => basicPacket({ board: 512, pair: 0 }, 0)).toThrow(RangeError);
    expect(() => extendedPacket({ board: 0, pair: 4 }, 0)).toThrow(RangeError);
    for (const aspect of [-1, 32, 0.5]) expect(() => extendedPacket({ board: 1, pair: 0 }, aspect)).toThrow(RangeError);
  });
});
