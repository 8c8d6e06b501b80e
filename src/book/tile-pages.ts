/** Drilling templates: each tile of the face at true size, with what is needed to join, check, drill and tick it off. */
import type { Derived } from '../derive.ts';
import type { Hole } from '../face/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { opsInside, opsWithin } from './bounds.ts';
import { letterPlate, stepsOfStrokes, turnedBox } from './face-drawing.ts';
import { mm, size as sizeText } from './format.ts';
import { type Box, placeLabels, type Wanted } from './labels.ts';
import type { Measure } from './measure.ts';
import { type Op, pt } from './page.ts';
import { BLACK, EDGE, FIRM, HAIR, type Pen, SMALLEST, startPen, WHITE } from './pen.ts';
import { LEADING, type Leaf, newLeaf, type Setting } from './sheet.ts';
import { placeColumns, TICK } from './table.ts';
import { cutTiles, OVERLAP, type Tile, type Tiling } from './tiles.ts';
import { counted, listed } from './words.ts';

/** 7 % grey and the edges of a strip (visual direction, Print). */
const TAPE_GREY = '#ededed';
const TAPE_EDGE = '#8c8c8c';
/** Where the tile's own field begins on the sheet, mm. */
const FIELD_LEFT: Millimetre = 30;
const FIELD_TOP: Millimetre = 47;
const BAR_TOP: Millimetre = 213;
const LISTS_TOP: Millimetre = 221;
const HOLE_LETTERS: Millimetre = 3.4;
const LEVER_LETTERS: Millimetre = 4;
/** How far a registration mark reaches from its middle. */
const MARK_REACH: Millimetre = 6;

/** A hole with the circle, cross and middle that a drill wants. */
function drawHole(pen: Pen, hole: Hole): void {
  const [x, y] = hole.at;
  const r = hole.drill / 2;
  const reach = r + 2.2;
  pen.circle(hole.at, r, { fill: WHITE, stroke: BLACK, width: FIRM });
  pen.line([x - reach, y], [x + reach, y]);
  pen.line([x, y - reach], [x, y + reach]);
  pen.circle(hole.at, 0.3, { fill: BLACK });
}

/** What a template shows, in millimetres of the face: shapes, which a tile may cut, and numbers, which it may not. */
interface Template {
  readonly shapes: readonly Op[];
  readonly numbers: readonly Op[];
}

