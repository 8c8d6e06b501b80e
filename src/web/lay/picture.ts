/** The small picture of a panel on the shelf: the sheet and its strips. Written as the text of an SVG, and read back as data, never as markup. */
import { PAINTS, TAPES } from '../../face/index.ts';
import { faceOf, type PanelFile, stripWidth } from '../../panel/index.ts';
import type { Millimetre } from '../../units/index.ts';

/** A strip of the picture; `d`: corners as a path of straight lines, mm. */
export interface PictureStrip {
  /** Its place in the text: no other has it. */
  readonly id: number;
  readonly d: string;
  readonly colour: string;
  readonly width: Millimetre;
}

/** What a picture shows. Millimetres of the face, x to the right, y down. */
export interface Picture {
  readonly width: Millimetre;
  readonly height: Millimetre;
  readonly paint: string;
  readonly strips: readonly PictureStrip[];
}

/** Strips are drawn at least this share of the sheet's width: thinner ones vanish at the size of a stamp. */
const LEAST_WIDTH = 1 / 100;
/** Longer pictures are cut: a stamp shows no more. */
const MOST_STRIPS = 400;

const own = (table: Readonly<Record<string, string>>, name: string, fallback: string): string =>
  (Object.hasOwn(table, name) ? table[name] : undefined) ?? fallback;

/** A figure of at most two decimals. */
const figure = (value: number): string => String(Math.round(value * 100) / 100);

/** The picture of a panel as the text of an SVG; a paint or a tape that is not known by name is drawn as sage or graphite. */
export function pictureOf(panel: PanelFile): string {
  const { width, height, colour } = faceOf(panel);
  const strips = panel.strips.slice(0, MOST_STRIPS).map((strip) => {
    const d = strip.path.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${figure(x)} ${figure(y)}`).join('');
    const wide = figure(Math.max(stripWidth(strip), width * LEAST_WIDTH));
    return `<path d="${d}" stroke="${own(TAPES, strip.tape ?? 'graphite', '#222a2d')}" stroke-width="${wide}"/>`;
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${figure(width)} ${figure(height)}" fill="none">`,
    `<rect width="${figure(width)}" height="${figure(height)}" fill="${own(PAINTS, colour, '#ced9d0')}"/>`,
    ...strips,
    '</svg>',
  ].join('');
}

const NUMBER = '-?\\d+(?:\\.\\d+)?(?:e-?\\d+)?';
const SHEET = new RegExp(`<rect width="(${NUMBER})" height="(${NUMBER})" fill="(#[0-9a-f]{6})"/>`);
const STRIP = new RegExp(
  `<path d="(M${NUMBER} ${NUMBER}(?:L${NUMBER} ${NUMBER})*)" stroke="(#[0-9a-f]{6})" stroke-width="(${NUMBER})"/>`,
  'g',
);

/** What a kept picture shows; null where it is not of the form that `pictureOf` writes. Whatever else its text holds is passed over. */
export function readPicture(svg: string): Picture | null {
  const sheet = SHEET.exec(svg);
  const [, width = '', height = '', paint = ''] = sheet ?? [];
  if (sheet === null || !(Number(width) > 0) || !(Number(height) > 0)) return null;
  const strips = [...svg.matchAll(STRIP)].map(({ index, 1: d = '', 2: colour = '', 3: wide = '' }) => ({
    id: index,
    d,
    colour,
    width: Number(wide),
  }));
  return { width: Number(width), height: Number(height), paint, strips };
}
