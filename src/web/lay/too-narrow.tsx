import { layWords } from '../words/lay.ts';

/** Below this the sheet and its tools find no room: in px, as a larger text alone shall not end the laying. */
export const WIDE_ENOUGH = '(min-width: 820px)';

/** In the place of the stage where the window is too narrow to lay in. */
export function TooNarrow() {
  return (
    <main className="lay-narrow">
      <h2>{layWords.wider820}</h2>
      <p>{layWords.wider820More}</p>
    </main>
  );
}
