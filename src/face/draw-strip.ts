import { DEFAULTS, type PanelFile, stripBend, stripWidth } from '../panel/index.ts';
import { guidePath } from './path.ts';
import type { DrawnStrip } from './types.ts';

/** A strip as it lies on the sheet. */
export function drawStrip(strip: PanelFile['strips'][number]): DrawnStrip {
  return {
    id: strip.id,
    tape: strip.tape ?? DEFAULTS.strip.tape,
    width: stripWidth(strip),
    strokes: guidePath(strip.path, stripBend(strip)),
  };
}
