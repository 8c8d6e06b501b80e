/** The proving run as a sheet to tick: move by move, what is thrown before it, what it proves, and where the train stalled. */
import type { Derived } from '../derive.ts';
import type { Lie } from '../panel/index.ts';
import { byId } from '../plan/index.ts';
import type { ProvedLeg, ProvingMove, ProvingRun } from '../routes/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { pt } from './page.ts';
import { BLACK, EDGE, FIRM, HAIR, type Pen, SMALLEST, WHITE } from './pen.ts';
import { capitalOf } from './reading-distance.ts';
import { type Flow, LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { drawTable, type TableCell } from './table.ts';
import { layDiagram } from './track-diagram.ts';
import { counted, listed, placeNames } from './words.ts';

/** What a stall can be, by where it comes: common practice, no source. */
const STALLS: readonly (readonly [letter: string, title: string, says: string])[] = [
  ['F', 'At one frog', 'it has no power, or the wrong polarity: see its row in the frog table'],
  ['L', 'On one leg', 'its feed is open, or drops too much: look at its droppers'],
  ['E', 'Everywhere', 'dirt on the rails, or the bus: clean, then measure'],
  ['T', 'One train only', 'its wheels and pick-ups: try another'],
];

/** Columns across the sheet, mm from its left margin; the last two are counted from the right. */
const THROWS: Millimetre = 9;
const MOVE: Millimetre = 44;
const PROVES: Millimetre = 93;
const STALL_WIDE: Millimetre = 34;
const TICK_BOX: Millimetre = 4.6;
const TOKEN: Millimetre = 6;
const TOKEN_SIZE: Millimetre = pt(11);
const LEAST_ROW: Millimetre = 9.6;
const MOVE_SIZE: Millimetre = pt(10.5);
const PROVES_SIZE: Millimetre = pt(8.8);

/** "P4 N", "P5 N with P6 R". */
function legWords(leg: ProvedLeg): string {
  return listed(
    Object.entries(leg.points)
      .sort(([a], [b]) => byId(a, b))
      .map(([point, lie]) => `${point} ${lie === 'normal' ? 'N' : 'R'}`),
    'with',
  );
}

/** What a move takes for the first time, way by way: "facing P1 N, P3 R". */
export function provesWords(takes: readonly ProvedLeg[]): readonly string[] {
  return (['facing', 'trailing', 'across'] as const).flatMap((way) => {
    const legs = takes.filter((leg) => leg.way === way).map(legWords);
    return legs.length === 0 ? [] : [`${way} ${legs.join(', ')}`];
  });
}

/** How sure it is that no run is better, in words. */
export function boundWords(run: ProvingRun): string {
  if (run.proved) return 'No run turns back less often; of those, none throws fewer levers.';
  const { reversals, throws } = run.bound;
  return run.reversals === reversals
    ? `No run turns back less often. Any throws at least ${counted(throws, 'lever')}; whether one throws fewer than ${run.throws} was not worked out to the end.`
    : `Any run turns back at least ${counted(reversals, 'time')} and throws at least ${counted(throws, 'lever')}; whether one does with fewer than here was not worked out to the end.`;
}

export function provingPages(derived: Derived, setting: Setting): Leaf[] {
  const run = derived.proving();
  if (run.legs.all === 0) return [];
  const { sheet, measure } = setting;
  const flow = startFlow(setting, {
    title: 'Proving run',
    lead: 'A train over every leg of every point, facing and trailing. Begin with every lever normal. Drive slowly, with the engine that stalls most easily.',
    name: 'proving',
    bookmark: { title: 'Proving run', level: 0 },
  });
  flow.y += 1;
  drawTotals(flow, setting, run);
  const { plan } = derived;
  const drawing = layDiagram(derived, measure, {
    most: [sheet.width, 66],
    sizes: [pt(10), pt(9), SMALLEST],
    tags: new Map(plan.points.map((point) => [point.id, point.id])),
  });
  if (drawing.without.tags.length <= plan.points.length * MOST_LOST) {
    flow.need(drawing.size[1] + 6);
    drawing.draw(flow.pen(), [sheet.left + (sheet.width - drawing.size[0]) / 2, flow.y]);
    flow.y += drawing.size[1] + 3;
  }
  drawStalls(flow, setting);
  drawMoves(flow, setting, derived, run.moves);
  if (run.missed.length > 0) {
    flow.heading('Legs that the run does not reach', `${run.missed.length} of ${run.legs.all}`);
    const nameOf = placeNames(derived);
    drawTable(
      flow,
      sheet,
      [
        { title: 'Leg', width: { share: 1 }, font: 'text-700' },
        { title: 'Way', width: 16 },
        { title: 'From', width: { share: 1.2 } },
        { title: 'To', width: { share: 1.2 } },
        { title: 'Why', width: { share: 2.4 } },
      ],
      run.missed.map((leg): TableCell[] => [
        legWords(leg),
        leg.way,
        spanWords(leg.from, nameOf),
        spanWords(leg.to, nameOf),
        leg.why,
      ]),
    );
  }
  return flow.leaves;
}
/** A drawing that leaves out more than this share of the points is not shown. */
const MOST_LOST = 0.1;

/** "P1 to Tolland" for the span P1/tolland. */
function spanWords(span: string, nameOf: (id: string) => string): string {
  return span.replace(/#\d+$/, '').split('/').map(nameOf).join(' to ');
}

/** Four figures in a strip, and what is known of them. */
function drawTotals(flow: Flow, { sheet }: Setting, run: ProvingRun): void {
  const figures: readonly (readonly [figure: string, word: string, share: number])[] = [
    [String(run.moves.length), run.moves.length === 1 ? 'move' : 'moves', 0.19],
    [`${run.legs.covered} of ${run.legs.all}`, 'legs, each way', 0.33],
    [String(run.reversals), run.reversals === 1 ? 'time turned back' : 'times turned back', 0.26],
    [String(run.throws), run.throws === 1 ? 'throw of a lever' : 'throws of a lever', 0.22],
  ];
  const pen = flow.pen();
  pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: BLACK, width: 0.5 });
  let x = sheet.left;
  for (const [figure, word, share] of figures) {
    const cell = sheet.width * share;
    const wide = pen.text([x, flow.y + 7.6], figure, { font: 'plate-600', size: pt(18), most: cell * 0.6 });
    pen.text([x + wide + 1.6, flow.y + 7.6], word, { size: pt(9), most: cell - wide - 2 });
    x += cell;
  }
  pen.line([sheet.left, flow.y + 10.6], [sheet.right, flow.y + 10.6]);
  flow.y += 12.4;
  flow.paragraph(boundWords(run), { size: pt(9), after: 3 });
}

