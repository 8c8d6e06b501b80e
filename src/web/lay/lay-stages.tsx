import { useMemo } from 'react';
import { wireFindings } from '../wire/stage-findings.ts';
import type { Stage } from '../words/stages.ts';
import { workFindings } from '../work/stage-findings.ts';
import type { LayFinding } from '../worker/types.ts';
import { Stages } from './stages.tsx';
import { useLay } from './use-lay.ts';

/** The six stages with what was found as it was laid. Only below `LayContext`. */
export function LayStages({ stage, choose }: { readonly stage: Stage; readonly choose: (stage: Stage) => void }) {
  const findings = useLay((lay) => lay.findings);
  const found = useMemo(() => {
    const severities = (of: (all: readonly LayFinding[]) => readonly LayFinding[]) =>
      findings === null ? null : of(findings).map(({ severity }) => severity);
    return { lay: severities((all) => all), work: severities(workFindings), wire: severities(wireFindings) };
  }, [findings]);
  return <Stages stage={stage} found={found} choose={choose} />;
}
