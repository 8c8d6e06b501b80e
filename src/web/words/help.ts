/**
 * What is said of each thing on the screen: what it is, what to do with the hand, and its key. Fetched when somebody first asks for help. The
 * terms are those of the trade, as `docs/words.md` gives them. A figure with a unit comes in as a function, so that it follows the unit chosen.
 */

/** Writes a length of so many mm in the unit chosen. */
export type SayLength = (mm: number) => string;

export interface HelpText {
  readonly title: string;
  readonly what: string | ((say: SayLength) => string);
  /** What to do with the hand. */
  readonly hand?: string | ((say: SayLength) => string);
  /** Keys, a space between them. */
  readonly key?: string;
  /** Terms that stand in it, explained below it. */
  readonly terms?: readonly Term[];
}

/** The words of the trade that help speaks in. */
export const terms = {
  point: 'one track becomes two; some say turnout',
  toe: 'the single end of a point',
  leg: 'one of the two other ends of a point',
  lie: 'how a point lies: normal or reverse',
  normal: 'the usual lie of a point, as a rule its straighter leg; of a trap point, the trap',
  reverse: 'the other lie of a point',
  drive: 'what moves the blades of a point; some say point motor',
  blades: 'the moving rails of a point',
  road: 'a length of track that one can stand a train on',
  route: 'a way from place to place without turning back',
  crossover: 'two points joined by their diverging legs, worked as one',
  loop: 'a passing loop: two tracks between two points',
  lead: 'a road that leaves another by a point and lies beside it',
  ladder: 'points in a row, each sheds one road',
  diamond: 'two tracks that cross on the level, with no way from one to the other',
  slip: 'a diamond crossing with curves: one in a single slip, two in a double slip',
  butt: 'two strips end to end',
  lever: 'one control on the face, as a rule a toggle; it works one or more points',
  claim: 'what a lamp says by being lit, always about the blades',
} as const;
export type Term = keyof typeof terms;

