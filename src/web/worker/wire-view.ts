/** From a derived panel to what the stage Wire draws: one circuit in one setting, plain data. */
import { backTags, circuitFigures, modelCircuit, placesOf, wiringSide } from '../../book/index.ts';
import type { DerivedPanel } from '../../derive.ts';
import type { DrawnPanel } from '../../derive-panel.ts';
import { suggestCures } from '../../truth/index.ts';
import {
  type Circuit,
  type Fault,
  faultByCode,
  faultsOf,
  type Look,
  type WiredConnector,
  type Wiring,
} from '../../wiring/index.ts';
import type {
  WireAsk,
  WireCircuit,
  WireConnector,
  WireFault,
  WireShown,
  WireSupply,
  WireSwitch,
  WireTruth,
  WireValue,
  WireView,
  WireWire,
} from './wire-types.ts';

/** The circuit that is asked for, with the lists of all. */
export function makeWireView(derived: DrawnPanel, ask: WireAsk): WireView {
  const { wiring } = derived;
  const circuit = wiring.circuits.find(({ id }) => id === ask.circuit) ?? wiring.circuits[0];
  return {
    circuits: circuitsOf(derived),
    supplies: wiring.supplies.map((supply) => supplyOf(derived, supply)),
    shown: circuit === undefined ? null : shownOf(derived, circuit, ask),
  };
}

const CIRCUITS = new WeakMap<Wiring, readonly WireCircuit[]>();

function circuitsOf({ wiring, plan }: DrawnPanel): readonly WireCircuit[] {
  const known = CIRCUITS.get(wiring);
  if (known !== undefined) return known;
  const levers = new Map(plan.levers.map((lever) => [lever.id, lever]));
  const points = new Set(plan.points.map(({ id }) => id));
  const list = wiring.circuits.map((circuit): WireCircuit => {
    const lever = levers.get(circuit.id);
    const own = <T extends { readonly id: string; readonly circuit: string | null }>(all: readonly T[]): string[] =>
      all.filter((each) => each.circuit === circuit.id).map(({ id }) => id);
    return {
      id: circuit.id,
      kind: lever !== undefined ? 'lever' : points.has(circuit.id) ? 'point' : 'tree',
      name: lever?.name ?? null,
      works: lever === undefined ? circuit.levers : lever.works.map(({ point }) => point),
      ids: [
        circuit.id,
        ...circuit.points,
        ...circuit.drives,
        ...circuit.groups,
        ...own(wiring.lamps),
        ...own(wiring.resistors),
        ...own(wiring.contacts),
        ...own(wiring.relays),
        ...own(wiring.diodes),
        ...own(wiring.capacitors),
      ],
      lamps: own(wiring.lamps),
    };
  });
  CIRCUITS.set(wiring, list);
  return list;
}

function supplyOf({ wiring, panel }: DrawnPanel, supply: DrawnPanel['wiring']['supplies'][number]): WireSupply {
  const { id, kind, volts, amps, worstAmps, steadyAmps, from, fuse, circuits } = supply;
  return {
    id,
    kind,
    volts,
    amps,
    worst: worstAmps,
    steady: steadyAmps,
    from,
    fuse: fuse === null ? null : { id: fuse.id, amps: fuse.amps, given: fuse.given },
    circuits,
    returns: wiring.returns
      .filter((each) => each.supply === id)
      .map((each) => ({ id: each.id, circuits: each.circuits, pins: each.pins.length })),
    given: panel.supplies?.find((each) => each.id === id)?.volts !== undefined,
  };
}

/** What of a circuit does not change with its levers, kept for as long as its wiring is. */
type Still = Pick<
  WireShown,
  'model' | 'wires' | 'connectors' | 'switch' | 'values' | 'groups' | 'faults' | 'levers' | 'free' | 'top'
>;
const STILL = new WeakMap<Wiring, Map<string, Still>>();

