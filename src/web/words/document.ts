/** The words of how the browser keeps panels. What is said of a file that cannot be used, of a panel that cannot be read, and why entries are set aside. */

export const documentWords = {
  untitled: 'Untitled panel',
  copyOf: (title: string): string => `${title} (copy)`,
  fromOtherWindow: 'From the other window',
  editedElsewhere: 'this panel is edited in another window',
  olderOpen: 'another window holds an older database open',

  /** What a text from outside is called that has no name. */
  theText: 'The text',
  tooLarge: (file: string, megabytes: number): string =>
    `${file} is larger than ${megabytes} MB, and no panel file is.`,
  empty: (file: string): string => `${file} is empty.`,
  damaged: (file: string, problem: string): string => `${file} is damaged: ${problem}.`,
  noPanelFile: (file: string, problem: string): string => `${file} is no panel file: ${problem}.`,
  noFormat: (format: string): string => `it does not say "format": "${format}"`,
  newer: (file: string, version: number, reads: number): string =>
    `${file} was written by a newer Mimicwright: it is version ${version}, and this one reads up to version ${reads}.`,

  gone: 'The browser does not have this panel any more.',
  recordDamaged: 'The record of this panel is damaged. The rescue page lists what is left of it.',
  noSnapshot: 'No snapshot of this panel can be read. The rescue page lists what is left of it.',

  /** Why an entry is set aside. */
  aside: {
    missing: 'it is not there',
    unsound: 'it leaves what no panel can be',
    noRecord: 'it is no record',
    noNumber: 'it has no number',
    noTime: 'it has no time',
    noName: 'it gives a name that is none',
    unreadable: 'it opens a panel that cannot be read',
    unknown: 'it is of no known kind',
    noEdit: 'its edit cannot be read',
  },
} as const;
