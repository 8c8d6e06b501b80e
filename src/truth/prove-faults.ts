/** Every single fault, in every setting with every history: do the lamps then lie, fall silent, or say nothing of it? Rules 11 to 15. */
import { faultWeight } from '../parts/index.ts';
import { type Fault, faultsOf } from '../wiring/index.ts';
import { FaultPanel } from './fault-panel.ts';
import type { KeptFaults } from './kept-faults.ts';
import type { TruthInput } from './prove-healthy.ts';
import type { FaultClass, FaultTruth, WrongSide } from './types.ts';

/**
 * Prove it. Faults stand in the order of the wiring. `kept`: what was found before an edit and still holds; what is found now is added.
 * `codeOf`: by what code a fault is told.
 */
export function proveFaults(
  input: TruthInput,
  kept?: KeptFaults,
  codeOf: (fault: Fault) => string = ({ code }) => code,
): FaultTruth {
  const { wiring } = input;
  const panel = new FaultPanel(input, kept);
  const outcomes: { fault: string; class: FaultClass }[] = [];
  const wrongSide: WrongSide[] = [];
  let weight = 0;
  let wrongWeight = 0;
  const count = { rightSide: 0, wrongSide: 0, latent: 0 };
  for (const fault of faultsOf(wiring)) {
    const { class: found, witness } = panel.judge(fault);
    const code = codeOf(fault);
    outcomes.push({ fault: code, class: found });
    if (witness !== null) wrongSide.push(witness.fault === code ? witness : { ...witness, fault: code });
    count[found] += 1;
    weight += faultWeight(fault.kind);
    if (found === 'wrongSide') wrongWeight += faultWeight(fault.kind);
  }
  const tried = outcomes.length;
  return {
    outcomes,
    faults: { tried, ...count },
    wrongSide,
    share: tried === 0 ? 0 : count.wrongSide / tried,
    weightedShare: weight === 0 ? 0 : wrongWeight / weight,
  };
}