/** Everything on the face as its templates show it. */
function drawTemplate(measure: Measure, derived: Derived, tiling: Tiling): Template {
  const pen = startPen(measure);
  const numbers = startPen(measure);
  const { face, plan } = derived;
  for (const strip of face.strips) {
    const steps = stepsOfStrokes(strip.strokes);
    pen.path(steps, { stroke: TAPE_EDGE, width: strip.width + 0.18, join: 'round' });
    pen.path(steps, { stroke: TAPE_GREY, width: strip.width - 0.18, join: 'round' });
  }
  for (const strip of face.strips)
    pen.path(stepsOfStrokes(strip.strokes), { stroke: '#b5b5b5', width: HAIR, dash: [3, 1] });
  for (const platform of face.platforms) {
    pen.rect(platform.at, platform.size, { stroke: '#555555', width: 0.2, dash: [1.6, 1] });
    for (const name of platform.names)
      pen.text(name.at, name.text, {
        size: SMALLEST,
        anchor: name.anchor,
        fill: '#444444',
        most: platform.size[0],
        least: SMALLEST,
      });
  }
  for (const plate of face.plates) {
    pen.rect([plate.at[0] - plate.width / 2, plate.at[1] - plate.height / 2], [plate.width, plate.height], {
      stroke: BLACK,
      width: FIRM,
      dash: [1.6, 0.9],
      radius: Math.min(1.2, plate.height / 4),
      fill: WHITE,
    });
    letterPlate(pen, plate, plate.at, BLACK);
  }
  for (const lever of face.levers) {
    pen.polyline(turnedBox(lever.at, lever.body, lever.angle), {
      closed: true,
      stroke: '#444444',
      width: 0.2,
      dash: [2.4, 1.2],
    });
    pen.circle(lever.at, lever.nut / 2, { stroke: '#555555', width: HAIR });
    pen.circle(lever.at, lever.driver / 2, { stroke: BLACK, width: 0.25, dash: [0.2, 1], cap: 'round' });
  }
  for (const hole of face.holes) drawHole(pen, hole);

  // Numbers: where they cover least.
  const boxes: Box[] = face.holes.map((hole) => [
    hole.at[0] - hole.drill / 2 - 0.4,
    hole.at[1] - hole.drill / 2 - 0.4,
    hole.at[0] + hole.drill / 2 + 0.4,
    hole.at[1] + hole.drill / 2 + 0.4,
  ]);
  const plates: Box[] = face.plates.map((plate) => [
    plate.at[0] - plate.width / 2,
    plate.at[1] - plate.height / 2,
    plate.at[0] + plate.width / 2,
    plate.at[1] + plate.height / 2,
  ]);
  const edges: Box[] = face.levers.map((lever) => {
    const corners = turnedBox(lever.at, lever.body, lever.angle);
    return [
      Math.min(...corners.map((c) => c[0])),
      Math.min(...corners.map((c) => c[1])),
      Math.max(...corners.map((c) => c[0])),
      Math.max(...corners.map((c) => c[1])),
    ];
  });
  const wanted: Wanted[] = face.holes
    .filter((hole) => hole.what !== 'tab')
    .map((hole) => {
      const lever = face.levers.find((each) => each.id === hole.id);
      const half = lever === undefined ? hole.drill / 2 : Math.min(lever.body[0], lever.body[1]) / 2;
      return {
        text: hole.id,
        at: hole.at,
        radius: lever === undefined ? hole.drill / 2 + 1 : half + 4,
        size: lever === undefined ? HOLE_LETTERS : LEVER_LETTERS,
        font: 'text-700',
      };
    });
  // Where tiles join stand the rulers and the line to cut by.
  const joins: Box[] = tiling.tiles.flatMap(({ at: [x, y], size: [w, h], joins: beside }): Box[] => [
    ...(beside.above === null ? [] : [[x, y - 4.2, x + w, y + 0.6] as const]),
    ...(beside.left === null ? [] : [[x - 4.2, y, x + 0.6, y + h] as const]),
  ]);
  const labels = placeLabels(
    pen.measure,
    wanted,
    [...boxes, ...plates, ...edges, ...joins],
    [0, 0, face.width, face.height],
  );
  for (const [i, label] of labels.entries()) {
    const size = wanted[i]?.size ?? HOLE_LETTERS;
    numbers.group({}, (inner) =>
      inner.text(label.at, label.text, { font: 'text-700', size, anchor: label.anchor, clear: true }),
    );
  }
  const spots = plan.points.map((point) => ({ id: point.id, at: point.at }));
  for (const {
    at: [x, y],
  } of spots) {
    pen.line([x - 1.4, y - 1.4], [x + 1.4, y + 1.4], { stroke: BLACK, width: 0.22 });
    pen.line([x - 1.4, y + 1.4], [x + 1.4, y - 1.4], { stroke: BLACK, width: 0.22 });
  }
  const points = placeLabels(
    pen.measure,
    spots.map(({ id, at }) => ({ text: id, at, radius: 3.4, size: 3.3, font: 'text-400' as const })),
    [...boxes, ...plates, ...joins, ...labels.map((label) => label.box)],
    [0, 0, face.width, face.height],
  );
  for (const label of points) numbers.text(label.at, label.text, { size: 3.3, anchor: label.anchor, fill: '#3f3f3f' });
  pen.rect([0, 0], [face.width, face.height], { stroke: BLACK, width: EDGE });
  return { shapes: pen.ops, numbers: numbers.ops };
}

/** A registration mark whose quarters are black by turns: black on black when two tiles lie true. */
function drawMark(pen: Pen, [x, y]: Spot): void {
  const r = 3.2;
  pen.circle([x, y], r, { fill: WHITE, stroke: BLACK, width: 0.25 });
  pen.line([x - MARK_REACH, y], [x + MARK_REACH, y], { stroke: BLACK, width: 0.2 });
  pen.line([x, y - MARK_REACH], [x, y + MARK_REACH], { stroke: BLACK, width: 0.2 });
  for (const s of [1, -1]) {
    pen.path(
      [
        { go: 'move', to: [x, y - s * r] },
        { go: 'arc', to: [x + s * r, y], centre: [x, y], radius: r, clockwise: true },
        { go: 'line', to: [x, y] },
        { go: 'close' },
      ],
      { fill: BLACK },
    );
  }
}

