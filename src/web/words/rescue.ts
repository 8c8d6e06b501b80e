/** The words of the rescue page, which needs nothing else of the application: its counts and dates as well are its own. */

export const rescueWords = {
  untitled: 'Untitled panel',
  unknownTime: 'at an unknown time',
  changed: (when: string, binned: boolean): string => `Last changed ${when}.${binned ? ' In the bin.' : ''}`,
  noRecord: 'The record of this panel is missing or damaged; this is what is left of it.',
  noState: 'No state of this panel can be put together.',
  lastState: (seq: number): string => `Last state (after entry ${seq})`,
  /** How the files are named, behind the panel's title. */
  files: { lastState: 'last state', records: 'records', after: (seq: string): string => `after entry ${seq}` },
  nameless: 'without a name',
  version: (name: string, when: string): string => `Version “${name}” of ${when}`,
  snapshot: (seq: string): string => `Snapshot after entry ${seq}`,
  everything: 'Every record as it was found',
  none: (names: readonly string[]): string =>
    `This browser keeps no panel.${names.length === 0 ? '' : ` It once had: ${names.join(', ')}. The browser has deleted these.`}`,
  found: (n: number): string => (n === 1 ? '1 panel found.' : `${n} panels found.`),
  /** "3 March 2026 at 09:05", in the time of this device. */
  moment: (then: Date): string => then.toLocaleString('en-GB', { dateStyle: 'long', timeStyle: 'short' }),
  panelFailed: (id: string, why: string): string => `Panel ${id}: ${why}.`,
  closed: (why: string): string => `The browser does not let its database be opened: ${why}.`,
  badRecord: (store: string, key: string, why: string): string =>
    `A record of ${store} cannot be read (${key}): ${why}.`,
  badList: (store: string, why: string): string => `The list of ${store} cannot be read: ${why}.`,
  upgrading: 'another window is bringing it up to date; close it and try again',
  badState: (seq: string): string => `The state after entry ${seq} cannot be read.`,
  badEntry: (seq: number, why: string): string => `Entry ${seq} and what follows it do not fit: ${why}.`,
  missing: (seq: number): string => `entry ${seq} is not there`,
} as const;
