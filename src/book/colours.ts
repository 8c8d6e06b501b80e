/** The colours of the face as the tool shows them in light: paint, tape, plates, lamps. Used on the cover and the pictures. */

import { PAINTS, TAPES } from '../face/index.ts';

export interface TapeInk {
  readonly body: string;
  /** The band of light along the tape. */
  readonly band: string;
}

const USUAL_TAPE = 'graphite';
const USUAL_PAINT = 'sage';

/** A named colour; one that is not known is drawn as the usual one. */
function named(table: Readonly<Record<string, string>>, name: string, usual: string): string {
  return (Object.hasOwn(table, name) ? table[name] : table[usual]) ?? '#808080';
}

/** A colour moved a share of the way to another, both "#rrggbb". */
function towards(from: string, to: string, share: number): string {
  const mix = [1, 3, 5].map((i) => {
    const [a, b] = [from, to].map((hex) => Number.parseInt(hex.slice(i, i + 2), 16));
    return Math.round((a ?? 0) + ((b ?? 0) - (a ?? 0)) * share)
      .toString(16)
      .padStart(2, '0');
  });
  return `#${mix.join('')}`;
}

/** The inks of a tape by its name. */
export function tapeInk(name: string): TapeInk {
  const body = named(TAPES, name, USUAL_TAPE);
  return { body, band: towards(body, '#ffffff', 0.09) };
}

export interface PaintInk {
  readonly paint: string;
  readonly edge: string;
  readonly cut: string;
}

/** The inks of the sheet by the name of its paint. */
export function paintInk(name: string | undefined): PaintInk {
  const paint = named(PAINTS, name ?? USUAL_PAINT, USUAL_PAINT);
  return { paint, edge: towards(paint, '#1b2628', 0.33), cut: towards(paint, '#ffffff', 0.66) };
}

export interface LampInk {
  readonly off: string;
  readonly on: string;
  readonly rim: string;
}

const LAMPS: Readonly<Record<string, LampInk>> = {
  red: { off: '#6b2a26', on: '#ff5a48', rim: '#c81e14' },
  amber: { off: '#6b5426', on: '#ffc62e', rim: '#f29100' },
  yellow: { off: '#6b6126', on: '#ffe04a', rim: '#d9ae00' },
  green: { off: '#34552a', on: '#9be04a', rim: '#4f9a1e' },
  'pure-green': { off: '#265a3c', on: '#4be08a', rim: '#12914a' },
  blue: { off: '#2a3f6b', on: '#6aa5ff', rim: '#1f5fd0' },
  white: { off: '#77777a', on: '#ffffff', rim: '#c9ccd0' },
};
const USUAL_LAMP: LampInk = { off: '#6b5426', on: '#ffc62e', rim: '#f29100' };

export function lampInk(colour: string): LampInk {
  return (Object.hasOwn(LAMPS, colour) ? LAMPS[colour] : undefined) ?? USUAL_LAMP;
}

/** Lettering on the sheet itself. */
export const FACE_LETTERS = '#1b2628';
export const PLATE_INK = { plate: '#faf8ef', edge: '#b9b6a6', ink: '#1b2022' };
export const PLATFORM_INK = { slab: '#e7dec3', edge: '#b5a988' };
export const METAL = { high: '#fdfdfc', light: '#c3c9c9', mid: '#7f888a', dark: '#3b4346' };
export const BACK_INK = {
  sheet: '#dcdfdf',
  edge: '#8a9294',
  ghost: '#c4cacb',
  body: '#2b3235',
  tin: '#d9c896',
  ink: '#1b2628',
};
