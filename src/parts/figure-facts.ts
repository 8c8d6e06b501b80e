import { FIGURE_RULES, type FigureRule, type Spread } from './figure-rules.ts';
import { isForeign } from './figures.ts';
import type { Part } from './types.ts';

/** One figure of one part: what it is, what is typical, how far the kind goes, and where that comes from. */
export interface FigureFact {
  /** As the file writes it. */
  readonly figure: string;
  /** One sentence without a stop. */
  readonly what: string;
  /** V, A, ohm, H, F, s, mm, mm2, W; empty for a count, a share, a word. */
  readonly unit: string;
  /** The part's own; of two numbers (`body`, a range of volts) both, in order; else a word, or yes or no. */
  readonly value: readonly number[] | string | boolean;
  /** Least and greatest across the kind, one for each number; null where the figure is no number. */
  readonly range: readonly Spread[] | null;
  readonly source: string;
  /** The part does not say it: it follows from others, or counts where nothing is said. */
  readonly derived: boolean;
}

/**
 * Every figure of a part in the order in which it is read; the rest of the kind's figures it does not have. Name and source
 * are the part's own words and left out. Of a part of the user's the range is that of the typical parts it resembles.
 */
export function figureFacts(part: Part): readonly FigureFact[] {
  // Each list of rules belongs to the kind that it is found under, which the compiler cannot follow through the union.
  const rules = FIGURE_RULES[part.kind] as readonly FigureRule<Part>[];
  const said = new Map<string, unknown>(Object.entries(part));
  const facts: FigureFact[] = [];
  for (const { figure, what, unit, spread, source, absent } of rules) {
    if (isForeign(part, figure)) continue;
    const own = said.get(figure);
    const value = saidValue(own) ?? (absent === undefined ? undefined : [absent(part)]);
    if (value === undefined) continue;
    facts.push({
      figure,
      what,
      unit,
      value,
      range: spread(part),
      source: typeof source === 'string' ? source : source(part),
      derived: own === undefined,
    });
  }
  return facts;
}

/** What a part says for a figure, as a fact holds it; undefined where it says nothing. */
function saidValue(said: unknown): FigureFact['value'] | undefined {
  if (typeof said === 'number') return [said];
  if (typeof said === 'string' || typeof said === 'boolean') return said;
  if (Array.isArray(said)) return said.map(Number);
  if (typeof said === 'object' && said !== null && 'low' in said && 'high' in said)
    return [Number(said.low), Number(said.high)];
  return undefined;
}
