/** The same panel built otherwise, side by side: as they are weighed, in the order that the user ranks, each taken over by one step. */
import './compare.css';
import { useMemo, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import { type Measure, rankOptions } from '../../options/index.ts';
import type { LayStore } from '../lay/lay-store.ts';
import { Dialog } from '../parts/dialog.tsx';
import { compareWords } from '../words/compare.ts';
import type { ViewOption } from '../worker/options.ts';
import { useOptions } from './use-options.ts';

/** Columns from what lamps tell to what it costs: DIRECTION has what the lamps know first. */
const MEASURES: readonly Measure[] = ['knows', 'wrongSideShare', 'cost', 'amps', 'pins', 'joints', 'wires', 'parts'];
/** So many of what was pressed count. */
const MOST_RANKED = 3;

export function CompareDialog({
  store,
  text,
  close,
}: {
  readonly store: LayStore;
  readonly text: string;
  readonly close: () => void;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [order, setOrder] = useState<readonly Measure[]>([]);
  const { options, state, trying, stop, again, tryFaults } = useOptions(text);
  const ranked = useMemo(() => rankOptions(options, order), [options, order]);
  const present = options.find(({ kind }) => kind === 'as-is');
  const take = ({ edit, name }: ViewOption): void => {
    if (edit === null) return;
    store.getState().edit(edit, name);
    store.getState().tell(compareWords.takenOver(name));
    dialog.current?.close();
  };
  const rank = (measure: Measure): void =>
    setOrder((now) =>
      now[0] === measure ? now.slice(1) : [measure, ...now.filter((each) => each !== measure)].slice(0, MOST_RANKED),
    );
  const how = {
    weighing: compareWords.weighing,
    weighed: compareWords.weighed,
    stopped: compareWords.stopped,
    failed: () => compareWords.failed,
  }[state];
  return createPortal(
    <Dialog
      box={dialog}
      kind="compare"
      title={compareWords.title}
      closeWord={compareWords.close}
      close={close}
      help="compare"
      acts={
        <>
          <output>{`${how(options.length)}. ${compareWords.ranked(order)}.`}</output>
          {state === 'weighing' ? (
            <button type="button" className="btn" onClick={stop}>
              {compareWords.stop}
            </button>
          ) : state === 'weighed' ? null : (
            <button type="button" className="btn" onClick={again}>
              {compareWords.again}
            </button>
          )}
        </>
      }
      notes={<p>{compareWords.how}</p>}
    >
      <section className="compare-table" aria-label={compareWords.title}>
        <table>
          <thead>
            <tr>
              <th scope="col">{compareWords.name}</th>
              {MEASURES.map((measure) => {
                const place = order.indexOf(measure);
                return (
                  <th
                    key={measure}
                    scope="col"
                    aria-sort={place === 0 ? (measure === 'knows' ? 'descending' : 'ascending') : undefined}
                  >
                    <button type="button" aria-pressed={place >= 0} onClick={() => rank(measure)}>
                      {compareWords.measures[measure]}
                      {place < 0 ? null : <b>{place + 1}</b>}
                    </button>
                  </th>
                );
              })}
              <th scope="col">
                <span className="unseen">{compareWords.take}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {ranked.map((option) => (
              <Row
                key={option.id}
                option={option}
                present={present}
                isTrying={trying.has(option.id)}
                tryFaults={state === 'weighed' ? () => tryFaults(option.id) : null}
                take={() => take(option)}
              />
            ))}
          </tbody>
        </table>
      </section>
      <p className="compare-foot">{compareWords.foot}</p>
    </Dialog>,
    document.body,
  );
}

function Row(props: {
  readonly option: ViewOption;
  readonly present: ViewOption | undefined;
  readonly isTrying: boolean;
  /** Null while others are weighed. */
  readonly tryFaults: (() => void) | null;
  readonly take: () => void;
}) {
  const { option, present, isTrying, tryFaults, take } = props;
  const { figures, obstacles, says, name, kind } = option;
  const base = kind === 'as-is' ? undefined : present?.figures;
  const isBuilt = obstacles.length === 0;
  return (
    <tr className={kind === 'as-is' ? 'now' : isBuilt ? '' : 'cannot'}>
      <th scope="row">
        <b>{name}</b>
        {kind === 'as-is' ? <span>{compareWords.now}</span> : null}
        {isBuilt ? null : <span className="cannot-word">{compareWords.cannot}</span>}
        {says.length + obstacles.length === 0 ? null : (
          <details>
            <summary>{[...obstacles.map(({ message }) => message), ...says][0]}</summary>
            <ul>
              {obstacles.map(({ severity, message }) => (
                <li key={`${severity} ${message}`} className={severity}>
                  {message}
                </li>
              ))}
              {says.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </details>
        )}
      </th>
      <td>{compareWords.knows(figures.lampsKnow)}</td>
      <td>
        {figures.wrongSideShare !== null && figures.faults !== null ? (
          compareWords.share(figures.wrongSideShare, figures.faults.tried)
        ) : isTrying ? (
          compareWords.trying
        ) : tryFaults === null ? (
          compareWords.untried
        ) : (
          <button type="button" className="btn quiet" aria-label={compareWords.tryAllOf(name)} onClick={tryFaults}>
            {compareWords.tryAll}
          </button>
        )}
      </td>
      <td className="figure">
        {compareWords.cost(figures.cost)}
        <Change now={figures.cost} was={base?.cost} places={2} />
        {figures.unpriced === 0 ? null : <span className="unpriced">{compareWords.unpriced(figures.unpriced)}</span>}
      </td>
      <td className="figure">
        {compareWords.amps(figures.amps)}
        <Change now={figures.amps} was={base?.amps} places={2} />
      </td>
      {(['pins', 'joints', 'wires', 'parts'] as const).map((measure) => (
        <td key={measure} className="figure">
          {figures[measure]}
          <Change now={figures[measure]} was={base?.[measure]} places={0} />
        </td>
      ))}
      <td>
        {option.edit === null || !isBuilt ? null : (
          <button type="button" className="btn" aria-label={compareWords.takeOf(name)} onClick={take}>
            {compareWords.take}
          </button>
        )}
      </td>
    </tr>
  );
}

/** How much more or less than the panel as it is; nothing where either is not known. */
function Change(props: {
  readonly now: number | null;
  readonly was: number | null | undefined;
  readonly places: number;
}) {
  const { now, was, places } = props;
  if (now === null || was === null || was === undefined) return null;
  const by = now - was;
  return (
    <span className="change">
      {Math.abs(by) < 0.5 / 10 ** places ? compareWords.same : compareWords.more(by, places)}
    </span>
  );
}
