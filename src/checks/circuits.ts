/** Networks that the solver could not answer as asked. */
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput } from './types.ts';

export function checkCircuits({ circuitProblems }: CheckInput): readonly RawFinding[] {
  const seen = new Set<string>();
  return circuitProblems.flatMap((problem): readonly RawFinding[] => {
    const found =
      problem.code === 'source-shorted'
        ? raw('circuit-shorted', [problem.source])
        : problem.code === 'sources-disagree'
          ? raw('circuit-unsolved', problem.sources, null, { reason: 'supplies of different volts are joined' })
          : problem.code === 'value-bad'
            ? raw('circuit-unsolved', [problem.element], null, { reason: problem.what })
            : raw('circuit-unsolved', problem.nodes, null, { reason: 'it does not settle' });
    const key = JSON.stringify(found);
    if (seen.has(key)) return [];
    seen.add(key);
    return [found];
  });
}
