/** The list of levers: what each works, how that lies, its switch, and how many of its poles are used. The picked one unfolds. */
import { memo, useEffect, useRef } from 'react';
import { helped } from '../help/switch.ts';
import { SeverityMark } from '../icons.tsx';
import { useLay } from '../lay/use-lay.ts';
import { leverName } from '../words/run.ts';
import { workWords } from '../words/work.ts';
import type { WorkLever } from '../worker/work-view.ts';
import { LeverEdit } from './lever-edit.tsx';
import { Mark } from './mark.tsx';
import { useWork } from './use-work.ts';

export function Levers() {
  const view = useWork((work) => work.view);
  const picked = useWork((work) => work.picked);
  const buttons = useLay((lay) => lay.laid.buttons);
  if (view === null) return <aside className="work-levers" aria-label={workWords.levers} />;
  const { levers, points } = view;
  const alone = points.filter((point) => point.levers.length === 0);
  const free = alone.filter((point) => point.free).map(({ id }) => id);
  const thrown = new Set((buttons ?? []).flatMap(({ sets }) => Object.keys(sets ?? {})));
  const idle = alone.filter((point) => !point.free && !thrown.has(point.id)).map(({ id }) => id);
  const worked = points.length - alone.length;
  return (
    <aside className="work-levers" aria-label={workWords.levers} {...helped('work.levers')}>
      <header>
        <h2>{workWords.levers}</h2>
        <span>{workWords.leversOf(levers.length, worked)}</span>
      </header>
      <ul>
        {levers.map((lever, place) => (
          <li key={lever.id} className={lever.id === picked ? 'lever-item picked' : 'lever-item'}>
            <LeverRow lever={lever} place={place} picked={lever.id === picked} />
            {lever.id === picked ? <LeverEdit lever={lever} /> : null}
          </li>
        ))}
        {levers.length === 0 && thrown.size === 0 ? <li className="note">{workWords.noLevers}</li> : null}
        <PushRows />
        {idle.length > 0 ? <li className="note">{workWords.byNone(idle)}</li> : null}
        {free.length > 0 ? <li className="note">{workWords.byHand(free)}</li> : null}
      </ul>
      <Poles />
    </aside>
  );
}

/** Push buttons, each with what it throws; that is set in Lay. */
function PushRows() {
  const buttons = useLay((lay) => lay.laid.buttons);
  return (buttons ?? []).map(({ id, name, sets }) => (
    <li key={id} className="lever-item push-item">
      <i className="push-mark" />
      <span className="lever-name">
        <b>{name === undefined ? id : `${id} ${name}`}</b>
        <span>{workWords.pushSets(Object.entries(sets ?? {}))}</span>
      </span>
      <span className="lever-switch">
        <b>{workWords.push}</b>
      </span>
    </li>
  ));
}

const LeverRow = memo(function LeverRow({
  lever,
  place,
  picked,
}: {
  readonly lever: WorkLever;
  readonly place: number;
  readonly picked: boolean;
}) {
  const pick = useWork((work) => work.pick);
  const { id, works } = lever;
  const row = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    // Picked on the face, it comes into sight here with all that it unfolds to.
    if (picked) row.current?.parentElement?.scrollIntoView({ block: 'nearest' });
  }, [picked]);
  const { action, used, poles } = lever.switch;
  return (
    <button
      ref={row}
      type="button"
      className="lever-row"
      data-lever-row={id}
      aria-expanded={picked}
      onClick={() => pick(picked ? null : id)}
    >
      <Mark lever={id} place={place} px={30} />
      <span className="lever-name">
        <b>{leverName(lever)}</b>
        <span>
          {workWords.works(
            works.map(({ point }) => point),
            works.map(({ opposite }) => opposite),
          )}
        </span>
      </span>
      <span className="lever-switch">
        <b className={action === 'held' ? undefined : 'caution'}>
          {action === 'held' ? null : <SeverityMark severity="caution" count={1} />}
          {workWords.switchWord(action)}
        </b>
        <span>{workWords.polesUsed(used, poles)}</span>
      </span>
    </button>
  );
});

function Poles() {
  const view = useWork((work) => work.view);
  if (view === null || view.levers.length === 0) return null;
  return (
    <p className="poles">
      <b>
        <span>{workWords.poles}</span>
        <span>{workWords.polesSum(view.poles.used, view.poles.of)}</span>
      </b>
      {workWords.polesWhy(view.feed, view.scheme)}
    </p>
  );
}
