import { type ReactNode, useEffect, useMemo, useRef, useState } from 'react';
import { useStore } from 'zustand';
import type { PrintBook } from '../book/print-book.tsx';
import { helped, switchHelp, useHelp } from '../help/switch.ts';
import { Dots, Folder, Moon, Panels, Question, Sun } from '../icons.tsx';
import { openFile } from '../incoming.ts';
import type * as LayParts from '../lay/desk.ts';
import { Stages } from '../lay/stages.tsx';
import type { Lights } from '../lights.ts';
import { foundByStage } from '../run/stage-findings.ts';
import { hasSingleKeys } from '../single-keys.ts';
import { useUnit } from '../unit.ts';
import { useApp, useAppStore } from '../use-app.ts';
import type { Desk, Stages as StagesOfWindow } from '../use-stages.ts';
import { keptWords, words } from '../words/run.ts';
import { KeptButtons } from './kept-buttons.tsx';

/** The bar, the same in every stage: what is open, the stages, where it is kept, panels, lights, help and more. */
export function Bar({ openDemo, stages }: { readonly openDemo: () => Promise<void>; readonly stages: StagesOfWindow }) {
  const { stage, desk, go } = stages;
  const view = useApp((app) => app.view);
  const store = useAppStore();
  const file = useApp((app) => app.file);
  const unit = useUnit();
  return (
    <header className="bar" {...helped('bar')}>
      <div className="bar-left">
        <span className="wordmark">{words.name}</span>
        <span className="vr" />
        <div className="panel-name">
          {desk !== null && stage !== 'run' ? (
            <LaidName store={desk.made.store} file={file} />
          ) : (
            <h1>{view === null ? words.noPanel : view.name === '' ? file : view.name}</h1>
          )}
          {view === null ? null : (
            <span>{words.faceSize(view.face.width, view.face.height, unit, view.face.view === 'rear')}</span>
          )}
        </div>
      </div>
      {view === null ? null : desk === null || stage === 'run' ? (
        <RunStages choose={go} />
      ) : (
        <desk.LayContext value={desk.made.store}>
          <desk.LayStages stage={stage} choose={go} />
        </desk.LayContext>
      )}
      <div className="bar-right">
        {view === null ? null : desk === null ? (
          <AsCame versions={stages.versions} />
        ) : (
          <desk.LayContext value={desk.made.store}>
            <desk.Kept />
            {stage === 'run' ? <RunKeys desk={desk} /> : null}
          </desk.LayContext>
        )}
        <PanelsButton openDemo={openDemo} toLay={() => go('lay')} />
        <OpenButton />
        <LightsButton />
        <HelpButton />
        <More
          openDemo={openDemo}
          compare={() => {
            if (stage === 'run') go('work');
            store.getState().compare(true);
          }}
          text={() => (stage !== 'run' && desk !== null ? desk.made.text() : null)}
        />
      </div>
    </header>
  );
}

/** The stages in Run, which knows what was found in the panel that is open. */
function RunStages({ choose }: { readonly choose: StagesOfWindow['go'] }) {
  const findings = useApp((app) => app.findings);
  const found = useMemo(() => foundByStage(findings), [findings]);
  return <Stages stage="run" found={found} choose={choose} />;
}

/** Where the open panel is, before anything was laid in this window: what is to be done with it fetches the desk. */
function AsCame({ versions }: { readonly versions: () => void }) {
  const source = useApp((app) => app.source);
  const file = useApp((app) => app.file);
  const word = keptWords.as[source];
  const none = { take: null };
  return (
    <KeptButtons
      word={word}
      lamp={source === 'kept' ? 'kept' : 'as-came'}
      title={keptWords.title(source === 'demo' ? '' : file)}
      label={keptWords.open(word)}
      open={versions}
      undo={{ ...none, word: keptWords.noUndo }}
      redo={{ ...none, word: keptWords.noRedo }}
    />
  );
}

