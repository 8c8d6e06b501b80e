import type { Terminal } from './types.ts';

/** The node of a pin's layout half; the pin's own name is the node towards the panel. */
export function layoutSide(pin: string): Terminal {
  return `${pin}:layout`;
}
