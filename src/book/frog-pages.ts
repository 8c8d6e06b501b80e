/** The frog table: which rail each frog takes when, from where, with a small drawing of each point from its toe. */
import type { Derived } from '../derive.ts';
import type { Lies } from '../panel/index.ts';
import { byId, type SpanEnd } from '../plan/index.ts';
import type { BusWire, FrogCase, TrackFrog } from '../track/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { pt } from './page.ts';
import { BLACK, FIRM, HAIR, type Pen, SMALLEST } from './pen.ts';
import { drawFrog, drawRail } from './rail-drawing.ts';
import { capitalOf } from './reading-distance.ts';
import { type Flow, LEADING, type Setting } from './sheet.ts';
import { TICK } from './table.ts';
import { listed } from './words.ts';

const KINDS: Readonly<Record<TrackFrog['kind'], string>> = {
  live: 'live',
  dead: 'dead',
  module: 'fed by a module',
  'not-said': 'not said',
};

/** "P1 N and P2 R". */
function liesWords(lies: Lies): string {
  return listed(
    Object.entries(lies)
      .sort(([a], [b]) => byId(a, b))
      .map(([point, lie]) => `${point} ${lie === 'normal' ? 'N' : 'R'}`),
  );
}

/** When, and what it takes then: "P1 normal", "left rail, wire B". */
export function takesWords(each: FrogCase): readonly [when: string, takes: string] {
  const when = listed(
    Object.entries(each.when)
      .sort(([a], [b]) => byId(a, b))
      .map(([point, lie]) => `${point} ${lie}`),
  );
  const line = each.strip === null ? '' : `line ${each.strip}`;
  return [when === '' ? line : when, `${each.rail} rail, ${each.bus === null ? 'by its section' : `wire ${each.bus}`}`];
}

/** What feeds it, in words. */
export function fedWords(frog: TrackFrog): string {
  if (frog.kind === 'dead') return 'it is dead: no feed';
  if (frog.fixed)
    return frog.normal.bus === null ? 'joined to one rail for good' : `joined to wire ${frog.normal.bus} for good`;
  if (frog.kind === 'module') return 'its own module';
  if (frog.contact !== null)
    return frog.contact.stated ? `contact ${frog.contact.id}` : `contact ${frog.contact.id}, proposed`;
  if (frog.wants === 'nothing') return '';
  return frog.wants === 'module' ? 'a module: no point tells it' : 'no contact is free: a module or a relay';
}

/** What to know of it besides. */
function notesOf(frog: TrackFrog): readonly string[] {
  const own: Readonly<Record<TrackFrog['what'], string | null>> = {
    point: null,
    'slip-end':
      frog.toldBy === null
        ? null
        : `One end of a slip: the blades of the other end, ${frog.toldBy}, choose the way out here, so their contact feeds this frog.`,
    'three-way': frog.toldBy === null ? null : `One of the frogs of a three-way: it goes by ${frog.toldBy}.`,
    'diamond-acute': 'Where the two lines of a diamond meet at a small angle: it goes by the line in use.',
    'diamond-obtuse': 'In the middle of a diamond: it goes by the line in use.',
  };
  const said = own[frog.what];
  return [
    ...(said === null ? [] : [said]),
    ...frog.care.map(
      ({ way, set }) => `For the way ${liesWords(way)} set ${liesWords(set)} too, or the frog is wrong for it.`,
    ),
  ];
}

const PICTURE: Millimetre = 27;
const SIZE: Millimetre = pt(8.8);
const LINE: Millimetre = SIZE * LEADING;
const ROW: Millimetre = 12;
const COLUMNS = {
  id: PICTURE + 3,
  kind: PICTURE + 19,
  normal: PICTURE + 35,
  reverse: PICTURE + 74,
  fed: PICTURE + 113,
};

/** Heading, sentences, head and two rows: they stay together, mm. */
const FIRST_ROWS: Millimetre = 62;

