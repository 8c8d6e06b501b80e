/** Every kind of circuit in the book: drawings read back against the wires, lists against what was worked out by hand. */
import { beforeAll, describe, expect, test } from 'vitest';
import { drawnIn, planCircuit } from '../../src/book/circuit-drawing.ts';
import { openFaces } from '../../src/book/faces.ts';
import { buildBook } from '../../src/book/index.ts';
import { layBook } from '../../src/book/lay-book.ts';
import { type Measure, measureWith } from '../../src/book/measure.ts';
import type { Op, Page } from '../../src/book/page.ts';
import { startPen } from '../../src/book/pen.ts';
import { drawRows, type Port, planRows } from '../../src/book/row-drawing.ts';
import { sheetOf } from '../../src/book/sheet.ts';
import { STROKE } from '../../src/book/symbols.ts';
import { type Combination, combine } from '../../src/cli/combine.ts';
import type { Derived } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import type { Spot } from '../../src/units/index.ts';
import type { Circuit } from '../../src/wiring/index.ts';
import { Joins } from './joins.ts';
import { derivePanel, readCsv, readFonts, textOf } from './load.ts';

const fonts = readFonts();
let measure: Measure;
beforeAll(async () => {
  measure = measureWith(await openFaces(fonts));
});

/** Four points one behind the other, each road lit by the way to it. */
const tree: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  name: 'Bramble Siding',
  face: { width: 420, height: 240 },
  strips: [0, 1, 2, 3, 4].map((i) => ({
    id: `s${i}`,
    path:
      i === 0
        ? [
            [0, 40],
            [400, 40],
          ]
        : [
            [60 * i - 20, 10 + 30 * i],
            [60 * i + 28, 40 + 30 * i],
            [400, 40 + 30 * i],
          ],
  })),
  points: [1, 2, 3, 4].map((i) => ({ id: `P${i}`, at: [60 * i - 20, 10 + 30 * i], drive: 'stall-2-wire' })),
  lamps: [0, 1, 2, 3, 4].map((i) => ({
    id: `H${i + 1}`,
    at: [320, 40 + 30 * i],
    shows: Object.fromEntries([
      ...Array.from({ length: i }, (_, k) => [`P${k + 1}`, 'reverse'] as const),
      ...(i < 4 ? [[`P${i + 1}`, 'normal'] as const] : []),
    ]),
  })),
  feed: { kind: 'reversing', supplies: ['S1'] },
  lighting: { scheme: 'tree', supply: 'S9' },
  supplies: [
    { id: 'S1', volts: 12, amps: 1 },
    { id: 'S9', volts: 12, amps: 1 },
  ],
};

/** Three points on a split feed, a lamp on each leg. */
const split: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  name: 'Bramble Siding',
  strips: [
    {
      id: 'main',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
    ...[40, 120, 200].map((x, i) => ({
      id: `leg${i + 1}`,
      path: [
        [x, 60],
        [x + 48, 90],
        [x + 70, 90],
      ] as [number, number][],
    })),
  ],
  points: [40, 120, 200].map((x, i) => ({ id: `P${i + 1}`, at: [x, 60], drive: 'stall-2-wire' })),
  lamps: [40, 120, 200].flatMap((x, i) => [
    { id: `N${i + 1}`, at: [x + 30, 60] as [number, number], shows: { [`P${i + 1}`]: 'normal' as const } },
    { id: `R${i + 1}`, at: [x + 60, 90] as [number, number], shows: { [`P${i + 1}`]: 'reverse' as const } },
  ]),
  feed: { kind: 'split', supplies: ['S1', 'S2'] },
  lighting: { scheme: 'across-feed' },
  supplies: [
    { id: 'S1', volts: 12, amps: 1 },
    { id: 'S2', volts: 12, amps: 1 },
  ],
};

