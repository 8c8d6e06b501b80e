import { knownKeys, type Outline, panelOutline, stepInto } from './outline.ts';
import type { Path } from './words.ts';

/** An id and where it is given. */
export interface IdPlace {
  readonly id: string;
  readonly path: Path;
}

/**
 * Every id that a file gives, in the order of the schema: of records, of the ends of slips, of the points of three-ways, of boosters.
 * A three-way's point that has a record in `points` is that record and not a second id.
 * Takes anything: what is no text where an id should be is passed over.
 */
export function idsIn(file: unknown): IdPlace[] {
  const found: IdPlace[] = [];
  collect(file, panelOutline, [], found);
  const points = new Set(found.filter(({ path }) => path[0] === 'points').map(({ id }) => id));
  return found.filter(({ id, path }) => !(path[0] === 'threeWays' && path[2] === 'points' && points.has(id)));
}

function collect(value: unknown, outline: Outline, path: Path, found: IdPlace[]): void {
  if (Array.isArray(value)) {
    if (path[0] === 'threeWays' && path[2] === 'points') {
      value.forEach((id, i) => {
        if (typeof id === 'string') found.push({ id, path: [...path, i] });
      });
    } else if (givesIds(stepInto(outline, 0))) {
      for (const [i, item] of value.entries()) collect(item, stepInto(outline, i), [...path, i], found);
    }
    return;
  }
  const known = knownKeys(outline);
  if (known === null || typeof value !== 'object' || value === null) return;
  for (const [key, inner] of known) {
    const item: unknown = Object.hasOwn(value, key) ? Reflect.get(value, key) : undefined;
    if (key === 'id' && typeof item === 'string') found.push({ id: item, path: [...path, key] });
    else if (givesIds(inner) || key === 'points') collect(item, inner, [...path, key], found);
  }
}

/** Can anything with an id stand in here? Keeps long paths and tables from being walked for nothing. */
function givesIds(outline: Outline): boolean {
  const known = GIVERS.get(outline);
  if (known !== undefined) return known;
  const inside =
    outline.kind === 'object'
      ? outline.keys.has('id') || [...outline.keys.values()].some(givesIds)
      : outline.kind === 'list' && givesIds(outline.item);
  GIVERS.set(outline, inside);
  return inside;
}
const GIVERS = new WeakMap<Outline, boolean>();

/** An id as it is compared: ids that differ by case alone are the same id, since SPICE names do not keep case. */
export function foldId(id: string): string {
  return id.toLowerCase();
}