/** Files, versions, undo and redo by their keys while Run is on the screen; the other stages hear them themselves. */
function RunKeys({ desk }: { readonly desk: Desk }) {
  const app = useAppStore();
  useEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || document.querySelector('dialog:modal') !== null) return;
      const opened = (file: File): void => void openFile(app, file);
      if (desk.deskKey(desk.made.store, event, opened)) event.preventDefault();
    };
    addEventListener('keydown', keyed);
    return () => removeEventListener('keydown', keyed);
  }, [app, desk]);
  return null;
}

/** The panel's name as it is laid, which the open file may not have yet; the window is called so as well. */
function LaidName({ store, file }: { readonly store: LayParts.LayDesk['store']; readonly file: string }) {
  const name = useStore(store, (lay) => lay.laid.name ?? '');
  useEffect(() => {
    document.title = words.title(name);
  }, [name]);
  return <h1>{name === '' ? file : name}</h1>;
}

/** Opens the shelf of what this browser keeps, which is fetched then alone. */
function PanelsButton({ openDemo, toLay }: { readonly openDemo: () => Promise<void>; readonly toLay: () => void }) {
  const store = useAppStore();
  const button = useRef<HTMLButtonElement>(null);
  const [parts, setParts] = useState<Pick<typeof LayParts, 'Shelf'> | null>(null);
  const open = (): void => {
    import('../lay/desk.ts')
      .then(setParts)
      .catch((error: unknown) => store.getState().refuse({ file: '', problems: [], fault: String(error) }));
  };
  const close = (): void => {
    setParts(null);
    button.current?.focus();
  };
  return (
    <>
      <button ref={button} type="button" className="tbtn" {...helped('panels')} title={words.panelsHint} onClick={open}>
        <Panels />
        <span className="tbtn-word">{words.panels}</span>
      </button>
      {parts === null ? null : <parts.Shelf close={close} openDemo={openDemo} toLay={toLay} />}
    </>
  );
}

/** Opens a file of the user's own. */
export function OpenButton() {
  const store = useAppStore();
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <input
        ref={input}
        className="unseen"
        type="file"
        accept=".json,application/json"
        tabIndex={-1}
        aria-hidden="true"
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          event.currentTarget.value = '';
          if (file !== undefined) void openFile(store, file);
        }}
      />
      <button
        type="button"
        className="tbtn"
        {...helped('open')}
        title={words.openHint}
        onClick={() => input.current?.click()}
      >
        <Folder />
        <span className="tbtn-word">{words.open}</span>
      </button>
    </>
  );
}

/** Turns the line of help on and off. */
function HelpButton() {
  const on = useHelp();
  return (
    <button
      {...helped('help')}
      type="button"
      className="tbtn"
      title={words.helpHow(hasSingleKeys())}
      aria-pressed={on}
      aria-keyshortcuts="F1 ?"
      onClick={() => switchHelp()}
    >
      <Question />
      <span className="tbtn-word">{words.help}</span>
    </button>
  );
}

function LightsButton() {
  const down = useApp((app) => app.down);
  const choose = useApp((app) => app.chooseLights);
  const word = down ? words.lightsUp : words.lightsDown;
  return (
    <button
      type="button"
      className="tbtn lights-button"
      {...helped('lights')}
      title={word}
      aria-label={word}
      onClick={() => choose(down ? 'up' : 'down')}
    >
      {down ? <Sun /> : <Moon />}
      <span className="tbtn-word">{word}</span>
    </button>
  );
}

