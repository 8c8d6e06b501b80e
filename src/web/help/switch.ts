/** Is help on? The one state of it, and what a thing on the screen wears so that help knows it. */
import { useEffect, useSyncExternalStore } from 'react';
import { isField } from '../lay/is-field.ts';
import { hasSingleKeys } from '../single-keys.ts';
import type { HelpKey } from '../words/help.ts';

const heard = new Set<() => void>();
let on = false;

export const isHelpOn = (): boolean => on;

export function switchHelp(to = !on): void {
  on = to;
  for (const tell of heard) tell();
}

/** Is help on? Drawn again when it is switched. */
export const useHelp = (): boolean =>
  useSyncExternalStore((tell) => {
    heard.add(tell);
    return () => heard.delete(tell);
  }, isHelpOn);

interface Worn {
  readonly 'data-help': string;
  readonly 'data-head'?: string;
  readonly 'data-what'?: string;
}

/** Spread on an element: help tells this of it and of all within that has nothing of its own. `own`: head and text of this one thing. */
export const helped = (key: HelpKey, own?: readonly [head: string, what: string]): Worn =>
  own === undefined ? { 'data-help': key } : { 'data-help': key, 'data-head': own[0], 'data-what': own[1] };

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'target'>;

/** F1 wherever the focus is; a question mark where nothing is typed and keys of one letter are on. */
export function isHelpKey({ key, ctrlKey, metaKey, altKey, target }: Pressed, singleKeys: boolean): boolean {
  if (ctrlKey || metaKey || altKey) return false;
  return key === 'F1' || (key === '?' && singleKeys && !isField(target));
}

/** Listens for the key of help. */
export function useHelpKey(): void {
  useEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || !isHelpKey(event, hasSingleKeys())) return;
      event.preventDefault();
      switchHelp();
    };
    addEventListener('keydown', keyed);
    return () => removeEventListener('keydown', keyed);
  }, []);
}
