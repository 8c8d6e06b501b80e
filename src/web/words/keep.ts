/** The words of keeping: where a panel is kept, versions, files, two windows. Sentence case, plain trade words; a button says what happens. */
import type { Keeping, Promised } from '../document/index.ts';
import { count, list, momentOf, plural } from './figures.ts';
import { kinds } from './lay.ts';
import { keptWords } from './run.ts';

export const keepWords = {
  title: 'Versions and files',
  open: keptWords.open,
  close: 'Close',

  where: 'Where this panel is kept',
  /** In one sentence. */
  how: ({ kind }: Pick<Keeping, 'kind'>): string =>
    ({
      kept: 'Kept in this browser, edit by edit, until you put it away.',
      'kept-until': 'Kept in this browser, edit by edit.',
      memory: 'This browser stores nothing here, as in some private windows: the panel lives in this window alone.',
      full: 'This device has no room left: the latest edits live in this window alone.',
      evicted: 'This browser has deleted what it kept: the panel lives in this window alone.',
    })[kind],
  /** What the browser answered when it was asked to keep it, and what may therefore happen. */
  promised: (promised: Promised, days: number | null): string =>
    promised === 'yes'
      ? 'The browser has promised not to delete it of its own accord.'
      : `${answers[promised]} ${
          days === null
            ? 'It may delete it when room is short, and a private window forgets it when it is closed. A saved file is safe.'
            : `It may delete it after ${count(days, 'day')} without a visit. A saved file is safe.`
        }`,
  inFile: (file: string, unsaved: number): string =>
    unsaved === 0 ? `All of it is in ${file}.` : `${file} holds it without the last ${edits(unsaved)}.`,
  inNoFile: 'No file holds it yet.',
  save: 'Save a file',
  saveAs: 'Save another file',
  share: 'Share the file',
  notShared: 'Nothing was shared. The file can be saved.',
  rescue: 'See every record of it',

  versions: 'Versions',
  keepAs: 'Name of the panel as it is now',
  keepHint: 'Before the yard',
  keep: 'Keep a version',
  didKeep: (name: string): string => `Kept as ${name}.`,
  none: 'No version is kept yet. A version is the panel as it is now, under a name, to compare with and to go back to.',
  reading: 'Looking for versions.',
  at: (at: number): string => momentOf(new Date(at)),
  what: 'What changed',
  back: 'Go back to it',
  give: 'Give as a file',
  of: (deed: string, name: string): string => `${deed}: ${name}`,
  didGoBack: (name: string): string => `The panel is as it was in ${name}. Undo takes that back.`,
  asNow: (name: string): string => `The panel is as it is in ${name}: nothing to go back to.`,
  unreadable: 'This version is damaged. Its file gives what is left of it.',

  since: (name: string): string => `What changed since ${name}`,
  until: 'Compared with',
  now: 'the panel as it is now',
  same: 'Nothing: the two are alike.',
  onSheet: 'Show on the sheet',
  rings: (name: string, n: number): string => `${plural(n, '1 thing has', `${n} things have`)} changed since ${name}.`,
  ringsAway: 'Take the marks away',

  remind: (unsaved: number, days: number | null): string =>
    days === null
      ? `${edits(unsaved)} of this panel ${plural(unsaved, 'is', 'are')} in no file yet.`
      : `${edits(unsaved)} of this panel ${plural(unsaved, 'is', 'are')} in no file yet, and this browser may delete ${plural(unsaved, 'it', 'them')} after ${count(days, 'day')} without a visit.`,
  later: 'Not now',
  follows: 'This panel is edited in another window; here it follows.',
  edit: 'Edit here',
  taken: 'Another window has taken this panel over; here it follows.',
  takeBack: 'Take it back',
  leaving: 'Another window takes this panel over.',
  notTaken: 'The panel could not be taken over. It can be saved as a file.',
  keepAgain: 'Keep it anew',
  stranded: (unsaved: number, kept: boolean, version: string): string =>
    kept
      ? `${edits(unsaved)} made here came too late: ${plural(unsaved, 'it is', 'they are')} kept as the version “${version}”.`
      : `${edits(unsaved)} made here came too late and ${plural(unsaved, 'is', 'are')} in this window alone.`,
  fileOfStranded: 'other window',
  failed: 'That did not work, and nothing was altered.',
  giveStranded: (unsaved: number): string => plural(unsaved, 'Save it as a file', 'Save them as a file'),
  aside: (entries: number): string =>
    `${count(entries, 'edit')} could not be read and ${plural(entries, 'is', 'are')} set aside: this is the panel before ${plural(entries, 'it', 'them')}.`,
  lostSteps: (steps: number): string =>
    `${count(steps, 'step')} of undo ${plural(steps, 'was', 'were')} damaged and ${plural(steps, 'is', 'are')} gone. The panel itself is whole.`,
  seen: 'Say no more of it',
} as const;

