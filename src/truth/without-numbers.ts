/**
 * A wiring whose wires go by their two ends. Numbers of wires are counted through, so that one wire more gives all after it other
 * numbers; what is proved hangs on what they join, and is proved on this. What is told of wires gets their numbers back.
 */
import type { Wire, Wiring } from '../wiring/index.ts';
import type { FaultTruth } from './types.ts';

export interface Unnumbered {
  /** As it was, but for the ids of wires; circuits list none. */
  readonly wiring: Wiring;
  /** Gives wires their numbers back. */
  numbered(truth: FaultTruth): FaultTruth;
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
  return { wiring: { ...wiring, wires, circuits }, numbered };

  function numbered(truth: FaultTruth): FaultTruth {
    return {
      ...truth,
      outcomes: truth.outcomes.map((outcome) => {
        const fault = codeOf(outcome.fault);
        return fault === outcome.fault ? outcome : { ...outcome, fault };
      }),
      wrongSide: truth.wrongSide.map((each) => {
        const fault = codeOf(each.fault);
        return fault === each.fault ? each : { ...each, fault };
      }),
    };
  }

  /** "open:W12" of "open:L4.t1~H3.a". */
  function codeOf(code: string): string {
    if (!code.includes('~')) return code;
    const colon = code.indexOf(':');
    const number = numberOf.get(code.slice(colon + 1));
    return number === undefined ? code : `${code.slice(0, colon + 1)}${number}`;
  }
}
