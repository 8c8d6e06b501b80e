/** The line of help: it tells of whatever has the focus or lies under the pointer, and is in nobody's way. */
import { lengthIn, lengthsIn } from '../words/figures.ts';
import './help.css';
import { useEffect, useRef, useState } from 'react';
import { Cross } from '../icons.tsx';
import { hasSingleKeys } from '../single-keys.ts';
import { useUnit } from '../unit.ts';
import { type HelpKey, type HelpText, helpTexts, helpWords, terms } from '../words/help.ts';
import { switchHelp } from './switch.ts';

/** What help is asked of: a key, and what the thing says of itself. */
interface Asked {
  readonly key: HelpKey;
  readonly head: string | undefined;
  readonly what: string | undefined;
}

/** What an element and all around it says that it is; null where nothing does. */
export function askedOf(target: EventTarget | null): Asked | null {
  if (!(target instanceof Element)) return null;
  const element = target.closest<HTMLElement | SVGElement>('[data-help]');
  const { help: key, head, what } = element?.dataset ?? {};
  return key === undefined || !isKey(key) ? null : { key, head, what };
}

const isKey = (key: string): key is HelpKey => Object.hasOwn(helpTexts, key);

export function HelpLine() {
  const unit = useUnit();
  const line = useRef<HTMLElement>(null);
  const [asked, setAsked] = useState<Asked | null>(() => askedOf(document.activeElement));
  useEffect(() => {
    const ask = ({ target }: Event): void => {
      if (target instanceof Node && line.current?.contains(target) === true) return;
      const next = askedOf(target);
      if (next !== null) setAsked((old) => (old?.key === next.key && old.what === next.what ? old : next));
    };
    // A finger has no hover: what it presses is told of, and done.
    const heard = ['pointerover', 'pointermove', 'pointerdown', 'focusin'] as const;
    for (const name of heard) addEventListener(name, ask, true);
    return () => {
      for (const name of heard) removeEventListener(name, ask, true);
    };
  }, []);
  return (
    <aside ref={line} className="help" aria-label={helpWords.help}>
      <div className="help-say" role="status">
        {asked === null ? <p>{helpWords.start}</p> : <Told asked={asked} unit={unit} />}
      </div>
      <button
        type="button"
        className="ibtn"
        aria-label={helpWords.close}
        title={helpWords.close}
        onClick={() => switchHelp(false)}
      >
        <Cross />
      </button>
    </aside>
  );
}

function Told(props: { readonly asked: Asked; readonly unit: 'mm' | 'in' }) {
  const { asked, unit } = props;
  const text = helpTexts[asked.key];
  const said = (part: NonNullable<HelpText['hand']>): string =>
    typeof part === 'string' ? part : part((mm) => lengthIn(mm, unit));
  const keys = text.key?.split(' ').filter((key) => key.length > 1 || hasSingleKeys()) ?? [];
  return (
    <>
      <p>
        <b>{asked.head ?? text.title}</b> {asked.what === undefined ? said(text.what) : lengthsIn(asked.what, unit)}
        {keys.length === 0 ? null : (
          <>
            {' '}
            <span className="help-key">{helpWords.keys(keys)}</span>
          </>
        )}
      </p>
      {text.hand === undefined ? null : (
        <p className="help-hand">
          <span>{helpWords.hand}</span> {said(text.hand)}
        </p>
      )}
      {text.terms === undefined ? null : (
        <dl className="help-terms" aria-label={helpWords.terms}>
          {text.terms.map((term) => (
            <div key={term}>
              <dt>{term}</dt>
              <dd>{terms[term]}</dd>
            </div>
          ))}
        </dl>
      )}
    </>
  );
}