const answers = {
  no: 'The browser was asked to keep it for good and has not promised.',
  'not-asked': 'The browser is asked to keep it for good at the first edit.',
  none: 'This browser cannot be asked to keep it for good.',
} as const;

/** "1 edit", "23 edits". */
const edits = (n: number): string => count(n, 'edit');

/** What a record of each list is called, one and several; the panel's lists first, then those of its face. */
const recordKinds: Readonly<Record<string, readonly [one: string, many: string]>> = {
  ...kinds,
  points: ['Point', 'points'],
  crossings: ['Crossing', 'crossings'],
  threeWays: ['Three-way point', 'three-way points'],
  frogs: ['Frog', 'frogs'],
  drives: ['Drive', 'drives'],
  lampGroups: ['Group of lamps', 'groups of lamps'],
  supplies: ['Supply', 'supplies'],
  returns: ['Return wire', 'return wires'],
  connectors: ['Connector', 'connectors'],
  boards: ['Baseboard', 'baseboards'],
  boardJoints: ['Joint of baseboards', 'joints of baseboards'],
  wires: ['Wire', 'wires'],
  wireStock: ['Reel of wire', 'reels of wire'],
  trains: ['Train', 'trains'],
  parts: ['Part', 'parts'],
  results: ['Test result', 'test results'],
};

/** What a key is called in a sentence; one that is not here stands as it is in the file. */
const keyNames: Readonly<Record<string, string>> = {
  name: 'name',
  revision: 'revision',
  date: 'date',
  width: 'width',
  height: 'height',
  thickness: 'thickness',
  material: 'material',
  colour: 'paint',
  view: 'side that it is seen from',
  box: 'box behind it',
  tape: 'tape',
  bend: 'radius of bends',
  layoutLength: 'length on the layout',
  length: 'length',
  angle: 'angle',
  switch: 'switch',
  part: 'part',
  works: 'what it works',
  shows: 'when it is lit',
  sets: 'what it sets',
  text: 'text',
  size: 'size',
  names: 'lettering',
  normal: 'normal leg',
  drive: 'drive',
  sense: 'sense',
  kind: 'kind',
  feed: 'how drives are fed',
  lighting: 'how lamps are lit',
  track: 'track feed',
  built: 'what is built',
  twin: 'twin',
  drill: 'drill',
};

/** What has changed, in words. */
export const changeWords = {
  /** "Strips: 1 laid, 2 altered". */
  counts: (kind: string, added: number, removed: number, changed: number): string => {
    const [one, many] = recordKinds[kind] ?? [kind, kind];
    const [laid, lifted] = kind === 'strips' ? ['laid', 'lifted'] : ['added', 'taken out'];
    const parts: readonly (readonly [number, string])[] = [
      [added, laid],
      [removed, lifted],
      [changed, 'altered'],
    ];
    const said = parts.filter(([n]) => n > 0).map(([n, deed]) => `${n} ${deed}`);
    return `${added + removed + changed === 1 ? one : sentence(many)}: ${said.join(', ')}`;
  },
  nth: (kind: string, i: number): string => `${(recordKinds[kind] ?? [kind])[0]} ${i + 1}`,
  added: (kind: string, name: string): string => `${name} ${kind === 'strips' ? 'laid' : 'added'}`,
  removed: (kind: string, name: string): string => `${name} ${kind === 'strips' ? 'lifted' : 'taken out'}`,
  altered: (name: string, deeds: readonly string[]): string => `${name} ${list(deeds)}`,
  moved: (far: string): string => `moved ${far}`,
  cornersMoved: (n: number, far: string): string =>
    n === 1 ? `has a corner moved ${far}` : `has ${n} corners moved, the furthest ${far}`,
  drawnAnew: (from: number, to: number): string =>
    from === to ? 'drawn anew' : `drawn with ${count(to, 'corner')} in place of ${from}`,
  set: (key: string, from: string | null, to: string | null): string => {
    const name = keyNames[key] ?? key;
    if (from === null && to === null) return `has another ${name}`;
    if (to === null) return `has no ${name} any more, before ${from}`;
    return from === null ? `has ${name} ${to}` : `has ${name} ${to} in place of ${from}`;
  },
  other: (key: string): string => `has changed in ${keyNames[key] ?? key}`,
  panel: 'The panel',
  face: 'The face',
  order: (kind: string): string => `${sentence((recordKinds[kind] ?? [kind, kind])[1])} lie in another order`,
} as const;

/** With its first letter large. */
function sentence(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}
