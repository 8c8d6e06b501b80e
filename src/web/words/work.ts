/** Words of the stage Work: which lever works what. */
import type { DriveTrap } from '../../contacts/index.ts';
import type { ToggleSize } from '../../laying/index.ts';
import type { Lie } from '../../panel/index.ts';
import type { DrivePart, ToggleAction } from '../../parts/index.ts';
import type { JoinedAs } from '../../routes/index.ts';
import { formatAmps } from '../../units/index.ts';
import type { WorkView } from '../worker/work-view.ts';
import { count, fixed, list, plural, ranged } from './figures.ts';

const money = (price: number): string => fixed(price, 2);

const feeds: Readonly<Record<WorkView['feed'], string>> = {
  reversing: 'Reversing takes two poles of every switch.',
  split: 'A split feed takes one pole of every switch.',
  'half-wave': 'A half-wave feed takes one pole of every switch.',
  pulse: 'A pulse takes one pole of every switch.',
  charge: 'A charge takes one pole of every switch.',
  contact: 'The input of a driver board takes one pole of every switch.',
};

const schemes: Readonly<Record<WorkView['scheme'], string>> = {
  tree: 'The rest hang lamps one behind the other, so that only a road that is reached is lit.',
  'spare-pole': 'Spare poles light lamps.',
  'across-feed': 'Lamps hang across the feed and take none.',
  'in-series': 'Lamps stand in series with the drives and take none.',
  'drive-contact': 'Lamps are lit from contacts on the drives and take none.',
  'blade-contact': 'Lamps are lit from contacts on the blades and take none.',
  'latching-relay': 'Lamps are lit through latching relays and take none.',
};

const kinds: Readonly<Record<DrivePart['what'], string>> = {
  stall: 'Stall, 2 wires',
  limit: 'Limit-switched',
  'twin-coil': 'Twin-coil',
  'twin-coil-end-off': 'Twin-coil, breaks its own coil',
  servo: 'Servo with a board',
  decoder: 'Decoder on the bus',
  hand: 'By hand, with a contact',
};

const shortKinds: Readonly<Record<DrivePart['what'], string>> = {
  stall: 'Stall',
  limit: 'Limit',
  'twin-coil': 'Twin-coil',
  'twin-coil-end-off': 'End-off coil',
  servo: 'Servo',
  decoder: 'Decoder',
  hand: 'By hand',
};

const TYPICAL = new Set([
  'stall-2-wire',
  'limit-2-wire',
  'twin-coil',
  'twin-coil-end-off',
  'servo-board',
  'decoder',
  'hand',
]);

const traps: Readonly<Record<DriveTrap, string>> = {
  'lets-go': 'Lets go when its feed is cut: use on-on levers.',
  'goes-dark': 'Lamps in series with it go dark when it stops.',
  burns: 'Held on a raw supply it burns: give it a pulse.',
  empties: 'Held behind a discharge unit, nothing else works any more.',
  'weak-together': 'Two or more at once share one charge, and none may throw.',
  'all-charge': 'At switching on every capacitor charges at once.',
  'end-contact': 'An end contact that sticks burns the coil.',
  twitches: 'Twitches at switching on, and long wires bring it noise.',
  'bus-short': 'A short on the track stops it too.',
  'shown-only': 'No lever moves it: the panel can only show how it lies.',
};

const actions: Readonly<Record<ToggleAction, string>> = {
  held: 'On-on',
  'centre-off': 'Centre-off',
  sprung: 'Momentary',
};

const sizes: Readonly<Record<ToggleSize, string>> = {
  toggle: 'Standard',
  'mini-toggle': 'Miniature',
  'sub-mini-toggle': 'Sub-miniature',
};

const joined: Readonly<Record<JoinedAs, string>> = {
  crossover: 'ends of a crossover',
  crossovers: 'ends of crossovers',
  loop: 'both ends of a loop',
  never: 'never at once',
  agree: 'always asked alike',
  clash: 'asked otherwise',
};

interface Named {
  readonly from: string;
  readonly to: string;
  readonly through: readonly string[];
}

