/** Heel legs: in which lies a train finds power on them; and where rails come to two wires at once. */
import type { Lie, Lies } from '../panel/index.ts';
import { byId, type Plan } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import type { Body } from './bodies.ts';
import { both, fewest, implies, liesText, without } from './lies.ts';
import type { FedWay, RailNetwork, Segment } from './rail-network.ts';
import { MOST_SHORTS } from './tolerances.ts';
import type { LegFeed, LegState, TrackShort } from './types.ts';

/** In the order of points, normal leg first. */
export function listLegs(bodies: readonly Body[], network: RailNetwork): readonly LegFeed[] {
  const legs = bodies.flatMap((body) =>
    body.ports.flatMap((port): readonly LegFeed[] => {
      const points = Object.keys(port.asks).sort(byId);
      const point = points.find((id) => port.asks[id] === 'reverse') ?? points[0];
      const stretch = longest(network.segments.get(port.leg.span) ?? []);
      if (point === undefined || stretch === undefined) return [];
      const [left, right] = [network.waysOf(stretch.left), network.waysOf(stretch.right)];
      const complete = left.complete && right.complete;
      const alive = fewest(oppositeWires(left.ways, right.ways));
      const shorts = fewest([...conflicts(left.ways), ...conflicts(right.ways)]);
      const state = (when: Lies): LegState => (complete ? stateOf(when, alive, shorts) : 'depends');
      return [
        {
          point,
          lie: port.asks[point] ?? 'normal',
          asks: port.asks,
          span: port.leg.span,
          end: port.leg.end,
          alive,
          shorts,
          whenSet: state(port.asks),
          whenNormal: state({ [point]: 'normal' }),
          whenReverse: state({ [point]: 'reverse' }),
          complete,
        },
      ];
    }),
  );
  const rank = (lie: Lie) => (lie === 'normal' ? 0 : 1);
  return legs.sort((a, b) => byId(a.point, b.point) || rank(a.lie) - rank(b.lie) || byId(a.span, b.span));
}

function longest(segments: readonly Segment[]): Segment | undefined {
  return [...segments].sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from)[0];
}

/** A wire's partner: the other bus wire, or the other rail of the same reversing section. */
function arePair(a: string, b: string): boolean {
  if (a === b) return false;
  const supply = (wire: string) => (wire.includes(' ') ? wire.slice(0, wire.lastIndexOf(' ')) : '');
  return supply(a) === supply(b);
}

function oppositeWires(left: readonly FedWay[], right: readonly FedWay[]): readonly Lies[] {
  return left.flatMap((a) =>
    right.flatMap((b) => {
      const when = arePair(a.wire, b.wire) ? both(a.when, b.when) : null;
      return when === null ? [] : [when];
    }),
  );
}

function conflicts(ways: readonly FedWay[]): readonly Lies[] {
  return ways.flatMap((a, i) =>
    ways.slice(i + 1).flatMap((b) => {
      const when = a.wire === b.wire ? null : both(a.when, b.when);
      return when === null ? [] : [when];
    }),
  );
}

function stateOf(when: Lies, alive: readonly Lies[], shorts: readonly Lies[]): LegState {
  const left = (list: readonly Lies[]) =>
    fewest(
      list
        .filter((lies) => both(lies, when) !== null)
        .map((lies) => Object.keys(when).reduce<Lies>((less, point) => without(less, point), lies)),
    );
  const [lit, bad] = [left(alive), left(shorts)];
  const always = (list: readonly Lies[]) => list.some((lies) => Object.keys(lies).length === 0);
  if (always(bad)) return 'short';
  if (bad.length > 0) return 'depends';
  if (always(lit)) return 'alive';
  return lit.length === 0 ? 'dead' : 'depends';
}

/** Each short once, by the fewest lies that make it; those that always stand first, then by their lies. */
export function listShorts(plan: Plan, network: RailNetwork, atFrog: ReadonlyMap<string, Spot>): readonly TrackShort[] {
  const spansOf = new Map<number, Set<string>>();
  for (const { id } of plan.spans)
    for (const { left, right } of network.segments.get(id) ?? [])
      for (const piece of [left, right]) spansOf.set(piece, (spansOf.get(piece) ?? new Set()).add(id));
  const found = new Map<string, TrackShort>();
  const tell = (when: Lies, frogs: readonly string[], pieces: readonly number[]) => {
    const by = [...frogs].sort(byId);
    const spans = [...new Set(pieces.flatMap((piece) => [...(spansOf.get(piece) ?? [])]))].sort(byId);
    const key = `${liesText(when)} | ${by.join(' ')}`;
    if (found.has(key) || found.size >= MOST_SHORTS) return;
    const at = atFrog.get(by[0] ?? '') ?? plan.spans.find(({ id }) => id === spans[0])?.path[0] ?? [0, 0];
    found.set(key, { when, frogs: by, spans, at });
  };
  network.wires.forEach((wires, piece) => {
    if (wires.length > 1) tell({}, network.frogPieces.get(piece) ?? [], [piece]);
    if (wires.length > 0) return;
    const { ways } = network.waysOf(piece);
    for (let i = 0; i < ways.length; i++)
      for (let j = i + 1; j < ways.length; j++) {
        const [a, b] = [ways[i], ways[j]];
        const when = a === undefined || b === undefined || a.wire === b.wire ? null : both(a.when, b.when);
        if (when !== null) tell(when, [...new Set([...(a?.frogs ?? []), ...(b?.frogs ?? [])])], [piece]);
      }
  });
  for (const { a, b, when, frog } of network.switched) {
    const wires = new Set([...(network.wires[a] ?? []), ...(network.wires[b] ?? [])]);
    if ((network.wires[a]?.length ?? 0) === 1 && (network.wires[b]?.length ?? 0) === 1 && wires.size > 1)
      tell(when, [frog], [a, b]);
  }
  const all = [...found.values()];
  return all
    .filter(
      (short) =>
        !all.some(
          (less) =>
            less !== short &&
            liesText(less.when) !== liesText(short.when) &&
            implies(short.when, less.when) &&
            less.frogs.every((frog) => short.frogs.includes(frog)),
        ),
    )
    .sort(
      (a, b) =>
        Object.keys(a.when).length - Object.keys(b.when).length ||
        byId(liesText(a.when), liesText(b.when)) ||
        byId(a.frogs.join(' '), b.frogs.join(' ')),
    );
}
