/** What kind of drive moves a point. */
import { DEFAULTS, editOf, type PanelFile, squash, type Transaction } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { type PlanPoint, pointsWithoutLever, recordsToAdd } from '../plan/index.ts';
import { accepted, after, planOf } from './edits.ts';
import { writtenSpot } from './geometry.ts';
import { ownLever, takeOffLevers } from './lever-points.ts';

/**
 * The kind of drive of points, as a part; null: the usual one. A drive that has a record keeps it, wires and all, but for what the meter
 * read of the old one; points that share it change together. Where the file names the levers, a point that a hand or a decoder works
 * from now on leaves its lever, and one that a lever can work again gets one of its own. Null where nothing would change, or the
 * catalogue has no such drive.
 */
export function setDrive(panel: PanelFile, points: readonly string[], part: string | null): Transaction | null {
  if (part !== null && resolveCatalogue(panel.parts).find('drive', part) === undefined) return null;
  const name = 'point.drive';
  const usual = DEFAULTS.drive.part;
  let tx: Transaction = { name, changes: [] };
  let now = panel;
  const take = (next: Transaction | null): void => {
    if (next === null) return;
    tx = { name, changes: squash(tx, next).changes };
    now = after(now, next);
  };
  for (const point of planOf(panel).points.filter(({ id }) => points.includes(id))) {
    const wanted = point.record?.drive;
    const record = now.drives?.find(({ id }) => id === wanted);
    if (record === undefined) {
      if ((wanted ?? usual) === (part ?? usual)) continue;
      // Only a slip or a three-way that has a record can say more of its ends.
      if (point.of !== 'point') take(recordsToAdd(now, planOf(now)));
      take(nameDrive(now, point, part));
    } else if ((record.part ?? usual) !== (part ?? usual)) {
      const said = { part: part ?? undefined, measured: undefined };
      take(editOf(now).update('drives', record.id, said).done(name));
    }
  }
  if (panel.levers !== undefined) {
    const [was, is] = [pointsWithoutLever(panel, planOf(panel).points), pointsWithoutLever(now, planOf(now).points)];
    for (const { id } of planOf(now).points) {
      if (was.has(id) === is.has(id)) continue;
      const worked = planOf(now).levers.some(({ works }) => works.some((each) => each.point === id));
      if (is.has(id)) take(takeOffLevers(now, id));
      else if (!worked) take(ownLever(now, id));
    }
  }
  return accepted(panel, tx);
}

/** What a point's own record, or that of its slip, says of its drive. */
function nameDrive(panel: PanelFile, point: PlanPoint, part: string | null): Transaction {
  const edit = editOf(panel);
  const drive = part ?? undefined;
  const slip = panel.crossings?.find(({ ends }) => ends?.some(({ id }) => id === point.id));
  if (slip !== undefined) {
    const ends = slip.ends?.map(({ drive: _, ...rest }, i) =>
      slip.ends?.[i]?.id !== point.id ? (slip.ends?.[i] ?? rest) : drive === undefined ? rest : { ...rest, drive },
    );
    edit.update('crossings', slip.id, { ends });
  } else if (panel.points?.some(({ id }) => id === point.id) === true) edit.update('points', point.id, { drive });
  else if (drive !== undefined) edit.add('points', { id: point.id, at: writtenSpot(point.at), drive });
  return edit.done('point.drive');
}
