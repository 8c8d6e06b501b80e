/**
 * What the stage Work holds beside the document: who works what as the worker told it, piece by piece, the lever that is picked, and the
 * point that is in the hand. Kept for a panel as long as it lies on the desk, so that the stage opens as it was left.
 */
import type { Remote } from 'comlink';
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { JoinAsked } from '../../laying/index.ts';
import type { LayStore, Shown } from '../lay/lay-store.ts';
import type { Core } from '../worker/types.ts';
import type { WorkPart, WorkPieces, WorkRouteView, WorkView } from '../worker/work-view.ts';

/** Pieces in the order in which they are asked for: what stands in the middle first. */
const PARTS: readonly WorkPart[] = ['routes', 'grouping', 'joins', 'current'];

export type Pieces = { readonly [P in WorkPart]: WorkPieces[P] | null };

export interface WorkState extends Pieces {
  /** What `view` was made of. */
  readonly shown: Shown | null;
  readonly view: WorkView | null;
  /** Of the panel as it is: what is not among them is of an earlier one. */
  readonly fresh: ReadonlySet<WorkPart>;
  /** The route that is picked, with what stands beside it; null while none is, or it is being looked for. */
  readonly line: WorkRouteView | null;
  /** The lever that is picked. */
  readonly picked: string | null;
  /** The point that is in the hand, to be put under a lever. */
  readonly held: string | null;
  /** A join that a hand rests on: shown on the face before it is made. */
  readonly offered: JoinAsked | null;
  /** The face is drawn so many times as large as fits. */
  readonly enlarged: number;
  readonly fault: string | null;
}

export interface WorkActions {
  pick(lever: string | null): void;
  hold(point: string | null): void;
  enlarge(times: number): void;
  offer(join: JoinAsked | null): void;
  /** Look at this route of the list; null at none. */
  look(route: number | null): void;
  /** Ask for what the panel on the desk needs, until the answer is called. */
  follow(): () => void;
}

export type WorkStore = StoreApi<WorkState & WorkActions>;

const made = new WeakMap<LayStore, WorkStore>();

/** The store over a panel on the desk, made once for each. */
export function workStoreOf(lay: LayStore, core: Remote<Core>): WorkStore {
  const known = made.get(lay);
  if (known !== undefined) return known;
  const store = makeWorkStore(lay, core);
  made.set(lay, store);
  return store;
}

function makeWorkStore(lay: LayStore, core: Remote<Core>): WorkStore {
  let looked: number | null = null;
  return createStore<WorkState & WorkActions>()((set, get) => {
    /** Is this still what lies on the desk? */
    const isNow = (shown: Shown): boolean => lay.getState().shown === shown;
    const failed = (error: unknown): void => set({ fault: String(error) });
    const ask = async (shown: Shown): Promise<void> => {
      const { number } = shown;
      const view = await core.work(number);
      if (view === null || !isNow(shown)) return;
      const { picked, held } = get();
      set({
        shown,
        view,
        fresh: new Set(),
        picked: view.levers.some(({ id }) => id === picked) ? picked : null,
        held: view.points.some(({ id, free }) => id === held && !free) ? held : null,
      });
      for (const part of PARTS) {
        const piece = await core.workPiece(number, part);
        if (piece === null || !isNow(shown)) return;
        const { part: _, ...said } = piece;
        set({ [part]: said, fresh: new Set([...get().fresh, part]) } as Partial<WorkState>);
        if (part === 'routes') await askRoute(number);
      }
    };
    const askRoute = async (number: number): Promise<void> => {
      const route = looked;
      const line = route === null ? null : await core.workRoute(number, route);
      if (route === looked && lay.getState().shown?.number === number) set({ line });
    };
    return {
      shown: null,
      view: null,
      routes: null,
      grouping: null,
      joins: null,
      current: null,
      fresh: new Set(),
      line: null,
      picked: null,
      held: null,
      offered: null,
      enlarged: 1,
      fault: null,

      pick(picked) {
        set({ picked });
      },
      hold(held) {
        set({ held });
      },
      offer(offered) {
        set({ offered });
      },
      enlarge(enlarged) {
        set({ enlarged });
      },
      look(route) {
        if (route === looked && get().line !== null) return;
        looked = route;
        if (route === null) set({ line: null });
        const number = get().shown?.number;
        if (number !== undefined) askRoute(number).catch(failed);
      },
      follow() {
        const begin = (shown: Shown | null): void => {
          if (shown !== null && shown !== get().shown) ask(shown).catch(failed);
        };
        begin(lay.getState().shown);
        // Told before the worker is asked what is found: who works what follows the hand, and does not wait for that.
        return lay.subscribe((now, was) => {
          if (now.shown !== was.shown) begin(now.shown);
        });
      },
    };
  });
}