const routeName = ({ from, to }: Named): string => `${from} to ${to}`;

export const workWords = {
  stage: 'Which lever works which point',
  drawing: 'Working it out',
  points: ranged,
  moneyTitle: 'In the money of the parts list',

  // The list of levers
  levers: 'Levers',
  lever: 'Lever',
  leversOf: (levers: number, points: number): string => `${levers}, working ${count(points, 'point')}`,
  /** What a lever works, and in which lie. */
  works: (points: readonly string[], opposite: readonly boolean[]): string => {
    if (points.length === 0) return 'works nothing';
    const all = ranged(points);
    if (points.length === 1) return opposite[0] === true ? `${all}, opposite` : all;
    const turned = points.filter((_, i) => opposite[i]);
    if (turned.length === 0) return `${all}, same`;
    return turned.length === points.length ? `${all}, opposite` : `${all}; ${list(turned)} opposite`;
  },
  switchWord: (action: ToggleAction): string => actions[action].toLowerCase(),
  polesUsed: (used: number, of: number): string => `${used} of ${count(of, 'pole')}`,
  poles: 'Poles used',
  polesSum: (used: number, of: number): string => `${used} of ${of}`,
  polesWhy: (feed: WorkView['feed'], scheme: WorkView['scheme']): string => `${feeds[feed]} ${schemes[scheme]}`,
  push: 'push button',
  pushSets: (sets: readonly (readonly [point: string, lie: Lie])[]): string =>
    sets.length === 0
      ? 'sets nothing yet: say what in Lay'
      : `sets ${list(sets.map(([point, lie]) => `${point} ${lie}`))}`,
  noLevers: 'No lever yet: lay a point first, in Lay.',
  noPoints: 'Nothing to work yet',
  noPointsMore: 'A point comes where the end of one strip meets another. Lay one, and it gets a lever here.',
  toLay: 'Go to Lay',
  byHand: (points: readonly string[]): string =>
    `${ranged(points)} ${plural(points.length, 'has', 'have')} no lever: by hand or by a decoder`,
  byNone: (points: readonly string[]): string => `No lever works ${ranged(points)}`,

  // The picked lever
  editOf: (lever: string): string => `${lever}: what it works, and how`,
  leads: 'leads',
  same: 'Same',
  opposite: 'Opposite',
  lieOf: (point: string): string => `${point} lies as the lever does, or the other way`,
  driveOf: (point: string): string => `Drive of ${point}`,
  takeInHand: (point: string): string => `Take ${point} in hand, to put it under another lever`,
  sharesDrive: (points: readonly string[]): string => `one drive with ${ranged(points)}`,
  switch: 'Switch',
  switchKind: 'Kind of switch',
  actions,
  size: 'Size',
  sizes,
  ownPart: 'A part of your own',
  leaveToTool: 'Tool chooses',
  chosenByTool: 'Chosen by the tool',
  addPoint: 'Add',
  addPointTo: (lever: string): string => `Put a point under ${lever}`,
  addWhich: 'a point',
  pointFrom: (point: string, levers: readonly string[]): string =>
    levers.length === 0 ? `${point}, no lever` : `${point}, from ${list(levers)}`,
  part: 'Separate',
  partOf: (lever: string, points: readonly string[]): string =>
    `Separate ${lever}: ${ranged(points)} each a lever of their own`,

  // The face
  faceHead: 'What each lever works',
  faceOf: (name: string): string =>
    `${name}: points and levers. Arrow keys go from one to the next, Enter takes a point in hand`,
  keyRoute: 'picked route',
  keyTogether: 'worked together',
  pointOn: (point: string, lever: string | null, opposite: boolean): string =>
    lever === null ? `${point}, no lever` : `${point}, worked by ${lever}${opposite ? ', opposite' : ''}`,
  leverOn: (lever: string, points: readonly string[]): string =>
    points.length === 0 ? `${lever}, works nothing` : `${lever}, works ${ranged(points)}`,
  needs: (lie: Lie): string => `the picked route needs it ${lie}`,
  inHand: (point: string): string => `${point} in hand`,
  inHandHow: 'tap the lever that shall work it',
  putUnder: 'Put it under',
  putWhich: 'a lever',
  ownLever: 'A lever of its own',
  putDown: 'Put it down',

  // The control table
  table: 'Control table',
  tableOf: (routes: number): string => `${count(routes, 'route')}. N normal, R reverse, blank either`,
  tableCut: (routes: number): string => `The first ${routes} routes. N normal, R reverse, blank either`,
  from: 'From',
  to: 'To',
  any: 'choose',
  way: 'Way',
  wayBy: (through: readonly string[], number: number): string =>
    through.length === 0 ? `${number}, direct` : `${number}, via ${list(through)}`,
  clear: 'Clear',
  route: 'Route',
  withPicked: 'With the picked route',
  why: 'Remark',
  picked: 'picked',
  cannot: 'Cannot stand with it',
  can: 'Can stand with it',
  more: (n: number): string => `${n} more`,
  fewer: 'Fewer',
  presses: (buttons: readonly string[]): string => `press ${list(buttons)}`,
  notSettable: (why: string): string => `cannot be set: ${why}`,
  routeTo: 'to',
  via: (through: readonly string[]): string => `via ${list(through)}`,
  nthWay: (n: number): string => `way ${n}`,
  needsLever: (lever: string, lie: Lie): string => `needs ${lever} ${lie}`,
  needsPoint: (point: string): string => `needs ${point} the other way`,
  sameTrack: (ends: string): string => `on the same track, ${ends.replace('/', ' to ')}`,
  sameCrossing: (crossing: string): string => `crosses at ${crossing}`,
  bothWays: (lever: string): string => `${lever} cannot lie both ways`,
  throws: (levers: readonly string[]): string =>
    levers.length === 0 ? 'no lever to throw' : `throw ${levers.join(', ')}`,
  sign: (sign: string): string => (sign === 'N' ? 'normal' : sign === 'R' ? 'reverse' : 'either'),
  noRoutes: 'No routes: no two places are joined by track.',

  // The number line
  head: (levers: number, points: number): string =>
    `${count(levers, 'lever')} work${plural(levers, 's', '')} ${count(points, 'point')}`,
  fewest: (routes: number, pairs: number, proved: boolean): string =>
    `${proved ? 'The fewest' : 'The fewest found'} that keep all ${count(routes, 'route')}${pairs === 0 ? '' : `, and all ${count(pairs, 'pair')} of routes that can stand together`}.`,
  fewerDo: (least: number, routes: number, proved: boolean): string =>
    `Nothing is lost of ${count(routes, 'route')}. ${proved ? '' : 'As far as was looked, '}${least} would do as well.`,
  isLost: (routes: number, pairs: number, least: number): string =>
    `${[routes > 0 ? count(routes, 'route') : '', pairs > 0 ? count(pairs, 'pair') : ''].filter((each) => each !== '').join(' and ')} ${plural(routes + pairs, 'is', 'are')} lost. ${count(least, 'lever')} can keep all.`,
  pressed: (routes: number, of: number): string =>
    `${routes === of ? (of === 1 ? 'The route takes' : `All ${of} routes take`) : `${routes} of ${of} routes take`} push buttons; nothing is lost.`,
  lineOf: (now: number, least: number, leastForRoutes: number): string =>
    `${count(now, 'lever')} now. From ${least} on nothing is lost; below, pairs go; below ${leastForRoutes}, routes go.`,
  zones: { routes: 'routes go', pairs: 'pairs go', nothing: 'nothing lost' },
  now: 'now',
  oneEach: 'one each',
  makeFewest: (least: number): string => `Make it ${least}`,
  makeOneEach: 'Give each point its own lever',

  findings: 'Findings',

  // Joins
  joinedNow: 'Joined now',
  saved: (n: number): string => `${count(n, 'switch', 'switches')} saved`,
  noneJoined: 'No lever works two points.',
  joinedAs: joined,
  losesNothing: 'loses nothing',
  loses: (routes: number, pairs: number): string =>
    `loses ${routes > 0 ? count(routes, 'route') : count(pairs, 'pair')}`,
  couldBe: 'Could be joined',
  eachSaves: 'each saves a switch, in the money of your prices',
  noneCould: 'No two levers are left to be joined.',
  joinOf: (a: readonly string[], b: readonly string[], opposite: boolean): string =>
    `${ranged(a)} ${a.length + b.length > 2 ? 'with' : 'and'} ${ranged(b)}${opposite ? ', opposite' : ''}`,
  saves: (price: number): string => `saves ${money(price)}`,
  savesAlone: (price: number): string => `saves ${money(price)}, in the money of your prices`,
  join: 'Join',
  joinThese: (what: string): string => `Join ${what}`,
  joinLoses: (routes: number, pairs: number): string =>
    routes + pairs === 0
      ? 'Loses nothing.'
      : [routes === 0 ? 'No route' : count(routes, 'route'), ...(pairs === 0 ? [] : [count(pairs, 'pair')])].join(', '),
  /** The lost routes by name, as far as they are named. */
  lostRoutes: (named: readonly Named[], all: number): string =>
    `${named.map(routeName).join(', ')}${all > named.length ? ` and ${all - named.length} more` : ''}.`,
  lostPair: (a: Named, b: Named, all: number): string =>
    `${routeName(a)} beside ${routeName(b)}${all > 1 ? ', and more' : ''}.`,
  nth: (n: number, of: number): string => `${n} of ${of}`,
  before: 'The join before',
  next: 'The next join',
  couldBeJoined: (what: string): string => `${what} could be joined`,

  // Drives
  drives: 'Drives',
  forAll: (points: number): string => `for all ${count(points, 'point')}`,
  kindOf: (part: string, name: string, what: DrivePart['what']): string => (TYPICAL.has(part) ? kinds[what] : name),
  shortKind: (part: string, name: string, what: DrivePart['what']): string =>
    TYPICAL.has(part) ? shortKinds[what] : name,
  trap: (trap: DriveTrap): string => traps[trap],
  unsuited: (feed: WorkView['feed']): string => `Not on a ${feed} feed.`,
  moreKinds: (n: number): string => count(n, 'more kind'),
  fewerKinds: 'Fewer kinds',

  // Contacts and power-up
  current: 'At switching on',
  moves: (n: number): string => (n === 0 ? 'nothing moves' : `${count(n, 'drive')} may move`),
  draws: (name: string, amps: number, rating: number): string =>
    `${name}: up to ${formatAmps(amps)} of ${formatAmps(rating)}`,
  steady: (amps: number, peak: number): string =>
    amps === peak ? ', and as much from then on' : `, then ${formatAmps(amps)}`,
  tooMuch: ', more than it gives',
  contacts: 'Contacts of drives',
  contactsOf: (used: number, has: number): string => `${used} of ${has} used`,
  overdrawn: (drive: string, left: number): string => `${drive} is short of ${count(-left, 'contact')}`,
  allWithin: 'No drive owes more contacts than it has.',
  eachDrive: 'Each drive',
  driveHead: 'Drive',
  hasHead: 'Has',
  frogsHead: 'Frogs',
  lampsHead: 'Lamps',
  otherHead: 'Other',
  leftHead: 'Left',

  // What is read out
  said: {
    under: (point: string, lever: string, opposite: boolean): string =>
      `${point} is worked by ${lever}${opposite ? ', opposite' : ''}`,
    own: (point: string): string => `${point} has a lever of its own`,
    joined: (stays: string): string => `Joined: ${stays} works both`,
    parted: (lever: string): string => `${lever} parted`,
    arranged: (n: number): string => `${count(n, 'lever')} now`,
    switch: (lever: string, kind: string): string => `${lever}: ${kind}`,
    drive: (points: readonly string[], kind: string): string => `${ranged(points)}: ${kind}`,
    inHand: (point: string): string => `${point} is in hand. Choose the lever that shall work it, or press Escape`,
    down: (point: string): string => `${point} put down`,
    stays: (point: string): string => `${point} stays where it is`,
    picked: (route: string): string => `${route} picked`,
  },
} as const;
