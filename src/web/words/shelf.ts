/** The words of the shelf, of starts and of a bare sheet. Sentence case, plain trade words; a button says what happens. */
import { count, dateOf, list, timeOf } from './figures.ts';

const DAY_MS = 86_400_000;

export const shelfWords = {
  title: 'Panels on this device',
  close: 'Close',
  bare: 'New bare sheet',
  bareTitle: 'New sheet',
  fromDemo: 'New from the demo',
  file: 'Open a file',
  reading: 'Looking at what is kept here.',
  none: 'No panel is kept here yet. One that is laid on is kept by itself.',
  open: 'Open',
  duplicate: 'Duplicate',
  rename: 'Rename',
  putAway: 'Put away',
  bringBack: 'Bring back',
  of: (deed: string, title: string): string => `${deed} ${title}`,
  name: 'Name on this device',
  keepName: 'Keep this name',
  away: 'Put away',
  counts: (strips: number, points: number, levers: number, lamps: number): string =>
    strips + points + levers + lamps === 0
      ? 'Bare'
      : [count(strips, 'strip'), count(points, 'point'), count(levers, 'lever'), count(lamps, 'lamp')].join(', '),
  damaged: (n: number): string =>
    n === 1 ? 'One panel here is damaged and cannot be listed.' : `${n} panels here are damaged and cannot be listed.`,
  rescue: 'See what is left of it',
  evicted: (titles: readonly string[]): string =>
    `This browser has deleted ${list(titles)}. A saved file opens as before.`,
  forget: 'Say no more of it',
  didPutAway: (title: string): string => `${title} is put away. It can be brought back.`,
  didBringBack: (title: string): string => `${title} is back.`,
  didDuplicate: (title: string): string => `${title} is duplicated.`,
  didRename: (title: string): string => `Renamed to ${title}`,
  unreadable: (title: string): string => `${title} cannot be read. The rescue page has what is left of it.`,
  failed: 'This browser did not let that be kept. Nothing was altered.',
  firstStrip: 'Lay a strip from edge to edge',
  firstStripHow: 'Strip is in your hand: draw it. Where the end of another joins it, there is a point.',
} as const;

/** When something was changed, as people say it; both in ms since 1970 UTC, shown in the time of this device. */
export function changedWords(at: number, now: number): string {
  const minutes = Math.floor((now - at) / 60_000);
  if (minutes < 1) return 'Changed just now';
  if (minutes < 60) return `Changed ${count(minutes, 'minute')} ago`;
  const then = new Date(at);
  const time = timeOf(then);
  const midnight = new Date(now).setHours(0, 0, 0, 0);
  if (at >= midnight) return `Changed today at ${time}`;
  // The day before, whatever the clocks did in the night.
  const today = new Date(midnight);
  const before = new Date(today.getFullYear(), today.getMonth(), today.getDate() - 1).getTime();
  if (at >= before) return `Changed yesterday at ${time}`;
  return `Changed on ${dateOf(then)}`;
}

/** How long a panel that was put away can be brought back. */
export function goesWords(goes: number, now: number): string {
  return `Can be brought back for ${count(Math.max(1, Math.ceil((goes - now) / DAY_MS)), 'day')}`;
}
