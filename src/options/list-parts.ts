/** What to buy and what stands where: every part with the ids that it is for. */
import type { Derived } from '../derive.ts';
import { lengthOfStrokes } from '../laying/index.ts';
import { BLADE_CONTACT } from '../parts/index.ts';
import { byId } from '../plan/index.ts';
import { formatOhms, formatShort, wireColourName } from '../units/index.ts';

export interface PartLine {
  readonly part: string;
  /** Pieces; for wire and tape metres, to a tenth upwards. */
  readonly count: number;
  readonly unit: 'piece' | 'metre';
  /** Ids that it serves, sorted by letters, then number. */
  readonly for: readonly string[];
  /** Of one piece or one metre; null where the catalogue knows none. */
  readonly price: number | null;
  /** Under which heading it is listed. */
  readonly group: 'face' | 'switches' | 'lamps' | 'connectors' | 'supply' | 'wire' | 'drives';
}

/** A name with its unit said, as the list prints it. */
export function partText(line: PartLine): string {
  return line.unit === 'metre' ? `${line.part}, metre` : line.part;
}

/** Volts that electrolytic capacitors are rated for (E series of the trade, from memory), and how much more than its feed one should bear. */
const CAPACITOR_VOLTS: readonly number[] = [10, 16, 25, 35, 50, 63, 100];
const CAPACITOR_MARGIN = 1.2;

interface Growing {
  readonly part: string;
  readonly price: number | null;
  readonly ids: string[];
}

/** Pieces by name, in the order in which each is first met. */
function gather(
  items: readonly { readonly part: string; readonly price: number | null; readonly id: string }[],
): readonly Growing[] {
  const found = new Map<string, Growing>();
  for (const { part, price, id } of items) {
    const line = found.get(part);
    if (line === undefined) found.set(part, { part, price, ids: [id] });
    else line.ids.push(id);
  }
  return [...found.values()];
}

/** A size in a name: "3.2", "12.2", "6". */
const sizeText = (value: number): string => formatShort(value, 2);
/** "4700 µF". */
const faradText = (farads: number): string => `${formatShort(farads * 1e6, 1)} \u00b5F`;

/** Up to the next tenth, past what binary fractions leave. */
function tenthsUp(metres: number): number {
  return Math.ceil(Math.round(metres * 1000) / 100) / 10;
}

