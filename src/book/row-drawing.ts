/** Circuits in rows, drawn: marks for what comes from a supply, symbols on conductors, dots where conductors join. */
import type { Millimetre, Spot } from '../units/index.ts';
import type { Circuit } from '../wiring/index.ts';
import { type CircuitParts, type Drawable, type Part, partsOf } from './circuit-parts.ts';
import { BLACK, type Pen, SMALLEST, WHITE } from './pen.ts';
import { netToCut } from './row-crossings.ts';
import { type End, type Laid, type LaidPart, layRows, splitParts } from './row-layout.ts';
import { CONTACT, drawContact, drawJunction, drawPair, pairHalf, pairTitle, STROKE, TAG_RADIUS } from './symbols.ts';

/** From row to row, mm. */
export const PITCH: Millimetre = 12.4;
/** From upright line to upright line, and free conductor at each side of a symbol, mm. */
const LINE: Millimetre = 3.6;
const STUB: Millimetre = 2.2;
const GAP: Millimetre = 1;
/** Height of the box that a mark's name stands in. */
export const MARK_HEIGHT: Millimetre = 4.4;
const MARK_CLEAR: Millimetre = 1.2;
/** Width of a driver board. */
export const BOARD: Millimetre = 26;
/** Between drawings beside each other, mm. */
export const ROWS_BESIDE: Millimetre = 8;
const ink = { stroke: BLACK, width: STROKE };
const label = { size: SMALLEST };

/** One drawing: parts that hang together. */
export interface RowsPlan {
  readonly laid: Laid;
  readonly circuit: CircuitParts;
  readonly width: Millimetre;
  readonly height: Millimetre;
  /** Of each slot its beginning, and room before and behind the middle of its symbols; of each level its first upright line. */
  readonly slots: readonly { readonly x: Millimetre; readonly before: Millimetre; readonly behind: Millimetre }[];
  readonly levels: readonly Millimetre[];
}

/** Where the end of a part or a mark stands, for who reads the drawing back. */
export interface Port {
  readonly name: string;
  readonly kind: 'terminal' | 'mark';
  readonly at: Spot;
}

/** What text is measured with. */
export type Measured = Pick<Pen, 'measure'>;

const wideOf = (pen: Measured, text: string, bold = false): Millimetre =>
  text === '' ? 0 : pen.measure.width(text, bold ? 'text-700' : 'text-400', SMALLEST);

/** "W12 YE" of the wire that comes to this end. */
function wireAt(circuit: CircuitParts, end: End | null | undefined): string {
  if (end === null || end === undefined) return '';
  const wires = [circuit.nets.bringer(end.terminal), circuit.atMark.get(end.terminal) ?? null];
  return wires.flatMap((wire) => (wire === null ? [] : [`${wire.id} ${wire.colour}`])).join(', ');
}

/** From a symbol to the name of its wire: the names of a contact's tags stand over them. */
const gapOf = (part: Part): Millimetre => (part.shape === 'contact' ? 2.8 : GAP);

/** Width of the box of a mark; 0 where the end is on a net. */
export function markWide(pen: Measured, end: End | null | undefined): Millimetre {
  return end?.at === 'mark' ? wideOf(pen, end.name, true) + 2.6 : 0;
}

/** What a part takes before and behind the middle of its symbol. */
function roomOf(pen: Measured, circuit: CircuitParts, each: LaidPart): readonly [Millimetre, Millimetre] {
  const gap = gapOf(each.part);
  const side = (ends: readonly (End | null)[]): Millimetre =>
    Math.max(
      STUB,
      ...ends.map((end) => {
        const text = wideOf(pen, wireAt(circuit, end));
        return markWide(pen, end) + (text === 0 ? STUB : text + gap + GAP);
      }),
    );
  const half = halfOf(each.part);
  const name = nameOf(each.part);
  // A name over a small symbol needs its own room.
  const text =
    each.part.shape === 'pair' ? Math.max(wideOf(pen, name, true), wideOf(pen, noteOf(each.part))) / 2 + 0.6 : 0;
  return [Math.max(half[0] + side(each.left), text), Math.max(half[1] + side(each.right), text)];
}

