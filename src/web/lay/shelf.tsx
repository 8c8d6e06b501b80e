/** Every panel that this browser keeps, and the ways to begin one. */
import './shelf.css';
import { type ReactNode, useCallback, useEffect, useId, useRef, useState } from 'react';
import { bareSheet } from '../../laying/index.ts';
import type { Keeper, Shelf as Kept, ShelfRow } from '../document/index.ts';
import { openFile } from '../incoming.ts';
import { forgetLast } from '../last.ts';
import { Dialog } from '../parts/dialog.tsx';
import { useAppStore } from '../use-app.ts';
import { changedWords, goesWords, shelfWords } from '../words/shelf.ts';
import { chooseFile } from './file-keys.ts';
import { bringBack, keeper, putAway, textOf } from './keeper.ts';
import { pictureOf, readPicture } from './picture.ts';
import { drawDue } from './pictures.ts';

/** What is to have the focus once the list is drawn anew: a button of a row by what it does. */
interface Wanted {
  readonly id: string;
  readonly deed: 'bring-back' | 'open' | 'rename';
}

export function Shelf({
  close,
  openDemo,
  toLay,
}: {
  readonly close: () => void;
  readonly openDemo: () => Promise<void>;
  readonly toLay: () => void;
}) {
  const store = useAppStore();
  const dialog = useRef<HTMLDialogElement>(null);
  const wanted = useRef<Wanted | null>(null);
  const [shelf, setShelf] = useState<Kept | null>(null);
  const [said, setSaid] = useState('');
  const [naming, setNaming] = useState<string | null>(null);
  const look = useCallback(async (): Promise<void> => {
    await drawDue();
    setShelf(await (await keeper()).shelf());
  }, []);
  useEffect(() => {
    void look();
  }, [look]);
  // The focus follows a row that has moved between the lists.
  useEffect(() => {
    const { current: want } = wanted;
    if (want === null || shelf === null) return;
    wanted.current = null;
    const row = [...(dialog.current?.querySelectorAll<HTMLElement>('[data-panel]') ?? [])].find(
      (element) => element.dataset.panel === want.id,
    );
    row?.querySelector<HTMLElement>(`[data-deed="${want.deed}"]`)?.focus();
  }, [shelf]);

  /** Do something to what is kept, say it, and look again. */
  const act = (work: (keeping: Keeper) => Promise<string>, want: Wanted | null = null): void => {
    keeper()
      .then(work)
      .catch(() => shelfWords.failed)
      .then((news) => {
        setSaid(news);
        wanted.current = want;
        return look();
      })
      .catch(() => setSaid(shelfWords.failed));
  };
  /** Begin or open a panel and lay on it; false where that was not possible. */
  const begin = (work: () => Promise<boolean>): void => {
    work()
      .then((done) => {
        if (!done) return;
        close();
        toLay();
      })
      .catch(() => setSaid(shelfWords.failed));
  };
  const openKept = async (id: string, title: string): Promise<boolean> => {
    const kept = await textOf(id);
    if (kept === null) setSaid(shelfWords.unreadable(title));
    if (kept === null) return false;
    await store.getState().open(kept.title, kept.text, 'kept', id);
    return store.getState().kept === id;
  };
  const newSheet = async (): Promise<boolean> => {
    const panel = bareSheet();
    const picture = pictureOf(panel);
    const id = await (await keeper()).create({ panel, title: shelfWords.bareTitle, picture });
    return openKept(id, shelfWords.bareTitle);
  };
  const rename = (id: string, title: string): void => {
    setNaming(null);
    act(
      async (keeping) => {
        await keeping.rename(id, title);
        return shelfWords.didRename(title);
      },
      { id, deed: 'rename' },
    );
  };

  return (
    <Dialog box={dialog} kind="shelf" title={shelfWords.title} closeWord={shelfWords.close} close={close}>
      <div className="shelf-starts">
        <button type="button" className="btn primary" onClick={() => begin(newSheet)}>
          {shelfWords.bare}
        </button>
        <button
          type="button"
          className="btn"
          onClick={() =>
            begin(async () => {
              await openDemo();
              return true;
            })
          }
        >
          {shelfWords.fromDemo}
        </button>
        <button type="button" className="btn" onClick={() => chooseFile((file) => begin(() => openFile(store, file)))}>
          {shelfWords.file}
        </button>
      </div>
      <output className={said === '' ? 'unseen' : 'shelf-note'}>{said}</output>
      {shelf === null ? <p className="shelf-note">{shelfWords.reading}</p> : <Notes shelf={shelf} act={act} />}
      {shelf?.panels.length === 0 ? <p className="shelf-note">{shelfWords.none}</p> : null}
      {shelf === null || shelf.panels.length === 0 ? null : (
        <ul className="shelf-rows">
          {shelf.panels.map((row) => (
            <Row
              key={row.id}
              row={row}
              name={
                naming === row.id ? (
                  <Name title={row.title} keep={(title) => rename(row.id, title)} leave={() => setNaming(null)} />
                ) : null
              }
            >
              <Deed deed="open" row={row} word={shelfWords.open} act={() => begin(() => openKept(row.id, row.title))} />
              <Deed
                deed="duplicate"
                row={row}
                word={shelfWords.duplicate}
                act={() =>
                  act(async (keeping) => {
                    const copy = await keeping.duplicate(row.id);
                    return copy === null ? shelfWords.unreadable(row.title) : shelfWords.didDuplicate(row.title);
                  })
                }
              />
              <Deed deed="rename" row={row} word={shelfWords.rename} act={() => setNaming(row.id)} />
              <Deed
                deed="put-away"
                row={row}
                word={shelfWords.putAway}
                act={() =>
                  act(
                    async () => {
                      await putAway(row.id);
                      forgetLast(row.id);
                      return shelfWords.didPutAway(row.title);
                    },
                    { id: row.id, deed: 'bring-back' },
                  )
                }
              />
            </Row>
          ))}
        </ul>
      )}
      {shelf === null || shelf.bin.length === 0 ? null : (
        <>
          <h3>{shelfWords.away}</h3>
          <ul className="shelf-rows">
            {shelf.bin.map((row) => (
              <Row key={row.id} row={row} name={null}>
                <Deed
                  deed="bring-back"
                  row={row}
                  word={shelfWords.bringBack}
                  act={() =>
                    act(
                      async () => {
                        await bringBack(row.id);
                        return shelfWords.didBringBack(row.title);
                      },
                      { id: row.id, deed: 'open' },
                    )
                  }
                />
              </Row>
            ))}
          </ul>
        </>
      )}
    </Dialog>
  );
}

