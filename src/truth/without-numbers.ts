/**
 * A wiring whose wires go by their two ends. Numbers of wires are counted through, so that one wire more gives all after it other
 * numbers; what is proved hangs on what they join, and is proved on this. What is told of wires gets their numbers back.
 */
import type { Fault, Wire, Wiring } from '../wiring/index.ts';

export interface Unnumbered {
  /** As it was, but for the ids of wires; circuits list none. */
  readonly wiring: Wiring;
  /** The code of one of its faults, with the number of the wire. */
  codeOf(fault: Fault): string;
}

/** The same wiring without numbers of wires. */
export function withoutNumbers(wiring: Wiring): Unnumbered {
  const numberOf = new Map<string, string>();
  const wires = wiring.wires.map((wire): Wire => {
    const ends = `${wire.from}~${wire.to}`;
    // What joins the same two twice is counted.
    const id = numberOf.has(ends) ? `${ends}~${numberOf.size}` : ends;
    numberOf.set(id, wire.id);
    return { ...wire, id };
  });
  const circuits = wiring.circuits.map((circuit) => ({ ...circuit, wires: [] }));
  return { wiring: { ...wiring, wires, circuits }, codeOf };

  /** "open:W12" of "open:L4.t1~H3.a". */
  function codeOf({ code, kind }: Fault): string {
    if (kind !== 'wire-open' && kind !== 'wire-dry') return code;
    const after = code.indexOf(':') + 1;
    return code.slice(0, after) + (numberOf.get(code.slice(after)) ?? code.slice(after));
  }
}