function drawMap(pen: Pen, tiling: Tiling, current: number, right: Millimetre, top: Millimetre): void {
  const cell = Math.min(9.6, 38.4 / tiling.columns, 24 / tiling.rows);
  const left = right - cell * tiling.columns;
  const [w, h] = [cell * tiling.columns, cell * tiling.rows];
  const ink = { stroke: BLACK, width: 0.25 };
  pen.rect([left, top], [w, h], { fill: WHITE, ...ink });
  const here = tiling.tiles[current - 1];
  if (here !== undefined)
    pen.rect([left + here.column * cell, top + here.row * cell], [cell, cell], { fill: BLACK, ...ink });
  for (let i = 1; i < tiling.columns; i++) pen.line([left + i * cell, top], [left + i * cell, top + h], ink);
  for (let i = 1; i < tiling.rows; i++) pen.line([left, top + i * cell], [left + w, top + i * cell], ink);
  if (cell < 5) return;
  for (const tile of tiling.tiles)
    pen.text([left + (tile.column + 0.5) * cell, top + (tile.row + 0.5) * cell + 1.3], String(tile.no), {
      font: 'text-600',
      size: Math.min(3.8, cell * 0.56),
      anchor: 'middle',
      fill: tile.no === current ? WHITE : BLACK,
      least: 2.4,
    });
}

/** The bar of 100 mm with its words. Black and white by tens; its ends are what is measured. */
function drawBar(pen: Pen, [x, y]: Spot, scale: number): void {
  const unit = 10 * scale;
  for (let i = 0; i < 10; i++)
    pen.rect([x + i * unit, y], [unit, 3.2], i % 2 === 0 ? { fill: BLACK } : { fill: WHITE });
  // The outline lies inside, so that the bar is 100 mm from edge to edge.
  const w = 0.2;
  pen.rect([x + w / 2, y + w / 2], [10 * unit - w, 3.2 - w], { stroke: BLACK, width: w });
  pen.text([x, y - 1.6], '0', { size: 3.4 });
  pen.text([x + 10 * unit, y - 1.6], '100 mm', { size: 3.4, anchor: 'end' });
}

function rulers(pen: Pen, tile: Tile, scale: number): void {
  const draw = (
    count: number,
    origin: number,
    put: (along: number, out: number) => [Spot, Spot],
    name: (along: number, text: string) => void,
  ): void => {
    for (let i = 0; i <= count; i += 5) {
      const value = origin + i;
      const long = value % 50 === 0 ? 4 : value % 10 === 0 ? 2.6 : 1.4;
      const [from, to] = put(i * scale, long);
      pen.line(from, to, { stroke: BLACK, width: 0.2 });
      if (value % 50 === 0) name(i * scale, String(value));
    }
  };
  draw(
    Math.floor(tile.size[0]),
    tile.at[0],
    (along, out) => [
      [FIELD_LEFT + along, FIELD_TOP],
      [FIELD_LEFT + along, FIELD_TOP - out],
    ],
    (along, text) => {
      pen.text([FIELD_LEFT + along + 1.2, FIELD_TOP - 2.6], text, { size: SMALLEST });
    },
  );
  draw(
    Math.floor(tile.size[1]),
    tile.at[1],
    (along, out) => [
      [FIELD_LEFT, FIELD_TOP + along],
      [FIELD_LEFT - out, FIELD_TOP + along],
    ],
    (along, text) => {
      // Not under the mark in the corner.
      if (along < MARK_REACH) return;
      const wide = pen.measure.width(text, 'text-400', SMALLEST);
      pen.rect([FIELD_LEFT - 4.2, FIELD_TOP + along - 1.5 - wide], [2.6, wide + 0.6], { fill: WHITE });
      pen.text([FIELD_LEFT - 1.9, FIELD_TOP + along - 1.2], text, { size: SMALLEST, turn: -90 });
    },
  );
}

