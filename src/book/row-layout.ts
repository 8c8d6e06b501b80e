/**
 * Circuits laid out by rule: each part lies in a row and leads from left to right, each net is an upright line where more
 * than two ends meet, and what comes from a supply is a mark. Levels count what a net is away from the marks at the left
 * (layers by longest path, common practice, no source). Nets that lie apart share a line's place.
 */
import { type CircuitParts, endsOf, type Part } from './circuit-parts.ts';

/** Where an end of a part is: at a mark, on a net, or nowhere (an open throw). */
export type End =
  | { readonly at: 'mark'; readonly name: string; readonly terminal: string }
  | { readonly at: 'net'; readonly net: string; readonly terminal: string };

export interface LaidPart {
  readonly part: Part;
  /** A part of two ends: its left and right; a contact: its common alone, and its throws normal and reverse; a board: its tags. */
  readonly left: readonly (End | null)[];
  readonly right: readonly (End | null)[];
  /** Row of each end at the left and at the right: counted from 0, halves for the common of a contact. */
  readonly leftRows: readonly number[];
  readonly rightRows: readonly number[];
  /** Its place from the left. */
  readonly slot: number;
}

export interface LaidNet {
  readonly net: string;
  /** It stands before the parts of this slot. */
  readonly level: number;
  /** Which of the upright lines of its level. */
  readonly line: number;
  readonly top: number;
  readonly bottom: number;
}

/** Parts that hang together by nets, laid out. */
export interface Laid {
  readonly parts: readonly LaidPart[];
  readonly nets: readonly LaidNet[];
  readonly rows: number;
  readonly slots: number;
}

interface Oriented {
  readonly part: Part;
  readonly left: (End | null)[];
  readonly right: (End | null)[];
}

const netsIn = (ends: readonly (End | null)[]): readonly string[] =>
  ends.flatMap((end) => (end !== null && end.at === 'net' ? [end.net] : []));

/** Parts grouped by what hangs together through nets that are no marks, in the order of the first part of each. */
export function splitParts(circuit: CircuitParts, marks: ReadonlyMap<string, string>): readonly (readonly Part[])[] {
  const group = new Map<string, number>();
  const groups: Part[][] = [];
  for (const part of circuit.parts) {
    const nets = endsOf(part)
      .map((end) => circuit.nets.of(end))
      .filter((net) => !marks.has(net));
    const found = [...new Set(nets.flatMap((net) => group.get(net) ?? []))].sort((a, b) => a - b);
    const [into = groups.length] = found;
    const list = groups[into] ?? [];
    groups[into] = list;
    for (const other of found.slice(1)) {
      list.push(...(groups[other] ?? []));
      groups[other] = [];
      for (const [net, of] of group) if (of === other) group.set(net, into);
    }
    list.push(part);
    for (const net of nets) group.set(net, into);
  }
  const order = new Map(circuit.parts.map((part, i) => [part, i]));
  return groups
    .filter((each) => each.length > 0)
    .map((each) => [...each].sort((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0)));
}

