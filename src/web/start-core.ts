/** The worker that derives panels. The window has one; what takes long has one of its own beside it, so that nothing else waits and it can be ended. */
import { type Remote, wrap } from 'comlink';
import type { Core } from './worker/types.ts';

export interface StartedCore {
  readonly core: Remote<Core>;
  /** Ends it; what it was asked is not answered any more. */
  end(): void;
}

/** Starts a worker. `failed`: called with what went wrong where it does not start, or a script of it throws. */
export function startCore(failed: (why: string) => void): StartedCore {
  const worker = new Worker(new URL('./worker/core.ts', import.meta.url), { type: 'module', name: 'core' });
  worker.addEventListener('error', ({ message }) => failed(message));
  return { core: wrap<Core>(worker), end: () => worker.terminate() };
}
