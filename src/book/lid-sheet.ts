/** The sheet for the lid: what whoever opens the box years later wants first, on one page where it fits. */
import type { Derived } from '../derive.ts';
import { formatAmps, formatOhms } from '../units/index.ts';
import { faradText, longDate, size as sizeText } from './format.ts';
import { pt } from './page.ts';
import { SMALLEST } from './pen.ts';
import { type Leaf, type Setting, startFlow } from './sheet.ts';
import { drawTable, type TableCell } from './table.ts';
import { counted, ranges } from './words.ts';

/** So many faults stand on the sheet. */
const MOST_FAULTS = 10;

/** Faults by how often they come, with their sign and the cure: common practice, no source. Those that this panel cannot have are left out. */
function likelyFaults(derived: Derived): readonly (readonly [string, string])[] {
  const { wiring } = derived;
  const lamps = wiring.lamps.length > 0;
  const pins = wiring.connectors.some((connector) => connector.pins.length > 0);
  const drives = wiring.drives.length > 0;
  const coils = wiring.drives.some((drive) => drive.feed === 'pulse' || drive.feed === 'charge');
  const pairs = wiring.drives.some(
    (drive) => drive.feed === 'reversing' || drive.feed === 'split' || drive.feed === 'half-wave',
  );
  const returns = wiring.returns.some((back) => back.circuits.length > 1);
  const contacts = wiring.contacts.some((each) => each.carrier.kind !== 'lever');
  const several = wiring.circuits.length > 1;
  const shared = wiring.circuits.some((circuit) => circuit.points.length > 1);
  const kinds = wiring.connectors.map((connector) => connector.part.id);
  const reversing = wiring.drives.some((drive) => drive.feed === 'reversing');
  const alike = new Set(kinds).size < kinds.length;
  const faults: readonly (readonly [boolean, string, string])[] = [
    [pairs, 'A point goes the wrong way, its lamps right', 'Its pair is crossed: swap the two wires at the drive.'],
    [
      coils,
      'A point goes the wrong way, its lamps right',
      'The wires of its two coils are crossed: swap them at the drive.',
    ],
    [
      coils,
      'A coil is hot, or nothing throws any more',
      'A contact stays closed: a sprung lever, a button or an end contact sticks. Switch off at once.',
    ],
    [
      returns,
      'Drives weak or wrong when levers differ',
      'The shared return is open: put all levers one way, and all are dead.',
    ],
    [
      contacts,
      'A lamp tells the wrong lie, the point right',
      'The two throws of its contact are exchanged: swap them at the contact.',
    ],
    [lamps, 'One lamp never lights', 'It is the wrong way round: the flat goes to minus. Or its joint is open.'],
    [true, 'Works when touched, slow or dim', 'A dry joint: heat it again. Tug every wire of that lever.'],
    [
      pins,
      'Several drives of one connector dead or wrong',
      'Pins counted from the wrong side: look for the moulded 1.',
    ],
    [pins, 'One drive dead, its neighbour odd', 'A wire in the next pin: see the pin map.'],
    [
      several,
      'Dead from one lever on',
      'The supply that goes from lever to lever is open there: a common was left off.',
    ],
    [lamps, 'A lamp too bright, too dim or soon dead', 'A wrong resistor: read its bands.'],
    [
      true,
      'The fuse blows, or the supply shuts down',
      'A bridge between tags or pins: unplug, test without power (stage 2).',
    ],
    [wiring.switches.length > 0, 'Everything of one lever the wrong way', 'The switch is upside down: turn it.'],
    [shared && pairs, 'Two points of a lever lie opposite', 'One pair is crossed: swap its two wires at that drive.'],
    [
      reversing && several,
      'Two drives dead when their levers agree',
      'A wire of each pair is swapped with the other’s.',
    ],
    [alike, 'Levers work the wrong points', 'Two equal connectors are swapped: key or mark them.'],
    [drives, 'The drive moves, the blades do not', 'The link between rod and drive is unhooked.'],
  ];
  return faults
    .filter(([applies]) => applies)
    .slice(0, MOST_FAULTS)
    .map(([, sign, cure]) => [sign, cure] as const);
}

/** What to keep in the box: one of each thing that burns, breaks or gets lost. */
function spares(derived: Derived): readonly string[] {
  const { wiring } = derived;
  const kinds = <T>(items: readonly T[], name: (item: T) => string): readonly string[] => [...new Set(items.map(name))];
  const fuses = wiring.supplies.flatMap((supply) => (supply.fuse === null ? [] : [supply.fuse]));
  const poles = wiring.switches.flatMap((each) =>
    each.poles.filter((pole) => pole.use === 'spare').map(({ id }) => id),
  );
  return [
    ...kinds(fuses, (fuse) => `two fuses ${sizeText(fuse.amps)} A ${fuse.act}`),
    ...kinds(wiring.lamps, (lamp) => `two of ${lamp.part.name}`),
    ...kinds(wiring.resistors, (each) => `one resistor ${formatOhms(each.ohms)}, ${sizeText(each.rating)} W`),
    ...kinds([...wiring.switches, ...wiring.buttons, ...wiring.relays], (each) => `one ${each.part.name}`),
    ...kinds(wiring.diodes, (each) => `one ${each.part.name}`),
    ...(poles.length === 0 ? [] : [`free poles: ${ranges(poles)}`]),
  ];
}

