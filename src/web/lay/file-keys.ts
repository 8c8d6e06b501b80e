/** Files by keys and by the picker. Uses `document`. */
import { keepWords } from '../words/keep.ts';
import type { LayStore } from './lay-store.ts';

/** Lets the user choose a panel file. `chosen` is not called where they think better of it. */
export function chooseFile(chosen: (file: File) => void): void {
  const input = document.createElement('input');
  input.type = 'file';
  input.accept = '.json,application/json';
  // It hangs on the page while the picker is open: a browser may let go of what hangs nowhere, and of the answer with it.
  input.hidden = true;
  document.body.append(input);
  input.addEventListener('cancel', () => input.remove());
  input.addEventListener('change', () => {
    input.remove();
    const file = input.files?.[0];
    if (file !== undefined) chosen(file);
  });
  input.click();
}

/**
 * Control with S saves the panel as a file, with Shift as well it opens versions and files; Control with O opens a file. In a field as well. False
 * where the key is not ours.
 */
export function fileKey(
  store: LayStore,
  event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>,
  opened: (file: File) => void,
): boolean {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return false;
  const key = event.key.toLowerCase();
  if (event.shiftKey) {
    if (key === 's') store.setState({ keeping: true });
    return key === 's';
  }
  if (key === 's') {
    store
      .getState()
      .save()
      .catch(() => store.getState().tell(keepWords.failed));
    return true;
  }
  if (key !== 'o') return false;
  chooseFile(opened);
  return true;
}
