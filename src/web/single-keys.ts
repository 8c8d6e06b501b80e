/**
 * Whether single letters and figures do something as keys. Who speaks to the machine, or rests a hand on the keys, switches them off: WCAG 2.2,
 * 2.1.4. Kept on this device.
 */
import { note, noted } from './device-notes.ts';

const NAME = 'single-keys';

// Where nothing can be kept, it holds until the window closes.
let now: boolean | null = null;

/** On, unless somebody has switched them off. */
export function hasSingleKeys(): boolean {
  return now ?? noted(NAME) !== 'off';
}

export function keepSingleKeys(on: boolean): void {
  now = on;
  note(NAME, on ? 'on' : 'off');
}
