/** The keys of undo and redo, the same in every stage. */
import { isTyping } from './lay/is-field.ts';
import type { LayStore } from './lay/lay-store.ts';

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey' | 'target'>;

/** Control with Z undoes, with Shift as well redoes, and so does Y. False where the key is not ours, or belongs to text that is being typed. */
export function undoKey(store: LayStore, { key, ctrlKey, metaKey, shiftKey, altKey, target }: Pressed): boolean {
  if (!(ctrlKey || metaKey) || altKey || isTyping(target)) return false;
  const letter = key.toLowerCase();
  const now = store.getState();
  if (letter === 'z' && !shiftKey) now.undo();
  else if (letter === 'z' || letter === 'y') now.redo();
  else return false;
  return true;
}
