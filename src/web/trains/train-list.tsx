import { useMemo, useRef } from 'react';
import type { StandingTrain } from '../../routes/index.ts';
import { ChevronRight } from '../icons.tsx';
import { placeName } from '../run/routes.ts';
import { inOrderOf, leversToThrow } from '../run/throws.ts';
import { useApp } from '../use-app.ts';
import { trainWords } from '../words/trains.ts';
import type { ViewMove } from '../worker/trains.ts';
import type { View } from '../worker/types.ts';
import { TrainForm } from './train-form.tsx';
import { isWritten } from './trains-store.ts';
import { nameIn, trainName, useStanding, useTrains } from './use-trains.ts';

/** Every train, the picked one with what it can do. */
export function TrainList({ view }: { readonly view: View }) {
  const standing = useStanding();
  const picked = useTrains((trains) => trains.picked);
  const pick = useTrains((trains) => trains.pick);
  const add = useTrains((trains) => trains.add);
  const why = useTrains(({ answer }) => answer?.why ?? null);
  const list = useRef<HTMLUListElement>(null);
  const free = view.places.find(({ id }) => standing.every(({ stands }) => stands !== id)) ?? view.places[0];
  return (
    <>
      <h2>
        {trainWords.trains} <span>{standing.length}</span>
      </h2>
      {standing.length === 0 ? <p className="note">{trainWords.none}</p> : null}
      {why === null || why.length === 0 ? null : <p className="note wrong">{trainWords.cannotRead(why)}</p>}
      <ul ref={list}>
        {standing.map((train) => (
          <li key={train.id} className={train.id === picked ? 'train picked' : 'train'}>
            <button
              type="button"
              className="side-row pick"
              aria-expanded={train.id === picked}
              onClick={() => pick(train.id === picked ? null : train.id)}
            >
              <span className="train-words">
                <span className="tag mark">{train.id}</span>
                <span className="side-words">
                  <b>{trainName(train)}</b>
                  <span>{standsText(view, train)}</span>
                </span>
              </span>
              <ChevronRight />
            </button>
            {train.id === picked ? <Picked view={view} train={train} /> : null}
          </li>
        ))}
      </ul>
      {standing.length > 0 && picked === null ? <p className="note">{trainWords.pickTrain}</p> : null}
      <button
        type="button"
        className="btn quiet"
        disabled={free === undefined}
        onClick={() => {
          if (free !== undefined) add('', free.id);
          requestAnimationFrame(() => list.current?.querySelector<HTMLElement>('.picked input')?.focus());
        }}
      >
        {trainWords.add}
      </button>
      <Write standing={standing} />
    </>
  );
}

/** Trains as they stand now, into the panel's file, where it has them otherwise. */
function Write({ standing }: { readonly standing: readonly StandingTrain[] }) {
  const file = useTrains((trains) => trains.file);
  const write = useTrains((trains) => trains.write);
  if (isWritten(standing, file)) return standing.length === 0 ? null : <p className="note">{trainWords.written}</p>;
  return (
    <>
      <button type="button" className="btn quiet" onClick={() => void write()}>
        {trainWords.write}
      </button>
      <p className="note">{trainWords.notWritten}</p>
    </>
  );
}

function standsText(view: View, { stands, heads, length }: StandingTrain): string {
  const to = heads === null ? null : heads === stands ? trainWords.headsToEnd : placeName(view, heads);
  return trainWords.stands(placeName(view, stands), to, length);
}

function Picked({ view, train }: { readonly view: View; readonly train: StandingTrain }) {
  const editing = useTrains((trains) => trains.editing);
  const edit = useTrains((trains) => trains.edit);
  return (
    <div className="train-open">
      {editing ? (
        <TrainForm view={view} train={train} />
      ) : (
        <>
          <Moves view={view} train={train} />
          <button type="button" className="btn quiet" onClick={() => edit(true)}>
            {trainWords.edit}
          </button>
        </>
      )}
    </div>
  );
}

