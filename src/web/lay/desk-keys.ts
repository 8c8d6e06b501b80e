/** The keys of files, versions, undo and redo, for a stage that lays nothing. */
import { undoKey } from '../undo-key.ts';
import { fileKey } from './file-keys.ts';
import type { LayStore } from './lay-store.ts';

/** False where the key is none of them, or belongs to text that is being typed. */
export function deskKey(store: LayStore, event: KeyboardEvent, opened: (file: File) => void): boolean {
  return fileKey(store, event, opened) || undoKey(store, event);
}
