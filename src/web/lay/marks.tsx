/** What the tool draws on the face in Lay, in marking blue: nothing of it will be there when the panel is built. */
import { memo } from 'react';
import type { DrawnButton, DrawnLever, Face, Hole } from '../../face/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import type { LayLoose, LayView } from '../worker/types.ts';
import type { Tag } from './tags.ts';

/** A toe, its ring, and how far the fingers reach along the legs: mm. */
const TOE = 1.9;
const FINGER = { from: 3.2, to: 12, width: 1.15 };

/** Dots at 10 mm and crosses at 50: one square of the grid, over and over, so that a wall of track costs no more than a box of points. */
export const Grid = memo(function Grid({ face }: { readonly face: Face }) {
  const { width, height } = face;
  const tens = [10, 20, 30, 40, 50];
  const dots = tens.flatMap((x) => tens.map((y) => (x === 50 && y === 50 ? '' : `M${x - 0.25} ${y}h.5`))).join('');
  return (
    <g className="lay-grid">
      <pattern id="lay-grid" x="5" y="5" width="50" height="50" viewBox="5 5 50 50" patternUnits="userSpaceOnUse">
        <path d={dots} fill="none" strokeWidth=".5" />
        <path d="M48.8 50h2.4M50 48.8v2.4" fill="none" strokeWidth=".3" />
      </pattern>
      <rect
        x="5"
        y="5"
        width={Math.max(0, width - 10)}
        height={Math.max(0, height - 10)}
        fill="url(#lay-grid)"
        stroke="none"
      />
    </g>
  );
});

function finger([x, y]: Spot, [dx, dy]: Spot): string {
  const { from, to } = FINGER;
  return `M${x + dx * from} ${y + dy * from}L${x + dx * to} ${y + dy * to}`;
}

/** Fingers along the legs of every point: solid along the normal leg, dashed along the reverse leg. */
export const Fingers = memo(function Fingers({ points }: { readonly points: LayView['points'] }) {
  return (
    <g fill="none" className="lay-fingers" strokeWidth={FINGER.width}>
      <path d={points.map(({ at, toward }) => finger(at, toward.normal)).join('')} />
      <path d={points.map(({ at, toward }) => finger(at, toward.reverse)).join('')} strokeDasharray="1.7 1.3" />
    </g>
  );
});

/** Toes with their tags on short leaders. */
export const Points = memo(function Points({
  tags,
  picked,
}: {
  readonly tags: readonly Tag[];
  readonly picked: ReadonlySet<string>;
}) {
  return (
    <g>
      <path
        fill="none"
        className="mark-line"
        strokeWidth=".7"
        d={tags.map(({ toe, at }) => `M${toe[0]} ${toe[1]}L${at[0]} ${at[1]}`).join('')}
      />
      {tags.map((tag) => (
        <PointMark key={tag.id} tag={tag} picked={picked.has(tag.id)} />
      ))}
    </g>
  );
});

const PointMark = memo(function PointMark({ tag, picked }: { readonly tag: Tag; readonly picked: boolean }) {
  const { id, toe, at, width, height } = tag;
  return (
    <g data-point={id}>
      <circle cx={toe[0]} cy={toe[1]} r={picked ? TOE * 1.8 : TOE} className="toe" strokeWidth=".85" />
      <rect
        x={at[0] - width / 2}
        y={at[1] - height / 2}
        width={width}
        height={height}
        rx={height * 0.17}
        className="mark-fill"
      />
      <text
        x={at[0]}
        y={at[1] + height * 0.29}
        textAnchor="middle"
        fontSize={height * 0.81}
        fontWeight="620"
        className="mark-text"
      >
        {id}
      </text>
    </g>
  );
});

/** A hole for a lamp, at its drill. Many: one path each for all that are alike. */
export const LampHoles = memo(function LampHoles({ holes }: { readonly holes: readonly Hole[] }) {
  return (
    <g className="lamp-holes" strokeWidth=".35">
      {holes.map(({ id, at, drill }) => (
        <LampHole key={id} at={at} drill={drill} />
      ))}
    </g>
  );
});

const LampHole = memo(function LampHole({ at, drill }: { readonly at: Spot; readonly drill: Millimetre }) {
  return (
    <g transform={`translate(${at[0]} ${at[1]})`}>
      <circle r={drill / 2} className="lamp-hole" />
      <circle r=".55" className="mark-dot" />
    </g>
  );
});

/** A lever's hole and the circle that its nut driver needs. */
export const LeverHoles = memo(function LeverHoles({ levers }: { readonly levers: readonly DrawnLever[] }) {
  return levers.map(({ id, at, drill, driver }) => (
    <g key={id} transform={`translate(${at[0]} ${at[1]})`} fill="none" className="mark-line" data-lever={id}>
      <circle r={driver / 2} strokeWidth=".45" strokeDasharray="1.6 1.2" />
      <circle r={drill / 2} className="lever-hole" strokeWidth=".7" />
      <path d="M-3.2 0h6.4M0-3.2v6.4" strokeWidth=".4" />
    </g>
  ));
});

/** The holes of push buttons as the tools put them: the hole, its rim, and a dot to press. */
export const ButtonHoles = memo(function ButtonHoles({ buttons }: { readonly buttons: readonly DrawnButton[] }) {
  return buttons.map(({ id, at, drill, rim }) => (
    <g key={id} transform={`translate(${at[0]} ${at[1]})`} fill="none" className="mark-line" data-button={id}>
      <circle r={rim / 2} strokeWidth=".45" strokeDasharray="1.6 1.2" />
      <circle r={drill / 2} className="lever-hole" strokeWidth=".7" />
      <circle r="1.1" className="button-dot" strokeWidth=".4" />
    </g>
  ));
});

/** Ends that cannot be read: a ring in the colour of wrong with a white casing, and the angle. */
export const LooseEnds = memo(function LooseEnds({
  loose,
  size,
}: {
  readonly loose: readonly LayLoose[];
  readonly size: Millimetre;
}) {
  return loose.map(({ strip, at, angle }) => (
    <g key={`${strip} ${at[0]} ${at[1]}`} transform={`translate(${at[0]} ${at[1]})`}>
      <circle r="6.4" fill="none" className="loose-case" strokeWidth="2.2" />
      <circle r="6.4" fill="none" className="loose-ring" strokeWidth="1.1" />
      <g transform={`translate(0 ${-6.4 - size * 0.85})`}>
        <rect
          x={-size * 1.25}
          y={-size * 0.65}
          width={size * 2.5}
          height={size * 1.3}
          rx={size * 0.2}
          className="loose-fill"
        />
        <text y={size * 0.33} textAnchor="middle" fontSize={size} fontWeight="640" className="loose-text">
          {`${Math.round(angle)}°`}
        </text>
      </g>
    </g>
  ));
});
