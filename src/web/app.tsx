import type { Remote } from 'comlink';
import { useEffect, useMemo, useState } from 'react';
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type * as CompareModule from './compare/compare-dialog.tsx';
import { HelpRoom } from './help/help-room.tsx';
import { helped } from './help/switch.ts';
import { openFile } from './incoming.ts';
import { Bar, OpenButton } from './parts/bar.tsx';
import { Cards } from './parts/cards.tsx';
import { FaceView } from './parts/face-view.tsx';
import { FindingsPanel } from './parts/findings.tsx';
import { Foot } from './parts/foot.tsx';
import { RouteBar } from './parts/route-bar.tsx';
import { RouteCard } from './parts/route-card.tsx';
import { Side } from './parts/side.tsx';
import { Spoken } from './parts/spoken.tsx';
import { TroubleDialog } from './parts/trouble.tsx';
import { fitScale, listOfCards, ROW_OF_CARDS } from './run/fit.ts';
import { type Row, rowOf } from './run/row.ts';
import { buttonsToPress, cardsFor, routeState } from './run/throws.ts';
import { useTrainParts } from './run/use-train-parts.ts';
import { beginsInLay } from './service/launched.ts';
import { useStageKeys } from './stage-keys.ts';
import { pickedRoute } from './store.ts';
import { type Size, useApp, useAppStore, useMedia, useSize } from './use-app.ts';
import { type Change, type Desk, useStages } from './use-stages.ts';
import { words } from './words/run.ts';
import type { Core, View } from './worker/types.ts';

/** What stands in for trains that nobody has asked for. */
const NO_TRAINS = createStore(() => ({ printing: false }));

const NO_PRESSES: readonly string[] = [];

/** Below this the side folds under the face and the route is picked at the bottom edge. */
const WIDE = '(min-width: 68.75em)';

/** A window so low has no room for a bar that stays at its bottom edge, as in run.css. */
const LOW = '(max-height: 30em)';

/** Below this the gutters shrink, as in run.css. */
const NARROW = '(max-width: 40em)';

/** The most of the floor that a list of cards takes from the sheet. */
const MOST_FOR_LIST = 0.3;

/** The whole window. */
export function App({ core, openDemo }: { readonly core: Remote<Core>; readonly openDemo: () => Promise<void> }) {
  const view = useApp((app) => app.view);
  const stages = useStages(core);
  const { stage, desk, go } = stages;
  useStageKeys(view === null ? null : go);
  const comparing = useApp((app) => app.comparing);
  const open = view !== null;
  useEffect(() => {
    if (open && beginsInLay()) go('lay');
  }, [open, go]);
  const dropping = useDrops();
  const title = words.title(view?.name ?? '');
  useEffect(() => {
    document.title = title;
  }, [title]);
  return (
    <>
      <div className="app">
        <Bar openDemo={openDemo} stages={stages} />
        {view === null ? (
          <Empty openDemo={openDemo} />
        ) : stage !== 'run' && desk !== null && desk.Screen !== null ? (
          <desk.Screen store={desk.made.store} core={core} go={go} />
        ) : (
          <Run view={view} core={core} change={stages.change} />
        )}
        {comparing && desk !== null && stage !== 'run' ? <Comparing desk={desk} /> : null}
        <HelpRoom />
      </div>
      {dropping ? <div className="drop">{words.dropHere}</div> : null}
      <Spoken view={view} />
      <TroubleDialog />
    </>
  );
}

/** The panel on the desk beside other ways to build it; what shows that is fetched now. */
function Comparing({ desk }: { readonly desk: Desk }) {
  const store = useAppStore();
  const [parts, setParts] = useState<typeof CompareModule | null>(null);
  useEffect(() => {
    import('./compare/compare-dialog.tsx')
      .then(setParts)
      .catch((error: unknown) => store.getState().refuse({ file: '', problems: [], fault: String(error) }));
  }, [store]);
  const [text] = useState(() => desk.made.text());
  return parts === null ? null : (
    <parts.CompareDialog store={desk.made.store} text={text} close={() => store.getState().compare(false)} />
  );
}

function Empty({ openDemo }: { readonly openDemo: () => void }) {
  const tried = useApp((app) => app.tried);
  // Until the first answer there is nothing to say: it is there before anyone could read a line.
  if (!tried) return <main className="empty" />;
  return (
    <main className="empty">
      <p>{words.noPanel}</p>
      <OpenButton />
      <button type="button" className="btn" onClick={openDemo}>
        {words.openDemo}
      </button>
    </main>
  );
}

