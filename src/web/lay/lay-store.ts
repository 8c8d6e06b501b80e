/**
 * What the Lay stage holds beside the document: the tool in the hand, what is picked, where the eye stands, and what was understood of the
 * panel. The document and its history know nothing of it, and undo touches none of it.
 */
import type { Remote } from 'comlink';
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Described, Picked, Snapped } from '../../laying/index.ts';
import type { PanelFile, Transaction } from '../../panel/index.ts';
import type { Spot } from '../../units/index.ts';
import type { EditedPanel, KeptPanel, KeptState, StepName } from '../document/index.ts';
import { noteEdit } from '../service/quiet.ts';
import { hasSingleKeys, keepSingleKeys } from '../single-keys.ts';
import { keepUnit, keptUnit } from '../unit.ts';
import { keepWords } from '../words/keep.ts';
import { deltaOf, withDelta } from '../worker/delta.ts';
import type { Core, LayFinding, LayView } from '../worker/types.ts';
import { type Camera, type Extent, fitted, kept, showing } from './camera.ts';
import type { Seen } from './keep-lines.ts';
import type { RulerUnit } from './rulers.ts';
import { keepScreen, keptScreen } from './screen-size.ts';

import { type Formation, USUAL_ROADS } from './tools/formation.ts';
import type { Hand, ToolEvent, ToolName } from './tools/types.ts';

/** What was understood, and the panel that it was read from. */
export interface Shown {
  readonly view: LayView;
  readonly base: PanelFile;
  /** Under which the worker holds it: what the other stages ask about. */
  readonly number: number;
}

/** A mend of a finding, by its id. */
export interface Offered {
  readonly finding: LayFinding;
  readonly mend: string;
}

export interface LayState {
  /** As the hand has it at this moment. */
  readonly panel: PanelFile;
  /** As it was last accepted: a drag leaves it as it is, and all that need not follow the hand goes by it. */
  readonly laid: PanelFile;
  readonly undoes: StepName | null;
  readonly redoes: StepName | null;
  readonly shown: Shown | null;
  /** What was understood of a panel at rest: a drag leaves it as it is. */
  readonly laidView: LayView | null;
  /** Everything on the sheet in reading order, and the panel that it was told of. */
  readonly described: { readonly panel: PanelFile; readonly things: readonly Described[] } | null;
  /** Of the panel as it is; null while they are being worked out for the first time. */
  readonly findings: readonly LayFinding[] | null;
  /** Do the findings speak of the panel as it is? */
  readonly checked: boolean;
  readonly tool: ToolName;
  readonly picked: readonly Picked[];
  /** Where the pointer is on the face. */
  readonly pointer: Spot | null;
  readonly drawn: Snapped | null;
  /** Which of the spots that could draw the hand does: 0 the first, round and round. */
  readonly turn: number;
  /** Is the button or a finger down on the sheet? */
  readonly holding: boolean;
  /** Where in the view a finger drags, or a corner is moved: px. The loupe stands beside it. */
  readonly finger: Spot | null;
  /** What would be laid if the hand let go now. */
  readonly ghost: readonly Spot[];
  /** What a drag lays while tape is in the hand, and of how many roads a ladder is. */
  readonly formation: Formation;
  readonly roads: number;
  /** What would be laid if the hand let go now, where that is a formation. */
  readonly would: Transaction | null;
  /** Figures typed for the next corner, while tape is laid: "50", "50<32", "<32". */
  readonly typing: string;
  readonly camera: Camera | null;
  readonly size: Extent | null;
  readonly snapping: boolean;
  readonly unit: RulerUnit;
  /** px to the millimetre of this screen: the browser's promise until it is measured. */
  readonly screen: number;
  /** Do single letters take a tool? */
  readonly singleKeys: boolean;
  /** The finding that is picked. */
  readonly finding: LayFinding | null;
  /** The mend that a hand rests on, for before and after on the sheet. */
  readonly offered: Offered | null;
  /** Where the hand last went down on the face: where a picked strip is split or bent. */
  readonly pressed: Spot | null;
  /** What is read out politely. */
  readonly said: string;
  /** What stands in the foot until the hand does the next thing; empty where there is nothing to say. */
  readonly note: string;
  /** Where the panel is kept; null before it is. */
  readonly kept: KeptState | null;
  /** The panel with its versions and its hold, for what is done with it as a whole. */
  readonly panelKept: KeptPanel | null;
  /** Are the versions and files open? */
  readonly keeping: boolean;
  /** Lines about keeping that were read and put away. */
  readonly seen: Seen;
  /** A version whose difference from the panel as it is stands on the sheet. */
  readonly compared: Compared | null;
  /** What went wrong of itself; null where nothing did. */
  readonly fault: string | null;
}

