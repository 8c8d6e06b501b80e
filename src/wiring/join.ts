import type { Millimetre, Ohm, SquareMillimetre } from '../units/index.ts';
import { NO_OHMS } from './tolerances.ts';
import type { Terminal } from './types.ts';

/** A wire before it has a number. */
export interface Join {
  readonly from: Terminal;
  readonly to: Terminal;
  /** The lever's id, or the supply's where it serves several levers. */
  readonly circuit: string;
  /** Of a supply's wire, the circuit that it reaches; null where it reaches none by itself. */
  readonly feeds: string | null;
  /** The terminal that names the net. */
  readonly net: Terminal;
  readonly side: 'panel' | 'layout';
  readonly ohms: Ohm;
  /** Under the layout: what its ohms were reckoned from. */
  readonly run: { readonly length: Millimetre; readonly gauge: SquareMillimetre } | null;
}

/** A wire inside the panel: nothing is lost in it. */
export function panelJoin(from: Terminal, to: Terminal, circuit: string, net: Terminal): Join {
  return { from, to, circuit, feeds: null, net, side: 'panel', ohms: NO_OHMS, run: null };
}
