/** Where panels come from: the server that opened this window, a file picked, a file dropped. */
import { DATABASE_NAME, LARGEST_BYTES } from './document/constants.ts';
import type { FileHandle } from './document/index.ts';
import { lastWorked } from './last.ts';
import type { Source, Store } from './store.ts';
import { words } from './words/run.ts';

/** Open the panel that this window was started for and follow its changes; answers false where there is none. */
export async function openServed(store: Store): Promise<boolean> {
  if (!location.protocol.startsWith('http')) return false;
  const answer = await fetch(new URL('panel', document.baseURI)).catch(() => null);
  const served = answer?.ok === true && answer.status === 200 ? readServed(await answer.text()) : null;
  if (served === null) return false;
  const changes = new EventSource(new URL('panel/changes', document.baseURI));
  changes.addEventListener('change', (event) => {
    const change = readServed(String(event.data));
    if (change !== null && follows(store)) void store.getState().open(change.file, change.text, 'served');
  });
  changes.addEventListener('gone', (event) => {
    const reason = readGone(String(event.data));
    if (reason !== null && follows(store))
      store.getState().refuse({ file: served.file, problems: [{ path: '', message: reason }], fault: null });
  });
  await store.getState().open(served.file, served.text, 'served');
  return true;
}

/** The served file is followed until another panel is opened in its place. */
function follows(store: Store): boolean {
  const { view, source } = store.getState();
  return view === null || source === 'served';
}

function readServed(json: string): { readonly file: string; readonly text: string } | null {
  try {
    const answer: unknown = JSON.parse(json);
    if (typeof answer !== 'object' || answer === null || !('file' in answer) || !('text' in answer)) return null;
    return { file: String(answer.file), text: String(answer.text) };
  } catch {
    // A server that answers every address with its own page has no panel for us.
    return null;
  }
}

/** Why the file cannot be read any more, or null where the message makes no sense. */
function readGone(json: string): string | null {
  try {
    const answer: unknown = JSON.parse(json);
    return typeof answer === 'object' && answer !== null && 'reason' in answer ? String(answer.reason) : null;
  } catch {
    return null;
  }
}

/**
 * Open the panel that was worked on last in this browser; answers false where there is none. What reads it is fetched then alone. A browser that
 * was killed may have lost the note of it, but not the panel: then the one that was changed last.
 */
export async function openLast(store: Store): Promise<boolean> {
  const noted = lastWorked();
  if (noted === '' || (noted === null && !(await keepsSomething()))) return false;
  try {
    const { changedLast, textOf } = await import('./lay/keeper.ts');
    const id = noted ?? (await changedLast());
    const last = id === null ? null : await textOf(id);
    if (id === null || last === null) return false;
    await store.getState().open(last.title, last.text, 'kept', id);
    return store.getState().view !== null;
  } catch {
    // What is kept cannot be read: the rescue page has what is left of it.
    return false;
  }
}

/** Is there a database of ours? Asked without making one; false where the browser does not say. */
async function keepsSomething(): Promise<boolean> {
  try {
    return (await indexedDB.databases()).some(({ name }) => name === DATABASE_NAME);
  } catch {
    return false;
  }
}

/** Open a file that the user gave, with what it can be written by where the browser gave that; false where it cannot be used. */
export async function openFile(store: Store, file: File, handle?: FileHandle): Promise<boolean> {
  const source: Source = 'own';
  const refuse = (message: string): false => {
    store.getState().refuse({ file: file.name, problems: [{ path: '', message }], fault: null });
    return false;
  };
  if (file.size > LARGEST_BYTES) return refuse(words.tooLarge);
  const text = await file.text().catch(() => null);
  if (text === null) return refuse(words.unreadable);
  await store.getState().open(file.name, text, source, undefined, handle);
  return store.getState().text === text;
}