function drawField(pen: Pen, template: Template, tile: Tile, scale: number): void {
  const [w, h] = [tile.size[0] * scale, tile.size[1] * scale];
  const reach = OVERLAP * scale;
  const [x0, y0, x1, y1] = [FIELD_LEFT, FIELD_TOP, FIELD_LEFT + w, FIELD_TOP + h];
  const out = {
    left: tile.joins.left === null ? 1 : reach,
    right: tile.joins.right === null ? 1 : reach,
    above: tile.joins.above === null ? 1 : reach,
    below: tile.joins.below === null ? 1 : reach,
  };
  // What the tile shows, on the face: its own field and what overlaps.
  const field: Box = [
    tile.at[0] - out.left / scale,
    tile.at[1] - out.above / scale,
    tile.at[0] + tile.size[0] + out.right / scale,
    tile.at[1] + tile.size[1] + out.below / scale,
  ];
  pen.group(
    {
      shift: [x0 - tile.at[0] * scale, y0 - tile.at[1] * scale],
      scale,
      clip: { at: [field[0], field[1]], size: [field[2] - field[0], field[3] - field[1]] },
    },
    (inner) => inner.add(...opsWithin(template.shapes, field), ...opsInside(template.numbers, field)),
  );
  // The overlap is shown faint: it belongs to the next tile.
  const veil = { fill: WHITE, opacity: 0.55 };
  if (out.above > 1) pen.rect([x0 - out.left, y0 - out.above], [w + out.left + out.right, out.above], veil);
  if (out.below > 1) pen.rect([x0 - out.left, y1], [w + out.left + out.right, out.below], veil);
  if (out.left > 1) pen.rect([x0 - out.left, y0], [out.left, h], veil);
  if (out.right > 1) pen.rect([x1, y0], [out.right, h], veil);
  const cut = { stroke: BLACK, width: 0.3, dash: [4, 1.5] };
  if (tile.joins.above !== null) pen.line([x0, y0], [x1, y0], cut);
  if (tile.joins.left !== null) pen.line([x0, y0], [x0, y1], cut);
  if (tile.joins.right !== null) pen.line([x1, y0], [x1, y1], cut);
  if (tile.joins.below !== null) pen.line([x0, y1], [x1, y1], cut);
  rulers(pen, tile, scale);
  for (const at of [
    [x0, y0],
    [x1, y0],
    [x0, y1],
    [x1, y1],
  ] as const)
    drawMark(pen, at);
  const words = { size: 3.2, fill: '#2c2c2c', anchor: 'middle' as const };
  const say = (other: number | null, edge: string): string =>
    other === null ? `${edge} edge of the face` : `joins tile ${other}`;
  pen.text([(x0 + x1) / 2, FIELD_TOP - Math.max(out.above, 4) - 1.6], say(tile.joins.above, 'top'), words);
  // Clear of the words over the bar.
  const below = tile.joins.below === null ? (x0 + x1) / 2 : Math.min((x0 + x1) / 2, x0 + 50);
  pen.text([below, y1 + Math.max(out.below, 4) + 3], say(tile.joins.below, 'bottom'), words);
  pen.text([x0 - Math.max(out.left, 6) - 1.6, (y0 + y1) / 2], say(tile.joins.left, 'left'), {
    ...words,
    turn: -90,
  });
  pen.text([x1 + out.right + 1.6, (y0 + y1) / 2], say(tile.joins.right, 'right'), { ...words, turn: 90 });
}

interface ListBlock {
  readonly drill: string;
  readonly what: string;
  readonly rows: readonly Hole[];
}

const WHAT: Readonly<Record<Hole['what'], string>> = {
  lamp: 'lamps',
  lever: 'levers',
  button: 'buttons',
  fixing: 'fixings',
  tab: 'tabs',
};

/** Holes by drill, smallest first, cut into blocks of at most `most` rows. */
function blocksOf(holes: readonly Hole[], most: number): readonly ListBlock[] {
  const groups = new Map<string, Hole[]>();
  for (const hole of [...holes].sort((a, b) => a.drill - b.drill || a.no - b.no)) {
    const key = sizeText(hole.drill);
    groups.set(key, [...(groups.get(key) ?? []), hole]);
  }
  return [...groups.values()].flatMap((group) => {
    const blocks: ListBlock[] = [];
    const drill = sizeText(group[0]?.drill ?? 0);
    const kinds = [...new Set(group.map((hole) => WHAT[hole.what]))];
    const what = `${listed(kinds)}, ${counted(group.length, 'hole')}`;
    for (let i = 0; i < group.length; i += most) {
      blocks.push({ drill, what: i === 0 ? what : `${listed(kinds)}, continued`, rows: group.slice(i, i + most) });
    }
    return blocks;
  });
}

const LIST_SIZE = pt(8.8);
const LIST_ROW: Millimetre = LIST_SIZE * LEADING + 1.9;
const LIST_HEAD: Millimetre = 12.2;
const LIST_GAP: Millimetre = 5.5;
/** Room for the ids of holes. */
const LEAST_ID: Millimetre = 7.6;
const MOST_ID: Millimetre = 15;

