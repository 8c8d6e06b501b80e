import type { Stage } from '../words/stages.ts';
import { narrowWords } from '../words/stages.ts';

/** Below this the sheet and its tools find no room: in px, as a larger text alone shall not end the laying. */
export const WIDE_ENOUGH = '(min-width: 820px)';

/** In the place of a stage where the window is too narrow for it; the way to what can be had there. */
export function TooNarrow({
  stage,
  go,
}: {
  readonly stage: 'lay' | 'work' | 'wire';
  readonly go: (to: Stage) => void;
}) {
  return (
    <main className="lay-narrow">
      <h2>{narrowWords.head[stage]}</h2>
      <p>{narrowWords.what[stage]}</p>
      <p>{narrowWords.more}</p>
      <button type="button" className="btn primary" onClick={() => go('run')}>
        {narrowWords.toRun}
      </button>
    </main>
  );
}
