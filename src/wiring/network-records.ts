/**
 * The wiring as plain records that another program can work out again: what is joined for good, and of each island every element with
 * its figures at the low, nominal and high edge, and every contact with what closes it.
 */
import type { CircuitElement, Node } from '../circuit/index.ts';
import { VF_BAND } from '../lamps/index.ts';
import type { Lie } from '../panel/index.ts';
import { forwardVolts } from '../parts/index.ts';
import { type CircuitParts, partsOf, sideOf } from './circuit-parts.ts';
import { mayLimit } from './limit.ts';
import { NOMINAL, netlistOf } from './netlist-of.ts';
import { islandsOf } from './solve-island.ts';
import { PARALLEL_SPREAD } from './tolerances.ts';
import type { Edge, WiredLamp, Wiring } from './types.ts';

/** One figure, or what it is at the low, the nominal and the high edge; high is the edge at which most flows. */
export type Figure = number | readonly [low: number, nominal: number, high: number];

/** What closes a contact: a lever that lies so, a carrier that lies so; null: nothing while all is at rest. */
export type ClosedBy =
  | { readonly lever: string; readonly lies: Lie }
  | { readonly carrier: string; readonly lies: Lie }
  | null;

interface RecordBase {
  readonly id: string;
  readonly a: Node;
  readonly b: Node;
}

/** Current is positive from a to b. `edge` says whose edge a figure takes: the supply's, its group of lamps', or of all else that draws. */
export type PartRecord =
  | (RecordBase & { readonly kind: 'contact'; readonly by: ClosedBy })
  | (RecordBase & {
      readonly kind: 'resistor';
      readonly ohms: Figure;
      readonly edge: 'lamps' | 'draw' | null;
      readonly group: string | null;
    })
  /** `vf` at `at`. `beside`: its forward volts at the low and high edge while a neighbour at the same resistor is judged. */
  | (RecordBase & {
      readonly kind: 'lamp';
      readonly vf: Figure;
      readonly at: number;
      readonly n: number;
      readonly rs: number;
      readonly group: string;
      readonly beside: readonly [low: number, high: number] | null;
    })
  | (RecordBase & {
      readonly kind: 'diode';
      readonly vf: number;
      readonly at: number;
      readonly n: number;
      readonly rs: number;
    })
  /** a is its plus. */
  | (RecordBase & { readonly kind: 'source'; readonly volts: Figure; readonly ohms: number })
  /** Carries nothing at rest. */
  | (RecordBase & { readonly kind: 'open' });

/** Circuits that are worked out together. */
export interface IslandRecords {
  readonly circuits: readonly string[];
  readonly records: readonly PartRecord[];
  /** Its supplies hold their volts whatever it draws: what hangs on them does not feel what else does. */
  readonly ideal: boolean;
  /** A supply of it may reach its limit. */
  readonly limited: boolean;
  /** Share of the volts that a dimmer leaves its lamps at the low edge, by lamp; lamps without one are not in it. */
  readonly dimmed: ReadonlyMap<string, number>;
}

export interface NetworkRecords {
  /** Wires of no ohms, pins and fuses: what is one node for good. */
  readonly joints: readonly { readonly id: string; readonly a: Node; readonly b: Node }[];
  readonly islands: readonly IslandRecords[];
}

const EDGES: readonly Edge[] = ['low', 'nominal', 'high'];

/** Amps at which the forward volts of a diode that is no lamp are told. */
const DIODE_AT = 0.01;

