/** Findings of one cause as one: rows that say the same of one thing after the other. */
import type { LayFinding } from '../worker/types.ts';

/** Fewer than this stand better as they are. */
const LEAST = 3;

/** A figure that is no part of a name: "12.4" but not the 4 of "P4". */
const FIGURE = /(?<![\p{L}\d.])\d[\d.]*/gu;

/** Findings that are alike, in the order that they came; one alone is a group of one. */
export interface Alike {
  readonly first: LayFinding;
  readonly more: readonly LayFinding[];
}

/**
 * The same code saying the same of different things: what differs is the id that the finding is about and figures, and not what is missing or
 * faulty. Groups stand where their first stands, so the worst stay first.
 */
export function alikeIn(findings: readonly LayFinding[]): readonly Alike[] {
  const groups = new Map<string, LayFinding[]>();
  for (const finding of findings) {
    const key = `${finding.severity} ${finding.code} ${without(finding)}`;
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  return [...groups.values()].flatMap((group): readonly Alike[] => {
    const [first, ...more] = group;
    if (first === undefined) return [];
    return group.length < LEAST ? group.map((each) => ({ first: each, more: [] })) : [{ first, more }];
  });
}

/** The message without the first id that it is about, wherever that stands, and without figures. */
function without({ ids, message }: LayFinding): string {
  const [about] = ids;
  const words = about === undefined || about === '' ? message : message.split(about).join('');
  return words.replace(FIGURE, '');
}
