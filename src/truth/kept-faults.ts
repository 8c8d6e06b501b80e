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
  /** What is known of faults by code before they are asked for: the fault may be another by now. */
  private readonly before = new Map<string, Entry>();

  /** What still holds of `earlier` where these circuits are as they were. */
  static after(earlier: KeptFaults, unchanged: ReadonlySet<string>): KeptFaults {
    const kept = new KeptFaults();
    for (const id of unchanged) {
      const [dead, marks] = [earlier.dead.get(id), earlier.marks.get(id)];
      if (dead !== undefined) kept.dead.set(id, dead);
      if (marks !== undefined) kept.marks.set(id, marks);
    }
    for (const entries of [earlier.before, earlier.entries])
      for (const [code, entry] of entries) {
        const still = stillOf(entry, unchanged);
        if (still === null) kept.before.delete(code);
        else kept.before.set(code, still);
      }
    return kept;
  }

  /** What is known of a fault in all that it touches. */
  find(fault: Fault): FoundThere | null {
    const known = this.before.get(fault.code);
    if (known === undefined || known.whole === null || !isAlike(known.fault, fault)) return null;
    this.entries.set(fault.code, known);
    return known.whole;
  }

  keep(fault: Fault, found: FoundThere): void {
    this.entryOf(fault).whole = found;
  }

  /** The same in one of several islands. */
  findIn(fault: Fault, island: readonly string[]): FoundThere | null {
    const known = this.before.get(fault.code);
    if (known === undefined || known.parts === null || !isAlike(known.fault, fault)) return null;
    return known.parts.get(island.join(' ')) ?? null;
  }

  keepIn(fault: Fault, island: readonly string[], found: FoundThere): void {
    const entry = this.entryOf(fault);
    entry.parts ??= new Map();
    entry.parts.set(island.join(' '), found);
  }

  private entryOf(fault: Fault): Entry {
    const known = this.entries.get(fault.code);
    if (known !== undefined) return known;
    const made: Entry = { fault, whole: null, parts: null };
    this.entries.set(fault.code, made);
    return made;
  }
}

/** What of an entry holds where these circuits are as they were; null where nothing does. */
function stillOf(entry: Entry, unchanged: ReadonlySet<string>): Entry | null {
  const { fault, parts } = entry;
  // What touches no circuit hangs on no circuit.
  if (fault.circuits.length === 0) return null;
  if (fault.circuits.every((id) => unchanged.has(id))) return entry;
  // Several islands do not feel each other through a fault, but for ohms that they share and drives that stand in one and are seen in another.
  const apart = fault.points.length === 0 && fault.edits.every((edit) => edit.do !== 'ohms');
  if (!apart) return null;
  const still = [...(parts ?? [])].filter(([island]) => island.split(' ').every((id) => unchanged.has(id)));
  return still.length === 0 ? null : { fault, whole: null, parts: new Map(still) };
}
