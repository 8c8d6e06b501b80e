import { memo } from 'react';
import { MARK_PX, MARK_UNITS, markOf, PATHS } from './marks.ts';

/** Type inside a mark: units, by how many signs stand in it. */
const TYPE = [13, 13, 13, 10.5];

/** The sign of a lever, about its middle, in units of its own. */
export const MarkShape = memo(function MarkShape({
  lever,
  place,
  casing = false,
}: {
  readonly lever: string;
  readonly place: number;
  /** On paint: a rim of paper, so that ink never touches paint. */
  readonly casing?: boolean;
}) {
  const { outline, ink, solid, text } = markOf(lever, place);
  const { d, at } = PATHS[outline];
  return (
    <g className={`lv-mark lv-${ink} ${solid ? 'lv-solid' : 'lv-open'}`}>
      {casing ? <path className="lv-casing" d={d} /> : null}
      <path className="lv-body" d={d} />
      <text x={at[0]} y={at[1]} textAnchor="middle" fontSize={TYPE[text.length]}>
        {text}
      </text>
    </g>
  );
});

/** The blue contour of the picked lever's marks. */
export const MarkContour = ({ lever, place }: { readonly lever: string; readonly place: number }) => (
  <path className="lv-contour" d={PATHS[markOf(lever, place).outline].d} />
);

/** The same as a picture of its own, beside the lever's name. */
export function Mark({
  lever,
  place,
  px = MARK_PX,
}: {
  readonly lever: string;
  readonly place: number;
  readonly px?: number;
}) {
  const half = MARK_UNITS / 2 + 1;
  return (
    <svg
      className="lv-sign"
      viewBox={`${-half} ${-half} ${2 * half} ${2 * half}`}
      width={px}
      height={px}
      aria-hidden="true"
      focusable="false"
    >
      <MarkShape lever={lever} place={place} />
    </svg>
  );
}