const of = (combination: Combination): PanelFile => combine(combination);
const KINDS: readonly (readonly [string, PanelFile])[] = [
  ['reversing, in series', of({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'in-series' })],
  [
    'reversing, lamps behind a spare pole',
    of({ drive: 'limit-2-wire', feed: 'reversing', scheme: 'spare-pole', lamps: 4 }),
  ],
  [
    'reversing, two colours',
    of({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'drive-contact', lamp: 'led-5-red-green-3c' }),
  ],
  ['split, two lamps a leg', of({ drive: 'stall-2-wire', feed: 'split', scheme: 'across-feed', lamps: 2 })],
  ['split, three levers', split],
  ['half-wave, in series', of({ drive: 'stall-2-wire', feed: 'half-wave', scheme: 'in-series' })],
  [
    'half-wave, own resistors with guards',
    of({ drive: 'limit-2-wire', feed: 'half-wave', scheme: 'across-feed', arrange: 'own', guard: 'antiparallel' }),
  ],
  ['capacitor unit and relay', of({ drive: 'twin-coil', feed: 'unit', scheme: 'latching-relay', lamps: 2 })],
  ['buttons and relay', of({ drive: 'twin-coil', feed: 'unit', scheme: 'latching-relay', switch: 'buttons' })],
  [
    'charge, strings of lamps',
    of({ drive: 'twin-coil', feed: 'charge', scheme: 'spare-pole', lamps: 2, arrange: 'series' }),
  ],
  [
    'driver board, contacts on the blades',
    of({ drive: 'servo-board', feed: 'contact', scheme: 'blade-contact', lamps: 2 }),
  ],
  ['hand point', of({ drive: 'hand', feed: 'reversing', scheme: 'blade-contact' })],
  ['tree over four levers', tree],
];

/** A hundredth of a millimetre. */
const TOUCH = 0.01;
const near = (a: Spot, b: Spot): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < TOUCH;

/** What hangs together in a drawing, as an eye reads it: lines that meet at their ends, or at a dot. */
function readBack(ops: readonly Op[], ports: readonly Port[], joins: Joins, drawing: string): void {
  const isPort = (spot: Spot): readonly Port[] => ports.filter((port) => near(port.at, spot));
  const lines = ops.flatMap((op): (readonly [Spot, Spot])[] => {
    if (op.op !== 'line' || op.width !== STROKE) return [];
    // The line through a fuse is part of it.
    const [from, to] = [isPort(op.from), isPort(op.to)];
    const inside = [from, to].every((each) => each.some((port) => port.kind === 'terminal'));
    return inside ? [] : [[op.from, op.to]];
  });
  const dots = ops.flatMap((op) => (op.op === 'circle' && op.fill === '#000000' ? [op.at] : []));
  const name = (i: number): string => `${drawing} line ${i}`;
  const within = (spot: Spot, [a, b]: readonly [Spot, Spot]): boolean =>
    Math.abs(
      Math.hypot(spot[0] - a[0], spot[1] - a[1]) +
        Math.hypot(spot[0] - b[0], spot[1] - b[1]) -
        Math.hypot(a[0] - b[0], a[1] - b[1]),
    ) < TOUCH;
  for (const [i, one] of lines.entries()) {
    for (const [k, two] of lines.entries()) {
      const ends = one.some((a) => two.some((b) => near(a, b)));
      const dotted = dots.some((dot) => within(dot, one) && within(dot, two));
      if (i < k && (ends || dotted)) joins.join(name(i), name(k));
    }
    for (const port of ports)
      if (one.some((end) => near(end, port.at))) joins.join(name(i), `${port.kind} ${port.name}`);
  }
  // Ends of two symbols in one spot.
  for (const port of ports)
    for (const other of ports)
      if (near(port.at, other.at)) joins.join(`${port.kind} ${port.name}`, `${other.kind} ${other.name}`);
}

/** What hangs together by the wires of a circuit; a pin has a side in the panel and one under the layout. */
function byWires(derived: Derived, circuit: Circuit): Joins {
  const joins = new Joins();
  const pins = new Set(derived.wiring.connectors.flatMap((connector) => connector.pins.map((pin) => pin.id)));
  for (const wire of derived.wiring.wires.filter((each) => circuit.wires.includes(each.id))) {
    const end = (terminal: string): string =>
      wire.side === 'layout' && pins.has(terminal) ? `${terminal}~` : terminal;
    joins.join(`terminal ${end(wire.from)}`, `terminal ${end(wire.to)}`);
  }
  return joins;
}

const rowsOf = (derived: Derived, circuit: Circuit) => {
  const ladder = planCircuit(derived, circuit);
  const rows = planRows(
    { measure },
    derived,
    circuit,
    { width: 174, height: 220 },
    'why' in ladder ? new Set() : drawnIn(ladder),
  );
  if (rows === null) throw new Error(`${circuit.id} is not drawn`);
  return rows;
};

