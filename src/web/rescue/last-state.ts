/**
 * The last state of a panel out of its raw records, with no part of the application: the newest snapshot that is JSON, and what the entries after it
 * do. Changes are done as they are written; what does not fit ends it. The application checks the panel when it opens the file.
 */
import { rescueWords } from '../words/rescue.ts';

type Raw = Readonly<Record<string, unknown>>;
type Panel = Record<string, unknown>;

export interface LastState {
  readonly text: string;
  /** Number of the entry up to which it goes. */
  readonly seq: number;
  /** What could not be used, in words; empty where all could. */
  readonly wrongs: readonly string[];
}

/** The last state that the records give; null where no snapshot and no opening of the panel can be read. Records may be anything. */
export function lastState(
  record: unknown,
  entries: readonly unknown[],
  snapshots: readonly unknown[],
): LastState | null {
  const wrongs: string[] = [];
  const bySeq = new Map(entries.filter(isRaw).map((entry) => [entry.seq, entry]));
  const starts = [
    ...snapshots.filter(isRaw).sort((a, b) => Number(b.seq) - Number(a.seq)),
    ...[...bySeq.values()].filter(({ kind }) => kind === 'open').reverse(),
  ];
  for (const start of starts) {
    let panel = parsed(start.text);
    if (panel === null || typeof start.seq !== 'number') {
      wrongs.push(rescueWords.badState(String(start.seq)));
      continue;
    }
    const stepOf = (seqs: unknown): Raw[] => list(seqs).flatMap((seq) => changesOf(bySeq.get(seq)));
    const past = list(start.past).map(stepOf);
    const future = list(start.future).map(stepOf);
    const passed = isRaw(record) ? list(record.aside).filter(isRaw) : [];
    const isPassed = (seq: number): boolean => passed.some(({ from, to }) => seq >= Number(from) && seq <= Number(to));
    let seq = start.seq;
    for (const [number, entry] of [...bySeq].sort((a, b) => Number(a[0]) - Number(b[0]))) {
      if (typeof number !== 'number' || number <= seq) continue;
      if (isPassed(number)) continue;
      try {
        let next = seq + 1;
        while (next < number && isPassed(next)) next++;
        if (next < number) throw new Error(rescueWords.missing(next));
        // On a copy, so that of an entry that does not fit nothing is done.
        const after: Panel = { ...panel };
        goOn(after, entry, past, future);
        [panel, seq] = [after, number];
      } catch (error) {
        wrongs.push(rescueWords.badEntry(number, error instanceof Error ? error.message : String(error)));
        break;
      }
    }
    return { text: `${JSON.stringify(panel, null, 1)}\n`, seq, wrongs };
  }
  return null;
}

/** Do one entry to the panel. */
function goOn(panel: Panel, entry: Raw, past: Raw[][], future: Raw[][]): void {
  if (entry.kind === 'name') return;
  if (entry.kind === 'open') {
    const opened = parsed(entry.text);
    if (opened === null) throw new Error('it opens what cannot be read');
    for (const key of Object.keys(panel)) delete panel[key];
    Object.assign(panel, opened);
    past.length = 0;
    future.length = 0;
  } else if (entry.kind === 'edit') {
    const changes = changesOf(entry);
    for (const change of changes) doChange(panel, change);
    if (entry.joins === true) past.at(-1)?.push(...changes);
    else past.push([...changes]);
    future.length = 0;
  } else if (entry.kind === 'undo' || entry.kind === 'redo') {
    const [from, to] = entry.kind === 'undo' ? [past, future] : [future, past];
    const step = from.pop();
    if (step === undefined || step.length === 0) throw new Error(`there is nothing to ${entry.kind}`);
    for (const change of entry.kind === 'undo' ? [...step].reverse().map(inverse) : step) doChange(panel, change);
    to.push(step);
  } else throw new Error('it is of no known kind');
}

function inverse(change: Raw): Raw {
  if (change.kind === 'add') return { ...change, kind: 'remove' };
  if (change.kind === 'remove') return { ...change, kind: 'add' };
  return { ...change, from: change.to, to: change.from };
}

function doChange(panel: Panel, { kind, key, list: name, id, index, record, whole, to }: Raw): void {
  if (kind === 'set') {
    if (to === undefined) delete panel[String(key)];
    else panel[String(key)] = to;
    return;
  }
  const records = [...list(panel[String(name)])];
  if (kind === 'update') {
    const at = typeof id === 'number' ? id : records.findIndex((one) => isRaw(one) && one.id === id);
    if (records[at] === undefined) throw new Error(`there is no ${String(id)} in ${String(name)}`);
    records[at] = to;
  } else if (typeof index !== 'number' || index > records.length) throw new Error(`no place in ${String(name)}`);
  else if (kind === 'add') records.splice(index, 0, record);
  else if (kind === 'remove') records.splice(index, 1);
  else throw new Error('a change of no known kind');
  if (whole === true && records.length === 0) delete panel[String(name)];
  else panel[String(name)] = records;
}

const changesOf = (entry: Raw | undefined): Raw[] =>
  isRaw(entry?.transaction) ? list(entry.transaction.changes).filter(isRaw) : [];

function parsed(text: unknown): Panel | null {
  try {
    const value: unknown = typeof text === 'string' ? JSON.parse(text) : null;
    return isRaw(value) ? { ...value } : null;
  } catch {
    return null;
  }
}

const list = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

export function isRaw(value: unknown): value is Raw {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
