/**
 * What Run holds of trains: a running sheet with where it begins, how many of its moves are done, and what is picked. The worker works it
 * out. Kept on this device by panel; trains and where they stand are written into the panel's file when that is asked for, as one step.
 */
import type { Remote } from 'comlink';
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { LeverPositions } from '../../derive.ts';
import type { TrainsPut } from '../../laying/index.ts';
import type { Lie, PanelFile, Transaction } from '../../panel/index.ts';
import type { SheetMove, Standing, StandingTrain, Thrown } from '../../routes/index.ts';
import { liesIn } from '../run/lies-in.ts';
import type { Store } from '../store.ts';
import type { Change } from '../use-stages.ts';
import { trainWords } from '../words/trains.ts';
import type { BringAnswer, TrainsAnswer, ViewMove } from '../worker/trains.ts';
import type { Core, View } from '../worker/types.ts';
import { type KeptSheet, keepSheet, keptSheet } from './kept-sheet.ts';

export interface TrainsState extends KeptSheet {
  /** Trains as the panel's file has them. */
  readonly file: Standing;
  readonly answer: TrainsAnswer | null;
  /** Id of the train that is picked, and its move, by its place in `answer.moves`. */
  readonly picked: string | null;
  readonly chosen: number | null;
  /** Is what is said of the picked train being changed? */
  readonly editing: boolean;
  /** By train: the place where it is wanted. */
  readonly wanted: Readonly<Record<string, string>>;
  readonly othersStay: boolean;
  readonly brought: BringAnswer | null;
  readonly looking: boolean;
  /** The sheet as it was before it was cut, begun anew, or a train was taken off. */
  readonly before: KeptSheet | null;
  /** Is the sheet on its way to paper? */
  readonly printing: boolean;
  readonly said: string;
}

export interface TrainsActions {
  add(name: string, place: string): void;
  change(id: string, part: Partial<Omit<StandingTrain, 'id'>>): void;
  remove(id: string): void;
  pick(id: string | null): void;
  edit(on: boolean): void;
  /** A move of the list: its route is shown, and its levers are asked for. */
  choose(index: number | null): void;
  /** The picked train's first move to a place that can be run. False where no train is picked, or it has none. */
  choosePlace(place: string): boolean;
  /** The chosen move: levers are thrown, the train goes, and the sheet has one more line. */
  go(told: (train: string, place: string) => string): void;
  /** As the sheet has it after so many moves: trains and levers. */
  stepTo(at: number): void;
  /** Take off the moves that are not done. */
  cut(): void;
  /** A new sheet, from where trains and levers are now. */
  begin(): void;
  want(train: string, place: string | null): void;
  stay(on: boolean): void;
  find(): Promise<void>;
  /** What was found, as lines of the sheet after those that are done. */
  take(): void;
  /** The sheet as it was before. */
  takeBack(): void;
  /** Trains as they stand now, into the panel's file. */
  write(): Promise<void>;
  print(): void;
  printed(): void;
}

export type TrainsStore = StoreApi<TrainsState & TrainsActions>;

/** Levers of a panel that a record of what is thrown names, as positions of all. */
function positionsOf(view: View, thrown: Thrown): LeverPositions {
  return Object.fromEntries(
    view.levers.flatMap(({ id, positions }) => {
      const lie = thrown[id];
      return lie !== undefined && positions.includes(lie) ? [[id, lie] as const] : [];
    }),
  );
}

const lineOf = ({ train, to, points }: Pick<ViewMove, 'train' | 'to' | 'points'>): SheetMove => ({ train, to, points });

/** The sheet with its trains under other ids. */
function renamed(sheet: KeptSheet, ids: Readonly<Record<string, string>>): KeptSheet {
  return {
    ...sheet,
    standing: sheet.standing.map((train) => ({ ...train, id: ids[train.id] ?? train.id })),
    moves: sheet.moves.map((move) => ({ ...move, train: ids[move.train] ?? move.train })),
  };
}

