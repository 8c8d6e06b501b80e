import { type ReactNode, type RefObject, useEffect, useId, useRef } from 'react';
import { helped } from '../help/switch.ts';
import { Cross } from '../icons.tsx';
import type { HelpKey } from '../words/help.ts';

interface DialogProps {
  /** Its class, and with `-head` behind it that of its head; `also`: another class of it. */
  readonly kind: string;
  readonly also?: string;
  readonly title: string;
  readonly closeWord: string;
  /** It was closed, by whatever. */
  readonly close: () => void;
  /** Between the title and the cross, and after the cross. */
  readonly acts?: ReactNode;
  readonly notes?: ReactNode;
  readonly help?: HelpKey;
  readonly box?: RefObject<HTMLDialogElement | null>;
  readonly children: ReactNode;
}

/** What lies over the page as soon as it is there: called by its title, closed by its cross and by Escape. Keys go to nothing else meanwhile. */
export function Dialog(props: DialogProps) {
  const { kind, also = '', title, closeWord, close, acts, notes, help, children } = props;
  const own = useRef<HTMLDialogElement>(null);
  const box = props.box ?? own;
  const head = useId();
  useEffect(() => {
    if (box.current?.open === false) box.current.showModal();
  }, [box]);
  return (
    <dialog
      ref={box}
      className={`dialog ${kind} ${also}`}
      aria-labelledby={head}
      {...(help === undefined ? {} : helped(help))}
      // Word of a closing comes late: it may have been opened again since.
      onClose={() => (box.current?.open === true ? undefined : close())}
    >
      <div className={`${kind}-head`}>
        <h2 id={head}>{title}</h2>
        {acts}
        <button
          type="button"
          className="ibtn"
          aria-label={closeWord}
          title={closeWord}
          onClick={() => box.current?.close()}
        >
          <Cross />
        </button>
        {notes}
      </div>
      {children}
    </dialog>
  );
}
