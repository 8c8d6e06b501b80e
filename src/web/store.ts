/** What the window holds: the panel that is open, how the levers lie, what the lamps show, and what is picked. */
import type { Remote } from 'comlink';
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { LeverPositions } from '../derive.ts';
import type { FileProblem, Lie, Lies } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import type { Position } from '../wiring/index.ts';
import type { FileHandle } from './document/index.ts';
import { areDown, keepLights, type Lights, setLights } from './lights.ts';
import { changedLamps } from './run/lit.ts';
import { type Picked, placesFrom, routeAlong, routesBetween } from './run/routes.ts';
import { keepPositions, nextPosition, positionOf } from './run/throws.ts';
import { positions as positionWords, throwNews, words } from './words/run.ts';
import type { Core, View, ViewFinding, ViewReading } from './worker/types.ts';

/** Where the open panel came from. */
export type Source = 'demo' | 'served' | 'own' | 'kept';

interface Trouble {
  readonly file: string;
  readonly problems: readonly FileProblem[];
  /** What the program said when it failed of itself; null where the file is at fault. */
  readonly fault: string | null;
}

export interface State {
  readonly view: View | null;
  readonly source: Source;
  readonly file: string;
  /** The open panel as its file holds it. */
  readonly text: string;
  /** Its id where this browser keeps it. */
  readonly kept: string | null;
  /** The file that it was read from, to be written again, where the browser gave one. */
  readonly handle: FileHandle | null;
  readonly levers: LeverPositions;
  /** How points lie that a push button threw and no lever works; normal where it does not say. */
  readonly lies: Lies;
  readonly reading: ViewReading | null;
  readonly findings: readonly ViewFinding[] | null;
  readonly from: string | null;
  readonly to: string | null;
  /** Which of several ways between the two places. */
  readonly way: number;
  /** How the levers lay when the route was picked. */
  readonly atPick: LeverPositions;
  readonly trouble: Trouble | null;
  /** Has any panel been tried yet? Before that an empty window is only one that is not there yet. */
  readonly tried: boolean;
  readonly news: string;
  readonly lights: Lights;
  readonly down: boolean;
  readonly ringed: Spot | null;
  readonly showFindings: boolean;
  /** The sheet is drawn so many times as large as fits. */
  readonly enlarged: number;
  /** Does the side list routes, or trains? */
  readonly side: 'routes' | 'trains';
  /** Is the panel compared with other ways to build it? */
  readonly comparing: boolean;
}

export interface Actions {
  /** Open a panel; one that cannot be used leaves everything as it is and says why. */
  open(file: string, text: string, source: Source, kept?: string, handle?: FileHandle): Promise<void>;
  /** From now on this browser keeps the open panel, under this id. */
  keepAs(id: string): void;
  throwLevers(positions: LeverPositions): void;
  /** A push button: its points lie as it sets them, with the levers that work them as well. */
  pressButton(id: string): void;
  /** Points that no lever works, told to lie so. */
  layPoints(lies: Lies): void;
  allNormal(): void;
  pickFrom(place: string | null): void;
  pickTo(place: string | null): void;
  /** A place pressed on the face: where a route starts, or where the one that was started ends. */
  pickPlace(place: string): void;
  pickWay(way: number): void;
  pickRoute(index: number): void;
  /** The route between two places along which the points lie so. */
  pickMove(from: string, to: string, points: Readonly<Record<string, Lie>>): void;
  clearRoute(): void;
  swap(): void;
  refuse(trouble: Trouble): void;
  forgive(): void;
  chooseLights(lights: Lights): void;
  deviceChanged(): void;
  ring(at: Spot | null): void;
  toggleFindings(show?: boolean): void;
  enlarge(times: number): void;
  showSide(side: State['side']): void;
  compare(on: boolean): void;
}

export type Store = StoreApi<State & Actions>;

