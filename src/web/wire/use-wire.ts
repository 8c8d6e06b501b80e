/** What the stage knows of the circuit that is looked at: asked of the worker anew whenever the panel, a lever or the fault changes. */
import type { Remote } from 'comlink';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { Lie } from '../../panel/index.ts';
import type { Position } from '../../wiring/index.ts';
import type { LayStore } from '../lay/lay-store.ts';
import { useLay } from '../lay/use-lay.ts';
import { deltaOf, withDelta } from '../worker/delta.ts';
import type { Core } from '../worker/types.ts';
import type { WireAsk, WireTruth, WireView } from '../worker/wire-types.ts';

/** What the hand has chosen; it stays while other stages are looked at. */
const CHOSEN = new WeakMap<LayStore, WireAsk>();
const FIRST: WireAsk = { circuit: null, levers: {}, fault: null, history: {} };

export interface Wire {
  readonly view: WireView | null;
  readonly ask: WireAsk;
  /** Does the view speak of the panel as it is, and of what was asked last? */
  readonly current: boolean;
  readonly choose: (circuit: string) => void;
  readonly lay: (lever: string, position: Position) => void;
  readonly say: (point: string, lie: Lie) => void;
  readonly tryFault: (code: string | null) => void;
}

/** The view that came, with what it says as the last one did kept as the very same objects: a lever or a fault leaves most of it as it was. */
const kept = (before: WireView, after: WireView): WireView => withDelta(before, deltaOf(before, after));

export function useWire(core: Remote<Core>, store: LayStore): Wire {
  const number = useLay((lay) => lay.shown?.number ?? null);
  const [ask, setAsk] = useState<WireAsk>(() => CHOSEN.get(store) ?? FIRST);
  const [told, setTold] = useState<{ readonly view: WireView; readonly number: number; readonly ask: WireAsk } | null>(
    null,
  );
  const asked = useRef(0);
  useEffect(() => {
    CHOSEN.set(store, ask);
    if (number === null) return;
    const mine = ++asked.current;
    void core
      .wire(number, ask)
      .then((view) => {
        if (view === null || mine !== asked.current) return;
        setTold((before) => ({ view: before === null ? view : kept(before.view, view), number, ask }));
        return ask.fault === null ? null : core.wireLooks(number, ask);
      })
      .then((looks) => {
        // What the fault does to lamps of other circuits comes after what it does here.
        if (looks == null || mine !== asked.current) return;
        setTold((before) =>
          before?.ask !== ask || before.view.shown === null
            ? before
            : { ...before, view: { ...before.view, shown: { ...before.view.shown, looks } } },
        );
      })
      .catch((error: unknown) => store.setState({ fault: String(error) }));
  }, [core, store, number, ask]);
  // The very same at every drawing, so that what is handed them is drawn again only when it changes.
  const hand = useMemo(
    (): Pick<Wire, 'choose' | 'lay' | 'say' | 'tryFault'> => ({
      choose: (circuit) => setAsk((before) => ({ ...before, circuit, fault: null })),
      lay: (lever, position) => setAsk((before) => ({ ...before, levers: { ...before.levers, [lever]: position } })),
      say: (point, lie) => setAsk((before) => ({ ...before, history: { ...before.history, [point]: lie } })),
      tryFault: (fault) => setAsk((before) => ({ ...before, fault })),
    }),
    [],
  );
  return {
    view: told?.view ?? null,
    ask,
    current: told !== null && told.number === number && told.ask === ask,
    ...hand,
  };
}

/** On a panel of more circuits than these every single fault is tried only when somebody asks for it: it takes seconds. */
const MOST_UNASKED = 30;
/** So long nothing has to happen first: ms. */
const STILL_MS = 800;

/** What single faults do to what lamps say; null until it is known. */
export function useTruth(
  core: Remote<Core>,
  circuits: number,
): { readonly truth: WireTruth | null; readonly trying: boolean; readonly tryAll: () => void } {
  const number = useLay((lay) => lay.shown?.number ?? null);
  const checked = useLay((lay) => lay.checked);
  const [truth, setTruth] = useState<{ readonly of: number; readonly told: WireTruth } | null>(null);
  const [wanted, setWanted] = useState<number | null>(null);
  const [trying, setTrying] = useState(false);
  const isWanted = wanted === number || (circuits > 0 && circuits <= MOST_UNASKED);
  useEffect(() => {
    if (number === null || !checked || !isWanted) return;
    let off = false;
    const timer = setTimeout(async () => {
      setTrying(true);
      const told = await core.wireTruth(number);
      if (off) return;
      setTrying(false);
      if (told !== null) setTruth({ of: number, told });
    }, STILL_MS);
    return () => {
      off = true;
      setTrying(false);
      clearTimeout(timer);
    };
  }, [core, number, checked, isWanted]);
  const tryAll = useCallback(() => setWanted(number), [number]);
  return { truth: truth?.of === number ? truth.told : null, trying, tryAll };
}
