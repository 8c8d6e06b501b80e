/** Versions and files: where the panel is kept, what its browser has promised, and its states under names. */
import './shelf.css';
import { type ReactNode, useCallback, useEffect, useId, useMemo, useRef, useState } from 'react';
import { type PanelFile, readPanel } from '../../panel/index.ts';
import type { KeptPanel, KeptState, VersionRecord } from '../document/index.ts';
import { Dialog } from '../parts/dialog.tsx';
import { keepWords } from '../words/keep.ts';
import { changesBetween } from './changes.ts';
import { daysOf, isLost } from './keep-lines.ts';
import { giveText, saveKept, shareable, shareFile } from './keeper.ts';
import { pictureOf } from './picture.ts';
import { Stamp } from './shelf.tsx';
import { useFollows, useLay, useLayStore } from './use-lay.ts';

/** A version with what can be read of it. */
interface Version extends VersionRecord {
  readonly read: PanelFile | null;
}

export function KeepDialog({ close }: { readonly close: () => void }) {
  const state = useLay((lay) => lay.kept);
  const kept = useLay((lay) => lay.panelKept);
  const dialog = useRef<HTMLDialogElement>(null);
  const [said, setSaid] = useState('');
  return (
    <Dialog box={dialog} kind="shelf" also="keep" title={keepWords.title} closeWord={keepWords.close} close={close}>
      <output className={said === '' ? 'unseen' : 'shelf-note'}>{said}</output>
      {state === null || kept === null ? null : (
        <>
          <Where state={state} kept={kept} say={setSaid} />
          <Versions kept={kept} say={setSaid} close={() => dialog.current?.close()} />
        </>
      )}
    </Dialog>
  );
}

interface Saying {
  readonly kept: KeptPanel;
  readonly say: (text: string) => void;
}

function Where({ state, kept, say }: Saying & { readonly state: KeptState }) {
  const save = useLay((lay) => lay.save);
  // What it would share is made once: the system is asked whether it takes such a file.
  const [shared] = useState(() => shareable(kept));
  const { keeping, promised, file, unsavedEdits } = state;
  const failed = (): void => say(keepWords.failed);
  return (
    <section className="keep-where">
      <h3>{keepWords.where}</h3>
      <p>{keepWords.how(keeping)}</p>
      {isLost(state) ? null : <p>{keepWords.promised(promised, daysOf(keeping))}</p>}
      <p>{file === null ? keepWords.inNoFile : keepWords.inFile(file, unsavedEdits)}</p>
      <div className="shelf-starts">
        <button type="button" className="btn primary" onClick={() => void save().catch(failed)}>
          {keepWords.save}
        </button>
        {file === null ? null : (
          <button type="button" className="btn" onClick={() => void saveKept(kept, true).catch(failed)}>
            {keepWords.saveAs}
          </button>
        )}
        {shared === null ? null : (
          <button
            type="button"
            className="btn"
            onClick={() => {
              const now = shareable(kept) ?? shared;
              shareFile(kept, now)
                .then((taken) => say(taken ? '' : keepWords.notShared))
                .catch(failed);
            }}
          >
            {keepWords.share}
          </button>
        )}
      </div>
    </section>
  );
}

