/** Ids for what the file does not name: the next free number, passing over every id that the file uses or has retired. */
import { foldId, type PanelFile, takenIds } from '../panel/index.ts';

export interface NewIds {
  /** The prefix with the least number from 1 that is free; it is taken from then on. */
  next(prefix: string): string;
  /** Exactly this id where it is free, then taken; else null. */
  claim(id: string): string | null;
}

export function newIds(panel: PanelFile): NewIds {
  const taken = takenIds(panel);
  const reached = new Map<string, number>();
  const claim = (id: string) => {
    const folded = foldId(id);
    if (taken.has(folded)) return null;
    taken.add(folded);
    return id;
  };
  return {
    claim,
    next(prefix) {
      for (let n = (reached.get(prefix) ?? 0) + 1; ; n++) {
        const id = claim(`${prefix}${n}`);
        if (id === null) continue;
        reached.set(prefix, n);
        return id;
      }
    },
  };
}
