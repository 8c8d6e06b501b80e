import { memo } from 'react';
import type { Spot } from '../../units/index.ts';
import { words } from '../words/run.ts';
import type { Camera, Extent } from './camera.ts';
import { type RulerUnit, type Tick, ticksOf } from './rulers.ts';

/** How thick a ruler is, in px. */
export const RULER_PX = 26;

const LENGTH = [5, 9, 17] as const;

/** From and to of what is picked, in mm along one edge. */
type Stretch = readonly [number, number] | null;

interface RulersProps {
  readonly camera: Camera;
  readonly view: Extent;
  readonly unit: RulerUnit;
  readonly pointer: Spot | null;
  readonly picked: { readonly across: Stretch; readonly down: Stretch };
}

/** The rulers along the top and the left of the view, with the pointer and the stretch of what is picked on them. */
export const Rulers = memo(function Rulers({ camera, view, unit, pointer, picked }: RulersProps) {
  const { pxPerMm, at } = camera;
  const across = ticksOf(at[0], pxPerMm, view.width, unit);
  const down = ticksOf(at[1], pxPerMm, view.height, unit);
  const px = (value: number, from: number): number => (value - from) * pxPerMm;
  return (
    <>
      <svg className="ruler across" width={view.width} height={RULER_PX} aria-hidden="true" focusable="false">
        <path
          className="ruler-ticks"
          d={across.map(({ at: x, rank }) => `M${x} ${RULER_PX}v-${LENGTH[rank]}`).join('')}
        />
        {figures(across).map(({ at: x, text }) => (
          <text key={text} x={x + 4} y={12}>
            {text}
          </text>
        ))}
        {picked.across === null ? null : (
          <path
            className="ruler-picked"
            d={`M${px(picked.across[0], at[0])} ${RULER_PX - 1.5}H${px(picked.across[1], at[0])}`}
          />
        )}
        {pointer === null ? null : <path className="ruler-pointer" d={`M${px(pointer[0], at[0])} 0V${RULER_PX}`} />}
      </svg>
      <svg className="ruler down" width={RULER_PX} height={view.height} aria-hidden="true" focusable="false">
        <path
          className="ruler-ticks"
          d={down.map(({ at: y, rank }) => `M${RULER_PX} ${y}h-${LENGTH[rank]}`).join('')}
        />
        {figures(down).map(({ at: y, text }) => (
          <text key={text} transform={`translate(11 ${y + 4}) rotate(-90)`} textAnchor="end">
            {text}
          </text>
        ))}
        {picked.down === null ? null : (
          <path
            className="ruler-picked"
            d={`M${RULER_PX - 1.5} ${px(picked.down[0], at[1])}V${px(picked.down[1], at[1])}`}
          />
        )}
        {pointer === null ? null : <path className="ruler-pointer" d={`M0 ${px(pointer[1], at[1])}H${RULER_PX}`} />}
      </svg>
      <span className="ruler-corner" aria-hidden="true">
        {words.units[unit]}
      </span>
    </>
  );
});

function figures(ticks: readonly Tick[]): readonly { readonly at: number; readonly text: string }[] {
  return ticks.flatMap(({ at, text }) => (text === null ? [] : [{ at, text }]));
}
