/**
 * Spans as pieces of strips, joined at butts, from one feature to the next.
 * Each strip is cut where features lie on it; every port of a feature leads into one piece; walking from port to port gives each span
 * once. A closed line without features is never walked.
 */
import type { Millimetre } from '../units/index.ts';
import type { LineEnd } from './find-ends.ts';
import type { Line } from './line.ts';
import type { Port } from './port.ts';
import type { RawFeature } from './read-sight.ts';

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
  readonly line: Line;
  readonly along: Millimetre;
  before: PortName | null;
  after: PortName | null;
  /** Of an end: the other end that it carries on into. */
  butt: LineEnd | null;
  /** Its place in the row of its line. */
  place: number;
}

/** The cuts of a line, its two ends first and last. */
interface Row {
  readonly first: Cut;
  readonly last: Cut;
  readonly inner: Cut[];
  cuts: readonly Cut[];
}

export function joinSpans(
  lines: readonly Line[],
  features: readonly RawFeature[],
  joints: readonly (readonly [LineEnd, LineEnd])[],
): readonly RawSpan[] {
  const rows = new Map<Line, Row>();
  for (const line of lines) rows.set(line, { first: cut(line, 0), last: cut(line, line.length), inner: [], cuts: [] });

  // By feature and port.
  const cutAt = features.map((feature, f) => {
    const inner: Cut[] = [];
    return feature.ports.map((port, p) => {
      const at = cutOf(feature, port, inner);
      if (port.way === 1) at.after = { feature: f, port: p };
      else at.before = { feature: f, port: p };
      return at;
    });
  });
  for (const [a, b] of joints) {
    endCut(a).butt = b;
    endCut(b).butt = a;
  }
  for (const row of rows.values()) {
    // Stable: cuts at one spot keep the order of the features.
    row.cuts = [row.first, ...row.inner.sort((a, b) => a.along - b.along), row.last];
    row.cuts.forEach((each, i) => {
      each.place = i;
    });
  }

  const done = features.map((feature) => feature.ports.map(() => false));
  const spans: RawSpan[] = [];
  features.forEach((feature, f) => {
    feature.ports.forEach((port, p) => {
      if (done[f]?.[p] !== false) return;
      const span = walk({ feature: f, port: p }, port);
      for (const end of span.ends) {
        const ports = done[end.feature];
        if (ports !== undefined) ports[end.port] = true;
      }
      spans.push(span);
    });
  });
  return spans;

  function walk(start: PortName, port: Port): RawSpan {
    const pieces: Piece[] = [];
    let at = cutAt[start.feature]?.[start.port];
    if (at === undefined) throw new RangeError(`port ${start.port} of feature ${start.feature} leads nowhere`);
    let way = port.way;
    for (;;) {
      const { line }: Cut = at;
      const next: Cut | undefined = rowOf(line).cuts[at.place + way];
      if (next === undefined) throw new RangeError(`strip ${line.id} has no cut ${at.place + way}`);
      pieces.push({ line, from: at.along, to: next.along });
      const arrived = way === 1 ? next.before : next.after;
      if (arrived !== null) return { ends: [start, arrived], pieces };
      if (next.butt === null) throw new RangeError(`strip ${line.id} stops at ${next.along} without a feature`);
      at = endCut(next.butt);
      way = next.butt.way;
    }
  }

  function cutOf(feature: RawFeature, port: Port, inner: Cut[]): Cut {
    const row = rowOf(port.line);
    if (port.along === 0 && port.way === 1 && isEndPort(feature, port)) return row.first;
    if (port.along === port.line.length && port.way === -1 && isEndPort(feature, port)) return row.last;
    // A line that crosses itself is cut twice by one feature.
    const known = inner.findLast(({ line }) => line === port.line);
    if (known !== undefined && known.along === port.along) return known;
    const made = cut(port.line, port.along);
    inner.push(made);
    row.inner.push(made);
    return made;
  }

  function endCut(end: LineEnd): Cut {
    const row = rowOf(end.line);
    return end.way === 1 ? row.first : row.last;
  }

  function rowOf(line: Line): Row {
    const row = rows.get(line);
    if (row === undefined) throw new RangeError(`strip ${line.id} is none of the ${lines.length} lines`);
    return row;
  }
}

function cut(line: Line, along: Millimetre): Cut {
  return { line, along, before: null, after: null, butt: null, place: 0 };
}

/** A feature holds a strip's end, not its interior, when no port of it leaves that spot the other way. */
function isEndPort(feature: RawFeature, port: Port): boolean {
  return !feature.ports.some(
    (other) => other !== port && other.line === port.line && other.along === port.along && other.way !== port.way,
  );
}
