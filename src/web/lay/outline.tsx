import { type KeyboardEvent, useDeferredValue, useMemo, useRef, useState } from 'react';
import { boxOfThings, moveThings, type Picked, removeThings } from '../../laying/index.ts';
import type { Spot } from '../../units/index.ts';
import { helped } from '../help/switch.ts';
import { lengthIn } from '../words/figures.ts';
import { layWords } from '../words/lay.ts';
import { lengthWords } from './lengths.ts';
import { NUDGE, nudgeOf } from './nudge.ts';
import { type OutlineRow, outlineRows } from './outline-rows.ts';
import { useLay, useLayStore } from './use-lay.ts';

/** The sheet as a list: for ears, and for a hand on the keys. One tab stop; over the left of the sheet while it has the focus. */
export function Outline() {
  // A drag is not told while it goes on: the rows follow once the hand is still.
  const described = useDeferredValue(useLay((lay) => lay.described));
  const picked = useLay((lay) => lay.picked);
  const store = useLayStore();
  const [stop, setStop] = useState('');
  const box = useRef<HTMLUListElement>(null);
  const unit = useLay((lay) => lay.unit);
  const rows = useMemo(
    () => (described === null ? [] : outlineRows(described.panel, described.things, unit)),
    [described, unit],
  );
  const at = Math.max(
    0,
    rows.findIndex(({ key }) => key === stop),
  );
  const go = (to: number): void => {
    const next = Math.max(0, Math.min(rows.length - 1, to));
    setStop(rows[next]?.key ?? '');
    box.current?.querySelectorAll('button')[next]?.focus();
  };
  const nudge = (row: OutlineRow, by: Spot): void => {
    const { panel, edit, say, mayEdit } = store.getState();
    if (!mayEdit()) return;
    if (row.picks !== null) edit(moveThings(panel, [row.picks], by), row.name, `nudge ${row.key}`);
    say(row.picks === null ? layWords.stays(row.name) : movedWords(store.getState(), row));
  };
  const lift = (row: OutlineRow, i: number): void => {
    const { panel, edit, pick, say, mayEdit } = store.getState();
    if (!mayEdit()) return;
    if (row.picks === null) say(layWords.stays(row.name));
    else if (!row.lifts) say(layWords.staysAtMeeting(row.name));
    else {
      edit(removeThings(panel, [row.picks]), row.name);
      pick([]);
      say(layWords.lifted(row.name));
      // The row goes once the panel is read again: the focus is beside it by then.
      go(i === rows.length - 1 ? i - 1 : i + 1);
    }
  };
  const keyed = (event: KeyboardEvent, row: OutlineRow, i: number): void => {
    const by = nudgeOf(event.key, event.shiftKey);
    const to = { ArrowDown: i + 1, ArrowUp: i - 1, Home: 0, End: rows.length - 1 }[event.key];
    if (event.ctrlKey || event.metaKey) return;
    if (event.altKey && by !== null) nudge(row, by);
    else if (event.altKey) return;
    else if (to !== undefined) go(to);
    else if (event.key === 'Delete' || event.key === 'Backspace') lift(row, i);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <>
      <section {...helped('outline')} className="outline" aria-label={layWords.outline}>
        <h2>{layWords.outline}</h2>
        <p id="outline-help">{layWords.outlineHelp(lengthIn(NUDGE.near, unit), lengthIn(NUDGE.far, unit))}</p>
        {rows.length === 0 ? <p>{layWords.empty}</p> : null}
        <ul ref={box} aria-describedby="outline-help">
          {rows.map((row, i) => {
            const isPicked = row.picks !== null && picked.some((each) => same(each, row.picks));
            return (
              <li key={row.key}>
                <button
                  type="button"
                  className={isPicked ? 'outline-row picked' : 'outline-row'}
                  tabIndex={i === at ? 0 : -1}
                  aria-pressed={isPicked}
                  onFocus={() => setStop(row.key)}
                  onKeyDown={(event) => keyed(event, row, i)}
                  onClick={() => {
                    const { pick, take, say } = store.getState();
                    if (row.picks === null) return;
                    take('pick');
                    pick([row.picks]);
                    say(layWords.picked(row.name));
                  }}
                >
                  {row.text}
                </button>
              </li>
            );
          })}
        </ul>
      </section>
      <Said />
    </>
  );
}

/** What happened, read out politely: the one place for it on the stage. */
function Said() {
  const said = useLay((lay) => lay.said);
  return (
    <output className="unseen" aria-live="polite">
      {said}
    </output>
  );
}

function same(a: Picked, b: Picked | null): boolean {
  return b !== null && a.list === b.list && a.id === b.id && a.part === b.part;
}

/** Where a thing stands now: its top left corner. */
function movedWords(
  { panel, unit }: Pick<ReturnType<ReturnType<typeof useLayStore>['getState']>, 'panel' | 'unit'>,
  { name, picks }: OutlineRow,
): string {
  const box = picks === null ? null : boxOfThings(panel, [picks]);
  return box === null
    ? layWords.stays(name)
    : layWords.moved(name, lengthWords(box.left, unit), lengthWords(box.top, unit));
}
