/**
 * A panel with its history, as a value that entries carry forward. The same function takes a hand's edit and an entry read back
 * from the database, so what is read back cannot differ from what was there.
 */
import { applyTransaction, invertTransaction, type PanelFile, squash, type Transaction } from '../../panel/index.ts';

/** Steps that can be undone. Older ones are folded into the panel. */
export const MOST_STEPS = 1_000;

/** One thing that was accepted, under its number. Numbers of a panel's entries rise by one. */
export type Entry = EditEntry | TurnEntry | OpenEntry | NameEntry;

interface Numbered {
  readonly seq: number;
  /** When, in ms since 1970 UTC. */
  readonly at: number;
}

export interface EditEntry extends Numbered {
  readonly kind: 'edit';
  readonly transaction: Transaction;
  /** What was edited, for the words of undo: "P7"; empty where there is nothing to name. */
  readonly subject: string;
  /** Does it go on with the step before it, as the next nudge of an arrow key does? */
  readonly joins: boolean;
}

/** One step back, or one forward again. */
export interface TurnEntry extends Numbered {
  readonly kind: 'undo' | 'redo';
}

/** The panel begins here, whatever came before. */
export interface OpenEntry extends Numbered {
  readonly kind: 'open';
  /** The panel as its file holds it. */
  readonly panel: PanelFile;
}

/** The state here was given a name; nothing of the panel changes. */
export interface NameEntry extends Numbered {
  readonly kind: 'name';
  readonly name: string;
}

/** What one undo takes back. */
export interface Step {
  readonly transaction: Transaction;
  readonly subject: string;
  readonly at: number;
  /** The entries that it is made of, first to last. */
  readonly seqs: readonly number[];
}

/** A panel with what can be undone and done again. */
export interface History {
  readonly panel: PanelFile;
  /** Oldest first; the last is what the next undo takes back. */
  readonly past: readonly Step[];
  /** What was undone: the last is what the next redo does again. */
  readonly future: readonly Step[];
  /** Number of the last entry, 0 before the first. */
  readonly seq: number;
  /** Number of the last entry that changed the panel. */
  readonly changed: number;
}

/** A panel without a history, before its first entry or after the one with this number. */
export function beginHistory(panel: PanelFile, seq = 0): History {
  return { panel, past: [], future: [], seq, changed: seq };
}

/** The history after one more entry. Throws a RangeError, with what was expected and what is there, where the entry does not fit. */
export function advance(history: History, entry: Entry): History {
  const { seq } = entry;
  if (seq <= history.seq) throw new RangeError(`entry ${seq} comes after entry ${history.seq}`);
  if (entry.kind === 'name') return { ...history, seq };
  if (entry.kind === 'open') return beginHistory(entry.panel, seq);
  if (entry.kind === 'edit') return edited(history, entry);
  const [from, to] = entry.kind === 'undo' ? [history.past, history.future] : [history.future, history.past];
  const step = from.at(-1);
  if (step === undefined) throw new RangeError(`entry ${seq}: nothing to ${entry.kind}`);
  const transaction = entry.kind === 'undo' ? invertTransaction(step.transaction) : step.transaction;
  const panel = applyTransaction(history.panel, transaction);
  const [left, grown] = [from.slice(0, -1), [...to, step]];
  const [past, future] = entry.kind === 'undo' ? [left, grown] : [grown, left];
  return { panel, past, future, seq, changed: seq };
}

function edited(history: History, { seq, at, transaction, subject, joins }: EditEntry): History {
  const panel = applyTransaction(history.panel, transaction);
  const last = history.past.at(-1);
  if (joins && last === undefined) throw new RangeError(`entry ${seq} goes on with a step that is not there`);
  const step: Step =
    joins && last !== undefined
      ? { ...last, transaction: squash(last.transaction, transaction), seqs: [...last.seqs, seq] }
      : { transaction, subject, at, seqs: [seq] };
  const past = [...(joins ? history.past.slice(0, -1) : history.past), step];
  return { panel, past: past.slice(-MOST_STEPS), future: [], seq, changed: seq };
}

/** A history as a snapshot keeps it: steps as the numbers of their entries, which are kept beside it. */
export interface HistoryRefs {
  readonly past: readonly (readonly number[])[];
  readonly future: readonly (readonly number[])[];
  readonly changed: number;
}

export function refsOf(history: History): HistoryRefs {
  return {
    past: history.past.map(({ seqs }) => seqs),
    future: history.future.map(({ seqs }) => seqs),
    changed: history.changed,
  };
}

/**
 * The history that a snapshot and the entries it names give. A step that cannot be made again, or does not fit the panel, is left out with all
 * that lie beyond it; `lost` counts them. The panel itself is never touched by this.
 */
export function recallHistory(
  panel: PanelFile,
  seq: number,
  refs: HistoryRefs,
  entryAt: (seq: number) => Entry | null,
): { readonly history: History; readonly lost: number } {
  const past = reaching(panel, refs.past, entryAt, invertTransaction);
  const future = reaching(panel, refs.future, entryAt, (transaction) => transaction);
  const lost = refs.past.length + refs.future.length - past.length - future.length;
  return { history: { panel, past, future, seq, changed: refs.changed }, lost };
}

/** The steps nearest to the panel, as far as each can be taken after the one before it; in the order given. */
function reaching(
  panel: PanelFile,
  refs: readonly (readonly number[])[],
  entryAt: (seq: number) => Entry | null,
  taken: (transaction: Transaction) => Transaction,
): Step[] {
  const steps: Step[] = [];
  let now = panel;
  for (const seqs of [...refs].reverse()) {
    try {
      const step = stepFrom(seqs, entryAt);
      if (step === null) break;
      now = applyTransaction(now, taken(step.transaction));
      steps.push(step);
    } catch {
      break;
    }
  }
  return steps.reverse();
}

function stepFrom(seqs: readonly number[], entryAt: (seq: number) => Entry | null): Step | null {
  const edits = seqs.map(entryAt).filter((entry) => entry?.kind === 'edit');
  const [first] = edits;
  if (first === undefined || edits.length !== seqs.length) return null;
  const transaction = edits.slice(1).reduce((sum, edit) => squash(sum, edit.transaction), first.transaction);
  return { transaction, subject: first.subject, at: first.at, seqs };
}