/** A version as the sheet is compared with it. */
export interface Compared {
  readonly name: string;
  readonly panel: PanelFile;
}

export interface LayActions {
  /** False while another window edits the panel; that is then told. */
  mayEdit(): boolean;
  /** Accept what the hand has begun, as far as it goes, and let go of it. */
  finish(): void;
  hand(event: ToolEvent): void;
  /** The next spot that could draw the hand while it drags, or the one before. */
  turnSnap(by: 1 | -1): void;
  take(tool: ToolName): void;
  form(formation: Formation, roads?: number): void;
  type(typing: string): void;
  pick(picked: readonly Picked[]): void;
  edit(edit: Transaction | null, subject?: string, gesture?: string): void;
  undo(): void;
  redo(): void;
  look(camera: Camera): void;
  fitSheet(): void;
  resize(size: Extent): void;
  point(at: Spot | null): void;
  snap(on: boolean): void;
  chooseUnit(unit: RulerUnit): void;
  switchSingleKeys(on: boolean): void;
  pickFinding(finding: LayFinding | null): void;
  mend(finding: LayFinding, id: string): void;
  /** Save the panel as a file; false where the user thought better of it or there is nothing to save into. */
  save(): Promise<boolean>;
  offer(offered: Offered | null): void;
  say(text: string): void;
  /** Said aloud, and in the foot until the hand does the next thing. */
  tell(text: string): void;
  /** px to the millimetre, as somebody has measured this screen. */
  measure(screen: number): void;
}

export type LayStore = StoreApi<LayState & LayActions>;

/** Turned to another spot, the hand stays with it until it has gone on so far: px. */
const TURN_PX = 10;

/** Tools that lay something: not for a window that follows. */
export const LAYING: ReadonlySet<ToolName> = new Set([
  'strip',
  'platform',
  'place',
  'plate',
  'lever',
  'button',
  'lamp',
  'fixing',
  'keep-out',
]);

function isSameCamera(a: Camera, b: Camera): boolean {
  return a.pxPerMm === b.pxPerMm && a.at[0] === b.at[0] && a.at[1] === b.at[1];
}

/** Questions to the worker so far, of all panels: each has its own number. */
let questions = 0;

