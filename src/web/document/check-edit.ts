/** Does an edit leave a panel that a file can hold? Where it only alters records, those alone are looked at: a drag of a strip must not wait. */
import { checkPanel, type FileProblem, FORMAT, type PanelFile, type Transaction, VERSION } from '../../panel/index.ts';

/** Lists whose records give no id but their own. */
const PLAIN_LISTS: ReadonlySet<string> = new Set([
  'strips',
  'places',
  'points',
  'levers',
  'lamps',
  'platforms',
  'plates',
]);

/** What is wrong with the panel after an edit, given that nothing was before; empty where nothing is. */
export function checkEdit(after: PanelFile, transaction: Transaction): readonly FileProblem[] {
  const read = checkPanel(alteredAlone(transaction) ?? after);
  return read.ok ? [] : read.problems;
}

/** A panel of nothing but the altered records; null where an edit does more than alter plain records. */
function alteredAlone({ changes }: Transaction): object | null {
  const lists = new Map<string, Map<string | number, unknown>>();
  for (const change of changes) {
    if (change.kind !== 'update' || !PLAIN_LISTS.has(change.list) || change.from.id !== change.to.id) return null;
    const records = lists.get(change.list) ?? new Map<string | number, unknown>();
    lists.set(change.list, records.set(change.id, change.to));
  }
  const records = Object.fromEntries([...lists].map(([list, byId]) => [list, [...byId.values()]]));
  return { format: FORMAT, version: VERSION, strips: [], ...records };
}