function Run({ view, core, change }: { readonly view: View; readonly core: Remote<Core>; readonly change: Change }) {
  const trains = useTrainParts(core, view, change);
  const printing = useStore(trains?.store ?? NO_TRAINS, (state) => state.printing);
  const wide = useMedia(WIDE);
  const onTop = useMedia(LOW) || wide;
  const from = useApp((app) => app.from);
  const to = useApp((app) => app.to);
  const way = useApp((app) => app.way);
  const atPick = useApp((app) => app.atPick);
  const levers = useApp((app) => app.levers);
  const lies = useApp((app) => app.lies);
  const showFindings = useApp((app) => app.showFindings);
  const enlarged = useApp((app) => app.enlarged);
  const picked = useMemo(() => pickedRoute({ view, from, to, way }), [view, from, to, way]);
  const cards = useMemo(() => cardsFor(view, picked, atPick, levers), [view, picked, atPick, levers]);
  const presses = picked === null ? NO_PRESSES : buttonsToPress(view, picked.route, levers, lies);
  const state = routeState(picked, cards, presses);
  const side = useApp((app) => app.side);
  const onPlace = (place: string): boolean =>
    side === 'trains' && trains !== null && trains.store.getState().choosePlace(place);
  const { ref, size } = useSize();
  const gutter = useMedia(NARROW) ? 12 : 20;
  const fit = size === null ? null : fitOf(view, size, gutter, wide, enlarged);
  const bar = <RouteBar view={view} picked={picked} state={state} />;
  return (
    <main className={wide ? 'run wide' : 'run folded'}>
      <div className="desk">
        {onTop ? bar : null}
        <div className="floor" ref={ref} {...helped('run.face')}>
          <div className={enlarged > 1 ? 'bench enlarged' : 'bench'}>
            {fit === null ? null : (
              <div className="fit" style={{ width: view.face.width * fit.pxPerMm }}>
                <FaceView
                  view={view}
                  picked={picked}
                  set={state.kind === 'set'}
                  pxPerMm={fit.pxPerMm}
                  onPlace={onPlace}
                >
                  {trains === null ? null : (
                    <trains.TrainLayer store={trains.store} view={view} pxPerMm={fit.pxPerMm} />
                  )}
                </FaceView>
                {fit.row === null ? null : <Cards view={view} cards={cards} row={fit.row} state={state} />}
              </div>
            )}
            {fit === null || fit.row !== null ? null : <Cards view={view} cards={cards} row={null} state={state} />}
            {view.counts.strips === 0 ? <p className="bare">{words.noStrips}</p> : null}
          </div>
          <Foot view={view} picked={picked} state={state} />
        </div>
      </div>
      <Side view={view} picked={picked} trains={trains} />
      {showFindings ? <FindingsPanel view={view} /> : null}
      {onTop ? null : bar}
      {trains !== null && printing ? (
        <trains.SheetPrint store={trains.store} view={view} />
      ) : picked === null ? null : (
        <RouteCard view={view} picked={picked} />
      )}
    </main>
  );
}

/** How large the sheet is drawn, and where the cards stand under its levers; no row where they have to be a list. */
function fitOf(
  view: View,
  size: Size,
  gutter: number,
  wide: boolean,
  enlarged: number,
): { readonly pxPerMm: number; readonly row: Row | null } {
  const room = (below: number): number => fitScale(view.face, size, gutter, wide, below) * enlarged;
  const pxPerMm = room(ROW_OF_CARDS);
  const row = rowOf(view.levers, pxPerMm, size.em);
  if (row !== null || view.levers.length === 0) return { pxPerMm, row };
  const list = listOfCards(view.levers.length, size.width - 2 * gutter, size.em);
  // A long list scrolls in any case: then the sheet gives up nothing for it.
  return { pxPerMm: list > size.height * MOST_FOR_LIST ? pxPerMm : room(list), row: null };
}

/** A panel file dropped anywhere on the window is opened. True while one is held over it. */
function useDrops(): boolean {
  const store = useAppStore();
  const [over, setOver] = useState(false);
  useEffect(() => {
    const hasFile = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') === true;
    const held = (event: DragEvent): void => {
      if (!hasFile(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const left = (event: DragEvent): void => {
      if (event.relatedTarget === null) setOver(false);
    };
    const dropped = (event: DragEvent): void => {
      if (!hasFile(event)) return;
      event.preventDefault();
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file !== undefined) void openFile(store, file);
    };
    addEventListener('dragenter', held);
    addEventListener('dragover', held);
    addEventListener('dragleave', left);
    addEventListener('drop', dropped);
    return () => {
      removeEventListener('dragenter', held);
      removeEventListener('dragover', held);
      removeEventListener('dragleave', left);
      removeEventListener('drop', dropped);
    };
  }, [store]);
  return over;
}
