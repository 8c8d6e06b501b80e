/**
 * A page as a list of drawing operations in millimetres, from the top left corner, y down. Nothing here knows paper
 * formats, file formats or railways: documents make pages, writers read them.
 */
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import type { FontRole } from './fonts.ts';

/** How a shape is inked. Colours are `#rrggbb`; without `stroke` there is no line, without `fill` no area. */
export interface Ink {
  readonly stroke?: string;
  readonly width?: Millimetre;
  readonly dash?: readonly Millimetre[];
  readonly cap?: 'butt' | 'round' | 'square';
  readonly join?: 'miter' | 'round' | 'bevel';
  readonly fill?: string;
  readonly opacity?: number;
}

/** One step of a path. An arc goes from the last spot round `centre` to `to`; clockwise as the page is seen. */
export type Step =
  | { readonly go: 'move'; readonly to: Spot }
  | { readonly go: 'line'; readonly to: Spot }
  | {
      readonly go: 'arc';
      readonly to: Spot;
      readonly centre: Spot;
      readonly radius: Millimetre;
      readonly clockwise: boolean;
    }
  | { readonly go: 'close' };

/** A stretch of text in one face, measured. */
export interface Run {
  readonly font: FontRole;
  readonly text: string;
  /** At the size of its operation, letter spacing included. */
  readonly width: Millimetre;
}

export type Anchor = 'start' | 'middle' | 'end';

/** One drawing operation. `at` of text is on its baseline; `turn` is clockwise about `at`. */
export type Op =
  | (Ink & { readonly op: 'line'; readonly from: Spot; readonly to: Spot })
  | (Ink & { readonly op: 'polyline'; readonly points: readonly Spot[]; readonly closed: boolean })
  | (Ink & { readonly op: 'path'; readonly steps: readonly Step[] })
  | (Ink & { readonly op: 'rect'; readonly at: Spot; readonly size: Spot; readonly radius: Millimetre })
  | (Ink & { readonly op: 'circle'; readonly at: Spot; readonly radius: Millimetre })
  | {
      readonly op: 'text';
      readonly at: Spot;
      readonly runs: readonly Run[];
      readonly size: Millimetre;
      readonly anchor: Anchor;
      readonly fill: string;
      readonly turn: Degree;
      readonly spacing: Millimetre;
    }
  | {
      readonly op: 'group';
      /** What it is: the layer in DXF, the id of the group in SVG. */
      readonly layer: string | null;
      /** Shift, then scale, then turn (clockwise): where the inside's origin lands. */
      readonly shift: Spot;
      readonly scale: number;
      readonly turn: Degree;
      /** Nothing outside this box (in the group's own millimetres) is drawn. */
      readonly clip: { readonly at: Spot; readonly size: Spot } | null;
      readonly ops: readonly Op[];
    }
  | { readonly op: 'link'; readonly at: Spot; readonly size: Spot; readonly to: string };

/** An entry of the outline. `level` 0 is a part of the book, 1 a page within it. */
export interface Bookmark {
  readonly title: string;
  readonly level: 0 | 1;
}

export interface Page {
  readonly size: Spot;
  readonly ops: readonly Op[];
  readonly bookmarks: readonly Bookmark[];
  /** Names that links can lead to. */
  readonly names: readonly string[];
}

/** A document ready to be written: pages and what the file says of itself. */
export interface Paged {
  readonly title: string;
  readonly subject: string;
  /** `2026-03-01`, or null where the panel gives no date. */
  readonly date: string | null;
  readonly pages: readonly Page[];
}

const MM_PER_POINT = 25.4 / 72;

/** Millimetres of a size in points (1/72 inch). */
export function pt(points: number): Millimetre {
  return points * MM_PER_POINT;
}

const short = (value: number): string => String(Math.round(value * 100) / 100);
const spot = ([x, y]: Spot): string => `${short(x)},${short(y)}`;

/** One line for each operation, to be read by tests and people; groups are indented. */
export function describeOps(ops: readonly Op[], indent = ''): string[] {
  return ops.flatMap((op): string[] => {
    switch (op.op) {
      case 'line':
        return [`${indent}line ${spot(op.from)} ${spot(op.to)}`];
      case 'polyline':
        return [`${indent}polyline ${op.points.map(spot).join(' ')}${op.closed ? ' closed' : ''}`];
      case 'path':
        return [
          `${indent}path ${op.steps.map((s) => (s.go === 'close' ? 'close' : `${s.go} ${spot(s.to)}`)).join(' ')}`,
        ];
      case 'rect':
        return [`${indent}rect ${spot(op.at)} ${spot(op.size)}`];
      case 'circle':
        return [`${indent}circle ${spot(op.at)} r ${short(op.radius)}`];
      case 'text':
        return [`${indent}text ${spot(op.at)} ${op.anchor} "${op.runs.map((run) => run.text).join('')}"`];
      case 'group':
        return [`${indent}group ${op.layer ?? '-'} ${spot(op.shift)}`, ...describeOps(op.ops, `${indent}  `)];
      case 'link':
        return [`${indent}link ${spot(op.at)} ${spot(op.size)} ${op.to}`];
    }
  });
}
