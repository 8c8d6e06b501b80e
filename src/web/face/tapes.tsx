import { memo } from 'react';
import type { DrawnStrip, Face } from '../../face/index.ts';
import { strokePath } from '../run/geometry.ts';
import { tapeClass } from './colours.ts';

/** A strip of tape: shadow, edge, body, the band of light above its middle and the sheen on it. */
export const Tape = memo(function Tape({ strip }: { readonly strip: DrawnStrip }) {
  const d = strokePath(strip.strokes);
  const w = strip.width;
  const part = w / 5;
  return (
    <g className={tapeClass(strip.tape)} fill="none" strokeLinejoin="round">
      <path d={d} className="tape-shade" strokeWidth={w + 1.3} opacity=".35" transform="translate(.35 .75)" />
      <path d={d} className="tape-shade" strokeWidth={w + 0.4} opacity=".75" transform="translate(.35 .75)" />
      <path d={d} className="tape-body" strokeWidth={w + 0.2} />
      <path d={d} className="tape-edge" strokeWidth={w + 0.2} />
      <path d={d} className="tape-body" strokeWidth={w - 0.3} />
      <path d={d} className="tape-band" strokeWidth={1.5 * part} transform={`translate(0 ${-0.95 * part})`} />
      <path d={d} className="tape-sheen" strokeWidth={0.5 * part} transform={`translate(0 ${-1.4 * part})`} />
    </g>
  );
});

/** The tape on the sheet, the later strip on top, so that a joining end tucks under the strip that it joins. */
export const Tapes = memo(function Tapes({ face }: { readonly face: Face }) {
  return face.strips.map((strip) => <Tape key={strip.id} strip={strip} />);
});