describe.each(KINDS)('%s', (_name, panel) => {
  const derived = derivePanel(panel);

  test('what is drawn hangs together as the wires say', () => {
    for (const circuit of derived.wiring.circuits) {
      const drawn = new Joins();
      const ports: Port[] = [];
      for (const [i, plan] of rowsOf(derived, circuit).entries()) {
        const pen = startPen(measure);
        const mine = drawRows(pen, plan, [20, 30]);
        readBack(pen.ops, mine, drawn, `${i}`);
        ports.push(...mine);
      }
      const terminals = ports.filter((port) => port.kind === 'terminal').map((port) => `terminal ${port.name}`);
      expect(drawn.sets(terminals)).toEqual(byWires(derived, circuit).sets(terminals));
    }
  });

  test('every part of a circuit and every pin is drawn once, and no drawing is wider than the sheet', () => {
    for (const circuit of derived.wiring.circuits) {
      const ladder = planCircuit(derived, circuit);
      const inLadder = 'why' in ladder ? new Set<string>() : drawnIn(ladder);
      const plans = rowsOf(derived, circuit);
      const ids = plans.flatMap((plan) => plan.laid.parts.map((each) => each.part.id));
      expect(new Set(ids).size).toBe(ids.length);
      const { wiring } = derived;
      const own = [wiring.lamps, wiring.resistors, wiring.diodes, wiring.capacitors, wiring.contacts]
        .flatMap((list): { readonly id: string; readonly circuit: string }[] => [...list])
        .filter((each) => each.circuit === circuit.id)
        .map((each) => each.id);
      expect(own.filter((id) => !ids.includes(id) && !inLadder.has(id))).toEqual([]);
      for (const plan of plans) expect(plan.width).toBeLessThanOrEqual(174);
    }
  });

  test('words in a drawing lie over no others', () => {
    for (const circuit of derived.wiring.circuits)
      for (const plan of rowsOf(derived, circuit)) {
        const pen = startPen(measure);
        drawRows(pen, plan, [20, 30]);
        const boxes = pen.ops.flatMap((op) => {
          if (op.op !== 'text') return [];
          const width = op.runs.reduce((sum, run) => sum + run.width, 0);
          const left = op.at[0] - (op.anchor === 'start' ? 0 : op.anchor === 'middle' ? width / 2 : width);
          // Capitals are seven tenths of the size (from the fonts' own figures, rounded).
          return [
            {
              text: op.runs.map((run) => run.text).join(''),
              left,
              right: left + width,
              top: op.at[1] - 0.7 * op.size,
              bottom: op.at[1],
            },
          ];
        });
        const over = boxes.flatMap((a, i) =>
          boxes
            .slice(i + 1)
            .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
            .map((b) => `${circuit.id}: ${a.text} and ${b.text}`),
        );
        expect(over).toEqual([]);
      }
  });

  test('the book is laid out, with a page for each circuit and nothing that says undefined', () => {
    const imprint = { panel: 'Bramble Siding', revision: 'A', date: null };
    const { pages } = layBook(derived, { measure, sheet: sheetOf('A4'), imprint, barMeasured: 100 });
    const names = new Set(pages.flatMap((page) => page.names));
    expect(derived.wiring.circuits.filter((circuit) => !names.has(`circuit-${circuit.id}`))).toEqual([]);
    const words = pages.map(wordsOf).join('\n');
    expect(words).not.toMatch(/undefined|NaN|Infinity|\bnull\b/);
  });
});

function wordsOf(page: Page): string {
  return page.ops.flatMap((op) => (op.op === 'text' ? [op.runs.map((run) => run.text).join('')] : [])).join('\n');
}

async function listsOf(panel: PanelFile): Promise<(list: string) => string[][]> {
  const files = await buildBook(derivePanel(panel), { paper: 'A4', fonts, only: ['wires', 'pins', 'parts'] });
  return (list) => readCsv(textOf(files, `${list}.csv`)).slice(1);
}

const book = (panel: PanelFile): string => {
  const imprint = { panel: 'Bramble Siding', revision: 'A', date: null };
  return layBook(derivePanel(panel), { measure, sheet: sheetOf('A4'), imprint, barMeasured: 100 })
    .pages.map(wordsOf)
    .join(' ');
};

