import { useEffect, useRef } from 'react';
import { useApp } from '../use-app.ts';
import { words } from '../words/run.ts';

/** A file that cannot be used: everything that is wrong with it, and where. */
export function TroubleDialog() {
  const trouble = useApp((app) => app.trouble);
  const forgive = useApp((app) => app.forgive);
  const had = useApp((app) => app.view !== null);
  const dialog = useRef<HTMLDialogElement>(null);
  const close = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (trouble === null || dialog.current?.open !== false) return;
    dialog.current.showModal();
    // Else the list, which scrolls, would have the focus.
    close.current?.focus();
  }, [trouble]);
  if (trouble === null) return null;
  const file = trouble.file === '' ? words.wholeFile : trouble.file;
  return (
    <dialog
      ref={dialog}
      className="dialog"
      aria-labelledby="trouble-head"
      aria-describedby="trouble-count"
      onClose={forgive}
    >
      <h2 id="trouble-head">{trouble.fault === null ? words.problemsTitle(file) : words.faultTitle(file)}</h2>
      {trouble.fault === null ? (
        <p id="trouble-count">{words.problemsCount(trouble.problems.length)}</p>
      ) : (
        <p id="trouble-count">{words.fault}</p>
      )}
      {trouble.fault === null ? null : <p className="fault">{trouble.fault}</p>}
      <ul className="problems">
        {trouble.problems.map((problem) => (
          <li key={`${problem.path} ${problem.message}`}>
            <code>{problem.path === '' ? words.wholeFile : problem.path}</code> <span>{problem.message}</span>
          </li>
        ))}
      </ul>
      {had ? <p>{words.problemsAsIs}</p> : null}
      <form method="dialog">
        <button ref={close} type="submit" className="btn primary">
          {words.close}
        </button>
      </form>
    </dialog>
  );
}
