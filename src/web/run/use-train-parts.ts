/** Trains in Run: fetched when the side shows them, or where this device keeps a sheet of the panel. */
import type { Remote } from 'comlink';
import { useEffect, useState } from 'react';
import { noted } from '../device-notes.ts';
import { sheetNote } from '../trains/sheet-note.ts';
import type * as TrainsModule from '../trains/trains.ts';
import { useApp, useAppStore } from '../use-app.ts';
import type { Change } from '../use-stages.ts';
import type { Core, View } from '../worker/types.ts';

export interface TrainParts extends Pick<typeof TrainsModule, 'TrainLayer' | 'TrainsSide' | 'SheetPrint'> {
  readonly store: TrainsModule.TrainsStore;
}

/** Under what the sheet of the open panel is kept: its id here, else its file. */
function keyOf({ kept, file }: { readonly kept: string | null; readonly file: string }): string {
  return kept ?? file;
}

/** The parts of trains over the open panel; null until somebody wants them and they are there. `change` edits the panel. */
export function useTrainParts(core: Remote<Core>, view: View, change: Change): TrainParts | null {
  const app = useAppStore();
  const wanted = useApp(({ side }) => side === 'trains');
  const [made, setMade] = useState<{ readonly view: View; readonly parts: TrainParts } | null>(null);
  useEffect(() => {
    let stale = false;
    const key = (): string => keyOf(app.getState());
    if (!wanted && noted(sheetNote(key())) === null) return;
    Promise.all([import('../trains/trains.ts'), core.standing()])
      .then(([{ TrainLayer, TrainsSide, SheetPrint, makeTrainsStore }, standing]) => {
        if (stale) return;
        setMade({
          view,
          parts: {
            TrainLayer,
            TrainsSide,
            SheetPrint,
            store: makeTrainsStore(app, core, { key, file: standing, change }),
          },
        });
      })
      .catch((error: unknown) => app.getState().refuse({ file: key(), problems: [], fault: String(error) }));
    return () => {
      stale = true;
    };
  }, [app, core, view, wanted, change]);
  return made?.view === view ? made.parts : null;
}