function Versions({ kept, say, close }: Saying & { readonly close: () => void }) {
  const follows = useFollows();
  const store = useLayStore();
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  const [versions, setVersions] = useState<readonly Version[] | null>(null);
  const [open, setOpen] = useState<string | null>(null);
  const look = useCallback(async (): Promise<void> => {
    const found = await kept.versions();
    setVersions((before) =>
      found.map((record) => before?.find((each) => each.id === record.id) ?? readVersion(record)),
    );
  }, [kept]);
  // Another window may name one: its entry comes like any other.
  useEffect(() => {
    void look();
    return kept.listen(() => void look());
  }, [kept, look]);
  const keep = (): void => {
    if (!store.getState().mayEdit()) return;
    const typed = field.current?.value.trim() ?? '';
    const name = typed === '' ? keepWords.at(Date.now()) : typed;
    kept.nameVersion(name);
    if (field.current !== null) field.current.value = '';
    say(keepWords.didKeep(name));
    void look();
  };
  const goBack = ({ name, read }: Version): void => {
    const { mayEdit, pick } = store.getState();
    if (read === null || !mayEdit()) return;
    const before = kept.document.history.seq;
    try {
      kept.restore(read, name);
    } catch {
      say(keepWords.failed);
      return;
    }
    pick([]);
    say(kept.document.history.seq === before ? keepWords.asNow(name) : keepWords.didGoBack(name));
  };
  const newest = versions?.toReversed() ?? [];
  return (
    <section className="keep-versions">
      <h3>{keepWords.versions}</h3>
      <form
        className="keep-form"
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <label htmlFor={id}>{keepWords.keepAs}</label>
        <input ref={field} id={id} className="inp" placeholder={keepWords.keepHint} disabled={follows} />
        <button type="submit" className="btn" disabled={follows}>
          {keepWords.keep}
        </button>
      </form>
      {versions === null ? <p className="shelf-note">{keepWords.reading}</p> : null}
      {versions?.length === 0 ? <p className="shelf-note">{keepWords.none}</p> : null}
      {newest.length === 0 ? null : (
        <ul className="shelf-rows">
          {newest.map((version) => (
            <Row key={version.id} version={version}>
              <Deed
                word={keepWords.what}
                of={version}
                off={version.read === null}
                open={open === version.id}
                act={() => setOpen(open === version.id ? null : version.id)}
              />
              <Deed
                word={keepWords.back}
                of={version}
                off={version.read === null || follows}
                act={() => goBack(version)}
              />
              <Deed word={keepWords.give} of={version} act={() => giveText(kept, version.name, version.text)} />
              {open === version.id && version.read !== null ? (
                <What version={version} read={version.read} all={newest} close={close} />
              ) : null}
            </Row>
          ))}
        </ul>
      )}
    </section>
  );
}

function readVersion(record: VersionRecord): Version {
  const read = readPanel(record.text);
  return { ...record, read: read.ok ? read.panel : null };
}

function Row({ version, children }: { readonly version: Version; readonly children: ReactNode }) {
  const { name, at, read } = version;
  const picture = useMemo(() => (read === null ? null : pictureOf(read)), [read]);
  return (
    <li className="shelf-row" data-version={name}>
      <Stamp svg={picture} />
      <div className="shelf-what">
        <b>{name}</b>
        <span>{keepWords.at(at)}</span>
        {read === null ? <span>{keepWords.unreadable}</span> : null}
      </div>
      <div className="shelf-deeds">{children}</div>
    </li>
  );
}

function Deed(props: {
  readonly word: string;
  readonly of: Version;
  readonly off?: boolean;
  readonly open?: boolean;
  readonly act: () => void;
}) {
  const { word, of, off = false, open, act } = props;
  return (
    <button
      type="button"
      className="btn"
      aria-label={keepWords.of(word, of.name)}
      aria-expanded={open}
      disabled={off}
      onClick={act}
    >
      {word}
    </button>
  );
}

/** The difference between a version and the panel as it is now, or another version: the older of the two is before. */
function What(props: {
  readonly version: Version;
  readonly read: PanelFile;
  readonly all: readonly Version[];
  readonly close: () => void;
}) {
  const { version, read, all, close } = props;
  const store = useLayStore();
  const laid = useLay((lay) => lay.laid);
  const unit = useLay((lay) => lay.unit);
  const [other, setOther] = useState('');
  const id = useId();
  const second = all.find((each) => each.id === other);
  const turned = second !== undefined && second.at < version.at;
  const changes = useMemo(() => {
    const against = second?.read ?? laid;
    return turned ? changesBetween(against, read, unit) : changesBetween(read, against, unit);
  }, [second, laid, read, turned, unit]);
  return (
    <section className="keep-what" aria-label={keepWords.since(turned ? second.name : version.name)}>
      <div className="keep-with">
        <label htmlFor={id}>{keepWords.until}</label>
        <select id={id} className="inp" value={other} onChange={(event) => setOther(event.currentTarget.value)}>
          <option value="">{keepWords.now}</option>
          {all
            .filter((each) => each.id !== version.id && each.read !== null)
            .map((each) => (
              <option key={each.id} value={each.id}>
                {each.name}
              </option>
            ))}
        </select>
        {second === undefined && changes.lines.length > 0 ? (
          <button
            type="button"
            className="btn"
            onClick={() => {
              store.setState({ compared: { name: version.name, panel: read } });
              close();
            }}
          >
            {keepWords.onSheet}
          </button>
        ) : null}
      </div>
      {changes.lines.length === 0 ? (
        <p>{keepWords.same}</p>
      ) : (
        <p>{changes.counts.map((line) => `${line}.`).join(' ')}</p>
      )}
      {changes.lines.length === 0 ? null : (
        <ul className="keep-changes">
          {changes.lines.map(({ id: key, text }) => (
            <li key={key}>{text}</li>
          ))}
        </ul>
      )}
    </section>
  );
}