/** Lay out parts that hang together; null where the rule does not cover them. `marks` in the order from which it is read. */
export function layRows(
  parts: readonly Part[],
  circuit: CircuitParts,
  marks: ReadonlyMap<string, string>,
): Laid | null {
  const { nets } = circuit;
  const endOf = (terminal: string): End => {
    const net = nets.of(terminal);
    const name = marks.get(net);
    return name === undefined ? { at: 'net', net, terminal } : { at: 'mark', name, terminal };
  };

  // How far each net is from the marks at the left, and from which of them it was first reached.
  const distance = new Map<string, number>();
  const seed = new Map<string, string>();
  const spread = (mark: string): void => {
    const queue = [mark];
    for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
      const from = at;
      const reach = (net: string): void => {
        if (marks.has(net) || distance.has(net)) return;
        distance.set(net, (distance.get(from) ?? 0) + 1);
        seed.set(net, mark);
        queue.push(net);
      };
      for (const part of parts) {
        if (part.shape === 'board') continue;
        if (part.shape === 'pair') {
          const [a, b] = [nets.of(part.a), nets.of(part.b)];
          if (a === from) reach(b);
          if (b === from) reach(a);
          continue;
        }
        const throws = [part.normal, part.reverse].flatMap((end) => (end === null ? [] : [nets.of(end)]));
        const common = nets.of(part.common);
        if (common === from) for (const net of throws) reach(net);
        else if (throws.includes(from)) reach(common);
      }
    }
  };
  for (const mark of marks.keys()) spread(mark);

  const markOrder = [...marks.keys()];
  const netOrder = new Map<string, number>();
  for (const part of parts)
    for (const end of endsOf(part)) {
      const net = nets.of(end);
      if (!netOrder.has(net)) netOrder.set(net, netOrder.size);
    }
  /** Is net `a` further left than `b`? A mark is, where the other was first reached from it. */
  const before = (a: string, b: string): boolean => {
    if (marks.has(a)) return marks.has(b) ? markOrder.indexOf(a) <= markOrder.indexOf(b) : seed.get(b) === a;
    if (marks.has(b)) return seed.get(a) !== b;
    const [x, y] = [distance.get(a) ?? 0, distance.get(b) ?? 0];
    return x !== y ? x < y : (netOrder.get(a) ?? 0) < (netOrder.get(b) ?? 0);
  };

  const oriented: Oriented[] = parts.map((part) => {
    if (part.shape === 'board') return { part, left: part.tags.map((tag) => endOf(tag.terminal)), right: [] };
    if (part.shape === 'pair') {
      const [a, b] = [endOf(part.a), endOf(part.b)];
      return before(nets.of(part.a), nets.of(part.b))
        ? { part, left: [a], right: [b] }
        : { part, left: [b], right: [a] };
    }
    const throws = [part.normal, part.reverse];
    const ends = throws.map((end) => (end === null ? null : endOf(end)));
    const common = endOf(part.common);
    const commonFirst = throws.every((end) => end === null || before(nets.of(part.common), nets.of(end)));
    return commonFirst ? { part, left: [common], right: ends } : { part, left: ends, right: [common] };
  });

  // Levels by the longest way; a net that leads back to itself is not covered.
  const drivers = new Map<string, Oriented[]>();
  const children = new Map<string, Oriented[]>();
  const push = (map: Map<string, Oriented[]>, net: string, one: Oriented): void => {
    const list = map.get(net);
    if (list === undefined) map.set(net, [one]);
    else if (!list.includes(one)) list.push(one);
  };
  for (const each of oriented) {
    for (const net of netsIn(each.right)) push(drivers, net, each);
    for (const net of netsIn(each.left)) push(children, net, each);
  }
  const level = new Map<string, number>();
  const walking = new Set<string>();
  const levelOf = (net: string): number | null => {
    const known = level.get(net);
    if (known !== undefined) return known;
    if (walking.has(net)) return null;
    walking.add(net);
    let most = 1;
    for (const driver of drivers.get(net) ?? []) {
      const slot = slotOf(driver);
      if (slot === null) return null;
      most = Math.max(most, slot + 1);
    }
    walking.delete(net);
    level.set(net, most);
    return most;
  };
  function slotOf(each: Oriented): number | null {
    let most = 0;
    for (const net of netsIn(each.left)) {
      const at = levelOf(net);
      if (at === null) return null;
      most = Math.max(most, at);
    }
    return most;
  }
  const slots = new Map<Oriented, number>();
  for (const each of oriented) {
    const slot = slotOf(each);
    if (slot === null) return null;
    slots.set(each, slot);
  }

  for (const net of drivers.keys()) if (levelOf(net) === null) return null;

  // Rows: what follows a part keeps to its row, what stands beside it takes the next.
  const taken: { readonly row: number; readonly from: number; readonly to: number }[] = [];
  const isFree = (row: number, from: number, to: number): boolean =>
    taken.every((each) => Math.abs(each.row - row) >= 1 || each.to <= from || each.from >= to);
  const nextRow = (): number => Math.ceil(Math.max(-1, ...taken.map((each) => each.row))) + 1;
  const kept = new Map<string, number>();
  const open = new Set<string>();
  const visited = new Set<string>();
  const done = new Map<Oriented, LaidPart>();
  const levelAt = (end: End | null | undefined, slot: number): number =>
    end?.at === 'net' ? Math.max(slot + 1, level.get(end.net) ?? slot + 1) : slot + 1;
  const ready = (each: Oriented): boolean =>
    each.left.every((end) => end === null || end.at === 'mark' || open.has(end.net));

  const place = (each: Oriented, wanted: number | null): void => {
    const slot = slots.get(each) ?? 0;
    let leftRows: number[];
    let rightRows: number[];
    if (each.part.shape === 'contact') {
      const throwsRight = each.left.length === 1;
      const [n, r] = throwsRight ? each.right : each.left;
      const [toN, toR] = throwsRight ? [levelAt(n, slot), levelAt(r, slot)] : [slot + 1, slot + 1];
      const fits = wanted !== null && isFree(wanted, slot, toN) && isFree(wanted + 1, slot, toR);
      const row = fits && wanted !== null ? wanted : nextRow();
      taken.push({ row, from: slot, to: toN }, { row: row + 1, from: slot, to: toR });
      const [throws, common] = [[row, row + 1], [row + 0.5]];
      if (!throwsRight && each.right[0]?.at === 'net')
        taken.push({ row: row + 0.5, from: slot, to: levelAt(each.right[0], slot) });
      leftRows = throwsRight ? common : throws;
      rightRows = throwsRight ? throws : common;
    } else if (each.part.shape === 'board') {
      leftRows = each.left.map((end) => {
        const mine = end?.at === 'net' ? kept.get(end.net) : undefined;
        const row = mine !== undefined && isFree(mine, slot, slot + 1) ? mine : nextRow();
        taken.push({ row, from: slot, to: slot + 1 });
        return row;
      });
      rightRows = [];
    } else {
      const to = levelAt(each.right[0], slot);
      const row = wanted !== null && isFree(wanted, slot, to) ? wanted : nextRow();
      taken.push({ row, from: slot, to });
      leftRows = [row];
      rightRows = [row];
    }
    done.set(each, { part: each.part, left: each.left, right: each.right, leftRows, rightRows, slot });
    for (const [i, end] of each.right.entries()) {
      if (end?.at !== 'net') continue;
      open.add(end.net);
      if (!kept.has(end.net)) kept.set(end.net, rightRows[i] ?? 0);
    }
    for (const net of netsIn(each.right)) {
      for (const other of drivers.get(net) ?? []) {
        if (done.has(other) || other.part.shape !== 'pair' || !ready(other)) continue;
        const [from] = netsIn(other.left);
        place(other, from === undefined ? null : (kept.get(from) ?? null));
      }
      visit(net);
    }
  };
  function visit(net: string): void {
    if (visited.has(net) || (drivers.get(net) ?? []).some((each) => !done.has(each))) return;
    visited.add(net);
    for (const each of children.get(net) ?? []) if (!done.has(each) && ready(each)) place(each, kept.get(net) ?? null);
  }
  for (const each of oriented) if (!done.has(each) && netsIn(each.left).length === 0) place(each, null);
  // What waits for nets that come later than its own.
  for (let again = true; again; ) {
    again = false;
    for (const each of oriented)
      if (!done.has(each) && ready(each)) {
        place(each, null);
        again = true;
      }
  }
  if (done.size !== oriented.length) return null;

  const laid = oriented.flatMap((each) => done.get(each) ?? []);
  const spans = new Map<string, { top: number; bottom: number }>();
  for (const each of laid) {
    for (const [ends, rows] of [
      [each.left, each.leftRows],
      [each.right, each.rightRows],
    ] as const)
      for (const [i, end] of ends.entries()) {
        if (end?.at !== 'net') continue;
        const row = rows[i] ?? 0;
        const span = spans.get(end.net);
        if (span === undefined) spans.set(end.net, { top: row, bottom: row });
        else {
          span.top = Math.min(span.top, row);
          span.bottom = Math.max(span.bottom, row);
        }
      }
  }
  // Of the two throws of a contact the lower one turns off first, so that its way does not meet the upper one's line.
  const after = new Map<string, string>();
  for (const each of laid) {
    if (each.part.shape !== 'contact' || each.left.length !== 1) continue;
    const [n, r] = each.right;
    if (n?.at === 'net' && r?.at === 'net') after.set(n.net, r.net);
  }
  const netsLaid: LaidNet[] = [];
  const lay = (net: string): void => {
    if (netsLaid.some((each) => each.net === net)) return;
    const span = spans.get(net);
    if (span === undefined) return;
    const at = level.get(net) ?? 1;
    const other = after.get(net);
    if (other !== undefined) lay(other);
    const base = netsLaid.find((each) => each.net === other && each.level === at);
    let line = base === undefined ? 0 : base.line + 1;
    const clash = (one: LaidNet): boolean =>
      one.level === at && one.line === line && one.top <= span.bottom && one.bottom >= span.top;
    while (netsLaid.some(clash)) line += 1;
    netsLaid.push({ net, level: at, line, ...span });
  };
  // What begins lower turns off first, so that its way there meets no line of what begins above it.
  const begins = [...spans.keys()].map((net, i) => ({ net, i, row: kept.get(net) ?? spans.get(net)?.top ?? 0 }));
  begins.sort((a, b) => b.row - a.row || a.i - b.i);
  for (const { net } of begins) lay(net);
  return {
    parts: laid,
    nets: netsLaid,
    rows: Math.ceil(Math.max(0, ...taken.map((each) => each.row))) + 1,
    slots: Math.max(0, ...laid.map((each) => each.slot)) + 1,
  };
}