// Common practice, no source: a split feed has a common return: twelve levers need thirteen wires, not twenty-four; commons get several pins.
describe('lists of a split feed, by hand', () => {
  test('each drive has one pin of its own, and comes back by the return', async () => {
    const list = await listsOf(split);
    const pins = list('pins');
    const ofLever = (lever: string) =>
      new Set(pins.filter(([, , , , circuit]) => circuit === lever).map(([, pin]) => pin));
    expect(['L1', 'L2', 'L3'].map((lever) => ofLever(lever).size)).toEqual([1, 1, 1]);
    const returns = pins.filter(([, , net]) => net === 'S1.m');
    expect(returns.length).toBeGreaterThanOrEqual(1);
    // The return is the middle of both supplies: 0 V however the levers lie.
    expect(returns.map((row) => row.slice(5))).toEqual(returns.map(() => ['any', '0']));
    const back = list('wires').filter(([, from = '', to = '']) => /^R0\./.test(from) && /^P\d\.[ab]$/.test(to));
    expect(back.map(([, , to]) => to?.slice(0, 2)).sort()).toEqual(['P1', 'P2', 'P3']);
  });

  test('the pin of a lever holds plus of one supply in normal, minus of the other in reverse', async () => {
    const list = await listsOf(split);
    const held = list('pins')
      .filter(([, , , , circuit]) => circuit === 'L2')
      .map(([, , , , , setting, volts]) => [setting, Number(volts)]);
    expect(held).toEqual([
      ['normal', 12],
      ['reverse', -12],
    ]);
  });
});

describe('parts, by hand', () => {
  test('a capacitor unit is its capacitor, diode and resistor; a relay has a diode for each coil', async () => {
    const list = await listsOf(of({ drive: 'twin-coil', feed: 'unit', scheme: 'latching-relay' }));
    const ids = new Set(list('parts').flatMap(([, , who = '']) => who.split(' ')));
    for (const id of ['C1', 'SD-C1', 'R-C1', 'K1', 'FD-K1', 'FD-K1r', 'P1', 'L1', 'S1', 'S9', 'FU-S1'])
      expect([id, ids.has(id)]).toEqual([id, true]);
    // What charges it, and what lights the lamps: the unit itself is no supply to buy.
    expect(list('parts').filter(([part = '']) => part.startsWith('supply '))).toHaveLength(2);
  });

  test('what is there already is listed and costs nothing', async () => {
    const panel = of({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed' });
    const list = await listsOf({
      ...panel,
      points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
      drives: [{ id: 'D1', existing: true }],
    });
    const rows = list('parts').filter(([, , who]) => who === 'D1');
    expect(rows.map(([part, count, , price]) => [part, count, price])).toEqual([
      ['stall drive, two wires, there already', '1', '0'],
    ]);
  });

  test('a lamp of two colours is one piece', async () => {
    const list = await listsOf(
      of({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'drive-contact', lamp: 'led-5-red-green-3c' }),
    );
    expect(list('parts').filter(([, , who]) => who === 'H1')).toHaveLength(1);
  });

  test('a contact on the blades is in the list, and its three ends in the wires', async () => {
    const list = await listsOf(of({ drive: 'servo-board', feed: 'contact', scheme: 'blade-contact' }));
    expect(list('parts').filter(([, , who]) => who === 'P1.b1')).toHaveLength(1);
    const ends = list('wires').flatMap(([, from = '', to = '']) => [from, to]);
    for (const end of ['P1.b1.c', 'P1.b1.n', 'P1.b1.r']) expect(ends).toContain(end);
  });
});

// Common practice, no source: a CDU holds its charge: 100 ohm 2 W for three seconds, not a screwdriver; maintained coils burn.
describe('cautions', () => {
  test('a capacitor unit warns of its charge in the guide, at its circuit and on the lid, and of coils that are held', () => {
    const words = book(of({ drive: 'twin-coil', feed: 'unit', scheme: 'latching-relay' })).replace(/\s+/g, ' ');
    expect(words.match(/C1 holds its charge/g)?.length).toBeGreaterThanOrEqual(2);
    expect(words).toMatch(/100 ohm, 2 W/);
    expect(words).toMatch(/burn/);
  });

  test('a panel without capacitors and coils says nothing of them', () => {
    const words = book(split);
    expect(words).not.toMatch(/charge after switching off|coil/);
  });
});
