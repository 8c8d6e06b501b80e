/** Plain tables of the book: levers, routes, holes, wires and parts. */
import type { Derived } from '../derive.ts';
import { listParts, type PartLine } from '../options/index.ts';
import type { Millimetre } from '../units/index.ts';
import { formatNumber, mm, money, size as sizeText, unitSigns } from './format.ts';
import { pt } from './page.ts';
import { BLACK, HAIR, SMALLEST } from './pen.ts';
import { type Flow, LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { type Column, drawTable, type TableCell, TICK } from './table.ts';
import { askedWords, counted, leverTitle, listed, ranges } from './words.ts';

/** Levers with what they work; a panel without levers gives no page, as with the other tables here. `pageOf` gives the page of a lever's circuit. */
export function leverPages(derived: Derived, setting: Setting, pageOf: (name: string) => number | null): Leaf[] {
  const { plan, switches } = derived;
  if (plan.levers.length === 0) return [];
  const flow = startFlow(setting, {
    title: 'Levers',
    lead: 'Bat up is normal, bat down is reverse, unless the switch lies along the leg that it sets.',
    name: 'levers',
    bookmark: { title: 'Levers', level: 0 },
  });
  const columns: Column[] = [
    { title: 'Lever', width: 11, font: 'text-700' },
    { title: 'Name', width: { share: 1.1 } },
    { title: 'Works', width: { share: 0.9 } },
    { title: 'Normal sets', width: { share: 1.2 } },
    { title: 'Reverse sets', width: { share: 1.2 } },
    { title: 'Switch', width: { share: 1 } },
    { title: 'Page', width: 9, anchor: 'end' },
  ];
  const rows = plan.levers.map((lever): TableCell[] => {
    const part = switches.find((each) => each.lever === lever.id)?.part;
    const page = pageOf(`circuit-${lever.id}`);
    return [
      lever.id,
      lever.name ?? '',
      lever.works.map((worked) => worked.point).join(', '),
      askedWords(lever, 'normal'),
      askedWords(lever, 'reverse'),
      part?.name ?? '',
      page === null ? '' : { text: String(page), link: `circuit-${lever.id}` },
    ];
  });
  drawTable(flow, setting.sheet, columns, rows);
  return flow.leaves;
}

/** How to drill: common practice, no source. */
const DRILLING =
  'Punch, pilot at 2 mm, then drill to size. Try a lamp in the first hole and ream if tight. Deburr, then paint, then tape; pierce the tape at each hole.';

/** What a line of holes needs beside the id: number, x, y, drill and box, mm. */
const HOLE_FIGURES: Millimetre = 40.2;

/** Every hole by its number, with its drill. */
export function holePages(derived: Derived, setting: Setting): Leaf[] {
  const { holes } = derived.face;
  if (holes.length === 0) return [];
  const flow = startFlow(setting, {
    title: 'Holes',
    lead: `${counted(holes.length, 'hole')}. x, y and drill in mm, from the top left corner of the face, seen from the front.`,
    name: 'holes',
    bookmark: { title: 'Holes', level: 0 },
  });
  const counts = new Map<number, number>();
  for (const hole of holes) counts.set(hole.drill, (counts.get(hole.drill) ?? 0) + 1);
  flow.paragraph(
    `Drills: ${listed([...counts].sort((a, b) => a[0] - b[0]).map(([drill, count]) => `${count} of ${sizeText(drill)} mm`))}.`,
  );
  flow.paragraph(DRILLING, { after: 2 });
  // Columns of lines to a page, top to bottom then left to right: three where every id has its room.
  const { sheet, measure } = setting;
  const gap = 6;
  const longest = Math.max(0, ...holes.map((hole) => measure.width(hole.id, 'text-700', pt(8.6))));
  const roomIn = (columns: number): Millimetre => (sheet.width - (columns - 1) * gap) / columns - HOLE_FIGURES;
  const across = [3, 2].find((columns) => longest <= roomIn(columns)) ?? 1;
  const wide = (sheet.width - (across - 1) * gap) / across;
  const row = pt(8.6) * LEADING + 1.7;
  let from = 0;
  while (from < holes.length) {
    if (from > 0) flow.turn();
    const per = Math.floor((sheet.bottom - flow.y - 7) / row);
    const lines = Math.min(per, Math.ceil((holes.length - from) / across));
    const pen = flow.pen();
    for (let column = 0; column < across; column++) {
      const x = sheet.left + column * (wide + gap);
      const part = holes.slice(from + column * lines, from + (column + 1) * lines);
      if (part.length === 0) continue;
      const at = {
        no: x + 5.4,
        id: x + 7.4,
        xs: x + wide - 24,
        ys: x + wide - 13.4,
        drill: x + wide - TICK - 1.6,
        box: x + wide - TICK,
      };
      const y0 = flow.y;
      for (const [title, tx, anchor] of [
        ['No', at.no, 'end'],
        ['Hole', at.id, 'start'],
        ['x', at.xs, 'end'],
        ['y', at.ys, 'end'],
        ['drill', at.drill, 'end'],
      ] as const)
        pen.text([tx, y0 + 4], title, { size: SMALLEST, fill: '#3a3a3a', anchor });
      for (const [i, hole] of part.entries()) {
        const y = y0 + 5.4 + i * row;
        const base = y + row * 0.7;
        pen.line([x, y], [x + wide, y], { stroke: '#9a9a9a', width: HAIR });
        pen.text([at.no, base], String(hole.no), { size: pt(8.6), anchor: 'end' });
        pen.text([at.id, base], hole.id, { size: pt(8.6), font: 'text-700', most: wide - HOLE_FIGURES });
        pen.text([at.xs, base], mm(hole.at[0]), { size: pt(8.6), anchor: 'end' });
        pen.text([at.ys, base], mm(hole.at[1]), { size: pt(8.6), anchor: 'end' });
        pen.text([at.drill, base], sizeText(hole.drill), { size: pt(8.6), anchor: 'end' });
        pen.rect([at.box, y + row / 2 - TICK / 2], [TICK, TICK], { stroke: BLACK, width: 0.3 });
      }
    }
    from += lines * across;
    flow.y += 5.4 + lines * row;
  }
  return flow.leaves;
}

const WIRE_SIZE: Millimetre = pt(8.4);
const WIRE_GAP: Millimetre = 1.6;
/** The widest end of a wire for which two lists fit beside each other, mm. */
const END_MOST: Millimetre = 15.4;

/** Every wire, lever by lever, what is in the panel before what is under the layout: cut, strip, number, solder, tick. */
export function wirePages(derived: Derived, setting: Setting): Leaf[] {
  if (derived.loom.wires.length === 0) return [];
  const full = layWires(derived, setting, WIRE_PAD);
  // A few rows alone on the last page: a little closer they stand on the one before.
  return full.leaves.length > 1 && full.y < WIRE_SHORT
    ? layWires(derived, setting, WIRE_PAD_CLOSE).leaves
    : full.leaves;
}

/** Above and below a row, mm, and where a last page ends that is all but empty. */
const WIRE_PAD: Millimetre = 0.5;
const WIRE_PAD_CLOSE: Millimetre = 0.42;
const WIRE_SHORT: Millimetre = 60;

function layWires(derived: Derived, setting: Setting, pad: Millimetre): Flow {
  const { loom, wiring, plan } = derived;
  const { sheet, measure } = setting;
  const fed = wiring.drives.filter((drive) => drive.com !== null && drive.feed !== null);
  const coils = fed.some((drive) => drive.part.coilOhms !== null) ? ', of coils n, r and com' : '';
  const boards = fed.some((drive) => drive.part.coilOhms === null) ? ', of a driver board a, b and p' : '';
  const contacts = wiring.contacts.some((each) => each.carrier.kind !== 'lever')
    ? ', of a contact c, n and r (common, closed in normal, closed in reverse)'
    : '';
  const flow = startFlow(setting, {
    title: 'Wiring list',
    lead: `${counted(loom.wires.length, 'wire')}. Lengths are cut lengths in mm with slack; those in brackets are a guess: measure yours. Tags are t, pins are a letter and a number, a lamp\u2019s leads are a (plus) and k (minus), those of a drive a and b${coils}${boards}${contacts}.`,
    name: 'wires',
    bookmark: { title: 'Wiring list', level: 0 },
  });
  const ends = loom.wires.flatMap((wire) => [wire.from, wire.to]);
  const across = ends.every((end) => measure.width(end, 'text-400', WIRE_SIZE) <= END_MOST) ? 2 : 1;
  const columns: Column[] = [
    { title: 'Wire', width: 10.5, font: 'text-700' },
    { title: 'From', width: { share: 1 } },
    { title: 'To', width: { share: 1 } },
    { title: 'Colour', width: 11 },
    { title: 'mm\u00b2', width: 7.5, anchor: 'end' },
    { title: 'Cut', width: 10, anchor: 'end' },
    { title: '', width: TICK, anchor: 'end' },
  ];
  const title = (circuit: string): string => {
    const lever = plan.levers.find((each) => each.id === circuit);
    if (lever !== undefined) return leverTitle(lever);
    const supply = wiring.supplies.find((each) => each.id === circuit);
    if (supply !== undefined) return supply.kind === 'cdu' ? `Capacitor unit ${supply.id}` : `Supply ${supply.id}`;
    const found = wiring.circuits.find((each) => each.id === circuit);
    if (found === undefined || found.drives.length > 0 || found.lamps.length === 0) return circuit;
    const steady = found.levers.length === 0 && found.follows.length === 0;
    return steady ? `${circuit}: lamps that show ${found.supply}` : `${circuit}: lamps lit by contacts`;
  };
  const circuits = [...new Set(loom.wires.map((wire) => wire.circuit))];
  for (const circuit of circuits) {
    const wires = loom.wires.filter((wire) => wire.circuit === circuit);
    flow.heading(title(circuit), counted(wires.length, 'wire'));
    for (const side of ['panel', 'layout'] as const) {
      const part = wires.filter((wire) => wire.side === side);
      if (part.length === 0) continue;
      if (side === 'layout') {
        flow.need(18);
        flow.paragraph('Under the layout', { size: SMALLEST, strong: true, after: 0 });
      }
      drawTable(
        flow,
        sheet,
        columns,
        part.map((wire): TableCell[] => [
          wire.id,
          wire.from,
          wire.to,
          wire.colour,
          sizeText(wire.gauge),
          wire.guess ? `(${formatNumber(wire.length)})` : formatNumber(wire.length),
          { tick: true },
        ]),
        // A second head within the same list says nothing new.
        {
          size: WIRE_SIZE,
          pad,
          across: part.length > 1 ? across : 1,
          gap: WIRE_GAP,
          bare: side === 'layout' && part.length < wires.length,
        },
      );
    }
  }
  return flow;
}

const GROUP_WORDS: Readonly<Record<PartLine['group'], string>> = {
  face: 'Face',
  switches: 'Switches, buttons, relays and feed',
  lamps: 'Lamps and resistors',
  connectors: 'Connectors',
  supply: 'Supply',
  wire: 'Wire',
  drives: 'Drives, under the layout',
};

/** Room for the line of the total, mm. */
const TOTAL: Millimetre = 14;

/** Parts with prices; what has no price is said to have none, and the total says so too. */
export function partPages(derived: Derived, setting: Setting): Leaf[] {
  const lines = listParts(derived);
  const { sheet } = setting;
  const flow = startFlow(setting, {
    title: 'Parts',
    lead: 'Prices are typical, of one piece or one metre, in your own money: type in what you pay. Blank: no typical price.',
    name: 'parts',
    bookmark: { title: 'Parts', level: 0 },
  });
  const columns: Column[] = [
    { title: 'Part', width: { share: 1.3 } },
    { title: 'For', width: { share: 1.4 } },
    { title: 'Count', width: 15, anchor: 'end' },
    { title: 'Each', width: 13, anchor: 'end' },
    { title: 'Sum', width: 15, anchor: 'end' },
    { title: 'Have', width: 9, anchor: 'end' },
  ];
  let total = 0;
  let unpriced = 0;
  const sumOf = (line: PartLine): number | null => {
    const sum = line.price === null ? null : line.price * line.count;
    if (sum === null) unpriced += 1;
    else total += sum;
    return sum;
  };
  for (const group of Object.keys(GROUP_WORDS) as PartLine['group'][]) {
    const part = lines.filter((line) => line.group === group);
    if (part.length === 0) continue;
    if (group === 'wire') {
      drawWireParts(flow, setting, part, sumOf);
      continue;
    }
    // The total never stands alone on a page.
    if (group === 'drives') flow.need(Math.min(24 + part.length * 14 + TOTAL, sheet.bottom - 60));
    flow.heading(GROUP_WORDS[group]);
    drawTable(
      flow,
      setting.sheet,
      columns,
      part.map((line): TableCell[] => {
        const sum = sumOf(line);
        return [
          line.part,
          ranges(line.for),
          line.unit === 'metre' ? `${formatNumber(line.count)} m` : String(line.count),
          line.price === null ? '' : money(line.price),
          sum === null ? '' : money(sum),
          { tick: true },
        ];
      }),
      { size: pt(8.6), pad: 0.6 },
    );
  }
  flow.need(TOTAL);
  flow.y += 3;
  const pen = flow.pen();
  pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: BLACK, width: 0.5 });
  pen.text(
    [sheet.left, flow.y + 5.6],
    unpriced === 0 ? 'Total' : `Total of what has a price; ${counted(unpriced, 'line')} without`,
    { font: 'text-700', size: pt(10.5) },
  );
  pen.text([sheet.right - 9 - 2.6, flow.y + 5.6], money(total), { font: 'text-700', size: pt(10.5), anchor: 'end' });
  return flow.leaves;
}