function halfOf(part: Part): readonly [Millimetre, Millimetre] {
  switch (part.shape) {
    case 'pair': {
      const half = pairHalf(part);
      return [half, half];
    }
    case 'contact':
      return [CONTACT.half + TAG_RADIUS, CONTACT.half + TAG_RADIUS];
    case 'board':
      return [0, BOARD];
  }
}

const nameOf = (part: Part): string => (part.shape === 'pair' ? pairTitle(part) : part.id);
const noteOf = (part: Part): string => (part.shape === 'contact' ? '' : part.note);

function planOne(pen: Measured, laid: Laid, circuit: CircuitParts): RowsPlan {
  const slots: { x: Millimetre; before: Millimetre; behind: Millimetre }[] = [];
  const levels: Millimetre[] = [0];
  // A mark that touched an upright line would look joined to it.
  const clearOf = (ends: readonly (End | null)[], level: number): Millimetre =>
    ends.some((end) => end?.at === 'mark') && laid.nets.some((net) => net.level === level) ? MARK_CLEAR : 0;
  let x = 0;
  for (let slot = 0; slot < laid.slots; slot++) {
    const rooms = laid.parts
      .filter((each) => each.slot === slot)
      .map((each) => {
        const [one, two] = roomOf(pen, circuit, each);
        return [one + clearOf(each.left, slot), two + clearOf(each.right, slot + 1)] as const;
      });
    const before = Math.max(0, ...rooms.map(([one]) => one));
    const behind = Math.max(0, ...rooms.map(([, two]) => two));
    slots.push({ x, before, behind });
    x += before + behind;
    levels.push(x);
    const lines = laid.nets.filter((each) => each.level === slot + 1).map((each) => each.line);
    if (slot + 1 < laid.slots) x += Math.max(0, ...lines) * LINE;
  }
  const last = laid.nets.filter((each) => each.level === laid.slots).map((each) => each.line);
  return {
    laid,
    circuit,
    width: x + (last.length === 0 ? 0 : Math.max(...last) * LINE),
    height: laid.rows * PITCH,
    slots,
    levels,
  };
}

/** More nets than these are not cut for what lies across them: a drawing in pieces is worse than one that crosses. */
const MOST_UNCROSSED = 12;

/** Letters of nets that are cut because the sheet is too narrow: a mark at either side. */
const CUT_NAMES = 'abcdefghijklmnopqrstuvwxyz';

/**
 * The drawings of a circuit, none wider or higher than the room that is given. `without` are parts that are drawn elsewhere, `named` the
 * terminals whose nets are named there: they are marks here. `uncrossed`: nets that lie across others without need go on at a letter.
 * Null where the rule does not cover it.
 */
export function planRows(
  pen: Measured,
  derived: Drawable,
  circuit: Circuit,
  room: { readonly width: Millimetre; readonly height: Millimetre },
  without: ReadonlySet<string> = new Set(),
  named: ReadonlyMap<string, string> = new Map(),
  { uncrossed = false }: { readonly uncrossed?: boolean } = {},
): readonly RowsPlan[] | null {
  const all = partsOf(derived, circuit);
  const own: CircuitParts = { ...all, parts: all.parts.filter((part) => !without.has(part.id)) };
  let marks = new Map([...own.rails, ...[...named].map(([terminal, name]) => [own.nets.of(terminal), name] as const)]);
  for (let cuts = 0; cuts <= CUT_NAMES.length; ) {
    const plans: RowsPlan[] = [];
    let cut: readonly string[] | null = null;
    for (const parts of splitParts(own, marks)) {
      const laid = layRows(parts, own, marks);
      if (laid === null || !isClear(laid)) return null;
      const plan = planOne(pen, laid, own);
      if (plan.width > room.width) cut ??= cutsAcross(plan, room.width);
      else if (plan.height > room.height) cut ??= cutsAcross(plan, 0);
      else if (uncrossed && cuts < MOST_UNCROSSED) {
        const net = netToCut(laid);
        if (net !== null) cut ??= [net];
      }
      plans.push(plan);
    }
    if (cut === null) return inOrder(plans);
    if (cut.length === 0) return null;
    const names = cut.map((net, i) => [net, CUT_NAMES.charAt(cuts + i)] as const);
    if (names.some(([, name]) => name === '')) return null;
    cuts += names.length;
    // What goes on at a letter is read from there, as what comes from a plus is.
    const first = [...marks].filter(([, name]) => name.endsWith('+') || name.length === 1);
    const rest = [...marks].filter(([net]) => first.every(([other]) => other !== net));
    marks = new Map([...first, ...names, ...rest]);
  }
  return null;
}

