/**
 * What an edit left as it was: circuits whose every answer, with any fault of their own, is what it was in the wiring before.
 *
 * Idea: behind a supply that holds its volts a circuit is alone, so it answers the same while all that it is made of is the same to the
 * name: parts, wires, pins, contacts with what decides them, and what its supplies hold. What its supplies must give, which every drive on
 * them alters, is not among that. Circuits that share a weak supply feel each other and change together.
 */
import { isAlike } from '../panel/index.ts';
import { drivesByPoint } from './blades.ts';
import { carriersOf } from './carrier-lies.ts';
import { type CircuitParts, NO_PARTS, partsOf, sideOf } from './circuit-parts.ts';
import { decidersOf } from './states.ts';
import type { WiredDrive, WiredSupply, Wiring } from './types.ts';

/** Ids of circuits that are as they were. */
export function unchangedCircuits(before: Wiring, now: Wiring): ReadonlySet<string> {
  // Returns are shared by circuits that nothing else joins.
  if (!isAlike(before.returns, now.returns)) return new Set();
  const [was, is] = [gather(before), gather(now)];
  const changed = new Set<string>();
  for (const supply of now.supplies) {
    const other = before.supplies.find(({ id }) => id === supply.id);
    const alike =
      other !== undefined &&
      isAlike(figuresOf(other), figuresOf(supply)) &&
      isAlike(was.parts.chains.get(supply.id) ?? NO_PARTS, is.parts.chains.get(supply.id) ?? NO_PARTS) &&
      was.turned.has(supply.id) === is.turned.has(supply.id) &&
      (isFirm(supply) || isAlike(other, supply));
    if (!alike) for (const circuit of supply.circuits) changed.add(circuit);
  }
  for (const own of is.parts.circuits.values()) {
    if (changed.has(own.id)) continue;
    const other = was.parts.circuits.get(own.id);
    if (other === undefined || !isSame(was, other, is, own)) changed.add(own.id);
  }
  // Until nothing more is felt: a circuit may hang on two supplies.
  const weak = now.supplies.filter((supply) => !isFirm(supply));
  for (let size = -1; size !== changed.size; ) {
    size = changed.size;
    for (const { circuits } of weak)
      if (circuits.some((circuit) => changed.has(circuit))) for (const circuit of circuits) changed.add(circuit);
  }
  return new Set(now.circuits.flatMap(({ id }) => (changed.has(id) ? [] : [id])));
}

/** Does a supply hold its volts whatever is drawn, with a fault or without? */
function isFirm({ ohms, limit }: WiredSupply): boolean {
  return ohms === 0 && limit === 'none';
}

interface Gathered {
  readonly wiring: Wiring;
  readonly parts: ReturnType<typeof partsOf>;
  readonly carriers: ReturnType<typeof carriersOf>;
  readonly drives: ReadonlyMap<string, WiredDrive>;
  /** Supplies that stand upside down, their plus in the middle of a split feed. */
  readonly turned: ReadonlySet<string>;
}

function gather(wiring: Wiring): Gathered {
  const turned = wiring.circuits.flatMap(({ feed, supplies }) => (feed === 'split' ? supplies.slice(1, 2) : []));
  return {
    wiring,
    parts: partsOf(wiring),
    carriers: carriersOf(wiring),
    drives: drivesByPoint(wiring),
    turned: new Set(turned),
  };
}

/** What a supply says of its volts, and who hangs on it; not what it must give. */
function figuresOf(supply: WiredSupply): unknown {
  const { kind, volts, frequency, from, farads, chargeOhms, railVolts, low, high, ohms, limit, fuse, circuits } =
    supply;
  return [kind, volts, frequency, from, farads, chargeOhms, railVolts, low, high, ohms, limit, fuse?.id, circuits];
}

function isSame(was: Gathered, before: CircuitParts, is: Gathered, now: CircuitParts): boolean {
  return (
    before.place === now.place &&
    isAlike(before.circuit, now.circuit) &&
    isAlike(before.wires, now.wires) &&
    isAlike(before.pins, now.pins) &&
    isAlike(before.resistors, now.resistors) &&
    isAlike(before.lamps, now.lamps) &&
    isAlike(before.asked, now.asked) &&
    isAlike(before.drives, now.drives) &&
    isAlike(before.switch, now.switch) &&
    isAlike(before.poles, now.poles) &&
    isAlike(before.contacts, now.contacts) &&
    isAlike(before.relays, now.relays) &&
    isAlike(before.buttons, now.buttons) &&
    isAlike(before.diodes, now.diodes) &&
    isAlike(before.capacitors, now.capacitors) &&
    isAlike(aroundOf(was, before), aroundOf(is, now))
  );
}

/** What decides a circuit's contacts, how each of that can lie, and how its lamps share resistors. */
function aroundOf({ wiring, parts, carriers, drives }: Gathered, { circuit, lamps, relays }: CircuitParts): unknown {
  const deciders = decidersOf(wiring, circuit).map((lever) => parts.parts.get(lever));
  const followed = circuit.follows.map((id) => {
    const carrier = carriers.get(id);
    return [carrier, carrier?.points.map(({ point }) => drives.get(point))];
  });
  const thrown = relays.map(({ point }) => drives.get(point));
  return [deciders, followed, thrown, lamps.map((lamp) => parts.sideBySide.get(sideOf(lamp)))];
}
