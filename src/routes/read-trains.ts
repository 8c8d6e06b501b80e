import type { PanelFile } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Standing } from './train-types.ts';

/** The trains of a file that stand at a place of the plan, in the order of the file; those that stand nowhere are left out. */
export function readTrains(panel: PanelFile, plan: Plan): Standing {
  const places = new Set(plan.places.map(({ id }) => id));
  return (panel.trains ?? []).flatMap(({ id, name = null, length = null, stands, heads = null }) =>
    stands !== undefined && places.has(stands) ? [{ id, name, length, stands, heads }] : [],
  );
}
