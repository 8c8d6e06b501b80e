/** The unit that lengths are shown in. The file knows millimetres alone; this device remembers what was chosen. */
import { useSyncExternalStore } from 'react';
import type { RulerUnit } from './lay/rulers.ts';

const KEY = 'mimicwright.unit';
const heard = new Set<() => void>();

// Where nothing can be kept, it holds until the window closes.
let now: RulerUnit | null = null;

export function keptUnit(): RulerUnit {
  if (now !== null) return now;
  try {
    return localStorage.getItem(KEY) === 'in' ? 'in' : 'mm';
  } catch {
    return 'mm';
  }
}

export function keepUnit(unit: RulerUnit): void {
  now = unit;
  try {
    localStorage.setItem(KEY, unit);
  } catch {
    // Storage can be barred by the user.
  }
  for (const tell of heard) tell();
}

/** The unit chosen; drawn again when another is. */
export const useUnit = (): RulerUnit =>
  useSyncExternalStore((tell) => {
    heard.add(tell);
    return () => heard.delete(tell);
  }, keptUnit);
