/** Supplies of which the file says nothing. */
import { suppliesOf } from './defaults.ts';
import type { Edit } from './edit.ts';

/** The supplies that a file leaves to the default get a record, so that others can stand beside them; nothing where it has its own list. */
export function recordSupplies(edit: Edit): void {
  const { panel } = edit;
  if (panel.supplies !== undefined) return;
  for (const { id } of suppliesOf(panel)) edit.add('supplies', { id });
}
