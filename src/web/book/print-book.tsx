/** The build book on the screen, to be looked through and printed. Fetched when somebody asks for it. */
import './book.css';
import { useEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import type { Paper, PrintedDocument } from '../../book/index.ts';
import { Dialog } from '../parts/dialog.tsx';
import { startCore } from '../start-core.ts';
import { bookWords } from '../words/book.ts';
import type { BookAnswer, BookOrder } from '../worker/types.ts';
import { readBar } from './bar.ts';

const WHATS: readonly PrintedDocument[] = ['book', 'templates'];
const PAPERS: readonly Paper[] = ['A4', 'Letter'];

/** The lands whose printers hold Letter (common practice, no source). */
const usualPaper = (): Paper => (/-(US|CA|MX|PH)$/i.test(navigator.language) ? 'Letter' : 'A4');

/** Pages are scrolled by keys as well. */
const scrolls = (element: HTMLElement | null): void => {
  if (element !== null) element.tabIndex = 0;
};

export function PrintBook({ text, close }: { readonly text: string; readonly close: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [what, setWhat] = useState<PrintedDocument>('book');
  const [paper, setPaper] = useState<Paper>(usualPaper);
  const [typed, setTyped] = useState('100');
  const barMeasured = readBar(typed);
  const made = useBook({ text, what, paper, barMeasured: barMeasured ?? 100 });
  useEffect(() => {
    const { current: box } = dialog;
    if (box === null) return;
    // What lies on top of a page is cut and shrunk where it is printed: meanwhile the book is a part of the page like any other.
    const lay = (): void => {
      box.close();
      box.show();
    };
    const raise = (): void => {
      box.close();
      box.showModal();
    };
    addEventListener('beforeprint', lay);
    addEventListener('afterprint', raise);
    return () => {
      removeEventListener('beforeprint', lay);
      removeEventListener('afterprint', raise);
    };
  }, []);
  const answer = made !== null && made !== 'failed' ? made : null;
  // A saved PDF is called as the window is.
  useEffect(() => {
    if (answer === null) return;
    const was = document.title;
    document.title = answer.title;
    return () => {
      document.title = was;
    };
  }, [answer]);
  return createPortal(
    <Dialog
      box={dialog}
      kind="book"
      title={bookWords.title}
      closeWord={bookWords.close}
      close={close}
      acts={
        <>
          <Choice label={bookWords.what} options={WHATS} words={bookWords.whats} value={what} choose={setWhat} />
          <Choice label={bookWords.paper} options={PAPERS} words={bookWords.papers} value={paper} choose={setPaper} />
          <label className="book-measured">
            {bookWords.bar}
            <input
              className="inp"
              inputMode="decimal"
              value={typed}
              aria-invalid={barMeasured === null}
              title={bookWords.barHow}
              onChange={(event) => setTyped(event.currentTarget.value)}
            />
          </label>
          <button type="button" className="btn primary" disabled={answer === null} onClick={() => print()}>
            {bookWords.print}
          </button>
        </>
      }
      notes={
        <>
          <p>{bookWords.how}</p>
          <output>
            {made === null
              ? bookWords.making
              : answer === null
                ? bookWords.failed
                : bookWords.pages(answer.pages.length)}
          </output>
        </>
      }
    >
      <section className={`book-pages ${paper}`} ref={scrolls} aria-label={bookWords.sheets}>
        {answer?.pages.map((page, i, { length }) => (
          <Page key={page} svg={page} label={bookWords.page(i + 1, length)} />
        ))}
      </section>
    </Dialog>,
    document.body,
  );
}

/** What the worker makes of an order; null while it does. The worker is the book's own, so that nothing else waits for it. */
function useBook({ text, what, paper, barMeasured }: BookOrder): BookAnswer | 'failed' | null {
  const [made, setMade] = useState<BookAnswer | 'failed' | null>(null);
  useEffect(() => {
    setMade(null);
    let wanted = true;
    const take = (answer: BookAnswer | null): void => {
      if (wanted) setMade(answer ?? 'failed');
      end();
    };
    const { core, end } = startCore(() => take(null));
    core.book({ text, what, paper, barMeasured }).then(take, () => take(null));
    return () => {
      wanted = false;
      end();
    };
  }, [text, what, paper, barMeasured]);
  return made;
}

/** A page as its SVG says: read as data and taken over, so that no markup of a file could come with it. */
function Page({ svg, label }: { readonly svg: string; readonly label: string }) {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    box.current?.replaceChildren(document.importNode(drawn, true));
  }, [svg]);
  return <section ref={box} className="book-page" aria-label={label} />;
}

function Choice<T extends string>(props: {
  readonly label: string;
  readonly options: readonly T[];
  readonly words: Readonly<Record<T, string>>;
  readonly value: T;
  readonly choose: (value: T) => void;
}) {
  const { label, options, words, value, choose } = props;
  return (
    <fieldset className="choice">
      <legend className="unseen">{label}</legend>
      {options.map((each) => (
        <button key={each} type="button" className="way" aria-pressed={each === value} onClick={() => choose(each)}>
          {words[each]}
        </button>
      ))}
    </fieldset>
  );
}