/** What the key of a line of wire begins and ends with: both stand in the heading. */
const WIRE_BEGINS = /^wire /;
const WIRE_ENDS = /, under the layout$/;

/** Metres by colour, in two lists beside each other; what a metre costs stands in the heading. */
function drawWireParts(
  flow: Flow,
  setting: Setting,
  lines: readonly PartLine[],
  sumOf: (line: PartLine) => number | null,
): void {
  for (const [heading, part] of [
    ['Wire in the panel', lines.filter((line) => !WIRE_ENDS.test(line.part))],
    ['Wire under the layout', lines.filter((line) => WIRE_ENDS.test(line.part))],
  ] as const) {
    if (part.length === 0) continue;
    const names = part.map((line) => unitSigns(line.part.replace(WIRE_BEGINS, '').replace(WIRE_ENDS, '')));
    const prices = new Set(
      part.flatMap((line, i) =>
        line.price === null ? [] : [`${(names[i] ?? '').split(' ').slice(0, 2).join(' ')} ${money(line.price)}`],
      ),
    );
    flow.heading(heading, prices.size === 0 ? undefined : `a metre of ${[...prices].join(', ')}`);
    drawTable(
      flow,
      setting.sheet,
      [
        { title: 'Wire', width: { share: 1 } },
        { title: 'Metres', width: 10, anchor: 'end' },
        { title: 'Sum', width: 10, anchor: 'end' },
        { title: '', width: TICK, anchor: 'end' },
      ],
      part.map((line, i): TableCell[] => {
        const sum = sumOf(line);
        return [names[i] ?? '', formatNumber(line.count), sum === null ? '' : money(sum), { tick: true }];
      }),
      { size: pt(8.6), pad: 0.6, across: part.length > 1 ? 2 : 1, gap: WIRE_GAP },
    );
  }
}
