/** The unit that lengths are shown in. The file knows millimetres alone; this device remembers what was chosen. */
import { useSyncExternalStore } from 'react';
import { note, noted } from './device-notes.ts';
import type { RulerUnit } from './lay/rulers.ts';

const NAME = 'unit';
const heard = new Set<() => void>();

// Where nothing can be kept, it holds until the window closes.
let now: RulerUnit | null = null;

export function keptUnit(): RulerUnit {
  return now ?? (noted(NAME) === 'in' ? 'in' : 'mm');
}

export function keepUnit(unit: RulerUnit): void {
  now = unit;
  note(NAME, unit);
  for (const tell of heard) tell();
}

/** The unit chosen; drawn again when another is. */
export const useUnit = (): RulerUnit =>
  useSyncExternalStore((tell) => {
    heard.add(tell);
    return () => heard.delete(tell);
  }, keptUnit);
