/** Feeds and gaps of the file, found on spans. */
import { type PanelFile, stripWidth } from '../panel/index.ts';
import { type Plan, type Span, spanAt } from '../plan/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { other } from './bodies.ts';
import { REACH } from './tolerances.ts';
import type { Rail } from './types.ts';

/** A spot of the file and the span that it lies on. */
export interface FoundSpot {
  /** Counted from 0 in its list. */
  readonly index: number;
  readonly at: Spot;
  readonly span: string;
  readonly along: Millimetre;
}

/** A gap with the rails that it cuts, seen from the span's end 0 to its end 1. */
export interface FoundGap extends FoundSpot {
  readonly rails: readonly Rail[];
}

export interface FoundSpots {
  readonly feeds: readonly FoundSpot[];
  readonly lostFeeds: readonly number[];
  readonly gaps: readonly FoundGap[];
  readonly lostGaps: readonly number[];
}

/** How far from its spot a feed or gap may lie: half the tape that is met, and a fingertip. */
export function readSpots(panel: PanelFile, plan: Plan): FoundSpots {
  const widths = new Map(panel.strips.map((strip) => [strip.id, stripWidth(strip)]));
  const widest = Math.max(0, ...widths.values());
  const spans = new Map(plan.spans.map((span) => [span.id, span]));
  const find = (at: Spot): { span: Span; along: Millimetre } | null => {
    const found = spanAt(plan, at, widest / 2 + REACH);
    const span = spans.get(found?.span ?? '');
    if (found === null || span === undefined) return null;
    const width = widths.get(stretchAt(span, found.along)?.strip ?? '') ?? widest;
    return found.distance > width / 2 + REACH + SAME ? null : { span, along: found.along };
  };
  const feeds: FoundSpot[] = [];
  const lostFeeds: number[] = [];
  (panel.track?.feeds ?? []).forEach(({ at }, index) => {
    const found = find(at);
    if (found === null) lostFeeds.push(index);
    else feeds.push({ index, at, span: found.span.id, along: found.along });
  });
  const gaps: FoundGap[] = [];
  const lostGaps: number[] = [];
  (panel.track?.gaps ?? []).forEach(({ at, rail }, index) => {
    const found = find(at);
    if (found === null) {
      lostGaps.push(index);
      return;
    }
    const { span, along } = found;
    // The file's rails are seen along the strip from its first corner; a span may run against it.
    const back = isBackwards(span, along);
    const rails: readonly Rail[] =
      rail === 'left' || rail === 'right' ? [back ? other(rail) : rail] : ['left', 'right'];
    gaps.push({ index, at, span: span.id, along, rails });
  });
  return { feeds, lostFeeds, gaps, lostGaps };
}

/** What rounding leaves of a spot that lies just in reach. */
const SAME: Millimetre = 1e-3;

function stretchAt(span: Span, along: Millimetre) {
  let left = along;
  for (const stretch of span.stretches) {
    const length = Math.abs(stretch.to - stretch.from);
    if (left <= length) return stretch;
    left -= length;
  }
  return span.stretches[span.stretches.length - 1];
}

/** Does the span run against its strip there? */
export function isBackwards(span: Span, along: Millimetre): boolean {
  const stretch = stretchAt(span, along);
  return stretch !== undefined && stretch.from > stretch.to;
}
