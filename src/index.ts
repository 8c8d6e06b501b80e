/**
 * Mimicwright as a library: read a panel, derive everything from it, make the book.
 * What the command line answers in JSON comes from the same functions.
 */
import type { BookOptions, BuiltFile } from './book/index.ts';
import type { Derived } from './derive.ts';

export type { BookOptions, BuiltFile, FontFiles } from './book/index.ts';
export type { Finding, Mend, Severity } from './checks/index.ts';
export {
  answerSchemas,
  type BuildAnswer,
  buildAnswer,
  type CheckAnswer,
  type CompareAnswer,
  checkAnswer,
  compareAnswer,
  type RoutesAnswer,
  routesAnswer,
  type SolveAnswer,
  solveAnswer,
  type TruthAnswer,
  truthAnswer,
} from './cli/index.ts';
export { type Counts, type Derived, derive, type LeverPositions, rederive } from './derive.ts';
export {
  type Figures,
  listOptions,
  type Measure,
  type Obstacle,
  type PanelOption,
  rankOptions,
  type WeighedOption,
  weighOption,
} from './options/index.ts';
export { type PanelFile, type PanelRead, readPanel, writePanel } from './panel/index.ts';

/** Every file of the book, with its bytes. The book is loaded at the first call. */
export async function buildBook(derived: Derived, options: BookOptions): Promise<readonly BuiltFile[]> {
  const book = await import('./book/index.ts');
  return book.buildBook(derived, options);
}