/** Supplies first, then what only joins marks of supplies, then the rest in its order. */
function inOrder(plans: readonly RowsPlan[]): readonly RowsPlan[] {
  const rank = ({ laid, circuit }: RowsPlan): number => {
    const kinds = laid.parts.map(({ part }) => (part.shape === 'pair' ? part.kind : part.shape));
    if (kinds.some((kind) => kind === 'supply' || kind === 'battery' || kind === 'ac')) return 0;
    const plain = kinds.every((kind) => ['resistor', 'diode', 'capacitor', 'way'].includes(kind));
    const names = new Set(circuit.rails.values());
    const marks = laid.parts.flatMap((each) => [...each.left, ...each.right]);
    return plain && marks.every((end) => end?.at !== 'mark' || names.has(end.name)) ? 1 : 2;
  };
  return [0, 1, 2].flatMap((wanted) => plans.filter((plan) => rank(plan) === wanted));
}

/** Nets to cut so that what is left of them is no wider than `width`: the first that are beside each other where `width` is 0. */
function cutsAcross(plan: RowsPlan, width: Millimetre): readonly string[] {
  const mark = 9;
  const { laid } = plan;
  const fits = plan.levels.flatMap((x, level) =>
    level > 0 && level < laid.slots && (width === 0 ? level === 1 : x + mark <= width) ? [level] : [],
  );
  const level = Math.max(0, ...fits);
  if (level === 0) return [];
  return laid.nets
    .filter(
      (net) =>
        net.level <= level &&
        laid.parts.some(
          (each) => each.slot >= level && each.left.some((end) => end?.at === 'net' && end.net === net.net),
        ),
    )
    .sort((one, other) => one.top - other.top)
    .map((net) => net.net);
}

/** No two parts in one place, and no upright line on another: what the rows promise, looked at again. */
function isClear(laid: Laid): boolean {
  const levelOf = new Map(laid.nets.map((net) => [net.net, net.level]));
  const spans = laid.parts.flatMap((each) => {
    const to = (end: End | null | undefined): number =>
      end?.at === 'net' ? (levelOf.get(end.net) ?? each.slot + 1) : each.slot + 1;
    if (each.part.shape === 'board')
      return each.leftRows.map((row) => ({ each, row, from: each.slot, to: each.slot + 1 }));
    if (each.part.shape === 'pair')
      return [{ each, row: each.leftRows[0] ?? 0, from: each.slot, to: to(each.right[0]) }];
    const throwsRight = each.right.length === 2;
    const throws = throwsRight ? each.rightRows : each.leftRows;
    return [
      ...throws.map((row, i) => ({ each, row, from: each.slot, to: throwsRight ? to(each.right[i]) : each.slot + 1 })),
      ...(throwsRight ? [] : [{ each, row: each.rightRows[0] ?? 0, from: each.slot, to: to(each.right[0]) }]),
    ];
  });
  if (spans.some((one) => one.to <= one.from)) return false;
  return spans.every((one, i) =>
    spans
      .slice(i + 1)
      .every(
        (two) => one.each === two.each || Math.abs(one.row - two.row) >= 1 || one.to <= two.from || two.to <= one.from,
      ),
  );
}

