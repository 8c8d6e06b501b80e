import { memo } from 'react';
import type { LeverPositions } from '../../derive.ts';
import type { DrawnLever, Face } from '../../face/index.ts';
import type { Position } from '../../wiring/index.ts';
import { positionOf } from '../run/throws.ts';

/** The nut that the shapes below are drawn for. */
const NUT_MM = 15.8;
const BAT = 'M-1.55 0 L-2.6 -13 A2.6 2.6 0 0 1 2.6 -13 L1.55 0 A1.55 1.55 0 0 1 -1.55 0Z';

/** What stays still: dressed nut, hex and bush. */
export const Bushes = memo(function Bushes({ face }: { readonly face: Face }) {
  return face.levers.map((lever) => (
    <g key={lever.id} transform={place(lever)}>
      <g transform={`rotate(${-lever.angle})`}>
        <circle r="10" cx=".6" cy="1.7" fill="url(#f-well)" />
        <circle r="7.9" fill="url(#f-nut)" />
        <circle r="7.9" fill="none" className="metal-line" strokeWidth=".25" />
        <circle r="7.1" fill="none" stroke="#fff" strokeOpacity=".5" strokeWidth=".3" />
      </g>
      <polygon
        points="5.89,1.57 1.59,5.89 -4.31,4.32 -5.89,-1.57 -1.59,-5.89 4.31,-4.32"
        fill="url(#f-nut)"
        className="metal-line"
        strokeWidth=".3"
        strokeLinejoin="round"
      />
      <circle r="4.7" fill="none" stroke="#fff" strokeOpacity=".45" strokeWidth=".35" />
      <circle r="3.9" fill="url(#f-bush)" className="metal-thin" strokeWidth=".3" />
      <circle r="2.7" fill="#0b0e0f" opacity=".85" />
    </g>
  ));
});

function place(lever: DrawnLever): string {
  return `translate(${lever.at[0]} ${lever.at[1]}) rotate(${lever.angle}) scale(${lever.nut / NUT_MM})`;
}

/** A bat seen from above: lying over to its end, or standing on end in the middle. It snaps over through the middle. */
const Bat = memo(function Bat({ lever, position }: { readonly lever: DrawnLever; readonly position: Position }) {
  return (
    <g transform={place(lever)} className={`bat bat-${position}`} data-lever={lever.id} data-position={position}>
      <g transform={`rotate(${-lever.angle}) translate(1.3 2.3) rotate(${lever.angle})`} opacity=".34">
        <path className="bat-lie" d={BAT} />
      </g>
      <g className="bat-lie">
        <path d={BAT} fill="url(#f-bat)" className="metal-line" strokeWidth=".2" />
      </g>
      <g className="bat-tip">
        <circle r="2.45" fill="url(#f-tip)" className="metal-line" strokeWidth=".15" />
      </g>
    </g>
  );
});

/** The bats of all levers as they lie. */
export const Bats = memo(function Bats({ face, levers }: { readonly face: Face; readonly levers: LeverPositions }) {
  return face.levers.map((lever) => <Bat key={lever.id} lever={lever} position={positionOf(levers, lever.id)} />);
});
