/** Every word of the Lay stage. Sentence case, plain trade words; a button says what happens. */
import type { Alignment, PickList, SnapKind } from '../../laying/index.ts';
import type { StepName } from '../document/document.ts';
import type { RulerUnit } from '../lay/rulers.ts';
import type { Formation } from '../lay/tools/formation.ts';
import type { ToolName, WhyNot } from '../lay/tools/types.ts';
import { count, fixed, list, MM_PER_INCH, percent, plural } from './figures.ts';
import { keptWords } from './run.ts';

export const layWords = {
  sheet: 'The sheet and its findings',
  sheetOf: (name: string): string => (name === '' ? 'The sheet' : `The sheet of ${name}`),
  tools: 'Tools',
  toolKey: (word: string, key: string): string => `${word}, key ${key}`,
  snap: 'Snap',
  snapOn: (grid: string): string => `Ends and corners fall on ${grid} and join at 32°`,
  snapOff: 'Ends and corners stay where the hand leaves them',

  formations: 'What a drag lays',
  formation: {
    strip: 'Strip',
    loop: 'Passing loop',
    crossover: 'Crossover',
    lead: 'Lead',
    ladder: 'Ladder',
    'single-slip': 'Single slip',
    'double-slip': 'Double slip',
  } as Readonly<Record<Formation, string>>,
  formationHow: {
    strip: 'Drag from where it begins to where it ends',
    loop: 'Drag along a strip; the side and the distance are those of the hand',
    crossover: 'Drag from one strip to the other',
    lead: 'Drag from a strip to where the road ends beside it',
    ladder: 'Drag from a strip to where the roads end beside it',
    'single-slip': 'Press where two strips cross, and drag to the side of the curve',
    'double-slip': 'Press where two strips cross',
  } as Readonly<Record<Formation, string>>,
  roads: 'Roads',
  whyNot: {
    'no strip': 'Nothing laid: begin the drag on a strip',
    'no room': 'Nothing laid: there is too little room for it here',
    'no crossing': 'Nothing laid: no two strips cross here, or it is that already',
    'no place': 'Nothing named: press a free end, or a strip away from its ends',
  } as Readonly<Record<WhyNot, string>>,

  x: 'x',
  y: 'y',
  typeSpot: 'Where, typed',
  typeSpotSuch: 'x y',
  typeSpotHow:
    'Across and down, such as 60 66; on to another with 0 66 to 600 66; from a corner so far at an angle, 50<32. Enter lays it; Enter alone ends a strip.',
  cornerAt: (x: string, y: string): string => `Corner at ${x}, ${y}`,
  badSpot: 'Not read: across and down, such as 60 66, or 0 66 to 600 66',
  plateText: 'PLATE',
  snapping: (grid: string): string => `${grid}, joins at 32°`,
  snapIsOff: 'Snap is off',
  /** What the hand falls on, and in which order it looks for it. */
  snapOrder: (now: SnapKind | null): string =>
    `What the hand falls on, in this order: ${snapKinds
      .map((kind) => `${snapWords[kind]}${kind === now ? ' (now)' : ''}`)
      .join('; ')}.`,
  drawnNth: (kind: SnapKind): string => `${snapKinds.indexOf(kind) + 1} of ${snapKinds.length}`,
  counts: (strips: number, points: number, meeting: number, levers: number, lamps: number): string =>
    [
      count(strips, 'strip'),
      meeting > points ? `${points} of ${count(meeting, 'point')}` : count(points, 'point'),
      count(levers, 'lever'),
      count(lamps, 'lamp'),
    ].join(', '),
  zoom: 'How large it is drawn',
  zoomOut: 'Zoom out',
  zoomIn: 'Zoom in',
  percent,
  zoomTitle: 'Of true size on this screen',
  fit: 'Fit',
  fitTitle: 'The whole sheet',
  trueSize: 'True size',
  trueSizeTitle: 'As large as the sheet will be',

  measureTitle: 'Measure this screen once',
  measureWhy:
    'A browser does not know how large this screen is. Lay one of these against it, and press plus or minus until the picture is as wide.',
  measureWith: { card: 'A bank card', ruler: 'A ruler' },
  measureSize: {
    card: (across: string): string => `${across} wide`,
    ruler: (across: string): string => across,
  },
  wider: 'Wider',
  narrower: 'Narrower',
  muchWider: 'Much wider',
  muchNarrower: 'Much narrower',
  pxPerMm: (px: number, unit: RulerUnit): string =>
    unit === 'mm' ? `${fixed(px, 3)} px to the millimetre` : `${fixed(px * MM_PER_INCH, 1)} px to the inch`,
  measureDone: 'It matches',
  measureAgain: 'Measure screen',
  cancel: 'Leave it',

  findings: 'Findings',
  countOf: (n: number, word: string): string => `${n} ${word}`,
  asLaid: 'Checked as you lay',
  checking: 'Checking',
  nothing: (strips: number, points: number): string =>
    `Nothing found in ${count(strips, 'strip')} and ${count(points, 'point')}`,
  nothingMore: 'Looked at track, routes, levers, lamps, circuits, connectors and what fits on the sheet.',
  foldAway: 'Fold the findings away',
  foldOut: 'Show the findings',
  price: (price: number): string => fixed(price, 2),
  done: (mend: string): string => `Done: ${mend}`,
  priceTitle: 'What has to be bought, in the money of your prices',
  /** Once where prices stand. */
  pricesAre: 'Costs are in the money of your prices',
  byHand: (text: string): string => `By hand: ${text}`,

  close: 'Close',
  foldSide: 'Fold away what is picked',
  unfoldSide: 'Show what is picked',
  name: 'Name',
  tape: 'Tape',
  tapeOf: (face: string, cut: string | null): string =>
    cut === null ? `${face} on the face` : `${face} on the face, cut ${cut}`,
  tapes: { graphite: 'Graphite', oxide: 'Oxide', slate: 'Slate' } as Readonly<Record<string, string>>,
  width: 'Width',
  otherWidth: 'Other width',
  ends: 'Ends',
  joins: (what: string): string => `Joins ${what}`,
  meets: (what: string): string => `Meets ${what}, not read`,
  buttsOn: (what: string): string => `Goes on as ${what}`,
  endOf: (what: string): string => `End of the road: ${what}`,
  freeEnd: 'Free end, without a name',
  nameEnd: 'Name of this end',
  endTag: 'End',
  corners: 'Corners',
  cornerNames: (i: number, of: number): string =>
    i === 0 ? 'Start' : i === of - 1 ? 'End' : of === 3 ? 'Bend' : `Bend ${i}`,
  xOf: (corner: string): string => `x of ${corner.toLowerCase()}`,
  yOf: (corner: string): string => `y of ${corner.toLowerCase()}`,
  bendOf: 'Radius of bends',
  takeOutOf: (corner: string): string => `Take out ${corner.toLowerCase()}`,
  onLayout: 'On the layout',
  layoutLength: 'Length of track it stands for',
  onStrip: 'On this strip',
  place: 'Place',
  places: 'Places',
  points: 'Points',
  lamps: 'Lamps',
  noPoints: 'None',
  lampsOn: (n: number, levers: readonly string[]): string =>
    n === 0 ? 'None' : levers.length === 0 ? String(n) : `${n}, worked by ${levers.join(', ')}`,
  notSaid: 'Not said',

  spot: 'Where it stands',
  middle: 'Middle',
  topLeft: 'Top left corner',
  across: 'Across',
  down: 'Down',
  size: 'Size',
  text: 'What it says',
  typeSize: 'Height of its type',
  drill: 'Drill',
  angle: 'Turned by',
  works: 'Works',
  worksNothing: 'Nothing yet',
  setBy: 'Sets',
  lieOf: (point: string): string => `How ${point} lies`,
  addPoint: 'Add a point',
  noPointLeft: 'No other point',
  buttonParts: { 'push-1p': 'Push button, one pole', 'push-2p': 'Push button, two poles' } as Readonly<
    Record<string, string>
  >,
  switchPart: 'Switch',
  part: 'Part',
  holdsTrain: 'How long a train may stand there',
  lettering: 'Lettering',
  letteringOf: (i: number): string => `Lettering ${i + 1}`,
  addLettering: 'Add lettering',
  shows: 'Lit when',
  showsAs: 'As the leg it lies on asks',
  sayShows: 'Say it otherwise',
  showsAsLies: 'As the leg it lies on asks',
  showsLies: (lies: readonly (readonly [string, string])[]): string =>
    lies.length === 0 ? 'Always' : list(lies.map(([point, lie]) => `${point} ${lie}`)),
  or: ' or ',
  lampOn: 'On',
  offTape: 'No strip under it',
  lampPart: 'Lamp',
  lampParts: {
    'led-3-amber': '3 mm amber',
    'led-3-red': '3 mm red',
    'led-3-yellow': '3 mm yellow',
    'led-3-green': '3 mm green',
    'led-5-amber': '5 mm amber',
    'led-5-red': '5 mm red',
    'led-5-yellow': '5 mm yellow',
    'led-5-green': '5 mm green',
  } as Readonly<Record<string, string>>,
  byDefault: 'The smallest that serves',

  panel: 'The panel',
  face: 'Face',
  faceWidth: 'Width',
  faceHeight: 'Height',
  thickness: 'Thickness',
  material: 'Material',
  paint: 'Paint',
  unit: 'Lengths in',
  units: { mm: 'Millimetres', in: 'Inches' } as Readonly<Record<RulerUnit, string>>,
  view: 'Seen from',
  views: { front: 'The front', rear: 'The rear' } as const,
  viewNote: 'The rear: the plan is turned for an operator behind the layout.',
  singleKeys: 'Keys of one letter',
  singleKeysOn: 'On',
  singleKeysOff: 'Off',
  singleKeysNote: 'A letter takes a tool, 1 to 6 go to the stages. Off: for who dictates. This device remembers it.',
  fixings: 'Screw holes',
  fixingsOf: (n: number): string => (n === 0 ? 'None yet' : String(n)),
  cornersOfSheet: 'Put one in each corner',
  titlePlate: 'Title plate',
  putTitle: 'Put a title plate',
  pickTitle: 'Pick it',
  pickHole: (i: number): string => `Screw hole ${i + 1}`,
  materials: {
    aluminium: 'Aluminium',
    steel: 'Steel',
    plywood: 'Plywood',
    mdf: 'MDF',
    acrylic: 'Acrylic',
    hardboard: 'Hardboard',
  } as Readonly<Record<string, string>>,

  manyPicked: (n: number): string => `${n} things picked`,
  align: 'Align',
  alignments: {
    left: 'Left',
    across: 'Centre',
    right: 'Right',
    top: 'Top',
    down: 'Middle',
    bottom: 'Bottom',
  } as Readonly<Record<Alignment, string>>,
  space: 'Space evenly',
  spaceAcross: 'Across',
  spaceDown: 'Down',
  spaceWhy: 'Three or more are needed.',
  mirror: 'Mirror',
  mirrorAcross: 'Left to right',
  mirrorDown: 'Top to bottom',
  turn: 'Turn',
  turnLeft: '90° to the left',
  turnRight: '90° to the right',
  turnBy: 'Degrees, clockwise',
  other: 'More',
  duplicate: 'Duplicate',
  lift: 'Lift',
  liftAll: (n: number): string => `Lift all ${n}`,

  deeds: 'What can be done with it',
  split: 'Split',
  addBend: 'Add bend',
  swapLies: 'Swap lies',
  swapLiesOf: (point: string): string => `Swap lies of ${point}`,
  swapWhich: 'Swap the lies of',
  takeOutBend: 'Take out bend',
  back: 'Back',
  noPoint: 'No point ends here',

  copied: (what: string): string => `Copied ${what}`,
  cut: (what: string): string => `Cut ${what}`,
  pasted: (what: string, dropped: Dropped): string => `Pasted ${what}${leftOut(dropped)}`,
  duplicated: (what: string, dropped: Dropped): string => `Duplicated ${what}${leftOut(dropped)}`,
  noClip: 'Nothing of a panel is on the clipboard',
  notPasted: 'Nothing pasted: it does not fit on the sheet',

  kept: keptWords.as.kept,
  keeping: 'Keeping',
  notKept: 'Not kept on this device',
  save: 'Save a file',
  saveHow: 'Save this panel as a file on this device',
  undoOf: (step: StepName | null): string => (step === null ? keptWords.noUndo : `Undo ${stepWords(step)}`),
  redoOf: (step: StepName | null): string => (step === null ? keptWords.noRedo : `Redo ${stepWords(step)}`),

  outline: 'The sheet as a list',
  outlineHelp: (near: string, far: string): string =>
    `Arrow keys go from row to row. Enter picks. Alt with an arrow key moves the thing ${near}, with Shift ${far}. Delete lifts it.`,
  empty: 'Nothing is laid on the sheet yet.',
  picked: (what: string): string => `${what}, picked`,
  moved: (what: string, x: string, y: string): string => `${what} moved to ${x}, ${y}`,
  stays: (what: string): string => `${what} stays`,
  lifted: (what: string): string => `${what} lifted`,
  staysAtMeeting: (what: string): string => `${what} stands where strips meet: move the end of a strip`,

  badLength: (unit: RulerUnit, least: string | null, most: string | null): string =>
    `A length such as ${unit === 'mm' ? '12.5, 12.5 mm or 1/2 in' : '0.5, 1/2 or 12.5 mm'}${range(least, most)}`,
  badDegrees: 'Degrees, such as 32 or −90',
  badName: 'A name of one line',
  refused: 'That does not fit here: too short, or off what a sheet can hold',
} as const;

