/**
 * What was found of faults, kept for the panel after an edit.
 *
 * Idea: a finding in one island hangs on the fault, on the island's circuits and on the lamps that claim what their drives move. While
 * these are as they were it holds. Faults that reach further, as a wire that many circuits hang on, are worked out again, with what each
 * of those circuits does at so many volts or at none taken from here.
 * Size: of each fault one finding an island, of the panel as it stands and no other.
 */

import { isAlike } from '../panel/index.ts';
import type { Fault } from '../wiring/index.ts';
import type { FaultClass, WrongSide } from './types.ts';

/** The worst that a fault does, and where. */
export interface Judged {
  readonly class: FaultClass;
  readonly witness: WrongSide | null;
}

/** The same in one island, with supplies that the fault shorts dead. */
export interface FoundThere extends Judged {
  readonly lost: readonly string[];
}

/** Volts from which on a circuit is as it should be, and volts up to which it does nothing. */
export interface Marks {
  readonly enough: number;
  readonly nothing: number;
}

/** What is known of a fault, with the marks of the circuits that it hangs on. */
interface Entry {
  whole: { readonly of: object; readonly found: FoundThere } | null;
  /** The same by island where it touches several that do not feel each other. */
  parts: Map<string, { readonly of: readonly object[]; readonly found: FoundThere }> | null;
}

interface Earlier {
  readonly kept: KeptFaults;
  readonly unchanged: ReadonlySet<string>;
  readonly faultOf: (code: string) => Fault | null;
}

export class KeptFaults {
  /** Of circuits that nothing feeds. */
  readonly dead = new Map<string, Judged>();
  readonly marks = new Map<string, Marks>();
  /** Of each circuit an object that is the same for as long as the circuit is as it was. */
  private readonly stamps = new Map<string, object>();
  private readonly entries: WeakMap<Fault, Entry>;
  /** Of lists of circuits likewise, with the stamps that each was given for. */
  private readonly lists: WeakMap<readonly string[], ListStamp>;
  private faultBefore: Earlier['faultOf'] | null;
  /** Lists that were looked at since the edit. */
  private readonly seen = new Map<readonly string[], object>();

  /** `before`: what was found earlier, the circuits that are as they were, and the faults that there were. */
  constructor(before: Earlier | null = null) {
    // Not the earlier findings themselves, which would hold those before them.
    this.faultBefore = before?.faultOf ?? null;
    this.entries = before?.kept.entries ?? new WeakMap();
    this.lists = before?.kept.lists ?? new WeakMap();
    if (before === null) return;
    const { kept, unchanged } = before;
    for (const id of unchanged) {
      const [dead, marks, stamp] = [kept.dead.get(id), kept.marks.get(id), kept.stamps.get(id)];
      if (dead !== undefined) this.dead.set(id, dead);
      if (marks !== undefined) this.marks.set(id, marks);
      if (stamp !== undefined) this.stamps.set(id, stamp);
    }
  }

  /** What is known of a fault in all that it touches. */
  find(fault: Fault): FoundThere | null {
    // What touches no circuit hangs on no circuit.
    const known = fault.circuits.length === 0 ? null : (this.known(fault)?.whole ?? null);
    return known !== null && known.of === this.stampOf(fault.circuits) ? known.found : null;
  }

  keep(fault: Fault, found: FoundThere): void {
    this.entryOf(fault).whole = { of: this.stampOf(fault.circuits), found };
  }

  /** The same in one of several islands. */
  findIn(fault: Fault, island: readonly string[]): FoundThere | null {
    if (!isApart(fault)) return null;
    const known = this.known(fault)?.parts?.get(island.join(' '));
    return known?.of.every((stamp, i) => stamp === this.stampOfCircuit(island[i] ?? '')) === true ? known.found : null;
  }

  keepIn(fault: Fault, island: readonly string[], found: FoundThere): void {
    if (!isApart(fault)) return;
    const entry = this.entryOf(fault);
    entry.parts ??= new Map();
    entry.parts.set(island.join(' '), { of: island.map((id) => this.stampOfCircuit(id)), found });
  }

  /** All have been asked for: what there was before is needed no longer. */
  close(): void {
    this.faultBefore = null;
  }

  /** What is known of a fault, or of one that was listed anew and says the same. */
  private known(fault: Fault): Entry | null {
    const known = this.entries.get(fault);
    if (known !== undefined) return known;
    const then = this.faultBefore?.(fault.code) ?? null;
    const entry = then === null || !isAlike(then, fault) ? undefined : this.entries.get(then);
    if (then === null || entry === undefined) return null;
    const { whole, parts } = entry;
    const holds = whole !== null && whole.of === this.stampOf(then.circuits);
    const made: Entry = { whole: holds ? { of: this.stampOf(fault.circuits), found: whole.found } : null, parts };
    this.entries.set(fault, made);
    return made;
  }

  private entryOf(fault: Fault): Entry {
    const known = this.known(fault);
    if (known !== null) return known;
    const made: Entry = { whole: null, parts: null };
    this.entries.set(fault, made);
    return made;
  }

  private stampOf(circuits: readonly string[]): object {
    const [only] = circuits;
    if (only !== undefined && circuits.length === 1) return this.stampOfCircuit(only);
    const seen = this.seen.get(circuits);
    if (seen !== undefined) return seen;
    const before = this.lists.get(circuits);
    const of = circuits.map((id) => this.stampOfCircuit(id));
    const stamp = before?.of.every((each, i) => each === of[i]) === true ? before : { of };
    this.lists.set(circuits, stamp);
    this.seen.set(circuits, stamp);
    return stamp;
  }

  private stampOfCircuit(id: string): object {
    const known = this.stamps.get(id);
    if (known !== undefined) return known;
    const made = {};
    this.stamps.set(id, made);
    return made;
  }
}

interface ListStamp {
  readonly of: readonly object[];
}

/** Do islands not feel each other through a fault? They do through ohms that they share and drives that stand in one and are seen in another. */
function isApart({ points, edits }: Fault): boolean {
  return points.length === 0 && edits.every((edit) => edit.do !== 'ohms');
}
