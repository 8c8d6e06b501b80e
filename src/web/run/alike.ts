/** Findings of one cause as one: rows that say the same of one thing after the other. */
import type { ViewFinding } from '../worker/types.ts';

/** What is looked at of a finding. */
type Said = Pick<ViewFinding, 'code' | 'severity' | 'ids' | 'message'>;

/** Fewer than this stand better as they are. */
const LEAST = 3;

/** A figure with its unit: "12.4" of "12.4 mm", but neither the 4 of "P4" nor the 3 of "Strip 3". */
const FIGURE = /(?<![\p{L}\d.])\d[\d.]*(?=\s?(?:mm|mA|V|A|W|s|ohm|Ω|%|°)(?![\p{L}\d]))/gu;

/** Findings that are alike, in the order that they came; one alone is a group of one. */
export interface Alike<T> {
  readonly first: T;
  readonly more: readonly T[];
}

/**
 * The same code saying the same of different things: what differs is the id that the finding is about and figures, and not what is missing or
 * faulty. Groups stand where their first stands, so the worst stay first.
 */
export function alikeIn<T extends Said>(findings: readonly T[]): readonly Alike<T>[] {
  const groups = new Map<string, T[]>();
  for (const finding of findings) {
    const key = `${finding.severity} ${finding.code} ${without(finding)}`;
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  return [...groups.values()].flatMap((group): readonly Alike<T>[] => {
    const [first, ...more] = group;
    if (first === undefined) return [];
    return group.length < LEAST ? group.map((each) => ({ first: each, more: [] })) : [{ first, more }];
  });
}

/** The message without the first id that it is about, wherever that stands, and without figures. */
function without({ ids, message }: Said): string {
  const [about] = ids;
  const words = about === undefined || about === '' ? message : message.split(about).join('');
  return words.replace(FIGURE, '');
}