/** A store over one document and one worker. `hand` are the tools. */
export function makeLayStore(
  document: EditedPanel,
  core: Remote<Core>,
  makeHand: (store: () => LayStore) => Hand,
): LayStore {
  let busy = false;
  let asked = -1;
  /** What the worker was told last, and what it answered. */
  let understood: { readonly panel: PanelFile; readonly view: LayView; readonly number: number } | null = null;
  const store: LayStore = createStore<LayState & LayActions>()((set, get) => {
    const face = (): Extent => {
      const { shown } = get();
      return shown === null ? { width: 600, height: 300 } : shown.view.face;
    };
    /** Has the worker read what is there now: one question at a time, the last state next. */
    const read = async (): Promise<void> => {
      if (busy) return;
      busy = true;
      try {
        while (asked !== document.revision) {
          asked = document.revision;
          await understand(document.panel);
        }
        if (document.dragging || understood === null) return;
        const { number } = understood;
        const findings = await core.check(number);
        if (findings !== null && asked === document.revision) set({ findings, checked: true });
        const { panel } = document;
        const things = await core.describe(number);
        if (things !== null && asked === document.revision) set({ described: { panel, things } });
      } catch (error) {
        set({ fault: String(error) });
      } finally {
        busy = false;
      }
      if (asked !== document.revision) void read();
    };
    /** What has changed goes over, what changed with it comes back; another panel laid meanwhile is no base for either. */
    const understand = async (base: PanelFile): Promise<void> => {
      const before = understood;
      const number = ++questions;
      const answer =
        (before === null ? null : await core.lay(deltaOf(before.panel, base), before.number, number)) ??
        (await core.lay({ whole: base }, null, number));
      if (answer === null) throw new Error('the worker answered a whole panel with nothing');
      // Told as a whole, the view comes as a whole.
      const view = withDelta(before?.view, answer.change);
      if (view === undefined) throw new Error('the worker answered a first panel with no view');
      understood = { panel: base, view, number };
      set({ shown: { view, base, number }, ...(document.dragging ? {} : { laidView: view }) });
      if (get().camera === null) get().fitSheet();
    };
    document.listen(() => {
      noteEdit();
      const { panel, history, undoes, redoes } = document;
      set({ panel, laid: history.panel, undoes, redoes, checked: false });
      void read();
    });
    queueMicrotask(() => void read());
    let hand: Hand | null = null;
    // Where the hand was last, and where it was when it turned to another spot.
    let last: Spot | null = null;
    let turned: Spot | null = null;
    return {
      panel: document.panel,
      laid: document.history.panel,
      undoes: document.undoes,
      redoes: document.redoes,
      shown: null,
      laidView: null,
      described: null,
      findings: null,
      checked: false,
      // On a bare sheet there is nothing to pick.
      tool: document.panel.strips.length === 0 ? 'strip' : 'pick',
      picked: [],
      pointer: null,
      drawn: null,
      turn: 0,
      holding: false,
      finger: null,
      ghost: [],
      formation: 'strip',
      roads: USUAL_ROADS,
      would: null,
      typing: '',
      camera: null,
      size: null,
      snapping: true,
      unit: keptUnit(),
      screen: keptScreen(),
      singleKeys: hasSingleKeys(),
      finding: null,
      offered: null,
      pressed: null,
      said: '',
      note: '',
      kept: null,
      panelKept: null,
      keeping: false,
      seen: {},
      compared: null,
      fault: null,

      mayEdit() {
        if (document.locked === null) return true;
        get().tell(keepWords.follows);
        return false;
      },
      finish() {
        if (get().holding && last !== null) get().hand({ kind: 'up', at: last, free: false });
        if (get().ghost.length > 0) get().hand({ kind: 'enter' });
        get().hand({ kind: 'cancel' });
      },
      hand(event) {
        hand ??= makeHand(() => store);
        if (event.kind === 'down') set({ pressed: event.at, note: '', holding: true, turn: 0 });
        if (event.kind === 'down' || event.kind === 'move') last = event.at;
        const { camera, turn } = get();
        // A hand that has gone on is drawn by what is near it there.
        if (event.kind === 'move' && turn !== 0 && turned !== null && camera !== null)
          if (Math.hypot(event.at[0] - turned[0], event.at[1] - turned[1]) * camera.pxPerMm > TURN_PX) set({ turn: 0 });
        hand.on(event);
        if (event.kind === 'up' || event.kind === 'cancel') set({ holding: false, turn: 0, finger: null });
        // A drag that ended is checked now.
        if (event.kind === 'up' || event.kind === 'cancel') void read();
      },
      turnSnap(by) {
        const { holding, turn } = get();
        if (!holding || last === null) return;
        turned = last;
        set({ turn: turn + by });
        get().hand({ kind: 'move', at: last, free: false });
      },
      take(tool) {
        if (LAYING.has(tool) && !get().mayEdit()) return;
        get().hand({ kind: 'cancel' });
        // Tape is taken as tape; a formation is chosen anew.
        set({ tool, formation: 'strip', ghost: [], would: null, drawn: null, typing: '' });
      },
      form(formation, roads = get().roads) {
        get().hand({ kind: 'cancel' });
        set({ formation, roads, ghost: [], would: null, drawn: null, typing: '' });
      },
      type(typing) {
        set({ typing });
      },
      pick(picked) {
        set({ picked });
      },
      edit(edit, subject = '', gesture) {
        if (edit !== null && get().mayEdit())
          document.edit(edit, { subject, ...(gesture === undefined ? {} : { gesture }) });
      },
      undo() {
        if (get().mayEdit()) document.undo();
      },
      redo() {
        if (get().mayEdit()) document.redo();
      },
      look(camera) {
        const { size } = get();
        set({ camera: size === null ? camera : kept(camera, face(), size) });
      },
      fitSheet() {
        const { size } = get();
        if (size !== null) set({ camera: fitted(face(), size) });
      },
      resize(size) {
        const { camera, size: was, shown } = get();
        // A sheet that fitted goes on to fit: the findings fold in and out, a window is turned.
        const fits = camera !== null && was !== null && isSameCamera(camera, fitted(face(), was));
        set({ size });
        if (fits || (camera === null && shown !== null)) get().fitSheet();
      },
      point(pointer) {
        set({ pointer });
      },
      snap(snapping) {
        set({ snapping });
      },
      chooseUnit(unit) {
        keepUnit(unit);
        set({ unit });
      },
      switchSingleKeys(singleKeys) {
        keepSingleKeys(singleKeys);
        set({ singleKeys });
      },
      pickFinding(finding) {
        const { camera, size } = get();
        set({ finding });
        if (finding?.at != null && camera !== null && size !== null) set({ camera: showing(camera, finding.at, size) });
      },
      save: () => Promise.resolve(false),
      mend(finding, id) {
        const edit = finding.mends.find((each) => each.id === id)?.edit ?? null;
        if (edit === null || !get().mayEdit()) return;
        document.edit(edit, { subject: finding.ids[0] ?? '' });
        set({ finding: null, offered: null });
      },
      offer(offered) {
        set({ offered });
      },
      say(said) {
        set({ said });
      },
      tell(text) {
        set({ said: text, note: text });
      },
      measure(screen) {
        keepScreen(screen);
        set({ screen });
      },
    };
  });
  return store;
}