const help = {
  'tool.pick': {
    title: 'Pick',
    what: 'The hand that takes hold of what is there.',
    hand: (say) =>
      `Press a thing to pick it, drag it to move it, drag on the bare sheet to pick all within. Arrow keys move what is picked by ${say(0.5)}, with Shift ${say(5)}.`,
    key: 'V',
  },
  'tool.strip': {
    title: 'Strip',
    what: 'A strip is a length of tape that stands for track. Where an end meets another strip, there is a point.',
    hand: 'Drag from one end to the other; or press corner after corner and end with Enter. Figures typed meanwhile are the length, and after < the angle.',
    key: 'S',
    terms: ['point', 'toe', 'leg'],
  },
  'tool.platform': {
    title: 'Platform',
    what: 'An oblong beside the roads that it serves, with lettering.',
    hand: 'Drag from one corner to the other.',
    key: 'F',
    terms: ['road'],
  },
  'tool.place': {
    title: 'Place',
    what: 'A place has a name: an end of track, or a road that a train stands on. Routes go from place to place.',
    hand: 'Press a free end, or a strip away from its ends, and give the name at the right.',
    key: 'N',
    terms: ['road', 'route'],
  },
  'tool.lever': {
    title: 'Lever',
    what: 'A control on the face. Two points that always move together, as in a crossover, share one.',
    hand: 'Press where it shall stand; what it works is set at the right.',
    key: 'L',
    terms: ['lever', 'crossover'],
  },
  'tool.lamp': {
    title: 'Lamp',
    what: 'A lamp along the track. It shows which way a point was asked to lie, so that nobody has to walk over and look.',
    hand: 'Press on a strip, as a rule on a leg of a point.',
    key: 'K',
    terms: ['leg', 'claim'],
  },
  'tool.plate': {
    title: 'Plate',
    what: 'An engraved plate. The first says the name of the panel.',
    hand: 'Press where its middle shall be, and give its lettering at the right.',
    key: 'T',
  },
  'tool.button': {
    title: 'Button',
    what: 'A push button: while it is held, points are set as it asks.',
    hand: 'Press where it shall stand.',
    key: 'B',
  },
  'tool.fixing': {
    title: 'Screw',
    what: 'A hole for a screw that holds the sheet.',
    hand: 'Press where it shall be. Its drill is set at the right.',
    key: 'H',
  },
  'tool.keep-out': {
    title: 'Keep clear',
    what: 'An oblong where nothing may stand, for what is behind the sheet: a batten, a hinge.',
    hand: 'Drag from one corner to the other.',
    key: 'X',
  },
  'tool.measure': {
    title: 'Measure',
    what: 'The distance between two spots, and the angle.',
    hand: 'Drag from one to the other. Nothing is laid.',
    key: 'M',
  },
  typed: {
    title: 'Where, typed',
    what: 'The tool lays where these figures say, counted from the upper left corner of the sheet.',
    hand: 'Two figures and Enter are a press; “0 66 to 600 66” is a drag. A strip goes on from corner to corner; Enter alone ends it.',
    key: 'Enter',
  },
  snap: {
    title: 'Snap',
    what: (say) => `What the hand falls on: ends, joins at 32°, lines with other things, a grid of ${say(2)}.`,
    hand: 'Press to switch it off or on. While the hand drags, Tab goes to the next spot that could draw it.',
  },
  help: {
    title: 'Help',
    what: 'This line tells of whatever has the focus or lies under the pointer.',
    hand: 'With a finger, press a thing and read. Press Help again and it is gone.',
    key: '? F1',
  },

  formations: {
    title: 'What a drag lays',
    what: 'One strip, or the strips of a whole formation in one drag.',
    hand: 'Choose, then drag on the sheet. What it will be is drawn while you drag.',
  },
  'form.strip': {
    title: 'Strip',
    what: 'One length of tape.',
    hand: 'Drag from where it begins to where it ends.',
  },
  'form.loop': {
    title: 'Passing loop',
    what: 'A second track beside a strip, between two points.',
    hand: 'Drag along the strip; the side and the distance are those of the hand.',
    terms: ['loop'],
  },
  'form.crossover': {
    title: 'Crossover',
    what: 'The way from one track to the other beside it. One lever works both points.',
    hand: 'Drag from one strip to the other.',
    terms: ['crossover'],
  },
  'form.lead': {
    title: 'Lead',
    what: 'A point and a road beside the strip.',
    hand: 'Drag from the strip to where the road ends beside it.',
    terms: ['lead', 'road'],
  },
  'form.ladder': {
    title: 'Ladder',
    what: 'Points in a row that shed roads side by side, as in a yard.',
    hand: 'Drag from the strip to where the roads end beside it; say how many.',
    terms: ['ladder', 'road'],
  },
  'form.single-slip': {
    title: 'Single slip',
    what: 'A crossing with one curve from one track to the other. It counts as two points, one for each end.',
    hand: 'Press where two strips cross, and drag to the side of the curve.',
    terms: ['slip', 'diamond'],
  },
  'form.double-slip': {
    title: 'Double slip',
    what: 'A crossing with a curve at both sides: every way leads to every other. The blades of one end choose the exit at the other.',
    hand: 'Press where two strips cross.',
    terms: ['slip', 'blades'],
  },
  'form.roads': {
    title: 'Roads',
    what: 'How many roads the ladder sheds.',
    terms: ['road', 'ladder'],
  },

  deeds: {
    title: 'What can be done with it',
    what: 'The deeds for what is picked. Each is one step that undo takes back.',
    hand: 'Press one; arrow keys go along them.',
  },
  'deed.split': {
    title: 'Split',
    what: 'Makes two strips of one, end to end, where the hand last pressed.',
    terms: ['butt'],
  },
  'deed.bend': {
    title: 'Add bend',
    what: 'Puts a corner into the strip where the hand last pressed. Drag it where it shall be.',
  },
  'deed.unbend': {
    title: 'Take out bend',
    what: 'Takes the picked corner out: the strip runs straight between those beside it.',
  },
  'deed.swap': {
    title: 'Swap lies',
    what: 'Makes the other leg of the point the normal one. Lamps and levers go by it.',
    terms: ['lie', 'normal', 'leg'],
  },
  'deed.duplicate': { title: 'Duplicate', what: 'Puts the same beside it, with names of its own.', key: 'Ctrl+D' },
  'deed.lift': {
    title: 'Lift',
    what: 'Takes it off the sheet; undo puts it back. The lamps on a strip go with it.',
    key: 'Delete',
  },

  sheet: {
    title: 'The sheet',
    what: 'The face of the panel, seen from the front. What is blue is the program’s and not on the panel: toes, fingers along the legs, numbers.',
    hand: 'Wheel or two fingers bring it nearer, the middle button moves it. Tab leads to the sheet as a list, for keys and for a screen reader.',
    terms: ['toe', 'leg'],
  },
  outline: {
    title: 'The sheet as a list',
    what: 'Everything on the sheet in reading order.',
    hand: (say) =>
      `Arrow keys go from row to row, Enter picks. Alt with an arrow key moves the thing ${say(0.5)}, with Shift ${say(5)}.`,
  },
  pointer: { title: 'Where the pointer is', what: 'From the left edge of the sheet, and down from the top.' },
  counts: {
    title: 'What is laid',
    what: 'Strips, points that were read from them, levers and lamps.',
    terms: ['point', 'lever'],
  },
  zoom: {
    title: 'How large the sheet is drawn',
    what: 'As a share of its true size. True size is right once the screen has been measured.',
    hand: 'Minus and plus, Fit for the whole sheet. The wheel does it at the pointer.',
  },
  tray: {
    title: 'Findings',
    what: 'What was found in the panel as it is laid, worst first: danger can hurt someone, wrong will not work, caution is worth a look, a hint is advice.',
    hand: 'Press a line to be shown where it is; press its button to mend it. Resting on the button shows before and after.',
  },
  finding: {
    title: 'A finding',
    what: 'What was found, and how bad it is.',
    hand: 'Press the line to be shown where it is; a button beside it mends it, and undo takes that back.',
  },
  stages: {
    title: 'Stages',
    what: 'Lay is where the panel is drawn, Run where it is worked. The small lamp says whether anything was found; stages are never locked.',
    key: '1 6',
  },
  kept: {
    title: 'Where the work is',
    what: 'Each edit is kept on this device at once. A saved file is safe from whatever the browser does.',
  },
  save: { title: 'Save a file', what: 'Writes the panel as a file on this device.', key: 'Ctrl+S' },
  undo: {
    title: 'Undo and redo',
    what: 'One step back, or forth again, however many and across visits.',
    key: 'Ctrl+Z Ctrl+Shift+Z',
  },
  panels: { title: 'Panels', what: 'All panels that this browser keeps, and new ones.' },
  open: { title: 'Open a panel', what: 'A panel file from this device. It can be dropped on the window as well.' },
  lights: { title: 'Lights', what: 'Dims the room, not the panel, to see the lamps as they shine in the dark.' },
  more: { title: 'More', what: 'Light and size, the demo panel, keys at a lever.' },
  bar: { title: 'This panel', what: 'Its name and the size of its face, and what can be opened in its place.' },

  'thing.strips': {
    title: 'Strip',
    what: 'A length of tape that stands for track.',
    hand: 'Drag it to move it, drag an end or a corner alone. An end that meets another strip makes a point.',
    terms: ['point'],
  },
  'thing.places': {
    title: 'Place',
    what: 'An end or a road with a name; routes go from place to place.',
    terms: ['road', 'route'],
  },
  'thing.lamps': {
    title: 'Lamp',
    what: 'It is lit while its points are asked to lie so. It knows what was asked of the lever unless it is wired to the drive or the blades.',
    terms: ['claim', 'drive', 'blades'],
  },
  'thing.levers': {
    title: 'Lever',
    what: 'A control on the face; it works one or more points.',
    terms: ['lever', 'lie'],
  },
  'thing.buttons': {
    title: 'Button',
    what: 'A push button that sets several points for a route, by a pulse.',
    terms: ['route'],
  },
  'thing.relays': {
    title: 'Relay',
    what: 'Contacts that follow a point where its drive has too few.',
    terms: ['drive'],
  },
  'thing.plates': {
    title: 'Plate',
    what: (say) => `Lettering on the face. Below ${say(3)} it is not read at arm’s length.`,
  },
  'thing.platforms': { title: 'Platform', what: 'An oblong beside the roads that it serves.', terms: ['road'] },
  'thing.fixings': { title: 'Screw hole', what: 'Where the sheet is screwed to its box.' },
  'thing.keepOut': {
    title: 'Space kept clear',
    what: 'Nothing may be put here, front or back: a batten or a hinge is behind it.',
  },
  many: { title: 'Several things', what: 'What is done here is done to all of them, as one step.' },

  'sec.panel': { title: 'The panel', what: 'The panel itself: its name, its face, and how this device shows it.' },
  'sec.face': {
    title: 'Face',
    what: 'The size, thickness, material and paint of the sheet. Holes, grips and templates go by it.',
  },
  'sec.unit': {
    title: 'Lengths in',
    what: 'Millimetres or inches, on this screen. The file keeps millimetres; either can be typed with its unit.',
  },
  'sec.view': {
    title: 'Seen from',
    what: 'The rear: for an operator who stands behind the layout the plan is turned.',
  },
  'sec.keys': {
    title: 'Keys of one letter',
    what: 'Off for who dictates or rests a hand on the keys. F1 helps in either case.',
  },
  'sec.fixings': { title: 'Screw holes', what: 'One in each corner as a rule.' },
  'sec.title': { title: 'Title plate', what: 'The plate with the panel’s name.' },
  'sec.tape': {
    title: 'Tape',
    what: 'Its colour, its width, and how long to cut it.',
    hand: 'Press a roll to lay the strip in it.',
  },
  'sec.ends': {
    title: 'Ends',
    what: 'What each end meets, and at which angle. An end flatter than 10° or nearer to square than 75° is not read as a point.',
    terms: ['point', 'butt'],
  },
  'sec.onStrip': {
    title: 'On this strip',
    what: 'The points, places and lamps along it, and the levers that work them.',
  },
  'sec.corners': {
    title: 'Corners',
    what: 'Where the strip begins, bends and ends: x from the left, y down from the top.',
    hand: (say) => `Type a figure, or press the up and down arrow keys for ${say(0.5)}, with Shift ${say(5)}.`,
  },
  'sec.spot': {
    title: 'Where it stands',
    what: 'x from the left edge of the sheet, y down from the top.',
    hand: (say) => `Type a figure, or press the up and down arrow keys for ${say(0.5)}, with Shift ${say(5)}.`,
  },
  'sec.size': { title: 'Size', what: 'How large it is on the face.' },
  'sec.angle': {
    title: 'Turned by',
    what: 'At 0 the bat is up when the lever is normal. On the diagram the bat lies along the leg that it sets.',
    terms: ['leg'],
  },
  'sec.works': {
    title: 'Works',
    what: 'The points that this lever works. The switch follows from the drives and the lamps.',
    terms: ['drive'],
  },
  'sec.sets': {
    title: 'Sets',
    what: 'Which points it sets, and which way: one pole of the button for each, on a pulse feed.',
    terms: ['lie'],
  },
  'sec.part': {
    title: 'Part',
    what: 'The smallest that serves, unless you choose one. Figures are typical of the kind: a part’s own data sheet comes first.',
  },
  'sec.lamp': {
    title: 'Lamp',
    what: 'Its size and colour, where it lies, and with which points it is lit.',
    terms: ['claim', 'leg'],
  },
  'sec.shows': {
    title: 'Lit when',
    what: 'How points have to lie for the lamp to shine. Left alone, it shines when the leg that it lies on is open; with no point at all, always.',
    hand: 'Press a lie to turn it over, or add a point that counts as well: all of them have to lie so.',
    terms: ['claim', 'leg', 'lie'],
  },
  'sec.layout': {
    title: 'On the layout',
    what: 'The length of real track that it stands for: how long a train may stand there.',
  },
  'sec.lettering': { title: 'Lettering', what: 'The names on it.' },
  'sec.align': { title: 'Align', what: 'Brings all that is picked to one line.' },
  'sec.space': { title: 'Space evenly', what: 'Makes the gaps alike between the first and the last.' },
  'sec.mirror': { title: 'Mirror', what: 'Turns it over, about its own middle.' },
  'sec.turn': { title: 'Turn', what: 'About its own middle, clockwise.' },
  'sec.other': { title: 'More', what: 'The same again beside it, or all of it off the sheet.' },

  'run.face': {
    title: 'The face',
    what: 'The panel as it hangs at the layout. The lamps are as the circuits give them with the levers as they lie here. This screen is told; it does not see the blades.',
    hand: 'Press a lever to throw it. Arrow keys go from lever to lever, Space throws.',
    key: 'N R C',
    terms: ['lever', 'blades'],
  },
  'run.route': {
    title: 'Route',
    what: 'From where to where. What the route asks of each lever then stands under it.',
    hand: 'Pick both ends; Throw sets all its levers at once.',
    terms: ['route', 'lie'],
  },
  'run.cards': {
    title: 'What the route asks',
    what: 'A card for each lever: a number where it has to be thrown, in that order; leave where it already lies so; free where either will do.',
    hand: 'Press a card to throw its lever.',
  },
  'run.side': {
    title: 'Routes',
    what: 'Those that conflict with the route picked and why, and those that can be set as well. Two routes conflict that share track, or need a point differently.',
    hand: 'Press one to pick it.',
    terms: ['route'],
  },
  'run.findings': {
    title: 'Findings',
    what: 'What was found in this panel, worst first. It is mended in Lay.',
  },
  compare: {
    title: 'Other ways to build it',
    what: 'The same panel with other drives, feeds or lamps: parts, wires, pins, solder joints, amps, cost, and what the lamps then know.',
    hand: 'Press a head to rank by it. Take one over: it is one step, and undoes.',
    terms: ['drive', 'blades', 'lever'],
  },
  'trains.list': {
    title: 'Trains',
    what: 'Markers with a length that stand on roads, where you said they are. They are on this screen alone.',
    hand: 'Press a train to see where it can go, press a place in its list, then Go: levers are thrown, the marker moves. They are in the panel’s file once you write them there.',
    terms: ['road', 'lever'],
  },
  'trains.sheet': {
    title: 'Running sheet',
    what: 'Every move you make with its levers and places, in order. It says where it can no longer be run, and why.',
    hand: 'Press a line to put trains and levers as they are after it. Print it to run from paper.',
  },
  'trains.bring': {
    title: 'Fewest moves',
    what: 'The fewest moves, then the fewest throws, that bring trains where they are wanted.',
    hand: 'Choose a place for each train that matters, find the moves, and write them into the sheet.',
  },
  'run.foot': {
    title: 'What is lit',
    what: 'How many lamps are lit, how many of them along the route, and what each supply gives. A screen that is told does not see: look along the route before a train moves.',
  },
  'work.levers': {
    title: 'Levers',
    what: 'What each lever works, how its points lie against it, its switch, and how many of the switch’s poles are used.',
    hand: 'Press a lever to set what it works. Its mark is the same in the list, on the face and in the table.',
    terms: ['lever', 'point'],
  },
  'work.lever': {
    title: 'The picked lever',
    what: 'Same: the point is normal when the lever is. Opposite: the other lie. The wiring does not change the lie, this does.',
    hand: 'Press a point to take it in hand, for another lever or one of its own.',
    terms: ['lie', 'drive'],
  },
  'work.face': {
    title: 'What each lever works',
    what: 'Every point wears the mark of its lever. Dashed lines tie points that one lever works; the blue line is the picked route.',
    hand: 'Drag a point onto a lever, or tap the point and then the lever. With the keys: arrows, then Enter on the point and on the lever.',
    terms: ['point', 'lever'],
  },
  'work.hand': {
    title: 'A point in hand',
    what: 'It goes under the lever that is tapped next.',
    hand: 'Tap a lever on the face, choose one here, or give it a lever of its own.',
    key: 'Escape',
  },
  'work.table': {
    title: 'Control table',
    what: 'Routes down, levers across: N normal, R reverse, blank where either will do. Below the picked route stand those that cannot be set beside it, and those that can.',
    hand: 'Choose from where and to where, or press a route in the table.',
    terms: ['route', 'lie'],
  },
  'work.line': {
    title: 'How many levers',
    what: 'From left to right: with so few, routes are lost; then only pairs of routes that could stand together; then nothing.',
    hand: 'Make it the fewest that lose nothing, or one for each point.',
    terms: ['lever', 'route'],
  },
  'work.joins': {
    title: 'Joins',
    what: 'Two levers as one save a switch. What that loses is said: routes that can no longer be set, or pairs that can no longer be set at once.',
    hand: 'Join two levers, or part one; undo takes it back.',
    terms: ['lever', 'route'],
  },
  'work.drives': {
    title: 'Kinds of drive',
    what: 'Each kind says what catches builders out with it. How many points have it stands at the right.',
    hand: 'Choose one for all points here, or for one point at its lever.',
    terms: ['drive'],
  },
  'work.current': {
    title: 'At switching on',
    what: 'Every drive that is not home moves at once: that is the worst draw. Below, the contacts that drives have, and what frogs and lamps take of them.',
    terms: ['drive'],
  },
  'wire.list': {
    title: 'Circuits',
    what: 'One for each lever, and one for each lot of lamps that several levers light. A tick: nothing found. Under the list what each supply is asked for when it comes on.',
    hand: 'Press one to see it.',
    terms: ['lever'],
  },
  'wire.head': {
    title: 'How it lies',
    what: 'What the circuit works, what its lamps can know, and how its levers lie.',
    hand: 'Press a position: volts, currents and lamps follow.',
    key: 'N R C',
    terms: ['lie', 'normal', 'reverse'],
  },
  'wire.circuit': {
    title: 'The circuit, live',
    what: 'Blue is at the supply, black at 0 V, between them in steps; letters are the colour of each wire. Lines that cross without a dot do not join.',
    hand: 'Drag to move it, wheel or two fingers to zoom, press a part or a wire to see what it is and what can fail.',
    key: '+ - 0',
  },
  'wire.sums': {
    title: 'Sums',
    what: 'From the supply less the lamps to what is left for the resistor, the current with its band, and what dark lamps stand in reverse.',
    hand: 'Press a line to see in the circuit what it speaks of.',
  },
  'wire.findings': {
    title: 'Findings here',
    what: 'What was found in this circuit, worst first, each with what mends it and what that costs.',
    hand: 'Press a remedy: it is done, and Undo takes it back.',
  },
  'wire.connector': {
    title: 'Connector',
    what: 'The pins of this circuit in blue, seen from the side that is soldered. The two halves mirror each other.',
    hand: 'Press the name of the other half to turn it round.',
  },
  'wire.faults': {
    title: 'A single fault',
    what: 'One thing broken, all else sound: what the circuit then does, what the lamps show, and which of them lies.',
    hand: 'Type a part or a kind of fault, press one, press it again to take it away.',
    terms: ['claim'],
  },
  'wire.truth': {
    title: 'What lamps can know',
    what: 'What each lamp claims, by what it knows it, how many single faults would make one lie, and what would tell better.',
    terms: ['claim', 'blades', 'drive'],
  },
  'wire.values': {
    title: 'Values',
    what: 'Figures of this circuit. Yours stand in the file and are never altered; the rest follows from the sum.',
    hand: 'Type one to fix it, empty it to leave it to the sum.',
  },
  'wire.switch': {
    title: 'Switch from behind',
    what: 'Its tags as they are soldered, with the wires of each. The bat points away from the contact that it closes.',
    terms: ['lever'],
  },
  'wire.supplies': {
    title: 'Supplies',
    what: 'What each supply feeds behind which fuse, and the returns that come back to it.',
    hand: 'Press a circuit to see it.',
  },
} as const satisfies Readonly<Record<string, HelpText>>;

/** What help can be asked of. */
export type HelpKey = keyof typeof help;

export const helpTexts: Readonly<Record<HelpKey, HelpText>> = help;

export const helpWords = {
  help: 'Help',
  close: 'Close help',
  start: 'Point at a thing, go to it with Tab, or press it: what it is stands here.',
  hand: 'With the hand:',
  keys: (keys: readonly string[]): string => `Key ${keys.join(', ')}`,
  terms: 'Words of the trade',
} as const;
