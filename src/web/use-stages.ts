/**
 * Which stage is on the screen. Run stands on the panel as it was opened; the others on the desk, over the panel as it is laid now. Each is
 * fetched the first time that somebody goes there.
 */
import type { Remote } from 'comlink';
import { type ComponentType, useEffect, useState } from 'react';
import type { PanelFile, Transaction } from '../panel/index.ts';
import { copyNote } from './device-notes.ts';
import type * as LayParts from './lay/desk.ts';
import type { StageProps } from './screen-props.ts';
import type { Store } from './store.ts';
import { sheetNote } from './trains/sheet-note.ts';
import { useAppStore } from './use-app.ts';
import type { Stage } from './words/stages.ts';
import type { Core } from './worker/types.ts';

type Screen = ComponentType<StageProps>;

/** The stages on the desk that are there. */
const SCREENS: Readonly<Partial<Record<Stage, () => Promise<Screen>>>> = {
  lay: async () => (await import('./lay/desk.ts')).Lay,
  work: async () => (await import('./work/work.tsx')).Work,
  wire: async () => (await import('./wire/wire.tsx')).Wire,
};

/** One panel on the desk, with the parts that draw it, and the screen of the stage that was gone to last. */
export interface Desk extends Pick<typeof LayParts, 'deskKey' | 'Kept' | 'LayContext' | 'LayStages'> {
  readonly made: LayParts.LayDesk;
  /** Null while no stage of the desk was gone to. */
  readonly Screen: Screen | null;
}

/** Makes an edit of the panel as it lies on the desk, then does what comes after. False, and neither, where another window edits the panel. */
export type Change = (
  make: (panel: PanelFile) => Transaction | null,
  subject: string,
  after: () => void,
) => Promise<boolean>;

/** The stages of this window, and the ways between them. */
export interface Stages {
  readonly stage: Stage;
  /** Null while there is none, or in Run while it holds another panel than the one that is open. */
  readonly desk: Desk | null;
  readonly go: (stage: Stage) => void;
  /** Run with the desk at hand: versions, files, undo and redo. */
  readonly versions: () => void;
  /** In Run: an edit of the panel on the desk, as one step. */
  readonly change: Change;
}

export function useStages(core: Remote<Core>): Stages {
  const store = useAppStore();
  const [stage, setStage] = useState<Stage>('run');
  const [desk, setDesk] = useState<Desk | null>(null);
  const [stages] = useState(() => makeStages(store, core, setStage, setDesk));
  useEffect(() => stages.follow(), [stages]);
  return { stage, desk, go: stages.go, versions: stages.versions, change: stages.change };
}

/** Goes from stage to stage, one after the other in the order asked for. */
function makeStages(
  store: Store,
  core: Remote<Core>,
  setStage: (stage: Stage) => void,
  setDesk: (desk: Desk | null) => void,
): Pick<Stages, 'go' | 'versions' | 'change'> & { readonly follow: () => () => void } {
  let stage: Stage = 'run';
  let desk: Desk | null = null;
  let queue = Promise.resolve();
  const then = (work: () => Promise<void>): Promise<void> => {
    queue = queue
      .then(work)
      .catch((error: unknown) =>
        store.getState().refuse({ file: store.getState().file, problems: [], fault: String(error) }),
      );
    return queue;
  };
  const enter = (next: Stage): void => {
    stage = next;
    setStage(next);
  };
  /** Does the desk hold the panel that is open? */
  const holdsOpen = ({ made }: Desk): boolean => {
    const { text, kept } = store.getState();
    return made.text() === text && (kept === null || kept === made.kept.id);
  };
  /** What is undone or taken from a version while Run is on the screen is what Run shows. */
  const followDesk = (made: LayParts.LayDesk): void => {
    const { document } = made.kept;
    let shown = document.history.changed;
    made.kept.listen(() => {
      if (document.history.changed === shown) return;
      shown = document.history.changed;
      if (stage === 'run' && desk?.made === made) void then(toRun);
    });
  };
  /** The panel is kept under an id from now on, and so is its running sheet. */
  const keepAs = (id: string): void => {
    const now = store.getState();
    if (now.kept !== id) copyNote(sheetNote(now.kept ?? now.file), sheetNote(id));
    now.keepAs(id);
  };
  /** The desk over the panel that is open, made anew where another was opened since. */
  const deskNow = async ({ makeDesk }: typeof LayParts): Promise<LayParts.LayDesk> => {
    const { text, file, kept, handle, source } = store.getState();
    const there = desk?.made;
    if (desk !== null && there !== undefined && holdsOpen(desk)) return there;
    await there?.close();
    // The demo comes with the program: no file on this device holds it.
    const name = source === 'demo' ? '' : file;
    const made = await makeDesk({ id: kept, file: name, text, handle }, core, keepAs);
    followDesk(made);
    return made;
  };
  const takeDesk = (parts: typeof LayParts, made: LayParts.LayDesk, Screen: Screen | null): void => {
    const { deskKey, Kept, LayContext, LayStages } = parts;
    desk = { deskKey, Kept, LayContext, LayStages, made, Screen };
    setDesk(desk);
  };
  const toDesk = async (next: Stage, fetchScreen: () => Promise<Screen>): Promise<void> => {
    const [Screen, parts] = await Promise.all([fetchScreen(), import('./lay/desk.ts')]);
    // From one stage of the desk to another the panel is the one that lies there.
    const made = stage !== 'run' && desk !== null && next !== stage ? desk.made : await deskNow(parts);
    takeDesk(parts, made, Screen);
    enter(next);
  };
  const versions = async (): Promise<void> => {
    const parts = await import('./lay/desk.ts');
    const made = stage !== 'run' && desk !== null ? desk.made : await deskNow(parts);
    takeDesk(parts, made, desk?.Screen ?? null);
    made.store.setState({ keeping: true });
  };
  const change = async (make: Parameters<Change>[0], subject: string, after: () => void): Promise<boolean> => {
    const parts = await import('./lay/desk.ts');
    const made = await deskNow(parts);
    takeDesk(parts, made, desk?.Screen ?? null);
    const { laid, mayEdit, edit } = made.store.getState();
    if (!mayEdit()) return false;
    const tx = make(laid);
    if (tx !== null) edit(tx, subject);
    after();
    return true;
  };
  const toRun = async (): Promise<void> => {
    const { file, source, text, kept, open } = store.getState();
    const now = desk?.made.text() ?? text;
    stage = 'run';
    if (now !== text) await open(file, now, source, kept ?? undefined);
    enter('run');
  };
  const to = async (next: Stage): Promise<void> => {
    const fetchScreen = SCREENS[next];
    if (fetchScreen !== undefined) return toDesk(next, fetchScreen);
    if (next === 'run') return toRun();
  };
  return {
    go: (wanted) => void then(async () => (wanted === stage ? undefined : to(wanted))),
    versions: () => void then(versions),
    async change(make, subject, after) {
      let done = false;
      await then(async () => {
        done = await change(make, subject, after);
      });
      return done;
    },
    /**
     * A panel that is opened while somebody is at the desk takes its place there; a served file that changes does not. In Run a desk with another
     * panel on it is out of sight.
     */
    follow: () =>
      store.subscribe((now, was) => {
        if (now.view === was.view) return;
        if (stage === 'run') setDesk(desk !== null && holdsOpen(desk) ? desk : null);
        else if (now.source !== 'served') void then(() => to(stage));
      }),
  };
}
