/** The wires to drives, contacts and returns: from the panel's nets to the pins, along the pins of one shell, and under the layout. */
import { type Ohm, wireOhms } from '../units/index.ts';
import { type Join, panelJoin } from './join.ts';
import type { Net } from './rails.ts';
import { NO_OHMS } from './tolerances.ts';
import type { Pin, Terminal, WiredDrive } from './types.ts';

/** A run of wire under the layout. */
export type Cable = { readonly wire: Pick<WiredDrive['wire'], 'length' | 'gauge'> };

/** Wires that leave the panel together, each with the net that it comes from. */
export interface Leaving {
  /** The drive, contact or return that they lead to. */
  readonly names: string;
  readonly circuit: string;
  readonly to: readonly Terminal[];
  readonly nets: readonly Net[];
  /** What says how long and thick they are under the layout, as their drive; null: a few centimetres, without ohms. */
  readonly along: Cable | null;
}

/** A wire under the layout that comes from no pin: from a return to a drive. */
export interface Beyond {
  readonly circuit: string;
  readonly from: Terminal;
  readonly to: Terminal;
  readonly net: Terminal;
  readonly along: WiredDrive;
}

/** Inside the panel first, bundle by bundle, then under the layout. What has no pins has no wires. */
export function runWires(
  leaving: readonly Leaving[],
  beyond: readonly Beyond[],
  pinsOf: ReadonlyMap<string, readonly Pin[]>,
  joins: Join[],
): void {
  const layout: Join[] = [];
  /** The last pin so far of each net in each shell. */
  const lastIn = new Map<string, Terminal>();
  for (const { names, circuit, nets, along } of leaving) {
    for (const [i, pin] of (pinsOf.get(names) ?? []).entries()) {
      const net = nets[i];
      if (net === undefined) continue;
      const key = `${pin.connector} ${net.name}`;
      const from = lastIn.get(key);
      if (net.rail) net.reach(pin.id);
      else joins.push(panelJoin(from ?? net.start, pin.id, circuit, net.name));
      lastIn.set(key, pin.id);
      layout.push({ ...under(circuit, pin.id, pin.to, pin.net), ...runOf(along) });
    }
  }
  for (const { circuit, from, to, net, along } of beyond)
    layout.push({ ...under(circuit, from, to, net), ...runOf(along) });
  joins.push(...layout);
}

function under(circuit: string, from: Terminal, to: Terminal, net: Terminal) {
  return { from, to, circuit, feeds: null, net, side: 'layout' as const };
}

function runOf(along: Cable | null): { readonly ohms: Ohm; readonly run: Join['run'] } {
  if (along === null) return { ohms: NO_OHMS, run: null };
  const { length, gauge } = along.wire;
  return { ohms: wireOhms(length, gauge), run: { length, gauge } };
}
