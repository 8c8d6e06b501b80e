/** Decoders as printed and listed: read back by poppler and by a reader of CSV. */
import { describe, expect, test } from 'vitest';
import { buildBook } from '../../src/book/index.ts';
import { readPacket } from '../../src/decoders/index.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { ask, derivePanel, examplePanel, readCsv, readFonts, textOf, wordsOf, writeOut } from './load.ts';

const POINTS_PER_MM = 72 / 25.4;

/** A line with sidings from left to right, P1, P2 ...: one drive each, by what is said. */
function yard(
  name: string,
  points: readonly object[],
  drives: PanelFile['drives'],
  track: PanelFile['track'],
): PanelFile {
  const x = (i: number): number => 40 + 50 * i;
  return {
    format: 'mimic-panel',
    version: 1,
    name,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [x(points.length), 60],
        ],
      },
      ...points.map((_, i): PanelFile['strips'][number] => ({
        id: `road-${i + 1}`,
        path: [
          [x(i), 60],
          [x(i) + 32, 40],
        ],
      })),
    ],
    points: points.map((more, i) => ({ id: `P${i + 1}`, at: [x(i), 60], ...more })),
    drives,
    track,
  };
}

/** One drive for two points, one with the other output, two that share an address, one beyond the last, one without an address. */
const MIXED = yard(
  'Bramble Siding',
  [
    { drive: 'D1' },
    { drive: 'D1', sense: 'opposite' },
    { drive: 'D2' },
    { drive: 'D3' },
    { drive: 'D4' },
    { drive: 'D5' },
    { drive: 'decoder' },
  ],
  [
    { id: 'D1', part: 'decoder', address: 1 },
    { id: 'D2', part: 'decoder', address: 250, member: 0 },
    { id: 'D3', part: 'decoder', address: 253 },
    { id: 'D4', part: 'decoder', address: 253 },
    { id: 'D5', part: 'decoder', address: 2041 },
  ],
  { system: 'digital', numbering: 'board-1', accessoryBus: { tripAmps: 2 } },
);

const MANY = yard(
  'Quillhaven Harbour',
  Array.from({ length: 40 }, (_, i) => ({ drive: `D${i + 1}` })),
  Array.from({ length: 40 }, (_, i) => ({ id: `D${i + 1}`, part: 'decoder', address: 41 - (i + 1) })),
  { boosters: [{ id: 'Z1', volts: 15, tripAmps: 3 }] },
);

async function printed(panel: PanelFile, paper: 'A4' | 'Letter') {
  const files = await buildBook(derivePanel(panel), { paper, fonts: readFonts(), only: ['book', 'decoders'] });
  const at = writeOut(files);
  const texts = ask('pdftotext', '-layout', at('book.pdf'), '-').split('\f');
  const pages = wordsOf(at('book.pdf'))
    .map((page, i) => ({ ...page, text: texts[i] ?? '' }))
    .filter(({ text }) => /^\s*Decoders/.test(text));
  return {
    pages,
    said: pages
      .map(({ text }) => text)
      .join('\n')
      .replace(/\s+/g, ' '),
    lines: pages.flatMap(({ text }) => text.split('\n').map((line) => line.trim().replace(/\s+/g, ' '))),
    rows: readCsv(textOf(files, 'decoders.csv')),
  };
}

const bytesOf = (text: string): number[] => text.split(' ').map((byte) => Number.parseInt(byte, 16));