/** What is damaged and what the browser has deleted. */
function Notes({
  shelf,
  act,
}: {
  readonly shelf: Kept;
  readonly act: (work: (keeping: Keeper) => Promise<string>) => void;
}) {
  return (
    <>
      {shelf.damaged.length === 0 ? null : (
        <p className="shelf-note">
          {shelfWords.damaged(shelf.damaged.length)} <a href="rescue.html">{shelfWords.rescue}</a>
        </p>
      )}
      {shelf.evicted.length === 0 ? null : (
        <p className="shelf-note">
          {shelfWords.evicted(shelf.evicted.map(({ title }) => title))}
          <button
            type="button"
            className="btn quiet"
            onClick={() =>
              act(async (keeping) => {
                for (const { id } of shelf.evicted) keeping.forget(id);
                return '';
              })
            }
          >
            {shelfWords.forget}
          </button>
        </p>
      )}
    </>
  );
}

function Row({
  row,
  name,
  children,
}: {
  readonly row: ShelfRow;
  readonly name: ReactNode;
  readonly children: ReactNode;
}) {
  const { strips, points, levers, lamps } = row.counts;
  const now = Date.now();
  return (
    <li className="shelf-row" data-panel={row.id}>
      <Stamp svg={row.picture} />
      {name ?? (
        <div className="shelf-what">
          <b>{row.title}</b>
          <span>{shelfWords.counts(strips, points, levers, lamps)}</span>
          <span>{row.goes === null ? changedWords(row.changed, now) : goesWords(row.goes, now)}</span>
        </div>
      )}
      <div className="shelf-deeds">{children}</div>
    </li>
  );
}

/** The picture of a panel, drawn from what can be read of it. */
export function Stamp({ svg }: { readonly svg: string | null }) {
  const picture = svg === null ? null : readPicture(svg);
  if (picture === null) return <span className="shelf-picture" />;
  const { width, height, paint, strips } = picture;
  return (
    <svg className="shelf-picture" viewBox={`0 0 ${width} ${height}`} aria-hidden="true" focusable="false">
      <rect width={width} height={height} fill={paint} />
      {strips.map((strip) => (
        <path key={strip.id} d={strip.d} fill="none" stroke={strip.colour} strokeWidth={strip.width} />
      ))}
    </svg>
  );
}

function Deed({
  deed,
  row,
  word,
  act,
}: {
  readonly deed: string;
  readonly row: ShelfRow;
  readonly word: string;
  readonly act: () => void;
}) {
  return (
    <button type="button" className="btn" data-deed={deed} aria-label={shelfWords.of(word, row.title)} onClick={act}>
      {word}
    </button>
  );
}

/** A title under the hand: Enter keeps it, Escape leaves it. */
function Name({
  title,
  keep,
  leave,
}: {
  readonly title: string;
  readonly keep: (title: string) => void;
  readonly leave: () => void;
}) {
  const field = useRef<HTMLInputElement>(null);
  const id = useId();
  useEffect(() => field.current?.select(), []);
  return (
    <form
      className="shelf-name"
      onSubmit={(event) => {
        event.preventDefault();
        keep(field.current?.value.trim() ?? title);
      }}
    >
      <label htmlFor={id}>{shelfWords.name}</label>
      <input
        ref={field}
        id={id}
        defaultValue={title}
        onKeyDown={(event) => {
          if (event.key !== 'Escape') return;
          // Else the whole shelf would close.
          event.preventDefault();
          event.stopPropagation();
          leave();
        }}
      />
      <button type="submit" className="btn">
        {shelfWords.keepName}
      </button>
    </form>
  );
}
