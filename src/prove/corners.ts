/** A figure of one circuit at every corner of supply, lamps and drives: for lamps that stand in series with their drives. */
import { type OperatingPoint, solveDc } from '../circuit/index.ts';
import type { Lies } from '../panel/index.ts';
import { carrierLies, type Edge, NOMINAL, netlistOf, type Position, type Wiring } from '../wiring/index.ts';
import type { Band } from './bands.ts';

const EDGES: readonly Edge[] = ['low', 'high'];

/** The least and the greatest that `read` finds, the circuit alone on its supplies. */
export function atCorners(
  wiring: Wiring,
  circuit: string,
  levers: Readonly<Record<string, Position>>,
  history: Lies,
  read: (point: OperatingPoint) => number,
): Band {
  const circuits = new Set([circuit]);
  const lies = carrierLies(wiring, levers, history);
  const found = EDGES.flatMap((supply) =>
    EDGES.flatMap((lamps) =>
      EDGES.map((draw) => {
        const corner = { ...NOMINAL, supply, lamps, draw };
        return read(solveDc(netlistOf(wiring, levers, { circuits, corner, lies })));
      }),
    ),
  );
  return { low: Math.min(...found), high: Math.max(...found) };
}
