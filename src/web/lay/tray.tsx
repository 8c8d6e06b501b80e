import { memo, useState } from 'react';
import type { Mend, Severity } from '../../checks/index.ts';
import { ChevronDown, SeverityMark } from '../icons.tsx';
import { sentence, severities } from '../words.ts';
import type { LayFinding } from '../worker/types.ts';
import { layWords, parted } from './lay-words.ts';
import { useLay } from './use-lay.ts';

const ORDER: readonly Severity[] = ['danger', 'wrong', 'caution', 'hint'];

/** What tells one finding from another, over readings of the panel. */
export function keyOf({ code, ids, message }: LayFinding): string {
  return `${code} ${ids.join()} ${message}`;
}

/** Under the sheet: what was found, worst first, with what mends it. */
export function Tray() {
  const findings = useLay((lay) => lay.findings);
  const checked = useLay((lay) => lay.checked);
  const picked = useLay((lay) => (lay.finding === null ? null : keyOf(lay.finding)));
  const [open, setOpen] = useState(true);
  const foldWord = open ? layWords.foldAway : layWords.foldOut;
  return (
    <section className="tray" aria-label={layWords.findings}>
      <header>
        <h2>{layWords.findings}</h2>
        {ORDER.map((severity) => {
          const n = findings?.filter((finding) => finding.severity === severity).length ?? 0;
          return (
            <span key={severity} className={n === 0 ? 'tray-count none' : `tray-count ${severity}`}>
              <SeverityMark severity={severity} count={n} />
              {layWords.countOf(n, severities[severity].toLowerCase())}
            </span>
          );
        })}
        <span className="tray-note">{checked && findings !== null ? layWords.asLaid : layWords.checking}</span>
        <button
          type="button"
          className={open ? 'ibtn fold' : 'ibtn fold folded'}
          aria-label={foldWord}
          title={foldWord}
          aria-expanded={open}
          onClick={() => setOpen(!open)}
        >
          <ChevronDown />
        </button>
      </header>
      {!open ? null : findings === null ? null : findings.length === 0 ? (
        <Nothing />
      ) : (
        <ul>
          {findings.map((finding) => {
            const key = keyOf(finding);
            return <Row key={key} finding={finding} picked={key === picked} />;
          })}
        </ul>
      )}
    </section>
  );
}

function Nothing() {
  const strips = useLay((lay) => lay.shown?.view.counts.strips ?? 0);
  const points = useLay((lay) => lay.shown?.view.counts.points ?? 0);
  return (
    <p className="tray-nothing">
      <b>{layWords.nothing(strips, points)}</b>
      <span>{layWords.nothingMore}</span>
    </p>
  );
}

const Row = memo(function Row({ finding, picked }: { readonly finding: LayFinding; readonly picked: boolean }) {
  const pickFinding = useLay((lay) => lay.pickFinding);
  const { severity, ids, message } = finding;
  const [head, rest] = parted(sentence(message, ids));
  const strong = severity === 'danger' || severity === 'wrong';
  const first = finding.mends.find(({ edit }) => edit !== null);
  return (
    <li className={picked ? `tray-row ${severity} picked` : `tray-row ${severity}`}>
      <SeverityMark severity={severity} count={1} />
      <span className="tray-sev">{severities[severity]}</span>
      <button
        type="button"
        className="tray-say"
        aria-pressed={picked}
        onClick={() => pickFinding(picked ? null : finding)}
      >
        <b>{head}</b>
        {rest === '' ? null : <span>{rest}</span>}
        {finding.mends.map(({ id, text, edit }) =>
          edit === null ? <span key={id}>{layWords.byHand(text)}</span> : null,
        )}
      </button>
      <span className="tray-mends">
        {finding.mends.map((mend) => (
          <MendButton key={mend.id} finding={finding} mend={mend} primary={strong && mend === first} />
        ))}
      </span>
    </li>
  );
});

function MendButton(props: { readonly finding: LayFinding; readonly mend: Mend; readonly primary: boolean }) {
  const { finding, mend, primary } = props;
  const apply = useLay((lay) => lay.mend);
  const offer = useLay((lay) => lay.offer);
  if (mend.edit === null) return null;
  const rest = (): void => offer({ finding, mend: mend.id });
  const leave = (): void => offer(null);
  return (
    <button
      type="button"
      className={primary ? 'btn primary' : 'btn'}
      onPointerEnter={rest}
      onPointerLeave={leave}
      onFocus={rest}
      onBlur={leave}
      onClick={() => apply(finding, mend.id)}
    >
      {mend.text}
      {mend.price === null ? null : (
        <span className="mend-price" title={layWords.priceTitle}>
          {layWords.price(mend.price)}
        </span>
      )}
    </button>
  );
}