/** What the rows of the sheet as a list say. */
export const outlineWords = {
  strip: (name: string, length: string, ends: readonly string[]): string =>
    `${name}, strip of ${length}, from ${ends.join(' to ')}`,
  endMakes: (id: string, onto: string | null): string => (onto === null ? id : `${id} on ${onto}`),
  endPlace: (name: string, named: boolean): string => (named ? name : `the free end ${name}`),
  endButts: (onto: string): string => `a butt with ${onto}`,
  endNothing: 'an end that is not read',
  point: (id: string, on: string, normal: string, reverse: string, levers: string): string =>
    [
      id,
      `on ${on}`,
      `normal to ${normal}`,
      `reverse to ${reverse}`,
      levers === '' ? 'worked by no lever' : `worked by ${levers}`,
    ].join(', '),
  crossing: (id: string, of: 'diamond' | 'single-slip' | 'double-slip' | 'bridge', a: string, b: string): string =>
    of === 'bridge'
      ? `Bridge, ${a} and ${b}`
      : `${{ diamond: 'Crossing', 'single-slip': 'Single slip', 'double-slip': 'Double slip' }[of]} ${id}, ${a} and ${b}`,
  place: (name: string, end: boolean, on: string | null, named: boolean): string => {
    const where = on === null ? 'off the tape' : end ? `${named ? 'the' : 'unnamed'} end of ${on}` : `on ${on}`;
    return `${name}, ${where}`;
  },
  lamp: (id: string, name: string | null, on: string | null, lies: readonly string[]): string =>
    [
      name === null ? `Lamp ${id}` : `Lamp ${id} ${name}`,
      on === null ? 'off the tape' : `on ${on}`,
      lies.length === 0 ? 'lit by no point' : `lit with ${lies.join(' or ')}`,
    ].join(', '),
  lever: (id: string, name: string | null, works: string): string =>
    `Lever ${id}${name === null || name === id ? '' : ` ${name}`}, ${works === '' ? 'works nothing' : `works ${works}`}`,
  thing: (kind: string, what: string, name: string | null): string =>
    `${kind} ${what}${name === null || name === what ? '' : ` ${name}`}`,
};

