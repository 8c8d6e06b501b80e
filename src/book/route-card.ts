/**
 * The route card: one page that stands beside the levers and is read at arm's length. The track with the number of a lever at every
 * point, and for each two places how the levers lie. Reverse is white on a black field, normal black on paper.
 */
import type { Derived } from '../derive.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { blockRoutes, type CardBlock, rankRoutes } from './card-routes.ts';
import { mm } from './format.ts';
import type { Measure } from './measure.ts';
import { pt } from './page.ts';
import { BLACK, FIRM, HAIR, type Pen, SMALLEST, WHITE } from './pen.ts';
import { ARM_BENT, ARM_STRETCHED, capitalOf, typeAt } from './reading-distance.ts';
import { type Leaf, newLeaf, type Setting } from './sheet.ts';
import { type Diagram, layDiagram } from './track-diagram.ts';
import { counted, listed, placeNames } from './words.ts';

/** Lettering of the card: what is read at 1 m where there is room, down to what is read at 600 mm. */
const DISTANCES: readonly Millimetre[] = [1000, 900, 800, 750, ARM_STRETCHED, 650, ARM_BENT];
const SIZES = DISTANCES.map(typeAt);
const LEAST_SIZE: Millimetre = typeAt(ARM_BENT);
/** How high the drawing may be, mm; less is tried where the routes need the room. */
const DRAWING_HEIGHTS: readonly Millimetre[] = [92, 80, 68, 56];
/** The largest lettering in the drawing, mm. */
const LARGEST_TAG: Millimetre = typeAt(800);
/** A drawing that leaves out more than this share of the points is not shown. */
const MOST_LOST = 0.1;
/** Columns of routes to try, the best first. */
const COLUMNS = [2, 1, 3] as const;
/** Between columns, mm. */
const GUTTER: Millimetre = 8;
/** Line height as a share of the size. */
const PITCH = 1.3;
/** The most that it grows to where there is room. */
const MOST_PITCH = 1.5;
/** A cell is so broad where there is room, as a share of the size. */
const BROAD_CELL = 1.42;
/** Before a name, mm. */
const INSET: Millimetre = 1.2;
const BAND = '#e2e2e2';
/** Names of places take no more than this share of a column. */
const NAME_SHARE = 0.6;
/** The lines below the routes, mm each. */
const NOTE_LINE: Millimetre = 3.9;
/** So many of them where all routes stand on the card, and where not; a little white included. */
const NOTES_WHOLE = 4.2;
const NOTES_PART = 7.2;

/** Levers as the card calls them: by their number alone where all are letters and a number alike, L1 to L12. */
export function shortLevers(ids: readonly string[]): ReadonlyMap<string, string> {
  const cut = ids.map((id) => /^([A-Za-z]+)(\d+)$/.exec(id));
  const alike = cut.every((found) => found !== null && found[1] === cut[0]?.[1]);
  return new Map(ids.map((id, i) => [id, alike ? (cut[i]?.[2] ?? id) : id]));
}

/** One block, or as much of it as a column holds, with where its lines stand. */
interface PlacedBlock {
  readonly block: CardBlock;
  /** Rows from, to (not included). */
  readonly rows: readonly [number, number];
  readonly column: number;
  readonly y: Millimetre;
}

interface Plan {
  readonly size: Millimetre;
  readonly columns: number;
  readonly columnWide: Millimetre;
  readonly nameWide: Millimetre;
  readonly cell: Millimetre;
  /** So many levers stand on a line. */
  readonly across: number;
  /** Height of a line. */
  readonly line: Millimetre;
  readonly placed: readonly PlacedBlock[];
}

/** Space above a block, lines. */
const BLOCK_GAP = 0.42;

/** A block and how many lines it takes: its head, each of its rows. */
interface Sized {
  readonly block: CardBlock;
  readonly head: number;
  readonly row: number;
}

interface Filled {
  readonly block: CardBlock;
  readonly rows: readonly [number, number];
  readonly column: number;
  readonly line: number;
}

/**
 * Put blocks into columns of so many lines; null where they do not fit. A block that is not kept whole may go on in the next column,
 * its head again above it.
 */
