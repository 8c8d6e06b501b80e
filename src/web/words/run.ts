/** Every word that the application says. Sentence case, plain trade words; a button says what happens. */
import type { Severity } from '../../checks/index.ts';
import type { LeverPositions } from '../../derive.ts';
import type { Lie, Lies } from '../../panel/index.ts';
import type { Look, Position } from '../../wiring/index.ts';
import type { LitCount } from '../run/lit.ts';
import type { Clash } from '../run/standing.ts';
import { lieOf, type RouteState } from '../run/throws.ts';
import type { View, ViewButton, ViewLever } from '../worker/types.ts';
import { count, fixed, lengthIn, list, plain } from './figures.ts';

export const words = {
  name: 'Mimicwright',
  units: { mm: 'mm', in: 'in' },
  noPanel: 'No panel open',
  panels: 'Panels',
  panelsHint: 'Panels on this device, and new ones',
  open: 'Open a panel',
  openHint: 'A panel file, NAME.mimic.json. It can be dropped anywhere on this window as well.',
  dropHere: 'Let go to open this panel',
  lights: 'Lights',
  lightsUp: 'Lights up',
  lightsDown: 'Lights down',
  lightsFollow: 'As the device has it',
  help: 'Help',
  helpHow: (singleKeys: boolean): string => `Tells of each thing, key F1${singleKeys ? ' or ?' : ''}`,
  more: 'More',
  moreTitle: 'This panel and this screen',
  openDemo: 'Open the demo panel',
  compare: 'Compare other ways to build it',
  printBook: 'Print the build book',
  sheetSize: 'Size of the sheet',
  timesLarger: (times: number): string => (times === 1 ? 'Fit' : `${times} ×`),
  keysTitle: 'Keys at a lever',
  keys: [
    ['Arrow keys', 'the lever beside it'],
    ['Space or Enter', 'throw it'],
    ['N, R, C', 'normal, reverse, centre'],
    ['Home, End', 'the first lever, the last'],
  ] as readonly (readonly [string, string])[],
  onDevice: 'Nothing leaves this device. The panel stays as its file has it: Run changes nothing in it.',
  from: 'From',
  to: 'To',
  choose: 'Choose',
  swap: 'Turn round',
  way: (number: number, of: number): string => `Way ${number} of ${of}`,
  /** What tells one of several ways from the others; `names` null: its number alone does. */
  wayBy: (names: readonly string[] | null, number: number): string =>
    names === null ? `way ${number}` : names.length === 0 ? 'direct' : `via ${list(names)}`,
  allNormal: 'All normal',
  /** What sets the route: levers thrown, buttons pressed. */
  setAll: (levers: number, presses: number): string => {
    const all = levers + presses;
    const how = presses === 0 ? 'Throw' : levers === 0 ? 'Press' : 'Throw and press';
    return all === 1 ? `${how} it` : all === 2 ? `${how} both` : `${how} all ${all}`;
  },
  backToRoutes: (n: number): string => `Back to all ${n} routes`,
  levers: 'Levers',
  buttons: 'Push buttons',
  press: 'press',
  lever: 'lever',
  title: (name: string): string => (name === '' ? 'Mimicwright' : `${name} · Mimicwright`),
  faceOf: (name: string): string => `The panel ${name}`,
  free: 'free',
  leave: 'leave',
  toThrow: 'Levers for this route',
  cardOf: (lever: string, number: number | null, lie: Lie): string =>
    `${lever}: ${number === null ? `${lie} leave` : `${number} ${lie}`}`,
  pressOrPick: 'Press a lever to throw it, or pick a route: what it asks of each lever then stands here.',
  askNothing: 'The levers cannot set this route, so nothing is asked of them.',
  noneAsked: 'This route asks nothing of any lever.',
  noRoutes: 'No routes: this panel has no two places that track joins.',
  noStrips: 'Nothing is laid on this sheet yet: the file has no strips.',
  told: 'This screen is told, it does not see.',
  unsolved:
    'With the levers so the circuits have no answer that holds: the lamps shown here may be wrong. The findings say more.',
  toldMore: 'It knows the levers you ticked, not how the drives or the blades lie.',
  /** What the line along the picked route is. */
  guide: {
    set: 'The bright line along the route shows here only',
    throwing: 'The broken line is the route asked for; set, it is a bright line, here only',
    impossible: 'The bars show where it would run',
  } as const,
  conflicts: 'Conflict with this route',
  beside: 'Free to set as well',
  besideBarred: 'Do not conflict with it',
  never: 'The levers cannot set these',
  routes: 'Routes',
  trains: 'Trains',
  placesOnFace: 'Places on the sheet',
  placeOnFace: (name: string, end: 'from' | 'to' | null): string =>
    end === null ? name : `${name}, ${end === 'from' ? 'the route starts here' : 'the route ends here'}`,
  side: 'Routes and trains',
  route: 'Route',
  nOfM: (n: number, m: number): string => `${n} of ${m}`,
  allConflicts: (n: number): string => `All ${n} conflicts`,
  allBeside: (n: number): string => `All ${n} free routes`,
  allNever: (n: number): string => `All ${n} of these`,
  allRoutes: (n: number): string => `All ${n} routes`,
  fewer: 'Show fewer',
  none: 'None',
  cut: 'The list of routes was cut at its limit: there are more than are shown.',
  alreadySet: 'already set',
  setThese: (levers: readonly string[], presses: readonly string[]): string =>
    [
      ...(levers.length === 0 ? [] : [`throw ${levers.join(', ')}`]),
      ...(presses.length === 0 ? [] : [`press ${presses.join(', ')}`]),
    ].join(', '),
  joiner: 'to',
  routeName: (from: string, to: string): string => `${from} to ${to}`,
  findings: 'Findings',
  findingsOf: (total: number): string => count(total, 'finding'),
  findingsWait: 'Checking this panel',
  checked: (strips: number, points: number, lamps: number): string =>
    `Nothing found in ${count(strips, 'strip')}, ${count(points, 'point')} and ${count(lamps, 'lamp')}.`,
  /** At a finding that others are like. */
  moreAlike: (n: number): string => `and ${n} more alike`,
  lessAlike: (n: number): string => `Fold the ${n} alike away`,
  remedy: 'Remedy',
  close: 'Close',
  showThere: 'Show where',
  showThereOf: (ids: readonly string[]): string => (ids.length === 0 ? '' : ` ${list(ids)}`),
  problemsTitle: (file: string): string => `${file} cannot be used`,
  problemsAsIs: 'The panel that was open stays as it was.',
  problemsCount: (n: number): string => (n === 1 ? 'One thing is in the way:' : `${n} things are in the way:`),
  wholeFile: 'the file',
  tooLarge: 'larger than 20 MB, which no panel file is',
  unreadable: 'cannot be read as text',
  faultTitle: (file: string): string => `The program failed at ${file}`,
  fault: 'The fault is the program’s and not the file’s. What it said:',
  opened: (name: string): string => `${name} is open.`,
  reread: (name: string): string => `${name} was read again.`,
  card: 'Print card',
  cardHint: 'Print this route as a card: its levers with boxes to tick',
  cardHead: (from: string, to: string): string => `${from} to ${to}`,
  cardColumns: ['No', 'Lever', 'Works', 'Set it', 'Done'],
  cardRevision: (name: string, revision: string): string =>
    [name, revision === '' ? '' : `revision ${revision}`].filter((part) => part !== '').join(', '),
  cardFoot:
    'Check every lever on the card, whichever way it lies. All other levers are free. The lamps show what was asked of the levers, not how the blades lie: look along the route before a train moves.',
  inWords: 'The panel in words',
  pointsHead: 'Points',
  lampsHead: 'Lamps',
  spokenPoint: (id: string, lie: Lie | null, to: string, by: string | null): string => {
    if (by === null) return `${id}: no lever works it`;
    return lie === null ? `${id}: asked nothing, ${by} is in the centre` : `${id}: asked ${lie}, to ${to}, by ${by}`;
  },
  spokenLamp: (id: string, on: string, look: Look): string => `${id}, on ${on}: ${looks[look]}`,
  faceSize: (width: number, height: number, unit: 'mm' | 'in', rear: boolean): string =>
    `${lengthIn(width, unit).replace(/ .*/, '')} × ${lengthIn(height, unit)} face${rear ? ', for an operator behind the layout' : ''}`,
  supply: (name: string, amps: number): readonly [string, string] => [name, `${fixed(amps, 2)} A`],
  ofRating: (amps: number, rating: number): string =>
    `of ${plain(rating)} A${amps > rating ? ': more than it can give' : ''}`,
};

