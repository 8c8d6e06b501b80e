/** What the tests of the documents share: examples derived, fonts read, outside readers run. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BuiltFile, FONT_FILES, type FontFiles } from '../../src/book/index.ts';
import { type Derived, derive } from '../../src/derive.ts';
import { type PanelFile, readPanel } from '../../src/panel/index.ts';

const root = join(import.meta.dirname, '..', '..');

export function examplePanel(name: string): PanelFile {
  const read = readPanel(readFileSync(join(root, 'examples', `${name}.mimic.json`), 'utf8'));
  if (!read.ok) throw new Error(`example ${name} cannot be read: ${JSON.stringify(read.problems)}`);
  return read.panel;
}

export function loadExample(name: string): Derived {
  return derive(examplePanel(name));
}

export function derivePanel(panel: PanelFile): Derived {
  return derive(panel);
}

export function readFonts(): FontFiles {
  return Object.fromEntries(
    Object.entries(FONT_FILES).map(([role, path]) => [
      role,
      new Uint8Array(readFileSync(join(root, 'node_modules', path))),
    ]),
  ) as FontFiles;
}

/** Write files into a folder of their own; returns the way to each. */
export function writeOut(files: readonly BuiltFile[]): (path: string) => string {
  const folder = mkdtempSync(join(tmpdir(), 'book-'));
  for (const file of files) writeFileSync(join(folder, file.path), file.bytes);
  return (path) => join(folder, path);
}

/** The output of an outside reader; a failure throws with what it said. */
export function ask(program: string, ...args: readonly string[]): string {
  return execFileSync(program, args, { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'pipe'] });
}

export function textOf(files: readonly BuiltFile[], path: string): string {
  const file = files.find((each) => each.path === path);
  if (file === undefined) throw new Error(`no file ${path}`);
  return new TextDecoder().decode(file.bytes);
}

export interface Word {
  readonly text: string;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** The words of each page with their boxes in points, as poppler reads them, and the page's size. */
export function wordsOf(
  pdf: string,
): readonly { readonly width: number; readonly height: number; readonly words: readonly Word[] }[] {
  const pages = ask('pdftotext', '-bbox', pdf, '-').split('<page ').slice(1);
  return pages.map((page) => {
    const [, width = '0', height = '0'] = /width="([\d.]+)" height="([\d.]+)"/.exec(page) ?? [];
    const words = [
      ...page.matchAll(/<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)<\/word>/g),
    ].map(
      ([, x0, y0, x1, y1, text = '']): Word => ({
        text,
        x0: Number(x0),
        y0: Number(y0),
        x1: Number(x1),
        y1: Number(y1),
      }),
    );
    return { width: Number(width), height: Number(height), words };
  });
}

const RASTERISER = 'pdftoppm';

/** A grey picture of part of a page: `dark(x, y)` by pixels. */
export function rasterise(
  pdf: string,
  page: number,
  dpi: number,
  box: { readonly x: number; readonly y: number; readonly w: number; readonly h: number },
): { readonly width: number; readonly height: number; at(x: number, y: number): number } {
  const px = (mm: number): string => String(Math.round((mm * dpi) / 25.4));
  const out = execFileSync(
    RASTERISER,
    [
      '-gray',
      '-r',
      String(dpi),
      '-f',
      String(page),
      '-l',
      String(page),
      '-x',
      px(box.x),
      '-y',
      px(box.y),
      '-W',
      px(box.w),
      '-H',
      px(box.h),
      pdf,
    ],
    { maxBuffer: 1 << 28 },
  );
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(out.subarray(0, 64).toString('latin1'));
  if (head === null) throw new Error('pdftoppm gave no grey picture');
  const [whole, w, h] = head;
  const width = Number(w);
  return { width, height: Number(h), at: (x, y) => out[whole.length + y * width + x] ?? 255 };
}

/** Rows of a CSV by RFC 4180. */
export function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    let field = '';
    if (text[at] === '"') {
      for (at += 1; at < text.length; at++) {
        if (text[at] !== '"') field += text[at];
        else if (text[at + 1] === '"') {
          field += '"';
          at += 1;
        } else break;
      }
      at += 1;
    } else for (; at < text.length && text[at] !== ',' && text[at] !== '\r'; at++) field += text[at];
    row.push(field);
    if (text[at] === ',') at += 1;
    else if (text.slice(at, at + 2) === '\r\n') {
      at += 2;
      rows.push(row);
      row = [];
    } else throw new Error(`no comma and no CRLF at ${at}: ${JSON.stringify(text.slice(at, at + 10))}`);
  }
  return rows;
}
