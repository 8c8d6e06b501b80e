/** About how wide words are on a screen, where no font is at hand: every letter as wide as a wide one. Never too little room. */
import type { Measure } from '../measure.ts';

/** Of the size of type, for a letter of the screen's face: from its own tables, capitals and figures mostly. */
const LETTER_EMS = 0.6;

const ems = (text: string): number => [...text].length * LETTER_EMS;

/** Measures in any face alike. */
export const screenMeasure: Measure = {
  runs: (text, font, size, spacing = 0) => [{ font, text, width: ems(text) * size + [...text].length * spacing }],
  width: (text, _font, size) => ems(text) * size,
  wrap: (text) => [text],
  fit: (text, _font, size) => ({ text, size }),
};