/** What a hole is for; of a lamp behind several points their ids alone, where that is all there is room for. */
function forText(pen: Pen, hole: Hole, room: Millimetre): string {
  if (hole.what === 'fixing') return 'screw';
  if (hole.what !== 'lamp' || pen.measure.width(hole.for, 'text-400', LIST_SIZE) <= room) return hole.for;
  return hole.for.replace(/ (?:normal|reverse)\b/g, '').replace(/ and /g, ' ');
}

function drawBlock(pen: Pen, block: ListBlock, at: Spot, width: Millimetre): Millimetre {
  const [x, top] = at;
  const wide = pen.text([x, top + 3.6], `${block.drill} mm`, { font: 'text-700', size: pt(10.5) });
  pen.text([x + width, top + 3.6], block.what, { size: pt(10), anchor: 'end', most: width - wide - 3 });
  pen.line([x, top + 5.2], [x + width, top + 5.2], { stroke: BLACK, width: 0.5 });
  const ids = block.rows.map((hole) => pen.measure.width(hole.id, 'text-700', LIST_SIZE));
  const columns = placeColumns(
    [
      { title: '', width: Math.min(MOST_ID, Math.max(LEAST_ID, ...ids)) },
      { title: '', width: { share: 1 } },
      { title: '', width: 9 },
      { title: '', width: 9 },
      { title: '', width: TICK },
    ],
    x,
    width,
    1.5,
  );
  const [no, words, xs, ys, box] = columns;
  if (no === undefined || words === undefined || xs === undefined || ys === undefined || box === undefined) return top;
  const small = { size: SMALLEST, fill: '#3a3a3a' };
  pen.text([no.x, top + 9.6], 'Hole', small);
  pen.text([words.x, top + 9.6], 'For', small);
  pen.text([xs.x + xs.width, top + 9.6], 'x', { ...small, anchor: 'end' });
  pen.text([ys.x + ys.width, top + 9.6], 'y', { ...small, anchor: 'end' });
  let y = top + LIST_HEAD - 1.2;
  for (const hole of block.rows) {
    pen.line([x, y], [x + width, y], { stroke: '#9a9a9a', width: HAIR });
    const base = y + 0.95 + LIST_SIZE * LEADING * 0.74;
    pen.text([no.x, base], hole.id, { font: 'text-700', size: LIST_SIZE, most: no.width });
    pen.text([words.x, base], forText(pen, hole, words.width), { size: LIST_SIZE, most: words.width });
    pen.text([xs.x + xs.width, base], mm(hole.at[0]), { size: LIST_SIZE, anchor: 'end' });
    pen.text([ys.x + ys.width, base], mm(hole.at[1]), { size: LIST_SIZE, anchor: 'end' });
    pen.rect([box.x, y + LIST_ROW / 2 - TICK / 2], [TICK, TICK], { stroke: BLACK, width: 0.3 });
    y += LIST_ROW;
  }
  return y + 3;
}

function headOf(pen: Pen, setting: Setting, tile: Tile, tiling: Tiling, again: boolean): void {
  const { sheet, imprint } = setting;
  const room = sheet.width - Math.min(38.4, 9.6 * tiling.columns) - 6;
  pen.text([sheet.left, sheet.top + 6], imprint.panel, { font: 'plate-600', size: pt(17), most: room, least: pt(11) });
  const y = sheet.top + 12;
  const bold = pen.text(
    [sheet.left, y],
    `Drilling template, tile ${tile.no} of ${tiling.tiles.length}${again ? ', holes continued' : ''}. Revision ${imprint.revision}.`,
    { font: 'text-700', size: pt(10), most: room },
  );
  const rest = 'True size at 100 %.';
  if (bold + 1.2 + pen.measure.width(rest, 'text-400', pt(10)) <= room)
    pen.text([sheet.left + bold + 1.2, y], rest, { size: pt(10) });
  if (!again && tiling.tiles.length > 1)
    pen.text([sheet.left, y + 4.8], 'Lay the black quarters of the marks over those of the next tile.', {
      size: pt(10),
      most: room,
    });
  drawMap(pen, tiling, tile.no, sheet.right, sheet.top + 1);
}

