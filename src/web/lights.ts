/** Lights up or down: as the device has it, unless the user says otherwise; what they say is remembered on this device. */
import { note, noted } from './device-notes.ts';

export type Lights = 'up' | 'down' | 'follow';

const NAME = 'lights';
/** The colour of the bar, for the browser's own frame: --paper of tokens.css. */
const FRAME = { up: '#f6f7f4', down: '#1b2123' } as const;

/** What the user chose last; `follow` where nothing is kept or keeping is not allowed. */
export function keptLights(): Lights {
  const kept = noted(NAME);
  return kept === 'up' || kept === 'down' ? kept : 'follow';
}

/** Remember a choice; a device that keeps nothing just forgets it. */
export function keepLights(lights: Lights): void {
  note(NAME, lights === 'follow' ? null : lights);
}

const device = (): MediaQueryList => matchMedia('(prefers-color-scheme: dark)');

/** Are the lights down, for this choice on this device? */
export const areDown = (lights: Lights): boolean => (lights === 'follow' ? device().matches : lights === 'down');

/** Put the choice on the page. */
export function setLights(lights: Lights): void {
  const down = areDown(lights);
  document.documentElement.dataset.theme = down ? 'dark' : 'light';
  for (const meta of document.querySelectorAll('meta[name="theme-color"]'))
    meta.setAttribute('content', down ? FRAME.down : FRAME.up);
}

/** Call back whenever the device's own choice changes; returns what stops it. */
export function watchDevice(changed: () => void): () => void {
  const query = device();
  query.addEventListener('change', changed);
  return () => query.removeEventListener('change', changed);
}