function stillOf(derived: DrawnPanel, circuit: Circuit): Still {
  const { wiring } = derived;
  const of = STILL.get(wiring) ?? new Map<string, Still>();
  STILL.set(wiring, of);
  const known = of.get(circuit.id);
  if (known !== undefined) return known;
  const own = new Set(circuit.wires);
  const rails = wiring.supplies.filter(({ id }) => circuit.supplies.includes(id));
  const asked = new Set(
    wiring.drives.filter((drive) => drive.circuit !== null).flatMap((drive) => drive.asks.map(({ point }) => point)),
  );
  const claimed = derived.lamps
    .filter((lamp) => lamp.circuit === circuit.id)
    .flatMap((lamp) => lamp.claim.flatMap((claim) => Object.keys(claim)));
  const still: Still = {
    model: modelCircuit(derived, circuit),
    wires: derived.loom.wires
      .filter((wire) => own.has(wire.id))
      .map(
        ({ id, from, to, colour, gauge, length, side }): WireWire => ({ id, from, to, colour, gauge, length, side }),
      ),
    connectors: connectorsOf(derived, circuit),
    switch: switchOf(derived, circuit),
    values: valuesOf(derived, circuit),
    groups: derived.groups
      .filter((group) => circuit.groups.includes(group.id))
      .map(({ id, arrange, guard, normal, reverse, recorded }) => ({
        id,
        lamps: [...normal, ...reverse],
        arrange,
        guard,
        recorded,
      })),
    faults: faultsOf(wiring)
      .filter((fault) => fault.circuits.includes(circuit.id))
      .map((fault) => tell(wiring, fault)),
    levers: circuit.levers,
    free: [...new Set(claimed.filter((point) => !asked.has(point)))],
    top: Math.max(0, ...rails.map(({ railVolts, volts }) => Math.max(railVolts, volts))),
  };
  of.set(circuit.id, still);
  return still;
}

function shownOf(derived: DrawnPanel, circuit: Circuit, ask: WireAsk): WireShown {
  const fault = ask.fault === null ? null : faultByCode(derived.wiring, ask.fault);
  const figures = circuitFigures(derived, circuit, { levers: ask.levers, fault, history: ask.history });
  const healthy = derived.operate(ask.levers, [], ask.history);
  return {
    ...stillOf(derived, circuit),
    circuit: circuit.id,
    feed: circuit.feed,
    positions: circuit.positions,
    figures,
    fault: fault === null ? null : tell(derived.wiring, fault),
    looks: Object.fromEntries([...healthy.lamps, ...figures.lamps].map(({ id, look }) => [id, look])),
  };
}

/** Looks of every lamp of the panel with a fault: those of other circuits may follow it too. */
export function makeWireLooks(
  { wiring, operate }: DrawnPanel,
  { levers, fault: code, history }: WireAsk,
): Readonly<Record<string, Look>> {
  const fault = code === null ? null : faultByCode(wiring, code);
  return Object.fromEntries(
    operate(levers, fault === null ? [] : [fault], history).lamps.map(({ id, look }) => [id, look]),
  );
}

function tell(wiring: Wiring, fault: Fault): WireFault {
  return { code: fault.code, says: fault.says, at: placesOf(wiring, fault) };
}

function connectorsOf({ wiring, loom }: DrawnPanel, circuit: Circuit): readonly WireConnector[] {
  const colour = (pin: string, side: 'panel' | 'layout'): string | null =>
    loom.wires.find((wire) => wire.side === side && (wire.to === pin || wire.from === pin))?.colour ?? null;
  const isOwn = (pin: WiredConnector['pins'][number]): boolean =>
    pin.circuit === circuit.id ||
    wiring.returns.some((back) => back.pins.includes(pin.id) && back.circuits.includes(circuit.id));
  return wiring.connectors
    .filter(({ pins }) => pins.some(isOwn))
    .map(({ id, part, panelHalf, pins }) => ({
      id,
      name: part.name,
      family: part.family,
      panelHalf,
      panelSide: wiringSide(part.at, panelHalf),
      layoutSide: wiringSide(part.at, panelHalf === 'plug' ? 'socket' : 'plug'),
      used: pins.map(({ number }) => number),
      pins: pins.filter(isOwn).map((pin) => ({
        id: pin.id,
        number: pin.number,
        to: pin.to,
        panelColour: colour(pin.id, 'panel'),
        layoutColour: colour(pin.id, 'layout'),
        fixed: pin.fixed,
      })),
    }));
}

