/** The Lay stage made ready over one panel that this browser keeps: its store, its screen, and the panel as a file's text. */
import type { Remote } from 'comlink';
import { isAlike } from '../../panel/index.ts';
import { type FileHandle, judgeText, type KeptPanel } from '../document/index.ts';
import { rememberLast } from '../last.ts';
import type { Core } from '../worker/types.ts';
import { isField } from './is-field.ts';
import { bringBackWorked, keeper, saveKept } from './keeper.ts';
import { LAYING, type LayStore, makeLayStore } from './lay-store.ts';
import { drawDue, drawPicture, drawSoon } from './pictures.ts';
import { makeHand } from './tools/hand.ts';

export { deskKey } from './desk-keys.ts';
export { Kept } from './kept.tsx';
export { Lay } from './lay.tsx';
export { LayStages } from './lay-stages.tsx';
export { Shelf } from './shelf.tsx';
export { LayContext } from './use-lay.ts';

export interface LayDesk {
  readonly store: LayStore;
  readonly kept: KeptPanel;
  /** The panel as it is now. */
  text(): string;
  /** Finish what is under way and let go of the panel. */
  close(): Promise<void>;
}

/** What is laid on the desk: a panel that is kept by its id, or the text of a file, which is kept from now on. */
export interface Laid {
  readonly id: string | null;
  readonly file: string;
  readonly text: string;
  /** The file that it was read from, to be written again. */
  readonly handle: FileHandle | null;
}

/** How often it is looked whether it is time to say that a file is wanted: ms. */
const LOOK_MS = 60_000;

/** What is typed into a field is taken when it is left. */
function leaveField(): void {
  const field = globalThis.document.activeElement;
  if (field instanceof HTMLElement && isField(field)) field.blur();
}

/** A desk over a panel. `worked`: called at its first edit. Rejects where the panel cannot be read. */
export async function makeDesk(
  { id, file, text, handle }: Laid,
  core: Remote<Core>,
  worked: (id: string) => void,
): Promise<LayDesk> {
  const keeping = await keeper();
  const known = id ?? (await begin(text, file));
  const opened = await keeping.open(known);
  if (!opened.ok) throw new RangeError(`the panel ${file} cannot be opened`);
  const { kept } = opened;
  const { document } = kept;
  const store = makeLayStore(document, core, (lay) => makeHand(document, lay));
  store.setState({ kept: kept.state, panelKept: kept, save: () => saveKept(kept) });
  kept.beforeLeaving(() => {
    leaveField();
    store.getState().finish();
  });
  // A day goes by without an edit that would tell of it.
  const clock = setInterval(() => store.setState({ kept: kept.state }), LOOK_MS);
  const before = document.history.changed;
  let told = id !== null;
  let drawn = before;
  kept.listen(() => {
    store.setState({ kept: kept.state });
    if (kept.state.role !== 'editing' && LAYING.has(store.getState().tool)) store.getState().take('pick');
    if (document.history.changed !== drawn) {
      drawn = document.history.changed;
      drawSoon(kept);
      if (bringBackWorked(known)) rememberLast(known);
    }
    if (told || document.history.changed === before) return;
    told = true;
    rememberLast(known);
    worked(known);
  });
  if (id !== null) rememberLast(id);
  void drawPicture(kept);
  return {
    store,
    kept,
    text: () => kept.text(),
    async close() {
      clearInterval(clock);
      await drawDue();
      await kept.close();
    },
  };

  async function begin(fresh: string, name: string): Promise<string> {
    // The same file as it was: one panel is enough of what nobody has touched.
    const judged = judgeText(fresh, name);
    const rows = judged.ok ? (await keeping.shelf()).panels : [];
    const asFile = name === '' ? null : name;
    for (const row of rows.filter((each) => each.file === asFile && each.changed === each.created)) {
      const there = await keeping.open(row.id);
      if (!there.ok) continue;
      if (there.kept.state.role === 'editing' && judged.ok && isAlike(there.kept.document.history.panel, judged.panel))
        return await withHandle(row.id);
      await there.kept.close();
    }
    const came = await keeping.incoming(fresh, name, handle === null ? 'picked' : 'launched');
    if (!came.ok) throw new RangeError(`the panel ${name} cannot be read`);
    return withHandle(came.id);
  }

  /** The panel is saved into the file that it came from. */
  async function withHandle(fresh: string): Promise<string> {
    if (handle !== null) await keeping.handles.put(fresh, handle).catch(() => {});
    return fresh;
  }
}
