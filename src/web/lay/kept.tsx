import { helped } from '../help/switch.ts';
import { layWords } from '../words/lay.ts';
import { Redo, Undo } from './lay-icons.tsx';
import { useLay } from './use-lay.ts';

/** Where the work is kept, and one step back and forth. */
export function Kept() {
  const state = useLay((lay) => lay.kept);
  const undoes = useLay((lay) => lay.undoes);
  const redoes = useLay((lay) => lay.redoes);
  const undo = useLay((lay) => lay.undo);
  const redo = useLay((lay) => lay.redo);
  const save = useLay((lay) => lay.save);
  const [undoWord, redoWord] = [layWords.undoOf(undoes), layWords.redoOf(redoes)];
  const keeping = state?.keeping ?? null;
  const lost = keeping !== null && keeping.kind !== 'kept' && keeping.kind !== 'kept-until';
  const word =
    keeping === null || (!lost && keeping.waiting > 0) ? layWords.keeping : lost ? layWords.notKept : layWords.kept;
  const why = keeping === null ? undefined : layWords.keptHow(keeping);
  return (
    <>
      <span {...helped('kept')} className={lost ? 'kept not' : 'kept'} title={why}>
        <i />
        <span>{state?.remind === true ? layWords.remind : word}</span>
      </span>
      {state?.changedSinceSave === true ? (
        <button
          {...helped('save')}
          type="button"
          className="btn quiet"
          title={layWords.saveHow}
          onClick={() => void save()}
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
        disabled={undoes === null}
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
        disabled={redoes === null}
        onClick={() => redo()}
      >
        <Redo />
      </button>
    </>
  );
}