export function lidPages(derived: Derived, setting: Setting): Leaf[] {
  const { wiring, loom } = derived;
  const { sheet, imprint } = setting;
  const flow = startFlow(setting, {
    title: 'Sheet for the lid',
    lead: `Fix it inside the lid of ${imprint.panel}. Revision ${imprint.revision}, ${longDate(imprint.date)}.`,
    name: 'lid',
    bookmark: { title: 'Sheet for the lid', level: 0 },
  });
  flow.heading('Supply and fuses', 'extra-low voltage only, isolated; never joined to mains, rails or bus');
  flow.y += 0.8;
  if (wiring.supplies.length === 0) flow.paragraph('This panel has no supply yet.', { size: pt(9) });
  for (const supply of wiring.supplies) {
    if (supply.kind === 'cdu') {
      flow.paragraph(
        `${supply.id}: capacitor unit, ${faradText(supply.farads ?? 0)} at ${sizeText(supply.volts)} V, charged from ${supply.from ?? ''} through ${formatOhms(supply.chargeOhms ?? 0)}. It holds its charge after switching off: discharge it through 100 ohm, 2 W, for three seconds. Feeds ${ranges(supply.circuits)}.`,
        { size: pt(9), after: 0.8 },
      );
      continue;
    }
    flow.paragraph(
      `${supply.id}: ${sizeText(supply.volts)} V ${supply.kind === 'ac' ? 'AC' : 'DC'}, ${sizeText(supply.amps)} A. ${supply.fuse === null ? 'No fuse.' : `Fuse ${supply.fuse.id}: ${sizeText(supply.fuse.amps)} A ${supply.fuse.act}; never a larger one.`} At rest up to ${formatAmps(supply.steadyAmps)}, at switch-on up to ${formatAmps(supply.worstAmps)}. Feeds ${ranges(supply.circuits)}.`,
      { size: pt(9), after: 0.8 },
    );
  }
  for (const back of wiring.returns)
    flow.paragraph(
      `${back.id}: the shared return of ${ranges(back.circuits)} to ${back.supply}${back.pins.length === 0 ? '' : `, ${back.pins.length === 1 ? 'pin' : 'pins'} ${back.pins.join(' ')}`}; joined to no rail, bus or other supply.`,
      { size: pt(9), after: 0.8 },
    );
  const stores = wiring.capacitors.filter((each) => wiring.supplies.every((supply) => supply.id !== each.id));
  if (stores.length > 0)
    flow.paragraph(
      `${ranges(stores.map((each) => each.id))}: ${stores.length === 1 ? 'holds its' : 'hold their'} charge after switching off: 100 ohm, 2 W, across ${stores.length === 1 ? 'it' : 'each'} for three seconds.`,
      { size: pt(9), after: 0.8 },
    );
  const panel = loom.wires.filter((wire) => wire.side === 'panel');
  const colours = new Map([
    ...panel.map((wire) => [wire.from, wire.colour] as const),
    ...panel.map((wire) => [wire.to, wire.colour] as const),
  ]);
  for (const connector of wiring.connectors) {
    const other = connector.panelHalf === 'plug' ? 'socket' : 'plug';
    const used = new Set(connector.pins.map((pin) => pin.number));
    const free = Array.from({ length: connector.part.ways }, (_, i) => i + 1).filter((each) => !used.has(each));
    flow.heading(
      `Connector ${connector.id}`,
      `${connector.part.name}: ${connector.panelHalf} on the panel, ${other} on the layout; free: ${free.length === 0 ? 'none' : ranges(free.map(String))}`,
    );
    drawTable(
      flow,
      sheet,
      [
        { title: 'Pin', width: 7, font: 'text-700' },
        { title: 'To', width: { share: 1 } },
        { title: 'Of', width: 9 },
        { title: 'Wire', width: 10.5 },
      ],
      connector.pins.map((pin): TableCell[] => [String(pin.number), pin.to, pin.circuit, colours.get(pin.id) ?? '']),
      { size: SMALLEST, pad: 0.12, gap: 1.2, across: connector.pins.length > 3 ? 4 : 1 },
    );
  }
  flow.heading('The likeliest faults', 'switch off and unplug before you touch anything');
  drawTable(
    flow,
    sheet,
    [
      { title: 'What you see', width: { share: 1 }, font: 'text-600' },
      { title: 'What it mostly is', width: { share: 1.5 } },
    ],
    likelyFaults(derived).map(([sign, cure]) => [sign, cure]),
    { size: pt(8.8), pad: 0.5 },
  );
  const kept = spares(derived);
  if (kept.length > 0) {
    flow.heading(
      'Spares to keep with it',
      `${counted(derived.counts.wires, 'wire')}, ${counted(derived.counts.lamps, 'lamp')}`,
    );
    flow.y += 0.8;
    flow.paragraph(
      `${kept.join('; ')}.`.replace(/^./, (first) => first.toUpperCase()),
      { size: pt(9) },
    );
  }
  return flow.leaves;
}
