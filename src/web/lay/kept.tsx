import { Redo, Undo } from './lay-icons.tsx';
import { layWords } from './lay-words.ts';
import { useLay } from './use-lay.ts';

/** Where the work is kept: `kept` on this device, `keeping` just now, `not` and why. */
export type Keeping = { readonly is: 'kept' | 'keeping' } | { readonly is: 'not'; readonly why: string };

/** Where the work is kept, and one step back and forth. */
export function Kept({ keeping = { is: 'kept' } }: { readonly keeping?: Keeping }) {
  const undoes = useLay((lay) => lay.undoes);
  const redoes = useLay((lay) => lay.redoes);
  const undo = useLay((lay) => lay.undo);
  const redo = useLay((lay) => lay.redo);
  const [undoWord, redoWord] = [layWords.undoOf(undoes), layWords.redoOf(redoes)];
  const word = { kept: layWords.kept, keeping: layWords.keeping, not: layWords.notKept }[keeping.is];
  return (
    <>
      <span
        className={keeping.is === 'not' ? 'kept not' : 'kept'}
        title={keeping.is === 'not' ? keeping.why : undefined}
      >
        <i />
        <span>{word}</span>
      </span>
      <button
        type="button"
        className="ibtn"
        aria-label={undoWord}
        title={undoWord}
        aria-keyshortcuts="Control+Z"
        disabled={undoes === null}
        onClick={() => undo()}
      >
        <Undo />
      </button>
      <button
        type="button"
        className="ibtn"
        aria-label={redoWord}
        title={redoWord}
        aria-keyshortcuts="Control+Shift+Z"
        disabled={redoes === null}
        onClick={() => redo()}
      >
        <Redo />
      </button>
    </>
  );
}
