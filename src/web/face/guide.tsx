import { memo } from 'react';
import type { Spot } from '../../units/index.ts';
import { bentPath, pathLength } from '../run/geometry.ts';

/** Bends of the tape, and how fast the line is drawn. */
const BEND_MM = 9;
const MM_PER_SECOND = 600;

/** The soft light under the tape of the picked route. */
export const GuideGlow = memo(function GuideGlow({ line }: { readonly line: readonly Spot[] }) {
  return (
    <path
      className="guide-glow"
      d={bentPath(line, BEND_MM)}
      fill="none"
      strokeWidth="13"
      strokeLinejoin="round"
      filter="url(#f-glow)"
    />
  );
});

/** Bars across a route that the levers cannot set. */
export const GuideBarred = memo(function GuideBarred({ line }: { readonly line: readonly Spot[] }) {
  return (
    <path
      className="guide-barred"
      d={bentPath(line, BEND_MM)}
      fill="none"
      strokeWidth="3.4"
      strokeDasharray="1 5"
      strokeLinejoin="round"
    />
  );
});

/** A broken line along a route that is asked for and not set yet: nothing shines under it. */
export const GuideAsked = memo(function GuideAsked({ line }: { readonly line: readonly Spot[] }) {
  return (
    <path
      className="guide-asked"
      d={bentPath(line, BEND_MM)}
      fill="none"
      strokeWidth="1.2"
      strokeDasharray="6 5"
      strokeLinejoin="round"
    />
  );
});

/** The bright line along a route that is set, drawn once from where it starts. */
export const GuideLine = memo(function GuideLine({ line }: { readonly line: readonly Spot[] }) {
  const seconds = pathLength(line) / MM_PER_SECOND;
  return (
    <path
      className="guide-line"
      d={bentPath(line, BEND_MM)}
      fill="none"
      strokeWidth="1.1"
      strokeLinejoin="round"
      pathLength={1}
      style={{ animationDuration: `${seconds}s` }}
    />
  );
});
