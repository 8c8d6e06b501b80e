/** Things taken off the sheet. */
import { type Edit, editOf, type PanelFile, type Transaction } from '../panel/index.ts';
import { finish } from './edits.ts';
import { isFaceList, type Picked, present, recordLevers, type Selection, setFaceList } from './picked.ts';

/**
 * Everything picked taken off; of a strip's picked corners only those corners, as long as two are left. Lamps leave their groups and levers
 * their returns, and a group without lamps goes; whatever else spoke of them stays and is told by a finding.
 */
export function removeThings(panel: PanelFile, selection: Selection): Transaction | null {
  const picked = present(panel, selection);
  const edit = editOf(panel);
  if (picked.some(({ list }) => list === 'levers')) recordLevers(edit);
  takeOut(
    edit,
    picked.filter(({ part }) => part === undefined),
  );
  const corners = new Map<string | number, Set<number>>();
  for (const { id, part } of picked)
    if (part !== undefined) corners.set(id, (corners.get(id) ?? new Set<number>()).add(part));
  for (const [id, out] of corners) {
    const strip = panel.strips.find((each) => each.id === id);
    const path = strip?.path.filter((_, i) => !out.has(i)) ?? [];
    if (path.length >= 2 && strip !== undefined) edit.update('strips', strip.id, { path });
  }
  return finish(panel, edit, 'thing.remove');
}

/** The same within an edit; everything named must be there. */
export function takeOut(edit: Edit, picked: Selection): void {
  const ids = (list: Picked['list']) => new Set(picked.filter((each) => each.list === list).map(({ id }) => id));
  const [lamps, levers] = [ids('lamps'), ids('levers')];
  for (const group of lamps.size === 0 ? [] : (edit.panel.lampGroups ?? [])) {
    const left = group.lamps.filter((id) => !lamps.has(id));
    if (left.length === group.lamps.length) continue;
    if (left.length === 0) edit.remove('lampGroups', group.id);
    else edit.update('lampGroups', group.id, { lamps: left });
  }
  for (const record of levers.size === 0 ? [] : (edit.panel.returns ?? [])) {
    const left = record.levers?.filter((id) => !levers.has(id));
    if (left !== undefined && left.length !== record.levers?.length)
      edit.update('returns', record.id, { levers: left });
  }
  for (const list of ['fixings', 'keepOut'] as const) {
    const out = ids(list);
    if (out.size > 0)
      setFaceList(
        edit,
        list,
        (edit.panel.face?.[list] ?? []).filter((_, i) => !out.has(i)),
      );
  }
  // Indices from the last, so that those before stay what they are.
  const rest = picked.filter(({ list }) => !isFaceList(list));
  for (const { list, id } of [...rest].sort((a, b) =>
    typeof a.id === 'number' && typeof b.id === 'number' ? b.id - a.id : 0,
  ))
    if (!isFaceList(list)) edit.remove(list, id);
}
