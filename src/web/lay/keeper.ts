/** The keeping of panels in this browser, started once, and ways out of it. Uses `window` and `document`. */
import {
  browserSurroundings,
  fileNameOf,
  type Keeper,
  type KeptPanel,
  saveToFile,
  startKeeper,
} from '../document/index.ts';

let started: Promise<Keeper> | null = null;

export function keeper(): Promise<Keeper> {
  started ??= startKeeper(browserSurroundings());
  return started;
}

/** A kept panel as the text of its file, with its own name, else its title on the shelf; null where it cannot be read. Nobody is kept from it. */
export async function textOf(id: string): Promise<{ readonly title: string; readonly text: string } | null> {
  return (await keeper()).read(id);
}

/** The panel on the shelf that was changed last since it was begun; null where none was. */
export async function changedLast(): Promise<string | null> {
  const { panels } = await (await keeper()).shelf();
  return panels.find(({ created, changed }) => changed > created)?.id ?? null;
}

/** Panels that this window has put away. */
const away = new Set<string>();

export async function putAway(id: string): Promise<void> {
  await (await keeper()).putAway(id);
  away.add(id);
}

export async function bringBack(id: string): Promise<void> {
  await (await keeper()).bringBack(id);
  away.delete(id);
}

/** A panel that is worked on does not lie in the bin. True where this one did. */
export function bringBackWorked(id: string): boolean {
  const lay = away.delete(id);
  if (lay) bringBack(id).catch(() => {});
  return lay;
}

/** Save a panel into its file, into one that is picked, or as a download; `anew`: into another file. True where it was saved. */
export async function saveKept(kept: KeptPanel, anew = false): Promise<boolean> {
  const title = kept.document.history.panel.name ?? '';
  const saved = await saveToFile(kept, title, (await keeper()).handles, { pick: picker(), download }, anew);
  return saved.how !== 'left';
}

/** A text of the panel as a download, under the panel's name and one of its own. Needs nothing of what is kept. */
export function giveText(kept: KeptPanel, name: string, text: string): void {
  download(fileNameOf(`${kept.document.history.panel.name ?? ''} ${name}`), text);
}

/** The panel's file as the system can share it; null where it cannot. */
export function shareable(kept: KeptPanel): File | null {
  const name = kept.state.file ?? fileNameOf(kept.document.history.panel.name ?? '');
  const file = new File([kept.text()], name, { type: 'application/json' });
  return typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] }) ? file : null;
}

/** Hand the panel's file to the system. False where it was not taken, be it that the user thought better of it. */
export async function shareFile(kept: KeptPanel, file: File): Promise<boolean> {
  const { seq } = kept.document.history;
  try {
    await navigator.share({ files: [file] });
  } catch {
    return false;
  }
  await kept.savedAs(file.name, seq).catch(() => {});
  return true;
}

interface PickingWindow {
  showSaveFilePicker(
    options: object,
  ): Promise<Awaited<ReturnType<NonNullable<Parameters<typeof saveToFile>[3]['pick']>>>>;
}

function canPick(target: object): target is PickingWindow {
  return 'showSaveFilePicker' in target;
}

function picker(): Parameters<typeof saveToFile>[3]['pick'] {
  const target: object = window;
  if (!canPick(target)) return null;
  return (suggestedName) =>
    target.showSaveFilePicker({
      suggestedName,
      types: [{ accept: { 'application/json': ['.json'] } }],
    });
}

function download(name: string, text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name === '' ? fileNameOf('') : name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
