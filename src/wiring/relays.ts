/**
 * Relays whose contacts light lamps or hold a feed: two coils on the coils of a point or the throws of a lever, the last pulse decides; or
 * one coil across a feed that turns over, which it follows.
 */
import type { Latch } from '../contacts/index.ts';
import type { LightTree } from '../lamps/index.ts';
import { DEFAULTS, type PanelFile } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import { partsOf } from './circuit-parts.ts';
import type { WiredDrive, WiredRelay, Wiring } from './types.ts';

/**
 * Relays that hold feeds, in the order of their levers, then others in the order in which lamps need them. The usual one stands in where
 * the file names none, or one that is not there. Throws where the catalogue lacks that.
 */
export function wireRelays(
  panel: PanelFile,
  catalogue: Catalogue,
  trees: readonly LightTree[],
  drives: readonly WiredDrive[],
  latches: ReadonlyMap<string, Latch>,
): readonly WiredRelay[] {
  const usual = catalogue.find('relay', DEFAULTS.relay.part);
  if (usual === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.relay.part}`);
  const found = new Map<string, WiredRelay>();
  for (const [circuit, { id, part, point }] of latches)
    found.set(id, { id, part, circuit, point, holds: true, coils: coilsOf(id) });
  for (const { carrier } of trees.flatMap(({ links }) => links)) {
    const point = carrier.points[0]?.point;
    if (carrier.kind !== 'relay' || point === undefined || found.has(carrier.id)) continue;
    const { id } = carrier;
    const record = panel.relays?.find((each) => each.id === id);
    const part = catalogue.find('relay', record?.part ?? DEFAULTS.relay.part) ?? usual;
    const drive = drives.find(({ points }) => points.includes(point));
    found.set(id, {
      id,
      part,
      circuit: drive?.circuit ?? point,
      point,
      coils: part.latching ? coilsOf(id) : [{ id: `${id}c`, a: `${id}.p`, b: `${id}.m`, diode: `FD-${id}` }],
    });
  }
  return [...found.values()];
}

/** The relay whose contacts hold a circuit's feed where its lever's poles would; null where none does. */
export function relayHolding(wiring: Wiring, circuit: string): WiredRelay | null {
  return partsOf(wiring).latched.get(circuit) ?? null;
}

/** The coil that sets it and the one that resets it. */
function coilsOf(id: string): WiredRelay['coils'] {
  return [
    { id: `${id}s`, a: `${id}.sp`, b: `${id}.sm`, diode: `FD-${id}` },
    { id: `${id}r`, a: `${id}.rp`, b: `${id}.rm`, diode: `FD-${id}r` },
  ];
}
