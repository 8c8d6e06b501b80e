/**
 * What was proved of a panel, for the one after an edit to take over: ranges of lamps and findings of faults by circuit, where circuit and
 * claims are as they were. A panel that was never asked for its truth passes on what it was given, so that at most one earlier panel is
 * held, and that only until the truth is asked for.
 */
import { takeOver } from '../wiring/index.ts';
import { KeptFaults } from './kept-faults.ts';
import type { KeptHealthy, TruthInput } from './prove-healthy.ts';
import { unchangedTruths } from './unchanged-lamps.ts';

interface Taken extends KeptHealthy {
  readonly faults: KeptFaults;
}

export class KeptTruth {
  private earlier: KeptTruth | null;
  private taken: Taken | null = null;

  constructor(
    readonly input: TruthInput,
    before: KeptTruth | null,
  ) {
    this.earlier = before === null || before.taken !== null ? before : before.earlier;
  }

  /** What still holds; what is found from now on is added to it. */
  take(): Taken {
    if (this.taken !== null) return this.taken;
    const [from, known] = [this.earlier, this.earlier?.taken ?? null];
    this.earlier = null;
    if (from === null || known === null) {
      this.taken = { ranges: new Map(), faults: new KeptFaults() };
      return this.taken;
    }
    const circuits = takeOver(from.input.wiring, this.input.wiring);
    const unchanged = unchangedTruths(from.input, this.input, circuits);
    this.taken = {
      ranges: new Map([...known.ranges].filter(([id]) => circuits.has(id))),
      faults: KeptFaults.after(known.faults, unchanged),
    };
    return this.taken;
  }
}
