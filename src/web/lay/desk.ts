/** The Lay stage made ready over one panel: its store, its screen, and the panel as a file's text. */
import type { Remote } from 'comlink';
import { readPanel, writePanel } from '../../panel/index.ts';
import { makeDocument } from '../document/document.ts';
import { beginHistory } from '../document/history.ts';
import type { Core } from '../worker/types.ts';
import { type LayStore, makeLayStore } from './lay-store.ts';
import { makeHand } from './tools/hand.ts';

export { Kept } from './kept.tsx';
export { Lay } from './lay.tsx';
export { LayStages } from './lay-stages.tsx';
export { LayContext } from './use-lay.ts';

export interface LayDesk {
  readonly store: LayStore;
  /** The text that the desk was begun with. */
  readonly from: string;
  /** The panel as it is now. */
  text(): string;
}

/** A desk over the panel of a file's text. The text has been read before: one that cannot be used is a fault of the program. */
export function makeDesk(text: string, core: Remote<Core>): LayDesk {
  const read = readPanel(text);
  if (!read.ok) throw new RangeError(`the panel that is open cannot be read: ${read.problems[0]?.message ?? ''}`);
  const document = makeDocument(beginHistory(read.panel), { now: () => Date.now() });
  return {
    store: makeLayStore(document, core, (store) => makeHand(document, store)),
    from: text,
    text: () => (document.history.changed === 0 ? text : writePanel(document.history.panel)),
  };
}
