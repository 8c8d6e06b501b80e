/** Options in the order in which the user ranks what they come to. */
import type { Figures, Measure, OptionKind } from './types.ts';

/** What ranking asks of an option. */
export interface Rankable {
  readonly kind: OptionKind;
  readonly figures: Figures;
  readonly obstacles: readonly unknown[];
}

/** More of it is better; of every other measure less is. */
const MORE: ReadonlySet<Measure> = new Set(['knows']);

/**
 * The same options by the first measure, what is equal by the next, and so on; what is equal in all in the order given. The panel as it
 * is stays first, what cannot be built comes last, what has no figure after what has one. Nothing ranked: as given, with those rules.
 */
export function rankOptions<T extends Rankable>(options: readonly T[], order: readonly Measure[]): readonly T[] {
  return options
    .map((option, i) => ({ option, i }))
    .sort((a, b) => compare(a.option, b.option, order) || a.i - b.i)
    .map(({ option }) => option);
}

function compare(a: Rankable, b: Rankable, order: readonly Measure[]): number {
  const first = Number(b.kind === 'as-is') - Number(a.kind === 'as-is');
  if (first !== 0) return first;
  const built = Number(a.obstacles.length > 0) - Number(b.obstacles.length > 0);
  if (built !== 0) return built;
  for (const measure of order) {
    const [x, y] = [figure(a.figures, measure), figure(b.figures, measure)];
    if (x === y) continue;
    if (x === null) return 1;
    if (y === null) return -1;
    return MORE.has(measure) ? y - x : x - y;
  }
  return 0;
}

function figure(figures: Figures, measure: Measure): number | null {
  return measure === 'knows' ? figures.lampsKnow.drive + 2 * figures.lampsKnow.blades : figures[measure];
}