/** Where a panel is that nothing was laid on in this window, and what can be done with it. */
export const keptWords = {
  as: {
    kept: 'Kept on this device',
    demo: 'Demo, as it came',
    own: 'As its file has it',
    served: 'Followed as it changes',
  } as const,
  title: (file: string): string => (file === '' ? 'Versions and files' : `Versions and files of ${file}`),
  open: (kept: string): string => `${kept}. Versions and files`,
  noUndo: 'Nothing to undo',
  noRedo: 'Nothing to redo',
} as const;

export const severities: Readonly<Record<Severity, string>> = {
  danger: 'Danger',
  wrong: 'Wrong',
  caution: 'Caution',
  hint: 'Hint',
};

export const positions: Readonly<Record<Position, string>> = { normal: 'normal', reverse: 'reverse', centre: 'centre' };

const looks: Readonly<Record<Look, string>> = {
  unlit: 'dark',
  faint: 'a glimmer',
  good: 'lit',
  bright: 'lit too brightly',
  destroyed: 'burnt out',
};

/** "L4 Quay cross". */
export const leverName = (lever: Pick<ViewLever, 'id' | 'name'>): string =>
  lever.name === null || lever.name === lever.id ? lever.id : `${lever.id} ${lever.name}`;

/** A finding's message as a sentence: it begins with a capital unless it begins with an id, which keeps its own letters. */
export function sentence(message: string, ids: readonly string[]): string {
  const first = message.split(/[\s,:;]/, 1)[0] ?? '';
  return ids.includes(first) ? message : `${message.slice(0, 1).toUpperCase()}${message.slice(1)}`;
}

