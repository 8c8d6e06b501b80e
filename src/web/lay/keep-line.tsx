/** What has to be said of keeping, in one sentence each, with what can be done about it. */
import { useMemo } from 'react';
import { Cross } from '../icons.tsx';
import { useAppStore } from '../use-app.ts';
import { keepWords } from '../words/keep.ts';
import { marksBetween } from './changes.ts';
import { keepAnew } from './keep-anew.ts';
import { type KeepDeed, linesOf, type SaidLine } from './keep-lines.ts';
import { giveText } from './keeper.ts';
import { useLay, useLayStore } from './use-lay.ts';

/** The grave lines stand under the sheet and make it give way; the others float over its foot, so that it does not move under a hand that lays. */
export function KeepLines({ grave }: { readonly grave: boolean }) {
  const state = useLay((lay) => lay.kept);
  const seen = useLay((lay) => lay.seen);
  const lines = state === null ? [] : linesOf(state, seen).filter((line) => line.grave === grave);
  return (
    <div className={grave ? 'keep-grave' : 'keep-lines'}>
      {lines.map((line) => (
        <Line key={line.line} said={line} />
      ))}
      {grave ? null : <ComparedLine />}
    </div>
  );
}

/** What the marks on the sheet are. */
function ComparedLine() {
  const store = useLayStore();
  const compared = useLay((lay) => lay.compared);
  const laid = useLay((lay) => lay.laid);
  const n = useMemo(() => (compared === null ? 0 : marksBetween(compared.panel, laid).length), [compared, laid]);
  if (compared === null) return null;
  return (
    <div className="keep-line pill" data-line="compared">
      <output>{keepWords.rings(compared.name, n)}</output>
      <button type="button" className="btn" onClick={() => store.setState({ compared: null })}>
        {keepWords.ringsAway}
      </button>
    </div>
  );
}

function Line({ said: { line, text, deeds, goes, grave } }: { readonly said: SaidLine }) {
  const store = useLayStore();
  return (
    <div className={grave ? 'keep-line grave' : 'keep-line pill'} data-line={line}>
      <output>{text}</output>
      {deeds.map((deed) => (
        <KeepButton key={deed} deed={deed} />
      ))}
      {goes ? (
        <button
          type="button"
          className="ibtn"
          aria-label={line === 'file' ? keepWords.later : keepWords.seen}
          title={line === 'file' ? keepWords.later : keepWords.seen}
          onClick={() => {
            const { kept, seen } = store.getState();
            const at = line === 'stranded' ? kept?.stranded.length : kept?.unsavedEdits;
            store.setState({ seen: { ...seen, [line]: at ?? 0 } });
          }}
        >
          <Cross />
        </button>
      ) : null}
    </div>
  );
}

/** One of the things that can be done about it. */
export function KeepButton({ deed }: { readonly deed: KeepDeed }) {
  const app = useAppStore();
  const state = useLay((lay) => lay.kept);
  const panel = useLay((lay) => lay.panelKept);
  const save = useLay((lay) => lay.save);
  const tell = useLay((lay) => lay.tell);
  if (state === null || panel === null) return null;
  if (deed === 'rescue')
    return (
      <a className="btn" href="rescue.html">
        {keepWords.rescue}
      </a>
    );
  const last = state.stranded.at(-1);
  const acts: Readonly<Record<Exclude<KeepDeed, 'rescue'>, readonly [word: string, act: () => Promise<unknown>]>> = {
    'take-over': [
      state.taken ? keepWords.takeBack : keepWords.edit,
      async () => {
        if (!(await panel.takeOver())) tell(keepWords.notTaken);
      },
    ],
    save: [keepWords.save, save],
    'keep-again': [keepWords.keepAgain, () => keepAnew(app, panel)],
    'give-stranded': [
      keepWords.giveStranded(last?.edits ?? 0),
      async () => giveText(panel, keepWords.fileOfStranded, last?.text ?? ''),
    ],
  };
  const [word, act] = acts[deed];
  return (
    <button
      type="button"
      className="btn"
      onClick={() => {
        act().catch(() => tell(keepWords.failed));
      }}
    >
      {word}
    </button>
  );
}
