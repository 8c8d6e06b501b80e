/** Relays whose contacts light lamps: two coils on the coils of a point, the last pulse decides. */
import type { LightTree } from '../lamps/index.ts';
import type { PanelFile } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import type { WiredDrive, WiredRelay } from './types.ts';

/** The relay that stands in where the file names none, or one that is not there. */
const LATCHING = 'relay-latching-2p';

/** Relays in the order in which lamps need them. */
export function wireRelays(
  panel: PanelFile,
  catalogue: Catalogue,
  trees: readonly LightTree[],
  drives: readonly WiredDrive[],
): readonly WiredRelay[] {
  const usual = catalogue.find('relay', LATCHING);
  if (usual === undefined) throw new RangeError(`the catalogue holds no ${LATCHING}`);
  const found = new Map<string, WiredRelay>();
  for (const { carrier } of trees.flatMap(({ links }) => links)) {
    const point = carrier.points[0]?.point;
    if (carrier.kind !== 'relay' || point === undefined || found.has(carrier.id)) continue;
    const { id } = carrier;
    const record = panel.relays?.find((each) => each.id === id);
    const part = catalogue.find('relay', record?.part ?? LATCHING) ?? usual;
    const drive = drives.find(({ points }) => points.includes(point));
    found.set(id, {
      id,
      part,
      circuit: drive?.circuit ?? point,
      point,
      coils: [
        { id: `${id}s`, a: `${id}.sp`, b: `${id}.sm`, diode: `FD-${id}` },
        { id: `${id}r`, a: `${id}.rp`, b: `${id}.rm`, diode: `FD-${id}r` },
      ],
    });
  }
  return [...found.values()];
}
