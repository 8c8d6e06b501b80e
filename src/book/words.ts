/** Names as the book says them, read off the derived panel. */
import type { Derived } from '../derive.ts';
import type { Lever } from '../plan/index.ts';
import type { Terminal } from '../wiring/index.ts';

/** "P4 and P5", "P1, P2 and P3". */
export function listed(items: readonly string[], joiner = 'and'): string {
  if (items.length <= 1) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${joiner} ${items.at(-1)}`;
}

/** "1 hole", "3 holes". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

export function leverTitle(lever: Lever): string {
  return lever.name === null || lever.name === '' || lever.name === lever.id ? lever.id : `${lever.id} ${lever.name}`;
}

/** A place by its name, else by its id. */
export function placeNames(derived: Derived): (id: string) => string {
  const names = new Map(derived.plan.places.map((place) => [place.id, place.name ?? place.id]));
  return (id) => names.get(id) ?? id;
}

/** What a lever's positions ask: "P4 and P5 normal, P6 reverse". */
export function askedWords(lever: Lever, position: 'normal' | 'reverse'): string {
  const lies = { normal: [] as string[], reverse: [] as string[] };
  for (const worked of lever.works) {
    const lie = position === 'normal' ? worked.whenNormal : worked.whenNormal === 'normal' ? 'reverse' : 'normal';
    lies[lie].push(worked.point);
  }
  return (['normal', 'reverse'] as const)
    .flatMap((lie) => (lies[lie].length === 0 ? [] : [`${listed(lies[lie])} ${lie}`]))
    .join(', ');
}

/** So many ids in order are given as a range. */
const RANGE_LEAST = 4;

/** Ids with their runs shortened: "H1 to H9, H12 H13". The order is kept. */
export function ranges(ids: readonly string[]): string {
  const cut = ids.map((id) => /^(.*?)(\d+)$/.exec(id));
  const runs: string[][] = [];
  for (const [i, id] of ids.entries()) {
    const [now, before] = [cut[i], cut[i - 1]];
    const follows =
      now && before && now[1] === before[1] && Number(now[2]) === Number(before[2]) + 1 && now[2]?.[0] !== '0';
    const run = runs.at(-1);
    if (follows && run !== undefined) run.push(id);
    else runs.push([id]);
  }
  const said = runs.flatMap((run) => (run.length < RANGE_LEAST ? run : [`${run[0] ?? ''} to ${run.at(-1) ?? ''}`]));
  return said.reduce((text, each, i) => {
    const comma = i > 0 && (each.includes(' to ') || (said[i - 1] ?? '').includes(' to '));
    return `${text}${i === 0 ? '' : comma ? ', ' : ' '}${each}`;
  }, '');
}

/** Is this terminal a tag of that switch? */
export function isTagOf(terminal: Terminal, lever: string): boolean {
  return terminal.startsWith(`${lever}.t`);
}
