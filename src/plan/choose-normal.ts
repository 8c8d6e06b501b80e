/** Which heel leg of a point is the normal one, and the order of the others from left to right. */
import type { PointRecord } from '../panel/index.ts';
import { against, angleBetween, clockwise } from './line.ts';
import type { Port } from './port.ts';
import type { RawPoint } from './read-sight.ts';
import { EQUALLY_STRAIGHT } from './tolerances.ts';

export interface Legs {
  readonly toe: number;
  /** Places of ports in the point's list. */
  readonly normal: number;
  /** The other legs, the one further left seen from the toe first. */
  readonly others: readonly number[];
  /** The file asks for a normal leg that there is not, or that is two legs. */
  readonly unknown: boolean;
}

/** How a leg's span goes on: to a free end, and how far. */
export interface LegRun {
  readonly free: boolean;
  readonly length: number;
}

/**
 * Normal is what the record says (a strip, left or right); of a trap point the trap, which is the leg that runs out to a free end,
 * the shorter of two, or where neither does the less straight; else the straighter leg, the left one of a wye.
 */
export function chooseNormal(
  point: RawPoint,
  said: string | undefined,
  trap: boolean,
  runOf: (port: number) => LegRun,
): Legs {
  const [toe] = point.ports;
  if (toe === undefined) throw new RangeError('a point without ports');
  const ahead = against(toe.toward);
  const legs = point.ports
    .map((port, i) => ({ i, port, right: clockwise(ahead, port.toward), run: i === 0 ? null : runOf(i) }))
    .slice(1)
    .sort((a, b) => a.right - b.right || a.i - b.i);
  const bendOf = (port: Port) => angleBetween(ahead, port.toward);
  const least = Math.min(...legs.map(({ port }) => bendOf(port)));
  const straightest = legs.find(({ port }) => bendOf(port) <= least + EQUALLY_STRAIGHT);

  const named = said === undefined ? [] : namedLegs(said);
  const asked = named.length === 1 ? named[0] : undefined;
  const normal = asked ?? (trap ? trapLeg() : undefined) ?? straightest;
  if (normal === undefined) throw new RangeError(`a point with ${legs.length} legs`);
  return {
    toe: 0,
    normal: normal.i,
    others: legs.filter((leg) => leg !== normal).map(({ i }) => i),
    unknown: said !== undefined && asked === undefined,
  };

  function namedLegs(normalLeg: string) {
    if (normalLeg === 'left') return legs.slice(0, 1);
    if (normalLeg === 'right') return legs.slice(-1);
    return legs.filter(({ port }) => port.line.id === normalLeg);
  }

  function trapLeg() {
    const out = legs.filter(({ run }) => run?.free === true);
    if (out.length > 0) return out.reduce((a, b) => ((b.run?.length ?? 0) < (a.run?.length ?? 0) ? b : a));
    return legs.find((leg) => leg !== straightest);
  }
}

/** What a point's record says of its normal leg. */
export function saidOf(record: PointRecord | null): { readonly said: string | undefined; readonly trap: boolean } {
  return { said: record?.normal, trap: record?.trap === true };
}
