/**
 * How wide text is, which face has each of its letters, and how it breaks over lines: the first of the three steps
 * measure, place, draw. Widths come from the fonts themselves, so what fits here fits in print.
 */
import type { Millimetre } from '../units/index.ts';
import type { Widths } from './faces.ts';
import { type FontRole, facesFor } from './fonts.ts';
import type { Run } from './page.ts';

export interface Measure {
  /** The text cut into stretches of one face each; a letter that no face has shows as a question mark. */
  runs(text: string, font: FontRole, size: Millimetre, spacing?: Millimetre): readonly Run[];
  width(text: string, font: FontRole, size: Millimetre, spacing?: Millimetre): Millimetre;
  /** Lines no wider than `most`; a word too long for a line is cut. Never empty: no text gives one empty line. */
  wrap(text: string, font: FontRole, size: Millimetre, most: Millimetre): readonly string[];
  /** The text at `size`, or smaller down to `least`, or cut short with an ellipsis: never wider than `most`. */
  fit(
    text: string,
    font: FontRole,
    size: Millimetre,
    most: Millimetre,
    least: Millimetre,
  ): { readonly text: string; readonly size: Millimetre };
}

/** What stands for a letter that no face has. */
export const REPLACEMENT = '?';
const MICRO = /\u00b5/g;
const OHM = /\u2126/g;
/** Line breaks, tabs and other controls, joiners and marks of direction: nothing that can be printed. */
const UNPRINTABLE = /[\p{Cc}\u2028\u2029]+/gu;
const INVISIBLE = /[\p{Cf}\p{Variation_Selector}]/gu;

/** Text as it can be set: composed, on one line, without invisible characters. */
export function printable(text: string): string {
  return text
    .normalize('NFC')
    .replace(UNPRINTABLE, ' ')
    .replace(INVISIBLE, '')
    .replace(MICRO, '\u03bc')
    .replace(OHM, '\u03a9');
}

/** Measure with opened fonts, or with whatever else knows their widths. */
export function measureWith(faces: Widths): Measure {
  const homes = new Map<string, FontRole | null>();
  const homeOf = (letter: string, font: FontRole): FontRole | null => {
    const key = `${font} ${letter}`;
    const known = homes.get(key);
    if (known !== undefined) return known;
    const code = letter.codePointAt(0) ?? 0;
    const home = facesFor(font).find((role) => faces.has(role, code)) ?? null;
    homes.set(key, home);
    return home;
  };

  const cuts = new Map<string, readonly { font: FontRole; text: string; ems: number; letters: number }[]>();
  const cut = (raw: string, font: FontRole) => {
    const key = `${font} ${raw}`;
    const known = cuts.get(key);
    if (known !== undefined) return known;
    const parts: { font: FontRole; text: string }[] = [];
    for (const letter of printable(raw)) {
      const home = homeOf(letter, font);
      const role = home ?? font;
      const shown = home === null ? REPLACEMENT : letter;
      const last = parts.at(-1);
      if (last !== undefined && last.font === role) last.text += shown;
      else parts.push({ font: role, text: shown });
    }
    const answer = parts.map((part) => ({
      ...part,
      ems: faces.ems(part.font, part.text),
      letters: [...part.text].length,
    }));
    cuts.set(key, answer);
    return answer;
  };

  const runs = (text: string, font: FontRole, size: Millimetre, spacing: Millimetre = 0): readonly Run[] =>
    cut(text, font).map((part) => ({
      font: part.font,
      text: part.text,
      width: part.ems * size + part.letters * spacing,
    }));

  const width = (text: string, font: FontRole, size: Millimetre, spacing: Millimetre = 0): Millimetre => {
    const parts = cut(text, font);
    const letters = parts.reduce((sum, part) => sum + part.letters, 0);
    return parts.reduce((sum, part) => sum + part.ems, 0) * size + Math.max(0, letters - 1) * spacing;
  };

  const longestFit = (text: string, fits: (part: string) => boolean): string => {
    const letters = [...text];
    let low = 0;
    let high = letters.length;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (fits(letters.slice(0, middle).join(''))) low = middle;
      else high = middle - 1;
    }
    return letters.slice(0, low).join('');
  };

  const wrap = (text: string, font: FontRole, size: Millimetre, most: Millimetre): readonly string[] => {
    const fits = (part: string): boolean => width(part, font, size) <= most;
    const lines: string[] = [];
    let line = '';
    let used = 0;
    const words = printable(text)
      .split(' ')
      .filter((word) => word !== '');
    for (const word of words) {
      if (line !== '' && used + width(word, font, size) > most) {
        lines.push(line.trimEnd());
        line = '';
        used = 0;
      }
      let rest = word;
      while (line === '' && !fits(rest)) {
        const head = longestFit(rest, fits) || ([...rest][0] ?? '');
        if (head === rest) break;
        lines.push(head);
        rest = rest.slice(head.length);
      }
      line += `${rest} `;
      used += width(`${rest} `, font, size);
    }
    return line === '' && lines.length > 0 ? lines : [...lines, line.trimEnd()];
  };

  const fit = (text: string, font: FontRole, size: Millimetre, most: Millimetre, least: Millimetre) => {
    const shown = printable(text);
    const wide = width(shown, font, size);
    if (wide <= most) return { text: shown, size };
    const smaller = Math.max(least, (size * most) / wide);
    if (width(shown, font, smaller) <= most) return { text: shown, size: smaller };
    const head = longestFit(shown, (part) => width(`${part.trimEnd()}…`, font, smaller) <= most);
    return { text: head === '' ? '' : `${head.trimEnd()}…`, size: smaller };
  };

  return { runs, width, wrap, fit };
}
