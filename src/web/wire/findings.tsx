/** What was found in the circuit, worst first, with what mends it and at what price; then what concerns its supply. */
import { memo } from 'react';
import type { Mend } from '../../checks/index.ts';
import { helped } from '../help/switch.ts';
import { SeverityMark } from '../icons.tsx';
import { useFollows, useLay } from '../lay/use-lay.ts';
import { lengthsIn } from '../words/figures.ts';
import { layWords } from '../words/lay.ts';
import { sentence, severities } from '../words/run.ts';
import { wireWords } from '../words/wire.ts';
import type { LayFinding } from '../worker/types.ts';

export const CircuitFindings = memo(function CircuitFindings({
  tried,
  own,
  others,
  light,
}: {
  /** Is a fault tried? Findings are of the circuit without it. */
  readonly tried: boolean;
  readonly own: readonly LayFinding[] | null;
  readonly others: readonly LayFinding[];
  readonly light: (ids: readonly string[]) => void;
}) {
  const checked = useLay((lay) => lay.checked);
  return (
    <section className="wire-findings" aria-labelledby="wire-findings-head" {...helped('wire.findings')}>
      <h3 id="wire-findings-head" tabIndex={-1}>
        {wireWords.findings}
        {checked ? null : <span>{wireWords.checking}</span>}
      </h3>
      {[...(own ?? []), ...others].some(({ mends }) => mends.some(({ price }) => (price ?? 0) !== 0)) ? (
        <p className="wire-prices">{layWords.pricesAre}</p>
      ) : null}
      {own === null ? null : own.length === 0 ? (
        <p className="wire-none">
          <b>{tried ? wireWords.noFindingsWithout : wireWords.noFindings}</b>
          <span>{wireWords.noFindingsMore}</span>
        </p>
      ) : (
        <ul>
          {together(own).map((same, i) => (
            <Row key={keyOf(same)} same={same} first={i === 0} light={light} />
          ))}
        </ul>
      )}
      {others.length === 0 ? null : (
        <details>
          <summary>
            {wireWords.ofSupply}
            <span className="wire-count">{others.length}</span>
          </summary>
          <ul>
            {together(others).map((same) => (
              <Row key={keyOf(same)} same={same} first={false} light={light} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
});

/** Findings of one kind that one remedy mends, in their order. */
function together(list: readonly LayFinding[]): readonly (readonly [LayFinding, ...LayFinding[]])[] {
  const groups = new Map<string, [LayFinding, ...LayFinding[]]>();
  for (const finding of list) {
    const { code, severity, mends, ids, message } = finding;
    const remedy = mends.some(({ edit }) => edit !== null) ? JSON.stringify(mends) : `${ids.join()} ${message}`;
    const key = `${code} ${severity} ${remedy}`;
    const before = groups.get(key);
    if (before === undefined) groups.set(key, [finding]);
    else before.push(finding);
  }
  return [...groups.values()];
}

const keyOf = (same: readonly LayFinding[]): string =>
  same.map(({ code, ids, message }) => `${code} ${ids.join()} ${message}`).join();

/** So many of one kind are said one by one. */
const MOST_SAID = 2;

function Row({
  same,
  first,
  light,
}: {
  readonly same: readonly [LayFinding, ...LayFinding[]];
  readonly first: boolean;
  readonly light: (ids: readonly string[]) => void;
}) {
  const [finding, ...more] = same;
  const unit = useLay((lay) => lay.unit);
  const { severity, mends } = finding;
  const said = ({ message, ids }: LayFinding): string => sentence(lengthsIn(message, unit), ids);
  const firstAble = mends.find(({ edit }) => edit !== null);
  const rest = more.slice(MOST_SAID - 1);
  return (
    <li className={`wire-finding ${severity}`} {...helped('finding', [severities[severity], finding.why])}>
      <SeverityMark severity={severity} count={1} />
      <div>
        <button type="button" className="wire-say" onClick={() => light(same.flatMap((each) => each.ids))}>
          <span className="wire-sev">{severities[severity]}</span> {said(finding)}
          {more.slice(0, MOST_SAID - 1).map((each) => (
            <span key={each.message} className="wire-also">
              {said(each)}
            </span>
          ))}
          {rest.length === 0 ? null : (
            <span className="wire-also">{wireWords.andSo(rest.map((each) => each.ids[0] ?? ''))}</span>
          )}
        </button>
        {mends.map((mend) =>
          mend.edit === null ? (
            <p key={mend.id} className="wire-by-hand">
              {layWords.byHand(lengthsIn(mend.text, unit))}
            </p>
          ) : (
            <MendRow key={mend.id} finding={finding} mend={mend} primary={first && mend === firstAble} />
          ),
        )}
      </div>
    </li>
  );
}

function MendRow({
  finding,
  mend,
  primary,
}: {
  readonly finding: LayFinding;
  readonly mend: Mend;
  readonly primary: boolean;
}) {
  const apply = useLay((lay) => lay.mend);
  const say = useLay((lay) => lay.say);
  const unit = useLay((lay) => lay.unit);
  const follows = useFollows();
  const text = lengthsIn(mend.text, unit);
  return (
    <button
      type="button"
      className={primary ? 'btn primary wire-mend' : 'btn wire-mend'}
      disabled={follows}
      data-mend={mend.id}
      onClick={(event) => {
        // The row goes with what it mends: the focus goes on at the head of the list.
        event.currentTarget.closest('.wire-findings')?.querySelector<HTMLElement>('h3')?.focus({ preventScroll: true });
        apply(finding, mend.id);
        say(layWords.done(text));
      }}
    >
      <span>{text}</span>
      {mend.price === null ? null : <em>{wireWords.price(mend.price)}</em>}
    </button>
  );
}
