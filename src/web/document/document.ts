/**
 * One panel that is edited: what it is now, what can be undone, and who wants to know. It knows nothing of screens, zoom, selection,
 * levers thrown or trains. The clock is given from outside.
 */
import {
  applyTransaction,
  freezePanel,
  type PanelFile,
  problemLine,
  squash,
  type Transaction,
} from '../../panel/index.ts';
import { checkEdit } from './check-edit.ts';
import { advance, type Entry, type History, type Step } from './history.ts';

export interface EditOptions {
  /** What is edited, for the words of undo: "P7". */
  readonly subject?: string;
  /** Edits under the same word, with nothing else between them, are one step: nudges while the key is held. */
  readonly gesture?: string;
}

/** What the words of undo and redo are made of: "Undo move P7" from `point.move` and `P7`. */
export interface StepName {
  readonly name: string;
  readonly subject: string;
}

export interface DocumentOptions {
  /** Milliseconds since 1970 UTC. */
  readonly now: () => number;
  /** Every entry as it is accepted, before the listeners hear of it. */
  readonly accepted?: (entry: Entry, history: History) => void;
  /** Why nothing may be edited now, null where it may: another window holds the panel. */
  readonly locked?: () => string | null;
  /** Freeze panels in depth: for development and tests. */
  readonly freeze?: boolean;
}

/** A panel that is edited. Methods throw where an edit does not fit the panel or leaves what no file could hold; nothing has then changed. */
export interface EditedPanel {
  /** The panel as the screen shows it, a drag under way included. */
  readonly panel: PanelFile;
  /** The panel as it was last accepted, with its history. */
  readonly history: History;
  /** Rises with every change of `panel`, drags included; for the session alone. */
  readonly revision: number;
  /** Is a drag under way? */
  readonly dragging: boolean;
  /** Why nothing may be edited at this moment; null where it may. */
  readonly locked: string | null;
  /** What the next undo takes back, null where there is nothing. */
  readonly undoes: StepName | null;
  readonly redoes: StepName | null;
  /** One step. An edit without changes is none. Ends a drag that is under way. */
  edit(transaction: Transaction, options?: EditOptions): void;
  /** A drag begins: what follows up to `end` is one step under this name. */
  begin(name: string, subject?: string): void;
  /** The next moment of the drag, made for the panel as it is now. */
  extend(transaction: Transaction): void;
  /** The drag, begun anew from its start with this one edit, as a hand's way is of no matter. Made for the panel as the drag began. */
  redraw(transaction: Transaction): void;
  /** The panel as it was when the drag began; the panel as it is where there is none. */
  readonly atStart: PanelFile;
  /** The drag is accepted. False where nothing has come of it. */
  end(): boolean;
  /** Back to where the drag began. */
  abandon(): void;
  /** False where there is nothing to undo. A drag under way is abandoned first. */
  undo(): boolean;
  redo(): boolean;
  /** Note that the state at hand was given a name. */
  mark(name: string): void;
  /** Take an entry that another window has accepted. */
  follow(entry: Entry): void;
  /** Put another history in place of this one. */
  replace(history: History): void;
  /** Hear of every change; answers what ends it. */
  listen(listener: () => void): () => void;
}

interface Drag {
  readonly name: string;
  readonly subject: string;
  readonly transaction: Transaction | null;
  readonly panel: PanelFile;
}

/**
 * Edit a panel with its history.
 * @example makeDocument(beginHistory(panel), { now: () => 0 })
 */
