/**
 * Copy, cut and paste on the system's clipboard, as the text of a clip: between panels and windows. The browser's own events carry it, which
 * ask nobody's leave; where they carry nothing, what was copied last in this window is kept.
 */
import {
  type Clip,
  copyThings,
  type Dropped,
  duplicateThings,
  middleOfClip,
  type Pasted,
  PICK_LISTS,
  type Picked,
  pasteClip,
  readClip,
  removeThings,
} from '../../laying/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { kindCounts, layWords } from '../words/lay.ts';
import type { LayView } from '../worker/types.ts';
import { isField } from './is-field.ts';
import type { LayStore } from './lay-store.ts';
import { thingsWithin } from './tools/under.ts';

/** Pasted so far off where it was copied, and as much again each time: mm. */
const BESIDE: Millimetre = 10;

/** What is pasted at the pointer is moved by whole steps of this, so that it stays on the grid: mm. */
const GRID: Millimetre = 2;

/** A clip from text; null where it is none. */
export function clipOf(text: string): Clip | null {
  try {
    const value: unknown = JSON.parse(text);
    return readClip(value);
  } catch {
    return null;
  }
}

/** By how much a clip is moved: its middle to the pointer, on the grid; else beside where it was copied, `times` times already. */
export function pastedBy(clip: Clip, pointer: Spot | null, times: number): Spot {
  const middle = middleOfClip(clip);
  if (pointer === null || middle === null) return [BESIDE * (times + 1), BESIDE * (times + 1)];
  const step = (far: number): number => Math.round(far / GRID) * GRID;
  return [step(pointer[0] - middle[0]), step(pointer[1] - middle[1])];
}

/** All that a hand can pick. */
export function everything(panel: PanelFile, view: LayView | null): readonly Picked[] {
  return thingsWithin(panel, view, [-Infinity, -Infinity], [Infinity, Infinity]);
}

/** "3 strips and 2 lamps": each thing once, whatever parts of it are picked. */
export function countsOf(picked: readonly Picked[]): string {
  return kindCounts(
    PICK_LISTS.flatMap((list) => {
      const n = new Set(picked.filter((each) => each.list === list).map(({ id }) => id)).size;
      return n === 0 ? [] : [[list, n] as const];
    }),
  );
}

/** What was left out of what was pasted: each once. */
export function droppedPairs(dropped: readonly Dropped[]): readonly (readonly [ref: string, of: string])[] {
  const seen = new Map(dropped.map(({ ref, of }) => [`${ref}\n${of}`, [ref, of] as const]));
  return [...seen.values()];
}

/** What is picked, a second time beside itself and picked. */
export function duplicatePicked(store: LayStore): void {
  const { panel, picked } = store.getState();
  laid(store, duplicateThings(panel, wholes(picked)), layWords.duplicated, 'thing.duplicate');
}

/** Copies, cuts and pastes over one stage; what it gives back listens no more. */
export function listenToClipboard(store: LayStore, target: Document): () => void {
  let held: string | null = null;
  let times = 0;
  const isOurs = (event: ClipboardEvent): boolean =>
    !isField(event.target) && (target.getSelection()?.isCollapsed ?? true);
  const copied = (event: ClipboardEvent): boolean => {
    const { panel, picked, tell } = store.getState();
    if (picked.length === 0 || !isOurs(event)) return false;
    held = `${JSON.stringify(copyThings(panel, wholes(picked)))}\n`;
    times = 0;
    event.clipboardData?.setData('text/plain', held);
    event.preventDefault();
    tell((event.type === 'cut' ? layWords.cut : layWords.copied)(countsOf(picked)));
    return true;
  };
  const cut = (event: ClipboardEvent): void => {
    if (!copied(event) || !store.getState().mayEdit()) return;
    const { panel, picked, edit, pick, hand } = store.getState();
    hand({ kind: 'cancel' });
    edit(removeThings(panel, wholes(picked)));
    pick([]);
  };
  const pasted = (event: ClipboardEvent): void => {
    if (isField(event.target)) return;
    const text = event.clipboardData?.getData('text/plain') ?? '';
    const clip = clipOf(text === '' ? (held ?? '') : text);
    event.preventDefault();
    const { panel, pointer, tell } = store.getState();
    if (clip === null) {
      tell(layWords.noClip);
      return;
    }
    // Copied elsewhere since.
    if (text !== '' && text !== held) [held, times] = [text, 0];
    laid(store, pasteClip(panel, clip, pastedBy(clip, pointer, times)), layWords.pasted, 'clip.paste');
    times++;
  };
  target.addEventListener('copy', copied);
  target.addEventListener('cut', cut);
  target.addEventListener('paste', pasted);
  return () => {
    target.removeEventListener('copy', copied);
    target.removeEventListener('cut', cut);
    target.removeEventListener('paste', pasted);
  };
}

/** A picked corner stands for its strip. */
function wholes(picked: readonly Picked[]): readonly Picked[] {
  const seen = new Map(picked.map(({ list, id }) => [`${list}\n${typeof id}\n${id}`, { list, id }]));
  return [...seen.values()];
}

function laid(
  store: LayStore,
  { edit, made, dropped }: Pasted,
  words: (what: string, dropped: readonly (readonly [string, string])[]) => string,
  name: string,
): void {
  const now = store.getState();
  if (edit === null) {
    now.tell(layWords.notPasted);
    return;
  }
  if (!now.mayEdit()) return;
  // The hand lets go of what it does; what is new is picked, to be moved on.
  now.take('pick');
  now.edit({ ...edit, name });
  now.pick(made);
  now.tell(words(countsOf(made), droppedPairs(dropped)));
}