/** Names of the tools and their keys, in the order of the rail. */
export const tools: readonly { readonly tool: ToolName; readonly word: string; readonly key: string }[] = [
  { tool: 'pick', word: 'Pick', key: 'V' },
  { tool: 'strip', word: 'Strip', key: 'S' },
  { tool: 'platform', word: 'Platform', key: 'F' },
  { tool: 'place', word: 'Place', key: 'N' },
  { tool: 'plate', word: 'Plate', key: 'T' },
  { tool: 'lever', word: 'Lever', key: 'L' },
  { tool: 'button', word: 'Button', key: 'B' },
  { tool: 'lamp', word: 'Lamp', key: 'K' },
  { tool: 'fixing', word: 'Screw', key: 'H' },
  { tool: 'keep-out', word: 'Keep clear', key: 'X' },
  { tool: 'measure', word: 'Measure', key: 'M' },
];

/** What a thing of each kind is called, one and several. */
export const kinds: Readonly<Record<PickList, readonly [one: string, many: string]>> = {
  strips: ['Strip', 'strips'],
  places: ['Place', 'places'],
  lamps: ['Lamp', 'lamps'],
  levers: ['Lever', 'levers'],
  buttons: ['Button', 'buttons'],
  relays: ['Relay', 'relays'],
  plates: ['Plate', 'plates'],
  platforms: ['Platform', 'platforms'],
  fixings: ['Screw hole', 'screw holes'],
  keepOut: ['Space kept clear', 'spaces kept clear'],
};