export function makeDocument(start: History, options: DocumentOptions): EditedPanel {
  const { now, accepted = () => {}, locked = () => null, freeze = false } = options;
  const listeners = new Set<() => void>();
  let history = freeze ? { ...start, panel: freezePanel(start.panel) } : start;
  let drag: Drag | null = null;
  let gesture: string | null = null;
  let revision = 0;

  const changed = (): void => {
    revision++;
    for (const listener of [...listeners]) listener();
  };
  const stand = (next: History): void => {
    history = freeze ? { ...next, panel: freezePanel(next.panel) } : next;
  };
  const mayEdit = (): void => {
    const why = locked();
    if (why !== null) throw new RangeError(why);
  };
  const accept = (entry: Entry): void => {
    mayEdit();
    const next = advance(history, entry);
    if (entry.kind === 'edit') {
      const problems = checkEdit(next.panel, entry.transaction);
      if (problems.length > 0)
        throw new RangeError(`${entry.transaction.name} leaves no panel: ${problemLine(problems)}`);
    }
    stand(next);
    drag = null;
    accepted(entry, history);
    changed();
  };
  const stamp = () => ({ seq: history.seq + 1, at: now() });
  const turn = (kind: 'undo' | 'redo', steps: readonly Step[]): boolean => {
    gesture = null;
    document.abandon();
    if (steps.length === 0) return false;
    accept({ kind, ...stamp() });
    return true;
  };
  const needDrag = (what: string): Drag => {
    if (drag === null) throw new RangeError(`${what}: no drag is under way`);
    return drag;
  };
  const dragTo = (before: Drag, transaction: Transaction, panel: PanelFile): void => {
    drag = { ...before, transaction, panel: freeze ? freezePanel(panel) : panel };
    changed();
  };

  const document: EditedPanel = {
    get panel() {
      return drag?.panel ?? history.panel;
    },
    get history() {
      return history;
    },
    get revision() {
      return revision;
    },
    get dragging() {
      return drag !== null;
    },
    get locked() {
      return locked();
    },
    get undoes() {
      return nameOf(history.past);
    },
    get redoes() {
      return nameOf(history.future);
    },
    get atStart() {
      return history.panel;
    },
    edit(transaction, { subject = '', gesture: word } = {}) {
      document.end();
      if (transaction.changes.length === 0) return;
      const last = word !== undefined && word === gesture ? history.past.at(-1) : undefined;
      if (last !== undefined && squash(last.transaction, transaction).changes.length === 0) {
        // A gesture that comes back to where it began takes its step back.
        document.undo();
        return;
      }
      accept({ kind: 'edit', ...stamp(), transaction, subject, joins: last !== undefined });
      gesture = word ?? null;
    },
    begin(name, subject = '') {
      mayEdit();
      document.end();
      gesture = null;
      drag = { name, subject, transaction: null, panel: history.panel };
    },
    extend(transaction) {
      const before = needDrag('extend');
      const panel = applyTransaction(before.panel, transaction);
      const sum = before.transaction === null ? transaction : squash(before.transaction, transaction);
      dragTo(before, { ...sum, name: before.name }, panel);
    },
    redraw(transaction) {
      const before = needDrag('redraw');
      dragTo(before, { ...transaction, name: before.name }, applyTransaction(history.panel, transaction));
    },
    end() {
      if (drag === null) return false;
      const { transaction, subject } = drag;
      if (transaction === null || transaction.changes.length === 0) {
        document.abandon();
        return false;
      }
      try {
        accept({ kind: 'edit', ...stamp(), transaction, subject, joins: false });
      } catch (error) {
        document.abandon();
        throw error;
      }
      return true;
    },
    abandon() {
      if (drag === null) return;
      const moved = drag.panel !== history.panel;
      drag = null;
      if (moved) changed();
    },
    undo: () => turn('undo', history.past),
    redo: () => turn('redo', history.future),
    mark(name) {
      document.end();
      gesture = null;
      accept({ kind: 'name', ...stamp(), name });
    },
    follow(entry) {
      gesture = null;
      drag = null;
      stand(advance(history, entry));
      changed();
    },
    replace(next) {
      gesture = null;
      drag = null;
      stand(next);
      changed();
    },
    listen(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
  return document;
}

function nameOf(steps: readonly Step[]): StepName | null {
  const step = steps.at(-1);
  return step === undefined ? null : { name: step.transaction.name, subject: step.subject };
}