describe.each([
  ['a few', MIXED, 'A4'],
  ['forty', MANY, 'Letter'],
] as const)('%s decoders', (_name, panel, paper) => {
  const ready = printed(panel, paper);

  test('every row of decoders.csv is printed with its bytes, and the bytes say its board and pair', async () => {
    const { rows, lines } = await ready;
    expect(rows[0]?.join(',')).toBe(
      'address,board,pair,decoder,points_normal,bytes_normal,points_reverse,bytes_reverse',
    );
    expect(rows.length - 1).toBe(panel === MIXED ? 6 : 40);
    for (const [address = '', board = '', pair = '', id = '', , normal = '', , reverse = ''] of rows.slice(1)) {
      if (normal === '') {
        expect([board, pair, reverse]).toEqual(['', '', '']);
        continue;
      }
      expect(
        lines.some((line) => line.startsWith(`${address} ${board} ${pair} ${id} `)),
        id,
      ).toBe(true);
      expect(
        lines.some((line) => line.includes(normal) && line.endsWith(reverse)),
        id,
      ).toBe(true);
      const [to, from] = [normal, reverse].map((text) => readPacket(bytesOf(text)));
      if (!to?.ok || !from?.ok || to.command.kind !== 'basic' || from.command.kind !== 'basic')
        throw new Error(`${normal}, ${reverse}`);
      expect([to.command.board, to.command.pair, to.command.on]).toEqual([Number(board), Number(pair), true]);
      expect(from.command).toEqual({ ...to.command, member: 1 - to.command.member });
      // Linear numbering, boards from 1 (NMRA S-9.2.1): 4 (b - 1) + p + 1.
      expect(4 * (Number(board) - 1) + Number(pair) + 1).toBe(Number(address));
    }
  });

  test('each address is tested both ways, once', async () => {
    const { rows, said } = await ready;
    const tests = said.slice(said.indexOf('Test by address'));
    const addresses = new Set(rows.slice(1).flatMap(([address = '', board = '']) => (board === '' ? [] : [address])));
    expect(tests).toContain(`${addresses.size * 2} commands`);
    for (const address of addresses)
      for (const output of [1, 0])
        expect(tests.match(new RegExp(`(?<!\\S)${address} ${output} D\\d`, 'g')), `${address} ${output}`).toHaveLength(
          1,
        );
  });

  test('no word leaves the margins or lies on another', async () => {
    const { pages } = await ready;
    expect(pages.length).toBeGreaterThan(0);
    const least = 12 * POINTS_PER_MM;
    for (const { words, width, height } of pages) {
      expect(
        words.filter((w) => w.x0 < least || w.x1 > width - least || w.y0 < least / 2 || w.y1 > height - least / 2),
      ).toEqual([]);
      const clashes = words.flatMap((a, i) =>
        words.slice(i + 1).flatMap((b) => {
          const w = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
          const h = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) - 0.45 * Math.min(a.y1 - a.y0, b.y1 - b.y0);
          return w > 0.5 && h > 0 ? [`${a.text} and ${b.text}`] : [];
        }),
      );
      expect(clashes).toEqual([]);
    }
  });
});

describe('the sheet of decoders', () => {
  test('gives the bytes of the table for board 64, pair 0, and which output is normal', async () => {
    const { rows } = await printed(MIXED, 'A4');
    const by = new Map(rows.slice(1).map((row) => [row[3], row]));
    // Board 64, pair 0, member 0: 10000000 11101000 01101000 (by hand from NMRA S-9.2.1); member 1 alters the last bits of two bytes.
    expect(by.get('D3')).toEqual(['253', '64', '0', 'D3', 'P4=normal', '80 E9 69', 'P4=reverse', '80 E8 68']);
    expect(by.get('D1')?.slice(4, 5)).toEqual(['P1=normal P2=reverse']);
    // Output 0 for normal: the last bit of the second byte.
    expect(bytesOf(by.get('D2')?.[5] ?? '')[1]).toBe(0b11111010);
    expect(by.get('P7')).toEqual(['', '', '', 'P7', 'P7=normal', '', 'P7=reverse', '']);
  });

  test('says the trap of a bus that is shared, and where it is not', async () => {
    const [mixed, many] = [await printed(MIXED, 'A4'), await printed(MANY, 'A4')];
    expect(many.said).toContain('a short on the track stops them too');
    expect(mixed.said).not.toContain('a short on the track stops them too');
    // 40 x 0.2 A, typical of the kind (from memory).
    expect(many.said).toContain('all at once, as may be at power-up, 8.00 A; the bus trips at 3.00 A');
    expect(mixed.said).toContain('address 1 is on board 1, pair 0');
    expect(mixed.said).not.toContain('does not say which board address 1 is on');
    expect(many.said).toContain('does not say which board address 1 is on');
    expect(mixed.said).toContain('D3 and D4 share address 253');
    expect(mixed.said).toMatch(/the broadcast: not for a/);
  });

  test('is not there where no drive is a decoder; the list is empty', async () => {
    const { pages, rows } = await printed(examplePanel('bramble-siding'), 'A4');
    expect(pages).toEqual([]);
    expect(rows).toHaveLength(1);
  });
});
