import { memo } from 'react';
import grain from './grain.png';

const stop = (offset: number, colour: string, opacity?: string | number) => (
  <stop offset={offset} style={{ stopColor: colour, ...(opacity === undefined ? {} : { stopOpacity: opacity }) }} />
);

/** A tile of grain is so wide: mm. A picture, since noise that is worked out anew for every px costs more than all the rest of the face. */
const GRAIN = 40;

/** Paints and filters that the layers of the face share. Colours come from the style sheet, so the lights can change under them. */
export const Defs = memo(function Defs({ colours }: { readonly colours: readonly string[] }) {
  return (
    <svg className="defs" width="0" height="0" aria-hidden="true" focusable="false">
      <defs>
        <pattern id="f-grain" width={GRAIN} height={GRAIN} patternUnits="userSpaceOnUse">
          <image href={grain} width={GRAIN} height={GRAIN} />
        </pattern>
        <filter id="f-glow" x="-20%" y="-20%" width="140%" height="140%" filterUnits="objectBoundingBox">
          <feGaussianBlur stdDeviation="3.2" />
        </filter>
        <filter id="f-soft" x="-40%" y="-40%" width="180%" height="180%">
          <feGaussianBlur stdDeviation="1.3" />
        </filter>
        <filter id="f-edge" x="-10%" y="-40%" width="120%" height="180%">
          <feGaussianBlur stdDeviation=".45" />
        </filter>
        <radialGradient id="f-face" cx=".36" cy="-.05" r="1.15">
          {stop(0, 'var(--face-hi)')}
          {stop(0.55, 'var(--face)')}
          {stop(1, 'var(--face-lo)')}
        </radialGradient>
        <linearGradient id="f-nut" x1=".1" y1="0" x2=".8" y2="1">
          {stop(0, 'var(--metal-1)')}
          {stop(0.45, 'var(--metal-2)')}
          {stop(0.62, 'var(--metal-3)')}
          {stop(1, 'var(--metal-2)')}
        </linearGradient>
        <linearGradient id="f-bush" x1="0" y1="0" x2=".6" y2="1">
          {stop(0, 'var(--metal-4)')}
          {stop(0.6, 'var(--metal-3)')}
          {stop(1, 'var(--metal-2)')}
        </linearGradient>
        <linearGradient id="f-bat" x1="0" y1="0" x2="1" y2="0">
          {stop(0, 'var(--metal-3)')}
          {stop(0.22, 'var(--metal-1)')}
          {stop(0.48, 'var(--metal-2)')}
          {stop(0.8, 'var(--metal-3)')}
          {stop(1, 'var(--metal-4)')}
        </linearGradient>
        <radialGradient id="f-tip" cx=".36" cy=".3" r=".8">
          {stop(0, 'var(--metal-1)')}
          {stop(0.5, 'var(--metal-2)')}
          {stop(1, 'var(--metal-3)')}
        </radialGradient>
        <linearGradient id="f-plate" x1="0" y1="0" x2="0" y2="1">
          {stop(0, '#fff', 0.55)}
          {stop(0.35, '#fff', 0)}
          {stop(1, '#000', 0.06)}
        </linearGradient>
        <radialGradient id="f-well">
          {stop(0, '#000', 0.55)}
          {stop(0.7, '#000', 0.5)}
          {stop(1, '#000', 0)}
        </radialGradient>
        {colours.map((colour) => (
          <g key={colour} className={`lamp-${colour}`}>
            <radialGradient id={`f-halo-${colour}`}>
              {stop(0, 'var(--lamp-halo)', 'var(--lamp-halo-a)')}
              {stop(0.28, 'var(--lamp-halo)', 'calc(var(--lamp-halo-a) * .52)')}
              {stop(0.6, 'var(--lamp-halo)', 'calc(var(--lamp-halo-a) * .14)')}
              {stop(1, 'var(--lamp-halo)', 0)}
            </radialGradient>
            <radialGradient id={`f-on-${colour}`} cx=".5" cy=".46" r=".56">
              {stop(0, 'var(--lamp-core)')}
              {stop(0.38, 'var(--lamp-core)')}
              {stop(0.7, 'var(--lamp-on)')}
              {stop(1, 'var(--lamp-rim)')}
            </radialGradient>
            <radialGradient id={`f-off-${colour}`} cx=".38" cy=".32" r=".75">
              {stop(0, 'var(--lamp-off-hi)')}
              {stop(0.6, 'var(--lamp-off)')}
              {stop(1, 'var(--lamp-off-lo)')}
            </radialGradient>
          </g>
        ))}
      </defs>
    </svg>
  );
});
