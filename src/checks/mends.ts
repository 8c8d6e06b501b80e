/** Mends that several subjects offer. */
import { editOf, type ListKey, nextFreeId, type PanelFile, type RecordName, type Transaction } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import type { Mend } from './types.ts';

/** A mend; `edit` null: only hands can do it. */
export function mend(id: string, text: string, edit: Transaction | null, price: number | null = null): Mend {
  return { id, text, price, edit };
}

/** To a hundredth: no tail of a sum in a price. */
export function money(price: number): number {
  return Math.round(price * 100) / 100;
}

/** Take a record out of the file; without an edit where it is not there. */
export function liftRecord(panel: PanelFile, list: ListKey, name: RecordName, id: string, text: string): Mend {
  const records = panel[list] ?? [];
  const there =
    typeof name === 'number' ? name < records.length : records.some((each) => 'id' in each && each.id === name);
  return mend(id, text, there ? editOf(panel).remove(list, name).done('record.lift') : null);
}

/** A new lever that works one point. */
export function addLever(panel: PanelFile, catalogue: Catalogue, point: string): Mend {
  const id = nextFreeId(panel, 'L');
  const edit = editOf(panel)
    .add('levers', { id, works: [{ point }] })
    .done('lever.add');
  return mend('add-lever', `Add a lever for ${point}`, edit, catalogue.find('switch', 'toggle-2p')?.price ?? null);
}

/** Leave a point to the first lever that works it, or all of some points to one lever. */
export function leaveTo(panel: PanelFile, lever: string, points: readonly string[]): Mend {
  const gone = new Set(points);
  let edit = editOf(panel);
  let changed = false;
  for (const record of panel.levers ?? []) {
    const works = record.works ?? [];
    const kept = works.filter((each) => each.point === undefined || !gone.has(each.point));
    const first = record.id === lever ? points.filter((id) => !works.some((each) => each.point === id)) : [];
    const next =
      record.id === lever
        ? [...works, ...first.map((point) => ({ point }))]
        : kept.length < works.length
          ? kept
          : works;
    if (next.length === works.length) continue;
    edit = edit.update('levers', record.id, { works: next });
    changed = true;
  }
  return mend('one-lever', `Leave ${points.join(' and ')} to ${lever}`, changed ? edit.done('lever.works') : null);
}

/** Each lamp of a group behind a resistor of its own, and guarded, since none guards another any more. */
export function ownResistors(panel: PanelFile, catalogue: Catalogue, id: string): Mend {
  const record = panel.lampGroups?.find((each) => each.id === id);
  const edit =
    record === undefined
      ? null
      : editOf(panel)
          .update('lampGroups', id, { arrange: 'own' as const, guard: 'antiparallel' as const, ohms: undefined })
          .done('group.own');
  const lamps = record?.lamps.length ?? 0;
  const price =
    lamps *
    ((catalogue.find('resistor', 'resistor-quarter-watt')?.price ?? 0) +
      (catalogue.find('diode', 'diode-small')?.price ?? 0));
  return mend('own-resistors', 'Give each a resistor and a guard diode of its own', edit, money(price));
}
