import { layWords } from './lay-words.ts';

/** Below this the sheet, its tools and the findings find no room: in em, so that larger text asks for a wider window. */
export const WIDE_ENOUGH = '(min-width: 51.25em)';

/** In the place of the stage where the window is too narrow to lay in. */
export function TooNarrow() {
  return (
    <main className="lay-narrow">
      <h2>{layWords.wider820}</h2>
      <p>{layWords.wider820More}</p>
    </main>
  );
}
