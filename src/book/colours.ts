/** The colours of the face as the tool shows them in light: paint, tape, plates, lamps. Used on the cover and the pictures. */

export interface TapeInk {
  readonly body: string;
  /** The band of light along the tape. */
  readonly band: string;
}

const TAPES: Readonly<Record<string, TapeInk>> = {
  graphite: { body: '#222a2d', band: '#333d41' },
  oxide: { body: '#7c3122', band: '#8e3d2c' },
  slate: { body: '#34505f', band: '#43626f' },
};
const USUAL_TAPE: TapeInk = { body: '#222a2d', band: '#333d41' };

/** The inks of a tape; one that is not known is drawn as graphite. */
export function tapeInk(name: string): TapeInk {
  return TAPES[name] ?? USUAL_TAPE;
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
  return LAMPS[colour] ?? USUAL_LAMP;
}

export const FACE_PAINT = { paint: '#ced9d0', edge: '#93a196', cut: '#eef2ec', ink: '#1b2628' };
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