/** "3 strips and 2 lamps". */
export function kindCounts(counts: readonly (readonly [PickList, number])[]): string {
  return list(counts.map(([kind, n]) => count(n, kinds[kind][0].toLowerCase(), kinds[kind][1])));
}

/** What draws the hand, in the order in which it is tried. */
export const snapWords: Readonly<Record<SnapKind, string>> = {
  end: 'on to an end',
  join: 'joins at 32°',
  angle: 'joins as another strip lies',
  strip: 'on a strip',
  cross: 'in line with two things',
  line: 'in line with another',
  way: 'straight, or at 32°',
  grid: 'the grid',
};
const snapKinds = Object.keys(snapWords) as readonly SnapKind[];

/** "on to an end" as it stands alone. */
export function snapSaid(kind: SnapKind): string {
  const text = snapWords[kind];
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** What an edit does: `*` is what it was done to; else the words behind it stand there. */
const steps: Readonly<Record<string, readonly [deed: string, thing: string]>> = {
  'strip.lay': ['lay *', 'a strip'],
  'strip.move': ['move *', 'a strip'],
  'value.fix': ['fix *', 'a figure'],
  'strip.bend': ['bend *', 'a strip'],
  'strip.draw': ['draw on *', 'a strip'],
  'strip.redraw': ['draw * anew', 'a strip'],
  'strip.split': ['split *', 'a strip'],
  'strip.join': ['join *', 'two strips'],
  'strip.set': ['set *', 'a strip'],
  'strip.order': ['order of *', 'strips'],
  'strip.mirror': ['mirror *', 'a strip'],
  'strip.reverse': ['turn round *', 'a strip'],
  'strip.lift': ['lift *', 'a strip'],
  'strip.delete': ['lift *', 'a strip'],
  'strip.tape': ['tape of *', 'a strip'],
  'strip.move-end': ['move the end of *', 'a strip'],
  'crossover.lay': ['lay *', 'a crossover'],
  'loop.lay': ['lay *', 'a loop'],
  'lead.lay': ['lay *', 'a lead'],
  'ladder.lay': ['lay *', 'a ladder'],
  'crossing.set': ['set *', 'a crossing'],
  'crossing.over': ['make * a bridge', 'a crossing'],
  'point.swap': ['swap lies of *', 'a point'],
  'point.normal': ['normal leg of *', 'a point'],
  'point.sense': ['sense of *', 'points'],
  'point.drive': ['drive of *', 'a point'],
  'trains.put': ['write *', 'trains'],
  'plan.name': ['name *', 'points and ends'],
  'place.name': ['name *', 'a place'],
  'place.set': ['set *', 'a place'],
  'platform.put': ['put *', 'a platform'],
  'platform.set': ['set *', 'a platform'],
  'keep-out.put': ['keep clear *', 'a space'],
  'keep-out.set': ['set *', 'a space kept clear'],
  'plate.put': ['put *', 'a plate'],
  'plate.set': ['set *', 'a plate'],
  'plate.size': ['size of *', 'a plate'],
  'fixing.put': ['put *', 'a screw hole'],
  'fixing.set': ['set *', 'a screw hole'],
  'lever.put': ['put *', 'levers'],
  'lever.add': ['put *', 'a lever'],
  'lever.set': ['set *', 'a lever'],
  'lever.switch': ['switch of *', 'a lever'],
  'lever.works': ['what * works', 'a lever'],
  'lever.own': ['own lever for *', 'a point'],
  'lever.join': ['join *', 'two levers'],
  'lever.part': ['part *', 'a lever'],
  'lever.arrange': ['arrange *', 'the levers'],
  'lever.twin': ['twin of *', 'a lever'],
  'lever.feed': ['feed of *', 'a lever'],
  'lever.lighting': ['lighting of *', 'a lever'],
  'button.put': ['put *', 'a button'],
  'button.set': ['set *', 'a button'],
  'button.part': ['part of *', 'a button'],
  'relay.set': ['set *', 'a relay'],
  'relay.part': ['part of *', 'a relay'],
  'lamp.put': ['put *', 'a lamp'],
  'lamp.set': ['set *', 'a lamp'],
  'lamp.strew': ['put *', 'lamps'],
  'lamp.part': ['part of *', 'lamps'],
  'lamp.alter': ['alter *', 'a lamp'],
  'lamp.lift': ['lift *', 'a lamp'],
  'lamp.show': ['what * shows', 'a lamp'],
  'lamp.claim': ['what * claims', 'a lamp'],
  'group.lamps': ['lamps of *', 'a group'],
  'group.ohms': ['resistor of *', 'a group'],
  'group.guard': ['guard of *', 'a group'],
  'group.size': ['resistor of *', 'a group'],
  'group.pair': ['pairs of *', 'a group'],
  'group.own': ['resistors of *', 'a group'],
  'lighting.scheme': ['lighting of *', 'the lamps'],
  'drive.wire': ['wire to *', 'a drive'],
  'drive.part': ['part of *', 'a drive'],
  'drive.address': ['address of *', 'a drive'],
  'feed.kind': ['feed of *', 'the drives'],
  'feed.farads': ['capacitor of *', 'the feed'],
  'feed.supply': ['supply of *', 'the drives'],
  'supply.volts': ['volts of *', 'a supply'],
  'supply.fuse': ['fuse of *', 'a supply'],
  'supply.farads': ['capacitor of *', 'a supply'],
  'connector.alter': ['alter *', 'a connector'],
  'connector.add': ['add *', 'a connector'],
  'connector.half': ['halves of *', 'a connector'],
  'wire.colour': ['colour of *', 'wires'],
  'part.figure': ['figures of *', 'a part'],
  'frog.add': ['feed *', 'a frog'],
  'frog.kind': ['kind of *', 'a frog'],
  'frog.from': ['contact of *', 'a frog'],
  'track.gaps': ['gaps in *', 'the rails'],
  'track.feeds': ['feeds of *', 'the rails'],
  'track.bus': ['bus of *', 'the track'],
  'track.numbering': ['numbering of *', 'decoders'],
  'track.accessory-bus': ['bus of *', 'the decoders'],
  'record.lift': ['take out *', 'a record'],
  'face.size': ['size of *', 'the face'],
  'face.set': ['set *', 'the face'],
  'panel.name': ['name *', 'the panel'],
  'clip.paste': ['paste *', 'what was copied'],
  'version.restore': ['go back to *', 'a version'],
  'thing.move': ['move *', 'what was picked'],
  'thing.align': ['align *', 'what was picked'],
  'thing.space': ['space *', 'what was picked'],
  'thing.mirror': ['mirror *', 'what was picked'],
  'thing.turn': ['turn *', 'what was picked'],
  'thing.remove': ['lift *', 'what was picked'],
  'thing.duplicate': ['duplicate *', 'what was picked'],
};

/** "move P7", "lay a strip"; a name that is not known says what it was done to alone. */
export function stepWords({ name, subject }: StepName): string {
  const [deed, thing] = steps[name] ?? ['alter *', 'the panel'];
  return deed.replace('*', () => (subject === '' ? thing : subject));
}

/** Has an edit of this name words of its own? */
export function hasWords(name: string): boolean {
  return Object.hasOwn(steps, name);
}

/**
 * A finding's message parted: what stands in bold, and the rest as a sentence. At its first full stop, else its first colon or semicolon; not
 * behind an id alone.
 */
export function parted(message: string): readonly [head: string, rest: string] {
  for (const mark of [/\. (?=\S)/, /[:;] (?=\S)/]) {
    const at = new RegExp(mark.source, 'g');
    for (let found = at.exec(message); found !== null; found = at.exec(message)) {
      const head = message.slice(0, found.index);
      if (head.split(' ').length < 3) continue;
      const rest = message.slice(found.index + found[0].length);
      return [head, `${rest.slice(0, 1).toUpperCase()}${rest.slice(1)}${/[.?]$/.test(rest) ? '' : '.'}`];
    }
  }
  return [message.replace(/\.$/, ''), ''];
}

/** What a pasted thing spoke of, and the thing. */
type Dropped = readonly (readonly [ref: string, of: string])[];

/** Some of what was left out, and how many more. */
function leftOut(dropped: Dropped): string {
  if (dropped.length === 0) return '';
  const some = dropped.slice(0, 4).map(([ref, of]) => `${ref} of ${of}`);
  const rest = dropped.length - some.length;
  const it = plural(dropped.length, 'it was', 'they were');
  return `. Left out, as ${it} not copied: ${list(rest === 0 ? some : [...some, `${rest} more`])}`;
}

function range(least: string | null, most: string | null): string {
  if (least !== null && most !== null) return `, from ${least} to ${most}`;
  if (least !== null) return `, at least ${least}`;
  return most === null ? '' : `, at most ${most}`;
}
