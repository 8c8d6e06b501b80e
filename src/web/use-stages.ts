/** Which stage is on the screen, and the Lay stage over the panel that is open, fetched the first time that somebody goes there. */
import type { Remote } from 'comlink';
import { useEffect, useState } from 'react';
import type * as LayParts from './lay/desk.ts';
import type { Store } from './store.ts';
import { useAppStore } from './use-app.ts';
import type { Core } from './worker/types.ts';

/** The stages that are there. */
export type Stage = 'lay' | 'run';

/** The Lay stage over one panel, with the parts that draw it. */
export interface Desk extends Pick<typeof LayParts, 'Lay' | 'Kept' | 'LayContext' | 'LayStages'> {
  readonly made: LayParts.LayDesk;
}

export function useStages(core: Remote<Core>): {
  readonly stage: Stage;
  readonly desk: Desk | null;
  readonly go: (stage: Stage) => void;
} {
  const store = useAppStore();
  const [stage, setStage] = useState<Stage>('run');
  const [desk, setDesk] = useState<Desk | null>(null);
  const [stages] = useState(() => makeStages(store, core, setStage, setDesk));
  useEffect(() => stages.follow(), [stages]);
  return { stage, desk, go: stages.go };
}

/** Goes from stage to stage, one after the other in the order asked for. */
function makeStages(
  store: Store,
  core: Remote<Core>,
  setStage: (stage: Stage) => void,
  setDesk: (desk: Desk) => void,
): { readonly go: (stage: Stage) => void; readonly follow: () => () => void } {
  let stage: Stage = 'run';
  let desk: Desk | null = null;
  let queue = Promise.resolve();
  const then = (work: () => Promise<void>): void => {
    queue = queue
      .then(work)
      .catch((error: unknown) =>
        store.getState().refuse({ file: store.getState().file, problems: [], fault: String(error) }),
      );
  };
  const enter = (next: Stage): void => {
    stage = next;
    setStage(next);
  };
  const toLay = async (): Promise<void> => {
    const { Lay, Kept, LayContext, LayStages, makeDesk } = await import('./lay/desk.ts');
    const { text, file, kept } = store.getState();
    const there = desk?.made;
    // Another panel may have been opened since.
    if (there !== undefined && there.text() === text && (kept === null || kept === there.kept.id)) return enter('lay');
    await there?.close();
    const made = await makeDesk({ id: kept, file, text }, core, (id) => store.getState().keepAs(id));
    desk = { Lay, Kept, LayContext, LayStages, made };
    setDesk(desk);
    enter('lay');
  };
  const toRun = async (): Promise<void> => {
    const { file, source, text, kept, open } = store.getState();
    const now = desk?.made.text() ?? text;
    stage = 'run';
    if (now !== text) await open(file, now, source, kept ?? undefined);
    enter('run');
  };
  return {
    go: (wanted) => then(async () => (wanted === stage ? undefined : wanted === 'lay' ? toLay() : toRun())),
    /** A panel that is opened while somebody lays is laid on in its place; a served file that changes is not. */
    follow: () =>
      store.subscribe((now, was) => {
        if (now.view === was.view || now.source === 'served') return;
        then(async () => (stage === 'lay' ? toLay() : undefined));
      }),
  };
}
