import { memo } from 'react';
import type { DrawnLamp, Face } from '../../face/index.ts';
import type { Look } from '../../wiring/index.ts';
import { lampColour } from './colours.ts';

/** Halos in the style sheet are those of a 3 mm lamp. */
const scaleOf = (lamp: DrawnLamp): number => lamp.size / 3;

/** A bare lamp as it stands in its hole, not lit. */
export const DarkLamps = memo(function DarkLamps({ face }: { readonly face: Face }) {
  return face.lamps.map((lamp) => (
    <g key={lamp.id} transform={`translate(${lamp.at[0]} ${lamp.at[1]}) scale(${scaleOf(lamp)})`}>
      <circle r="2.35" cy=".15" fill="url(#f-well)" />
      <circle r="1.75" className="bezel" />
      <circle r="1.7" fill="none" className="bezel-line" strokeWidth=".22" />
      <circle r="1.5" fill={`url(#f-off-${lampColour(lamp.colour)})`} />
      <ellipse cx="-.45" cy="-.55" rx=".45" ry=".3" fill="#fff" opacity=".4" />
    </g>
  ));
});

const Halo = memo(function Halo({ lamp, look }: { readonly lamp: DrawnLamp; readonly look: Look }) {
  return (
    <g transform={`translate(${lamp.at[0]} ${lamp.at[1]}) scale(${scaleOf(lamp)})`}>
      <circle className={`halo look-${look}`} fill={`url(#f-halo-${lampColour(lamp.colour)})`} />
    </g>
  );
});

const LitLamp = memo(function LitLamp({ lamp, look }: { readonly lamp: DrawnLamp; readonly look: Look }) {
  return (
    <g
      transform={`translate(${lamp.at[0]} ${lamp.at[1]}) scale(${scaleOf(lamp)})`}
      data-lamp={lamp.id}
      data-look={look}
    >
      <g className={`dome look-${look}`}>
        <circle r="1.75" className="bezel" />
        <circle r="1.7" fill="none" className="bezel-line" strokeWidth=".22" />
        <circle r="1.5" fill={`url(#f-on-${lampColour(lamp.colour)})`} />
        <ellipse cx="-.28" cy="-.4" rx=".62" ry=".45" fill="#fff" opacity=".9" />
      </g>
      {look === 'destroyed' ? (
        <g>
          <circle r="1.5" className="burnt" />
          <path d="M-2.6-2.6 2.6 2.6M2.6-2.6-2.6 2.6" className="burnt-case" strokeWidth="1.9" />
          <path d="M-2.6-2.6 2.6 2.6M2.6-2.6-2.6 2.6" className="burnt-cross" strokeWidth=".9" />
        </g>
      ) : null}
    </g>
  );
});

/** The light of the lamps as the solver gives it: halos first, so that they fall on every lamp near by, then the domes. */
export const LitLamps = memo(function LitLamps({
  face,
  looks,
}: {
  readonly face: Face;
  readonly looks: Readonly<Record<string, Look>>;
}) {
  return (
    <>
      {face.lamps.map((lamp) => (
        <Halo key={lamp.id} lamp={lamp} look={looks[lamp.id] ?? 'unlit'} />
      ))}
      {face.lamps.map((lamp) => (
        <LitLamp key={lamp.id} lamp={lamp} look={looks[lamp.id] ?? 'unlit'} />
      ))}
    </>
  );
});