/** Do trains stand alike, whatever their order of keys? */
export function isWritten(now: Standing, file: Standing): boolean {
  return (
    now.length === file.length &&
    now.every(({ id, name, length, stands, heads }) => {
      const there = file.find((train) => train.id === id);
      return there?.name === name && there.length === length && there.stands === stands && there.heads === heads;
    })
  );
}

/** What a sheet hangs on: what it is kept under, the trains that the panel's file has, and what edits that. */
export interface TrainsBegin {
  readonly key: () => string;
  readonly file: Standing;
  readonly change: Change;
}

/** Over the panel that is open in `app`. */
export function makeTrainsStore(app: Store, core: Remote<Core>, { key, file, change }: TrainsBegin): TrainsStore {
  let asked = 0;
  const fault = (error: unknown): void =>
    app.getState().refuse({ file: app.getState().file, problems: [], fault: String(error) });
  const kept = keptSheet(key());
  const store: TrainsStore = createStore<TrainsState & TrainsActions>()((set, get) => {
    const work = async (): Promise<void> => {
      const turn = ++asked;
      const sheet = sheetNow();
      // What the file says is not kept a second time: it may say otherwise one day.
      keepSheet(key(), sheet.moves.length === 0 && isWritten(sheet.standing, file) ? null : sheet);
      const answer = await core.trains(sheet);
      if (turn !== asked) return;
      set({ answer, at: answer.at });
    };
    const now = (): Standing => get().answer?.now ?? get().standing;
    /** The sheet changed: what was chosen and found spoke of another. */
    const become = (part: Partial<KeptSheet>, more: Partial<TrainsState> = {}): void => {
      set({ chosen: null, brought: null, ...more, ...part });
      work().catch(fault);
    };
    const thrownNow = (): Thrown => {
      const { levers, lies } = app.getState();
      return { ...levers, ...lies };
    };
    /** Levers thrown, and points told to lie so that no lever works. */
    const lay = (things: Readonly<Record<string, Lie>>): void => {
      const { view, throwLevers, layPoints } = app.getState();
      const isLever = (id: string): boolean => view?.levers.some((lever) => lever.id === id) ?? false;
      const of = (levers: boolean) =>
        Object.fromEntries(Object.entries(things).filter(([id]) => isLever(id) === levers));
      const points = of(false);
      throwLevers(of(true));
      if (Object.keys(points).length > 0) layPoints(points);
    };
    const sheetNow = (): KeptSheet => {
      const { standing, thrown, moves, at } = get();
      return { standing, thrown, moves, at };
    };
    /** What was written goes, and can be had back. */
    const lose = (part: Partial<KeptSheet>, more: Partial<TrainsState> = {}): void => {
      const before = sheetNow();
      become(part, { ...more, ...(before.moves.length > 0 ? { before } : {}) });
    };
    queueMicrotask(() => work().catch(fault));
    return {
      ...(kept ?? { standing: file, thrown: {}, moves: [], at: 0 }),
      file,
      answer: null,
      picked: null,
      chosen: null,
      editing: false,
      wanted: {},
      othersStay: true,
      brought: null,
      looking: false,
      before: null,
      printing: false,
      said: '',
      add(name, place) {
        const { standing } = get();
        const ids = new Set(standing.map(({ id }) => id));
        let n = 1;
        while (ids.has(`T${n}`)) n++;
        const id = `T${n}`;
        become(
          { standing: [...standing, { id, name, length: null, stands: place, heads: null }] },
          { picked: id, editing: true },
        );
      },
      change(id, part) {
        become({ standing: get().standing.map((train) => (train.id === id ? { ...train, ...part } : train)) });
      },
      remove(id) {
        const { standing, moves, at, wanted } = get();
        lose(
          {
            standing: standing.filter((train) => train.id !== id),
            moves: moves.filter(({ train }) => train !== id),
            at: moves.slice(0, at).filter(({ train }) => train !== id).length,
          },
          {
            picked: null,
            editing: false,
            wanted: Object.fromEntries(Object.entries(wanted).filter(([train]) => train !== id)),
          },
        );
      },
      pick(picked) {
        set({ picked, chosen: null, editing: false });
      },
      edit(editing) {
        set({ editing });
      },
      choose(chosen) {
        set({ chosen });
        const move = chosen === null ? undefined : get().answer?.moves[chosen];
        if (move !== undefined) app.getState().pickMove(move.from, move.to, move.points);
      },
      choosePlace(place) {
        const { picked, answer } = get();
        const index = answer?.moves.findIndex((move) => move.train === picked && move.to === place && move.runs) ?? -1;
        if (index >= 0) get().choose(index);
        return index >= 0;
      },
      go(told) {
        const { answer, chosen, moves, at, thrown } = get();
        const move = chosen === null ? undefined : answer?.moves[chosen];
        if (move === undefined || !move.runs) return;
        // With nothing written yet the sheet begins with levers and points as they lie now.
        const begin = at === 0 ? thrownNow() : thrown;
        lay(move.levers ?? move.throws ?? {});
        become(
          { thrown: begin, moves: [...moves.slice(0, at), lineOf(move)], at: at + 1 },
          { said: told(move.train, move.to) },
        );
      },
      stepTo(to) {
        const { answer, thrown } = get();
        const view = app.getState().view;
        if (answer === null || view === null) return;
        const at = Math.max(0, Math.min(answer.runs, to));
        const after = at === 0 ? thrown : (answer.steps[at - 1]?.thrown ?? thrown);
        app
          .getState()
          .throwLevers(
            positionsOf(view, { ...Object.fromEntries(view.levers.map(({ id }) => [id, 'normal'])), ...after }),
          );
        const points = Object.entries(after).filter(([id]) => view.points.some((point) => point.id === id));
        if (points.length > 0) app.getState().layPoints(liesIn(Object.fromEntries(points)));
        become({ at });
      },
      cut() {
        const { moves, at } = get();
        lose({ moves: moves.slice(0, at) });
      },
      begin() {
        lose({ standing: now(), thrown: thrownNow(), moves: [], at: 0 });
      },
      async write() {
        const standing = now();
        try {
          const { putTrains } = await import('../../laying/index.ts');
          let ids: TrainsPut['ids'] = {};
          const make = (panel: PanelFile): Transaction | null => {
            const put = putTrains(panel, standing);
            ids = put?.ids ?? ids;
            return put?.tx ?? null;
          };
          // The panel comes back with its file's ids, and its sheet has to know them then.
          const done = await change(make, '', () => keepSheet(key(), renamed(sheetNow(), ids)));
          if (!done) set({ said: trainWords.cannotWrite });
        } catch (error) {
          fault(error);
        }
      },
      print() {
        set({ printing: true });
      },
      printed() {
        set({ printing: false });
      },
      takeBack() {
        const { before } = get();
        if (before !== null) become(before, { before: null, picked: null, editing: false });
      },
      want(train, place) {
        const wanted = Object.fromEntries(Object.entries(get().wanted).filter(([id]) => id !== train));
        set({ wanted: place === null ? wanted : { ...wanted, [train]: place }, brought: null });
      },
      stay(othersStay) {
        set({ othersStay, brought: null });
      },
      async find() {
        const { wanted, othersStay } = get();
        set({ looking: true, brought: null });
        try {
          const brought = await core.bring({
            standing: now(),
            thrown: thrownNow(),
            wanted: Object.entries(wanted).map(([train, place]) => ({ train, place })),
            othersStay,
          });
          set({ brought });
        } catch (error) {
          fault(error);
        } finally {
          set({ looking: false });
        }
      },
      take() {
        const { brought, moves, at, thrown } = get();
        if (brought === null) return;
        become({
          thrown: at === 0 ? thrownNow() : thrown,
          moves: [...moves.slice(0, at), ...brought.moves.map(lineOf)],
        });
      },
    };
  });
  return store;
}
