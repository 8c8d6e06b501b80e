/** Each connector: both halves from their wiring sides, and a table of the pins. */
import type { Derived } from '../derive.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import type { WiredConnector } from '../wiring/index.ts';
import { volts } from './format.ts';
import { pt } from './page.ts';
import { BLACK, FIRM, HAIR, type Pen, WHITE } from './pen.ts';
import { pinVolts, settingsOfPin } from './pin-volts.ts';
import { type Leaf, type Setting, startFlow } from './sheet.ts';
import { type Column, drawTable, type TableCell } from './table.ts';
import { counted } from './words.ts';

/**
 * Where the ways of a half are, seen from its wiring side. The catalogue gives the mating face of the plug; a wiring side is
 * the mirror of the mating face of the same half, and a socket's mating face the mirror of its plug's: so a socket's wiring
 * side reads like the plug's face, and a plug's like the socket's (REFERENCES 15).
 */
export function wiringSide(at: readonly Spot[], half: 'plug' | 'socket'): readonly Spot[] {
  const xs = at.map(([x]) => x);
  const [least, most] = [Math.min(...xs), Math.max(...xs)];
  return half === 'socket' ? at : at.map(([x, y]): Spot => [least + most - x, y]);
}

/** Enlarged so that numbers can be read, but no wider than `most`. Returns the height used. */
function drawHalf(
  pen: Pen,
  connector: WiredConnector,
  half: 'plug' | 'socket',
  [left, top]: Spot,
  most: Millimetre,
): Millimetre {
  const spots = wiringSide(connector.part.at, half);
  const xs = spots.map(([x]) => x);
  const ys = spots.map(([, y]) => y);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const pitch =
    spots.length < 2
      ? 5
      : Math.min(...spots.flatMap((a, i) => spots.slice(i + 1).map((b) => Math.hypot(a[0] - b[0], a[1] - b[1]))));
  const scale = Math.min((most - 16) / Math.max(x1 - x0, 1), 9 / pitch);
  const r = Math.min(3.4, pitch * scale * 0.44);
  const rowGap = Math.max(scale, y1 > y0 ? (2 * r + 2) / Math.max(2.5, pitch) : 1);
  const w = (x1 - x0) * scale;
  const h = (y1 - y0) * rowGap;
  const x = left + (most - w) / 2;
  const y = top + r + 5;
  const pad = r + 2.6;
  if (connector.part.family === 'dsub') {
    // The broad row is where way 1 is: the shell is broad there.
    const skew = 3;
    pen.polyline(
      [
        [x - pad - 1, y - pad],
        [x + w + pad + 1, y - pad],
        [x + w + pad + 1 - skew, y + h + pad],
        [x - pad - 1 + skew, y + h + pad],
      ],
      { closed: true, stroke: BLACK, width: 0.5, join: 'round' },
    );
  } else if (connector.part.family === 'din') {
    const radius = Math.hypot(w, h) / 2 + pad;
    pen.circle([x + w / 2, y + h / 2], radius, { stroke: BLACK, width: 0.5 });
  } else pen.rect([x - pad, y - pad], [w + 2 * pad, h + 2 * pad], { stroke: BLACK, width: 0.5, radius: 0.8 });
  for (const [i, [sx, sy]] of spots.entries()) {
    const at: Spot = [x + (sx - x0) * scale, y + (sy - y0) * rowGap];
    const used = connector.pins.some((pin) => pin.number === i + 1);
    pen.circle(
      at,
      r,
      used ? { stroke: BLACK, width: FIRM, fill: WHITE } : { stroke: BLACK, width: HAIR, dash: [0.8, 0.6] },
    );
    const size = Math.min(pt(9), r * 1.25);
    pen.text([at[0], at[1] + size * 0.34], String(i + 1), {
      font: used ? 'text-700' : 'text-400',
      size,
      anchor: 'middle',
      least: 1,
    });
  }
  return 2 * r + h + 12;
}

