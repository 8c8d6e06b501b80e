/** Words of the trains in Run: who stands where, what each can do, and the running sheet. */
import type { BringAnswer, ViewMove } from '../worker/trains.ts';
import { count, list, plain } from './figures.ts';

export const trainWords = {
  trains: 'Trains',
  told: 'Told, not seen: a marker is where you said the train is.',
  none: 'No train stands on this panel yet.',
  add: 'Add a train',
  write: 'Write them into the panel',
  notWritten: 'The panel’s file has other trains, or has them elsewhere. One step, and undoes.',
  written: 'The panel’s file has them so.',
  cannotWrite: 'Another window edits this panel: nothing was written.',
  edit: 'Change',
  remove: 'Take off',
  done: 'Done',
  name: 'Name',
  length: 'Length in mm, on the layout',
  noLength: 'not given',
  standsAt: 'Stands at',
  heads: 'Heads to',
  headsUnsaid: 'Not said',
  numbered: (n: number): string => `Train ${n}`,
  markOf: (name: string, place: string): string => `${name}, at ${place}`,
  stands: (place: string, heads: string | null, length: number | null): string =>
    [
      `at ${place}`,
      ...(heads === null ? [] : [`heads to ${heads}`]),
      ...(length === null ? [] : [`${plain(length)} mm`]),
    ].join(', '),
  /** A train whose head points to the buffers of its own free end. */
  headsToEnd: 'the end of its road',
  canGo: 'Can go to',
  cannotGo: (n: number): string => `${count(n, 'move')} barred`,
  nowhere: 'It can go nowhere from here.',
  pickTrain: 'Pick a train to see where it can go.',
  free: 'levers lie right',
  throwThese: (names: readonly string[]): string => `throw ${list(names)}`,
  via: (names: readonly string[]): string => (names.length === 0 ? '' : `via ${list(names)}`),
  inTheWay: (train: string, place: string): string => `${train} stands at ${place}`,
  go: (names: readonly string[]): string => (names.length === 0 ? 'Go' : `Throw ${list(names)} and go`),
  goes: (head: ViewMove['head']): string => (head === 'last' ? 'tail first' : head === 'first' ? 'head first' : ''),
  beside: 'At the same time',
  besideOk: (train: string, places: readonly string[]): string => `${train} to ${list(places)}`,
  besideNone: (train: string): string => `${train} nowhere`,
  clash: (reason: string): string => {
    const [kind = '', id = ''] = [reason.slice(0, reason.indexOf(':')), reason.slice(reason.indexOf(':') + 1)];
    return (
      {
        point: `both need ${id}`,
        crossing: `both cross at ${id}`,
        span: 'both need the same track',
        lever: `both need ${id}`,
      }[kind] ?? reason
    );
  },
  bring: 'Fewest moves to a standing',
  anywhere: 'Anywhere',
  othersStay: 'Others end where they stand',
  find: 'Find the fewest moves',
  finding: 'Looking',
  found: ({ outcome, moves, throws, proved }: BringAnswer): string => {
    if (outcome === 'refused') return 'It cannot be done.';
    if (outcome === 'stopped') return 'Nothing found in the time allowed.';
    const said = `${count(moves.length, 'move')}, ${count(throws ?? 0, 'throw')}`;
    if (outcome === 'asked') return `${said}, if the lengths allow it.`;
    return proved ? `${said}. No way has fewer.` : `${said}, the best found.`;
  },
  already: 'They stand there now.',
  take: 'Write them into the sheet',
  sheet: 'Running sheet',
  sheetNone: 'Moves that you make are written here, with levers and places.',
  sheetCount: (at: number, of: number): string => `${at} of ${of} done`,
  step: (n: number, train: string, from: string, to: string): string => `${n} ${train}, ${from} to ${to}`,
  stepHow: (throws: readonly (readonly [id: string, lie: string])[]): string =>
    throws.length === 0 ? 'nothing to throw' : `throw ${list(throws.map(([id, lie]) => `${id} ${lie}`))}`,
  stopsHere: (why: readonly string[]): string => `Cannot be run: ${list(why)}.`,
  back: 'Back',
  on: 'On',
  cut: 'Take the moves after this off',
  begin: 'Begin a new sheet here',
  takeBack: 'Take the last sheet back',
  standsFixed: 'To put it elsewhere, begin a new sheet.',
  print: 'Print the sheet',
  printHead: 'Running sheet',
  printStands: (train: string, where: string): string => `${train}: ${where}`,
  printColumns: ['No', 'Train', 'From', 'To', 'Throw', 'Done'],
  printFoot: 'The sheet knows what it was told. Look before you move.',
  moved: (train: string, place: string): string => `${train} is at ${place}`,
  cannotRead: (why: readonly string[]): string => `The trains cannot be read: ${list(why)}.`,
} as const;
