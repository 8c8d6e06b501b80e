import type { FontFiles } from '../../../src/index.ts';

const NONE = new Uint8Array();
/** Fonts for files that are text and take none. */
export const NO_FONTS: FontFiles = {
  'text-400': NONE,
  'text-600': NONE,
  'text-700': NONE,
  'plate-500': NONE,
  'plate-600': NONE,
  'plate-700': NONE,
  'ext-400': NONE,
  'ext-600': NONE,
  'ext-700': NONE,
  'greek-400': NONE,
  'greek-600': NONE,
};