/** From left to right, mm from the left edge of the drawing: how far a part's leads go at either side, and the middle of its symbol. */
interface RowPlace {
  readonly near: Millimetre;
  readonly middle: Millimetre;
  readonly far: Millimetre;
}

/** Where a part stands; its marks stand close to it, not at the far edges of the slot. Throws where the plan has no such slot. */
export function placeInRow(pen: Measured, { circuit, slots }: RowsPlan, each: LaidPart): RowPlace {
  const slot = slots[each.slot];
  if (slot === undefined) throw new RangeError(`no slot ${each.slot}`);
  const middle = slot.x + slot.before;
  const [before, behind] = roomOf(pen, circuit, each);
  return { near: Math.max(slot.x, middle - before), middle, far: middle + Math.min(slot.behind, behind) };
}

/** Where the upright line of each net stands, mm from the left edge of the drawing. */
export function uprights({ laid, levels }: RowsPlan): ReadonlyMap<string, Millimetre> {
  return new Map(laid.nets.map(({ net, level, line }) => [net, (levels[level] ?? 0) + line * LINE]));
}

/** Where conductors meet an upright line, each place once and rising, and whether a dot joins them there: more than two do. */
export function meetings(ys: readonly number[]): readonly { readonly y: number; readonly dot: boolean }[] {
  const [first, last] = [Math.min(...ys), Math.max(...ys)];
  return [...new Set(ys)]
    .sort((a, b) => a - b)
    .map((y) => {
      const here = ys.filter((each) => each === y).length;
      return { y, dot: here + (y > first ? 1 : 0) + (y < last ? 1 : 0) > 2 };
    });
}

