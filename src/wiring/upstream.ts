/**
 * What stands before a rail that the settled network holds at its volts: fuse, diodes and smoothing capacitors of an alternating supply,
 * and what charges a capacitor unit. Where that is broken the rail gives nothing, or less.
 */

import { railNames } from './rails.ts';
import { UNSMOOTHED } from './tolerances.ts';
import type { FaultEdit, Terminal, WiredSupply, Wiring } from './types.ts';

/** A rail that one diode feeds: its source in the settled network, and what stands before it. */
interface Rail {
  readonly source: string;
  readonly diode: string;
  readonly capacitor: string;
}

/** The two rails of an alternating supply. */
function railsOf(id: string): readonly Rail[] {
  return [
    { source: id, diode: `SD-${id}p`, capacitor: `CAP-${id}p` },
    { source: `${id}-`, diode: `SD-${id}m`, capacitor: `CAP-${id}m` },
  ];
}

function rail(element: string, times: number): FaultEdit {
  return { do: 'rail', element, times };
}

/** Capacitor units that a supply charges. */
export function unitsOf(wiring: Wiring, supply: string): readonly WiredSupply[] {
  return wiring.supplies.filter(({ from }) => from === supply);
}

/** What a part of a supply that is open, shorted or backwards does besides to what the settled network holds. */
export function upstreamOf(wiring: Wiring, part: string, how: 'open' | 'short' | 'backwards'): readonly FaultEdit[] {
  for (const { id, kind, fuse } of wiring.supplies) {
    if (fuse?.id === part) {
      const own = kind === 'ac' ? railsOf(id).map(({ source }) => source) : [];
      return [...own, ...unitsOf(wiring, id).map((unit) => unit.id)].map((source) => rail(source, 0));
    }
    if (kind === 'cdu') {
      // With its diode shorted it is charged all the same.
      if (part === `SD-${id}` && how !== 'short') return [rail(id, 0)];
      if (part === `R-${id}` && how === 'open') return [rail(id, 0)];
    }
    if (kind !== 'ac') continue;
    for (const { source, diode, capacitor } of railsOf(id)) {
      // What is not rectified has no mean.
      if (part === diode) return [rail(source, 0)];
      if (part === capacitor) return [rail(source, how === 'open' ? UNSMOOTHED : 0)];
    }
  }
  return [];
}

/** The same of a wire between a supply and what it feeds that is open. */
export function behindCut(wiring: Wiring, wire: string): readonly FaultEdit[] {
  const { circuit = '' } = wiring.wires.find(({ id }) => id === wire) ?? {};
  const cut = wiring.supplies.find(({ id }) => id === circuit);
  if (cut === undefined) return [];
  const concerned = [cut, ...unitsOf(wiring, cut.id)].filter(({ kind }) => kind === 'ac' || kind === 'cdu');
  if (concerned.length === 0) return [];
  const reached = reachWithout(wiring, wire);
  return concerned.flatMap(({ id, kind, from }): readonly FaultEdit[] => {
    if (kind === 'cdu') {
      const charged =
        reached(railNames.plus(from ?? ''), railNames.plus(id)) &&
        reached(railNames.minus(from ?? ''), railNames.minus(id));
      return charged ? [] : [rail(id, 0)];
    }
    return railsOf(id).flatMap(({ source, diode, capacitor }): readonly FaultEdit[] => {
      if (!wiring.diodes.some((each) => each.id === diode)) return [];
      const before = diode.endsWith('p') ? `${diode}.a` : `${diode}.k`;
      if (!reached(railNames.plus(id), before)) return [rail(source, 0)];
      const smooth = wiring.capacitors.find((each) => each.id === capacitor);
      if (smooth === undefined) return [];
      const far = diode.endsWith('p') ? smooth.minus : smooth.plus;
      return reached(railNames.minus(id), far) ? [] : [rail(source, UNSMOOTHED)];
    });
  });
}

/** What hangs together by wires of supplies, fuses and what charges units, one wire left out. */
function reachWithout(wiring: Wiring, wire: string): (a: Terminal, b: Terminal) => boolean {
  const parent = new Map<Terminal, Terminal>();
  const find = (node: Terminal): Terminal => {
    let top = node;
    for (let next = parent.get(top); next !== undefined && next !== top; next = parent.get(top)) top = next;
    return top;
  };
  const join = (a: Terminal, b: Terminal) => parent.set(find(a), find(b));
  const supplies = new Set(wiring.supplies.map(({ id }) => id));
  for (const { id, circuit, from, to } of wiring.wires) if (id !== wire && supplies.has(circuit)) join(from, to);
  for (const { id, kind, fuse } of wiring.supplies) {
    if (fuse !== null) join(`${fuse.id}.1`, `${fuse.id}.2`);
    if (kind !== 'cdu') continue;
    join(`R-${id}.1`, `R-${id}.2`);
    join(`SD-${id}.a`, `SD-${id}.k`);
  }
  return (a, b) => find(a) === find(b);
}
