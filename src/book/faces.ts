/** The fonts opened: one reader a font, shared by measuring and by the PDF, so that what is measured is what is set. */
import type { Font } from 'fontkit';
import { FONT_ROLES, type FontFiles, type FontRole } from './fonts.ts';
import { unpackWoff } from './unpack-woff.ts';

/** What measuring asks of whoever has the fonts: a reader of font files, or a browser that has loaded them. */
export interface Widths {
  /** Width as a share of the size, word by word as it is set, figures tabular. */
  ems(role: FontRole, text: string): number;
  /** Has the face this letter, by its code point? */
  has(role: FontRole, code: number): boolean;
}

export interface Faces extends Widths {
  font(role: FontRole): Font;
}

/** OpenType features for all text: figures of one width, so that columns of numbers line up. */
const FEATURES = ['tnum', 'kern'] as const;
/** A word with the space behind it. */
const WORDS = /[^ ]* |[^ ]+/g;

/** Open every font. Loads fontkit at the first call. */
export async function openFaces(files: FontFiles): Promise<Faces> {
  const { create } = await import('fontkit');
  const opened = await Promise.all(
    FONT_ROLES.map(async (role) => {
      const font = create(await unpackWoff(files[role]));
      const layout = font.layout.bind(font);
      // Who lays out text with this font gets the features without asking, and may keep words it has seen.
      font.layout = (text) => layout(text, FEATURES);
      return [role, { font, words: new Map<string, number>() }] as const;
    }),
  );
  const faces = new Map(opened);
  const face = (role: FontRole) => {
    const found = faces.get(role);
    if (found === undefined) throw new RangeError(`font ${role} was not given`);
    return found;
  };
  return {
    font: (role) => face(role).font,
    has: (role, code) => face(role).font.hasGlyphForCodePoint(code),
    ems: (role, text) => {
      const { font, words } = face(role);
      let sum = 0;
      for (const word of text.match(WORDS) ?? []) {
        let width = words.get(word);
        if (width === undefined) {
          width = font.layout(word).advanceWidth / font.unitsPerEm;
          words.set(word, width);
        }
        sum += width;
      }
      return sum;
    },
  };
}