/** Draw one of them with its top left corner at `at`; returns where every end stands. */
export function drawRows(pen: Pen, plan: RowsPlan, [left, top]: Spot): readonly Port[] {
  const { laid, circuit } = plan;
  const ports: Port[] = [];
  const yOf = (row: number): Millimetre => top + PITCH * (row + 0.5);
  const lines = uprights(plan);
  const xOfNet = (net: string): Millimetre => left + (lines.get(net) ?? 0);
  const joins = new Map<string, Millimetre[]>();

  const named = new Set<string>();
  /** A conductor from the edge of a symbol to its mark or its net, with the wire that comes. */
  const lead = (
    end: End | null | undefined,
    edge: Spot,
    side: 'left' | 'right',
    bound: Millimetre,
    gap: Millimetre,
  ): void => {
    if (end === null || end === undefined) return;
    ports.push({ name: end.terminal, kind: 'terminal', at: edge });
    // Coils and two-coloured lamps share a lead: its wire is named once.
    const text = named.has(end.terminal) ? '' : wireAt(circuit, end);
    named.add(end.terminal);
    const sign = side === 'left' ? -1 : 1;
    if (text !== '')
      pen.text([edge[0] + sign * gap, edge[1] - 1], text, { ...label, anchor: side === 'left' ? 'end' : 'start' });
    if (end.at === 'net') {
      const x = xOfNet(end.net);
      if (x !== edge[0]) pen.line([x, edge[1]], edge, ink);
      joins.set(end.net, [...(joins.get(end.net) ?? []), edge[1]]);
      return;
    }
    const wide = markWide(pen, end);
    const inner = side === 'left' ? bound + wide : bound - wide;
    pen.line([inner, edge[1]], edge, ink);
    ports.push({ name: end.name, kind: 'mark', at: [inner, edge[1]] });
    pen.rect([Math.min(bound, inner), edge[1] - MARK_HEIGHT / 2], [wide, MARK_HEIGHT], {
      stroke: BLACK,
      width: 0.25,
      radius: MARK_HEIGHT / 2,
      fill: WHITE,
    });
    pen.text([(bound + inner) / 2, edge[1] + 1], end.name, { ...label, font: 'text-700', anchor: 'middle' });
  };

  for (const each of laid.parts) {
    const place = placeInRow(pen, plan, each);
    const [near, middle, far] = [left + place.near, left + place.middle, left + place.far];
    const { part } = each;
    const gap = gapOf(part);
    if (part.shape === 'pair') {
      const y = yOf(each.leftRows[0] ?? 0);
      const forward = each.left[0]?.terminal === part.a;
      const half = pairHalf(part);
      drawPair(pen, part, [middle, y], forward);
      lead(each.left[0], [middle - half, y], 'left', near, gap);
      lead(each.right[0], [middle + half, y], 'right', far, gap);
    } else if (part.shape === 'contact') {
      const throwsRight = each.right.length === 2;
      const y = yOf((throwsRight ? each.leftRows : each.rightRows)[0] ?? 0);
      const spots = drawContact(pen, [middle, y], part, throwsRight, PITCH / 2);
      const [n, r] = throwsRight ? each.right : each.left;
      const side = throwsRight ? 'right' : 'left';
      const bound = throwsRight ? far : near;
      lead(n, spots.normal, side, bound, gap);
      lead(r, spots.reverse, side, bound, gap);
      lead(
        throwsRight ? each.left[0] : each.right[0],
        spots.common,
        throwsRight ? 'left' : 'right',
        throwsRight ? near : far,
        gap,
      );
    } else {
      const rows = each.leftRows.map(yOf);
      const [y0, y1] = [Math.min(...rows) - PITCH * 0.42, Math.max(...rows) + PITCH * 0.42];
      pen.rect([middle, y0], [BOARD, y1 - y0], { stroke: BLACK, width: STROKE, fill: WHITE });
      for (const [i, tag] of part.tags.entries()) {
        const y = rows[i] ?? 0;
        lead(each.left[i], [middle, y], 'left', near, gap);
        pen.text([middle + 1.2, y + 1], `${tag.terminal.slice(tag.terminal.lastIndexOf('.') + 1)} ${tag.name}`, label);
      }
      pen.text([middle + BOARD, y0 - 1.2], part.id, { font: 'text-700', size: SMALLEST, anchor: 'end', most: BOARD });
      pen.text([middle + BOARD - 1.2, y0 + 3.6], part.note, { ...label, anchor: 'end', most: BOARD - 2.4 });
    }
  }

  for (const net of laid.nets) {
    const x = xOfNet(net.net);
    const met = meetings(joins.get(net.net) ?? []);
    const [first, last] = [met[0], met.at(-1)];
    if (first !== undefined && last !== undefined && last !== first) pen.line([x, first.y], [x, last.y], ink);
    for (const { y, dot } of met) if (dot) drawJunction(pen, [x, y]);
  }
  return ports;
}

/** What the marks mean. */
export const ROWS_KEY =
  'A word in a rounded box is a wire that comes from a supply, or goes on at the same word: S1 + behind its fuse, 0 V, R0 the return under the layout. Each wire is named once, by number and colour, where it arrives. Contacts are drawn with lever, drive, blades and relay normal. A.1: connector A, pin 1. Lines that cross without a dot do not join.';

/** Which drawings stand beside each other, line by line: none wider than `width` together, mm, with so much between two. */
export function placeRows(
  plans: readonly RowsPlan[],
  width: Millimetre,
  beside: Millimetre = ROWS_BESIDE,
): readonly (readonly RowsPlan[])[] {
  const lines: RowsPlan[][] = [];
  let used = 0;
  for (const plan of plans) {
    const line = lines.at(-1);
    if (line === undefined || used + beside + plan.width > width) {
      lines.push([plan]);
      used = plan.width;
    } else {
      line.push(plan);
      used += beside + plan.width;
    }
  }
  return lines;
}
