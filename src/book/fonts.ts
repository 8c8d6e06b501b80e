/** The faces of the book: what is read, what is engraved, and where each font's file lies in its package. */

/**
 * A weight of one face. `text` is everything read, `plate` everything engraved; `ext` gives the accented letters of
 * central Europe and `greek` the ohm and mu signs that the text face lacks.
 */
export type FontRole =
  | 'text-400'
  | 'text-600'
  | 'text-700'
  | 'plate-500'
  | 'plate-600'
  | 'plate-700'
  | 'ext-400'
  | 'ext-600'
  | 'ext-700'
  | 'greek-400'
  | 'greek-600';

/** The bytes of each font, read by the shell: the book itself touches no file. */
export type FontFiles = Readonly<Record<FontRole, Uint8Array>>;

const ATKINSON = '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next';
const NATIONAL = '@fontsource/national-park/files/national-park';
const SOFIA = '@fontsource/sofia-sans/files/sofia-sans';

/** Where the shell finds each font: a path under `node_modules`. All are under the SIL Open Font License. */
export const FONT_FILES: Readonly<Record<FontRole, string>> = {
  'text-400': `${ATKINSON}-latin-400-normal.woff`,
  'text-600': `${ATKINSON}-latin-600-normal.woff`,
  'text-700': `${ATKINSON}-latin-700-normal.woff`,
  'plate-500': `${NATIONAL}-latin-500-normal.woff`,
  'plate-600': `${NATIONAL}-latin-600-normal.woff`,
  'plate-700': `${NATIONAL}-latin-700-normal.woff`,
  'ext-400': `${ATKINSON}-latin-ext-400-normal.woff`,
  'ext-600': `${ATKINSON}-latin-ext-600-normal.woff`,
  'ext-700': `${ATKINSON}-latin-ext-700-normal.woff`,
  'greek-400': `${SOFIA}-greek-400-normal.woff`,
  'greek-600': `${SOFIA}-greek-600-normal.woff`,
};

/** All roles, in the order of `FONT_FILES`. */
export const FONT_ROLES = Object.keys(FONT_FILES) as readonly FontRole[];

/** The CSS family and weight of a role, for SVG. */
export const FONT_CSS: Readonly<Record<FontRole, { readonly family: string; readonly weight: number }>> = {
  'text-400': { family: 'Atkinson Hyperlegible Next', weight: 400 },
  'text-600': { family: 'Atkinson Hyperlegible Next', weight: 600 },
  'text-700': { family: 'Atkinson Hyperlegible Next', weight: 700 },
  'plate-500': { family: 'National Park', weight: 500 },
  'plate-600': { family: 'National Park', weight: 600 },
  'plate-700': { family: 'National Park', weight: 700 },
  'ext-400': { family: 'Atkinson Hyperlegible Next Extended', weight: 400 },
  'ext-600': { family: 'Atkinson Hyperlegible Next Extended', weight: 600 },
  'ext-700': { family: 'Atkinson Hyperlegible Next Extended', weight: 700 },
  'greek-400': { family: 'Sofia Sans Greek', weight: 400 },
  'greek-600': { family: 'Sofia Sans Greek', weight: 600 },
};

/**
 * Width of every tabular figure as a share of the size, for faces that have them; null: figures are as wide as they are drawn. For those who
 * measure where a face's features cannot be asked for. From the fonts; a test holds it to them.
 */
export const TABULAR_EMS: Readonly<Record<FontRole, number | null>> = {
  'text-400': 0.632,
  'text-600': 0.632,
  'text-700': 0.632,
  'plate-500': null,
  'plate-600': null,
  'plate-700': null,
  'ext-400': null,
  'ext-600': null,
  'ext-700': null,
  'greek-400': null,
  'greek-600': null,
};

/** Where a letter is sought that a face lacks, in order. */
const FALLBACKS: Readonly<Record<FontRole, readonly FontRole[]>> = {
  'text-400': ['ext-400', 'greek-400'],
  'text-600': ['ext-600', 'greek-600'],
  'text-700': ['ext-700', 'greek-600'],
  'plate-500': ['text-400', 'ext-400', 'greek-400'],
  'plate-600': ['text-600', 'ext-600', 'greek-600'],
  'plate-700': ['text-700', 'ext-700', 'greek-600'],
  'ext-400': ['text-400', 'greek-400'],
  'ext-600': ['text-600', 'greek-600'],
  'ext-700': ['text-700', 'greek-600'],
  'greek-400': ['text-400', 'ext-400'],
  'greek-600': ['text-600', 'ext-600'],
};

/** The faces to try for a role, itself first. */
export function facesFor(role: FontRole): readonly FontRole[] {
  return [role, ...FALLBACKS[role]];
}
