import { useMemo } from 'react';
import { foundByStage } from '../run/stage-findings.ts';
import type { Stage } from '../words/stages.ts';
import { Stages } from './stages.tsx';
import { useLay } from './use-lay.ts';

/** The six stages with what was found as it was laid. Only below `LayContext`. */
export function LayStages({ stage, choose }: { readonly stage: Stage; readonly choose: (stage: Stage) => void }) {
  const findings = useLay((lay) => lay.findings);
  const found = useMemo(() => foundByStage(findings), [findings]);
  return <Stages stage={stage} found={found} choose={choose} />;
}
