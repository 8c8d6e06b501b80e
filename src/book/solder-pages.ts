/** The page that lies open at the bench: a switch from behind with every wire, the flat of each lamp, the bands of each resistor. */
import type { Derived } from '../derive.ts';
import type { CutWire } from '../loom/index.ts';
import { formatOhms, type Millimetre, resistorBands, type Spot } from '../units/index.ts';
import type { Circuit, Terminal, WiredCapacitor, WiredLamp, WiredResistor, WiredSwitch } from '../wiring/index.ts';
import { type BackTag, backTags, drawLampBehind, FLAT_RULE } from './back-drawing.ts';
import { faradText, formatNumber } from './format.ts';
import { readNets } from './nets.ts';
import { pt } from './page.ts';
import { BLACK, FIRM, HAIR, type Pen, SMALLEST, WHITE } from './pen.ts';
import { LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { isTagOf, leverTitle } from './words.ts';

/** The switch is drawn so many times its size. */
const ENLARGED = 2;
/** Where that would leave a few lines for another page. */
const LESS_ENLARGED = 1.4;
const TAG_BOX: Spot = [7.4, 8.4];
/** A link's number stands so far along it: before links that cross meet. */
const LINK_NAME = 0.2;
const LINE: Millimetre = SMALLEST * LEADING;
const CELL_HEIGHT: Millimetre = 18.8;
/** Steps on a page of their own are no fewer than fill this. */
const ORDER_TAIL: Millimetre = 36;

const other = (wire: CutWire, end: Terminal): Terminal => (wire.from === end ? wire.to : wire.from);

interface TagBlock {
  readonly tag: BackTag;
  readonly spot: Spot;
  readonly title: string;
  readonly lines: readonly string[];
  /** Where its leader leaves the body. */
  readonly exit: Millimetre;
}

const ROLE_WORDS: Readonly<Record<BackTag['role'], string>> = {
  normal: 'closed in normal',
  common: 'common',
  reverse: 'closed in reverse',
};

/** Draw the switch; returns the height used. */
function drawSwitch(
  pen: Pen,
  lever: WiredSwitch,
  at: (terminal: Terminal) => readonly CutWire[],
  left: Millimetre,
  top: Millimetre,
  width: Millimetre,
  enlarged: number,
): Millimetre {
  const [bodyWide, bodyTall] = lever.part.body;
  const w = bodyWide * enlarged;
  const h = bodyTall * enlarged;
  const x = left + width / 2;
  const room = (width - w) / 2 - 7;
  const tags = backTags(lever.poles.length, [w, h]);

  const blocks = (side: 'left' | 'right'): readonly TagBlock[] =>
    tags
      .filter((tag) => (tag.at[0] < -0.01 || lever.poles.length === 1 ? 'left' : 'right') === side)
      .map((tag): TagBlock => {
        const terminal = `${lever.id}.${tag.name}`;
        const wires = at(terminal);
        const use = lever.poles[tag.pole - 1]?.use;
        const lines = wires.map((wire) => {
          const end = other(wire, terminal);
          return isTagOf(end, lever.id)
            ? `${wire.id} ${wire.colour} link to ${end.slice(end.lastIndexOf('.') + 1)}`
            : `${wire.id} ${wire.colour} to ${end}, ${formatNumber(wire.length)} mm`;
        });
        const inner = Math.abs(tag.at[0]) < w / 2 - w / lever.poles.length;
        return {
          tag,
          spot: [x + tag.at[0], tag.at[1]],
          title: `${tag.name} ${ROLE_WORDS[tag.role]}`,
          lines: lines.length > 0 ? lines : [use === 'spare' ? 'spare pole: nothing' : 'nothing'],
          exit: tag.at[1] - (inner ? TAG_BOX[1] / 2 + 0.9 : 0),
        };
      })
      .sort((a, b) => a.exit - b.exit || a.tag.at[0] - b.tag.at[0]);

  const placed = (['left', 'right'] as const).map((side) => {
    const list = blocks(side);
    const heights = list.map((block) => (block.lines.length + 1) * LINE + 2.4);
    const total = heights.reduce((sum, each) => sum + each, 0);
    // Each block beside its tag where it can be, never over the one above it.
    const wanted = list.map((block) => block.exit - LINE * 0.7);
    const start = Math.max(-Math.max(h / 2 + 4, total / 2), Math.min(wanted[0] ?? 0, -total / 2 + h * 0.1));
    let y = start;
    return list.map((block, i) => {
      y = Math.max(y, wanted[i] ?? y);
      const mine = y;
      y += heights[i] ?? 0;
      return { block, y: mine, end: y };
    });
  });
  const lowest = Math.max(h / 2, ...placed.flat().map((each) => each.end));
  const highest = Math.min(-h / 2, ...placed.flat().map((each) => each.y));
  const middle = top - highest + 6;

  pen.rect([x - w / 2, middle - h / 2], [w, h], { stroke: BLACK, width: 0.5, radius: 1.2 });
  pen.text([x, middle - h / 2 - 1.6], 'this side up: the bat points here in normal', {
    size: SMALLEST,
    anchor: 'middle',
  });
  // A narrow body leaves no room for it; its tags say it too.
  for (const [words, y] of [
    ['closed in reverse', middle - h / 2 + 4.4],
    ['closed in normal', middle + h / 2 - 2.2],
  ] as const)
    if (pen.measure.width(words, 'text-600', SMALLEST) <= w - 2)
      pen.text([x, y], words, { font: 'text-600', size: SMALLEST, anchor: 'middle' });

  // Links first, so that tags lie over their ends.
  const spotOf = (terminal: Terminal): Spot | null => {
    const tag = tags.find((each) => `${lever.id}.${each.name}` === terminal);
    return tag === undefined ? null : [x + tag.at[0], middle + tag.at[1]];
  };
  const links = [...new Set(tags.flatMap((tag) => at(`${lever.id}.${tag.name}`)))].filter(
    (wire) => isTagOf(wire.from, lever.id) && isTagOf(wire.to, lever.id),
  );
  for (const wire of links) {
    const [from, to] = [spotOf(wire.from), spotOf(wire.to)];
    if (from === null || to === null) continue;
    pen.line(from, to, { stroke: BLACK, width: 1.7 });
    pen.line(from, to, { stroke: WHITE, width: 1.1 });
    const named: Spot = [from[0] + (to[0] - from[0]) * LINK_NAME, from[1] + (to[1] - from[1]) * LINK_NAME];
    pen.text([named[0], named[1] + 1], wire.id, { font: 'text-700', size: SMALLEST, anchor: 'middle', clear: true });
  }
  for (const [i, side] of placed.entries()) {
    const sign = i === 0 ? -1 : 1;
    const edge = x + sign * (w / 2);
    for (const { block, y } of side) {
      const from: Spot = [block.spot[0], middle + block.spot[1]];
      const text = edge + sign * 7;
      const line = middle + y + LINE * 0.62;
      const out: Spot = [edge + sign * 1.5, middle + block.exit];
      const points: Spot[] =
        block.exit === block.tag.at[1]
          ? [from, out, [text - sign * 1.4, line - 1]]
          : [from, [from[0] + sign * 2.5, middle + block.exit], out, [text - sign * 1.4, line - 1]];
      pen.polyline(points, { stroke: BLACK, width: HAIR });
    }
  }
  for (const tag of tags) {
    const spot: Spot = [x + tag.at[0], middle + tag.at[1]];
    pen.rect([spot[0] - TAG_BOX[0] / 2, spot[1] - TAG_BOX[1] / 2], TAG_BOX, {
      stroke: BLACK,
      width: FIRM,
      radius: 1,
      fill: WHITE,
    });
    pen.text([spot[0], spot[1] + 1.3], tag.name.slice(1), { font: 'text-700', size: pt(11), anchor: 'middle' });
  }
  for (const [i, side] of placed.entries()) {
    const sign = i === 0 ? -1 : 1;
    const text = x + sign * (w / 2 + 7);
    const anchor = sign < 0 ? ('end' as const) : ('start' as const);
    for (const { block, y } of side) {
      let base = middle + y + LINE * 0.62;
      pen.text([text, base], block.title, { font: 'text-700', size: SMALLEST, anchor, most: room });
      for (const said of block.lines) {
        base += LINE;
        pen.text([text, base], said, { size: SMALLEST, anchor, most: room });
      }
    }
  }
  return middle + lowest - top + 1;
}

/** A resistor with its bands, each with the letters of its colour under it. */
function drawBands(pen: Pen, resistor: WiredResistor, [x, y]: Spot): void {
  const bands = resistorBands(resistor.ohms);
  pen.line([x, y], [x + 17.6, y], { stroke: BLACK, width: FIRM });
  pen.rect([x + 2.4, y - 2.1], [12.8, 4.2], { stroke: BLACK, width: FIRM, fill: WHITE, radius: 1.6 });
  if (bands === null) return;
  for (const [i, band] of bands.entries()) {
    const at = x + (i === bands.length - 1 ? 12.3 : 3.9 + i * 2.6);
    const dark = ['BK', 'BN', 'BU', 'VT', 'RD'].includes(band.letters);
    pen.rect([at, y - 2.1], [1.4, 4.2], { fill: dark ? '#000000' : '#9a9a9a', stroke: BLACK, width: HAIR });
  }
}

type Part =
  | { readonly kind: 'resistor'; readonly part: WiredResistor }
  | { readonly kind: 'lamp'; readonly part: WiredLamp }
  | { readonly kind: 'diode'; readonly id: string; readonly does: string }
  | { readonly kind: 'capacitor'; readonly part: WiredCapacitor }
  /** A part with tags that has no drawing of its own here: its tags by name. */
  | {
      readonly kind: 'tags';
      readonly id: string;
      readonly does: string;
      readonly tags: readonly { readonly name: string; readonly terminal: Terminal }[];
    };

/** What each lead goes to, and how long the wire is cut in mm: "a: W14 GY to R-G1.2, 110". */
function leadLines(terminal: Terminal, name: string, at: (terminal: Terminal) => readonly CutWire[]): string[] {
  const wires = at(terminal);
  if (wires.length === 0) return [`${name}: nothing`];
  return wires.map(
    (wire, i) =>
      `${i === 0 ? `${name}: ` : ''}${wire.id} ${wire.colour} to ${other(wire, terminal)}, ${formatNumber(wire.length)}`,
  );
}

function drawPart(
  pen: Pen,
  part: Part,
  at: (terminal: Terminal) => readonly CutWire[],
  [x, y]: Spot,
  width: Millimetre,
): Millimetre {
  const small = { size: SMALLEST };
  const lines: string[] = [];
  let text = x;
  if (part.kind === 'resistor') {
    const { id, ohms } = part.part;
    const bands =
      resistorBands(ohms)
        ?.map((band) => band.letters)
        .join(' ') ?? 'no bands for this value';
    pen.text([x, y + 3.6], id, { font: 'text-700', size: pt(9.4), most: 17.6 });
    drawBands(pen, part.part, [x, y + 8]);
    pen.text([x, y + 13.6], formatOhms(ohms), { font: 'text-600', ...small });
    pen.text([x, y + 17], bands, { ...small, most: 24 });
    lines.push(...leadLines(`${id}.1`, '1', at), ...leadLines(`${id}.2`, '2', at));
    text = x + 18.8;
  } else if (part.kind === 'lamp') {
    const { id } = part.part;
    const centre: Spot = [x + 6, y + 9.6];
    pen.text([x, y + 3.2], id, { font: 'text-700', size: pt(9.4), most: 13 });
    drawLampBehind(pen, centre, 4.4, { stroke: BLACK, width: FIRM });
    for (const [dy, name] of [
      [-1.7, 'a'],
      [1.5, 'k'],
    ] as const) {
      pen.circle([centre[0] - 1.2, centre[1] + dy], 0.5, { fill: BLACK });
      pen.text([centre[0] + 0.4, centre[1] + dy + 1], name, small);
    }
    pen.text([x + 6, y + 17.4], 'flat, minus', { ...small, anchor: 'middle', most: 15 });
    lines.push(...leadLines(`${id}.a`, 'a +', at), ...leadLines(`${id}.k`, 'k −', at));
    text = x + 15;
  } else if (part.kind === 'diode') {
    pen.text([x, y + 3.6], part.id, { font: 'text-700', size: pt(9.4), most: 24 });
    pen.line([x, y + 8], [x + 22, y + 8], { stroke: BLACK, width: FIRM });
    pen.rect([x + 5, y + 6], [12, 4], { stroke: BLACK, width: FIRM, fill: WHITE });
    pen.rect([x + 13.6, y + 6], [1.6, 4], { fill: BLACK });
    pen.text([x, y + 13.6], 'ring: k', small);
    pen.text([x, y + 17], part.does, { ...small, most: 24 });
    lines.push(...leadLines(`${part.id}.a`, 'a', at), ...leadLines(`${part.id}.k`, 'k', at));
    text = x + 23.4;
  } else if (part.kind === 'capacitor') {
    const { id, farads } = part.part;
    pen.text([x, y + 3.6], id, { font: 'text-700', size: pt(9.4), most: 24 });
    pen.line([x, y + 8], [x + 22, y + 8], { stroke: BLACK, width: FIRM });
    pen.rect([x + 4, y + 5.4], [14, 5.2], { stroke: BLACK, width: FIRM, fill: WHITE, radius: 0.8 });
    pen.rect([x + 14.6, y + 5.4], [2.4, 5.2], { fill: BLACK });
    pen.text([x, y + 13.6], faradText(farads), { font: 'text-600', ...small });
    pen.text([x, y + 17], 'stripe: minus', { ...small, most: 24 });
    lines.push(...leadLines(part.part.plus, 'plus', at), ...leadLines(part.part.minus, 'minus', at));
    text = x + 23.4;
  } else {
    pen.text([x, y + 3.6], part.id, { font: 'text-700', size: pt(9.4), most: 14 });
    for (const [i, line] of pen.measure.wrap(part.does, 'text-400', SMALLEST, 13.6).entries())
      pen.text([x, y + 7.4 + i * LINE], line, small);
    for (const tag of part.tags) lines.push(...leadLines(tag.terminal, tag.name, at));
    text = x + 15;
  }
  let base = y + 3.4;
  for (const said of lines) {
    for (const line of pen.measure.wrap(said, 'text-400', SMALLEST, x + width - text)) {
      pen.text([text, base], line, small);
      base += LINE * 0.98;
    }
  }
  return Math.max(CELL_HEIGHT, base - y);
}

/** Steps in which to solder, what lies deepest first. */
function orderOf(
  derived: Derived,
  circuit: Circuit,
  lever: WiredSwitch | null,
  wires: readonly CutWire[],
  parts: readonly Part[],
  lamps: readonly WiredLamp[],
): readonly string[] {
  const resistors = parts.flatMap((each) => (each.kind === 'resistor' ? [each.part] : []));
  const shown = new Set(parts.map((each) => ('part' in each ? each.part.id : each.id)));
  const partOf = (end: Terminal): string => end.slice(0, end.lastIndexOf('.'));
  const touches = (wire: CutWire): boolean => shown.has(partOf(wire.from)) || shown.has(partOf(wire.to));
  const atTag = (wire: CutWire): boolean =>
    lever !== null && [wire.from, wire.to].some((end) => isTagOf(end, lever.id));
  const links = wires.filter((wire) => lever !== null && isTagOf(wire.from, lever.id) && isTagOf(wire.to, lever.id));
  const supplies = new Set(derived.wiring.supplies.map((supply) => supply.id));
  const ofOthers = wires.filter((wire) => wire.circuit !== circuit.id && !links.includes(wire));
  const supply = ofOthers.filter(
    (wire) => supplies.has(wire.circuit) && wire.side === 'panel' && (atTag(wire) || touches(wire)),
  );
  const others = ofOthers.filter((wire) => !supplies.has(wire.circuit) && atTag(wire));
  const rest = wires.filter((wire) => wire.circuit === circuit.id && !links.includes(wire) && wire.side === 'panel');
  const isPin = (end: Terminal): boolean => /^[A-Za-z]+\.\d+$/.test(end);
  const pins = rest.filter((wire) => isPin(wire.from) || isPin(wire.to));
  const lit = new Set<string>([...lamps, ...resistors].map((each) => each.id));
  for (const lamp of lamps) if (lamp.guard !== null) lit.add(lamp.guard.id);
  const lampWires = rest.filter(
    (wire) => !pins.includes(wire) && [wire.from, wire.to].some((end) => lit.has(partOf(end))),
  );
  const between = rest.filter((wire) => !pins.includes(wire) && !lampWires.includes(wire));
  const ids = (list: readonly { readonly id: string }[]): string => list.map((each) => each.id).join(' ');
  const stores = derived.wiring.capacitors.some(
    (each) => each.circuit === circuit.id || circuit.supplies.includes(each.circuit),
  );
  return [
    ...(stores
      ? [
          'Discharge every capacitor first: 100 ohm, 2 W, across it for three seconds. Its stripe goes to minus; the wrong way round it bursts.',
        ]
      : []),
    ...(lever === null
      ? []
      : [
          `The switch is fixed before you solder: this side up, nut tight${lever.part.tabHole > 0 ? ', the tab of its washer in the small hole' : ''}, so that it cannot turn. Where its bush has a keyway, that lies the same way on every switch.`,
        ]),
    ...(links.length > 0
      ? [`The links on the tags, insulated, before anything else is in the way: ${ids(links)}.`]
      : []),
    ...(resistors.length > 0 ? [`The resistors, sleeved: ${ids(resistors)}. Read the bands before you solder.`] : []),
    ...(lamps.length > 0
      ? [
          `The lamps, flat to the bottom edge, a wire on each lead: ${ids(lampWires)}. Two seconds a joint: heat kills a lamp.`,
        ]
      : []),
    ...(between.length > 0 ? [`The wires between its other parts: ${ids(between)}.`] : []),
    ...(pins.length > 0 ? [`The wires to the connector: ${ids(pins)}. Pull each gently.`] : []),
    ...(others.length > 0 ? [`The wires of other circuits on its tags: ${ids(others)}.`] : []),
    ...(supply.length > 0 ? [`The supply, last: ${ids(supply)}.`] : []),
    'Look at every joint through a glass, then test as stage 2 says, with no power.',
  ];
}

/** The tags of a circuit's switch from behind, and all that is soldered with it; no page where nothing is. */
export function solderPages(derived: Derived, setting: Setting, circuit: Circuit): Leaf[] {
  const full = solderLeaves(derived, setting, circuit, ENLARGED);
  if (full.length < 2) return full;
  const less = solderLeaves(derived, setting, circuit, LESS_ENLARGED);
  return less.length < full.length ? less : full;
}

/** Diodes, capacitors, relays and buttons of a circuit, in that order. */
function otherParts(derived: Derived, circuit: Circuit): Part[] {
  const { wiring } = derived;
  const does = { steering: 'steers the feed', rectifier: 'rectifies', flyback: 'across its coil' } as const;
  // What makes plus and minus for several circuits stands with the first of them.
  const isFirst = (supply: string): boolean =>
    wiring.circuits.find((each) => each.supplies.includes(supply))?.id === circuit.id;
  const here = (of: string): boolean => of === circuit.id || (circuit.supplies.includes(of) && isFirst(of));
  const tag = (terminal: Terminal) => ({ name: terminal.slice(terminal.lastIndexOf('.') + 1), terminal });
  return [
    ...wiring.resistors
      .filter((each) => each.circuit !== circuit.id && here(each.circuit))
      .map((part): Part => ({ kind: 'resistor', part })),
    ...wiring.diodes
      .filter((each) => here(each.circuit))
      .map((each): Part => ({ kind: 'diode', id: each.id, does: does[each.what] })),
    ...wiring.capacitors.filter((each) => here(each.circuit)).map((part): Part => ({ kind: 'capacitor', part })),
    ...wiring.buttons
      .filter((each) => each.circuit === circuit.id)
      .map(
        (each): Part => ({
          kind: 'tags',
          id: each.id,
          does: each.poles.map((pole) => `${pole.point} ${pole.lie}`).join(', '),
          tags: each.poles.flatMap((pole) => [tag(pole.a), tag(pole.b)]),
        }),
      ),
    ...wiring.relays
      .filter((each) => each.circuit === circuit.id)
      .flatMap((relay): Part[] => [
        {
          kind: 'tags',
          id: relay.id,
          does: relay.part.latching ? 'set and reset coils' : 'coil',
          tags: relay.coils.flatMap((coil) => [tag(coil.a), tag(coil.b)]),
        },
      ]),
    ...wiring.contacts
      .filter((each) => each.circuit === circuit.id && each.carrier.kind === 'relay')
      .map(
        (each): Part => ({
          kind: 'tags',
          id: each.id,
          does: 'contact of the relay',
          tags: [each.common, each.normal, each.reverse].flatMap((end) => (end === null ? [] : [tag(end)])),
        }),
      ),
  ];
}

function solderLeaves(derived: Derived, setting: Setting, circuit: Circuit, enlarged: number): Leaf[] {
  const { wiring, loom, plan } = derived;
  const wired = wiring.switches.find((each) => each.id === circuit.id) ?? null;
  const lever = plan.levers.find((each) => each.id === circuit.id);
  const resistors = wiring.resistors.filter((each) => each.circuit === circuit.id);
  const lamps = wiring.lamps.filter((each) => each.circuit === circuit.id);
  const others = otherParts(derived, circuit);
  if (wired === null && resistors.length + lamps.length + others.length === 0) return [];
  const { sheet } = setting;
  const own = new Set(circuit.wires);
  // At its tags every wire counts, of whatever circuit: trees use the poles of several levers.
  const wires = loom.wires.filter(
    (wire) => own.has(wire.id) || (wired !== null && [wire.from, wire.to].some((end) => isTagOf(end, wired.id))),
  );
  const nets = readNets(wires, []);
  const angle =
    lever === undefined || lever.angle === 0
      ? ''
      : ` The switch stands turned by ${formatNumber(lever.angle)} degrees on the face: turn this page with it.`;
  const title = lever === undefined ? circuit.id : leverTitle(lever);
  const flow = startFlow(setting, {
    title: wired === null ? `${title}: parts from behind` : `${title}: tags from behind`,
    lead: `Seen from behind, as you solder: left and right are exchanged against the front.${angle}${lamps.length > 0 ? ` ${FLAT_RULE}` : ''}`,
    name: `tags-${circuit.id}`,
    bookmark: { title: `${circuit.id}: ${wired === null ? 'parts' : 'tags'} from behind`, level: 1 },
  });
  if (wired !== null)
    flow.y += drawSwitch(
      flow.pen(),
      wired,
      (terminal) => nets.at(terminal),
      sheet.left,
      flow.y - 2,
      sheet.width,
      enlarged,
    );

  const parts: Part[] = [
    ...circuit.groups.flatMap((group): Part[] => [
      ...resistors.filter((each) => each.group === group).map((part): Part => ({ kind: 'resistor', part })),
      ...lamps.filter((each) => each.group === group).map((part): Part => ({ kind: 'lamp', part })),
      ...lamps.flatMap((lamp): Part[] =>
        lamp.group === group && lamp.guard !== null
          ? [{ kind: 'diode', id: lamp.guard.id, does: `across ${lamp.id}` }]
          : [],
      ),
    ]),
    ...others,
  ];
  if (parts.length > 0) {
    flow.heading(
      lamps.length + resistors.length === 0
        ? 'Parts, from behind'
        : others.length === 0
          ? 'Lamps and resistors, from behind'
          : 'Lamps, resistors and other parts, from behind',
      'a plus, k minus; bands by IEC 60062; wires cut in mm',
    );
    const columns = 3;
    const gap = 3;
    const wide = (sheet.width - gap * (columns - 1)) / columns;
    for (let i = 0; i < parts.length; i += columns) {
      flow.need(CELL_HEIGHT + 8);
      const pen = flow.pen();
      let tall = CELL_HEIGHT;
      for (const [k, part] of parts.slice(i, i + columns).entries())
        tall = Math.max(
          tall,
          drawPart(pen, part, (terminal) => nets.at(terminal), [sheet.left + k * (wide + gap), flow.y + 1], wide),
        );
      flow.y += tall + 1;
      pen.line([sheet.left, flow.y], [sheet.right, flow.y], { stroke: '#b5b5b5', width: HAIR });
    }
  }
  const order = orderOf(derived, circuit, wired, wires, parts, lamps);
  const orderStyle = { indent: 5, size: pt(9), width: sheet.width - 8, after: 0.9 };
  const orderLines = order.map(
    (step) => setting.measure.wrap(step, 'text-400', orderStyle.size, orderStyle.width - orderStyle.indent).length,
  );
  // The steps stay together: a few of them alone on the next page would be overlooked.
  const orderTall = orderLines.reduce((sum, lines) => sum + lines * orderStyle.size * LEADING + orderStyle.after, 10);
  flow.need(Math.min(orderTall, (sheet.bottom - sheet.top) / 2));
  flow.heading('Order of soldering');
  const tallOf = (lines: readonly number[]): Millimetre =>
    lines.reduce((sum, each) => sum + each * orderStyle.size * LEADING + orderStyle.after, 0);
  // The last steps stay together: a few lines alone on a page would be overlooked.
  let tail = order.length - 1;
  while (tail > 0 && tallOf(orderLines.slice(tail)) < ORDER_TAIL) tail -= 1;
  for (const [i, step] of order.entries()) {
    flow.need(i === tail ? tallOf(orderLines.slice(tail)) + 1 : i < tail ? 10 : tallOf(orderLines.slice(i, i + 1)));
    const pen = flow.pen();
    pen.rect([sheet.right - 3.4, flow.y + 1], [3.4, 3.4], { stroke: BLACK, width: 0.3 });
    flow.paragraph(step, { ...orderStyle, bullet: String(i + 1) });
  }
  return flow.leaves;
}