/** Every part of the panel, group by group in the order of work. */
export function listParts(derived: Derived): readonly PartLine[] {
  const { panel, catalogue, face, loom, wiring } = derived;
  const there = new Set(
    [...(panel.levers ?? []), ...(panel.drives ?? [])].flatMap(({ id, existing }) => (existing === true ? [id] : [])),
  );
  /** What the file says is there already is listed, and costs nothing. */
  const bought = (id: string, { name, price }: { readonly name: string; readonly price: number }) =>
    there.has(id) ? { part: `${name}, there already`, price: 0, id } : { part: name, price, id };
  const pieces = (
    group: PartLine['group'],
    items: readonly { readonly part: string; readonly price: number | null; readonly id: string }[],
  ): PartLine[] =>
    gather(items).map(({ part, price, ids }) => ({
      part,
      price,
      count: ids.length,
      unit: 'piece',
      for: [...ids].sort(byId),
      group,
    }));

  const tapes = new Map<string, { length: number; ids: string[] }>();
  for (const strip of face.strips) {
    const key = `${strip.tape} tape, ${sizeText(strip.width)} mm wide`;
    const line = tapes.get(key) ?? { length: 0, ids: [] };
    line.length += lengthOfStrokes(strip.strokes);
    line.ids.push(strip.id);
    tapes.set(key, line);
  }

  const resistors = wiring.resistors.map((each) => {
    const fitting = catalogue
      .all('resistor')
      .filter((part) => part.watts >= each.rating)
      .sort((a, b) => a.watts - b.watts || a.price - b.price);
    return {
      part: `resistor ${formatOhms(each.ohms)} ${sizeText(each.rating)} W`,
      price: fitting[0]?.price ?? null,
      id: each.id,
    };
  });
  const guards = wiring.lamps.flatMap((lamp) =>
    lamp.guard === null ? [] : [{ part: lamp.guard.part.name, price: lamp.guard.part.price, id: lamp.guard.id }],
  );
  const halves = wiring.connectors.flatMap((connector) => {
    const other = connector.panelHalf === 'plug' ? 'socket' : 'plug';
    const half = connector.part.price / 2;
    return [
      { part: `${connector.part.name}, ${connector.panelHalf}`, price: half, id: connector.id },
      { part: `${connector.part.name}, ${other}`, price: half, id: connector.id },
    ];
  });
  // A capacitor unit is bought as its parts; the track's own supply is there.
  const kinds = { dc: 'V', ac: 'V AC', battery: 'V battery' } as const;
  const supplies = wiring.supplies.flatMap(({ id, kind, volts, amps }) =>
    kind === 'cdu' || kind === 'track'
      ? []
      : [
          {
            part:
              kind === 'battery'
                ? `battery ${sizeText(volts)} V`
                : `supply ${sizeText(volts)} ${kinds[kind]} ${sizeText(amps)} A, plug-in, isolated`,
            price: null,
            id,
          },
        ],
  );
  const diodes = wiring.diodes.map((each) => ({ part: each.part.name, price: each.part.price, id: each.id }));
  const capacitors = wiring.capacitors.map((each) => {
    const volts = Math.max(
      0,
      ...wiring.supplies
        .filter(
          (supply) =>
            supply.id === each.circuit ||
            wiring.circuits.some((circuit) => circuit.id === each.circuit && circuit.supplies.includes(supply.id)),
        )
        .map((supply) => supply.high),
    );
    const [fitting] = catalogue
      .all('capacitor')
      .filter((part) => part.farads === each.farads && part.volts >= volts)
      .sort((a, b) => a.volts - b.volts || a.price - b.price);
    const rated = CAPACITOR_VOLTS.find((step) => step >= volts * CAPACITOR_MARGIN);
    return {
      part: fitting?.name ?? `capacitor ${faradText(each.farads)}${rated === undefined ? '' : `, ${rated} V or more`}`,
      price: fitting?.price ?? null,
      id: each.id,
    };
  });
  // Of a lamp of two colours both elements are one piece.
  const lamps = new Map(wiring.lamps.map((lamp) => [lamp.of, lamp.part]));
  const fuses = wiring.supplies.flatMap((supply) =>
    supply.fuse === null
      ? []
      : [
          {
            part: `fuse ${sizeText(supply.fuse.amps)} A ${supply.fuse.act}, with holder`,
            price: null,
            id: supply.fuse.id,
          },
        ],
  );

  const wires = new Map<string, { length: number; ids: string[]; gauge: number }>();
  for (const wire of loom.wires) {
    const word = wireColourName(wire.colour);
    const key = `wire ${sizeText(wire.gauge)} mm2 ${wire.colour}${word === null ? '' : ` (${word})`}${wire.side === 'layout' ? ', under the layout' : ''}`;
    const line = wires.get(key) ?? { length: 0, ids: [], gauge: wire.gauge };
    line.length += wire.length;
    line.ids.push(wire.id);
    wires.set(key, line);
  }
  const onBlades = catalogue.find('contact', BLADE_CONTACT);
  const wirePrice = (gauge: number): number | null =>
    catalogue.all('wire').find((part) => part.gauge === gauge)?.price ?? null;

  return [
    {
      part: `sheet, ${sizeText(face.thickness)} mm ${face.material}, ${sizeText(face.width)} x ${sizeText(face.height)} mm`,
      count: 1,
      unit: 'piece',
      for: ['face'],
      price: null,
      group: 'face',
    },
    ...[...tapes].map(
      ([part, line]): PartLine => ({
        part,
        count: tenthsUp(line.length / 1000),
        unit: 'metre',
        for: line.ids,
        price: null,
        group: 'face',
      }),
    ),
    ...pieces(
      'face',
      face.plates.map((plate) => ({
        part: `plate ${sizeText(plate.width)} x ${sizeText(plate.height)} mm`,
        price: null,
        id: plate.id,
      })),
    ),
    ...pieces(
      'face',
      face.fixings.map((fixing) => ({
        part: `fixing screw for a ${sizeText(fixing.drill)} mm hole`,
        price: null,
        id: fixing.id,
      })),
    ),
    ...pieces(
      'switches',
      [...wiring.switches, ...wiring.buttons, ...wiring.relays].map((each) => bought(each.id, each.part)),
    ),
    ...pieces(
      'lamps',
      [...lamps].map(([id, part]) => ({ part: part.name, price: part.price, id })),
    ),
    ...pieces('lamps', resistors),
    ...pieces('lamps', guards),
    ...pieces('switches', [...diodes, ...capacitors]),
    ...pieces('connectors', halves),
    ...pieces('supply', supplies),
    ...pieces('supply', fuses),
    ...[...wires].map(
      ([part, line]): PartLine => ({
        part,
        count: tenthsUp(line.length / 1000),
        unit: 'metre',
        for: line.ids,
        price: wirePrice(line.gauge),
        group: 'wire',
      }),
    ),
    ...pieces(
      'drives',
      wiring.contacts.flatMap(({ id, carrier }) =>
        carrier.kind !== 'blades' || onBlades === undefined ? [] : [bought(id, onBlades)],
      ),
    ),
    ...pieces(
      'drives',
      wiring.drives.map((drive) => bought(drive.id, drive.part)),
    ),
  ];
}
