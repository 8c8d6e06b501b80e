/** How plates are made: type, margins and where their lines stand. Millimetres; figures of the visual direction unless said. */
import type { Millimetre } from '../units/index.ts';
import { textWidth } from './letter-widths.ts';
import type { DrawnPlate } from './types.ts';

/** Type of place names and plain plates. */
export const PLATE_TYPE: Millimetre = 7.6;
/** From this size a plate is a title: a double border and two screws. */
export const TITLE_FROM: Millimetre = 9;
/** The baseline of a line that stands alone, below the plate's middle, as a share of its type. */
const BASELINE = 0.355;
const PLACE_HEIGHT = 10.4 / PLATE_TYPE;
const TEXT_HEIGHT = 1.5;
const TITLE_HEIGHT = 2.5;
const TITLE_SPACING = 0.097;
/** Left and right of the lettering, as a share of the type. */
const PLACE_MARGIN = 0.4;
const TITLE_MARGIN = 1.4;
/** Screws of a title stand in this much on each side; lettering keeps out of it. */
const SCREW_ROOM: Millimetre = 9;
/** Widths that the tool chooses are whole ones. */
const STEP: Millimetre = 1;

/** A lever's plate at its full size, and what of it is lettering. */
export const LEVER_PLATE = {
  width: 45,
  height: 17.5,
  margin: 1.5,
  number: { size: 7.8, y: 7.65 },
  name: { size: 7.6, y: 15.15 },
} as const;

type Made = Pick<DrawnPlate, 'width' | 'height' | 'lines' | 'screws'>;

/** To a hundredth of a millimetre: no tail of a sum in a file. */
export function hundredth(value: Millimetre): Millimetre {
  return Math.round(value * 100) / 100 + 0;
}

/** A name in one line, at a share of the full type. */
export function makeNamePlate(text: string, share: number): Made {
  const size = PLATE_TYPE * share;
  const width = textWidth(text, size, 600) + 2 * PLACE_MARGIN * size;
  return oneLine(text, size, Math.ceil(width / STEP) * STEP, size * PLACE_HEIGHT, 0, false);
}

/** A plate of the file; what it does not say is what its text needs, and where it says too little room the lettering shrinks. */
export function makeFilePlate(record: {
  readonly text: string;
  readonly size?: Millimetre | undefined;
  readonly width?: Millimetre | undefined;
  readonly height?: Millimetre | undefined;
}): Made & { readonly title: boolean } {
  const asked = record.size ?? PLATE_TYPE;
  const title = asked >= TITLE_FROM;
  const share = title ? TITLE_SPACING : 0;
  const needs = textWidth(record.text, asked, 600, asked * share);
  const side = title ? TITLE_MARGIN * asked : PLACE_MARGIN * asked * 2;
  const width = record.width ?? Math.ceil((needs + 2 * side) / STEP) * STEP;
  const height = record.height ?? asked * (title ? TITLE_HEIGHT : TEXT_HEIGHT);
  const room = width - (title ? 2 * SCREW_ROOM : 2);
  const shrunk = Math.min(1, room / Math.max(needs, Number.MIN_VALUE), height / (asked * 1.2));
  const size = asked * Math.max(shrunk, 0);
  return { ...oneLine(record.text, size, width, height, size * share, title), title };
}

/** A lever's number over its name, at a share of the full size and no wider than there is room for. */
export function makeLeverPlate(number: string, name: string | null, width: Millimetre, share: number): Made {
  const room = width - 2 * LEVER_PLATE.margin;
  const fitted = (text: string, full: Millimetre, weight: 500 | 700): Millimetre =>
    hundredth(Math.min(full * share, (full * room) / textWidth(text, full, weight)));
  const first = fitted(number, LEVER_PLATE.number.size, 700);
  if (name === null) {
    const made = oneLine(number, first, width, LEVER_PLATE.number.size * share * TEXT_HEIGHT, 0, false);
    return { ...made, lines: made.lines.map((line) => ({ ...line, weight: 700 as const })) };
  }
  const second = fitted(name, LEVER_PLATE.name.size, 500);
  return {
    width: hundredth(width),
    height: hundredth(LEVER_PLATE.height * share),
    lines: [
      { text: number, size: first, y: hundredth(LEVER_PLATE.number.y * share), weight: 700, spacing: 0 },
      { text: name, size: second, y: hundredth(LEVER_PLATE.name.y * share), weight: 500, spacing: 0 },
    ],
    screws: false,
  };
}

function oneLine(
  text: string,
  size: Millimetre,
  width: Millimetre,
  height: Millimetre,
  spacing: Millimetre,
  screws: boolean,
): Made {
  return {
    width: hundredth(width),
    height: hundredth(height),
    lines: [
      {
        text,
        size: hundredth(size),
        y: hundredth(height / 2 + BASELINE * size),
        weight: 600,
        spacing: hundredth(spacing),
      },
    ],
    screws,
  };
}
