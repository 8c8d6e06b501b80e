/**
 * Points, slips and crossings as rails: what each of their ways is joined to.
 * A body has a forward direction (from the toe to the heel; of a slip from one end to the other) and two stock rails, left and right of
 * it. The outer rails of its ways run into these; between two neighbouring legs the right rail of the left one crosses the left rail of
 * the right one, and there lies a frog. A diamond is two bodies without frogs, one a line: its four crossings lie inside it.
 */
import type { Lies } from '../panel/index.ts';
import type { Passage, Plan, PlanPoint, SpanEnd } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import type { Rail } from './types.ts';

/** A stock rail, or a frog by its number in the body. */
export type Attached = Rail | number;

/** A way out of a body. */
export interface BodyPort {
  readonly leg: SpanEnd;
  /** 'in': forward leads from it; 'out': forward leads into it. */
  readonly side: 'in' | 'out';
  /** What its left and right rails run into, seen forward. */
  readonly left: Attached;
  readonly right: Attached;
  /** What sets a way over it; empty where nothing does. */
  readonly asks: Lies;
}

/** A frog between two neighbouring legs, left and right seen forward. */
export interface BodyFrog {
  readonly between: readonly [left: SpanEnd, right: SpanEnd];
  readonly side: 'in' | 'out';
  /** It lies inside: no rail of a leg runs into it. */
  readonly inside: boolean;
  /** The point that it belongs to, and whose lie tells which of the two legs is used. */
  readonly of: string;
  readonly toldBy: string;
  /** The stock rail, seen forward, whose polarity it takes by `toldBy` normal and reverse. */
  readonly normal: Rail;
  readonly reverse: Rail;
  /** Lies to set besides those a way asks. */
  readonly care: readonly { readonly way: Lies; readonly set: Lies }[];
}

export interface Body {
  readonly id: string;
  readonly what: 'point' | 'slip' | 'three-way' | 'line';
  readonly feature: string;
  readonly at: Spot;
  readonly ports: readonly BodyPort[];
  readonly frogs: readonly BodyFrog[];
}

/** The rail of a span, seen from its end 0 to its end 1, that is a body's rail of this hand, seen forward. */
export function railOfSpan(port: BodyPort, hand: Rail): Rail {
  // Forward runs along the span where it leaves at end 0 or arrives at end 1.
  const along = port.side === 'out' ? port.leg.end === 0 : port.leg.end === 1;
  return along ? hand : other(hand);
}

export function other(rail: Rail): Rail {
  return rail === 'left' ? 'right' : 'left';
}

const same = (a: SpanEnd, b: SpanEnd): boolean => a.span === b.span && a.end === b.end;

