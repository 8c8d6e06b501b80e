/** The lists that other programs read: each a header and its rows, in a stated order. Columns are a promise to the outside. */
import { inHex } from '../decoders/index.ts';
import type { Derived } from '../derive.ts';
import { listParts, partText } from '../options/index.ts';
import type { Expect } from '../prove/index.ts';
import { caseText } from '../track/index.ts';
import { lieWhen } from './decoder-pages.ts';
import { pinVolts, settingsOfPin } from './pin-volts.ts';
import type { Cell } from './write-csv.ts';

export interface List {
  readonly header: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

/** A length or a figure without the tail that binary sums leave. */
function tidy(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}

/** Holes by number. Millimetres from the top left corner, y down; `for` is the id that stands on every drawing. */
export function holesList(derived: Derived): List {
  return {
    header: ['no', 'x_mm', 'y_mm', 'drill_mm', 'for'],
    rows: derived.face.holes.map((hole) => [hole.no, tidy(hole.at[0]), tidy(hole.at[1]), hole.drill, hole.id]),
  };
}

/** Wires in their order, with the terminals that drawings and SPICE share. */
export function wiresList(derived: Derived): List {
  return {
    header: ['no', 'from', 'to', 'colour', 'gauge_mm2', 'length_mm', 'circuit'],
    rows: derived.loom.wires.map((wire) => [
      wire.id,
      wire.from,
      wire.to,
      wire.colour,
      wire.gauge,
      wire.length,
      wire.circuit,
    ]),
  };
}

/**
 * One row a pin and position of its lever, all other levers normal; spare pins are left out. Where other levers or points decide it, the
 * setting names them (`L1=normal P2=reverse`); `any` where nothing does, as of a return.
 */
export function pinsList(derived: Derived): List {
  const { wiring, loom } = derived;
  const rows: Cell[][] = [];
  const colours = new Map<string, string>();
  // The panel's own wire that comes to the pin; the chain may go on from it, so the first that ends there counts, then the first that begins.
  const panel = loom.wires.filter((wire) => wire.side === 'panel');
  for (const end of ['to', 'from'] as const)
    for (const wire of panel) if (!colours.has(wire[end])) colours.set(wire[end], wire.colour);
  for (const connector of wiring.connectors) {
    for (const pin of connector.pins) {
      for (const setting of settingsOfPin(derived, pin)) {
        const volts = pinVolts(derived, pin, setting);
        rows.push([
          connector.id,
          pin.number,
          pin.net,
          colours.get(pin.id) ?? '',
          pin.circuit,
          setting.setting,
          volts === null ? null : tidy(volts),
        ]);
      }
    }
  }
  return { header: ['connector', 'pin', 'net', 'colour', 'circuit', 'setting', 'volts'], rows };
}

/**
 * Every frog: the rail that it takes in each case, `left` or `right` seen from the toe towards it (of a slip from its middle, of a diamond
 * along the line in use), and the bus wire of that rail, blank inside a reversing section. The cases are those of `when_normal` and
 * `when_reverse`: a point's lie, or the line in use of a diamond that no point tells. `contact_by`: `file`, or `tool` where it is proposed.
 */
export function frogsList(derived: Derived): List {
  return {
    header: [
      'frog',
      'of',
      'kind',
      'contact',
      'rail_normal',
      'rail_reverse',
      'bus_normal',
      'bus_reverse',
      'when_normal',
      'when_reverse',
      'contact_by',
    ],
    rows: derived
      .track()
      .frogs.map((frog) => [
        frog.id,
        frog.of,
        frog.kind === 'not-said' ? 'not said' : frog.kind,
        frog.contact?.id ?? '',
        frog.normal.rail,
        frog.reverse.rail,
        frog.normal.bus ?? '',
        frog.reverse.bus ?? '',
        caseText(frog.normal),
        caseText(frog.reverse),
        frog.contact === null ? '' : frog.contact.stated ? 'file' : 'tool',
      ]),
  };
}

/**
 * Decoders by address, then by id. `bytes_normal` and `bytes_reverse`: the packet that tells it so, in sixteens, the XOR last; board, pair and
 * bytes are blank without an address that a decoder can have. `points_normal`: how its points lie when it is told normal, as `P1=normal`.
 */
export function decodersList(derived: Derived): List {
  return {
    header: ['address', 'board', 'pair', 'decoder', 'points_normal', 'bytes_normal', 'points_reverse', 'bytes_reverse'],
    rows: derived.decoders.decoders.map(({ address, read, id, points, packets }) => {
      const place = read?.kind === 'pair' ? read.place : null;
      const lies = (told: 'normal' | 'reverse') =>
        points.map(({ point, whenNormal }) => `${point}=${lieWhen(whenNormal, told)}`).join(' ');
      return [
        address,
        place?.board ?? null,
        place?.pair ?? null,
        id,
        lies('normal'),
        packets === null ? '' : inHex(packets.normal),
        lies('reverse'),
        packets === null ? '' : inHex(packets.reverse),
      ];
    }),
  };
}

/** Every part with the ids that it is for; the price is of one, or of one metre. */
export function partsList(derived: Derived): List {
  return {
    header: ['part', 'count', 'for', 'price'],
    rows: listParts(derived).map((line) => [partText(line), line.count, line.for.join(' '), line.price]),
  };
}

/** Routes in their order, a column a lever; blank where either position will do, or where levers cannot set the route. */
export function routesList(derived: Derived): List {
  const levers = derived.plan.levers.map((lever) => lever.id);
  return {
    header: ['from', 'to', ...levers],
    rows: derived
      .routes()
      .routes.map((route) => [route.from, route.to, ...levers.map((lever) => route.levers?.[lever] ?? '')]),
  };
}

/** Routes that cannot stand together. */
export function conflictsList(derived: Derived): List {
  const { routes } = derived.routes();
  return {
    header: ['from_1', 'to_1', 'from_2', 'to_2', 'reason'],
    rows: derived
      .conflicts()
      .map(([i, j, reason]) => [
        routes[i]?.from ?? '',
        routes[i]?.to ?? '',
        routes[j]?.from ?? '',
        routes[j]?.to ?? '',
        reason,
      ]),
  };
}

function expectCells(expect: Expect): readonly [string, Cell, Cell, string] {
  if ('lamp' in expect) return [`${expect.lamp} ${expect.look}`, null, null, ''];
  if ('point' in expect) return [`${expect.point} ${expect.lie}`, null, null, ''];
  return [
    `${expect.quantity} at ${expect.at}`,
    tidy(expect.low),
    expect.high === null ? null : tidy(expect.high),
    expect.unit,
  ];
}

/** Bench tests in the order of work, one row an expectation. */
export function testsList(derived: Derived): List {
  return {
    header: ['id', 'stage', 'lever', 'do', 'expect', 'low', 'high', 'unit'],
    rows: derived
      .tests()
      .flatMap((test) =>
        (test.expect.length === 0 ? [['', null, null, ''] as const] : test.expect.map(expectCells)).map((cells) => [
          test.id,
          test.stage,
          test.lever ?? '',
          test.do,
          ...cells,
        ]),
      ),
  };
}
