/** The stage Wire: circuits at the left, the one that is looked at in the middle with its sums, findings and evidence at the right. */
import './wire.css';
import { useCallback, useEffect, useMemo, useState } from 'react';
import type { CircuitModel } from '../../book/index.ts';
import type { Severity } from '../../checks/index.ts';
import type { Position } from '../../wiring/index.ts';
import { helped } from '../help/switch.ts';
import { openFile } from '../incoming.ts';
import { fileKey } from '../lay/file-keys.ts';
import { isField } from '../lay/is-field.ts';
import { KeepLines } from '../lay/keep-line.tsx';
import { TooNarrow, WIDE_ENOUGH } from '../lay/too-narrow.tsx';
import { LayContext, useLay, useLayStore } from '../lay/use-lay.ts';
import type { StageProps } from '../screen-props.ts';
import { hasSingleKeys } from '../single-keys.ts';
import { undoKey } from '../undo-key.ts';
import { useAppStore, useMedia } from '../use-app.ts';
import { wireWords } from '../words/wire.ts';
import type { WireShown } from '../worker/wire-types.ts';
import { Circuit } from './circuit.tsx';
import { Connector } from './connector.tsx';
import type { Live } from './drawing.tsx';
import { Faults } from './faults.tsx';
import { CircuitFindings } from './findings.tsx';
import { Head } from './head.tsx';
import { CircuitList } from './list.tsx';
import { PickedLine } from './picked.tsx';
import { Reading, WiresTable } from './reading.tsx';
import { wireFindings } from './stage-findings.ts';
import { Sums } from './sums.tsx';
import { Supplies } from './supplies.tsx';
import { SwitchBehind } from './switch.tsx';
import { Truth } from './truth.tsx';
import { useTruth, useWire } from './use-wire.ts';
import { Values } from './values.tsx';

export function Wire({ store, core, go }: StageProps) {
  const wide = useMedia(WIDE_ENOUGH);
  return (
    <LayContext value={store}>
      {wide ? <Stage core={core} store={store} go={go} /> : <TooNarrow stage="wire" go={go} />}
    </LayContext>
  );
}

const NONE: ReadonlySet<string> = new Set();

