/** What was found of levers, switches, drives and routes, with what mends it. */
import { useMemo, useState } from 'react';
import { helped } from '../help/switch.ts';
import { SeverityMark } from '../icons.tsx';
import { keyOf } from '../lay/tray.tsx';
import { useFollows, useLay } from '../lay/use-lay.ts';
import { lengthsIn } from '../words/figures.ts';
import { layWords, parted } from '../words/lay.ts';
import { sentence, severities } from '../words/run.ts';
import { workWords } from '../words/work.ts';
import type { LayFinding } from '../worker/types.ts';
import { workFindings } from './stage-findings.ts';

/** So many stand there before the rest is asked for. */
const FEW = 2;

export function useWorkFindings(): readonly LayFinding[] {
  const findings = useLay((lay) => lay.findings);
  return useMemo(() => workFindings(findings ?? []), [findings]);
}

export function Findings() {
  const found = useWorkFindings();
  const [all, setAll] = useState(false);
  if (found.length === 0) return null;
  const shown = all ? found : found.slice(0, FEW);
  return (
    <ul className="work-findings" aria-label={workWords.findings}>
      {shown.map((finding) => (
        <FindingRow key={keyOf(finding)} finding={finding} primary={false} />
      ))}
      {found.length <= FEW ? null : (
        <li className="more-row">
          <button type="button" className="btn quiet" aria-expanded={all} onClick={() => setAll(!all)}>
            {all ? workWords.fewer : workWords.more(found.length - FEW)}
          </button>
        </li>
      )}
    </ul>
  );
}

export function FindingRow({ finding, primary }: { readonly finding: LayFinding; readonly primary: boolean }) {
  const unit = useLay((lay) => lay.unit);
  const mend = useLay((lay) => lay.mend);
  const say = useLay((lay) => lay.say);
  const follows = useFollows();
  const { severity, ids, message, mends } = finding;
  const [head, rest] = parted(sentence(lengthsIn(message, unit), ids));
  const first = mends.find(({ edit }) => edit !== null);
  return (
    <li className={`work-finding ${severity}`} {...helped('finding', [severities[severity], finding.why])}>
      <SeverityMark severity={severity} count={1} />
      <p>
        <b>
          <span className="unseen">{`${severities[severity]}: `}</span>
          {head}
        </b>
        {rest === '' ? null : <span>{rest}</span>}
      </p>
      {first === undefined ? null : (
        <button
          type="button"
          className={primary ? 'btn primary' : 'btn'}
          disabled={follows}
          onClick={() => {
            mend(finding, first.id);
            say(layWords.done(lengthsIn(first.text, unit)));
          }}
        >
          {lengthsIn(first.text, unit)}
          {first.price === null ? null : (
            <span className="mend-price" title={layWords.priceTitle}>
              {layWords.price(first.price)}
            </span>
          )}
        </button>
      )}
    </li>
  );
}