/** `text`: the panel as it is laid now; null where the open file holds it. */
function More({
  openDemo,
  compare,
  text,
}: {
  readonly openDemo: () => void;
  /** Compare the panel with other ways to build it. */
  readonly compare: () => void;
  readonly text: () => string | null;
}) {
  const store = useAppStore();
  const none = useApp((app) => app.view === null);
  const [book, setBook] = useState<{ readonly Print: typeof PrintBook; readonly text: string } | null>(null);
  const openBook = (): void => {
    const now = text() ?? store.getState().text;
    import('../book/print-book.tsx')
      .then(({ PrintBook: Print }) => setBook({ Print, text: now }))
      .catch((error: unknown) => store.getState().refuse({ file: '', problems: [], fault: String(error) }));
  };
  const [open, setOpen] = useState(false);
  const box = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const close = (): void => {
    setOpen(false);
    button.current?.focus();
  };
  useEffect(() => {
    if (!open) return;
    // It closes at Escape, at a press elsewhere, and when the focus goes elsewhere.
    const elsewhere = (target: EventTarget | null): boolean =>
      target instanceof Node && box.current?.contains(target) !== true;
    const pressed = (event: PointerEvent): void => {
      if (elsewhere(event.target)) setOpen(false);
    };
    const moved = (event: FocusEvent): void => {
      if (elsewhere(event.target)) setOpen(false);
    };
    const keyed = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape') return;
      setOpen(false);
      button.current?.focus();
    };
    addEventListener('pointerdown', pressed);
    addEventListener('focusin', moved);
    addEventListener('keydown', keyed);
    return () => {
      removeEventListener('pointerdown', pressed);
      removeEventListener('focusin', moved);
      removeEventListener('keydown', keyed);
    };
  }, [open]);
  return (
    <div ref={box} className="more" {...helped('more')}>
      <button
        ref={button}
        type="button"
        className="ibtn"
        aria-label={words.more}
        title={words.more}
        aria-expanded={open}
        onClick={() => setOpen(!open)}
      >
        <Dots />
      </button>
      {open ? (
        <section className="more-panel" aria-label={words.moreTitle}>
          <LightsChoice />
          <SizeChoice />
          <button
            type="button"
            className="btn"
            onClick={() => {
              openDemo();
              close();
            }}
          >
            {words.openDemo}
          </button>
          <button
            type="button"
            className="btn"
            disabled={none}
            onClick={() => {
              openBook();
              close();
            }}
          >
            {words.printBook}
          </button>
          <button
            type="button"
            className="btn"
            disabled={none}
            onClick={() => {
              compare();
              close();
            }}
          >
            {words.compare}
          </button>
          <h2>{words.keysTitle}</h2>
          <dl>
            {words.keys.map(([keys, what]) => (
              <Pair key={keys} term={keys}>
                {what}
              </Pair>
            ))}
          </dl>
          <p>{words.onDevice}</p>
        </section>
      ) : null}
      {book === null ? null : (
        <book.Print
          text={book.text}
          close={() => {
            setBook(null);
            button.current?.focus();
          }}
        />
      )}
    </div>
  );
}

function Pair({ term, children }: { readonly term: string; readonly children: ReactNode }) {
  return (
    <div>
      <dt>{term}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** How many times as large as fits the sheet can be drawn. */
const SIZES = [1, 1.5, 2, 3, 4];

function SizeChoice() {
  const enlarged = useApp((app) => app.enlarged);
  const enlarge = useApp((app) => app.enlarge);
  return (
    <fieldset className="choice sizes">
      <legend>{words.sheetSize}</legend>
      {SIZES.map((times) => (
        <button
          key={times}
          type="button"
          className="way"
          aria-pressed={times === enlarged}
          onClick={() => enlarge(times)}
        >
          {words.timesLarger(times)}
        </button>
      ))}
    </fieldset>
  );
}

function LightsChoice() {
  const lights = useApp((app) => app.lights);
  const choose = useApp((app) => app.chooseLights);
  const choices: readonly (readonly [Lights, string])[] = [
    ['follow', words.lightsFollow],
    ['up', words.lightsUp],
    ['down', words.lightsDown],
  ];
  return (
    <fieldset className="choice">
      <legend>{words.lights}</legend>
      {choices.map(([value, word]) => (
        <label key={value}>
          <input type="radio" name="lights" checked={lights === value} onChange={() => choose(value)} />
          <span>{word}</span>
        </label>
      ))}
    </fieldset>
  );
}