function fillColumns(
  blocks: readonly Sized[],
  columns: number,
  lines: number,
  keepWhole: boolean,
): readonly Filled[] | null {
  const placed: Filled[] = [];
  let [column, line] = [0, 0];
  for (const { block, head, row } of blocks) {
    let from = 0;
    while (from < block.rows.length) {
      const begin = line === 0 ? 0 : line + BLOCK_GAP;
      const left = block.rows.length - from;
      const room = Math.floor((lines - begin - head) / row + ROUNDING);
      // No row stands alone under its head where there are more.
      const fit = room >= left ? left : keepWhole ? 0 : Math.min(room, left - 2);
      if (fit < Math.min(2, left)) {
        if (line === 0) return null;
        [column, line] = [column + 1, 0];
        if (column >= columns) return null;
        continue;
      }
      placed.push({ block, rows: [from, from + fit], column, line: begin });
      line = begin + head + fit * row;
      from += fit;
    }
  }
  return placed;
}
/** Lines are counted in halves and gaps in parts of one: what binary fractions leave is not a line. */
const ROUNDING = 1e-9;

/** The least number of lines to a column at which all blocks fit; null where `most` is too few. */
function balance(blocks: readonly Sized[], columns: number, most: number): readonly Filled[] | null {
  for (const keepWhole of [true, false]) {
    let best = fillColumns(blocks, columns, most, keepWhole);
    if (best === null) continue;
    // Half lines: gaps between blocks are parts of a line.
    let [low, high] = [1, Math.ceil(most * 2)];
    while (low < high) {
      const middle = Math.floor((low + high) / 2);
      const filled = fillColumns(blocks, columns, Math.min(most, middle / 2), keepWhole);
      if (filled !== null) [best, high] = [filled, middle];
      else low = middle + 1;
    }
    return best;
  }
  return null;
}

/** Lay these routes with lettering of this size into columns from `top` to `bottom`; null where they do not fit. */
function layRoutes(
  derived: Derived,
  measure: Measure,
  chosen: readonly number[],
  {
    size,
    columns,
    width,
    height,
    whole,
  }: {
    readonly size: Millimetre;
    readonly columns: number;
    readonly width: Millimetre;
    readonly height: Millimetre;
    /** Every route has its levers on one line. */
    readonly whole: boolean;
  },
): Plan | null {
  const { plan } = derived;
  const { routes } = derived.routes();
  const nameOf = placeNames(derived);
  const short = shortLevers(plan.levers.map((lever) => lever.id));
  const columnWide = (width - GUTTER * (columns - 1)) / columns;
  const widestName = chosen.reduce(
    (most, index) => {
      const to = nameOf(routes[index]?.to ?? '');
      return Math.max(most, measure.width(to, 'text-600', size));
    },
    measure.width('or', 'text-600', size),
  );
  if (whole && widestName + 3 > columnWide * NAME_SHARE) return null;
  const nameWide = Math.min(widestName + 3, columnWide * NAME_SHARE);
  const widestLever = Math.max(
    measure.width('N', 'text-700', size),
    ...[...short.values()].map((text) => measure.width(text, 'text-700', size)),
  );
  const room = columnWide - nameWide;
  const least = Math.min(widestLever + 1.5, room / 2);
  const most = Math.floor(room / least + ROUNDING);
  const blocks = blockRoutes(plan, routes, chosen, most);
  const longest = Math.max(1, ...blocks.map((block) => block.levers.length));
  if (whole && longest > most) return null;
  const across = Math.min(most, longest);
  const cell = Math.min(room / across, Math.max(least, size * BROAD_CELL));
  const sized = blocks.map((block): Sized => {
    const chunks = Math.max(1, Math.ceil(block.levers.length / across));
    return {
      block,
      head: headLines(measure, nameOf, block, size, nameWide, chunks),
      row: chunks === 1 ? 1 : 2 * chunks,
    };
  });
  const filled = balance(sized, columns, height / (size * PITCH));
  if (filled === null) return null;
  const used = filled.reduce((deepest, { block, rows: [from, to], line }) => {
    const found = sized.find((each) => each.block === block);
    return Math.max(deepest, line + (found?.head ?? 0) + (to - from) * (found?.row ?? 1));
  }, 1);
  const line = Math.min(size * MOST_PITCH, height / used);
  return {
    size,
    columns,
    columnWide,
    nameWide,
    cell,
    across,
    line,
    placed: filled.map(({ line: lines, ...rest }) => ({ ...rest, y: lines * line })),
  };
}

