/** What the keys do in Lay, wherever the focus is but in a field. */
import { moveThings, removeThings } from '../../laying/index.ts';
import { undoKey } from '../undo-key.ts';
import { duplicatePicked, everything } from './clipboard.ts';
import { isField } from './is-field.ts';
import type { LayStore } from './lay-store.ts';
import { readDegrees, readLength } from './lengths.ts';
import { nudgeOf } from './nudge.ts';
import type { ToolName } from './tools/types.ts';

/** The field in which spots are typed. */
export const TYPED_SPOT = 'typed-spot';

const TOOLS: Readonly<Record<string, ToolName>> = {
  v: 'pick',
  s: 'strip',
  f: 'platform',
  n: 'place',
  t: 'plate',
  l: 'lever',
  b: 'button',
  k: 'lamp',
  h: 'fixing',
  x: 'keep-out',
  m: 'measure',
};

/** A key that is pressed, as far as it is ours. */
export type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey' | 'target'>;

/** Does it; false where the key is not ours. */
export function layKey(store: LayStore, event: Pressed): boolean {
  const { key, shiftKey, altKey } = event;
  const control = event.ctrlKey || event.metaKey;
  const now = store.getState();
  if (undoKey(store, event)) return true;
  // Out of a field to the sheet; what was typed there and not accepted a first press has taken back.
  if (key === 'Escape' && isField(event.target)) {
    toSheet();
    return true;
  }
  if (isField(event.target)) return false;
  if (control && !altKey && !shiftKey && key.toLowerCase() === 'd') {
    if (now.picked.length > 0) duplicatePicked(store);
    return true;
  }
  if (control && !altKey && !shiftKey && key.toLowerCase() === 'a') {
    now.take('pick');
    now.pick(everything(now.panel, now.shown?.view ?? null));
    return true;
  }
  if (control || altKey) return false;
  if (now.tool === 'strip' && now.ghost.length > 0 && typed(store, key)) return true;
  const tool = TOOLS[key.toLowerCase()];
  if (tool !== undefined && !shiftKey && now.singleKeys) {
    now.take(tool);
    return true;
  }
  // Only while the hand drags: else it goes from control to control.
  if (key === 'Tab' && now.holding) {
    now.turnSnap(shiftKey ? -1 : 1);
    return true;
  }
  if (key === 'Escape') {
    now.hand({ kind: 'cancel' });
    store.setState({ compared: null });
    if (now.ghost.length === 0) now.pick([]);
    return true;
  }
  if (key === 'Enter' && now.ghost.length > 0) {
    now.hand({ kind: 'enter' });
    return true;
  }
  // With a tool in the hand, and nothing under way: where it shall lay is typed.
  if (key === 'Enter' && now.tool !== 'pick' && isSheet(event.target)) {
    document.getElementById(TYPED_SPOT)?.focus();
    return true;
  }
  if ((key === 'Delete' || key === 'Backspace') && now.picked.length > 0) {
    if (!now.mayEdit()) return true;
    now.edit(removeThings(now.panel, now.picked), now.picked.length === 1 ? String(now.picked[0]?.id ?? '') : '');
    now.pick([]);
    return true;
  }
  const by = nudgeOf(key, shiftKey);
  // Arrows move within lists and toolbars; what is picked they move where the sheet has the focus.
  if (by !== null && now.picked.length > 0 && isSheet(event.target)) {
    const subject = now.picked.length === 1 ? String(now.picked[0]?.id ?? '') : String(now.picked.length);
    now.edit(moveThings(now.panel, now.picked, by), subject, 'nudge');
    return true;
  }
  return false;
}

/** Figures typed while tape is laid: so far, and after "<" at such an angle; Enter takes them for the next corner. */
function typed(store: LayStore, key: string): boolean {
  const { typing, type, hand, unit } = store.getState();
  if (/^[0-9.,<'"/-]$/.test(key)) {
    type(typing + key);
    return true;
  }
  if (typing === '') return false;
  if (key === 'Backspace') type(typing.slice(0, -1));
  else if (key === 'Escape') type('');
  else if (key === 'Enter') {
    const [far = '', turn] = typing.split('<');
    type('');
    hand({
      kind: 'typed',
      length: far === '' ? null : readLength(far, unit),
      angle: turn === undefined ? null : readDegrees(turn),
    });
  } else return false;
  return true;
}

/** The keys go to the sheet. */
export function toSheet(): void {
  document.querySelector<HTMLElement>('.table')?.focus();
}

function isSheet(target: EventTarget | null): boolean {
  return (
    target === null || target === document.body || (target instanceof HTMLElement && target.classList.contains('table'))
  );
}
