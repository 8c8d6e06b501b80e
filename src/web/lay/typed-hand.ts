/** What is typed in figures, done by the tool in the hand as if it had been pressed and dragged there. */
import type { Spot } from '../../units/index.ts';
import { layWords } from '../words/lay.ts';
import type { LayStore } from './lay-store.ts';
import { lengthWords, readDegrees, readLength } from './lengths.ts';
import { thingName } from './thing-names.ts';
import { readSpots } from './typed-spots.ts';

/**
 * Lays what was typed and says what came of it. One spot is a press, two are a drag; of a strip each is a corner, and nothing typed ends it.
 * False where it cannot be read: nothing has happened then.
 */
export function typeOn(store: LayStore, text: string): boolean {
  const { tool, formation, unit, ghost, hand, panel, say } = store.getState();
  const tape = tool === 'strip' && formation === 'strip';
  const laying = tape && ghost.length > 0;
  if (text.trim() === '') {
    if (!laying) return false;
    hand({ kind: 'enter' });
  } else {
    const onwards = laying ? readOnwards(text, unit) : null;
    const spots = onwards === null ? readSpots(text, unit) : [];
    if (spots === null || (!tape && spots.length > 2)) return false;
    if (onwards !== null) hand({ kind: 'typed', ...onwards });
    else if (tape) {
      for (const at of spots) press(store, at);
      if (spots.length > 1) hand({ kind: 'enter' });
    } else press(store, ...spots);
  }
  const now = store.getState();
  if (now.panel !== panel) say(layWords.picked(now.picked.map((each) => thingName(now.panel, each)).join(', ')));
  else if (now.ghost.length > 0) {
    const [x, y] = (now.ghost[now.ghost.length - 1] ?? [0, 0]).map((value) => lengthWords(value, unit));
    say(layWords.cornerAt(x ?? '', y ?? ''));
  }
  return true;
}

function press(store: LayStore, from?: Spot, to?: Spot): void {
  if (from === undefined) return;
  const { hand } = store.getState();
  hand({ kind: 'down', at: from, more: false, free: true, again: false });
  if (to !== undefined) hand({ kind: 'move', at: to, free: true });
  hand({ kind: 'up', at: to ?? from, free: true });
}

/** "50", "50<32", "<32": from the last corner, as while tape is laid by the hand; null for anything else. */
function readOnwards(
  text: string,
  unit: Parameters<typeof readLength>[1],
): { readonly length: number | null; readonly angle: number | null } | null {
  const [far = '', turn, more] = text.trim().split('<');
  if (more !== undefined) return null;
  const length = far === '' ? null : readLength(far, unit);
  const angle = turn === undefined ? null : readDegrees(turn);
  if ((far !== '' && length === null) || (turn !== undefined && angle === null)) return null;
  return { length, angle: turn === undefined ? 0 : angle };
}
