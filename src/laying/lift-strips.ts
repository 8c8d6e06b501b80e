/** Strips taken off the sheet, and what went with them. */
import { editOf, type PanelFile, type Transaction } from '../panel/index.ts';
import { byId } from '../plan/index.ts';
import { after, finish, planOf } from './edits.ts';
import { lampsOn, stripOf } from './on-strips.ts';
import { takeOut } from './take-out.ts';

/** What lifting does. Ids in the order of the file, those of the plan by number. */
export interface Lifted {
  /** Null where there is no such strip. */
  readonly edit: Transaction | null;
  /** Lamps that stood on the tape: taken along or left standing, as was asked. */
  readonly lamps: readonly string[];
  /** Points and crossings that are no more. */
  readonly points: readonly string[];
  /** Named places that are no more. */
  readonly places: readonly string[];
  /** Levers that worked one of those points, and stay. */
  readonly levers: readonly string[];
}

/** Strips taken off. `lamps`: those that stand on them go too; else they stay and are only named in the answer. */
export function liftStrips(
  panel: PanelFile,
  ids: readonly string[],
  { lamps: takeLamps = false }: { readonly lamps?: boolean } = {},
): Lifted {
  const there = [...new Set(ids)].filter((id) => stripOf(panel, id) !== undefined);
  const lamps = lampsOn(panel, new Set(there)).map(({ id }) => id);
  const edit = editOf(panel);
  if (takeLamps)
    takeOut(
      edit,
      lamps.map((id) => ({ list: 'lamps' as const, id })),
    );
  for (const id of there) edit.remove('strips', id);
  const tx = finish(panel, edit, 'strip.lift');
  if (tx === null) return { edit: null, lamps: [], points: [], places: [], levers: [] };
  const [was, is] = [planOf(panel), planOf(after(panel, tx))];
  const left = new Set([...is.points, ...is.crossings, ...is.places].map(({ id }) => id));
  const points = [...was.points, ...was.crossings].map(({ id }) => id).filter((id) => !left.has(id));
  const gone = new Set(points);
  return {
    edit: tx,
    lamps,
    points: points.sort(byId),
    places: was.places.filter(({ id, record }) => record?.name !== undefined && !left.has(id)).map(({ id }) => id),
    levers: was.levers.filter(({ works }) => works.some(({ point }) => gone.has(point))).map(({ id }) => id),
  };
}