/** A page or more for each connector. */
export function connectorPages(derived: Derived, setting: Setting): Leaf[] {
  const { wiring, loom } = derived;
  const { sheet } = setting;
  const leaves = wiring.connectors.flatMap((connector) => {
    const other = connector.panelHalf === 'plug' ? 'socket' : 'plug';
    const free = connector.part.ways - connector.pins.length;
    const flow = startFlow(setting, {
      title: `Connector ${connector.id}`,
      lead: `${connector.part.name}: ${connector.panelHalf} on the panel, ${other} on the layout. ${connector.pins.length} pins used, ${counted(free, 'spare')}, drawn dashed.`,
      name: `connector-${connector.id}`,
      bookmark: { title: `Connector ${connector.id}`, level: 1 },
    });
    for (const [half, words] of [
      [connector.panelHalf, 'Panel half'],
      [other, 'Layout half'],
    ] as const) {
      const pen = flow.pen();
      const wide = pen.text([sheet.left, flow.y + 4], `${words}, ${half}`, { font: 'text-700', size: pt(10.5) });
      pen.text(
        [sheet.left + wide + 3, flow.y + 4],
        `from the wiring side, as you ${connector.part.family === 'screw' ? 'wire' : 'solder'}`,
        { size: pt(9.6) },
      );
      flow.y += 6.5 + drawHalf(pen, connector, half, [sheet.left, flow.y + 4.5], sheet.width);
    }
    flow.paragraph(
      'The two wiring sides mirror each other. Count from the moulded figure beside pin 1, not from a corner.',
      { size: pt(9) },
    );
    const contacts = connector.pins.some((pin) => wiring.contacts.some((each) => pin.to.startsWith(`${each.id}.`)));
    if (contacts)
      flow.paragraph(
        'Of a contact c is the common, n is closed when it lies normal, r when it lies reverse; b before its number: worked by the blades.',
        { size: pt(9) },
      );
    const panelWire = new Map<string, string>();
    const layoutWire = new Map<string, string>();
    for (const wire of loom.wires) {
      const into = wire.side === 'panel' ? panelWire : layoutWire;
      // What arrives names the pin, though the wire may go on from it; what comes from a contact begins at its pin.
      const pin = wire.side === 'panel' ? wire.to : wire.from;
      if (!into.has(pin)) into.set(pin, `${wire.id} ${wire.colour}`);
    }
    const arriving = new Set(panelWire.keys());
    for (const wire of loom.wires) {
      if (wire.side !== 'panel' || arriving.has(wire.from)) continue;
      const before = panelWire.get(wire.from);
      panelWire.set(wire.from, `${before === undefined ? '' : `${before}, `}${wire.id} ${wire.colour}`);
    }
    const columns: Column[] = [
      { title: 'Pin', width: 15, font: 'text-700' },
      { title: 'Panel wire', width: { share: 1 } },
      { title: 'Layout wire', width: { share: 1 } },
      { title: 'Leads to', width: { share: 0.8 } },
      { title: 'Circuit', width: 13 },
      { title: 'V normal', width: 15, anchor: 'end' },
      { title: 'V reverse', width: 15, anchor: 'end' },
      { title: 'Panel', width: 9, anchor: 'end' },
      { title: 'Layout', width: 10, anchor: 'end' },
    ];
    const rows: TableCell[][] = [];
    for (let number = 1; number <= connector.part.ways; number++) {
      const pin = connector.pins.find((each) => each.number === number);
      if (pin === undefined) {
        // Spare pins that follow each other share a line.
        const next = connector.pins.find((each) => each.number > number)?.number ?? connector.part.ways + 1;
        const which = next - number === 1 ? String(number) : `${number} to ${next - 1}`;
        rows.push([{ text: which, font: 'text-400' }, 'spare', '', '', '', '', '', '', '']);
        number = next - 1;
        continue;
      }
      const settings = settingsOfPin(derived, pin);
      // Where more than one thing decides it, a column would tell half: the list of pins tells all.
      const at = (i: 0 | 1): string => {
        if (settings.length > 2 && settings[0]?.setting !== 'normal') return 'see list';
        const setting = settings[i] ?? settings[0];
        return setting === undefined ? '' : volts(pinVolts(derived, pin, setting));
      };
      rows.push([
        String(number),
        panelWire.get(pin.id) ?? '',
        layoutWire.get(pin.id) ?? '',
        pin.to,
        pin.circuit,
        at(0),
        at(1),
        { tick: true },
        { tick: true },
      ]);
    }
    drawTable(flow, sheet, columns, rows, { size: pt(8.6), pad: 0.6 });
    return flow.leaves;
  });
  leaves[0]?.bookmarks.unshift({ title: 'Connectors', level: 0 });
  leaves[0]?.names.push('connectors');
  return leaves;
}
