import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Faces, openFaces } from './faces.ts';
import { FONT_FILES, FONT_ROLES, type FontFiles, TABULAR_EMS } from './fonts.ts';
import { type Measure, measureWith, printable, REPLACEMENT } from './measure.ts';

let measure: Measure;
let faces: Faces;
beforeAll(async () => {
  const read = Object.entries(FONT_FILES).map(([role, path]) => [
    role,
    new Uint8Array(readFileSync(`node_modules/${path}`)),
  ]);
  faces = await openFaces(Object.fromEntries(read) as FontFiles);
  measure = measureWith(faces);
});

describe('faces', () => {
  test('tabular figures are as wide as those who measure without the features are told', () => {
    const told = FONT_ROLES.flatMap((role) => {
      const ems = TABULAR_EMS[role];
      return ems === null ? [] : [...'0123456789'].map((figure) => [faces.ems(role, figure), ems] as const);
    });
    expect(told).toHaveLength(30);
    for (const [measured, ems] of told) expect(measured).toBeCloseTo(ems, 6);
  });
  test('text stays in its own face', () => {
    expect(measure.runs('P10 and L1', 'text-400', 3).map((run) => run.font)).toEqual(['text-400']);
  });
  test('ohm and mu come from the Greek face, the sign for micro too', () => {
    const runs = measure.runs('47 \u03a9, 2 \u00b5F, 3 \u2126', 'text-400', 3);
    expect(runs.map((run) => run.text).join('')).toBe('47 \u03a9, 2 \u03bcF, 3 \u03a9');
    expect(runs.filter((run) => run.font === 'greek-400').map((run) => run.text)).toEqual([
      '\u03a9',
      '\u03bc',
      '\u03a9',
    ]);
  });
  test('accented letters of central Europe come from the extended face', () => {
    expect(measure.runs('\u0141\u00f3d\u017a', 'plate-600', 3).map((run) => run.font)).toEqual([
      'ext-600',
      'plate-600',
      'ext-600',
    ]);
  });
  test('a letter that no face has shows, and is one question mark', () => {
    expect(
      measure
        .runs('a\u6771b\u{1f682}', 'text-400', 3)
        .map((run) => run.text)
        .join(''),
    ).toBe(`a${REPLACEMENT}b${REPLACEMENT}`);
  });
  test('figures are of one width', () => {
    const widths = [...'0123456789'].map((figure) => measure.width(figure, 'text-400', 10));
    for (const width of widths) expect(width).toBeCloseTo(widths[0] ?? 0, 9);
  });
});

describe('what cannot be printed', () => {
  test('controls become a space, marks of direction vanish', () => {
    expect(printable('a\u0000b\nc\u202ed')).toBe('a bc d'.replace('bc', 'b c').replace('c d', 'cd'));
  });
});

describe('wrap', () => {
  test('no line is wider than asked, nothing is lost', () => {
    const text =
      'Stand the lamps with the flat to the bottom edge Llanfairpwllgwyngyllgogerychwyrndrobwllllantysiliogogogoch halt';
    const lines = measure.wrap(text, 'text-400', 3, 30);
    for (const line of lines) expect(measure.width(line, 'text-400', 3)).toBeLessThanOrEqual(30);
    expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
  });
  test('no text is one empty line', () => {
    expect(measure.wrap('', 'text-400', 3, 30)).toEqual(['']);
  });
  test('a column narrower than a letter still ends', () => {
    expect(measure.wrap('abc', 'text-400', 3, 0.1).join('')).toBe('abc');
  });
});

describe('fit', () => {
  test('text that fits keeps its size', () => {
    expect(measure.fit('L4', 'text-400', 3, 30, 2)).toEqual({ text: 'L4', size: 3 });
  });
  test('text that is too wide is set smaller, at last cut short', () => {
    const smaller = measure.fit('Quillhaven Harbour', 'text-400', 5, 30, 2);
    expect(smaller.text).toBe('Quillhaven Harbour');
    expect(measure.width(smaller.text, 'text-400', smaller.size)).toBeLessThanOrEqual(30 + 1e-9);
    const cut = measure.fit('Quillhaven Harbour'.repeat(9), 'text-400', 5, 30, 3);
    expect(cut.text.endsWith('\u2026')).toBe(true);
    expect(measure.width(cut.text, 'text-400', cut.size)).toBeLessThanOrEqual(30);
  });
});
