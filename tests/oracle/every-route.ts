/**
 * Routes by brute force, for small plans: every walk from every place, one passage at a time, with sets and strings instead of flat
 * arrays, nothing pruned but what a route may not do. Shares no code with the list of routes.
 */
import type { Lie } from '../../src/panel/index.ts';
import type { Plan } from '../../src/plan/index.ts';

/** `from to P1=normal P2=reverse | spans | through | length` of each route, sorted; length to 0.1 mm, shifted off the halves. */
export function everyRoute(plan: Plan): readonly string[] {
  const order = new Map(plan.places.map((place, i) => [place.id, i]));
  const lengthOf = (id: string) => plan.spans.find((span) => span.id === id)?.length ?? Number.NaN;
  const found: string[] = [];

  const go = (
    from: string,
    span: string,
    toward: 0 | 1,
    /** How far from the span's end 0 one stands now. */
    at: number,
    passed: readonly string[],
    lies: ReadonlyMap<string, Lie>,
    through: readonly string[],
    length: number,
    /** Entered from a feature: a road on its very end is passed. */
    entered: boolean,
  ): void => {
    const far = toward === 1 ? lengthOf(span) : 0;
    const ahead = plan.places
      .filter((place) => place.span === span && place.id !== from)
      .filter((place) => {
        const beyond = toward === 1 ? place.along - at : at - place.along;
        return beyond > 0 || place.along === far || (entered && beyond === 0);
      })
      .filter((place) => place.kind === 'road' || place.along === far)
      .filter((place) => place.kind === 'road' || plan.spans.find((s) => s.id === span)?.ends[toward] === place.id)
      .sort((a, b) => (toward === 1 ? a.along - b.along : b.along - a.along));
    const met: string[] = [];
    for (const place of ahead) {
      if ((order.get(place.id) ?? -1) > (order.get(from) ?? -1)) {
        const asked = [...lies].map(([id, lie]) => `${id}=${lie}`).sort();
        const face = length + Math.abs(place.along - at);
        found.push(
          `${from} ${place.id} ${asked.join(' ')} | ${passed.join(' ')} | ${[...through, ...met].join(' ')} | ${(face + 0.0213).toFixed(1)}`,
        );
      }
      met.push(place.id);
    }
    for (const passage of plan.passages) {
      for (const [here, there] of [
        [0, 1],
        [1, 0],
      ] as const) {
        const [a, b] = [passage.between[here], passage.between[there]];
        if (a.span !== span || a.end !== toward || passed.includes(b.span)) continue;
        const asks = Object.entries(passage.asks);
        if (asks.some(([id, lie]) => lies.has(id) && lies.get(id) !== lie)) continue;
        go(
          from,
          b.span,
          b.end === 0 ? 1 : 0,
          b.end === 0 ? 0 : lengthOf(b.span),
          [...passed, b.span],
          new Map([...lies, ...asks]),
          [...through, ...met],
          length + Math.abs(far - at),
          true,
        );
      }
    }
  };

  for (const place of plan.places) {
    const ends = plan.spans.find((span) => span.id === place.span)?.ends;
    for (const toward of [0, 1] as const) {
      // From a free end there is one way only.
      if (
        place.kind === 'end' &&
        ends?.[toward] === place.id &&
        place.along !== (toward === 1 ? 0 : lengthOf(place.span))
      )
        continue;
      go(place.id, place.span, toward, place.along, [place.span], new Map(), [], 0, false);
    }
  }
  return found.sort();
}
