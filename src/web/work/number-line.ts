/** The line of numbers of levers: what is lost with how many, and how many there are now. */

export interface LineAsked {
  /** Levers now, and one for each point. */
  readonly now: number;
  readonly most: number;
  /** The fewest that lose nothing, and that lose no route. */
  readonly least: number;
  readonly leastForRoutes: number;
}

export interface Zone {
  readonly what: 'routes' | 'pairs' | 'nothing';
  /** First and last number in it. */
  readonly from: number;
  readonly to: number;
}

export interface NumberLine {
  readonly first: number;
  readonly last: number;
  /** From the left, those that hold a number. */
  readonly zones: readonly Zone[];
  /** Numbers that are written under it. */
  readonly ticks: readonly number[];
}

/** Numbers that are shown of the zone in which routes go, which is of least use. */
const ROUTES_SHOWN = 4;
/** So many numbers can be read side by side. */
const MOST_TICKS = 16;

/** The line for so many levers. Its ends take in what is now, wherever that is. */
export function numberLine({ now, most, least, leastForRoutes }: LineAsked): NumberLine {
  const last = Math.max(most, now, least);
  const first = Math.max(1, Math.min(now, leastForRoutes - ROUTES_SHOWN));
  const all: readonly Zone[] = [
    { what: 'routes', from: first, to: leastForRoutes - 1 },
    { what: 'pairs', from: Math.max(first, leastForRoutes), to: least - 1 },
    { what: 'nothing', from: Math.max(first, least), to: last },
  ];
  const step = Math.ceil((last - first + 1) / MOST_TICKS);
  const ticks: number[] = [];
  for (let n = first; n <= last; n++) {
    // Now is always written; what stands too near to it gives way.
    if (n === now || ((n - first) % step === 0 && Math.abs(n - now) >= step)) ticks.push(n);
  }
  return { first, last, zones: all.filter(({ from, to }) => to >= from), ticks };
}
