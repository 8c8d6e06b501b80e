/** The shelf: every panel that this browser keeps, what is in the bin, and what should be there and is not. */
import { FORMAT, type PanelFile, VERSION, writePanel } from '../../panel/index.ts';
import { alterPanel, type Database, deletePanel } from './database.ts';
import type { Newborn } from './journal.ts';
import { type Known, knownPanels } from './known.ts';
import { type Counts, countsOf, isPanelRecord, type PanelRecord, titleOf } from './records.ts';
import type { Surroundings } from './surroundings.ts';

/** How long a panel that was put away stays in the bin, ms: thirty days. */
export const BIN_MS = 30 * 86_400_000;

export interface ShelfRow {
  readonly id: string;
  readonly title: string;
  /** The text of an SVG, null where none was drawn. */
  readonly picture: string | null;
  readonly created: number;
  readonly changed: number;
  readonly counts: Counts;
  readonly file: string | null;
  /** When it leaves the bin for good; null on the shelf. */
  readonly goes: number | null;
}

export interface Shelf {
  /** Last changed first. */
  readonly panels: readonly ShelfRow[];
  /** Put away last first. */
  readonly bin: readonly ShelfRow[];
  /** Ids whose records cannot be read: the rescue page has what is left. */
  readonly damaged: readonly string[];
  /** Panels that were here and that the browser has deleted. */
  readonly evicted: readonly Known[];
}

/** What a new panel is made of. */
export interface NewPanel {
  readonly panel: PanelFile;
  readonly title?: string | null;
  readonly picture?: string | null;
  /** The file that holds it as it is. */
  readonly file?: string | null;
}

/** A bare sheet of the size that a face has unless told otherwise. */
export const barePanel = (): PanelFile => ({ format: FORMAT, version: VERSION, strips: [] });

export async function readShelf(db: Database, memory: Surroundings['memory']): Promise<Shelf> {
  const tx = db.transaction(['panels', 'pictures']);
  const [ids, records, pictures]: [string[], unknown[], unknown[]] = await Promise.all([
    tx.objectStore('panels').getAllKeys(),
    tx.objectStore('panels').getAll(),
    tx.objectStore('pictures').getAll(),
  ]);
  await tx.done;
  const sound = records.filter(isPanelRecord);
  const drawn = new Map(pictures.filter(isPicture).map(({ panel, svg }) => [panel, svg]));
  const rows = sound.map((record) => rowOf(record, drawn.get(record.id) ?? null));
  const known = new Set(ids);
  const readable = new Set(sound.map(({ id }) => id));
  return {
    panels: rows.filter(({ goes }) => goes === null).sort(by(({ changed }) => changed)),
    bin: rows.filter(({ goes }) => goes !== null).sort(by(({ goes }) => goes ?? 0)),
    damaged: ids.filter((id) => !readable.has(id)),
    evicted: knownPanels(memory).filter(({ id }) => !known.has(id)),
  };
}

/** The records of a new panel, which nobody has stored yet. */
export function newborn(
  { now, newId }: Surroundings,
  { panel, title = null, picture = null, file = null }: NewPanel,
): Newborn {
  const [id, writer, at, seq] = [newId(), newId(), now(), 1];
  const text = writePanel(panel);
  const record: PanelRecord = {
    id,
    title,
    name: panel.name ?? '',
    created: at,
    changed: at,
    counts: countsOf(panel),
    file,
    lastSeq: seq,
    holder: null,
    savedSeq: file === null ? null : seq,
    savedAt: file === null ? null : at,
    unsavedEdits: 0,
    unsavedSince: null,
    away: null,
    aside: [],
  };
  return {
    panel,
    record,
    entry: { panel: id, writer, kind: 'open', seq, at, text },
    snapshot: { panel: id, seq, text, past: [], future: [], changed: seq },
    picture: picture === null ? null : { panel: id, svg: picture, seq },
  };
}

/** A row for a panel that is in this window alone. */
export const rowOf = (record: PanelRecord, picture: string | null): ShelfRow => ({
  id: record.id,
  title: titleOf(record),
  picture,
  created: record.created,
  changed: record.changed,
  counts: record.counts,
  file: record.file,
  goes: record.away === null ? null : record.away + BIN_MS,
});

/** Give it another title on the shelf; an empty one gives it back its own name. */
export const renamePanel = (db: Database, id: string, title: string): Promise<PanelRecord | null> =>
  alterPanel(db, id, () => ({ title: title.trim() === '' ? null : title.trim() }));

/** Into the bin, where it stays for thirty days. */
export const putAway = (db: Database, id: string, now: number): Promise<PanelRecord | null> =>
  alterPanel(db, id, () => ({ away: now }));

export const bringBack = (db: Database, id: string): Promise<PanelRecord | null> =>
  alterPanel(db, id, ({ away }) => (away === null ? {} : { away: null }));

/** Let go of what has lain in the bin for thirty days and was not edited in that time. Answers the ids. */
export async function emptyBin(db: Database, now: number): Promise<readonly string[]> {
  const records: unknown[] = await db.getAll('panels');
  const isOver = ({ away, changed }: PanelRecord): boolean => away !== null && Math.max(away, changed) + BIN_MS <= now;
  const gone: string[] = [];
  for (const record of records.filter(isPanelRecord).filter(isOver))
    if (await deletePanel(db, record.id, isOver)) gone.push(record.id);
  return gone;
}

const by =
  (time: (row: ShelfRow) => number) =>
  (a: ShelfRow, b: ShelfRow): number =>
    time(b) - time(a) || (a.id < b.id ? -1 : 1);

function isPicture(value: unknown): value is { readonly panel: string; readonly svg: string } {
  if (typeof value !== 'object' || value === null || !('panel' in value) || !('svg' in value)) return false;
  return typeof value.panel === 'string' && typeof value.svg === 'string';
}
