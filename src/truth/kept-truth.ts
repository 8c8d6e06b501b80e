/**
 * What was proved of a panel, for the one after an edit to take over: ranges of lamps and findings of faults by circuit, where circuit and
 * claims are as they were. A panel that was never asked for its truth passes on what it was given, so that at most one earlier panel is
 * held, and that only until the truth is asked for.
 */
import { sharing } from '../panel/index.ts';
import { type Fault, takeOver } from '../wiring/index.ts';
import { KeptFaults } from './kept-faults.ts';
import type { KeptHealthy, TruthInput } from './prove-healthy.ts';
import { unchangedTruths } from './unchanged-lamps.ts';
import { withoutNumbers } from './without-numbers.ts';

interface Taken extends KeptHealthy {
  /** What is proved: the panel's, but that wires go without numbers, and what is as it was is the very same object. */
  readonly input: TruthInput;
  readonly faults: KeptFaults;
  /** The code of a fault as the panel has it. */
  codeOf(fault: Fault): string;
}

export class KeptTruth {
  private earlier: KeptTruth | null;
  private taken: Taken | null = null;

  constructor(
    private readonly given: TruthInput,
    before: KeptTruth | null,
  ) {
    this.earlier = before === null || before.taken !== null ? before : before.earlier;
  }

  /** What is proved, and what of it still holds; what is found from now on is added to it. */
  take(): Taken {
    if (this.taken !== null) return this.taken;
    const known = this.earlier?.taken ?? null;
    this.earlier = null;
    const { wiring, codeOf } = withoutNumbers(this.given.wiring);
    if (known === null) {
      this.taken = { input: { ...this.given, wiring }, codeOf, ranges: new Map(), faults: new KeptFaults() };
      return this.taken;
    }
    const input = { ...this.given, wiring: sharing(known.input.wiring, wiring) };
    const circuits = takeOver(known.input.wiring, input.wiring);
    this.taken = {
      input,
      codeOf,
      ranges: new Map([...known.ranges].filter(([id]) => circuits.has(id))),
      faults: new KeptFaults({ kept: known.faults, unchanged: unchangedTruths(known.input, input, circuits) }),
    };
    return this.taken;
  }
}
