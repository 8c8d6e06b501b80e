/**
 * What was proved of a panel, for the one after an edit to take over: ranges of lamps and findings of faults by circuit, where circuit and
 * claims are as they were. A panel that was never asked for its truth passes on what it was given, so that at most one earlier panel is
 * held, and that only until the truth is asked for.
 */
import { sharing } from '../panel/index.ts';
import { type Fault, faultByCode, takeOver, type Wiring } from '../wiring/index.ts';
import { KeptFaults } from './kept-faults.ts';
import { proveFaults } from './prove-faults.ts';
import { type KeptHealthy, proveHealthy, type TruthInput } from './prove-healthy.ts';
import type { FaultTruth, HealthyTruth } from './types.ts';
import { unchangedTruths } from './unchanged-lamps.ts';
import { type Unnumbered, withoutNumbers } from './without-numbers.ts';

interface Taken extends KeptHealthy {
  /** What is proved: the panel's, but that wires go without numbers, and what is as it was is the very same object. */
  readonly input: TruthInput;
  readonly faults: KeptFaults;
  readonly codeOf: Unnumbered['codeOf'];
  healthy: HealthyTruth | null;
  faultTruth: FaultTruth | null;
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

  /** What the lamps of the healthy panel say. */
  healthy(): HealthyTruth {
    const taken = this.take();
    taken.healthy ??= proveHealthy(taken.input, taken);
    return taken.healthy;
  }

  /** What every single fault does to what they say. */
  faultTruth(): FaultTruth {
    const taken = this.take();
    if (taken.faultTruth !== null) return taken.faultTruth;
    taken.faultTruth = proveFaults(taken.input, taken.faults, taken.codeOf);
    taken.faults.close();
    return taken.faultTruth;
  }

  /** What is proved, and what of it still holds; what is found from now on is added to it. */
  private take(): Taken {
    if (this.taken !== null) return this.taken;
    const { given, earlier } = this;
    const known = earlier?.taken ?? null;
    this.earlier = null;
    const { wiring, codeOf } = withoutNumbers(given.wiring);
    const made: TruthInput = { ...given, wiring, plan: provedOf(given.plan) };
    const input = sharing(known?.input, made);
    const fresh = { input, codeOf, healthy: null, faultTruth: null };
    if (known === null || earlier === null) this.taken = { ...fresh, ranges: new Map(), faults: new KeptFaults() };
    // Nothing that is proved is another; but numbers of wires may be.
    else if (input === known.input)
      this.taken = areNumberedAlike(earlier.given.wiring, given.wiring)
        ? known
        : { ...known, codeOf, faultTruth: null };
    else {
      const circuits = takeOver(known.input.wiring, input.wiring);
      this.taken = {
        ...fresh,
        ranges: new Map([...known.ranges].filter(([id]) => circuits.has(id))),
        faults: new KeptFaults({
          kept: known.faults,
          unchanged: unchangedTruths(known.input, input, circuits),
          faultOf: faultsBy(known.input.wiring),
        }),
      };
    }
    return this.taken;
  }
}

/** Holds the wiring, and nothing that was proved of it. */
function faultsBy(wiring: Wiring): (code: string) => Fault | null {
  return (code) => faultByCode(wiring, code);
}

/** What of a plan the proof hangs on: not names of levers, nor where they stand. */
function provedOf({ points, levers }: TruthInput['plan']): TruthInput['plan'] {
  return { points, levers: levers.map((lever) => ({ ...lever, name: null, at: [0, 0], angle: 0 })) };
}

function areNumberedAlike({ wires: before }: Wiring, { wires }: Wiring): boolean {
  return wires.every(({ id }, i) => before[i]?.id === id);
}
