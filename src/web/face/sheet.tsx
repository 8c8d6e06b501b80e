import { memo } from 'react';
import type { Face } from '../../face/index.ts';

/** Turns of the slots of the screws: a hand never stops twice at the same angle. */
const SLOTS = [15, 62, 38, 80, 7, 51];
/** Head of a screw over its hole, times the drill: a countersunk M3 head is 5.5 to 7 over a 3.2 hole. */
const HEAD = 1.1;

/** The sheet itself: paint, grain, cut edge, and the screws that hold it. */
export const Sheet = memo(function Sheet({ face }: { readonly face: Face }) {
  const { width, height } = face;
  return (
    <>
      <rect width={width} height={height} rx="2.5" fill="url(#f-face)" />
      <rect width={width} height={height} rx="2.5" fill="url(#f-grain)" opacity=".16" />
      <rect
        x=".35"
        y=".35"
        width={width - 0.7}
        height={height - 0.7}
        rx="2.3"
        fill="none"
        className="cut-edge"
        strokeWidth=".7"
      />
      {face.fixings.map(({ id, at, drill }, i) => (
        <g key={id} transform={`translate(${at[0]} ${at[1]}) scale(${(drill * HEAD) / 3.5})`}>
          <circle r="4.4" cy=".5" fill="url(#f-well)" />
          <circle r="3.5" fill="url(#f-nut)" />
          <circle r="3.5" fill="none" className="metal-line" strokeWidth=".25" />
          <path
            className="metal-dark"
            transform={`rotate(${SLOTS[i % SLOTS.length]})`}
            d="M-2.1-.42h4.2v.84h-4.2z M-.42-2.1h.84v4.2h-.84z"
          />
        </g>
      ))}
    </>
  );
});
