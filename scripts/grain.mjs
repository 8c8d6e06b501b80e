// node scripts/grain.mjs: the tile of grain that paint has on the screen, src/web/face/grain.png. Run again only to change how it looks.
import { writeFileSync } from 'node:fs';
import { crc32, deflateSync } from 'node:zlib';
import { inRoot } from './tools.mjs';

/** The tile's side in px; drawn 40 mm wide it has 4 px to the millimetre. */
const SIDE = 160;
const SEED = 7;
const COLOUR = [0x80, 0x85, 0x80];
/** How opaque the levels are, of 255: from bare to dense. */
const LEVELS = [0, 16, 32, 48, 64, 84, 104, 124, 144, 164, 184, 204, 220, 232, 244, 255];

/** Numbers from 0 to 1, the same every time: the Lehmer generator of Park and Miller, modulus 2^31 - 1, factor 48271. */
function* numbers(seed) {
  for (let state = seed; ; ) {
    state = (state * 48271) % 2147483647;
    yield state / 2147483647;
  }
}

const source = numbers(SEED);
const next = () => source.next().value;
const noise = Array.from({ length: SIDE * SIDE }, next);
/** Wraps round at the edges, so that tiles meet unseen. */
const at = (x, y) => noise[((y + SIDE) % SIDE) * SIDE + ((x + SIDE) % SIDE)];

/** Each px with half of its neighbours': specks of about a quarter of a millimetre. */
function levelAt(x, y) {
  const around = (at(x - 1, y) + at(x + 1, y) + at(x, y - 1) + at(x, y + 1)) / 4;
  const value = (at(x, y) + around) / 2;
  return Math.max(0, Math.min(LEVELS.length - 1, Math.round((0.78 - value) * 20)));
}

// PNG (W3C, third edition): a palette with opacities, four bits to the px, no filter.
const row = (y) =>
  Buffer.from([0, ...Array.from({ length: SIDE / 2 }, (_, i) => (levelAt(2 * i, y) << 4) | levelAt(2 * i + 1, y))]);
function chunk(type, data) {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
}
const header = Buffer.alloc(13);
header.writeUInt32BE(SIDE, 0);
header.writeUInt32BE(SIDE, 4);
header.set([4, 3, 0, 0, 0], 8);
writeFileSync(
  inRoot('src/web/face/grain.png'),
  Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('PLTE', Buffer.from(LEVELS.flatMap(() => COLOUR))),
    chunk('tRNS', Buffer.from(LEVELS)),
    chunk('IDAT', deflateSync(Buffer.concat(Array.from({ length: SIDE }, (_, y) => row(y))), { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]),
);
