/**
 * Spans as pieces of strips, joined at butts, from one feature to the next.
 * Each strip is cut where features lie on it; every port of a feature leads into one piece; walking from port to port gives each span
 * once. A closed line without features is never walked.
 */
import type { Millimetre } from '../units/index.ts';
import type { LineEnd } from './find-ends.ts';
import type { Line } from './line.ts';
import type { Port } from './port.ts';
import type { RawFeature } from './read-junctions.ts';

/** A port by its feature's place in the list and its own place there. */
export interface PortName {
  readonly feature: number;
  readonly port: number;
}

/** A piece of one line, `from` to `to` in the order of the span. */
export interface Piece {
  readonly line: Line;
  readonly from: Millimetre;
  readonly to: Millimetre;
}

export interface RawSpan {
  readonly ends: readonly [PortName, PortName];
  readonly pieces: readonly Piece[];
}

/** A spot where a line is cut or ends. `before` and `after`: the ports that lead away against and with its corners. */
interface Cut {
  readonly along: Millimetre;
  before: PortName | null;
  after: PortName | null;
  /** Of an end: the other end that it carries on into. */
  butt: LineEnd | null;
}

export function joinSpans(
  lines: readonly Line[],
  features: readonly RawFeature[],
  joints: readonly (readonly [LineEnd, LineEnd])[],
): readonly RawSpan[] {
  const ends = lines.map((line): readonly [Cut, Cut] => [cut(0), cut(line.length)]);
  const cuts = lines.map((): Cut[] => []);
  const places = new Map<string, { line: Line; cut: Cut }>();

  features.forEach((feature, f) => {
    const inner = new Map<Line, Cut>();
    feature.ports.forEach((port, p) => {
      const at = cutOf(feature, port, inner);
      if (port.way === 1) at.after = { feature: f, port: p };
      else at.before = { feature: f, port: p };
      places.set(`${f}.${p}`, { line: port.line, cut: at });
    });
  });
  for (const [a, b] of joints) {
    endCut(a).butt = b;
    endCut(b).butt = a;
  }
  // Stable: cuts at one spot keep the order of the features.
  const rows = lines.map((line) => {
    const [first, last] = ends[line.index] ?? [cut(0), cut(line.length)];
    return [first, ...(cuts[line.index] ?? []).sort((a, b) => a.along - b.along), last];
  });
  const rank = rows.map((row) => new Map(row.map((each, i) => [each, i])));

  const done = new Set<string>();
  const spans: RawSpan[] = [];
  features.forEach((feature, f) => {
    feature.ports.forEach((port, p) => {
      if (done.has(`${f}.${p}`)) return;
      const span = walk({ feature: f, port: p }, port);
      done.add(`${f}.${p}`);
      done.add(`${span.ends[1].feature}.${span.ends[1].port}`);
      spans.push(span);
    });
  });
  return spans;

  function walk(start: PortName, port: Port): RawSpan {
    const pieces: Piece[] = [];
    const place = places.get(`${start.feature}.${start.port}`);
    if (place === undefined) throw new RangeError(`port ${start.port} of feature ${start.feature} leads nowhere`);
    let { line, cut: at } = place;
    let way = port.way;
    for (;;) {
      const i = (rank[line.index]?.get(at) ?? 0) + way;
      const next = rows[line.index]?.[i];
      if (next === undefined) throw new RangeError(`strip ${line.id} has no cut ${i}`);
      pieces.push({ line, from: at.along, to: next.along });
      const arrived = way === 1 ? next.before : next.after;
      if (arrived !== null) return { ends: [start, arrived], pieces };
      if (next.butt === null) throw new RangeError(`strip ${line.id} stops at ${next.along} without a feature`);
      const on: LineEnd = next.butt;
      line = on.line;
      at = endCut(on);
      way = on.way;
    }
  }

  function cutOf(feature: RawFeature, port: Port, inner: Map<Line, Cut>): Cut {
    const [first, last] = ends[port.line.index] ?? [];
    if (first !== undefined && port.along === 0 && port.way === 1 && isEndPort(feature, port)) return first;
    if (last !== undefined && port.along === port.line.length && port.way === -1 && isEndPort(feature, port))
      return last;
    // A line that crosses itself is cut twice by one feature.
    const known = inner.get(port.line);
    if (known !== undefined && known.along === port.along) return known;
    const made = cut(port.along);
    inner.set(port.line, made);
    cuts[port.line.index]?.push(made);
    return made;
  }

  function endCut(end: LineEnd): Cut {
    const pair = ends[end.line.index];
    if (pair === undefined) throw new RangeError(`no strip ${end.line.index} of ${lines.length}`);
    return pair[end.way === 1 ? 0 : 1];
  }
}

function cut(along: Millimetre): Cut {
  return { along, before: null, after: null, butt: null };
}

/** A feature holds a strip's end, not its interior, when no port of it leaves that spot the other way. */
function isEndPort(feature: RawFeature, port: Port): boolean {
  return !feature.ports.some(
    (other) => other !== port && other.line === port.line && other.along === port.along && other.way !== port.way,
  );
}
