/** The stage Work: the levers at the left, the face and the control table in the middle, what could be decided at the right. */
import '../lay/lay.css';
import '../lay/keep.css';
import './work.css';
import { useEffect, useLayoutEffect, useMemo, useState } from 'react';
import { helped } from '../help/switch.ts';
import { ChevronRight } from '../icons.tsx';
import { openFile } from '../incoming.ts';
import { fileKey } from '../lay/file-keys.ts';
import { KeepLines } from '../lay/keep-line.tsx';

import { TooNarrow, WIDE_ENOUGH } from '../lay/too-narrow.tsx';
import { LayContext, useFollows, useLay } from '../lay/use-lay.ts';
import { Choice } from '../parts/choice.tsx';
import type { StageProps } from '../screen-props.ts';
import { useAppStore, useMedia } from '../use-app.ts';
import { leverName } from '../words/run.ts';
import { workWords } from '../words/work.ts';
import { Control } from './control.tsx';
import { Current } from './current.tsx';
import { useDeeds } from './deeds.ts';
import { Drives } from './drives.tsx';
import { Face } from './face.tsx';
import { FindingRow, Findings, useWorkFindings } from './findings.tsx';
import { HandBar } from './hand-bar.tsx';
import { CouldJoin, JoinedNow, joinName, Loses, useCould, useOffer } from './joins.tsx';
import { LeverEdit } from './lever-edit.tsx';
import { Levers } from './levers.tsx';
import { Mark } from './mark.tsx';
import { LeverNumber } from './number-line.tsx';
import { useLookAtRoute } from './picked-route.ts';
import { useWork, WorkContext } from './use-work.ts';
import { workKey } from './work-keys.ts';
import { workStoreOf } from './work-store.ts';

/** Above this the stage has three columns; in em, so that larger text folds it. */
const THREE_COLUMNS = '(min-width: 73.8em)';

export function Work({ store, core, go }: StageProps) {
  const app = useAppStore();
  const work = useMemo(() => workStoreOf(store, core), [store, core]);
  const wide = useMedia(WIDE_ENOUGH);
  const three = useMedia(THREE_COLUMNS);
  useEffect(() => work.getState().follow(), [work]);
  useLayoutEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || document.querySelector('dialog:modal') !== null) return;
      const opened = (file: File): void => void openFile(app, file);
      if (fileKey(store, event, opened) || workKey(store, work, event)) event.preventDefault();
    };
    addEventListener('keydown', keyed);
    return () => removeEventListener('keydown', keyed);
  }, [store, work, app]);
  return (
    <LayContext value={store}>
      <WorkContext value={work}>
        {wide ? <Body three={three} toLay={() => go('lay')} /> : <TooNarrow stage="work" go={go} />}
        <Said />
      </WorkContext>
    </LayContext>
  );
}

/** What was done, for a screen reader; what went wrong of itself, for everyone. */
function Said() {
  const said = useLay((lay) => lay.said);
  const fault = useWork((work) => work.fault);
  const app = useAppStore();
  useLookAtRoute();
  useEffect(() => {
    if (fault !== null) app.getState().refuse({ file: app.getState().file, problems: [], fault });
  }, [app, fault]);
  return (
    <output className="unseen" aria-live="polite">
      {said}
    </output>
  );
}

/** The stage, or what is to be done first. */
function Body({ three, toLay }: { readonly three: boolean; readonly toLay: () => void }) {
  const bare = useWork(({ view }) => view !== null && view.points.length === 0 && view.levers.length === 0);
  if (!bare) return three ? <Columns /> : <Folded />;
  return (
    <main className="lay-narrow">
      <h2>{workWords.noPoints}</h2>
      <p>{workWords.noPointsMore}</p>
      <button type="button" className="btn primary" onClick={toLay}>
        {workWords.toLay}
      </button>
    </main>
  );
}

function FaceHead() {
  return (
    <div className="face-head">
      <h2>{workWords.faceHead}</h2>
      <div className="face-key" aria-hidden="true">
        <span>
          <i className="key-route" />
          {workWords.keyRoute}
        </span>
        <span>
          <i className="key-tie" />
          {workWords.keyTogether}
        </span>
      </div>
      <HandBar />
    </div>
  );
}

