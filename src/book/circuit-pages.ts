/** For each lever: its circuit with what stands in it in each position, and its switch, lamps and resistors from behind. */
import type { Derived } from '../derive.ts';
import type { LampGroup } from '../lamps/index.ts';
import type { Lever } from '../plan/index.ts';
import type { Millimetre } from '../units/index.ts';
import { formatOhms } from '../units/index.ts';
import type { Circuit, Position } from '../wiring/index.ts';
import { drawCircuit, planCircuit } from './circuit-drawing.ts';
import { milliamps, size as sizeText, unitSigns, volts } from './format.ts';
import { pt } from './page.ts';
import { type Flow, LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { solderPages } from './solder-pages.ts';
import { type Column, drawTable, type TableCell } from './table.ts';
import { leverTitle, listed } from './words.ts';

const POSITION_WORDS: Readonly<Record<Position, string>> = { normal: 'Normal', reverse: 'Reverse', centre: 'Centre' };
const GUTTER: Millimetre = 6;

/** What the supply, the drives and the lamps read, position beside position. */
function drawReadings(flow: Flow, derived: Derived, circuit: Circuit, setting: Setting): void {
  const { sheet } = setting;
  const said = circuit.positions.filter((position) => isDead(derived, circuit, position));
  const positions = circuit.positions.filter((position) => !said.includes(position));
  const beside = Math.min(2, positions.length);
  const wide = (sheet.width - GUTTER * (beside - 1)) / beside;
  const readings = positions.map((position) => ({ position, reading: derived.operate({ [circuit.id]: position }) }));
  const drives = derived.wiring.drives.filter((drive) => circuit.drives.includes(drive.id));
  const row = 5.2;
  for (let from = 0; from < readings.length; from += beside) {
    const part = readings.slice(from, from + beside);
    const tall = 21.5 + (circuit.lamps.length + drives.length) * row;
    if (tall < sheet.bottom - 60) flow.need(tall);
    const top = flow.y;
    let lowest = top;
    for (const [i, { position, reading }] of part.entries()) {
      const x = sheet.left + i * (wide + GUTTER);
      const sheetPart = { ...sheet, left: x, right: x + wide, width: wide };
      flow.y = top + 5.2;
      const pen = flow.pen();
      const commons =
        derived.wiring.switches.find((each) => each.id === circuit.id)?.poles.filter((pole) => pole.use === 'feed') ??
        [];
      const rails = commons.map((pole, k) => {
        const at =
          reading.nodes.find((node) => node.circuit === circuit.id && node.node === pole.common)?.volts ?? null;
        return `rail ${'AB'.charAt(k)} ${at === null ? 'open' : `${volts(at)} V`}`;
      });
      const head = pen.text([x, flow.y], POSITION_WORDS[position], { font: 'text-700', size: pt(11) });
      pen.text([x + wide, flow.y], rails.join(', '), { size: pt(9), anchor: 'end', most: wide - head - 3 });
      pen.line([x, flow.y + 1.5], [x + wide, flow.y + 1.5], { stroke: '#000000', width: 0.5 });
      flow.y += 2;
      const drawn = reading.drives.filter((drive) => circuit.drives.includes(drive.drive));
      drawTable(
        flow,
        sheetPart,
        [
          { title: 'Drive', width: { share: 1 }, font: 'text-700' },
          { title: 'Point', width: 13 },
          { title: 'V', width: 13, anchor: 'end' },
          { title: 'mA', width: 12, anchor: 'end' },
          { title: 'Goes', width: 14 },
        ],
        drawn.map((drive): TableCell[] => [
          drive.drive,
          drive.point,
          volts(drive.volts),
          milliamps(drive.amps),
          drive.moves ?? 'stays',
        ]),
        { size: pt(8.6), pad: 0.55 },
      );
      const lamps = reading.lamps.filter((lamp) => circuit.lamps.includes(lamp.id));
      const columns: Column[] = [
        { title: 'Lamp', width: { share: 1 }, font: 'text-700' },
        { title: 'mA low', width: 11, anchor: 'end' },
        { title: 'nominal', width: 11, anchor: 'end' },
        { title: 'high', width: 10, anchor: 'end' },
        { title: 'Looks', width: 13 },
        { title: 'V reverse', width: 12, anchor: 'end' },
      ];
      drawTable(
        flow,
        sheetPart,
        columns,
        lamps.map((lamp): TableCell[] => [
          lamp.id,
          milliamps(lamp.low),
          { text: milliamps(lamp.amps), font: 'text-600' },
          milliamps(lamp.high),
          lamp.look,
          lamp.reverseVolts > 0 ? volts(lamp.reverseVolts) : '',
        ]),
        { size: pt(8.6), pad: 0.55 },
      );
      lowest = Math.max(lowest, flow.y);
      if (flow.pen() !== pen) lowest = flow.y;
    }
    flow.y = lowest + 1;
  }
  for (const position of said)
    flow.paragraph(`${POSITION_WORDS[position]}: both rails are open; no drive is fed and every lamp is unlit.`, {
      size: pt(9),
      after: 1,
    });
}

/** A middle position in which nothing flows: a sentence says as much as its tables would. */
function isDead(derived: Derived, circuit: Circuit, position: Position): boolean {
  if (position !== 'centre') return false;
  const reading = derived.operate({ [circuit.id]: position });
  const poles = derived.wiring.switches.find((each) => each.id === circuit.id)?.poles ?? [];
  const fed = reading.nodes.some(
    ({ circuit: of, node, volts: at }) =>
      of === circuit.id && at !== null && poles.some((pole) => pole.use === 'feed' && pole.common === node),
  );
  const lamps = reading.lamps.filter((lamp) => circuit.lamps.includes(lamp.id));
  const drives = reading.drives.filter((drive) => circuit.drives.includes(drive.drive));
  return (
    !fed &&
    lamps.every((lamp) => lamp.look === 'unlit' && lamp.reverseVolts === 0) &&
    drives.every((drive) => drive.moves === null)
  );
}

/** How the resistor of a group came about, step by step. */
function drawSums(flow: Flow, setting: Setting, groups: readonly LampGroup[]): void {
  if (groups.length === 0) return;
  const size = pt(8.8);
  const after = 0.8;
  const all = sumsOf(groups, (group) => group.steps ?? group.sum.map((step) => step.text));
  const { measure, sheet } = setting;
  const lines = all.reduce((sum, text) => sum + measure.wrap(text, 'text-400', size, sheet.width).length, 0);
  const room = sheet.bottom - flow.y;
  // The worst corners stand beside the sum where they do not cost a page.
  const fits = lines * size * LEADING + all.length * after <= room;
  for (const text of fits ? all : sumsOf(groups, (group) => group.sum.map((step) => step.text)))
    flow.paragraph(text, { size, after });
}

/** One line a resistor, groups with the same sum together. */
function sumsOf(groups: readonly LampGroup[], stepsOf: (group: LampGroup) => readonly string[]): readonly string[] {
  const seen = new Map<string, string[]>();
  for (const group of groups) {
    const steps = [...new Set(stepsOf(group))].join('; ');
    const text = `${formatOhms(group.ohms)}, ${sizeText(group.rating)} W, ${group.ohmsFrom === 'computed' ? 'computed' : group.ohmsFrom === 'built' ? 'as built' : 'as your file says'}. ${steps}${steps === '' ? '' : '.'}`;
    seen.set(text, [...(seen.get(text) ?? []), group.id]);
  }
  return [...seen].map(([text, ids]) => unitSigns(`Resistor of ${listed(ids)}: ${text}`));
}

function circuitPage(derived: Derived, setting: Setting, circuit: Circuit, lever: Lever): Leaf[] {
  const { wiring } = derived;
  const part = wiring.switches.find((each) => each.id === circuit.id)?.part;
  const basis = [...new Set(derived.lamps.filter((lamp) => circuit.lamps.includes(lamp.id)).map((lamp) => lamp.basis))];
  const knows =
    basis.length === 0
      ? 'It has no lamps.'
      : `Its lamps know ${listed(basis.map((each) => (each === 'asked' ? 'what was asked' : each === 'drive' ? 'how the drive lies' : 'how the blades lie')))}.`;
  const flow = startFlow(setting, {
    title: `${leverTitle(lever)}: circuit`,
    lead: `Works ${listed(circuit.points)}. ${part === undefined ? '' : `Switch: ${part.name}. `}Drawn with the lever normal. ${knows}`,
    name: `circuit-${circuit.id}`,
    bookmark: { title: leverTitle(lever), level: 1 },
  });
  const plan = planCircuit(derived, circuit);
  if ('why' in plan) flow.paragraph(`No drawing by rule: ${plan.why} Its wires are in the wiring list.`);
  else {
    const used = drawCircuit(flow.pen(), plan, [setting.sheet.left, flow.y - 2], setting.sheet.width);
    flow.y += used;
  }
  drawReadings(flow, derived, circuit, setting);
  drawSums(
    flow,
    setting,
    derived.groups.filter((group) => circuit.groups.includes(group.id)),
  );
  return flow.leaves;
}

/** Two or more pages a lever, in the order of the levers. */
export function circuitPages(derived: Derived, setting: Setting): Leaf[] {
  const leaves = derived.wiring.circuits.flatMap((circuit) => {
    const lever = derived.plan.levers.find((each) => each.id === circuit.id);
    return lever === undefined
      ? []
      : [...circuitPage(derived, setting, circuit, lever), ...solderPages(derived, setting, circuit, lever)];
  });
  leaves[0]?.bookmarks.unshift({ title: 'Circuits and tags from behind', level: 0 });
  leaves[0]?.names.push('circuits');
  return leaves;
}