/** In the order of points, then crossings. */
export function readBodies(plan: Plan): readonly Body[] {
  const bodies: Body[] = [];
  const done = new Set<string>();
  for (const point of plan.points) {
    if (done.has(point.id)) continue;
    if (point.of === 'point') bodies.push(pointBody(point));
    if (point.of === 'three-way') {
      const twin = plan.points.find(
        (each) => each.id !== point.id && each.of === 'three-way' && same(each.toe, point.toe),
      );
      if (twin === undefined) throw new RangeError(`three-way ${point.id} has no second point`);
      done.add(twin.id);
      bodies.push(threeWayBody(point, twin));
    }
  }
  const across = new Map<string, Passage[]>();
  for (const passage of plan.passages) {
    if (passage.crossing === null) continue;
    const known = across.get(passage.crossing);
    if (known === undefined) across.set(passage.crossing, [passage]);
    else known.push(passage);
  }
  for (const crossing of plan.crossings) {
    const passages = across.get(crossing.id) ?? [];
    if (crossing.kind === 'diamond') {
      passages.forEach(({ between: [from, to] }, i) => {
        bodies.push({
          id: `${crossing.id}/${i + 1}`,
          what: 'line',
          feature: crossing.id,
          at: crossing.at,
          ports: [
            { leg: from, side: 'in', left: 'left', right: 'right', asks: {} },
            { leg: to, side: 'out', left: 'left', right: 'right', asks: {} },
          ],
          frogs: [],
        });
      });
      continue;
    }
    const ids = [...new Set(passages.flatMap(({ asks }) => Object.keys(asks)))];
    const [one, two] = plan.points.filter(({ id }) => ids.includes(id));
    if (one === undefined || two === undefined) throw new RangeError(`slip ${crossing.id} has no two points`);
    bodies.push(slipBody(crossing.id, crossing.at, crossing.kind === 'single-slip', one, two));
  }
  return bodies;

  function pointBody(point: PlanPoint): Body {
    const reverseIsLeft = point.hand === 'left';
    const [left, right] = reverseIsLeft ? [point.reverse, point.normal] : [point.normal, point.reverse];
    const asks = (leg: SpanEnd): Lies => ({ [point.id]: same(leg, point.reverse) ? 'reverse' : 'normal' });
    return {
      id: point.id,
      what: 'point',
      feature: point.id,
      at: point.at,
      ports: [
        { leg: point.toe, side: 'in', left: 'left', right: 'right', asks: {} },
        { leg: left, side: 'out', left: 'left', right: 0, asks: asks(left) },
        { leg: right, side: 'out', left: 0, right: 'right', asks: asks(right) },
      ],
      frogs: [
        {
          between: [left, right],
          side: 'out',
          inside: false,
          of: point.id,
          toldBy: point.id,
          // With the left leg used its right rail runs through the frog, with the right leg its left rail.
          normal: reverseIsLeft ? 'left' : 'right',
          reverse: reverseIsLeft ? 'right' : 'left',
          care: [],
        },
      ],
    };
  }

  /**
   * Legs a, b, c from left to right. Three pairs of rails cross: a's right with c's left first, then a's right with b's left, and b's
   * right with c's left. Which of the two contacts tells each is worked out from the ways.
   */
  function threeWayBody(one: PlanPoint, two: PlanPoint): Body {
    const middle: Lies = { [one.id]: 'normal', [two.id]: 'normal' };
    const first: Lies = { [one.id]: 'reverse', [two.id]: 'normal' };
    const second: Lies = { [one.id]: 'normal', [two.id]: 'reverse' };
    const way = (leg: SpanEnd, asks: Lies) => ({ leg, asks });
    const n = way(one.normal, middle);
    const [f, s] = [way(one.reverse, first), way(two.reverse, second)];
    // The first point's reverse leg lies further left than the second's.
    const legs = one.hand === 'right' ? [n, f, s] : two.hand === 'left' ? [f, s, n] : [f, n, s];
    const [a, b, c] = legs;
    if (a === undefined || b === undefined || c === undefined) throw new RangeError(`three-way ${one.id} has no legs`);
    const told = (left: typeof a, right: typeof a, inside: boolean): BodyFrog => {
      // Where both points tell it, the one whose other frog wants the same rails: then one contact serves both.
      const telling = [one.id, two.id].filter((id) => left.asks[id] !== right.asks[id]);
      const by = (a === n ? telling[telling.length - 1] : telling[0]) ?? one.id;
      const leftIsNormal = left.asks[by] === 'normal';
      return {
        between: [left.leg, right.leg],
        side: 'out',
        inside,
        of: by,
        toldBy: by,
        normal: leftIsNormal ? 'right' : 'left',
        reverse: leftIsNormal ? 'left' : 'right',
        care: [],
      };
    };
    return {
      id: one.id,
      what: 'three-way',
      feature: one.id,
      at: one.at,
      ports: [
        { leg: one.toe, side: 'in', left: 'left', right: 'right', asks: {} },
        { leg: a.leg, side: 'out', left: 'left', right: 0, asks: a.asks },
        { leg: b.leg, side: 'out', left: 0, right: 1, asks: b.asks },
        { leg: c.leg, side: 'out', left: 1, right: 'right', asks: c.asks },
      ],
      frogs: [told(a, b, false), told(b, c, false), told(a, c, true)],
    };
  }

  /** Forward runs from the end of the first point's blades to the end of the second's. */
  function slipBody(id: string, at: Spot, single: boolean, one: PlanPoint, two: PlanPoint): Body {
    const far = [one.normal, one.reverse] as const;
    const near = [two.normal, two.reverse] as const;
    // Left and right of each end as its exit is seen from the middle: the reverse leg lies on the point's hand.
    const [farLeft, farRight] = one.hand === 'left' ? [far[1], far[0]] : far;
    const [nearLeft, nearRight] = two.hand === 'left' ? [near[1], near[0]] : near;
    const asks = (point: PlanPoint, leg: SpanEnd): Lies => ({
      [point.id]: same(leg, point.reverse) ? 'reverse' : 'normal',
    });
    const frog = (of: PlanPoint, toldBy: PlanPoint, side: 'in' | 'out'): BodyFrog => {
      // Seen from the middle towards its end, a left leg wants the right rail; forward, the end that lies behind is seen the other way.
      const seen = (leg: 'normal' | 'reverse'): Rail =>
        (leg === 'reverse') === (toldBy.hand === 'left') ? 'right' : 'left';
      const [left, right] = side === 'out' ? [farLeft, farRight] : [nearRight, nearLeft];
      return {
        between: [left, right],
        side,
        inside: false,
        of: of.id,
        toldBy: toldBy.id,
        normal: side === 'out' ? seen('normal') : other(seen('normal')),
        reverse: side === 'out' ? seen('reverse') : other(seen('reverse')),
        // Each straight way of a single slip asks its own end's blades alone; its other frog wants the other end reverse.
        care: single ? [{ way: { [of.id]: 'normal' }, set: { [toldBy.id]: 'reverse' } }] : [],
      };
    };
    return {
      id,
      what: 'slip',
      feature: id,
      at,
      ports: [
        { leg: nearRight, side: 'in', left: 'left', right: 0, asks: asks(two, nearRight) },
        { leg: nearLeft, side: 'in', left: 0, right: 'right', asks: asks(two, nearLeft) },
        { leg: farLeft, side: 'out', left: 'left', right: 1, asks: asks(one, farLeft) },
        { leg: farRight, side: 'out', left: 1, right: 'right', asks: asks(one, farRight) },
      ],
      frogs: [frog(one, two, 'in'), frog(two, one, 'out')],
    };
  }
}