function Columns() {
  return (
    <main className="work">
      <Levers />
      <section className="work-mid" aria-label={workWords.stage}>
        <FaceHead />
        <Face />
        <KeepLines grave />
        <Control />
      </section>
      <aside className="work-side" aria-label={workWords.couldBe}>
        <LeverNumber />
        <Findings />
        <JoinedNow />
        <CouldJoin />
        <Drives />
        <Current />
      </aside>
    </main>
  );
}

/** One column: what was decided on stays at the bottom edge. */
function Folded() {
  return (
    <main className="work folded">
      <div className="work-scroll">
        <LeverNumber />
        <Face />
        <PickedStrip />
        <KeepLines grave />
        <Control />
        <div className="work-rest">
          <JoinedNow />
          <Drives />
          <Current />
        </div>
      </div>
      <Decisions />
    </main>
  );
}

/** Under the face: the lever that is picked, or one to be picked. */
function PickedStrip() {
  const view = useWork((work) => work.view);
  const picked = useWork((work) => work.picked);
  const pick = useWork((work) => work.pick);
  if (view === null) return null;
  const place = view.levers.findIndex(({ id }) => id === picked);
  const lever = view.levers[place];
  return (
    <section className="picked-strip" aria-label={workWords.levers} {...helped('work.levers')}>
      <div className="strip-head">
        {lever === undefined ? null : <Mark lever={lever.id} place={place} px={34} />}
        <Choice
          label={workWords.lever}
          seen
          items={view.levers.map(({ id, name }) => ({ id, name: leverName({ id, name }) }))}
          chosen={lever?.id ?? null}
          empty={workWords.any}
          onChoose={(id) => pick(id)}
        />
        {lever === undefined ? (
          <span className="strip-sum">{workWords.polesWhy(view.feed, view.scheme)}</span>
        ) : (
          <span className="strip-sum">
            {workWords.works(
              lever.works.map(({ point }) => point),
              lever.works.map(({ opposite }) => opposite),
            )}
            {'; '}
            {workWords.polesUsed(lever.switch.used, lever.switch.poles)}
          </span>
        )}
      </div>
      {lever === undefined ? null : <LeverEdit lever={lever} />}
    </section>
  );
}

/** At the bottom edge: the first finding, and one join after the other. */
function Decisions() {
  const view = useWork((work) => work.view);
  const fresh = useWork((work) => work.fresh.has('joins'));
  const could = useCould();
  const found = useWorkFindings();
  const deeds = useDeeds();
  const follows = useFollows();
  const [at, setAt] = useState(0);
  const n = Math.min(at, could.length - 1);
  const join = could[n];
  const [first] = found;
  const offer = useOffer(join);
  const held = useWork((work) => work.held);
  if (held !== null)
    return (
      <div className="decisions">
        <HandBar />
      </div>
    );
  if (view === null || (join === undefined && first === undefined)) return null;
  const name = join === undefined ? '' : joinName(view, join);
  return (
    <div className="decisions">
      {first === undefined ? null : (
        <ul className="work-findings" aria-label={workWords.findings}>
          <FindingRow finding={first} primary />
        </ul>
      )}
      {join === undefined ? null : (
        <section className="decide-join" aria-label={workWords.couldBe} {...helped('work.joins')}>
          <p>
            <b>{workWords.couldBeJoined(name)}</b>
            {join.saves === null ? null : <span> {workWords.savesAlone(join.saves)}</span>}
            <Loses loses={join.loses} />
          </p>
          <div className="pager">
            <button
              type="button"
              className="ibtn back"
              aria-label={workWords.before}
              disabled={n === 0}
              onClick={() => setAt(n - 1)}
            >
              <ChevronRight />
            </button>
            <output>{workWords.nth(n + 1, could.length)}</output>
            <button
              type="button"
              className="ibtn"
              aria-label={workWords.next}
              disabled={n >= could.length - 1}
              onClick={() => setAt(n + 1)}
            >
              <ChevronRight />
            </button>
          </div>
          <button
            type="button"
            className="btn"
            disabled={follows || !fresh}
            {...offer}
            onClick={() => deeds.join(join)}
          >
            {workWords.joinThese(name)}
          </button>
        </section>
      )}
    </div>
  );
}