function switchOf({ wiring, loom }: DrawnPanel, circuit: Circuit): WireSwitch | null {
  const lever = wiring.switches.find(({ id }) => id === circuit.id);
  if (lever === undefined) return null;
  const { part, poles } = lever;
  return {
    id: lever.id,
    name: part.name,
    body: [part.body[0], part.body[1]],
    tags: backTags(poles.length, part.body).map(({ name, role, pole, at }) => {
      const terminal = `${lever.id}.${name}`;
      return {
        name,
        role,
        pole,
        at,
        wires: loom.wires
          .filter((wire) => wire.from === terminal || wire.to === terminal)
          .map(({ id, colour, from, to }) => ({ id, colour, to: from === terminal ? to : from })),
      };
    }),
    used: poles.filter(({ use }) => use !== 'spare').length,
    poles: poles.length,
  };
}

/** Figures that a user can fix, of what hangs in the circuit. */
function valuesOf({ wiring, panel, lamps }: DrawnPanel, circuit: Circuit): readonly WireValue[] {
  const values: WireValue[] = [];
  for (const { id, volts, kind } of wiring.supplies.filter((supply) => circuit.supplies.includes(supply.id)))
    if (kind !== 'cdu') {
      const given = panel.supplies?.find((each) => each.id === id)?.volts !== undefined;
      values.push({ what: 'supply-volts', id, volts, given });
    }
  for (const { id, group, ohms, ohmsFrom } of wiring.resistors.filter((each) => circuit.groups.includes(each.group)))
    if (ohms > 0) values.push({ what: 'ohms', id, group, ohms, given: ohmsFrom === 'file' });
  for (const of of new Set(wiring.lamps.filter((lamp) => lamp.circuit === circuit.id).map((lamp) => lamp.of))) {
    const use = lamps.find((lamp) => lamp.of === of);
    if (use === undefined) continue;
    const given = panel.lamps?.find(({ id }) => id === of)?.current !== undefined;
    values.push({ what: 'lamp-amps', id: of, amps: use.current, given });
  }
  for (const drive of wiring.drives.filter((each) => each.circuit === circuit.id)) {
    const { id, ohms, part } = drive;
    const record = panel.drives?.find((each) => each.id === id);
    if (part.stallAmps !== null && part.stallAmps !== undefined && ohms !== null) {
      const measured = record?.measured?.amps;
      values.push({ what: 'drive-amps', id, amps: measured ?? part.stallAmps, given: measured !== undefined });
    }
    values.push({ what: 'wire-length', id, length: drive.wire.length, given: record?.wire?.length !== undefined });
  }
  return values;
}

/** What single faults do to what the lamps say, circuit by circuit. Takes seconds on a large panel. */
export function makeWireTruth(derived: DerivedPanel): WireTruth {
  const { wiring } = derived;
  const truth = derived.kept.faultTruth();
  const classes = new Map(truth.outcomes.map(({ fault, class: of }) => [fault, of]));
  const byCircuit: Record<string, { tried: number; lie: number }> = {};
  for (const { code, circuits } of faultsOf(wiring)) {
    const of = classes.get(code);
    if (of === undefined) continue;
    for (const circuit of circuits) {
      const before = byCircuit[circuit] ?? { tried: 0, lie: 0 };
      byCircuit[circuit] = { tried: before.tried + 1, lie: before.lie + (of === 'wrongSide' ? 1 : 0) };
    }
  }
  return {
    byCircuit,
    lies: Object.fromEntries(truth.wrongSide.map(({ fault, lamp }) => [fault, lamp])),
    suggestions: suggestCures(derived, truth),
  };
}
