import { type ReactNode, useEffect, useMemo, useRef, useState } from 'react';
import type { Severity } from '../../checks/index.ts';
import { helped } from '../help/switch.ts';
import { ChevronRight, Cross, SeverityMark } from '../icons.tsx';
import { alikeIn } from '../run/alike.ts';
import { useUnit } from '../unit.ts';
import { useApp } from '../use-app.ts';
import { lengthsIn } from '../words/figures.ts';
import { sentence, severities, words } from '../words/run.ts';
import type { View, ViewFinding } from '../worker/types.ts';

const ORDER: readonly Severity[] = ['danger', 'wrong', 'caution', 'hint'];

const countOf = (findings: readonly ViewFinding[], severity: Severity): number =>
  findings.filter((finding) => finding.severity === severity).length;

/** The counts by severity, as one button that shows the list. A count of none stays, in grey. */
export function FindingsButton() {
  const findings = useApp((app) => app.findings);
  const shown = useApp((app) => app.showFindings);
  const toggle = useApp((app) => app.toggleFindings);
  return (
    <button
      {...helped('run.findings')}
      type="button"
      className="findings-button"
      aria-expanded={shown}
      onClick={() => toggle()}
    >
      <span className="findings-word">{findings === null ? words.findingsWait : words.findings}</span>
      {ORDER.map((severity) => {
        if (findings === null) return null;
        const n = countOf(findings, severity);
        return (
          <span key={severity} className={n === 0 ? 'count none' : `count ${severity}`} title={severities[severity]}>
            <SeverityMark severity={severity} count={n} />
            {n}
            <span className="unseen"> {severities[severity].toLowerCase()}</span>
          </span>
        );
      })}
      <ChevronRight />
    </button>
  );
}

/** Every finding with its words, its remedies, and where it stands. */
export function FindingsPanel({ view }: { readonly view: View }) {
  const known = useApp((app) => app.findings);
  const findings = known ?? [];
  const ready = known !== null;
  const toggle = useApp((app) => app.toggleFindings);
  const groups = useMemo(() => alikeIn(known ?? []), [known]);
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const openOut = (key: string): void => {
    const next = new Set(opened);
    if (!next.delete(key)) next.add(key);
    setOpened(next);
  };
  const head = useRef<HTMLHeadingElement>(null);
  const aside = useRef<HTMLElement>(null);
  useEffect(() => {
    head.current?.focus();
    const panel = aside.current;
    return () => {
      // Whoever was in the list goes back to the button that opened it.
      if (document.activeElement === document.body || panel?.contains(document.activeElement) === true)
        document.querySelector<HTMLElement>('.findings-button')?.focus();
    };
  }, []);
  const { strips, points, lamps } = view.counts;
  return (
    <aside
      ref={aside}
      {...helped('run.findings')}
      className="findings"
      aria-labelledby="findings-head"
      onKeyDown={(event) => {
        if (event.key === 'Escape') toggle(false);
      }}
    >
      <header>
        <h2 id="findings-head" ref={head} tabIndex={-1}>
          {ready ? words.findingsOf(findings.length) : words.findingsWait}
        </h2>
        <button
          type="button"
          className="ibtn"
          aria-label={words.close}
          title={words.close}
          onClick={() => toggle(false)}
        >
          <Cross />
        </button>
      </header>
      {ready && findings.length === 0 ? <p className="note">{words.checked(strips, points, lamps)}</p> : null}
      <ul>
        {groups.map(({ first, more }) => {
          const key = keyOf(first);
          const all = opened.has(key);
          return [first, ...(all ? more : [])].map((finding, i) => (
            <Row key={keyOf(finding)} finding={finding}>
              {i > 0 || more.length === 0 ? null : (
                <button type="button" className="btn quiet" aria-expanded={all} onClick={() => openOut(key)}>
                  {all ? words.lessAlike(more.length) : words.moreAlike(more.length)}
                </button>
              )}
            </Row>
          ));
        })}
      </ul>
    </aside>
  );
}

const keyOf = ({ code, ids, message }: ViewFinding): string => `${code} ${ids.join()} ${message}`;

/** One finding; `children` stand under it. */
function Row({ finding, children }: { readonly finding: ViewFinding; readonly children: ReactNode }) {
  const unit = useUnit();
  const ring = useApp((app) => app.ring);
  return (
    <li {...helped('finding', [severities[finding.severity], finding.why])} className={`finding ${finding.severity}`}>
      <SeverityMark severity={finding.severity} count={1} />
      <div>
        <b className="finding-word">
          {severities[finding.severity]}
          {finding.ids.length > 0 ? <span> {finding.ids.slice(0, 4).join(', ')}</span> : null}
        </b>
        <p>{sentence(lengthsIn(finding.message, unit), finding.ids)}</p>
        {finding.mends.map((mend) => (
          <p key={mend} className="mend">
            <b>{words.remedy}</b> {lengthsIn(mend, unit)}
          </p>
        ))}
        {finding.at === null ? null : (
          <button
            type="button"
            className="btn quiet"
            onClick={() => {
              ring(finding.at);
              requestAnimationFrame(() =>
                document.querySelector('.ring')?.scrollIntoView({ block: 'nearest', inline: 'nearest' }),
              );
            }}
          >
            <span>
              {words.showThere}
              <span className="unseen">{words.showThereOf(finding.ids)}</span>
            </span>
          </button>
        )}
        {children}
      </div>
    </li>
  );
}