/** The letters to ring, and what each points to. */
function drawStalls(flow: Flow, { sheet, measure }: Setting): void {
  flow.heading('Where the train stalled, ring a letter', 'and write the point, leg or train beside it');
  const cell = sheet.width / STALLS.length;
  const texts = STALLS.map(([, , says]) => measure.wrap(says, 'text-400', SMALLEST, cell - 9));
  const tall = Math.max(...texts.map((lines) => lines.length)) * SMALLEST * LEADING;
  flow.y += 1.4;
  const pen = flow.pen();
  for (const [i, [letter, title]] of STALLS.entries()) {
    const x = sheet.left + i * cell;
    drawLetter(pen, letter, [x + 2.4, flow.y + 2.6]);
    pen.text([x + 6.4, flow.y + 3.8], title, { font: 'text-700', size: pt(9), most: cell - 8 });
    for (const [k, line] of (texts[i] ?? []).entries())
      pen.text([x + 6.4, flow.y + 3.8 + SMALLEST * LEADING * (k + 1)], line, { size: SMALLEST });
  }
  flow.y += 5.4 + tall + 1;
}

function drawLetter(pen: Pen, letter: string, [x, y]: Spot): void {
  const size = pt(9);
  pen.circle([x, y], 2.35, { stroke: '#9a9a9a', width: HAIR });
  pen.text([x, y + capitalOf(size) / 2], letter, { font: 'text-600', size, anchor: 'middle' });
}