/** One line where the place stands beside the numbers of its levers, else one for it and one for them. */
function headLines(
  measure: Measure,
  nameOf: (id: string) => string,
  block: CardBlock,
  size: Millimetre,
  nameWide: Millimetre,
  chunks: number,
): number {
  if (chunks > 1 || block.levers.length === 0) return 1;
  const beside =
    block.through.length === 0 && measure.width(nameOf(block.from), 'text-700', size) + INSET + 1 <= nameWide;
  return beside ? 1 : 2;
}

/** The first way to lay all routes; where none does, the one at the least size that holds most of them. */
function chooseLayout(
  derived: Derived,
  measure: Measure,
  ranked: readonly number[],
  width: Millimetre,
  heightBelow: (drawing: number) => Millimetre,
): { readonly plan: Plan; readonly shown: readonly number[]; readonly drawing: number } | null {
  for (const drawing of DRAWING_HEIGHTS.keys())
    for (const size of SIZES)
      for (const columns of COLUMNS) {
        const plan = layRoutes(derived, measure, ranked, {
          size,
          columns,
          width,
          height: heightBelow(drawing),
          whole: columns > 1,
        });
        if (plan !== null) return { plan, shown: ranked, drawing };
      }
  const drawing = DRAWING_HEIGHTS.length - 1;
  const height = heightBelow(drawing) - (NOTES_PART - NOTES_WHOLE) * NOTE_LINE;
  let best: { readonly plan: Plan; readonly shown: readonly number[]; readonly drawing: number } | null = null;
  for (const columns of COLUMNS) {
    let [low, high] = [0, ranked.length];
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      const plan = layRoutes(derived, measure, ranked.slice(0, middle), {
        size: LEAST_SIZE,
        columns,
        width,
        height,
        whole: false,
      });
      if (plan === null) high = middle - 1;
      else {
        low = middle;
        if (best === null || middle > best.shown.length) best = { plan, shown: ranked.slice(0, middle), drawing };
      }
    }
  }
  return best;
}

/** N, or R in white on black. */
function drawLie(pen: Pen, lie: 'normal' | 'reverse', [x, y]: Spot, [wide, row]: Spot, size: Millimetre): void {
  const tall = Math.min(row - 0.7, size * 1.16);
  if (lie === 'reverse') pen.rect([x + 0.35, y + (row - tall) / 2], [wide - 0.7, tall], { fill: BLACK, radius: 0.7 });
  pen.text([x + wide / 2, y + row / 2 + capitalOf(size) / 2], lie === 'reverse' ? 'R' : 'N', {
    font: lie === 'reverse' ? 'text-700' : 'text-400',
    size,
    anchor: 'middle',
    fill: lie === 'reverse' ? WHITE : BLACK,
  });
}