/** The records of a wiring, islands in its order. */
export function networkRecords(wiring: Wiring): NetworkRecords {
  const parts = partsOf(wiring);
  const joints = new Map<string, { id: string; a: Node; b: Node }>();
  const islands = islandsOf(wiring).map((circuits): IslandRecords => {
    const own = circuits.flatMap((id) => parts.circuits.get(id) ?? []);
    const at = EDGES.map((edge) =>
      netlistOf(
        wiring,
        {},
        {
          circuits: new Set(circuits),
          corner: { ...NOMINAL, supply: edge, lamps: edge, draw: edge },
        },
      ),
    );
    const closers = closersOf(own);
    const lamps = new Map(own.flatMap((each) => each.lamps.map((lamp) => [lamp.id, lamp] as const)));
    const groups = new Map(own.flatMap((each) => each.resistors.map(({ id, group }) => [id, group] as const)));
    const drives = new Map(own.flatMap((each) => each.drives.map(({ id }) => [id, each.inSeries] as const)));
    const byEdge = at.map(({ elements }) => new Map(elements.map((element) => [element.id, element])));
    const records: PartRecord[] = [];
    for (const element of at[1]?.elements ?? []) {
      const { id, a, b } = element;
      const closed = element.kind === 'contact' ? closers.get(id) : undefined;
      const isJoint =
        (element.kind === 'contact' && closed === undefined) || (element.kind === 'wire' && element.ohms === 0);
      if (isJoint) joints.set(id, { id, a, b });
      else
        records.push(recordOf(element, closed ?? null, (read) => figureOf(byEdge.map((each) => read(each.get(id))))));
    }
    const supplies = own.flatMap((each) => each.supplies);
    const limited = supplies.some((each) => mayLimit(wiring, each));
    return {
      circuits,
      records,
      ideal: circuits.length === 1 && !limited && supplies.every(({ ohms }) => ohms === 0),
      limited,
      dimmed: new Map(
        own.flatMap((each) => (each.dimmed === 1 ? [] : each.lamps.map(({ id }) => [id, each.dimmed] as const))),
      ),
    };

    function recordOf(
      element: CircuitElement,
      by: ClosedBy,
      figure: (read: (element: CircuitElement | undefined) => number) => Figure,
    ): PartRecord {
      const { id, a, b } = element;
      if (element.kind === 'contact') return { kind: 'contact', id, a, b, by };
      if (element.kind === 'diode') {
        const lamp = lamps.get(id);
        const { n, rs } = element.law;
        const at = lamp?.part.at ?? DIODE_AT;
        if (lamp === undefined) return { kind: 'diode', id, a, b, vf: forwardVolts(element.law, at), at, n, rs };
        const vf = figure((each) => (each?.kind === 'diode' ? forwardVolts(each.law, at) : Number.NaN));
        return { kind: 'lamp', id, a, b, vf, at, n, rs, group: lamp.group, beside: besideOf(lamp) };
      }
      if (element.kind === 'source') {
        const volts = figure((each) => (each?.kind === 'source' ? each.volts : Number.NaN));
        return { kind: 'source', id, a, b, volts, ohms: element.ohms };
      }
      if (element.kind === 'open' || element.kind === 'capacitor') return { kind: 'open', id, a, b };
      const edge = groups.has(id) ? 'lamps' : drives.has(id) ? 'draw' : null;
      // A drive that lamps stand in series with stands at their edge.
      const group = groups.get(id) ?? drives.get(id) ?? null;
      // A motor of which a meter cannot say that it draws anything is open at that edge.
      const ohms = figure((each) => (each !== undefined && 'ohms' in each ? each.ohms : Number.MAX_VALUE));
      return { kind: 'resistor', id, a, b, ohms, edge, group };
    }

    function besideOf(lamp: WiredLamp): readonly [number, number] | null {
      if (lamp.series !== null || (parts.sideBySide.get(sideOf(lamp)) ?? 0) < 2) return null;
      const band = (lamp.part.vfTolerance ?? VF_BAND) - PARALLEL_SPREAD;
      return [lamp.part.vf + band, lamp.part.vf - band];
    }
  });
  return { joints: [...joints.values()], islands };
}

/** What closes each contact, by its element's id; pins and fuses, closed for good, are not in it. */
function closersOf(circuits: readonly CircuitParts[]): ReadonlyMap<string, ClosedBy> {
  const found = new Map<string, ClosedBy>();
  for (const { poles, contacts, buttons } of circuits) {
    for (const lies of ['normal', 'reverse'] as const) {
      for (const { lever, sprung, pole } of poles) found.set(`${pole.id}=${lies}`, sprung ? null : { lever, lies });
      for (const { id, carrier } of contacts) found.set(`${id}=${lies}`, { carrier: carrier.id, lies });
    }
    for (const { poles: pushed } of buttons) for (const { id } of pushed) found.set(`${id}=closed`, null);
  }
  return found;
}

function figureOf(figures: readonly number[]): Figure {
  const [low = Number.NaN, nominal = Number.NaN, high = Number.NaN] = figures;
  return low === nominal && nominal === high ? nominal : [low, nominal, high];
}
