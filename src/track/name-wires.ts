/** Which rail hangs on which bus wire, consistent through the plan outside reversing sections. */
import type { PanelFile } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { type Body, railOfSpan } from './bodies.ts';
import type { BusWire, Rail, SpanRails } from './types.ts';

/**
 * In each piece of track that hangs together A feeds the right-hand rail of the strip laid first, seen from its first corner to its
 * last. Source: NEM 631, the right-hand rail in the direction of travel is the positive one.
 */
export function nameWires(
  panel: PanelFile,
  plan: Plan,
  bodies: readonly Body[],
  sectionOf: ReadonlyMap<string, string>,
): readonly SpanRails[] {
  const strips = new Map(panel.strips.map(({ id }, i) => [id, i]));
  const bodiesOf = new Map<string, { body: Body; flips: boolean }[]>();
  for (const body of bodies)
    for (const port of body.ports) {
      const at = { body, flips: railOfSpan(port, 'left') === 'right' };
      const known = bodiesOf.get(port.leg.span);
      if (known === undefined) bodiesOf.set(port.leg.span, [at]);
      else known.push(at);
    }
  /** By span: is its left rail on A? */
  const leftIsA = new Map<string, boolean>();
  const leading = plan.spans
    .flatMap(({ id, stretches }) =>
      stretches.map(({ strip, from, to }) => ({
        id,
        strip: strips.get(strip) ?? 0,
        at: Math.min(from, to),
        back: from > to,
      })),
    )
    .sort((a, b) => a.strip - b.strip || a.at - b.at);
  for (const { id, back } of leading) {
    if (leftIsA.has(id) || sectionOf.has(id)) continue;
    // Along the strip its right rail is on A: its left rail only where the span runs backwards.
    leftIsA.set(id, back);
    const queue = [id];
    const passed = new Set<Body>();
    for (let head = 0; head < queue.length; head++) {
      const span = queue[head] ?? '';
      for (const { body, flips } of bodiesOf.get(span) ?? []) {
        if (passed.has(body)) continue;
        passed.add(body);
        const stock = (leftIsA.get(span) ?? false) !== flips;
        for (const port of body.ports) {
          if (leftIsA.has(port.leg.span) || sectionOf.has(port.leg.span)) continue;
          leftIsA.set(port.leg.span, stock !== (railOfSpan(port, 'left') === 'right'));
          queue.push(port.leg.span);
        }
      }
    }
  }
  return plan.spans.map(({ id }): SpanRails => {
    const a = leftIsA.get(id);
    const section = sectionOf.get(id) ?? null;
    return a === undefined
      ? { span: id, left: null, right: null, section }
      : { span: id, left: a ? 'A' : 'B', right: a ? 'B' : 'A', section };
  });
}

/** The wires of a body's stock rails, seen forward: those of any of its ways that is no reversing section; null where all are. */
export function stockWire(body: Body, rails: ReadonlyMap<string, SpanRails>, hand: Rail): BusWire | null {
  for (const port of body.ports) {
    const wire = rails.get(port.leg.span)?.[railOfSpan(port, hand)] ?? null;
    if (wire !== null) return wire;
  }
  return null;
}
