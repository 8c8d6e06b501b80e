import { CONNECTORS } from './connectors.ts';
import { DRIVES } from './drives.ts';
import { overlay } from './figures.ts';
import { LAMPS } from './lamps.ts';
import { CAPACITORS, CDUS, DIODES, RESISTORS, WIRES } from './small-parts.ts';
import { BUTTONS, CONTACTS, RELAYS, SWITCHES } from './switches.ts';
import type { Catalogue, Part, PartProblem } from './types.ts';

/**
 * A part as the user's file holds it: an id, what it is like, and figures flat by name. `like` names a typical part or
 * another of the user's own; without it the id itself names the typical part whose figures are changed.
 */
export interface OwnPart {
  readonly id: string;
  readonly like?: string | undefined;
  readonly [figure: string]: unknown;
}

/** Every typical part, kind by kind. Generic figures, each with its source; none is of a maker's goods. */
export const TYPICAL_PARTS: readonly Part[] = [
  ...LAMPS,
  ...DRIVES,
  ...SWITCHES,
  ...BUTTONS,
  ...RELAYS,
  ...CONTACTS,
  ...CONNECTORS,
  ...RESISTORS,
  ...DIODES,
  ...WIRES,
  ...CAPACITORS,
  ...CDUS,
];

// A Map and not an object: an id such as `__proto__` is an id like any other.
const TYPICAL: ReadonlyMap<string, Part> = new Map(TYPICAL_PARTS.map((part) => [part.id, part]));

const byId = (a: { readonly id: string }, b: { readonly id: string }): number =>
  a.id < b.id ? -1 : a.id > b.id ? 1 : 0;

/**
 * The typical parts with the user's own laid over them.
 *
 * An own part whose id is that of a typical part takes its place; `like` may name another own part, in any order in the
 * file and to any depth. A chain that comes back to itself, or ends at an id that is not there, makes no part (a typical
 * part of that id stays as it was) and one problem for each record on it. A typical id keeps its kind. Bad and unknown figures make a problem and
 * change nothing. Of two records with one id the first counts. Problems stand by id, then in the order of the record.
 */
export function resolveCatalogue(own: readonly OwnPart[] | undefined): Catalogue {
  const records = new Map<string, OwnPart>();
  for (const record of own ?? []) if (!records.has(record.id)) records.set(record.id, record);

  const problems: PartProblem[] = [];
  const resolved = new Map<string, Part | undefined>();
  for (const record of records.values()) resolveChain(record, records, resolved, problems);

  const parts = new Map(TYPICAL);
  for (const [id, part] of resolved) if (part !== undefined) parts.set(id, part);
  const sorted = [...parts.values()].sort(byId);

  return {
    find: (kind, id) => {
      const part = parts.get(id);
      return part !== undefined && isOfKind(part, kind) ? part : undefined;
    },
    all: (kind) => sorted.filter((part) => isOfKind(part, kind)),
    has: (id) => parts.has(id),
    problems: problems.sort(byId),
  };
}

function isOfKind<K extends Part['kind']>(part: Part, kind: K): part is Extract<Part, { kind: K }> {
  return part.kind === kind;
}

/** What a record builds on: `own` in the file first, since an own part takes the place of the typical one. */
function likeOf(record: OwnPart): string {
  // A record that is like its own id means the typical part, as one without `like` does.
  return typeof record.like === 'string' ? record.like : record.id;
}

/** Resolves a record and all that it builds on. A loop and not a recursion: a file may hold a chain of any length. */
function resolveChain(
  first: OwnPart,
  records: ReadonlyMap<string, OwnPart>,
  resolved: Map<string, Part | undefined>,
  problems: PartProblem[],
): void {
  const chain: OwnPart[] = [];
  const seen = new Set<string>();
  let base: Part | undefined;
  for (let record: OwnPart | undefined = first; record !== undefined; ) {
    if (resolved.has(record.id)) {
      base = resolved.get(record.id);
      break;
    }
    // Back where the chain has been: nothing to build on.
    if (seen.has(record.id)) break;
    seen.add(record.id);
    chain.push(record);
    const like = likeOf(record);
    const next: OwnPart | undefined = like === record.id ? undefined : records.get(like);
    if (next === undefined) base = TYPICAL.get(like);
    record = next;
  }
  for (const record of chain.reverse()) {
    if (base === undefined) {
      problems.push({ code: 'part-like-unknown', id: record.id, like: likeOf(record) });
    } else {
      const { id, like: _like, ...figures } = record;
      const laid = overlay(base, id, new Map(Object.entries(figures)));
      problems.push(...laid.problems.map((problem) => ({ ...problem, id })));
      const typical = TYPICAL.get(id);
      // What others take for a toggle must stay a toggle: a typical id keeps its kind.
      if (typical !== undefined && typical.kind !== laid.part.kind) {
        problems.push({ code: 'part-figure-bad', id, figure: 'like', expected: `another ${typical.kind}` });
        base = typical;
      } else base = laid.part;
    }
    resolved.set(record.id, base);
  }
}
