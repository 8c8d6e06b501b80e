import {
  memo,
  type ReactNode,
  type RefObject,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { Mend, Severity } from '../../checks/index.ts';
import { helped } from '../help/switch.ts';
import { ChevronDown, SeverityMark } from '../icons.tsx';
import { alikeIn } from '../run/alike.ts';
import { lengthsIn } from '../words/figures.ts';
import { layWords, parted } from '../words/lay.ts';
import { sentence, severities, words } from '../words/run.ts';
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
  const groups = useMemo(() => alikeIn(findings ?? []), [findings]);
  const [opened, setOpened] = useState<ReadonlySet<string>>(NONE);
  const openOut = (key: string): void => {
    const next = new Set(opened);
    if (!next.delete(key)) next.add(key);
    setOpened(next);
  };
  const box = useRef<HTMLElement>(null);
  const height = useHeight(box, open);
  return (
    <section
      ref={box}
      className={open ? 'tray open' : 'tray'}
      style={open && height > 0 ? { height } : undefined}
      aria-label={layWords.findings}
      {...helped('tray')}
    >
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
        {findings?.some(({ mends }) => mends.some(({ price }) => (price ?? 0) !== 0)) === true ? (
          <span className="tray-prices">{layWords.pricesAre}</span>
        ) : null}
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
          {groups.map(({ first: one, more }) => {
            const group = keyOf(one);
            // Whoever has picked one of them sees it.
            const all = opened.has(group) || more.some((each) => keyOf(each) === picked);
            return [one, ...(all ? more : [])].map((finding, i) => {
              const key = keyOf(finding);
              return (
                <Row key={key} finding={finding} picked={key === picked} primary={key === primary} below={i > 0}>
                  {i === 0 && more.length > 0 ? (
                    <button
                      type="button"
                      className="btn quiet tray-more"
                      aria-expanded={all}
                      onClick={() => openOut(group)}
                    >
                      {all ? words.lessAlike(more.length) : words.moreAlike(more.length)}
                    </button>
                  ) : null}
                </Row>
              );
            });
          })}
        </ul>
      )}
    </section>
  );
}

const NONE: ReadonlySet<string> = new Set();

/** The line over the tray, as in lay.css: px. */
const BORDER = 1;

/**
 * So high, px, that what is in it is seen, up to what the style allows, and never less than it was while it stayed open: the sheet keeps its place.
 * It grows only while nothing is pressed, so that nothing moves under the hand.
 */
function useHeight(box: RefObject<HTMLElement | null>, open: boolean): number {
  const [height, setHeight] = useState(0);
  const pressed = useRef(false);
  const measure = useCallback(() => {
    const [head, list] = box.current?.children ?? [];
    if (!open) return setHeight(0);
    if (pressed.current || head === undefined || list === undefined) return;
    const wanted = Math.ceil(head.getBoundingClientRect().height + heightOf(list)) + BORDER;
    setHeight((was) => Math.max(was, wanted));
  }, [box, open]);
  // After each drawing: whatever was drawn may need more room.
  useLayoutEffect(measure);
  useEffect(() => {
    const down = (): void => {
      pressed.current = true;
    };
    const up = (): void => {
      pressed.current = false;
      measure();
    };
    addEventListener('pointerdown', down, true);
    addEventListener('pointerup', up, true);
    addEventListener('pointercancel', up, true);
    return () => {
      removeEventListener('pointerdown', down, true);
      removeEventListener('pointerup', up, true);
      removeEventListener('pointercancel', up, true);
    };
  }, [measure]);
  return height;
}

/** What is in a list, whatever room it has; px. */
function heightOf(list: Element): number {
  const last = list.tagName === 'UL' ? list.lastElementChild : null;
  if (last === null) return list.getBoundingClientRect().height;
  return last.getBoundingClientRect().bottom - list.getBoundingClientRect().top + list.scrollTop;
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
  /** One of several alike, under the first of them. */
  readonly below: boolean;
  readonly children: ReactNode;
}) {
  const { finding, picked, primary, below, children } = props;
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
      className={`tray-row ${severity}${picked ? ' picked' : ''}${below ? ' below' : ''}`}
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
        {children}
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