function drawBlock(
  pen: Pen,
  { block, rows: [from, to], column, y: offset }: PlacedBlock,
  plan: Plan,
  [left, top]: readonly [Millimetre, Millimetre],
  nameOf: (id: string) => string,
  short: ReadonlyMap<string, string>,
): void {
  const { size, columnWide, nameWide, cell, across, line: row } = plan;
  const x = left + column * (columnWide + GUTTER);
  let y = top + offset;
  const base = (at: Millimetre): Millimetre => at + row / 2 + capitalOf(size) / 2;
  const wide = columnWide;
  const chunks = Math.max(1, Math.ceil(block.levers.length / across));
  const heads = headLines(pen.measure, nameOf, block, size, nameWide, chunks);
  pen.rect([x, y], [wide, row * heads], { fill: BAND });
  const begun = pen.text([x + INSET, base(y)], nameOf(block.from), {
    font: 'text-700',
    size,
    most: wide - 2 * INSET,
    least: size,
  });
  const by = block.through.length === 0 ? '' : `by ${listed(block.through.map(nameOf))}`;
  const after = x + INSET + begun + size * 0.3;
  if (by !== '')
    pen.text([after, base(y)], by, { size, most: Math.max(1, x + wide - INSET - after), least: LEAST_SIZE });
  const drawNumbers = (chunk: number): void => {
    for (const [i, lever] of block.levers.slice(chunk * across, (chunk + 1) * across).entries())
      pen.text([x + nameWide + (i + 0.5) * cell, base(y)], short.get(lever) ?? lever, {
        font: 'text-700',
        size,
        anchor: 'middle',
        most: cell - 0.4,
      });
  };
  if (chunks === 1) {
    y += row * (heads - 1);
    drawNumbers(0);
  }
  y += row;
  for (const [k, { to: place, again: another, cells }] of block.rows.slice(from, to).entries()) {
    const again = another && k > 0;
    for (let chunk = 0; chunk < chunks; chunk++) {
      const indent = INSET + (again ? size * 0.8 : 0);
      if (chunk === 0)
        pen.text([x + indent, base(y)], again ? 'or' : nameOf(place), {
          font: again ? 'text-400' : 'text-600',
          size,
          most: nameWide - indent - 0.6,
          least: LEAST_SIZE,
        });
      if (chunks > 1) {
        drawNumbers(chunk);
        y += row;
      }
      for (const [i, lie] of cells.slice(chunk * across, (chunk + 1) * across).entries())
        if (lie !== null) drawLie(pen, lie, [x + nameWide + i * cell, y], [cell, row], size);
      if (chunk === 0 && cells.every((lie) => lie === null))
        pen.text([x + nameWide, base(y)], 'no lever', { size, most: wide - nameWide });
      y += row;
      pen.line([x, y], [x + wide, y], { stroke: '#8a8a8a', width: HAIR });
    }
  }
}

/** What the card leaves out, and where it stands. */
function notesOf(
  derived: Derived,
  shown: number,
  size: Millimetre,
  without: { readonly tags: readonly string[]; readonly names: readonly string[] } | null,
): readonly string[] {
  const { routes, cut, limit } = derived.routes();
  const unset = routes.filter((route) => route.levers === null).length;
  const left = routes.length - unset - shown;
  const distance = DISTANCES[SIZES.indexOf(size)] ?? ARM_BENT;
  const lost =
    without === null
      ? []
      : [
          ...(without.tags.length > 0 ? [`the levers of ${counted(without.tags.length, 'point')}`] : []),
          ...(without.names.length > 0 ? [`the names of ${counted(without.names.length, 'place')}`] : []),
        ];
  return [
    `In grey one end of the routes, below it the other; every route runs both ways. Blank: either will do. Which routes cannot stand together: see the control table.`,
    ...(left > 0
      ? [
          `Not on this card: ${left} of ${counted(routes.length, 'route')}. One way for each two places comes first, between ends of track before roads. All stand in the control table and in routes.csv.`,
        ]
      : []),
    ...(unset > 0 ? [`The levers cannot set ${counted(unset, 'route')}: the control table says why.`] : []),
    ...(cut ? [`Only the first ${limit} routes are listed at all.`] : []),
    ...(without === null ? ['The track with its levers is too large to be drawn here: see the face.'] : []),
    ...(lost.length > 0 ? [`The drawing has no room for ${listed(lost)}: see the face and the list of levers.`] : []),
    `Capitals of the routes are ${mm(capitalOf(size))} mm high: at least 16 minutes of arc from ${distance} mm (NUREG-0700).`,
  ];
}

