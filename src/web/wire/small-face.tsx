/** The face, small: tape, the light of every lamp, and a ring with a word at those that lie. */
import { memo, useMemo } from 'react';
import type { LampFigures } from '../../book/index.ts';
import type { Face } from '../../face/index.ts';
import type { Look } from '../../wiring/index.ts';
import { strokePath } from '../run/geometry.ts';
import { wireWords } from '../words/wire.ts';

interface Props {
  readonly face: Face;
  readonly looks: Readonly<Record<string, Look>>;
  readonly lamps: readonly LampFigures[];
}

export const SmallFace = memo(function SmallFace({ face, looks, lamps }: Props) {
  const own = useMemo(() => new Map(lamps.map((lamp) => [lamp.id, lamp])), [lamps]);
  // Drawn so small that a lamp of its own size would be a speck.
  const unit = face.width / 320;
  const lying = face.lamps.filter(({ id }) => {
    const says = own.get(id)?.says;
    return says === 'lies' || says === 'may lie';
  });
  return (
    <figure className="small-face">
      <svg viewBox={`0 0 ${face.width} ${face.height}`} role="img" aria-label={wireWords.face}>
        <rect className="sf-sheet" width={face.width} height={face.height} rx={2.5} />
        {face.strips.map((strip) => (
          <path
            key={strip.id}
            className="sf-tape"
            d={strokePath(strip.strokes)}
            strokeWidth={Math.max(strip.width, 3 * unit)}
          />
        ))}
        {face.lamps.map(({ id, at }) => (
          <circle
            key={id}
            className={`sf-lamp look-${looks[id] ?? 'unlit'}${own.has(id) ? ' own' : ''}`}
            data-lamp={id}
            data-look={looks[id] ?? 'unlit'}
            cx={at[0]}
            cy={at[1]}
            r={(own.has(id) ? 3.6 : 2.4) * unit}
            strokeWidth={unit}
          />
        ))}
        {lying.map(({ id, at }) => {
          const left = at[0] > face.width * 0.7;
          return (
            <g key={id} className="sf-lies">
              <circle className="sf-case" cx={at[0]} cy={at[1]} r={8 * unit} strokeWidth={4 * unit} />
              <circle cx={at[0]} cy={at[1]} r={8 * unit} strokeWidth={2 * unit} />
              <text
                x={at[0] + (left ? -12 : 12) * unit}
                y={at[1] + 4 * unit}
                fontSize={12 * unit}
                strokeWidth={3 * unit}
                textAnchor={left ? 'end' : 'start'}
              >
                {wireWords.faceLies(id, own.get(id)?.says === 'lies')}
              </text>
            </g>
          );
        })}
      </svg>
      <figcaption>{wireWords.face}</figcaption>
    </figure>
  );
});
