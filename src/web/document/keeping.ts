/** Where the work is kept, as data for the screen, and when to remind of a file. */
import type { Trouble } from './journal.ts';
import type { PanelRecord } from './records.ts';
import type { StorageRoom } from './surroundings.ts';

/**
 * `kept`: in this browser for good. `kept-until`: in this browser, which may delete it when room is short, or after `days` without a visit.
 * `memory`: in this window alone, since the browser refuses to store. `full`: in this window alone, since there is no room.
 * `evicted`: the browser has deleted it.
 */
export type Keeping = { readonly waiting: number; readonly download: boolean } & (
  | { readonly kind: 'kept' | 'memory' | 'full' | 'evicted' }
  | { readonly kind: 'kept-until'; readonly days: number | null }
);

/** Days without a visit after which some browsers delete. */
const DAYS = 7;

export interface KeepingFacts {
  readonly trouble: Trouble | null;
  readonly gone: boolean;
  /** Has the browser promised to keep what is stored? */
  readonly persisted: boolean;
  readonly sevenDays: boolean;
  /** Edits that are not on the disk yet. */
  readonly waiting: number;
  /** Is the panel at hand, to be given as a file? */
  readonly atHand: boolean;
}

export function keepingOf({ trouble, gone, persisted, sevenDays, waiting, atHand }: KeepingFacts): Keeping {
  const common = { waiting, download: atHand };
  if (gone) return { kind: 'evicted', ...common };
  if (trouble !== null) return { kind: trouble === 'full' ? 'full' : 'memory', ...common };
  return persisted ? { kind: 'kept', ...common } : { kind: 'kept-until', days: sevenDays ? DAYS : null, ...common };
}

/** What the browser has answered when it was asked to keep what is stored. `none`: it cannot be asked. */
export type Promised = 'not-asked' | 'yes' | 'no' | 'none';

/** Ask the browser to keep what is stored; false where it does not promise. A browser that has promised is not asked again. */
export async function askToPersist(storage: StorageRoom | null): Promise<boolean> {
  if (storage === null) return false;
  try {
    return (await storage.persisted()) || (await storage.persist());
  } catch {
    return false;
  }
}

/** Has it promised already? Asks nothing of the user. */
export const isPersisted = async (storage: StorageRoom | null): Promise<boolean> =>
  (await storage?.persisted().catch(() => false)) ?? false;

/** Edits without a file after which the screen says so, and after which it says so again. */
export const REMIND_EDITS = 20;
/** Time since the first edit without a file after which the screen says so, ms: one day. */
const REMIND_MS = 86_400_000;

/** Is it time for the quiet line "save a file"? After so many edits, or a day after the first, since a file was saved or at all. */
export function remindsOfFile(record: Pick<PanelRecord, 'unsavedEdits' | 'unsavedSince'>, now: number): boolean {
  const { unsavedEdits, unsavedSince } = record;
  return unsavedEdits >= REMIND_EDITS || (unsavedSince !== null && now - unsavedSince >= REMIND_MS);
}
