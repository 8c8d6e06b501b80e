import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { derive } from '../derive.ts';
import { readPanel } from '../panel/index.ts';
import { openFaces } from './faces.ts';
import { FONT_FILES, type FontFiles } from './fonts.ts';
import { layBook } from './lay-book.ts';
import { measureWith } from './measure.ts';
import { type Op, type Page, pt } from './page.ts';
import { EDGE, HAIR } from './pen.ts';
import { sheetOf } from './sheet.ts';

/** All operations, those in groups too. */
function every(ops: readonly Op[]): readonly Op[] {
  return ops.flatMap((op) => (op.op === 'group' ? every(op.ops) : [op]));
}

const said = (op: Op): string => (op.op === 'text' ? op.runs.map((run) => run.text).join('') : '');

/** Milliseconds for a book of a hundred pages on a busy machine. */
const LONG = 60_000;

describe.each([
  ['quillhaven-harbour', 'A4'],
  ['bramble-siding', 'Letter'],
] as const)('the book of %s on %s', (name, paper) => {
  let pages: readonly Page[];
  beforeAll(async () => {
    const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
    if (!read.ok) throw new Error(`${name} cannot be read`);
    const files = Object.entries(FONT_FILES).map(([role, path]) => [
      role,
      new Uint8Array(readFileSync(`node_modules/${path}`)),
    ]);
    const measure = measureWith(await openFaces(Object.fromEntries(files) as FontFiles));
    const imprint = {
      panel: read.panel.name ?? '',
      revision: read.panel.revision ?? '',
      date: read.panel.date ?? null,
    };
    pages = layBook(derive(read.panel), { measure, sheet: sheetOf(paper), imprint, barMeasured: 100 }).pages;
  }, LONG);

  // The visual direction, Print: black only, hairlines 0.18 to 0.7 mm, smallest type 8 pt.
  test('after the cover all ink is black, white or grey', () => {
    const inks = pages
      .slice(1)
      .flatMap((page) =>
        every(page.ops).flatMap((op) => ('fill' in op ? [op.fill] : []).concat('stroke' in op ? [op.stroke] : [])),
      );
    const coloured = inks.filter((ink) => ink !== undefined && !/^#(..)\1\1$/.test(ink));
    expect([...new Set(coloured)]).toEqual([]);
  });

  test('lines are 0.18 to 0.7 mm, but for tape, links and the bar of a diode', () => {
    const thin = pages
      .slice(1)
      .flatMap((page) =>
        every(page.ops).flatMap((op) => ('width' in op && op.width !== undefined && op.width < HAIR ? [op.width] : [])),
      );
    expect(thin).toEqual([]);
    const broad = pages
      .slice(1)
      .flatMap((page) =>
        page.ops.flatMap((op) =>
          'width' in op && op.width !== undefined && op.width > EDGE && op.op !== 'line' ? [op.op] : [],
        ),
      );
    expect(broad).toEqual([]);
  });

  test('no type is below 8 pt but figures in the map of tiles and in pins, and lettering at true size', () => {
    const small = pages
      .slice(1)
      .flatMap((page) => page.ops.flatMap((op) => (op.op === 'text' && op.size < pt(8) - 1e-9 ? [said(op)] : [])));
    expect(small.filter((text) => !/^\d+$/.test(text))).toEqual([]);
  });

  test('every link leads to a name that is there', () => {
    const names = new Set(pages.flatMap((page) => page.names));
    const links = pages.flatMap((page) => page.ops.flatMap((op) => (op.op === 'link' ? [op.to] : [])));
    expect(links.length).toBeGreaterThan(8);
    expect(links.filter((link) => !names.has(link))).toEqual([]);
  });

  test('the contents and the list of levers give the pages where things are', () => {
    const at = (name: string): number => pages.findIndex((page) => page.names.includes(name)) + 1;
    const onPage = (page: Page): readonly [string, string][] =>
      page.ops.flatMap((op): [string, string][] => {
        if (op.op !== 'link') return [];
        const row = page.ops.filter(
          (other) =>
            other.op === 'text' &&
            other.at[1] > op.at[1] &&
            other.at[1] < op.at[1] + op.size[1] &&
            /^\d+$/.test(said(other)),
        );
        return row.map((other): [string, string] => [op.to, said(other)]);
      });
    const told = pages.flatMap(onPage);
    expect(told.length).toBeGreaterThan(8);
    for (const [link, page] of told) expect([link, Number(page)]).toEqual([link, at(link)]);
  });
});