/** Draw the table into the flow; nothing where there is no frog. */
export function drawFrogTable(flow: Flow, setting: Setting, derived: Derived): void {
  const { sheet, measure } = setting;
  const { frogs } = derived.track();
  if (frogs.length === 0) return;
  flow.need(FIRST_ROWS);
  flow.heading('Frogs', 'left and right are seen from the toe towards the frog, from above');
  flow.y += 1;
  flow.paragraph(
    'From below, where the wires are, left and right change sides: go by the wires A and B. Take the contact that is closed when the point lies as said, try it with a meter, and only then join it to the frog.',
    { size: pt(9) },
  );
  if (frogs.some((frog) => frog.kind === 'not-said'))
    flow.paragraph(
      'Not said: the file does not say what kind of frog it is; what stands here is what it wants if it is live.',
      { size: pt(9) },
    );
  const x = (column: keyof typeof COLUMNS): Millimetre => sheet.left + COLUMNS[column];
  const ends = { id: 18, kind: 19, normal: 31, reverse: 31, fed: sheet.right - TICK - 2 - x('fed') };
  const head = (): void => {
    flow.y += 4.6;
    const pen = flow.pen();
    for (const [at, title] of [
      [sheet.left, 'From the toe'],
      [x('id'), 'Frog, of'],
      [x('kind'), 'Kind'],
      [x('normal'), 'It takes with'],
      [x('reverse'), 'and with'],
      [x('fed'), 'From'],
    ] as const)
      pen.text([at, flow.y - 1.3], title, { size: SMALLEST, fill: '#3a3a3a' });
    pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: BLACK, width: FIRM });
  };
  flow.need(6 + 2 * ROW);
  head();
  for (const frog of frogs) {
    const dead = frog.kind === 'dead';
    const cells = {
      kind: measure.wrap(KINDS[frog.kind], 'text-400', SIZE, ends.kind),
      normal: (dead ? ['nothing'] : takesWords(frog.normal)).flatMap((text) =>
        measure.wrap(text, 'text-400', SIZE, ends.normal),
      ),
      reverse: (dead ? [] : takesWords(frog.reverse)).flatMap((text) =>
        measure.wrap(text, 'text-400', SIZE, ends.reverse),
      ),
      fed: measure.wrap(fedWords(frog), 'text-400', SIZE, ends.fed),
    };
    const notes = notesOf(frog).flatMap((note) => measure.wrap(note, 'text-400', SIZE, sheet.right - x('normal')));
    const lines = Math.max(2, ...Object.values(cells).map((cell) => cell.length));
    const tall = Math.max(ROW, (lines + notes.length) * LINE + 3.4);
    if (flow.need(tall)) head();
    const pen = flow.pen();
    const base = flow.y + 1.2 + LINE;
    if (frog.what === 'point') drawFromToe(pen, derived, frog, [sheet.left, flow.y]);
    else drawCrossing(pen, frog, [sheet.left, flow.y]);
    pen.text([x('id'), base], frog.id, { font: 'text-700', size: SIZE, most: ends.id });
    pen.text([x('id'), base + LINE], `of ${frog.of}`, { size: SIZE, most: ends.id });
    for (const [column, cell] of Object.entries(cells) as [keyof typeof cells, readonly string[]][])
      for (const [i, line] of cell.entries()) pen.text([x(column), base + i * LINE], line, { size: SIZE });
    for (const [i, note] of notes.entries()) pen.text([x('normal'), base + (lines + i) * LINE], note, { size: SIZE });
    pen.rect([sheet.right - TICK, flow.y + 2], [TICK, TICK], { stroke: BLACK, width: FIRM });
    flow.y += tall;
    pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: '#9a9a9a', width: HAIR });
  }
  flow.y += 3;
}

/** The wires of the outer rails of a point, left and right as seen from its toe; null: changed over by a section. */
function stockWires(derived: Derived, point: string): readonly [BusWire | null, BusWire | null] {
  const toe = derived.plan.points.find((each) => each.id === point)?.toe;
  const rails = derived.track().rails.find((each) => each.span === toe?.span);
  if (toe === undefined || rails === undefined) return [null, null];
  // At its end 1 the span is travelled from 0 to 1 towards the point, as its rails are named.
  return toe.end === 1 ? [rails.left, rails.right] : [rails.right, rails.left];
}

