/** Paints and tapes that are known by name, and how far two colours stand apart. A name that is not here is not judged. */

/** Paints of the sheet; colours as typical of the name. */
export const PAINTS: Readonly<Record<string, string>> = {
  sage: '#ced9d0',
  white: '#f5f5f2',
  cream: '#efe6cc',
  ivory: '#faf8ef',
  stone: '#d8d3c6',
  grey: '#8f9699',
  'light-grey': '#c9cdce',
  'dark-grey': '#4a5053',
  black: '#16181a',
  green: '#3c6b4b',
  'dark-green': '#24412f',
  blue: '#35578a',
  'light-blue': '#b7cbdc',
  brown: '#5d4433',
  red: '#9c2f27',
  aluminium: '#c3c9c9',
};

/** Lining tapes; the body of the tape, not the light on it. */
export const TAPES: Readonly<Record<string, string>> = {
  graphite: '#222a2d',
  oxide: '#7c3122',
  slate: '#34505f',
  black: '#16181a',
  white: '#f5f5f2',
  grey: '#8f9699',
  red: '#a8281f',
  orange: '#d9701c',
  yellow: '#f0cf2e',
  green: '#2f7a45',
  blue: '#2a4f96',
  brown: '#5d4433',
};

/** Relative luminance of a colour "#rrggbb", 0 to 1: WCAG 2.2, definition of relative luminance. */
export function relativeLuminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((i) => {
    const share = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  if (red === undefined || green === undefined || blue === undefined) throw new RangeError(`no colour: ${hex}`);
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Contrast ratio of two colours, 1 to 21: WCAG 2.2, definition of contrast ratio. */
export function contrastRatio(a: string, b: string): number {
  const [la, lb] = [relativeLuminance(a), relativeLuminance(b)];
  return (Math.max(la, lb) + 0.05) / (Math.min(la, lb) + 0.05);
}

/** Contrast of a tape on a paint by their names; null where either is not known. */
export function tapeOnPaint(tape: string, paint: string): number | null {
  const [a, b] = [own(TAPES, tape), own(PAINTS, paint)];
  return a === undefined || b === undefined ? null : contrastRatio(a, b);
}

function own(table: Readonly<Record<string, string>>, name: string): string | undefined {
  return Object.hasOwn(table, name) ? table[name] : undefined;
}
