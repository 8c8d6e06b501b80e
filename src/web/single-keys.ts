/**
 * Whether single letters and figures do something as keys. Who speaks to the machine, or rests a hand on the keys, switches them off: WCAG 2.2,
 * 2.1.4. Kept on this device.
 */
const KEY = 'mimicwright.single-keys';

// Where nothing can be kept, it holds until the window closes.
let now: boolean | null = null;

/** On, unless somebody has switched them off. */
export function hasSingleKeys(): boolean {
  if (now !== null) return now;
  try {
    return localStorage.getItem(KEY) !== 'off';
  } catch {
    return true;
  }
}

export function keepSingleKeys(on: boolean): void {
  now = on;
  try {
    localStorage.setItem(KEY, on ? 'on' : 'off');
  } catch {
    // Storage can be barred by the user.
  }
}
