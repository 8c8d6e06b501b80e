/** Which stage is on the screen, and the Lay stage over the panel that is open, fetched the first time that somebody goes there. */
import type { Remote } from 'comlink';
import { useState } from 'react';
import type * as LayParts from './lay/desk.ts';
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
  const toLay = async (): Promise<void> => {
    const { Lay, Kept, LayContext, LayStages, makeDesk } = await import('./lay/desk.ts');
    const { text, file, kept } = store.getState();
    // Another panel may have been opened since.
    if (desk !== null && desk.made.text() === text) return setStage('lay');
    await desk?.made.kept.close();
    const made = await makeDesk({ id: kept, file, text }, core, (id) => store.getState().keepAs(id));
    setDesk({ Lay, Kept, LayContext, LayStages, made });
    setStage('lay');
  };
  const toRun = async (): Promise<void> => {
    const { file, source, text, kept, open } = store.getState();
    const now = desk?.made.text() ?? text;
    if (now !== text) await open(file, now, source, kept ?? undefined);
    setStage('run');
  };
  const go = (wanted: Stage): void => {
    if (wanted === stage) return;
    (wanted === 'lay' ? toLay() : toRun()).catch((error: unknown) =>
      store.getState().refuse({ file: store.getState().file, problems: [], fault: String(error) }),
    );
  };
  return { stage, desk, go };
}