/** Where a train can go from here, nearest first as the routes have it, and what bars the rest. */
function Moves({ view, train }: { readonly view: View; readonly train: StandingTrain }) {
  const all = useTrains(({ answer }) => answer?.moves ?? null);
  const chosen = useTrains((trains) => trains.chosen);
  const mine = useMemo(
    () => (all ?? []).flatMap((move, i) => (move.train === train.id ? [{ move, i }] : [])),
    [all, train.id],
  );
  const open = mine.filter(({ move }) => move.runs);
  const barred = mine.filter(({ move }) => !move.runs);
  if (all === null) return null;
  return (
    <>
      <h3>{trainWords.canGo}</h3>
      {open.length === 0 ? <p className="note">{trainWords.nowhere}</p> : null}
      <ul>
        {open.map(({ move, i }) => (
          <MoveRow key={i} view={view} move={move} index={i} chosen={i === chosen} />
        ))}
      </ul>
      {barred.length === 0 ? null : (
        <details>
          <summary>{trainWords.cannotGo(barred.length)}</summary>
          <ul>
            {barred.map(({ move, i }) => (
              <li key={i} className="side-row">
                <MoveWords view={view} move={move} />
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function MoveRow(props: {
  readonly view: View;
  readonly move: ViewMove;
  readonly index: number;
  readonly chosen: boolean;
}) {
  const { view, move, index, chosen } = props;
  const choose = useTrains((trains) => trains.choose);
  const go = useTrains((trains) => trains.go);
  const standing = useStanding();
  const levers = useApp((app) => app.levers);
  const thrown = inOrderOf(view, move, leversToThrow(view, move.levers, levers) ?? []);
  const nameOf = (id: string): string => nameIn(standing, id);
  return (
    <li className={chosen ? 'move chosen' : 'move'}>
      <button
        type="button"
        className="side-row pick"
        aria-expanded={chosen}
        onClick={() => choose(chosen ? null : index)}
      >
        <MoveWords view={view} move={move} />
      </button>
      {chosen ? (
        <div className="move-open">
          <button
            type="button"
            className="btn primary"
            onClick={() => go((train, place) => trainWords.moved(nameOf(train), placeName(view, place)))}
          >
            {trainWords.go(thrown)}
          </button>
          <Beside view={view} index={index} nameOf={nameOf} />
        </div>
      ) : null}
    </li>
  );
}

/** Where it goes, by which way, and what is asked of the levers or stands against it. */
function MoveWords({ view, move }: { readonly view: View; readonly move: ViewMove }) {
  const levers = useApp((app) => app.levers);
  const standing = useStanding();
  const thrown = inOrderOf(view, move, leversToThrow(view, move.levers, levers) ?? []);
  const against = [
    ...(move.throws === null ? [move.why ?? ''] : []),
    ...move.fouledBy.map(({ train, place }) => trainWords.inTheWay(nameIn(standing, train), placeName(view, place))),
    ...(move.full === null ? [] : [move.full]),
  ];
  const parts = [
    trainWords.via(move.through.map((id) => placeName(view, id))),
    trainWords.goes(move.head),
    ...(against.length > 0 ? against : [thrown.length === 0 ? trainWords.free : trainWords.throwThese(thrown)]),
  ].filter((part) => part !== '');
  return (
    <span className="side-words">
      <b>{placeName(view, move.to)}</b>
      <span>{parts.join(', ')}</span>
      {against.length > 0
        ? null
        : move.asks.map((ask) => (
            <span key={ask} className="asks">
              {ask}
            </span>
          ))}
    </span>
  );
}

/** What other trains could do at the same time as a move. */
function Beside(props: { readonly view: View; readonly index: number; readonly nameOf: (train: string) => string }) {
  const { view, index, nameOf } = props;
  const answer = useTrains((trains) => trains.answer);
  const told = useMemo(() => {
    const by = new Map<string, { readonly can: string[]; readonly not: Map<string, string> }>();
    for (const [a, b, why] of answer?.beside ?? []) {
      if (a !== index && b !== index) continue;
      const other = answer?.moves[a === index ? b : a];
      if (other === undefined) continue;
      const row = by.get(other.train) ?? { can: [], not: new Map<string, string>() };
      by.set(other.train, row);
      if (why === null) row.can.push(other.to);
      else row.not.set(other.to, why);
    }
    return [...by];
  }, [answer, index]);
  if (told.length === 0) return null;
  return (
    <div className="beside">
      <h4>{trainWords.beside}</h4>
      <ul>
        {told.map(([train, { can, not }]) => {
          const places = [...new Set(can)].map((id) => placeName(view, id));
          const reasons = [...new Set(not.values())].map(trainWords.clash);
          return (
            <li key={train}>
              {places.length > 0 ? trainWords.besideOk(nameOf(train), places) : trainWords.besideNone(nameOf(train))}
              {places.length === 0 && reasons.length > 0 ? <span>{reasons.join(', ')}</span> : null}
            </li>
          );
        })}
      </ul>
    </div>
  );
}
