/** The control table, and which routes cannot stand together. */
import type { Derived } from '../derive.ts';
import type { Lever } from '../plan/index.ts';
import type { Route } from '../routes/index.ts';
import type { Millimetre } from '../units/index.ts';
import { pt } from './page.ts';
import { BLACK, HAIR, SMALLEST } from './pen.ts';
import { type Flow, LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { counted, listed, placeNames } from './words.ts';

const SIZE: Millimetre = pt(8.4);
const LINE: Millimetre = SIZE * LEADING;
/** Above and below the lines of a row, mm. */
const PAD: Millimetre = 0.85;
/** Columns: number, from and to, by which roads. */
const NUMBER: Millimetre = 7;
const NAMES: Millimetre = 41;
const ROADS: Millimetre = 24;
const LEFT: Millimetre = NUMBER + NAMES + ROADS;
const LEVER_CELL: Millimetre = 9;
const LEAST_CELL: Millimetre = 7;
const GREY = '#b5b5b5';

/**
 * Routes down, levers across: N and R, blank where either will do; why, where the levers cannot set it. Many levers make several
 * tables one below the other. Then the chart of what cannot stand together.
 */
export function controlPages(derived: Derived, setting: Setting): Leaf[] {
  const { sheet } = setting;
  const { routes, cut, limit } = derived.routes();
  const levers = derived.plan.levers;
  if (routes.length === 0) return [];
  const flow = startFlow(setting, {
    title: 'Control table',
    lead: 'N: the lever must lie normal. R: reverse. Blank: either will do. Routes run both ways; each is listed once.',
    name: 'control',
    bookmark: { title: 'Control table', level: 0 },
  });
  if (cut) flow.paragraph(`Only the first ${limit} routes are listed.`);
  const per = Math.max(1, Math.floor((sheet.width - LEFT) / LEAST_CELL));
  const several = levers.length > per;
  for (let from = 0; from < Math.max(1, levers.length); from += per) {
    const part = levers.slice(from, from + per);
    if (several)
      flow.heading(
        `Levers ${part[0]?.id ?? ''} to ${part.at(-1)?.id ?? ''}`,
        'routes that ask none of these are left out',
      );
    // A route that no lever can set, or that asks nothing of any, is listed once, with the first levers.
    const shown = routes.flatMap((route, index) => {
      const { levers: asked } = route;
      const here =
        asked === null || Object.keys(asked).length === 0
          ? from === 0
          : !several || part.some((lever) => asked[lever.id] !== undefined);
      return here ? [{ route, no: index + 1 }] : [];
    });
    drawTable(flow, setting, part, shown, placeNames(derived));
  }
  return [...flow.leaves, ...drawStanding(derived, setting, flow)];
}

function drawTable(
  flow: Flow,
  { sheet, measure }: Setting,
  levers: readonly Lever[],
  shown: readonly { readonly route: Route; readonly no: number }[],
  nameOf: (id: string) => string,
): void {
  const cell = Math.min(LEVER_CELL, (sheet.width - LEFT) / Math.max(1, levers.length));
  const at = { names: sheet.left + NUMBER, roads: sheet.left + NUMBER + NAMES, levers: sheet.left + LEFT };
  const head = (): void => {
    const pen = flow.pen();
    flow.y += 5;
    const grey = { size: SMALLEST, fill: '#3a3a3a' };
    pen.text([at.names - 2, flow.y - 1.4], 'No', { ...grey, anchor: 'end' });
    pen.text([at.names, flow.y - 1.4], 'From, to', grey);
    pen.text([at.roads, flow.y - 1.4], 'By', grey);
    for (const [i, lever] of levers.entries())
      pen.text([at.levers + (i + 0.5) * cell, flow.y - 1.4], lever.id, {
        font: 'text-700',
        size: SMALLEST,
        anchor: 'middle',
        most: cell,
      });
  };
  const rows = shown.map(({ route, no }) => {
    const names = measure.wrap(`${nameOf(route.from)} to ${nameOf(route.to)}`, 'text-400', SIZE, NAMES - 2);
    const roads =
      route.through.length === 0 ? [] : measure.wrap(listed(route.through.map(nameOf)), 'text-400', SIZE, ROADS - 2);
    const why =
      route.levers === null
        ? measure.wrap(`cannot be set: ${route.why ?? 'no lever works it'}`, 'text-400', SIZE, sheet.right - at.levers)
        : [];
    const lines = Math.max(1, names.length, roads.length, why.length);
    return { route, no, names, roads, why, tall: lines * LINE + 2 * PAD };
  });
  flow.need((rows[0]?.tall ?? 0) + (rows[1]?.tall ?? 0) + 6);
  head();
  for (const [k, { route, no, names, roads, why, tall }] of rows.entries()) {
    if (flow.need(tall)) head();
    const pen = flow.pen();
    const base = flow.y + PAD + LINE * 0.76;
    pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: k % 5 === 0 ? '#555555' : GREY, width: HAIR });
    pen.text([at.names - 2, base], String(no), { size: SIZE, anchor: 'end', fill: '#3a3a3a' });
    for (const [lines, x] of [
      [names, at.names],
      [roads, at.roads],
      [why, at.levers],
    ] as const)
      for (const [i, line] of lines.entries()) pen.text([x, base + i * LINE], line, { size: SIZE });
    for (const [i, lever] of levers.entries()) {
      const lie = route.levers?.[lever.id];
      if (lie === undefined) continue;
      const x = at.levers + i * cell;
      if (lie === 'reverse') pen.rect([x + 0.5, flow.y + 0.5], [cell - 1, LINE + 2 * PAD - 1], { fill: '#dedede' });
      pen.text([x + cell / 2, base], lie === 'reverse' ? 'R' : 'N', {
        font: lie === 'reverse' ? 'text-700' : 'text-400',
        size: pt(9),
        anchor: 'middle',
      });
    }
    flow.y += tall;
  }
  flow.pen().line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: '#555555', width: HAIR });
  flow.y += 3;
}

