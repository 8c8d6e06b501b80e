/** Trains and where they stand, as an edit of the file. */
import { editOf, type PanelFile, type RecordOf, type Transaction } from '../panel/index.ts';
import { readTrains, type Standing } from '../routes/index.ts';
import { accepted, freshNames, known, patch, planOf } from './edits.ts';

/** The edit, and under which id it writes each train. */
export interface TrainsPut {
  readonly tx: Transaction;
  readonly ids: Readonly<Record<string, string>>;
}

/**
 * The file with these trains where they stand, and without those of its trains that stood at a place and are not among them. A train that is new
 * to the file keeps its id where nothing else has or had it, else it gets the next free one. Null where nothing would change.
 */
export function putTrains(panel: PanelFile, trains: Standing): TrainsPut | null {
  const there = new Set(readTrains(panel, planOf(panel)).map(({ id }) => id));
  const names = freshNames(panel);
  const claimed = trains.map(({ id }) => (there.has(id) ? id : names.claim(id)));
  const ids = Object.fromEntries(trains.map(({ id }, i) => [id, claimed[i] ?? names.next('T')]));
  const edit = editOf(panel);
  for (const id of there) if (!trains.some((train) => train.id === id)) edit.remove('trains', id);
  for (const { id, name, length, stands, heads } of trains) {
    const said = { name: name ?? undefined, length: length ?? undefined, stands, heads: heads ?? undefined };
    if (there.has(id)) edit.update('trains', id, patch<RecordOf<'trains'>>(said));
    else edit.add('trains', { id: ids[id] ?? id, ...known(said) });
  }
  const tx = accepted(panel, edit.done('trains.put'));
  return tx === null ? null : { tx, ids };
}