/** The routes between the picked places, and the one of them that is picked; null while none is. */
export function pickedRoute({ view, from, to, way }: Pick<State, 'view' | 'from' | 'to' | 'way'>): Picked | null {
  if (view === null || from === null || to === null) return null;
  const ways = routesBetween(view, from, to);
  return ways[way] ?? ways[0] ?? null;
}

/** How long the hands must have been still before the checks begin, so that the first drawing and throws never wait for them. */
const BEFORE_CHECKS_MS = 400;

/** Levers whose next throw is asked for in advance. */
const REHEARSED = 40;

/** A store over one worker, with the lights as they are at the start. */
export function makeStore(core: Remote<Core>, start: Pick<State, 'lights' | 'down'>): Store {
  let asked = 0;
  let opening = 0;
  let due: (() => void) | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  /** Do this when the hands have been still for a while, in place of whatever was to be done then. */
  const whenStill = (work: () => void): void => {
    clearTimeout(timer);
    due = work;
    timer = setTimeout(() => {
      due = null;
      work();
    }, BEFORE_CHECKS_MS);
  };
  return createStore<State & Actions>()((set, get) => {
    const apply = async (levers: LeverPositions, lies: Lies): Promise<void> => {
      const { view, reading: before, levers: old, lies: lay } = get();
      if (view === null) return;
      set({ levers, lies });
      const turn = ++asked;
      const reading = await core.operate(levers, lies);
      // A later throw has its own answer coming: an older one would show lamps of levers that have moved on.
      if (turn !== asked || get().view !== view) return;
      const thrown = view.levers
        .filter(({ id }) => positionOf(old, id) !== positionOf(levers, id))
        .map(({ id }) => `${id} ${positionWords[positionOf(levers, id)]}`);
      for (const [point, lie] of Object.entries(lies))
        if ((lay[point] ?? 'normal') !== lie) thrown.push(`${point} ${positionWords[lie]}`);
      const { on, off } = before === null ? { on: [], off: [] } : changedLamps(view, before, reading);
      set({ reading, ...(thrown.length > 0 ? { news: throwNews(thrown, on, off, reading.unsolved) } : {}) });
    };
    const run = (levers: LeverPositions, lies: Lies = get().lies): void => {
      if (due !== null) whenStill(due);
      apply(levers, lies).catch((error: unknown) =>
        get().refuse({ file: get().file, problems: [], fault: String(error) }),
      );
    };
    /** Ask for every single throw before the hand does: the solver keeps its answers, and the first throw comes as quick as the rest. */
    const rehearse = async (view: View): Promise<void> => {
      for (const { id, positions } of view.levers.slice(0, REHEARSED)) {
        const { levers, lies, view: now } = get();
        if (now !== view) return;
        await core.operate({ ...levers, [id]: nextPosition(positions, positionOf(levers, id)) }, lies);
      }
    };
    return {
      view: null,
      source: 'demo',
      file: '',
      text: '',
      kept: null,
      handle: null,
      levers: {},
      lies: {},
      reading: null,
      findings: null,
      from: null,
      to: null,
      way: 0,
      atPick: {},
      trouble: null,
      tried: false,
      news: '',
      ...start,
      ringed: null,
      showFindings: false,
      enlarged: 1,
      side: 'routes',
      comparing: false,

      async open(file, text, source, id, handle) {
        const turn = ++opening;
        const same =
          (source === 'served' && get().source === 'served' && get().file === file) ||
          (id !== undefined && id === get().kept);
        try {
          const answer = await core.open(text, same ? get().levers : {});
          if (turn !== opening) return;
          if (!answer.ok) {
            set({ tried: true, trouble: { file, problems: answer.problems, fault: null } });
            return;
          }
          const { view } = answer;
          asked++;
          const kept = keepPositions(view, same ? get().levers : {});
          const place = (id: string | null): string | null =>
            view.places.some((known) => known.id === id) ? id : null;
          const from = same ? place(get().from) : null;
          const reached = placesFrom(view, from).some(({ id }) => id === get().to);
          set({
            view,
            source,
            file,
            text,
            kept: id ?? null,
            handle: handle ?? null,
            tried: true,
            levers: kept,
            lies: {},
            reading: view.reading,
            findings: null,
            from,
            to: same && from !== null && reached ? get().to : null,
            ...(same ? {} : { way: 0, atPick: {}, enlarged: 1 }),
            trouble: null,
            ringed: null,
            news: same ? words.reread(file) : words.opened(view.name === '' ? file : view.name),
          });
          whenStill(() => {
            if (turn !== opening) return;
            core
              .findings()
              .then((findings) => {
                if (turn === opening) set({ findings });
                return rehearse(view);
              })
              .catch((error: unknown) => get().refuse({ file, problems: [], fault: String(error) }));
          });
        } catch (error) {
          if (turn === opening) set({ tried: true, trouble: { file, problems: [], fault: String(error) } });
        }
      },

      keepAs(id) {
        set({ kept: id, source: 'kept' });
      },
      throwLevers(positions) {
        run({ ...get().levers, ...positions });
      },
      pressButton(id) {
        const { view, levers, lies } = get();
        const sets = view?.buttons.find((button) => button.id === id)?.sets;
        if (view === null || sets === undefined) return;
        const alone: Record<string, Lie> = {};
        const along: Record<string, Position> = {};
        for (const { id: point, lever, whenNormal } of view.points) {
          const lie = sets[point];
          if (lie === undefined) continue;
          if (lever === null) alone[point] = lie;
          else along[lever] = lie === whenNormal ? 'normal' : 'reverse';
        }
        run({ ...levers, ...along }, { ...lies, ...alone });
      },
      layPoints(lies) {
        run(get().levers, { ...get().lies, ...lies });
      },
      allNormal() {
        run({}, {});
      },
      pickFrom(from) {
        const { view, to, levers } = get();
        if (view === null) return;
        const keeps = from !== null && placesFrom(view, from).some(({ id }) => id === to);
        set({ from, to: keeps ? to : null, way: 0, atPick: levers });
      },
      pickTo(to) {
        set({ to, way: 0, atPick: get().levers });
      },
      pickPlace(place) {
        const { view, from, to } = get();
        if (view === null) return;
        if (from === place && to === null) return get().clearRoute();
        const reached = from !== null && to === null && placesFrom(view, from).some(({ id }) => id === place);
        if (reached) return get().pickTo(place);
        set({ from: place, to: null, way: 0, atPick: get().levers });
      },
      pickWay(way) {
        set({ way, atPick: get().levers });
      },
      pickRoute(index) {
        const { view, levers } = get();
        const route = view?.routes[index];
        if (view === null || route === undefined) return;
        const way = routesBetween(view, route.from, route.to).findIndex((other) => other.index === index);
        set({ from: route.from, to: route.to, way: Math.max(0, way), atPick: levers });
      },
      pickMove(from, to, points) {
        const { view, levers } = get();
        if (view === null) return;
        const along = routeAlong(view, { from, to, points });
        if (along !== undefined) set({ from, to, way: along.way, atPick: levers });
      },
      clearRoute() {
        set({ from: null, to: null, way: 0, atPick: get().levers });
      },
      swap() {
        const { from, to } = get();
        set({ from: to, to: from });
      },
      refuse(trouble) {
        set({ tried: true, trouble });
      },
      forgive() {
        set({ trouble: null });
      },
      chooseLights(lights) {
        keepLights(lights);
        setLights(lights);
        set({ lights, down: areDown(lights) });
      },
      deviceChanged() {
        const { lights } = get();
        setLights(lights);
        set({ down: areDown(lights) });
      },
      ring(ringed) {
        set({ ringed });
      },
      enlarge(enlarged) {
        set({ enlarged });
      },
      compare(comparing) {
        set({ comparing });
      },
      showSide(side) {
        set({ side });
      },
      toggleFindings(show) {
        set({ showFindings: show ?? !get().showFindings, ringed: null });
      },
    };
  });
}
