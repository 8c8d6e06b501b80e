/** What was found, by the stage that shows it: for the lamps of the stages. */
import type { Severity } from '../../checks/index.ts';
import { wireFindings } from '../wire/stage-findings.ts';
import type { Stage } from '../words/stages.ts';
import { workFindings } from '../work/stage-findings.ts';

interface Found {
  readonly code: string;
  readonly severity: Severity;
}

/** What Run cannot do as the panel is: routes that no lever sets, places that none leads to, a list that was cut. */
export const RUN_CODES: ReadonlySet<string> = new Set(['route-not-settable', 'place-reaches-nothing', 'routes-cut']);

/** Severities of what each stage shows, worst first as they come; Lay shows all. Null while it is not known. */
export function foundByStage(
  findings: readonly Found[] | null,
): Readonly<Partial<Record<Stage, readonly Severity[] | null>>> {
  if (findings === null) return {};
  const severities = (of: readonly Found[]): readonly Severity[] => of.map(({ severity }) => severity);
  return {
    lay: severities(findings),
    work: severities(workFindings(findings)),
    wire: severities(wireFindings(findings)),
    run: severities(findings.filter(({ code }) => RUN_CODES.has(code))),
  };
}
