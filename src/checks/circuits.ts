/** Networks that the solver could not answer as asked. */
import type { CircuitProblem } from '../circuit/index.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput } from './types.ts';

export function checkCircuits({ circuitProblems }: CheckInput): readonly RawFinding[] {
  const seen = new Set<string>();
  return circuitProblems.flatMap((problem): readonly RawFinding[] => {
    const found = raw('circuit-unsolved', idsOf(problem), null, { reason: reasonOf(problem) });
    const key = JSON.stringify(found);
    if (seen.has(key)) return [];
    seen.add(key);
    return [found];
  });
}

function idsOf(problem: CircuitProblem): readonly string[] {
  switch (problem.code) {
    case 'source-shorted':
      return [problem.source];
    case 'sources-disagree':
      return problem.sources;
    case 'value-bad':
      return [problem.element];
    case 'no-convergence':
      return problem.nodes;
  }
}

function reasonOf(problem: CircuitProblem): string {
  switch (problem.code) {
    case 'source-shorted':
      return 'the supply is shorted';
    case 'sources-disagree':
      return 'supplies of different volts are joined';
    case 'value-bad':
      return `${problem.what} is beyond what can be solved`;
    case 'no-convergence':
      return 'it does not settle';
  }
}