/** A lever with how it must lie: reverse is white on black. Returns its width. */
function drawToken(pen: Pen, lever: string, lie: Lie, [x, y]: Spot): Millimetre {
  const wide = pen.measure.width(lever, 'text-700', TOKEN_SIZE) + 2.4;
  const letter = TOKEN - 0.4;
  const base = y + TOKEN / 2 + capitalOf(TOKEN_SIZE) / 2;
  pen.rect([x, y], [wide + letter, TOKEN], { radius: 0.8, fill: WHITE, stroke: BLACK, width: FIRM });
  if (lie === 'reverse') pen.rect([x + wide, y], [letter, TOKEN], { radius: 0.8, fill: BLACK });
  else pen.line([x + wide, y], [x + wide, y + TOKEN], { stroke: BLACK, width: HAIR });
  pen.text([x + wide / 2, base], lever, { font: 'text-700', size: TOKEN_SIZE, anchor: 'middle' });
  pen.text([x + wide + letter / 2, base], lie === 'reverse' ? 'R' : 'N', {
    font: 'text-700',
    size: TOKEN_SIZE,
    anchor: 'middle',
    fill: lie === 'reverse' ? WHITE : BLACK,
  });
  return wide + letter;
}

/** Tokens in lines no wider than their column. */
function tokenLines(pen: Pen, throws: readonly (readonly [string, Lie])[]): (readonly [string, Lie])[][] {
  const lines: (readonly [string, Lie])[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (const each of throws) {
    const wide = pen.measure.width(each[0], 'text-700', TOKEN_SIZE) + 2.4 + TOKEN - 0.4 + 1.4;
    const last = lines.at(-1);
    if (last === undefined || used + wide > MOVE - THROWS) {
      lines.push([each]);
      used = wide;
    } else {
      last.push(each);
      used += wide;
    }
  }
  return lines;
}

/** An arrow that comes back on itself. */
function drawTurn(pen: Pen, [x, y]: Spot): void {
  const r = 1.15;
  pen.path(
    [
      { go: 'move', to: [x + 1.6, y + r] },
      { go: 'line', to: [x - 0.6, y + r] },
      { go: 'arc', to: [x - 0.6, y - r], centre: [x - 0.6, y], radius: r, clockwise: true },
      { go: 'line', to: [x + 1.2, y - r] },
    ],
    { stroke: BLACK, width: EDGE * 0.75, cap: 'butt' },
  );
  pen.polyline(
    [
      [x + 2.6, y - r],
      [x + 0.9, y - r - 1.05],
      [x + 0.9, y - r + 1.05],
    ],
    { closed: true, fill: BLACK },
  );
}

function drawMoves(flow: Flow, setting: Setting, derived: Derived, moves: readonly ProvingMove[]): void {
  const { sheet, measure } = setting;
  const nameOf = placeNames(derived);
  const stall = sheet.right - STALL_WIDE;
  const box = stall - 4 - TICK_BOX;
  const provesWide = box - 3 - (sheet.left + PROVES);
  const head = (): void => {
    const pen = flow.pen();
    flow.y += 4.6;
    for (const [x, title] of [
      [sheet.left, 'No'],
      [sheet.left + THROWS, 'Throw first'],
      [sheet.left + MOVE, 'From, to'],
      [sheet.left + PROVES, 'Proves'],
      [box, 'Ran'],
      [stall, 'Stalled at'],
    ] as const)
      pen.text([x, flow.y - 1.3], title, { size: SMALLEST, fill: '#3a3a3a' });
    pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: BLACK, width: FIRM });
  };
  const levers = new Set(derived.plan.levers.map((lever) => lever.id));
  const byHand = moves.some((move) => Object.keys(move.throws).some((id) => !levers.has(id)));
  flow.heading(
    'Moves in order',
    `bent arrow: turn back first${byHand ? '; a point in place of a lever: nothing works it, set it by hand' : ''}`,
  );
  head();
  for (const [i, move] of moves.entries()) {
    const lines = tokenLines(flow.pen(), Object.entries(move.throws));
    // A point and its lie are never parted.
    const proves = provesWords(move.takes)
      .map((text) => text.replace(/ (?=[NR]\b)/g, '\u00a0'))
      .flatMap((text) => measure.wrap(text, 'text-400', PROVES_SIZE, provesWide));
    const notes = [
      ...(move.carried ? [`Carry the train to ${nameOf(move.from)} first: nothing joins them.`] : []),
      ...(move.through.length > 0 ? [`by ${listed(move.through.map(nameOf))}`] : []),
    ].flatMap((note) => measure.wrap(note, 'text-400', PROVES_SIZE, PROVES - MOVE - 8));
    const names = movedLines(setting, nameOf(move.from), nameOf(move.to));
    const tall = Math.max(
      LEAST_ROW,
      lines.length * (TOKEN + 1) + 2.6,
      proves.length * PROVES_SIZE * LEADING + 3.4,
      names.length * MOVE_SIZE * LEADING + notes.length * PROVES_SIZE * LEADING + 3,
    );
    if (flow.need(tall)) head();
    const pen = flow.pen();
    const y = flow.y;
    const first = y + 6.3;
    pen.text([sheet.left, first], String(i + 1), { font: 'text-700', size: pt(11) });
    if (lines.length === 0) pen.text([sheet.left + THROWS, first], 'nothing', { size: pt(9), fill: '#3a3a3a' });
    for (const [k, line] of lines.entries()) {
      let x = sheet.left + THROWS;
      for (const [lever, lie] of line) x += drawToken(pen, lever, lie, [x, y + 1.8 + k * (TOKEN + 1)]) + 1.4;
    }
    const indent = sheet.left + MOVE + 6;
    if (move.turns) drawTurn(pen, [sheet.left + MOVE + 1.6, first - capitalOf(MOVE_SIZE) / 2]);
    for (const [k, line] of names.entries())
      pen.text([indent, first + k * MOVE_SIZE * LEADING], line, { font: 'text-600', size: MOVE_SIZE });
    for (const [k, note] of notes.entries())
      pen.text([indent, first + (names.length - 1) * MOVE_SIZE * LEADING + (k + 1) * PROVES_SIZE * LEADING], note, {
        size: PROVES_SIZE,
      });
    if (proves.length === 0)
      pen.text([sheet.left + PROVES, first], 'nothing new: on the way', {
        size: PROVES_SIZE,
        fill: '#3a3a3a',
        most: provesWide,
      });
    for (const [k, text] of proves.entries())
      pen.text([sheet.left + PROVES, first + k * PROVES_SIZE * LEADING], text, { size: PROVES_SIZE });
    pen.rect([box, y + (LEAST_ROW - TICK_BOX) / 2], [TICK_BOX, TICK_BOX], { stroke: BLACK, width: FIRM });
    for (const [k, [letter]] of STALLS.entries()) drawLetter(pen, letter, [stall + 2.4 + k * 5.3, y + LEAST_ROW / 2]);
    pen.line([stall + 22.4, y + LEAST_ROW - 2.2], [sheet.right, y + LEAST_ROW - 2.2]);
    flow.y += tall;
    pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: '#9a9a9a', width: HAIR });
  }
  flow.y += 3;
}

/** "Tolland to Storage 2", the second place on a line of its own where both do not fit on one. */
function movedLines({ measure }: Setting, from: string, to: string): readonly string[] {
  const most = PROVES - MOVE - 8;
  const whole = `${from} to ${to}`;
  if (measure.width(whole, 'text-600', MOVE_SIZE) <= most) return [whole];
  return [`${from} to`, to].flatMap((line) => measure.wrap(line, 'text-600', MOVE_SIZE, most));
}
