/** Figures that the user fixes in Wire, as edits of the panel: what is fixed stands in the file, what is left to the sum does not. */
import { editOf, newIds, type PanelFile, type Transaction } from '../../panel/index.ts';
import type { WireGroup, WireValue } from '../worker/wire-types.ts';

/** Fix a figure, in base units; undefined: leave it to the sum. Null where it says so already. */
export function fixValue(
  panel: PanelFile,
  { what, id }: Pick<WireValue, 'what' | 'id'>,
  value: number | undefined,
  group: WireGroup | null,
): Transaction | null {
  switch (what) {
    case 'ohms': {
      if (group === null) return null;
      const edit = editOf(panel);
      const { lamps, arrange, guard } = group;
      const there = panel.lampGroups?.some((each) => each.id === group.id) === true;
      if (there) return edit.update('lampGroups', group.id, { ohms: value }).done('value.fix');
      if (value === undefined) return null;
      return edit.add('lampGroups', { id: group.id, lamps: [...lamps], arrange, guard, ohms: value }).done('value.fix');
    }
    case 'lamp-amps': {
      const there = panel.lamps?.some((each) => each.id === id) === true;
      return there ? editOf(panel).update('lamps', id, { current: value }).done('value.fix') : null;
    }
    case 'supply-volts': {
      const there = panel.supplies?.some((each) => each.id === id) === true;
      if (there) return editOf(panel).update('supplies', id, { volts: value }).done('value.fix');
      return value === undefined ? null : editOf(panel).add('supplies', { id, volts: value }).done('value.fix');
    }
    case 'drive-amps':
      return fixDrive(panel, id, (record) => {
        const { amps: _, ...rest } = record?.measured ?? {};
        const measured = value === undefined ? rest : { ...rest, amps: value };
        return { measured: Object.keys(measured).length === 0 ? undefined : measured };
      });
    case 'wire-length':
      return fixDrive(panel, id, (record) => {
        const { length: _, ...rest } = record?.wire ?? {};
        const wire = value === undefined ? rest : { ...rest, length: value };
        return { wire: Object.keys(wire).length === 0 ? undefined : wire };
      });
  }
}

type DriveRecord = NonNullable<PanelFile['drives']>[number];

function fixDrive(
  panel: PanelFile,
  id: string,
  patch: (record: DriveRecord | undefined) => Partial<Pick<DriveRecord, 'measured' | 'wire'>>,
): Transaction | null {
  const record = panel.drives?.find((each) => each.id === id);
  if (record !== undefined) return editOf(panel).update('drives', id, patch(record)).done('value.fix');
  // A drive without a record bears its point's id: it gets a record of its own, and the point is told.
  const point = panel.points?.find((each) => each.id === id);
  if (point === undefined) return null;
  const drive = newIds(panel).next('D');
  const part = point.drive === undefined ? {} : { part: point.drive };
  return editOf(panel)
    .add('drives', { id: drive, ...part, ...present(patch(undefined)) })
    .update('points', id, { drive })
    .done('value.fix');
}

/** A patch without the keys that it takes away. */
function present<T extends object>(patch: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]: Exclude<T[K], undefined>;
  };
}
