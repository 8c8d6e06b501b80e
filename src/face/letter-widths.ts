/**
 * About how wide lettering is: advance widths of the plates' typeface (National Park, weight 600, SIL Open Font License) in
 * hundredths of the type size. Weights 500 and 700 are 2.5 % narrower and wider. Kerning is not counted; letters beyond the table
 * count as a wide one. Good to a few percent, which is what a plate's margin is for.
 */
import type { Millimetre } from '../units/index.ts';

/** By hundredths: every letter of a row is so wide, to within one. */
const WIDTHS: readonly (readonly [hundredths: number, letters: string])[] = [
  [20, "'|"],
  [26, 'ijl!.:`'],
  [28, 'I ,·'],
  [33, '[];\\"'],
  [36, 'f'],
  [39, 'r(){}/'],
  [41, 't'],
  [43, '-'],
  [46, '^*'],
  [50, '1sxvz?J'],
  [53, 'cyFkL'],
  [55, 'e_7Y'],
  [57, 'aoETZ'],
  [58, '2345SP<>=+$'],
  [59, 'bdhnpqugXV'],
  [61, '68ACK9'],
  [63, 'BR~4'],
  [66, '0DGU#'],
  [69, 'HN&'],
  [72, 'OQw'],
  [83, 'WM%'],
  [91, 'm@'],
];
const TABLE: ReadonlyMap<string, number> = new Map(
  WIDTHS.flatMap(([hundredths, letters]) => [...letters].map((letter) => [letter, hundredths] as const)),
);
const OTHER = 70;
const BY_WEIGHT: Readonly<Record<500 | 600 | 700, number>> = { 500: 0.975, 600: 1, 700: 1.025 };

/** About how wide a text is in type of `size`, with `spacing` after each letter but the last. */
export function textWidth(
  text: string,
  size: Millimetre,
  weight: 500 | 600 | 700,
  spacing: Millimetre = 0,
): Millimetre {
  const letters = [...text];
  const hundredths = letters.reduce((sum, letter) => sum + (TABLE.get(letter) ?? OTHER), 0);
  return (hundredths / 100) * size * BY_WEIGHT[weight] + Math.max(0, letters.length - 1) * spacing;
}
