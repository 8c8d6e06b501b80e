import { useRef } from 'react';
import { helped } from '../help/switch.ts';
import { keepWords } from '../words/keep.ts';
import { layWords } from '../words/lay.ts';
import { KeepDialog } from './keep-dialog.tsx';
import { isLost } from './keep-lines.ts';
import { Before, Redo, Undo } from './lay-icons.tsx';
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
  const [undoWord, redoWord] = [layWords.undoOf(undoes), layWords.redoOf(redoes)];
  const lost = state !== null && isLost(state);
  const waits = state === null || (!lost && state.keeping.waiting > 0);
  const word = waits ? layWords.keeping : lost ? layWords.notKept : layWords.kept;
  return (
    <>
      <button
        {...helped('kept')}
        ref={button}
        type="button"
        className={lost ? 'tbtn kept not' : 'tbtn kept'}
        title={keepWords.title}
        aria-label={keepWords.open(word)}
        aria-haspopup="dialog"
        aria-keyshortcuts="Control+Shift+S"
        onClick={() => store.setState({ keeping: true })}
      >
        <Before />
        <i />
        <span>{word}</span>
      </button>
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
      <button
        {...helped('undo')}
        type="button"
        className="ibtn"
        aria-label={undoWord}
        title={undoWord}
        aria-keyshortcuts="Control+Z"
        disabled={undoes === null || follows}
        onClick={() => undo()}
      >
        <Undo />
      </button>
      <button
        {...helped('undo')}
        type="button"
        className="ibtn"
        aria-label={redoWord}
        title={redoWord}
        aria-keyshortcuts="Control+Shift+Z"
        disabled={redoes === null || follows}
        onClick={() => redo()}
      >
        <Redo />
      </button>
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
