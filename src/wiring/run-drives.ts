/** The wires to a lever's drives: from the commons to the pins, along the pins of one shell, and under the layout to the tags. */
import { wireOhms } from '../units/index.ts';
import { type Join, panelJoin } from './join.ts';
import type { Pin, Terminal, WiredDrive } from './types.ts';

/** Inside the panel first, drive by drive, then under the layout. A drive without pins has no wires. */
export function runDrives(
  lever: string,
  drives: readonly WiredDrive[],
  pinsOf: ReadonlyMap<string, readonly Pin[]>,
): readonly Join[] {
  const inside: Join[] = [];
  const layout: Join[] = [];
  /** The last pair of pins so far in each shell. */
  const lastIn = new Map<string, readonly [Terminal, Terminal]>();
  for (const drive of drives) {
    const pins = pinsOf.get(drive.id) ?? [];
    const [plus, minus] = pins;
    if (plus === undefined || minus === undefined) continue;
    const [fromPlus, fromMinus] = lastIn.get(plus.connector) ?? [`${lever}.t2`, `${lever}.t5`];
    inside.push(panelJoin(fromPlus, plus.id, lever, `${lever}.t2`));
    inside.push(panelJoin(fromMinus, minus.id, lever, `${lever}.t5`));
    lastIn.set(plus.connector, [plus.id, minus.id]);
    const { length, gauge } = drive.wire;
    const ohms = wireOhms(length, gauge);
    for (const { id, to, net } of pins)
      layout.push({ from: id, to, circuit: lever, net, side: 'layout', ohms, run: { length, gauge } });
  }
  return [...inside, ...layout];
}
