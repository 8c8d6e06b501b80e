import { useMemo } from 'react';
import { wireFindings } from '../wire/stage-findings.ts';
import type { Stage } from '../words/stages.ts';
import { workFindings } from '../work/stage-findings.ts';
import { Stages } from './stages.tsx';
import { useLay } from './use-lay.ts';

/** The six stages with what was found as it was laid. Only below `LayContext`. */
export function LayStages({ stage, choose }: { readonly stage: Stage; readonly choose: (stage: Stage) => void }) {
  const findings = useLay((lay) => lay.findings);
  const severities = useMemo(() => findings?.map(({ severity }) => severity) ?? null, [findings]);
  const work = useMemo(
    () => (findings === null ? null : workFindings(findings).map(({ severity }) => severity)),
    [findings],
  );
  const wire = useMemo(
    () => (findings === null ? null : wireFindings(findings).map(({ severity }) => severity)),
    [findings],
  );
  return <Stages stage={stage} severities={severities} work={work} wire={wire} choose={choose} />;
}
