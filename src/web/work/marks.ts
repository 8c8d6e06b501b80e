/** Which outline and ink each lever wears in this stage: always the same for the same number, whatever else comes and goes. */

/** Outlines, by their names in the style sheet. No severity has one of these. */
const OUTLINES = ['d', 'house', 'shield', 'hex', 'ticket', 'slant'] as const;
export type Outline = (typeof OUTLINES)[number];

/** Open ones stand in another order, so that two of one outline do not stand six apart. */
const OPEN: readonly Outline[] = ['d', 'ticket', 'shield', 'house', 'hex', 'slant'];

export interface Mark {
  readonly outline: Outline;
  /** Whose ink it has: its own outline's for the first twelve. */
  readonly ink: Outline;
  /** Filled with its ink, its number in the colour of paper; else the other way round. */
  readonly solid: boolean;
  /** What stands inside. */
  readonly text: string;
}

/** The mark of a lever by its id, and by its place among the levers where the id has no number. */
export function markOf(id: string, place: number): Mark {
  const digits = /\d+$/.exec(id)?.[0];
  const n = digits === undefined || Number(digits) === 0 ? place : Number(digits) - 1;
  const of = OUTLINES.length;
  const solid = Math.floor(n / of) % 2 === 0;
  const outline = (solid ? OUTLINES : OPEN)[n % of] ?? 'd';
  // Beyond twelve the outlines come again in one another's ink.
  const ink = OUTLINES[(OUTLINES.indexOf(outline) + Math.floor(n / (2 * of))) % of] ?? 'd';
  return { outline, ink, solid, text: (digits ?? id).slice(-3) };
}

/** Marks are drawn for so many units across, and are as wide as this on the screen: px. */
export const MARK_UNITS = 28;
export const MARK_PX = 26;

/** Shapes in those units about their middle. */
export const PATHS: Readonly<Record<Outline, { readonly d: string; readonly at: readonly [number, number] }>> = {
  d: { d: 'M-11-10H2.5A10 10 0 0 1 2.5 10H-11Z', at: [-0.6, 4.5] },
  house: { d: 'M0-12.2 11.5-4.2V10H-11.5V-4.2Z', at: [0, 5.6] },
  shield: { d: 'M-11-10.5H11V1.5C11 7 6.2 10 0 12.6-6.2 10-11 7-11 1.5Z', at: [0, 3.6] },
  hex: { d: 'M-7.5-10.5H7.5L13.2 0 7.5 10.5H-7.5L-13.2 0Z', at: [0, 4.5] },
  ticket: {
    d: 'M-13-10.5H13V-3.4A3.4 3.4 0 0 0 13 3.4V10.5H-13V3.4A3.4 3.4 0 0 0-13-3.4Z',
    at: [0, 4.5],
  },
  slant: { d: 'M-8-10.5H14.2L8 10.5H-14.2Z', at: [0, 4.5] },
};

/** The class that gives what is drawn for a lever its ink. */
export const inkClass = (lever: string, place: number): string => `lv-${markOf(lever, place).ink}`;
