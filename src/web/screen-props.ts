import type { Remote } from 'comlink';
import type { LayStore } from './lay/lay-store.ts';
import type { Stage } from './words/stages.ts';
import type { Core } from './worker/types.ts';

/** What a stage on the desk is given: what is laid, and the worker that understands it. */
export interface ScreenProps {
  readonly store: LayStore;
  readonly core: Remote<Core>;
}

/** The same with the way to another stage. */
export interface StageProps extends ScreenProps {
  readonly go: (stage: Stage) => void;
}