/** The card; none where no lever sets a route. */
export function routeCard(derived: Derived, setting: Setting): Leaf[] {
  const { sheet, measure } = setting;
  const { plan } = derived;
  const { routes } = derived.routes();
  const ranked = rankRoutes(plan, routes);
  if (ranked.length === 0 || plan.levers.length === 0) return [];
  const nameOf = placeNames(derived);
  const short = shortLevers(plan.levers.map((lever) => lever.id));
  const tags = new Map(
    plan.levers.flatMap((lever) => lever.works.map(({ point }) => [point, short.get(lever.id) ?? lever.id] as const)),
  );
  const leaf = newLeaf(setting);
  leaf.bookmarks.push({ title: 'Route card', level: 0 });
  leaf.names.push('card');
  const { pen } = leaf;

  const headBottom = sheet.top + 12.5;
  // Drawn at one height after another only as far as they are tried. One that cannot show the levers is of no use here.
  const known = new Map<number, Diagram | null>();
  const drawingAt = (index: number): Diagram | null => {
    let drawing = known.get(index);
    if (drawing === undefined) {
      const laid = layDiagram(derived, measure, {
        most: [sheet.width, DRAWING_HEIGHTS[index] ?? 0],
        sizes: SIZES.filter((size) => size <= LARGEST_TAG),
        smaller: [pt(11), pt(9.5), SMALLEST],
        tags,
      });
      drawing = laid.without.tags.length <= tags.size * MOST_LOST ? laid : null;
      known.set(index, drawing);
    }
    return drawing;
  };
  const topAt = (index: number): Millimetre => headBottom + (drawingAt(index)?.size[1] ?? -5) + 5;
  const found = chooseLayout(
    derived,
    measure,
    ranked,
    sheet.width,
    (index) => sheet.bottom - NOTES_WHOLE * NOTE_LINE - topAt(index),
  );
  if (found === null) return [];
  const drawing = drawingAt(found.drawing);
  const top = topAt(found.drawing);

  pen.text([sheet.left, sheet.top + 6], 'Route card', { font: 'plate-600', size: pt(17) });
  drawKey(pen, sheet.right, sheet.top + 0.8, derived, short);
  drawing?.draw(pen, [sheet.left + (sheet.width - drawing.size[0]) / 2, headBottom]);
  for (const block of found.plan.placed) drawBlock(pen, block, found.plan, [sheet.left, top], nameOf, short);

  const notes = notesOf(derived, found.shown.length, found.plan.size, drawing?.without ?? null).flatMap((note) =>
    measure.wrap(note, 'text-400', pt(8.4), sheet.width),
  );
  let y = sheet.bottom - notes.length * NOTE_LINE + 2.6;
  for (const note of notes) {
    pen.text([sheet.left, y], note, { size: pt(8.4) });
    y += NOTE_LINE;
  }
  return [leaf];
}

/** What N and R are, as large as the table below. */
function drawKey(
  pen: Pen,
  right: Millimetre,
  y: Millimetre,
  derived: Derived,
  short: ReadonlyMap<string, string>,
): void {
  const size = LEAST_SIZE;
  const row = size * PITCH;
  const base = y + row / 2 + capitalOf(size) / 2;
  const straight = derived.plan.levers.every((lever) => lever.angle === 0);
  const first = [...short].find(([id, text]) => id !== text);
  let x = right;
  for (const [lie, words] of [
    ['reverse', straight ? 'reverse, bat down' : 'reverse'],
    ['normal', straight ? 'normal, bat up' : 'normal'],
  ] as const) {
    x -= pen.text([x, base], words, { font: 'text-600', size, anchor: 'end' }) + 1.4 + row;
    if (lie === 'normal')
      pen.rect([x + 0.35, y + 0.35], [row - 0.7, row - 0.7], { stroke: BLACK, width: HAIR, radius: 0.7 });
    drawLie(pen, lie, [x, y], [row, row], size);
    x -= 4;
  }
  if (first !== undefined) {
    const radius = row / 2 - 0.2;
    const said = `lever ${first[0]}`;
    x -= pen.text([x, base], said, { font: 'text-600', size, anchor: 'end' }) + 1.4 + row;
    pen.circle([x + row / 2, y + row / 2], radius, { fill: WHITE, stroke: BLACK, width: FIRM });
    pen.text([x + row / 2, base], first[1], { font: 'text-700', size, anchor: 'middle' });
  }
}
