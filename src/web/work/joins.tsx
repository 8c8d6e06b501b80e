/** Which points are worked together now, and which could be: what each saves, and what it loses. */
import { useEffect, useState } from 'react';
import { helped } from '../help/switch.ts';
import { useFollows } from '../lay/use-lay.ts';
import { workWords } from '../words/work.ts';
import type { WorkLosses, WorkPieces, WorkView } from '../worker/work-view.ts';
import { useDeeds } from './deeds.ts';
import { Mark } from './mark.tsx';
import { useWork } from './use-work.ts';

/** Joins that stand there before more are asked for. */
const FEW = 3;
/** Levers of several points that stand there before more are asked for. */
const FEW_JOINED = 5;
/** A route that is lost stands before any number of pairs. */
const MORE_THAN_PAIRS = 1e9;

export type Could = WorkPieces['joins']['could'][number];

export function JoinedNow() {
  const view = useWork((work) => work.view);
  const joins = useWork((work) => work.joins);
  const deeds = useDeeds();
  const follows = useFollows();
  const [all, setAll] = useState(false);
  if (view === null || joins === null) return null;
  const now = joins.now.flatMap((join) => {
    const place = view.levers.findIndex(({ id }) => id === join.lever);
    const lever = view.levers[place];
    return lever === undefined || lever.works.length < 2 ? [] : [{ ...join, place, works: lever.works }];
  });
  // What loses something stands first.
  const cost = ({ loses }: (typeof now)[number]): number => loses.routes * MORE_THAN_PAIRS + loses.pairs;
  now.sort((a, b) => cost(b) - cost(a) || a.place - b.place);
  const saved = now.reduce((sum, { works }) => sum + works.length - 1, 0);
  return (
    <section className="joined" {...helped('work.joins')}>
      <h3>
        {workWords.joinedNow}
        <span>{workWords.saved(saved)}</span>
      </h3>
      {now.length === 0 ? <p className="note">{workWords.noneJoined}</p> : null}
      <ul>
        {(all ? now : now.slice(0, FEW_JOINED)).map(({ lever, place, as, works, loses }) => {
          const points = works.map(({ point }) => point);
          const n = loses.routes + loses.pairs;
          return (
            <li key={lever} className="joined-row">
              <Mark lever={lever} place={place} />
              <p>
                <b>{workWords.points(points)}</b> <span>{workWords.joinedAs[as]}</span>
                <em className={n === 0 ? 'ok' : loses.routes > 0 ? 'wrong' : 'caution'}>
                  {n === 0 ? workWords.losesNothing : workWords.loses(loses.routes, loses.pairs)}
                </em>
              </p>
              <button
                type="button"
                className="btn quiet"
                disabled={follows}
                aria-label={workWords.partOf(lever, points)}
                title={workWords.partOf(lever, points)}
                onClick={() => deeds.part(lever)}
              >
                {workWords.part}
              </button>
            </li>
          );
        })}
      </ul>
      {now.length <= FEW_JOINED ? null : (
        <button type="button" className="btn quiet more-button" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? workWords.fewer : workWords.more(now.length - FEW_JOINED)}
        </button>
      )}
    </section>
  );
}

/** Spread on what makes a join: a hand that rests on it sees on the face what would be tied. */
export function useOffer(join: Could | undefined) {
  const offer = useWork((work) => work.offer);
  const rest = (): void => offer(join ?? null);
  const leave = (): void => offer(null);
  useEffect(() => () => offer(null), [offer]);
  return { onPointerEnter: rest, onPointerLeave: leave, onFocus: rest, onBlur: leave };
}

/** The points of the two levers of a join, by name. */
export function joinName(view: WorkView, { levers: [stays, goes], opposite }: Could): string {
  const works = (id: string) => view.levers.find((lever) => lever.id === id)?.works.map(({ point }) => point) ?? [];
  return workWords.joinOf(works(stays), works(goes), opposite);
}

/** The joins of levers that are there, as they were last told. */
export function useCould(): readonly Could[] {
  const view = useWork((work) => work.view);
  const joins = useWork((work) => work.joins);
  const known = new Set(view?.levers.map(({ id }) => id));
  return joins?.could.filter(({ levers }) => levers.every((id) => known.has(id))) ?? [];
}

export function CouldJoin() {
  const view = useWork((work) => work.view);
  const told = useWork((work) => work.joins !== null);
  const fresh = useWork((work) => work.fresh.has('joins'));
  const could = useCould();
  const follows = useFollows();
  const [all, setAll] = useState(false);
  if (view === null || !told) return null;
  return (
    <section className={fresh ? 'could' : 'could stale'} {...helped('work.joins')}>
      <h3>
        {workWords.couldBe}
        <span>{could.length === 0 ? '' : workWords.eachSaves}</span>
      </h3>
      {could.length === 0 ? <p className="note">{workWords.noneCould}</p> : null}
      <ul>
        {(all ? could : could.slice(0, FEW)).map((join) => {
          const name = joinName(view, join);
          const key = `${join.levers.join()} ${join.opposite}`;
          return <CouldRow key={key} join={join} name={name} disabled={follows || !fresh} />;
        })}
      </ul>
      {could.length <= FEW ? null : (
        <button type="button" className="btn quiet more-button" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? workWords.fewer : workWords.more(could.length - FEW)}
        </button>
      )}
    </section>
  );
}

function CouldRow({
  join,
  name,
  disabled,
}: {
  readonly join: Could;
  readonly name: string;
  readonly disabled: boolean;
}) {
  const deeds = useDeeds();
  const offer = useOffer(join);
  return (
    <li className="could-row">
      <p>
        <b>{name}</b>
        {join.saves === null ? null : <span title={workWords.moneyTitle}> {workWords.saves(join.saves)}</span>}
        <Loses loses={join.loses} />
      </p>
      <button
        type="button"
        className="btn"
        disabled={disabled}
        aria-label={workWords.joinThese(name)}
        {...offer}
        onClick={() => deeds.join(join)}
      >
        {workWords.join}
      </button>
    </li>
  );
}

/** What a join loses, counted, with the first of it by name. */
export function Loses({ loses }: { readonly loses: WorkLosses }) {
  const { routes, pairs, named, pair } = loses;
  const what =
    routes > 0 ? workWords.lostRoutes(named, routes) : pair === null ? '' : workWords.lostPair(pair[0], pair[1], pairs);
  return (
    <span className="loses">
      <strong>
        {workWords.joinLoses(routes, pairs)}
        {what === '' ? '' : ': '}
      </strong>
      {what}
    </span>
  );
}
