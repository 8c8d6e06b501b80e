/** Where droppers reach the rails: those of the file, else the fewest pairs that leave no piece of rail to a frog or a blade. */
import { alongSpan, type Plan } from '../plan/index.ts';
import type { FedSpot, RailNetwork, Segment } from './rail-network.ts';
import type { FoundSpots } from './read-spots.ts';
import type { SpanRails, TrackDropper } from './types.ts';

/** In a network without feeds: pieces that hang on nothing, longest stretch first; both rails of a stretch at once where both want it. */
export function planFeeds(
  plan: Plan,
  network: RailNetwork,
): readonly { readonly span: string; readonly along: number }[] {
  const stretches: Segment[] = plan.spans
    .flatMap(({ id }) => network.segments.get(id) ?? [])
    .filter(({ left, right }) => !network.frogPieces.has(left) && !network.frogPieces.has(right));
  const order = stretches
    .map((segment, i) => ({ segment, i, length: Math.round((segment.to - segment.from) * STEPS) }))
    .sort((a, b) => b.length - a.length || a.i - b.i);
  const fed = new Set<number>();
  const chosen = new Set<number>();
  for (const wants of [2, 1])
    for (const { segment, i } of order) {
      const unfed = [segment.left, segment.right].filter((piece) => !fed.has(piece)).length;
      if (unfed < wants) continue;
      fed.add(segment.left);
      fed.add(segment.right);
      chosen.add(i);
    }
  return stretches.filter((_, i) => chosen.has(i)).map(({ span, from, to }) => ({ span, along: (from + to) / 2 }));
}

/** Lengths on the face are compared to a hundredth of a millimetre, as numbering is. */
const STEPS = 100;

/** What a pair of droppers puts on the two rails there. */
export function fedSpot(rails: ReadonlyMap<string, SpanRails>, span: string, along: number): FedSpot {
  const of = rails.get(span);
  return {
    span,
    along,
    left: of?.left ?? `${of?.section ?? span} left`,
    right: of?.right ?? `${of?.section ?? span} right`,
  };
}

export function listDroppers(
  plan: Plan,
  rails: ReadonlyMap<string, SpanRails>,
  spots: FoundSpots,
  planned: readonly { readonly span: string; readonly along: number }[] | null,
): readonly TrackDropper[] {
  const spans = new Map(plan.spans.map((span) => [span.id, span]));
  const list = planned ?? spots.feeds;
  return list.flatMap(({ span: id, along }, i): readonly TrackDropper[] => {
    const span = spans.get(id);
    if (span === undefined) return [];
    const of = rails.get(id);
    return [
      {
        no: i + 1,
        span: id,
        along,
        at: alongSpan(span, along).at,
        left: of?.left ?? null,
        right: of?.right ?? null,
        section: of?.section ?? null,
        from: planned === null ? 'file' : 'tool',
      },
    ];
  });
}
