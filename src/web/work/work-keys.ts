/** What the keys do in Work, wherever the focus is. */
import { isField } from '../lay/is-field.ts';
import type { LayStore } from '../lay/lay-store.ts';
import { undoKey } from '../undo-key.ts';
import type { WorkStore } from './work-store.ts';

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey' | 'target'>;

/** Does it; false where the key is not ours. */
export function workKey(lay: LayStore, work: WorkStore, event: Pressed): boolean {
  if (undoKey(lay, event)) return true;
  if (event.key !== 'Escape' || isField(event.target)) return false;
  const { held, picked, hold, pick } = work.getState();
  if (held !== null) hold(null);
  else if (picked !== null) pick(null);
  else return false;
  return true;
}