function Stage({ core, store, go }: StageProps) {
  const wire = useWire(core, store);
  const { view, ask, choose, lay, say, tryFault } = wire;
  const findings = useLay((state) => state.findings);
  const face = useLay((state) => state.shown?.view.face ?? null);
  const { truth, trying, tryAll } = useTruth(core, view?.circuits.length ?? 0);
  const [lit, setLit] = useState<ReadonlySet<string>>(NONE);
  const [picked, setPicked] = useState<string | null>(null);
  const light = useCallback((ids: readonly string[]) => setLit(ids.length === 0 ? NONE : new Set(ids)), []);
  const shown = view?.shown ?? null;
  const circuit = view?.circuits.find(({ id }) => id === shown?.circuit) ?? null;
  const take = useCallback(
    (id: string) => {
      setLit(NONE);
      setPicked(null);
      choose(id);
    },
    [choose],
  );

  const sorted = useMemo(() => {
    const all = wireFindings(findings ?? []);
    const circuits = view?.circuits ?? [];
    const worst = new Map<string, Severity>();
    for (const each of circuits) {
      const own = new Set(each.ids);
      // Findings come worst first.
      const first = all.find(({ ids }) => ids.some((id) => own.has(id)));
      if (first !== undefined) worst.set(each.id, first.severity);
    }
    const own = new Set(circuit?.ids);
    const inCircuits = new Set(circuits.flatMap(({ ids }) => ids));
    return {
      worst,
      own: findings === null ? null : all.filter(({ ids }) => ids.some((id) => own.has(id))),
      others: all.filter(({ ids }) => !ids.some((id) => inCircuits.has(id))),
    };
  }, [findings, view?.circuits, circuit]);

  useKeys(shown, lay);
  const feeding = useMemo(() => (shown === null ? [] : supplyIds(shown.model)), [shown]);
  const live: Live | null = useMemo(
    () => (shown === null ? null : { figures: shown.figures, top: shown.top, lit, picked }),
    [shown, lit, picked],
  );
  if (view === null)
    return (
      <main className="wire-empty">
        <p>{wireWords.asking}</p>
      </main>
    );
  if (shown === null || circuit === null || live === null)
    return (
      <main className="wire-empty">
        <h2>{wireWords.nothing}</h2>
        <p>{wireWords.nothingMore}</p>
        <button type="button" className="btn primary" onClick={() => go('lay')}>
          {wireWords.toLay}
        </button>
      </main>
    );
  const name = wireWords.circuitName(circuit);
  const sum = shown.figures.sums.find(({ position }) => position === shown.figures.position) ?? null;
  return (
    <main className="wire" data-current={wire.current}>
      <CircuitList
        circuits={view.circuits}
        supplies={view.supplies}
        chosen={shown.circuit}
        worst={sorted.worst}
        choose={take}
      />
      <section className="wire-mid" aria-label={wireWords.drawing(name)}>
        <Head circuit={circuit} shown={shown} ask={ask} lay={lay} say={say} />
        {shown.figures.unsolved ? <p className="wire-strip wrong">{wireWords.unsolved}</p> : null}
        {shown.fault === null ? null : (
          <p className="wire-strip caution" {...helped('wire.faults')}>
            <b>{wireWords.faultTried(shown.fault.says)}</b>
            <button type="button" className="btn" onClick={() => tryFault(null)}>
              {wireWords.takeAway}
            </button>
          </p>
        )}
        {shown.model.covered ? (
          <Circuit shown={shown} name={name} live={live} sum={sum} pick={setPicked} />
        ) : (
          <WiresTable shown={shown} />
        )}
        {picked === null ? null : (
          <PickedLine id={picked} shown={shown} truth={truth} tryFault={tryFault} put={() => setPicked(null)} />
        )}
        <KeepLines grave />
        <Reading shown={shown} />
        <Sums sums={shown.figures.sums} supplies={feeding} lit={lit} light={light} />
      </section>
      <aside className="wire-side" aria-label={wireWords.findings}>
        <CircuitFindings tried={shown.fault !== null} own={sorted.own} others={sorted.others} light={light} />
        {shown.connectors.map((connector) => (
          <Connector key={connector.id} connector={connector} volts={shown.figures.volts} lit={lit} light={light} />
        ))}
        <Faults shown={shown} face={face} circuits={view.circuits} truth={truth} picked={picked} tryFault={tryFault} />
        <Truth circuit={shown.circuit} lamps={shown.figures.lamps} truth={truth} trying={trying} tryAll={tryAll} />
        <Values values={shown.values} groups={shown.groups} />
        {shown.switch === null ? null : <SwitchBehind lever={shown.switch} />}
        <Supplies supplies={view.supplies} choose={take} />
      </aside>
      <Said />
    </main>
  );
}

/** The supply and its fuse, as the drawing names them. */
function supplyIds({ symbols }: CircuitModel): readonly string[] {
  return symbols.filter(({ kind }) => ['supply', 'battery', 'ac', 'fuse'].includes(kind)).map(({ id }) => id);
}

const THROWS: Readonly<Record<string, Position>> = { n: 'normal', c: 'centre', r: 'reverse' };

/** N, C and R throw the lever; files, undo and redo have the keys that they have in every stage. */
function useKeys(shown: WireShown | null, lay: (lever: string, position: Position) => void): void {
  const app = useAppStore();
  const store = useLayStore();
  useEffect(() => {
    const thrown = ({ key, ctrlKey, metaKey, altKey }: KeyboardEvent): boolean => {
      const to = THROWS[key.toLowerCase()];
      if (ctrlKey || metaKey || altKey || !hasSingleKeys()) return false;
      if (shown === null || to === undefined || !shown.positions.includes(to)) return false;
      lay(shown.circuit, to);
      return true;
    };
    const keyed = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || document.querySelector('dialog:modal') !== null) return;
      const opened = (file: File): void => void openFile(app, file);
      const isOurs =
        fileKey(store, event, opened) || undoKey(store, event) || (!isField(event.target) && thrown(event));
      if (isOurs) event.preventDefault();
    };
    addEventListener('keydown', keyed);
    return () => removeEventListener('keydown', keyed);
  }, [app, store, shown, lay]);
}

/** What is read out when something was done. */
function Said() {
  const said = useLay((lay) => lay.said);
  return (
    <p className="unseen" role="status">
      {said}
    </p>
  );
}
