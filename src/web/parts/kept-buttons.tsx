import type { ReactNode, Ref } from 'react';
import { helped } from '../help/switch.ts';
import { Before, Redo, Undo } from '../icons.tsx';

/** One step back or forth: what it does, and what does it; null where nothing can be done. */
export interface Step {
  readonly word: string;
  readonly take: (() => void) | null;
}

/** Where the work is kept, opening its versions and files; and one step back and forth. The same in every stage. */
export function KeptButtons(props: {
  readonly button?: Ref<HTMLButtonElement>;
  /** Where it is kept, and how the lamp beside it says so. */
  readonly word: string;
  readonly lamp: 'kept' | 'not' | 'as-came';
  readonly title: string;
  readonly label: string;
  readonly open: () => void;
  readonly undo: Step;
  readonly redo: Step;
  /** What stands between the two. */
  readonly children?: ReactNode;
}) {
  const { button, word, lamp, title, label, open, undo, redo, children } = props;
  return (
    <>
      <button
        {...helped('kept')}
        ref={button}
        type="button"
        className={lamp === 'kept' ? 'tbtn kept' : `tbtn kept ${lamp}`}
        title={title}
        aria-label={label}
        aria-haspopup="dialog"
        aria-keyshortcuts="Control+Shift+S"
        onClick={open}
      >
        <Before />
        <i />
        <span>{word}</span>
      </button>
      {children}
      <StepButton step={undo} keys="Control+Z">
        <Undo />
      </StepButton>
      <StepButton step={redo} keys="Control+Shift+Z">
        <Redo />
      </StepButton>
    </>
  );
}

function StepButton(props: { readonly step: Step; readonly keys: string; readonly children: ReactNode }) {
  const { word, take } = props.step;
  return (
    <button
      {...helped('undo')}
      type="button"
      className="ibtn step"
      aria-label={word}
      title={word}
      aria-keyshortcuts={props.keys}
      disabled={take === null}
      onClick={() => take?.()}
    >
      {props.children}
    </button>
  );
}
