/** Where the eye stands over a circuit: how large it is drawn, and which spot of it is at the upper left. */
import type { Spot } from '../../units/index.ts';

export interface Eye {
  /** Screen px to a px of the drawing. */
  readonly scale: number;
  readonly at: Spot;
}

export interface Room {
  readonly width: number;
  readonly height: number;
}

const LEAST = 0.35;
const MOST = 3;
/** A drawing that fits is drawn no larger than this: symbols of one size in every circuit. */
const FIT_MOST = 1.15;
/** So much free round it, px of the screen. */
const EDGE = 12;

/** The whole drawing in the middle of its room. */
export function fitted([width, height]: Spot, room: Room): Eye {
  const scale = Math.max(LEAST, Math.min(FIT_MOST, (room.width - 2 * EDGE) / width, (room.height - 2 * EDGE) / height));
  return { scale, at: [width / 2 - room.width / 2 / scale, height / 2 - room.height / 2 / scale] };
}

/** Smaller than this type cannot be read: a drawing that would be is seen from its upper left corner. */
const READ_LEAST = 0.72;

/** Where the eye stands when a drawing is come to: over the whole of it, as far as it can be read so. */
export function opened(size: Spot, room: Room): Eye {
  const whole = fitted(size, room);
  if (whole.scale >= READ_LEAST) return whole;
  const from = (length: number, wide: number, middle: number): number =>
    length * READ_LEAST > wide ? -EDGE / READ_LEAST : middle;
  const scale = READ_LEAST;
  return {
    scale,
    at: [
      from(size[0], room.width, size[0] / 2 - room.width / 2 / scale),
      from(size[1], room.height, size[1] / 2 - room.height / 2 / scale),
    ],
  };
}

/** Larger or smaller by so much about a spot of the screen. */
export function zoomed(eye: Eye, by: number, [x, y]: Spot): Eye {
  const scale = Math.min(MOST, Math.max(LEAST, eye.scale * by));
  const spot: Spot = [eye.at[0] + x / eye.scale, eye.at[1] + y / eye.scale];
  return { scale, at: [spot[0] - x / scale, spot[1] - y / scale] };
}

/** Moved by so many px of the screen, never so far that the drawing is gone. */
export function moved(eye: Eye, [dx, dy]: Spot, [width, height]: Spot, room: Room): Eye {
  const keep = (value: number, size: number, wide: number): number => {
    const seen = wide / eye.scale;
    return Math.min(size - Math.min(seen, size) * 0.2, Math.max(-seen * 0.8, value));
  };
  return {
    scale: eye.scale,
    at: [keep(eye.at[0] - dx / eye.scale, width, room.width), keep(eye.at[1] - dy / eye.scale, height, room.height)],
  };
}
