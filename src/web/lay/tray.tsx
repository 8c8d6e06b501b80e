import { memo, useLayoutEffect, useRef, useState } from 'react';
import type { Mend, Severity } from '../../checks/index.ts';
import { helped } from '../help/switch.ts';
import { ChevronDown, SeverityMark } from '../icons.tsx';
import { lengthsIn } from '../words/figures.ts';
import { layWords, parted } from '../words/lay.ts';
import { sentence, severities } from '../words/run.ts';
import type { LayFinding } from '../worker/types.ts';
import { useFollows, useLay } from './use-lay.ts';

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
  // One primary action: of the finding that is picked, else of the first that is wrong or worse and can be mended here.
  const first = findings?.find(
    ({ severity, mends }) => (severity === 'danger' || severity === 'wrong') && mends.some(({ edit }) => edit !== null),
  );
  const primary = picked ?? (first === undefined ? null : keyOf(first));
  const foldWord = open ? layWords.foldAway : layWords.foldOut;
  return (
    <section className={open ? 'tray open' : 'tray'} aria-label={layWords.findings} {...helped('tray')}>
      <header>
        <h2 tabIndex={-1}>{layWords.findings}</h2>
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
            return <Row key={key} finding={finding} picked={key === picked} primary={key === primary} />;
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

const Row = memo(function Row(props: {
  readonly finding: LayFinding;
  readonly picked: boolean;
  readonly primary: boolean;
}) {
  const { finding, picked, primary } = props;
  const pickFinding = useLay((lay) => lay.pickFinding);
  const unit = useLay((lay) => lay.unit);
  const row = useRef<HTMLLIElement>(null);
  useLayoutEffect(() => {
    const element = row.current;
    return () => {
      // A finding that is mended takes its row along: whoever was in it goes on at the head of the list.
      if (element?.contains(document.activeElement) === true)
        element.closest('.tray')?.querySelector<HTMLElement>('h2')?.focus({ preventScroll: true });
    };
  }, []);
  const { severity, ids, message } = finding;
  const [head, rest] = parted(sentence(lengthsIn(message, unit), ids));
  const first = finding.mends.find(({ edit }) => edit !== null);
  return (
    <li
      ref={row}
      {...helped('finding', [severities[finding.severity], finding.why])}
      className={picked ? `tray-row ${severity} picked` : `tray-row ${severity}`}
    >
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
          edit === null ? <span key={id}>{layWords.byHand(lengthsIn(text, unit))}</span> : null,
        )}
      </button>
      <span className="tray-mends">
        {finding.mends.map((mend) => (
          <MendButton key={mend.id} finding={finding} mend={mend} primary={primary && mend === first} />
        ))}
      </span>
    </li>
  );
});

function MendButton(props: { readonly finding: LayFinding; readonly mend: Mend; readonly primary: boolean }) {
  const { finding, mend, primary } = props;
  const apply = useLay((lay) => lay.mend);
  const offer = useLay((lay) => lay.offer);
  const unit = useLay((lay) => lay.unit);
  const say = useLay((lay) => lay.say);
  const follows = useFollows();
  if (mend.edit === null) return null;
  const rest = (): void => offer({ finding, mend: mend.id });
  const leave = (): void => offer(null);
  return (
    <button
      type="button"
      className={primary ? 'btn primary' : 'btn'}
      disabled={follows}
      onPointerEnter={rest}
      onPointerLeave={leave}
      onFocus={rest}
      onBlur={leave}
      onClick={() => {
        apply(finding, mend.id);
        say(layWords.done(lengthsIn(mend.text, unit)));
      }}
    >
      {lengthsIn(mend.text, unit)}
      {mend.price === null ? null : (
        <span className="mend-price" title={layWords.priceTitle}>
          {layWords.price(mend.price)}
        </span>
      )}
    </button>
  );
}
