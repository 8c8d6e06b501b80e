/**
 * Plans made of points alone: each has three ports, toe, normal leg and reverse leg; two ports are joined by a span, or one leads to a
 * free end. A formation is which ports are joined. No strips: only what routes need.
 */
import type { Passage, Place, Plan, PlanPoint, Span, SpanEnd } from '../../src/plan/index.ts';
import type { Random } from './random.ts';

/** By port, 3 x point + 0 toe, 1 normal, 2 reverse: the port that it is joined to, or itself where it leads to a free end. */
export type Formation = readonly number[];

/** Every formation of so many points that hangs together, each once: points may be numbered as one likes. */
export function everyFormation(points: number): readonly Formation[] {
  const found: Formation[] = [];
  const orders = permutations(points);
  const partner: number[] = [];
  const go = (port: number): void => {
    if (port === 3 * points) {
      if (isConnected(partner) && orders.every((order) => compare(partner, renumbered(partner, order)) <= 0))
        found.push([...partner]);
      return;
    }
    if (partner[port] !== undefined) {
      go(port + 1);
      return;
    }
    for (let other = port; other < 3 * points; other++) {
      if (partner[other] !== undefined) continue;
      partner[port] = other;
      partner[other] = port;
      go(port + 1);
      delete partner[port];
      delete partner[other];
    }
  };
  go(0);
  return found;
}

/** One formation that hangs together, at random; few of its ports are free ends. */
export function someFormation(points: number, random: Random): Formation {
  for (;;) {
    const left = Array.from({ length: 3 * points }, (_, i) => i);
    const partner: number[] = [];
    const take = () => left.splice(random.whole(0, left.length - 1), 1)[0] ?? 0;
    while (left.length > 0) {
      const a = take();
      const b = left.length === 0 || random.chance(25) ? a : take();
      partner[a] = b;
      partner[b] = a;
    }
    if (isConnected(partner)) return partner;
  }
}

function permutations(n: number): readonly (readonly number[])[] {
  if (n === 0) return [[]];
  return permutations(n - 1).flatMap((rest) =>
    Array.from({ length: n }, (_, at) => [...rest.slice(0, at), n - 1, ...rest.slice(at)]),
  );
}

function renumbered(partner: Formation, order: readonly number[]): Formation {
  const to = (port: number) => 3 * (order[Math.floor(port / 3)] ?? 0) + (port % 3);
  const next: number[] = [];
  partner.forEach((other, port) => {
    next[to(port)] = to(other);
  });
  return next;
}

function compare(a: Formation, b: Formation): number {
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

function isConnected(partner: Formation): boolean {
  const seen = new Set([0]);
  for (const point of seen) {
    for (let k = 0; k < 3; k++) seen.add(Math.floor((partner[3 * point + k] ?? 0) / 3));
  }
  return seen.size === partner.length / 3;
}

/** `P1.toe-P2.normal P1.reverse-end ...` */
export function printFormation(partner: Formation): string {
  const name = (port: number) => `P${Math.floor(port / 3) + 1}.${['toe', 'normal', 'reverse'][port % 3]}`;
  return partner
    .flatMap((other, port) => (other < port ? [] : [`${name(port)}-${other === port ? 'end' : name(other)}`]))
    .join(' ');
}

/** The plan of a formation; its places are its free ends, E1 and on by port. */
export function planOfFormation(partner: Formation): Plan {
  const spans: Span[] = [];
  const places: Place[] = [];
  const ends: SpanEnd[] = [];
  const pointId = (port: number) => `P${Math.floor(port / 3) + 1}`;
  partner.forEach((other, port) => {
    if (other < port) return;
    const id = `S${spans.length + 1}`;
    const isFree = other === port;
    const end = `E${places.length + 1}`;
    spans.push({
      id,
      ends: [pointId(port), isFree ? end : pointId(other)],
      path: [
        [0, 0],
        [1 + port, 0],
      ],
      length: 1 + port,
      layoutLength: null,
      stretches: [],
    });
    ends[port] = { span: id, end: 0 };
    if (isFree)
      places.push({
        id: end,
        name: null,
        at: [0, 0],
        kind: 'end',
        span: id,
        along: 1 + port,
        length: null,
        record: null,
      });
    else ends[other] = { span: id, end: 1 };
  });
  const endAt = (port: number): SpanEnd => ends[port] ?? { span: '', end: 0 };
  const points = Array.from(
    { length: partner.length / 3 },
    (_, i): PlanPoint => ({
      id: `P${i + 1}`,
      name: null,
      at: [0, 0],
      toe: endAt(3 * i),
      normal: endAt(3 * i + 1),
      reverse: endAt(3 * i + 2),
      normalStrip: '-',
      reverseStrip: '-',
      toward: { toe: [-1, 0], normal: [1, 0], reverse: [1, 0] },
      angle: 32,
      hand: 'left',
      record: null,
      of: 'point',
      trap: false,
    }),
  );
  const passages = points.flatMap(({ id, toe, normal, reverse }): Passage[] => [
    { feature: id, between: [toe, normal], asks: { [id]: 'normal' }, crossing: null },
    { feature: id, between: [toe, reverse], asks: { [id]: 'reverse' }, crossing: null },
  ]);
  return { spans, points, crossings: [], bridges: [], butts: [], places, passages, levers: [], problems: [] };
}