/** More routes than this make cells too small to find. */
const MOST_CHARTED = 60;
const CHART_NAMES: Millimetre = 52;
const CHART_ROW: Millimetre = 3.5;
const MOST_CHART_CELL: Millimetre = 6;
/** What the marks are, and white, mm. */
const CHART_HEAD: Millimetre = 12;
/** Height of a cell as a share of its width: at least, and where there is room. */
const CELL_SHAPE = 0.9;
const MOST_CELL_SHAPE = 1.6;

/**
 * Every two routes in a triangle: what cannot stand together is marked, by why. Below the table where it has room there, else on a
 * page of its own, which is returned.
 */
function drawStanding(derived: Derived, setting: Setting, table: Flow): Leaf[] {
  const { sheet, measure } = setting;
  const { routes } = derived.routes();
  const conflicts = derived.conflicts();
  if (routes.length < 2) return [];
  const title = 'Routes that cannot stand together';
  const pairs = (routes.length * (routes.length - 1)) / 2;
  const told = `${conflicts.length} of ${counted(pairs, 'pair')}; each with its reason is in conflicts.csv`;
  const charted = routes.length <= MOST_CHARTED;
  const cell = Math.min(MOST_CHART_CELL, (sheet.width - CHART_NAMES - 8) / routes.length);
  const least = charted ? CHART_HEAD + routes.length * Math.max(CHART_ROW, cell * CELL_SHAPE) : CHART_HEAD;
  const below = table.y + least + 14 <= sheet.bottom;
  const flow = below
    ? table
    : startFlow(setting, {
        title,
        lead: `${told}.`,
        name: 'standing',
        bookmark: { title, level: 1 },
      });
  if (below) {
    flow.y += 5;
    flow.heading(title, told);
    flow.y += 2;
  }
  if (!charted) {
    flow.paragraph(
      `A chart of ${routes.length} routes would be too small to read: ${MOST_CHARTED} are the most that are drawn. Two routes stand together where no lever would have to lie both ways and they share no track.`,
    );
    return below ? [] : flow.leaves;
  }
  const reasons = new Map(conflicts.map(([i, j, reason]) => [i * routes.length + j, reason]));
  const nameOf = placeNames(derived);
  const row = Math.max(
    CHART_ROW,
    Math.min(cell * MOST_CELL_SHAPE, MOST_CHART_CELL, (sheet.bottom - flow.y - CHART_HEAD) / routes.length),
  );
  const pen = flow.pen();
  const left = sheet.left + CHART_NAMES;

  // What the marks are.
  flow.y += 1;
  let x = sheet.left;
  for (const [mark, words] of [
    ['point', 'a point would have to lie both ways'],
    ['track', 'they meet on one piece of track'],
    ['none', 'they can stand together'],
  ] as const) {
    drawMark(pen, mark, [x, flow.y], [3.6, 3.6]);
    x += 5 + pen.text([x + 5, flow.y + 2.8], words, { size: pt(9) }) + 7;
  }
  flow.y += 7.5;
  const top = flow.y;
  for (const [i, route] of routes.entries()) {
    const y = top + i * row;
    const base = y + row / 2 + SMALLEST * 0.33;
    pen.text([sheet.left + 5.4, base], String(i + 1), { size: SMALLEST, anchor: 'end', fill: '#3a3a3a' });
    const by = route.through.length === 0 ? '' : ` by ${listed(route.through.map(nameOf))}`;
    const whole = `${nameOf(route.from)} to ${nameOf(route.to)}`;
    const said = measure.width(whole + by, 'text-400', SMALLEST) <= CHART_NAMES - 9 ? whole + by : whole;
    pen.text([sheet.left + 7, base], said, { size: SMALLEST, most: CHART_NAMES - 9 });
    for (let j = 0; j < i; j++) {
      const reason = reasons.get(j * routes.length + i);
      drawMark(
        pen,
        reason === undefined ? 'none' : reason.startsWith('point:') ? 'point' : 'track',
        [left + j * cell, y],
        [cell, row],
      );
    }
    pen.text([left + i * cell + 0.8, base], String(i + 1), { font: 'text-700', size: SMALLEST });
    if (i % 5 === 0 && i > 0) pen.line([sheet.left, y], [left + i * cell, y], { stroke: '#555555', width: HAIR });
  }
  flow.y = top + routes.length * row + 2;
  return below ? [] : flow.leaves;
}

function drawMark(
  pen: ReturnType<Flow['pen']>,
  mark: 'point' | 'track' | 'none',
  [x, y]: readonly [Millimetre, Millimetre],
  [w, h]: readonly [Millimetre, Millimetre],
): void {
  if (mark === 'point') pen.rect([x + 0.12, y + 0.12], [w - 0.24, h - 0.24], { fill: '#4a4a4a' });
  else pen.rect([x, y], [w, h], { stroke: GREY, width: HAIR });
  if (mark === 'track') pen.circle([x + w / 2, y + h / 2], Math.min(w, h) * 0.26, { fill: BLACK });
}