/** A point seen from above with its toe at the left: outer rails with their wires, its legs with N and R, the frog. */
function drawFromToe(pen: Pen, derived: Derived, frog: TrackFrog, [left, top]: Spot): void {
  const [upper, lower] = stockWires(derived, frog.of);
  const y = top + ROW / 2;
  const half = 1.5;
  const [toe, split, end] = [left + 3.4, left + 8.5, left + PICTURE - 4];
  const rise = 2.5;
  const slope = rise / (end - split);
  // Left leg upwards, right leg downwards; the inner rails cross at the frog.
  drawRail(
    pen,
    [
      [toe, y - half],
      [split, y - half],
      [end, y - half - rise],
    ],
    upper,
  );
  drawRail(
    pen,
    [
      [toe, y + half],
      [split, y + half],
      [end, y + half + rise],
    ],
    lower,
  );
  const cross = split + half / slope;
  const at: Spot = [Math.min(cross, end - 3), y];
  const open = 1.7;
  // Each inner rail carries on the stock rail of the other side, so it is drawn as that one is.
  const inner = (side: 1 | -1): Spot => [end, y + side * Math.max(0.7, slope * (end - at[0]))];
  drawRail(pen, [[at[0] + open, y + (inner(-1)[1] - y) * (open / (end - at[0]))], inner(-1)], lower);
  drawRail(pen, [[at[0] + open, y + (inner(1)[1] - y) * (open / (end - at[0]))], inner(1)], upper);
  drawRail(
    pen,
    [
      [split + 1, y + half * 0.82],
      [at[0] - open, y + 0.36],
    ],
    lower,
  );
  drawRail(
    pen,
    [
      [split + 1, y - half * 0.82],
      [at[0] - open, y - 0.36],
    ],
    upper,
  );
  drawFrog(pen, at);
  const letters = { size: SMALLEST, font: 'text-700' } as const;
  const drop = capitalOf(SMALLEST) / 2;
  pen.text([toe - 0.8, y - half + drop], upper ?? '', { ...letters, anchor: 'end' });
  pen.text([toe - 0.8, y + half + drop + 0.2], lower ?? '', { ...letters, anchor: 'end' });
  const [first] = frog.legs;
  const normal = derived.plan.points.find((each) => each.id === frog.of)?.normal;
  const same = (a: SpanEnd | undefined, b: SpanEnd | undefined): boolean => a?.span === b?.span && a?.end === b?.end;
  const leftIsNormal = same(first, normal);
  pen.text([end + 1, y - half - rise + drop + 0.6], leftIsNormal ? 'N' : 'R', letters);
  pen.text([end + 1, y + half + rise + drop - 0.6], leftIsNormal ? 'R' : 'N', letters);
}

/** Two lines that cross, or fork three ways, and where on them the frog is; the wires hang on which line is in use. */
function drawCrossing(pen: Pen, frog: TrackFrog, [left, top]: Spot): void {
  const [x0, x1, y] = [left + 3.4, left + PICTURE - 4, top + ROW / 2];
  const rise = 3;
  const middle = (x0 + x1) / 2;
  const thin = { stroke: BLACK, width: HAIR };
  if (frog.what === 'three-way') {
    for (const k of [-1, 0, 1])
      for (const side of [-1, 1])
        pen.polyline(
          [
            [x0, y + side],
            [x0 + 5, y + side],
            [x1, y + side + k * rise],
          ],
          thin,
        );
    drawFrog(pen, [middle + 1.5, y]);
    return;
  }
  // Crossing rails: the acute frogs lie at the ends of the lozenge, the obtuse ones in its middle.
  for (const k of [-1, 1])
    for (const side of [-1, 1]) pen.line([x0, y + k * rise + side], [x1, y - k * rise + side], thin);
  const reach = ((x1 - x0) / 2 / rise) * 1;
  if (frog.what === 'diamond-obtuse') {
    drawFrog(pen, [middle, y - 1]);
    drawFrog(pen, [middle, y + 1]);
  } else if (frog.what === 'slip-end') drawFrog(pen, [middle - reach, y]);
  else for (const side of [-1, 1]) drawFrog(pen, [middle + side * reach, y]);
}
