/** A strip's centre line as corners, its arcs cut into short straight pieces. */
import type { Stroke } from '../face/index.ts';
import type { Spot } from '../units/index.ts';

/** Degrees of an arc to a piece: at a bend of 9 mm no piece leaves the arc by more than 0.05 mm. */
const PIECE = 12;
/** Spots nearer than this are one, mm. */
const SAME: number = 1e-6;

export function flattenStrokes(strokes: readonly Stroke[]): Spot[] {
  const spots: Spot[] = [];
  const add = (spot: Spot): void => {
    const last = spots.at(-1);
    if (last === undefined || Math.hypot(last[0] - spot[0], last[1] - spot[1]) > SAME) spots.push(spot);
  };
  for (const stroke of strokes) {
    add(stroke.from);
    if (stroke.kind === 'arc') {
      const { centre, radius, clockwise, from, to } = stroke;
      const begin = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
      const end = Math.atan2(to[1] - centre[1], to[0] - centre[0]);
      // Seen on a page with y down, clockwise is towards larger angles.
      const turn = 2 * Math.PI;
      const swept = clockwise ? (end - begin + turn) % turn : -((begin - end + turn) % turn);
      const pieces = Math.max(1, Math.ceil(Math.abs(swept) / ((PIECE * Math.PI) / 180)));
      for (let i = 1; i < pieces; i++) {
        const angle = begin + (swept * i) / pieces;
        add([centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)]);
      }
    }
    add(stroke.to);
  }
  return spots;
}
