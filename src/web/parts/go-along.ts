import type { KeyboardEvent } from 'react';

/** Arrow keys, Home and End go along the buttons of a bar, round and round; for the bar's `onKeyDown`. Which of them Tab comes to is the bar's. */
export function goAlong(event: KeyboardEvent<HTMLElement>): void {
  const buttons = [...event.currentTarget.querySelectorAll<HTMLElement>('button:not([disabled])')];
  const now = buttons.indexOf(document.activeElement as HTMLElement);
  if (now < 0) return;
  const to = {
    ArrowDown: now + 1,
    ArrowRight: now + 1,
    ArrowUp: now - 1,
    ArrowLeft: now - 1,
    Home: 0,
    End: buttons.length - 1,
  }[event.key];
  if (to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  event.stopPropagation();
  buttons[(to + buttons.length) % buttons.length]?.focus();
}
