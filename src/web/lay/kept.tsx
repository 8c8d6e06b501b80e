import { useRef } from 'react';
import { helped } from '../help/switch.ts';
import { KeptButtons } from '../parts/kept-buttons.tsx';
import { keepWords } from '../words/keep.ts';
import { layWords } from '../words/lay.ts';
import { KeepDialog } from './keep-dialog.tsx';
import { isLost } from './keep-lines.ts';
import { useFollows, useLay, useLayStore } from './use-lay.ts';

/** Where the work is kept, with its versions and files; and one step back and forth. */
export function Kept() {
  const store = useLayStore();
  const open = useLay((lay) => lay.keeping);
  const tell = useLay((lay) => lay.tell);
  const follows = useFollows();
  const button = useRef<HTMLButtonElement>(null);
  const state = useLay((lay) => lay.kept);
  const undoes = useLay((lay) => lay.undoes);
  const redoes = useLay((lay) => lay.redoes);
  const undo = useLay((lay) => lay.undo);
  const redo = useLay((lay) => lay.redo);
  const save = useLay((lay) => lay.save);
  const lost = state !== null && isLost(state);
  const waits = state === null || (!lost && state.keeping.waiting > 0);
  const word = waits ? layWords.keeping : lost ? layWords.notKept : layWords.kept;
  return (
    <>
      <KeptButtons
        button={button}
        word={word}
        lamp={lost ? 'not' : 'kept'}
        title={keepWords.title}
        label={keepWords.open(word)}
        open={() => store.setState({ keeping: true })}
        undo={{ word: layWords.undoOf(undoes), take: undoes === null || follows ? null : () => undo() }}
        redo={{ word: layWords.redoOf(redoes), take: redoes === null || follows ? null : () => redo() }}
      >
        {state?.changedSinceSave === true ? (
          <button
            {...helped('save')}
            type="button"
            className="btn quiet"
            title={layWords.saveHow}
            onClick={() => void save().catch(() => tell(keepWords.failed))}
          >
            {layWords.save}
          </button>
        ) : null}
      </KeptButtons>
      {open ? (
        <KeepDialog
          close={() => {
            store.setState({ keeping: false });
            button.current?.focus();
          }}
        />
      ) : null}
    </>
  );
}
