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

interface Entry {
  readonly fault: Fault;
  /** In all that it touches, and by island where it touches several; null or none where that no longer holds. */
  whole: FoundThere | null;
  parts: Map<string, FoundThere> | null;
}

export class KeptFaults {
  /** Of circuits that nothing feeds. */
  readonly dead = new Map<string, Judged>();
  readonly marks = new Map<string, Marks>();
  private readonly entries = new Map<string, Entry>();
  /** What is known of faults by code before they are asked for, and circuits that are as they were since. */
  private before: ReadonlyMap<string, Entry> = new Map();
  private unchanged: ReadonlySet<string> = new Set();

  /** What still holds of `earlier` where these circuits are as they were. */
  static after(earlier: KeptFaults, unchanged: ReadonlySet<string>): KeptFaults {
    const kept = new KeptFaults();
    for (const id of unchanged) {
      const [dead, marks] = [earlier.dead.get(id), earlier.marks.get(id)];
      if (dead !== undefined) kept.dead.set(id, dead);
      if (marks !== undefined) kept.marks.set(id, marks);
    }
    // Faults that nobody asked for are still as they were the time before.
    const asked = earlier.entries.size > 0;
    kept.before = asked ? earlier.entries : earlier.before;
    kept.unchanged = asked ? unchanged : new Set([...unchanged].filter((id) => earlier.unchanged.has(id)));
    return kept;
  }

  /** What is known of a fault in all that it touches. */
  find(fault: Fault): FoundThere | null {
    const known = this.knownOf(fault);
    if (known === null || known.whole === null || !this.areUnchanged(fault.circuits)) return null;
    // What touches no circuit hangs on no circuit.
    if (fault.circuits.length === 0) return null;
    this.entries.set(fault.code, known);
    return known.whole;
  }

  keep(fault: Fault, found: FoundThere): void {
    this.entryOf(fault).whole = found;
  }

  /** The same in one of several islands. */
  findIn(fault: Fault, island: readonly string[]): FoundThere | null {
    const parts = this.knownOf(fault)?.parts ?? null;
    if (parts === null || !isApart(fault) || !this.areUnchanged(island)) return null;
    return parts.get(island.join(' ')) ?? null;
  }

  keepIn(fault: Fault, island: readonly string[], found: FoundThere): void {
    const entry = this.entryOf(fault);
    entry.parts ??= new Map();
    entry.parts.set(island.join(' '), found);
  }

  private knownOf(fault: Fault): Entry | null {
    const known = this.before.get(fault.code);
    return known !== undefined && isAlike(known.fault, fault) ? known : null;
  }

  private entryOf(fault: Fault): Entry {
    const known = this.entries.get(fault.code);
    if (known !== undefined) return known;
    const made: Entry = { fault, whole: null, parts: null };
    this.entries.set(fault.code, made);
    return made;
  }

  private readonly asked = new Map<readonly string[], boolean>();

  /** Are all these circuits as they were? Many faults name the very same list. */
  private areUnchanged(circuits: readonly string[]): boolean {
    let answer = this.asked.get(circuits);
    if (answer === undefined) {
      answer = circuits.every((id) => this.unchanged.has(id));
      this.asked.set(circuits, answer);
    }
    return answer;
  }
}

/** Do islands not feel each other through a fault? They do through ohms that they share and drives that stand in one and are seen in another. */
function isApart({ points, edits }: Fault): boolean {
  return points.length === 0 && edits.every((edit) => edit.do !== 'ohms');
}
