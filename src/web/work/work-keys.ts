/** What the keys do in Work, wherever the focus is. */
import { isField } from '../lay/is-field.ts';
import type { LayStore } from '../lay/lay-store.ts';
import type { WorkStore } from './work-store.ts';

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey' | 'target'>;

/** Does it; false where the key is not ours. */
export function workKey(lay: LayStore, work: WorkStore, event: Pressed): boolean {
  const { key, shiftKey, altKey } = event;
  const now = lay.getState();
  if ((event.ctrlKey || event.metaKey) && !altKey) {
    const letter = key.toLowerCase();
    if (letter === 'z') {
      if (shiftKey) now.redo();
      else now.undo();
      return true;
    }
    if (letter === 'y' && !isField(event.target)) {
      now.redo();
      return true;
    }
    return false;
  }
  if (key !== 'Escape' || isField(event.target)) return false;
  const { held, picked, hold, pick } = work.getState();
  if (held !== null) hold(null);
  else if (picked !== null) pick(null);
  else return false;
  return true;
}
