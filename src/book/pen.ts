/** A pen: draws on a list of operations, with text measured as it is set. */
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import type { FontRole } from './fonts.ts';
import type { Measure } from './measure.ts';
import { type Anchor, type Ink, type Op, pt, type Step } from './page.ts';

/** The smallest type in print (visual direction, Print). */
export const SMALLEST: Millimetre = pt(8);

interface TextStyle {
  readonly font?: FontRole;
  readonly size?: Millimetre;
  readonly anchor?: Anchor;
  readonly fill?: string;
  readonly turn?: Degree;
  readonly spacing?: Millimetre;
  /** Never wider than this: set smaller, at last cut short. */
  readonly most?: Millimetre;
  /** The smallest size that `most` may lead to. */
  readonly least?: Millimetre;
  /** A white box behind it, so that lines do not run through it. */
  readonly clear?: boolean;
}

export interface Pen {
  readonly ops: Op[];
  readonly measure: Measure;
  add(...ops: readonly Op[]): void;
  line(from: Spot, to: Spot, ink?: Ink): void;
  polyline(points: readonly Spot[], ink?: Ink & { readonly closed?: boolean }): void;
  path(steps: readonly Step[], ink?: Ink): void;
  rect(at: Spot, size: Spot, ink?: Ink & { readonly radius?: Millimetre }): void;
  circle(at: Spot, radius: Millimetre, ink?: Ink): void;
  /** Returns the width set. */
  text(at: Spot, text: string, style?: TextStyle): Millimetre;
  link(at: Spot, size: Spot, to: string): void;
  /** What `draw` draws, as a group of its own. */
  group(
    settings: {
      readonly layer?: string;
      readonly shift?: Spot;
      readonly scale?: number;
      readonly turn?: Degree;
      readonly clip?: { readonly at: Spot; readonly size: Spot };
    },
    draw: (pen: Pen) => void,
  ): void;
}

export const BLACK = '#000000';
export const WHITE = '#ffffff';
/** Lines, mm (visual direction, Print: 0.18 to 0.7). */
export const HAIR = 0.18;
export const FINE = 0.25;
export const FIRM = 0.35;
export const EDGE = 0.7;

const hair: Ink = { stroke: BLACK, width: HAIR };

/** A pen on an empty list, or on `ops`. */
export function startPen(measure: Measure, ops: Op[] = []): Pen {
  const pen: Pen = {
    ops,
    measure,
    add: (...more) => void ops.push(...more),
    line: (from, to, ink = hair) => void ops.push({ op: 'line', from, to, ...ink }),
    polyline: (points, { closed = false, ...ink } = hair) => void ops.push({ op: 'polyline', points, closed, ...ink }),
    path: (steps, ink = hair) => void ops.push({ op: 'path', steps, ...ink }),
    rect: (at, size, { radius = 0, ...ink } = hair) => void ops.push({ op: 'rect', at, size, radius, ...ink }),
    circle: (at, radius, ink = hair) => void ops.push({ op: 'circle', at, radius, ...ink }),
    text: (at, text, style = {}) => {
      const {
        font = 'text-400',
        anchor = 'start',
        fill = BLACK,
        turn = 0,
        spacing = 0,
        most,
        least = SMALLEST,
        clear = false,
      } = style;
      const asked = style.size ?? pt(9);
      const set =
        most === undefined ? { text, size: asked } : measure.fit(text, font, asked, most, Math.min(least, asked));
      const runs = measure.runs(set.text, font, set.size, spacing);
      const width = measure.width(set.text, font, set.size, spacing);
      if (runs.length === 0) return 0;
      if (clear) {
        const left = at[0] - (anchor === 'start' ? 0 : anchor === 'middle' ? width / 2 : width);
        ops.push({
          op: 'rect',
          at: [left - 0.4, at[1] - set.size * 0.76],
          size: [width + 0.8, set.size * 0.88],
          radius: 0,
          fill: WHITE,
        });
      }
      ops.push({ op: 'text', at, runs, size: set.size, anchor, fill, turn, spacing });
      return width;
    },
    link: (at, size, to) => void ops.push({ op: 'link', at, size, to }),
    group: ({ layer, shift = [0, 0], scale = 1, turn = 0, clip }, draw) => {
      const inner = startPen(measure);
      draw(inner);
      ops.push({ op: 'group', layer: layer ?? null, shift, scale, turn, clip: clip ?? null, ops: inner.ops });
    },
  };
  return pen;
}