/** One tile: its page, and further pages where its holes do not fit under it. */
function tileLeaves(derived: Derived, template: Template, setting: Setting, tile: Tile, tiling: Tiling): Leaf[] {
  const { sheet } = setting;
  const scale = 100 / setting.barMeasured;
  const leaf = newLeaf(setting);
  leaf.bookmarks.push({ title: `Tile ${tile.no}`, level: 1 });
  leaf.names.push(`tile-${tile.no}`);
  const { pen } = leaf;
  headOf(pen, setting, tile, tiling, false);
  drawField(pen, template, tile, scale);
  drawBar(pen, [FIELD_LEFT, BAR_TOP], scale);
  pen.text([136, BAR_TOP + 0.4], 'Measure this bar before you drill.', {
    font: 'text-600',
    size: 3.4,
    most: sheet.right - 136,
  });
  pen.text(
    [136, BAR_TOP + 4.6],
    scale === 1
      ? 'Not 100.0? Type it in and print again.'
      : `Drawn for a bar of ${mm(setting.barMeasured)}: now 100.0 mm.`,
    { size: 3.2, most: sheet.right - 136 },
  );

  const notes = tileNotes(derived, tile);
  const wide = (sheet.width - 2 * LIST_GAP) / 3;
  const rowsIn = (top: Millimetre): number => Math.max(1, Math.floor((sheet.bottom - top - LIST_HEAD) / LIST_ROW));
  const leaves = [leaf];
  let top = LISTS_TOP;
  let rows = rowsIn(top);
  let columnPen = pen;
  let column = 0;
  let y = top;
  const next = (): void => {
    column += 1;
    y = top;
    if (column < 3) return;
    const more = newLeaf(setting);
    headOf(more.pen, setting, tile, tiling, true);
    leaves.push(more);
    columnPen = more.pen;
    top = sheet.top + 32;
    rows = rowsIn(top);
    column = 0;
    y = top;
  };
  const blocks = [...blocksOf(tile.holes, rows)];
  for (const block of blocks) {
    const height = LIST_HEAD + block.rows.length * LIST_ROW;
    if (y + height > sheet.bottom && y > top) next();
    y = drawBlock(columnPen, block, [sheet.left + column * (wide + LIST_GAP), y], wide);
  }
  if (notes.length > 0) {
    const lines = columnPen.measure.wrap(notes, 'text-400', pt(8.8), wide);
    const tall = lines.length * pt(8.8) * LEADING;
    if (y + tall > sheet.bottom && column < 2) next();
    // Where there is no room they stand with the list of holes alone.
    for (const line of y + tall > sheet.bottom ? [] : lines) {
      y += pt(8.8) * LEADING;
      columnPen.text([sheet.left + column * (wide + LIST_GAP), y - 0.8], line, { size: pt(8.8) });
    }
  }
  return leaves;
}

/** What the drill needs to know on this tile, in words. */
function tileNotes(derived: Derived, tile: Tile): string {
  if (tile.holes.length === 0) return 'No holes on this tile: it is here so that the others can be laid true.';
  const words = ['Pilot every hole at 2 mm.'];
  const lamps = new Set(tile.holes.filter((hole) => hole.what === 'lamp').map((hole) => hole.id));
  const sizes = [
    ...new Set(derived.face.lamps.filter((lamp) => lamps.has(lamp.id)).map((lamp) => sizeText(lamp.size))),
  ];
  if (sizes.length > 0) words.push(`The lamps are ${sizes.join(' and ')} mm: try one in the first, ream if tight.`);
  const ids = new Set(tile.holes.filter((hole) => hole.what === 'lever').map((hole) => hole.id));
  const lever = derived.face.levers.find((each) => ids.has(each.id));
  if (lever !== undefined)
    words.push(
      `Round a lever: nut ${sizeText(lever.nut)} and, dotted, nut driver ${sizeText(lever.driver)}. Dashed boxes are bodies behind the face.`,
    );
  words.push('Deburr, then paint, then tape.');
  return words.join(' ');
}

/** All tiles in order. */
export function tilePages(derived: Derived, setting: Setting): Leaf[] {
  const tiling = cutTiles(derived.face);
  const template = drawTemplate(setting.measure, derived, tiling);
  const leaves = tiling.tiles.flatMap((tile) => tileLeaves(derived, template, setting, tile, tiling));
  leaves[0]?.bookmarks.unshift({ title: 'Drilling templates', level: 0 });
  leaves[0]?.names.push('templates');
  return leaves;
}