/** "L4 Quay cross, works P4 and P5, reverse". */
export function leverLabel(lever: ViewLever, position: Position): string {
  const works = lever.works.length === 0 ? 'works nothing' : `works ${list(lever.works)}`;
  return `${leverName(lever)}, ${works}, ${positions[position]}`;
}

/** "B1 Loop in, sets P4 reverse; it lies so". */
export function buttonLabel(view: View, { id, name, sets }: ViewButton, lies: Lies, levers: LeverPositions): string {
  const set = Object.entries(sets);
  const so = set.every(([point, lie]) => lieOf(view, point, levers, lies) === lie);
  const says = `sets ${list(set.map(([point, lie]) => `${point} ${positions[lie]}`))}`;
  return `${name === null ? id : `${id} ${name}`}, ${says}${so ? (set.length === 1 ? '; it lies so' : '; they lie so') : ''}`;
}

/** Why another route cannot stand with the picked one. */
export function clashText(view: View, clash: Clash): string {
  const named = (id: string): string => view.places.find((place) => place.id === id)?.name ?? id;
  switch (clash.kind) {
    case 'lever':
      return `needs ${clash.lever} ${clash.lie}`;
    case 'point':
      return `needs ${clash.point} ${clash.lie}`;
    case 'crossing':
      return `crosses it at ${clash.crossing}`;
    case 'track': {
      const [a, b] = clash.between;
      return `shares track with it, ${named(a)} to ${named(b)}`;
    }
  }
}

/** Headline and line below it for the state of the picked route. */
export function stateWords(state: RouteState, routes: number): { readonly head: string; readonly more: string } {
  switch (state.kind) {
    case 'none':
      return routes === 0
        ? { head: 'No routes', more: 'Track joins no two places' }
        : { head: 'No route picked', more: 'Pick where from and where to' };
    case 'impossible':
      return { head: 'Cannot be set', more: state.why };
    case 'throwing':
      return {
        head: [
          ...(state.left.length === 0 ? [] : [`${count(state.left.length, 'lever')} to throw`]),
          ...(state.presses.length === 0 ? [] : [`${count(state.presses.length, 'button')} to press`]),
        ].join(', '),
        more: `In order: ${list([...state.left, ...state.presses])}`,
      };
    case 'set':
      return {
        head: 'Route set',
        more: [
          ...(state.thrown + state.kept > 0 || state.pressed === 0
            ? [`By your ticks: ${count(state.thrown, 'lever')} thrown, ${state.kept} left as they lay`]
            : []),
          ...(state.pressed > 0 ? [`${count(state.pressed, 'button')} pressed`] : []),
        ].join('; '),
      };
  }
}

/** The count of lamps, in pieces: what stands in bold and what follows it. `other` names the other standing route. */
export function litWords(lit: LitCount, picked: boolean, other: string | null): readonly (readonly [string, string])[] {
  if (lit.all === 0) return [['No', 'lamps on this panel']];
  const pieces: [number, string][] = [];
  if (picked) {
    pieces.push([lit.onRoute, 'on this route']);
    if (lit.onOther !== null && other !== null) pieces.push([lit.onOther.lit, `on ${other}`]);
    if (lit.elsewhere > 0) pieces.push([lit.elsewhere, 'elsewhere']);
  }
  if (lit.bright > 0) pieces.push([lit.bright, 'of them too bright']);
  if (lit.faint > 0) pieces.push([lit.faint, 'more with a glimmer only, doubtful']);
  if (lit.destroyed > 0) pieces.push([lit.destroyed, 'burnt out']);
  const head = [String(lit.lit), `of ${count(lit.all, 'lamp')} lit${pieces.length > 0 ? ':' : ''}`] as const;
  return [head, ...pieces.map(([n, what], i) => [String(n), i < pieces.length - 1 ? `${what},` : what] as const)];
}

/** What a screen reader hears after a throw. */
export function throwNews(
  thrown: readonly string[],
  on: readonly string[],
  off: readonly string[],
  unsolved: boolean,
): string {
  const parts = [thrown.join(', ')];
  if (unsolved) return `${parts.join('')}. ${words.unsolved}`;
  if (on.length > 0) parts.push(`Lit: ${on.join(', ')}`);
  if (off.length > 0) parts.push(`Dark: ${off.join(', ')}`);
  if (on.length === 0 && off.length === 0) parts.push('No lamp changes');
  return `${parts.join('. ')}.`;
}
