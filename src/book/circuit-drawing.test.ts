import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Derived, derive } from '../derive.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import type { Circuit } from '../wiring/index.ts';
import { drawCircuit, drawnIn, planCircuit } from './circuit-drawing.ts';
import { openFaces } from './faces.ts';
import { FONT_FILES, type FontFiles } from './fonts.ts';
import { type Measure, measureWith } from './measure.ts';
import type { Op } from './page.ts';
import { startPen } from './pen.ts';
import { drawRows, planRows } from './row-drawing.ts';
import { STROKE } from './symbols.ts';

let measure: Measure;
beforeAll(async () => {
  const read = Object.entries(FONT_FILES).map(([role, path]) => [
    role,
    new Uint8Array(readFileSync(`node_modules/${path}`)),
  ]);
  measure = measureWith(await openFaces(Object.fromEntries(read) as FontFiles));
});

function panelOf(name: string): PanelFile {
  const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  if (!read.ok) throw new Error(`${name} cannot be read`);
  return read.panel;
}

/** A panel whose groups are of every arrangement, on switches of several poles. */
function oddPanel(): PanelFile {
  const panel = panelOf('quillhaven-harbour');
  return {
    ...panel,
    levers: (panel.levers ?? []).map((lever, i) =>
      i === 0 ? { ...lever, switch: 'toggle-4p' } : i === 1 ? { ...lever, switch: 'toggle-3p-centre-off' } : lever,
    ),
    lampGroups: [
      { id: 'G1', lamps: ['H12', 'H13', 'H14', 'H15', 'H16'], arrange: 'series' },
      { id: 'G2', lamps: ['H17', 'H18'], arrange: 'parallel' },
      { id: 'G3', lamps: ['H19', 'H1', 'H2'], arrange: 'own', guard: 'antiparallel' },
    ],
  };
}

function circuitOf(derived: Derived, id: string): Circuit {
  const circuit = derived.wiring.circuits.find((each) => each.id === id);
  if (circuit === undefined) throw new Error(`no circuit ${id}`);
  return circuit;
}

/** The ladder of a circuit; nothing where the rule of the reversing feed does not cover it. */
function ladder(derived: Derived, id: string): readonly Op[] {
  const plan = planCircuit(derived, circuitOf(derived, id));
  if ('why' in plan) return [];
  const pen = startPen(measure);
  drawCircuit(pen, plan, [20, 30], 170);
  return pen.ops;
}

/** All that is drawn of a circuit: its ladder, and in rows what that leaves. */
function drawn(derived: Derived, id: string): readonly Op[] {
  const circuit = circuitOf(derived, id);
  const plan = planCircuit(derived, circuit);
  const pen = startPen(measure);
  const rows = planRows(pen, derived, circuit, { width: 170, height: 220 }, 'why' in plan ? new Set() : drawnIn(plan));
  if (rows === null) throw new Error(`${id} is not drawn`);
  for (const each of rows) drawRows(pen, each, [0, 0]);
  return [...ladder(derived, id), ...pen.ops];
}

const textsOf = (ops: readonly Op[]): string[] =>
  ops.flatMap((op) => (op.op === 'text' ? [op.runs.map((run) => run.text).join('')] : []));

/** A hundredth of a millimetre: nothing that is drawn is finer. */
const TOUCH = 0.01;

const PANELS = [
  ['small', () => panelOf('bramble-siding')],
  ['large', () => panelOf('quillhaven-harbour')],
  ['odd', oddPanel],
] as const;

describe.each(PANELS)('circuits of the %s panel', (_name, panel) => {
  const derived = derive(panel());

  test('every lever with a reversing feed and lamps across it has its ladder', () => {
    const levers = derived.wiring.circuits.filter((each) => each.feed === 'reversing');
    expect(levers.length).toBeGreaterThan(0);
    expect(levers.filter((each) => ladder(derived, each.id).length === 0).map((each) => each.id)).toEqual([]);
  });

  test('no conductor crosses another', () => {
    for (const circuit of derived.wiring.circuits) {
      const lines = ladder(derived, circuit.id).flatMap((op): (readonly [Spot, Spot])[] =>
        op.op === 'line' && op.width === STROKE && op.dash === undefined ? [[op.from, op.to]] : [],
      );
      const level = lines.filter(([a, b]) => Math.abs(a[1] - b[1]) < TOUCH);
      const upright = lines.filter(([a, b]) => Math.abs(a[0] - b[0]) < TOUCH);
      expect(level.length + upright.length).toBe(lines.length);
      const inside = (value: number, a: number, b: number): boolean =>
        value > Math.min(a, b) + TOUCH && value < Math.max(a, b) - TOUCH;
      const dots = ladder(derived, circuit.id).flatMap((op) =>
        op.op === 'circle' && op.fill === '#000000' ? [op.at] : [],
      );
      const crossings = level.flatMap(([a, b]) =>
        upright.flatMap(([c, d]) =>
          inside(c[0], a[0], b[0]) && inside(a[1], c[1], d[1]) ? [[c[0], a[1]] as const] : [],
        ),
      );
      const open = crossings.filter(([x, y]) => !dots.some((dot) => Math.hypot(dot[0] - x, dot[1] - y) < TOUCH));
      expect([circuit.id, open]).toEqual([circuit.id, []]);
    }
  });

  test('every wire of a lever is named once, with its colour', () => {
    for (const circuit of derived.wiring.circuits) {
      const texts = textsOf(drawn(derived, circuit.id)).map((text) => text.split(' '));
      for (const wire of derived.loom.wires.filter((each) => each.circuit === circuit.id)) {
        const named = texts.filter((words) => words[0] === wire.id);
        expect([wire.id, named.length, named[0]?.[1]]).toEqual([wire.id, 1, wire.colour]);
      }
    }
  });

  test('every lamp, resistor, guard, drive and pin of a lever is there, and nothing of another', () => {
    for (const circuit of derived.wiring.circuits) {
      const words = new Set(textsOf(drawn(derived, circuit.id)));
      const { lamps, resistors, connectors, drives } = derived.wiring;
      const ids = (own: boolean): string[] => [
        ...lamps
          .filter((lamp) => (lamp.circuit === circuit.id) === own)
          .flatMap((lamp) => [lamp.id, ...(lamp.guard === null ? [] : [lamp.guard.id])]),
        ...resistors.filter((each) => (each.circuit === circuit.id) === own).map((each) => each.id),
        ...drives.filter((each) => (each.circuit === circuit.id) === own).map((each) => each.id),
        ...connectors.flatMap((each) =>
          each.pins.filter((pin) => (pin.circuit === circuit.id) === own).map((pin) => pin.id),
        ),
      ];
      expect(ids(true).filter((id) => !words.has(id))).toEqual([]);
      expect(ids(false).filter((id) => words.has(id))).toEqual([]);
    }
  });

  test('nothing leaves the width that is given', () => {
    for (const circuit of derived.wiring.circuits) {
      for (const op of ladder(derived, circuit.id)) {
        if (op.op !== 'line') continue;
        for (const [x] of [op.from, op.to]) expect(x >= 20 - TOUCH && x <= 190 + TOUCH).toBe(true);
      }
    }
  });
});
