/** Circuits in rows, for the screen: laid as the book lays them, with the screen's symbols. */
import type { Spot } from '../../units/index.ts';
import type { PairKind, PairPart } from '../circuit-parts.ts';
import {
  BOARD,
  MARK_HEIGHT,
  type Measured,
  markWide,
  meetings,
  PITCH,
  placeInRow,
  type RowsPlan,
  uprights,
} from '../row-drawing.ts';
import type { End } from '../row-layout.ts';
import { CONTACT, pairTitle } from '../symbols.ts';
import { Draft } from './draft.ts';
import { screenMeasure } from './letters.ts';
import { HALF_PX, TAG } from './sizes.ts';
import type { CircuitModel, ModelEnd, Px } from './types.ts';

/** The book's millimetres at the screen's size: its smallest print becomes 14 px. */
export const PX_PER_MM = 5;

const measured: Measured = { measure: screenMeasure };
/** To a tenth of a px, so that what is in one place is in one place. */
const px = (mm: number): Px => Math.round(mm * PX_PER_MM * 10) / 10;

/** One drawing of rows; its top left corner is the origin. */
export function rowsModel(plan: RowsPlan, circuitId: string): CircuitModel {
  const { laid, circuit } = plan;
  const draft = new Draft(circuit.nets);
  const yOf = (row: number): Px => px(PITCH * (row + 0.5));
  const lines = uprights(plan);
  const xOfNet = (net: string): Px => px(lines.get(net) ?? 0);
  const joins = new Map<string, Px[]>();

  const lead = (end: End | null | undefined, edge: Spot, side: 'left' | 'right', bound: Px): void => {
    if (end === null || end === undefined) return;
    const sign = side === 'left' ? -1 : 1;
    if (end.at === 'net') {
      const x = xOfNet(end.net);
      draft.line(end.terminal, [x, edge[1]], edge);
      joins.set(end.net, [...(joins.get(end.net) ?? []), edge[1]]);
      draft.chip(end.terminal, [edge[0] + sign * Math.min(30, Math.max(12, Math.abs(x - edge[0]) / 2)), edge[1]]);
      return;
    }
    const wide = px(markWide(measured, end));
    const inner = side === 'left' ? bound + wide : bound - wide;
    draft.line(end.terminal, [inner, edge[1]], edge);
    draft.chip(end.terminal, [(inner + edge[0]) / 2, edge[1]]);
    draft.marks.push({
      net: circuit.nets.of(end.terminal),
      name: end.name,
      at: [inner, edge[1]],
      box: { at: [Math.min(bound, inner), edge[1] - px(MARK_HEIGHT) / 2], size: [wide, px(MARK_HEIGHT)] },
    });
  };

  for (const each of laid.parts) {
    const place = placeInRow(measured, plan, each);
    const [near, middle, far] = [px(place.near), px(place.middle), px(place.far)];
    const { part } = each;
    if (part.shape === 'pair') {
      const y = yOf(each.leftRows[0] ?? 0);
      const forward = each.left[0]?.terminal === part.a;
      const half = HALF_PX[part.kind];
      const [left, right]: readonly [Spot, Spot] = [
        [middle - half, y],
        [middle + half, y],
      ];
      const [one, other] = forward ? [part.a, part.b] : [part.b, part.a];
      draft.symbols.push({
        kind: part.kind,
        id: part.id,
        at: [middle, y],
        turn: forward ? 270 : 90,
        ends: [
          { terminal: one, at: left },
          { terminal: other, at: right },
        ],
        title: pairTitle(part),
        note: noteOf(part),
        words: { at: [middle, y + BELOW[part.kind]], anchor: 'middle' },
        ...(part.panelHalf === undefined ? {} : { panelHalf: part.panelHalf }),
      });
      lead(each.left[0], left, 'left', near);
      lead(each.right[0], right, 'right', far);
    } else if (part.shape === 'contact') {
      const throwsRight = each.right.length === 2;
      const y = yOf((throwsRight ? each.leftRows : each.rightRows)[0] ?? 0);
      const s = throwsRight ? 1 : -1;
      const rise = px(PITCH / 2);
      const out = px(CONTACT.half) + TAG;
      const common: Spot = [middle - s * out, y];
      const [n, r] = [[middle + s * out, y - rise] as Spot, [middle + s * out, y + rise] as Spot];
      const [normal, reverse] = throwsRight ? each.right : each.left;
      const ends: ModelEnd[] = [{ terminal: part.common, at: common }];
      if (part.normal !== null) ends.push({ terminal: part.normal, at: n });
      if (part.reverse !== null) ends.push({ terminal: part.reverse, at: r });
      draft.symbols.push({
        kind: 'contact',
        id: part.id,
        at: [middle, y],
        turn: throwsRight ? 180 : 0,
        size: [2 * px(CONTACT.half), 2 * rise],
        ends,
        title: part.id,
        note: '',
        words: { at: [middle + s * 4, y + 20], anchor: 'middle' },
      });
      const side = throwsRight ? 'right' : 'left';
      lead(normal, n, side, throwsRight ? far : near);
      lead(reverse, r, side, throwsRight ? far : near);
      lead(
        throwsRight ? each.left[0] : each.right[0],
        common,
        throwsRight ? 'left' : 'right',
        throwsRight ? near : far,
      );
    } else {
      const rows = each.leftRows.map(yOf);
      const [y0, y1] = [Math.min(...rows) - px(PITCH * 0.42), Math.max(...rows) + px(PITCH * 0.42)];
      draft.symbols.push({
        kind: 'board',
        id: part.id,
        at: [middle + px(BOARD) / 2, (y0 + y1) / 2],
        turn: 0,
        size: [px(BOARD), y1 - y0],
        ends: part.tags.map((tag, i) => ({ terminal: tag.terminal, at: [middle, rows[i] ?? 0] as Spot })),
        title: part.id,
        note: part.note,
        words: { at: [middle + px(BOARD), y0 - 6], anchor: 'end' },
      });
      for (const [i, end] of each.left.entries()) lead(end, [middle, rows[i] ?? 0], 'left', near);
    }
  }

  for (const net of laid.nets) {
    const x = xOfNet(net.net);
    const met = meetings(joins.get(net.net) ?? []);
    for (const [i, { y, dot }] of met.entries()) {
      const from = met[i - 1];
      if (from !== undefined) draft.line(net.net, [x, from.y], [x, y], true);
      if (dot) draft.dot(net.net, [x, y]);
    }
  }
  return draft.model(circuitId, [px(plan.width), px(plan.height)]);
}

/** How far under the middle of a lying symbol its words begin. */
const BELOW: Readonly<Record<PairKind, Px>> = {
  resistor: 24,
  lamp: 26,
  diode: 26,
  capacitor: 32,
  fuse: 24,
  motor: 38,
  coil: 22,
  'relay-coil': 28,
  button: 24,
  way: 24,
  supply: 40,
  battery: 36,
  ac: 38,
};

/** A motor says its points, and a capacitor its value, beside its id. */
const noteOf = ({ kind, note }: PairPart): string => (kind === 'motor' || kind === 'capacitor' ? '' : note);
