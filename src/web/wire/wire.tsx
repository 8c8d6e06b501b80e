/** The stage Wire: circuits at the left, the one that is looked at in the middle with its sums, findings and evidence at the right. */
import './wire.css';
import { useCallback, useEffect, useMemo, useState } from 'react';
import type { Severity } from '../../checks/index.ts';
import { helped } from '../help/switch.ts';
import { isField } from '../lay/is-field.ts';
import { WIDE_ENOUGH } from '../lay/too-narrow.tsx';
import { LayContext, useLay, useLayStore } from '../lay/use-lay.ts';
import type { StageProps } from '../screen-props.ts';
import { hasSingleKeys } from '../single-keys.ts';
import { useMedia } from '../use-app.ts';
import { wireWords } from '../words/wire.ts';
import { Circuit } from './circuit.tsx';
import { Connector } from './connector.tsx';
import type { Live } from './drawing.tsx';
import { Faults } from './faults.tsx';
import { CircuitFindings } from './findings.tsx';
import { Head } from './head.tsx';
import { CircuitList } from './list.tsx';
import { PickedLine } from './picked.tsx';
import { Reading, WiresTable } from './reading.tsx';
import { wireFindings, worstOf } from './stage-findings.ts';
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
      {wide ? (
        <Stage core={core} store={store} go={go} />
      ) : (
        <main className="lay-narrow">
          <h2>{wireWords.wider}</h2>
          <p>{wireWords.widerMore}</p>
        </main>
      )}
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
    const worst = new Map<string, Severity>();
    for (const each of view?.circuits ?? []) {
      const own = new Set(each.ids);
      const severity = worstOf(all.filter(({ ids }) => ids.some((id) => own.has(id))));
      if (severity !== null) worst.set(each.id, severity);
    }
    const own = new Set(circuit?.ids ?? []);
    return {
      worst,
      own: findings === null ? null : all.filter(({ ids }) => ids.some((id) => own.has(id))),
      others: all.filter(({ ids }) =>
        ids.every((id) => view?.circuits.every((each) => !each.ids.includes(id)) ?? true),
      ),
    };
  }, [findings, view?.circuits, circuit]);

  useThrowKeys(shown === null || shown.positions.length === 0 ? null : shown.circuit, shown?.positions ?? [], lay);
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
        <Reading shown={shown} />
        <Sums sums={shown.figures.sums} supplies={supplyIds(shown)} lit={lit} light={light} />
      </section>
      <aside className="wire-side" aria-label={wireWords.findings}>
        <CircuitFindings tried={shown.fault !== null} own={sorted.own} others={sorted.others} light={light} />
        {shown.connectors.map((connector) => (
          <Connector key={connector.id} connector={connector} volts={shown.figures.volts} lit={lit} light={light} />
        ))}
        <Faults shown={shown} face={face} truth={truth} picked={picked} tryFault={tryFault} />
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
function supplyIds({
  model,
}: {
  readonly model: { readonly symbols: readonly { readonly kind: string; readonly id: string }[] };
}): readonly string[] {
  return model.symbols.filter(({ kind }) => ['supply', 'battery', 'ac', 'fuse'].includes(kind)).map(({ id }) => id);
}

/** N, C and R throw the lever; Ctrl and Z takes an edit back. */
function useThrowKeys(
  circuit: string | null,
  positions: readonly string[],
  lay: (lever: string, position: 'normal' | 'centre' | 'reverse') => void,
): void {
  const store = useLayStore();
  useEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      if (document.querySelector('dialog[open]') !== null || isField(event.target)) return;
      const key = event.key.toLowerCase();
      if ((event.ctrlKey || event.metaKey) && !event.altKey) {
        if (key === 'z') {
          if (event.shiftKey) store.getState().redo();
          else store.getState().undo();
          event.preventDefault();
        } else if (key === 'y') {
          store.getState().redo();
          event.preventDefault();
        }
        return;
      }
      if (!hasSingleKeys() || event.altKey || circuit === null) return;
      const to = key === 'n' ? 'normal' : key === 'r' ? 'reverse' : key === 'c' ? 'centre' : null;
      if (to === null || !positions.includes(to)) return;
      lay(circuit, to);
      event.preventDefault();
    };
    addEventListener('keydown', keyed);
    return () => removeEventListener('keydown', keyed);
  }, [store, circuit, positions, lay]);
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
