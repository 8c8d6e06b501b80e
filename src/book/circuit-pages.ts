/** For each lever: its circuit with what stands in it in each position, and its switch, lamps and resistors from behind. */
import { polesForFeed } from '../contacts/index.ts';
import type { Derived } from '../derive.ts';
import type { LampGroup } from '../lamps/index.ts';
import type { Lies } from '../panel/index.ts';
import type { Lever } from '../plan/index.ts';
import type { Millimetre } from '../units/index.ts';
import { formatOhms } from '../units/index.ts';
import {
  type Circuit,
  type LampReading,
  type Position,
  type Reading,
  relayHolding,
  statesOf,
} from '../wiring/index.ts';
import { drawCircuit, drawnIn, planCircuit } from './circuit-drawing.ts';
import { milliamps, size as sizeText, unitSigns, volts } from './format.ts';
import { pt } from './page.ts';
import { drawRows, placeRows, planRows, ROWS_BESIDE, ROWS_KEY } from './row-drawing.ts';
import { type Flow, LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { solderPages } from './solder-pages.ts';
import { type Column, drawTable, type TableCell } from './table.ts';
import { leverTitle, listed } from './words.ts';

const POSITION_WORDS: Readonly<Record<Position, string>> = { normal: 'Normal', reverse: 'Reverse', centre: 'Centre' };
const GUTTER: Millimetre = 6;

/** A setting whose readings stand in a table, and what it is called. */
interface Shown {
  readonly title: string;
  readonly levers: Readonly<Record<string, Position>>;
  readonly history: Lies;
}

/** So many settings have a table each; of more, each lamp is told in the one that lights it. */
const MOST_SETTINGS = 4;

const said = (pairs: Readonly<Record<string, Position>>): string =>
  Object.entries(pairs)
    .map(([id, lie]) => `${id} ${lie}`)
    .join(', ');

/** Positions of its own lever, else the states of what decides its contacts; null where there are too many. */
function settingsOf(derived: Derived, circuit: Circuit): readonly Shown[] | null {
  const twin = derived.wiring.switches.find(({ twinOf, part }) => twinOf === circuit.id && !part.sprung);
  const there = (['normal', 'reverse'] as const).map((lie) => (twin === undefined ? {} : { [twin.id]: lie }));
  // Side by side the last throw counts, from whichever panel: its own positions tell all.
  if (circuit.positions.length > 0)
    return (twin === undefined ? there.slice(0, 1) : there).flatMap((also) =>
      circuit.positions.map((position) => ({
        title: [POSITION_WORDS[position], ...Object.values(also).map((lie) => `its twin ${lie}`)].join(', '),
        levers: { [circuit.id]: position, ...also },
        history: {},
      })),
    );
  const states = statesOf(derived.wiring, circuit);
  if (states.length > MOST_SETTINGS) return null;
  return states.map(({ levers, history }) => {
    const title = said({ ...levers, ...history });
    return { title: title === '' ? 'At rest' : title, levers, history };
  });
}

/** What the supply, the drives and the lamps read, setting beside setting. */
function drawReadings(flow: Flow, derived: Derived, circuit: Circuit, setting: Setting): void {
  const { sheet } = setting;
  const all = settingsOf(derived, circuit);
  if (all === null) {
    drawLitWhen(flow, derived, circuit, setting);
    return;
  }
  const dead = all.filter(({ levers }) => isDead(derived, circuit, levers[circuit.id]));
  const settings = all.filter((each) => !dead.includes(each));
  const beside = Math.max(1, Math.min(2, settings.length));
  const wide = (sheet.width - GUTTER * (beside - 1)) / beside;
  const readings = settings.map((each) => ({
    title: each.title,
    history: each.history,
    reading: derived.operate(each.levers, [], each.history),
  }));
  const drives = derived.wiring.drives.filter((drive) => circuit.drives.includes(drive.id));
  const poles = holdersOf(derived, circuit);
  const row = 5.2;
  for (let from = 0; from < readings.length; from += beside) {
    const part = readings.slice(from, from + beside);
    const tall = 21.5 + (circuit.lamps.length + drives.length) * row;
    if (tall < sheet.bottom - 60) flow.need(tall);
    const top = flow.y;
    let lowest = top;
    for (const [i, { title, reading, history }] of part.entries()) {
      const x = sheet.left + i * (wide + GUTTER);
      const sheetPart = { ...sheet, left: x, right: x + wide, width: wide };
      flow.y = top + 5.2;
      const pen = flow.pen();
      const rails = (word: string): string =>
        poles
          .map((pole, k) => {
            const at =
              reading.nodes.find((node) => node.circuit === circuit.id && node.node === pole.common)?.volts ?? null;
            const name = poles.length > 1 ? `${word}${'AB'.charAt(k)}` : tagName(pole.common);
            return `${name} ${at === null ? 'open' : `${volts(at)} V`}`;
          })
          .join(', ');
      const head = pen.text([x, flow.y], title, { font: 'text-700', size: pt(11), most: wide * 0.7 });
      const most = wide - head - 3;
      // Beside a long title the rails go by their letters.
      const said = pen.measure.width(rails('rail '), 'text-400', pt(9)) <= most ? rails('rail ') : rails('');
      pen.text([x + wide, flow.y], said, { size: pt(9), anchor: 'end', most });
      pen.line([x, flow.y + 1.5], [x + wide, flow.y + 1.5], { stroke: '#000000', width: 0.5 });
      flow.y += 2;
      const drawn = reading.drives.filter((drive) => circuit.drives.includes(drive.drive));
      const pulsed = drawn.some((drive) => drive.pulse !== null);
      if (drawn.length > 0)
        drawTable(
          flow,
          sheetPart,
          [
            { title: 'Drive', width: { share: 1 }, font: 'text-700' },
            { title: 'Point', width: 13 },
            { title: pulsed ? 'A at peak' : 'V', width: 13, anchor: 'end' },
            { title: pulsed ? 'ms' : 'mA', width: 12, anchor: 'end' },
            { title: 'Goes', width: 14 },
          ],
          drawn.map((drive): TableCell[] => [
            drive.drive,
            drive.point,
            pulsed ? (drive.pulse === null ? '' : volts(drive.pulse.amps)) : volts(drive.volts),
            pulsed ? (drive.pulse === null ? '' : milliamps(drive.pulse.seconds)) : milliamps(drive.amps),
            // Of buttons it is told which way each throws.
            drive.moves ?? (drive.pulse === null ? 'stays' : (history[drive.point] ?? '')),
          ]),
          { size: pt(8.6), pad: 0.55 },
        );
      const lamps = lampsIn(reading, derived, circuit);
      if (lamps.length > 0)
        drawTable(
          flow,
          sheetPart,
          LAMP_COLUMNS,
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
  for (const { title } of dead)
    flow.paragraph(
      `${title}: ${poles.length > 1 ? 'both rails are' : 'the common is'} open; no drive is fed and every lamp on the feed is unlit.`,
      { size: pt(9), after: 1 },
    );
}

/** What holds a circuit's feed: the poles of its lever, or the contacts of a relay that remembers for it and its twin. */
function holdersOf({ wiring }: Derived, circuit: Circuit): readonly { readonly common: string }[] {
  const relay = relayHolding(wiring, circuit.id);
  if (relay === null)
    return wiring.switches.find((each) => each.id === circuit.id)?.poles.filter((pole) => pole.use === 'feed') ?? [];
  const most = circuit.feed === null ? 0 : polesForFeed(circuit.feed);
  return wiring.contacts.filter((each) => each.carrier.id === relay.id && each.circuit === circuit.id).slice(0, most);
}

const LAMP_COLUMNS: readonly Column[] = [
  { title: 'Lamp', width: { share: 1 }, font: 'text-700' },
  { title: 'mA low', width: 11, anchor: 'end' },
  { title: 'nominal', width: 11, anchor: 'end' },
  { title: 'high', width: 10, anchor: 'end' },
  { title: 'Looks', width: 13 },
  { title: 'V reverse', width: 12, anchor: 'end' },
];

const tagName = (terminal: string): string => terminal.slice(terminal.lastIndexOf('.') + 1);

/** Of a lamp of two colours both elements. */
function lampsIn(reading: Reading, derived: Derived, circuit: Circuit): readonly LampReading[] {
  const ids = new Set(derived.wiring.lamps.filter((lamp) => lamp.circuit === circuit.id).map((lamp) => lamp.id));
  return reading.lamps.filter((lamp) => ids.has(lamp.id));
}

/** Each lamp in a setting that lights it: for contacts of several levers. */
function drawLitWhen(flow: Flow, derived: Derived, circuit: Circuit, setting: Setting): void {
  const { wiring } = derived;
  const readings = statesOf(wiring, circuit).map((state) => derived.operate(state.levers, [], state.history));
  const lamps = wiring.lamps.filter((lamp) => lamp.circuit === circuit.id);
  drawTable(
    flow,
    setting.sheet,
    [
      { title: 'Lamp', width: 18, font: 'text-700' },
      { title: 'Lit when', width: { share: 1 } },
      { title: 'mA low', width: 14, anchor: 'end' },
      { title: 'nominal', width: 14, anchor: 'end' },
      { title: 'high', width: 14, anchor: 'end' },
      { title: 'Looks', width: 16 },
    ],
    lamps.map((lamp): TableCell[] => {
      const [lit] = readings
        .flatMap((reading) => reading.lamps.filter((each) => each.id === lamp.id))
        .sort((a, b) => b.amps - a.amps);
      return [
        lamp.id,
        Object.entries(lamp.cube ?? {})
          .map(([id, lie]) => `${id} ${lie}`)
          .join(', '),
        lit === undefined ? '' : milliamps(lit.low),
        { text: lit === undefined ? '' : milliamps(lit.amps), font: 'text-600' },
        lit === undefined ? '' : milliamps(lit.high),
        lit?.look ?? '',
      ];
    }),
    { size: pt(8.6), pad: 0.55 },
  );
}

/** A middle position in which nothing flows: a sentence says as much as its tables would. */
function isDead(derived: Derived, circuit: Circuit, position: Position | undefined): boolean {
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

/** What feeds it, in words. */
function feedWords(derived: Derived, circuit: Circuit): string {
  const [first = '', second = ''] = circuit.supplies;
  switch (circuit.feed) {
    case 'reversing':
      return `Reversing feed from ${first}.`;
    case 'split':
      return `Split feed: ${first} gives plus, ${second} minus; they share a return.`;
    case 'half-wave':
      return `Half-wave feed: two diodes make plus and minus of ${first}.`;
    case 'pulse':
      return `A pulse from ${first}, to one coil or the other.`;
    case 'charge':
      return `Charge feed from ${first}: the capacitor fills through one coil and empties through the other.`;
    case 'contact':
      return `A contact to the input of the driver board; ${first} gives its volts.`;
    case null:
      return derived.wiring.buttons.some((each) => each.circuit === circuit.id) ? '' : `Lamps from ${circuit.supply}.`;
  }
}

/** How a lever on another panel works it too, and what then holds the feed. */
function twinWords({ panel, wiring }: Derived, circuit: Circuit): string {
  const twin = panel.levers?.find(({ id }) => id === circuit.id)?.twin;
  const own = wiring.switches.find(({ twinOf }) => twinOf === circuit.id);
  if (twin === undefined || own === undefined) return '';
  const there = `${twin.lever} on the panel ${twin.panel}, drawn as ${own.id}`;
  if (!own.part.sprung) return ` ${there}, works it too: it stands before ${circuit.id}, and either throws the point.`;
  const relay = relayHolding(wiring, circuit.id);
  const holds = relay === null ? '' : `, and relay ${relay.id} remembers the last throw and holds the feed`;
  return ` ${there}, works it too: it stands beside ${circuit.id}${holds}.`;
}

/** What can hurt or burn in this circuit, and where a bat says nothing. */
function cautionsIn(derived: Derived, circuit: Circuit): readonly string[] {
  const { panel, wiring } = derived;
  const twin = panel.levers?.find(({ id }) => id === circuit.id)?.twin;
  const other = wiring.switches.find(({ twinOf }) => twinOf === circuit.id);
  const stores = [
    ...wiring.supplies
      .filter((supply) => supply.kind === 'cdu' && circuit.supplies.includes(supply.id))
      .map(({ id }) => id),
    ...wiring.capacitors.filter((each) => each.circuit === circuit.id).map(({ id }) => id),
  ];
  const coils = wiring.drives.some((drive) => drive.circuit === circuit.id && drive.part.coilOhms !== null);
  const fuses = wiring.supplies.flatMap(({ id, fuse }) =>
    circuit.supplies.includes(id) && fuse !== null ? [fuse.id] : [],
  );
  return [
    ...(twin === undefined || other === undefined
      ? []
      : [
          ...(other.part.sprung
            ? []
            : [
                `The bat of ${circuit.id} does not say how the point lies, for ${twin.lever} on the panel ${twin.panel} turns it over: only lamps on the feed, on the drive or on the blades do.`,
              ]),
          `Both panels hang on ${listed(circuit.supplies)}${fuses.length === 0 ? '' : ` behind ${listed(fuses)}`}: bring no supply of the other panel to these pins, and let the cable be no thinner than the fuse allows.`,
        ]),
    ...(stores.length === 0
      ? []
      : [
          `${listed(stores)} ${stores.length === 1 ? 'holds its' : 'hold their'} charge after switching off: discharge through 100 ohm, 2 W, for three seconds before you touch or solder, not with a screwdriver.`,
        ]),
    ...(coils && circuit.feed === 'pulse'
      ? [
          'A coil stands its current for the throw alone: held longer it burns. Never bridge a switch or a button to try a coil.',
        ]
      : []),
    ...(wiring.relays.some((relay) => relay.circuit === circuit.id)
      ? ['The coil of a relay kicks when it is switched off: its diode goes across it, the ring to plus.']
      : []),
  ];
}

/** Where a circuit without lamps has poles, drives or blades that light lamps of others, which these are. */
function elsewhere(derived: Derived, circuit: Circuit): string {
  const { wiring } = derived;
  const points = new Set(circuit.points);
  const mine = wiring.contacts.filter(
    ({ circuit: of, carrier }) =>
      of !== circuit.id && (carrier.id === circuit.id || carrier.points.some(({ point }) => points.has(point))),
  );
  if (mine.length === 0) return 'It has no lamps.';
  const pages = [...new Set(mine.map((each) => each.circuit))];
  return `It has no lamps of its own: ${listed(mine.map(({ id }) => id))} ${mine.length === 1 ? 'stands' : 'stand'} in ${listed(pages)} and ${mine.length === 1 ? 'lights' : 'light'} lamps there.`;
}

/** What stands under the title: what works it, what feeds it, and what its lamps know. */
export function leadOf(derived: Derived, circuit: Circuit, lever: Lever | undefined): string {
  const { wiring } = derived;
  const own = derived.lamps.filter((lamp) => lamp.circuit === circuit.id);
  const basis = [...new Set(own.filter(({ kind }) => kind !== 'supply').map((lamp) => lamp.basis))];
  const knows = own.some(({ kind }) => kind === 'supply')
    ? `Lit as long as ${circuit.supply} is on and its fuse whole.`
    : basis.length === 0
      ? elsewhere(derived, circuit)
      : `Its lamps know ${listed(basis.map((each) => (each === 'asked' ? 'what was asked' : each === 'drive' ? 'how the drive lies' : 'how the blades lie')))}.`;
  if (lever !== undefined) {
    const part = wiring.switches.find((each) => each.id === circuit.id)?.part;
    const works = circuit.points.length === 0 ? '' : `Works ${listed(circuit.points)}. `;
    return `${works}${part === undefined ? '' : `Switch: ${part.name}. `}${feedWords(derived, circuit)}${twinWords(derived, circuit)} Drawn with the lever normal. ${knows}`;
  }
  const buttons = wiring.buttons.filter((each) => each.circuit === circuit.id).map((each) => each.id);
  const contacts = wiring.contacts.filter((each) => each.circuit === circuit.id);
  const carriers = [...new Set(contacts.map((each) => each.carrier.id))];
  return [
    buttons.length === 0 ? '' : `Worked by ${buttons.length === 1 ? 'the button' : 'the buttons'} ${listed(buttons)}.`,
    feedWords(derived, circuit),
    carriers.length === 0 ? '' : `Contacts of ${listed(carriers)}, drawn normal.`,
    knows,
  ]
    .filter((text) => text !== '')
    .join(' ');
}

/** Room for drawings on one page, below the head and the lead. */
const ROOM_ABOVE: Millimetre = 40;
/** The key of the rows takes so much. */
const KEY_SIZE: Millimetre = pt(8.6);

/** The drawing of a circuit: the reversing feed as a ladder, all else in rows; where neither covers it, its wires. */
function drawDrawing(flow: Flow, derived: Derived, circuit: Circuit, setting: Setting): void {
  const { sheet } = setting;
  const ladder = planCircuit(derived, circuit);
  const covered = 'why' in ladder ? null : ladder;
  const rows = planRows(
    flow.pen(),
    derived,
    circuit,
    { width: sheet.width, height: sheet.bottom - sheet.top - ROOM_ABOVE },
    covered === null ? new Set() : drawnIn(covered),
    // The ladder calls what the poles turn over A and B.
    covered === null
      ? new Map()
      : new Map(holdersOf(derived, circuit).map(({ common }, i) => [common, 'AB'.charAt(i)])),
  );
  if (covered !== null) flow.y += drawCircuit(flow.pen(), covered, [sheet.left, flow.y - 2], sheet.width);
  if (rows === null) {
    flow.paragraph(
      covered === null
        ? 'The rules of drawing do not cover this circuit: here are its wires, from end to end.'
        : 'The rules of drawing do not cover the rest of this circuit: here are all its wires, from end to end.',
    );
    drawWires(flow, derived, circuit, setting);
    return;
  }
  if (rows.length === 0) return;
  flow.y += 1;
  for (const line of placeRows(rows, sheet.width)) {
    const tall = Math.max(...line.map((plan) => plan.height));
    flow.need(tall + 1);
    let x = sheet.left;
    for (const plan of line) {
      drawRows(flow.pen(), plan, [x, flow.y]);
      x += plan.width + ROWS_BESIDE;
    }
    flow.y += tall;
  }
  flow.y += 1;
  flow.paragraph(ROWS_KEY, { size: KEY_SIZE, after: 1 });
}

function drawWires(flow: Flow, derived: Derived, circuit: Circuit, setting: Setting): void {
  const own = new Set(circuit.wires);
  drawTable(
    flow,
    setting.sheet,
    [
      { title: 'Wire', width: 13, font: 'text-700' },
      { title: 'From', width: { share: 1 } },
      { title: 'To', width: { share: 1 } },
      { title: 'Colour', width: 13 },
    ],
    derived.loom.wires
      .filter((wire) => own.has(wire.id))
      .map((wire): TableCell[] => [wire.id, wire.from, wire.to, wire.colour]),
    { size: pt(8.6), pad: 0.5, across: 2 },
  );
}

function circuitPage(derived: Derived, setting: Setting, circuit: Circuit): Leaf[] {
  const lever = derived.plan.levers.find((each) => each.id === circuit.id);
  const title = lever === undefined ? circuit.id : leverTitle(lever);
  const flow = startFlow(setting, {
    title: `${title}: circuit`,
    lead: leadOf(derived, circuit, lever),
    name: `circuit-${circuit.id}`,
    bookmark: { title, level: 1 },
  });
  for (const caution of cautionsIn(derived, circuit)) flow.paragraph(caution, { size: pt(9), indent: 5, bullet: '!' });
  drawDrawing(flow, derived, circuit, setting);
  drawReadings(flow, derived, circuit, setting);
  drawSums(
    flow,
    setting,
    // Lamps in series with a drive have no resistor: nothing is summed.
    derived.groups.filter((group) => circuit.groups.includes(group.id) && group.ohms > 0),
  );
  return flow.leaves;
}

/** Two or more pages a circuit, in their order: those of levers, then of points without one, then trees. */
export function circuitPages(derived: Derived, setting: Setting): Leaf[] {
  const leaves = derived.wiring.circuits.flatMap((circuit) => [
    ...circuitPage(derived, setting, circuit),
    ...solderPages(derived, setting, circuit),
  ]);
  leaves[0]?.bookmarks.unshift({ title: 'Circuits and tags from behind', level: 0 });
  leaves[0]?.names.push('circuits');
  return leaves;
}
