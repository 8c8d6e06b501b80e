/** The Lay stage made ready over one panel that this browser keeps: its store, its screen, and the panel as a file's text. */
import type { Remote } from 'comlink';
import type { KeptPanel } from '../document/index.ts';
import { rememberLast } from '../last.ts';
import type { Core } from '../worker/types.ts';
import { keeper, saveKept } from './keeper.ts';
import { type LayStore, makeLayStore } from './lay-store.ts';
import { makeHand } from './tools/hand.ts';

export { Kept } from './kept.tsx';
export { Lay } from './lay.tsx';
export { LayStages } from './lay-stages.tsx';
export { LayContext } from './use-lay.ts';

export interface LayDesk {
  readonly store: LayStore;
  readonly kept: KeptPanel;
  /** The panel as it is now. */
  text(): string;
}

/** What is laid on the desk: a panel that is kept by its id, or the text of a file, which is kept from now on. */
export interface Laid {
  readonly id: string | null;
  readonly file: string;
  readonly text: string;
}

/** A desk over a panel. `worked`: called at its first edit. Rejects where the panel cannot be read. */
export async function makeDesk(
  { id, file, text }: Laid,
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
  store.setState({ kept: kept.state, save: () => saveKept(kept) });
  const before = document.history.changed;
  let told = id !== null;
  kept.listen(() => {
    store.setState({ kept: kept.state });
    if (told || document.history.changed === before) return;
    told = true;
    rememberLast(known);
    worked(known);
  });
  if (id !== null) rememberLast(id);
  return { store, kept, text: () => kept.text() };

  async function begin(fresh: string, name: string): Promise<string> {
    const came = await keeping.incoming(fresh, name, 'picked');
    if (!came.ok) throw new RangeError(`the panel ${name} cannot be read`);
    return came.id;
  }
}
