/**
 * The panel file, version 1, as a zod schema: every key that a file may hold, whether or not anything uses it yet.
 * Unknown keys are kept (loose objects). Lengths on the face and on the layout are millimetres; V, A, ohm, F, s and degrees otherwise.
 */
import * as z from 'zod';
import { FURTHEST, GREATEST, LEAST } from './limits.ts';
import { note } from './notes.ts';
import { kindInWords, valueInWords } from './words.ts';

// No code is ever made from a schema at run time: it would need a page that allows it, and a panel is small.
z.config({ jitless: true });

export const FORMAT = 'mimic-panel';
export const VERSION = 1;

/** Ids are unique in the file, differ by more than case, and are never issued again. */
export const ID_PATTERN = /^[A-Za-z][A-Za-z0-9_-]*$/;
/** Ids of connectors: letters alone, since a figure follows them in the name of a pin. */
const CONNECTOR_ID_PATTERN = /^[A-Za-z]+$/;

interface Refused {
  readonly code?: string | undefined;
  readonly input?: unknown;
}
const expecting = (what: string) => (refused: Refused) =>
  refused.input === undefined ? `missing: expected ${what}` : `expected ${what}, got ${kindInWords(refused.input)}`;
const expectingValue = (what: string) => (refused: Refused) =>
  refused.input === undefined ? `missing: expected ${what}` : `expected ${what}, got ${valueInWords(refused.input)}`;

const text = z.string();
const ID_WORDS = 'an id (a letter, then letters, figures, - or _)';
const id = z.string({ error: expectingValue(ID_WORDS) }).regex(ID_PATTERN, { error: expectingValue(ID_WORDS) });
const LETTERS_WORDS = 'an id of letters alone';
const letters = z
  .string({ error: expectingValue(LETTERS_WORDS) })
  .regex(CONNECTOR_ID_PATTERN, { error: expectingValue(LETTERS_WORDS) });
/** A reference to an id; whether it exists is a finding, not a reason to refuse the file. */
const ref = z.string();
const yesNo = z.boolean();
const coordinate = z.number().min(-FURTHEST).max(FURTHEST);
const degrees = z.number().min(-GREATEST).max(GREATEST);
const positive = z.number().min(LEAST).max(GREATEST);
const atLeastZero = z.number().min(0).max(GREATEST);
const spot = z.tuple([coordinate, coordinate], { error: expecting('two numbers') });
const lie = z.enum(['normal', 'reverse']);
const lies = z.record(z.string(), lie);

const drilled = z.looseObject({
  at: note(spot, 'Its middle on the face.'),
  drill: note(positive, 'Diameter of the drill.'),
});

const face = z.looseObject({
  width: note(positive.optional(), 'Across.', 'what lies on it, plus 30, rounded up to 10'),
  height: note(positive.optional(), 'Down.', 'what lies on it, plus 30, rounded up to 10'),
  thickness: note(positive.optional(), 'Of the sheet.', '3'),
  material: note(text.optional(), 'What the sheet is made of.', '`aluminium`'),
  colour: note(text.optional(), 'Its paint.', '`sage`'),
  view: note(z.enum(['front', 'rear']).optional(), '`rear`: the plan is turned for an operator behind it.', '`front`'),
  box: note(
    z
      .looseObject({
        depth: note(positive.optional(), 'Clear depth behind the sheet.'),
        hinge: note(text.optional(), 'The edge that it swings on.'),
      })
      .optional(),
    'The box behind the face.',
  ),
  fixings: note(z.array(drilled).optional(), 'Holes for the screws that hold the sheet.'),
  keepOut: note(
    z
      .array(
        z.looseObject({
          at: note(spot, 'Its top left corner.'),
          size: note(spot, 'Across and down.'),
        }),
      )
      .optional(),
    'Oblongs that nothing may stand in.',
  ),
});

const strip = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What the builder calls it.'),
  width: note(positive.optional(), 'Width of the tape.', '5'),
  tape: note(text.optional(), 'Which tape.', '`graphite`'),
  bend: note(atLeastZero.optional(), 'Radius of its bends.', '9'),
  path: note(z.array(spot), 'Its corners, from one end to the other.'),
  layoutLength: note(positive.optional(), 'Length of the track that it stands for, on the layout.'),
});

const place = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What plates and lists say.'),
  at: note(spot, 'Near a free end it names that end; near a strip away from its ends it names that road.'),
  length: note(positive.optional(), 'How long a train may stand there, on the layout.'),
});

const sense = z.enum(['same', 'opposite']);
const driveOf = 'A record in `drives`, or a part: then one of its own. Two points may name one drive.';
const senseOf = "This point's lie against its drive's.";

const point = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What the builder calls it.'),
  at: note(spot, 'It is the inferred point nearest this spot.'),
  normal: note(
    text.optional(),
    'The strip of the normal leg, or `left` or `right` seen from the toe.',
    'the straighter leg',
  ),
  drive: note(ref.optional(), driveOf, '`stall-2-wire`'),
  sense: note(sense.optional(), senseOf, '`same`'),
  trap: note(yesNo.optional(), 'A trap point: its trap is the normal leg.', 'no'),
});

const crossing = z.looseObject({
  id: note(id, 'Its id.'),
  at: note(spot, 'It is the inferred crossing nearest this spot.'),
  kind: note(
    z.enum(['diamond', 'single-slip', 'double-slip', 'over']).optional(),
    '`over` is a bridge: no connection.',
    '`diamond`',
  ),
  normal: note(
    text.optional(),
    'The strip whose straight way is normal at both ends of a double slip.',
    'the strip laid first',
  ),
  curve: note(spot.optional(), 'A spot beside the curve that a single slip has.'),
  ends: note(
    z
      .array(
        z.looseObject({
          id: note(id, 'Id of the point that this end counts as.'),
          drive: note(ref.optional(), driveOf, '`stall-2-wire`'),
          sense: note(sense.optional(), senseOf, '`same`'),
        }),
      )
      .optional(),
    'The two ends of a slip, left to right, then top to bottom.',
    'the next free `P` numbers',
  ),
});

const threeWay = z.looseObject({
  id: note(id, 'Its id.'),
  at: note(spot, 'It is the inferred three-way point nearest this spot.'),
  normal: note(text.optional(), 'The strip that both normal lead to.', 'the way most straight'),
  points: note(
    z.array(id).optional(),
    'Ids of the two points that it counts as: first the leg further left seen from the toe.',
    'the next free `P` numbers',
  ),
});

const frog = z.looseObject({
  id: note(id, 'Its id.'),
  of: note(ref, 'The point or crossing that it belongs to.'),
  kind: note(z.enum(['live', 'dead', 'module']).optional(), 'How it is fed.'),
  from: note(text.optional(), 'The contact that feeds it, as in `D1.c1`.'),
});

const measured = z.looseObject({
  amps: note(atLeastZero.optional(), 'Amps read on the meter.'),
  volts: note(atLeastZero.optional(), 'Volts at which they were read.', "the part's own"),
});
const wireRun = z.looseObject({
  length: note(positive.optional(), 'One way, on the layout.'),
  gauge: note(positive.optional(), 'Section of the conductor in mm2.'),
});

const drive = z.looseObject({
  id: note(id, 'Its id.'),
  part: note(ref.optional(), 'Its part.', '`stall-2-wire`'),
  positive: note(lie.optional(), 'The lie that it goes to when tag a is the positive one.', '`normal`'),
  contacts: note(
    z.record(z.string(), z.string()).optional(),
    'What each of its contacts is used for: `frog:F1`, `lamps`.',
  ),
  wire: note(wireRun.optional(), 'The wires to it under the layout.', '3000 of 0.22 mm2, flagged as a guess'),
  measured: note(measured.optional(), "A reading that wins over the part's figure."),
  address: note(z.int().optional(), 'Number that a decoder answers to.'),
  member: note(
    z
      .int({ error: expectingValue('0 or 1') })
      .min(0)
      .max(1)
      .optional(),
    "Which output of a decoder's pair, 0 or 1, sends it to normal.",
    '1',
  ),
  existing: note(yesNo.optional(), 'It is there already and need not be bought.', 'no'),
});

const feed = z.looseObject({
  kind: note(
    z.enum(['reversing', 'split', 'half-wave', 'pulse', 'charge', 'contact']).optional(),
    'How drives are supplied; `contact`: one pole closes the input of a driver board to its common.',
    '`reversing`',
  ),
  supplies: note(z.array(ref).optional(), 'Where it comes from; for `split` the first gives plus.', '`S1`'),
  farads: note(positive.optional(), 'The capacitor of a `charge` feed.'),
});

const lighting = z.looseObject({
  scheme: note(
    z
      .enum(['across-feed', 'in-series', 'spare-pole', 'drive-contact', 'blade-contact', 'latching-relay', 'tree'])
      .optional(),
    'What lights the lamps.',
    '`across-feed`',
  ),
  current: note(positive.optional(), 'Amps that a lamp is sized for.', '0.002'),
  supply: note(ref.optional(), 'What lamps are lit from.', "the feed's"),
  from: note(ref.optional(), 'The place from which lamps of a route must be reached.'),
  dimmer: note(
    z.looseObject({ least: note(positive, 'Share of the volts at its lowest.') }).optional(),
    'A dimmer on the lamps.',
  ),
});

const works = z.looseObject({
  point: note(ref.optional(), 'A point.'),
  signal: note(ref.optional(), 'A signal.'),
  section: note(ref.optional(), 'A section.'),
  uncoupler: note(ref.optional(), 'An uncoupler.'),
  opposite: note(yesNo.optional(), 'It takes the other lie than the lever; never the wiring.', 'no'),
});

const lever = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What its plate says.'),
  at: note(spot.optional(), 'Its middle on the face.', 'in a row 44 apart, 22 below the lowest strip'),
  angle: note(degrees.optional(), 'How far it is turned clockwise; 0 is normal up.', '0'),
  switch: note(ref.optional(), 'Its switch.', 'the smallest `toggle-*` that serves'),
  works: note(z.array(works).optional(), 'What it works.'),
  feed: note(feed.optional(), 'A feed of its own.', "the panel's"),
  lighting: note(lighting.optional(), 'Lighting of its own.', "the panel's"),
  existing: note(yesNo.optional(), 'It is there already and need not be bought.', 'no'),
  twin: note(
    z
      .looseObject({
        panel: note(text, 'Name of the other panel.'),
        lever: note(text, 'Id of the lever there.'),
        by: note(
          z.enum(['two-way', 'latch']),
          'How the two agree: `two-way`, both stay and the other stands before ours; `latch`, both spring back, and a relay remembers where the drive does not.',
        ),
      })
      .optional(),
    'A lever on another panel that works the same; a point works from the panel that has its drive, and the other is `L1.twin` in answers.',
  ),
});

const button = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What its plate says.'),
  at: note(spot, 'Its middle on the face.'),
  part: note(ref.optional(), 'Its part.', '`push-1p`'),
  sets: note(lies.optional(), 'The lies that a press asks for, by point.'),
});

const relay = z.looseObject({
  id: note(id, 'Its id.'),
  part: note(ref.optional(), 'Its part.', '`relay-latching-2p`'),
  follows: note(ref.optional(), 'The point whose lie it takes.'),
  at: note(spot.optional(), 'Where it stands behind the face.'),
});

const shows = z.union([lies, z.array(lies)], { error: expecting('an object of points and lies, or a list of such') });
const lamp = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What lists call it.'),
  at: note(spot, 'Its middle on the face.'),
  part: note(ref.optional(), 'Its part.', '`led-3-amber`'),
  shows: note(
    shows.optional(),
    'When it is lit: one object asks for all its lies, a list for any of its objects.',
    'what the leg it lies on asks',
  ),
  claims: note(
    z.enum(['leg', 'span', 'route', 'supply', 'occupancy', 'test']).optional(),
    'What it speaks of.',
    '`leg`',
  ),
  from: note(ref.optional(), 'The place from which it must be reached to be lit, where it has no `shows`.'),
  current: note(positive.optional(), 'Amps that it is sized for.', "the lighting's"),
  dark: note(z.enum(['nothing', 'opposite']).optional(), 'What it says when it is unlit.', '`nothing`'),
  elements: note(
    z
      .array(
        z.looseObject({
          colour: note(text, 'Colour of this element.'),
          shows: note(shows.optional(), 'When this element is lit.'),
        }),
      )
      .optional(),
    'The elements of a lamp of two colours.',
  ),
});

const lampGroup = z.looseObject({
  id: note(id, 'Its id.'),
  lamps: note(z.array(ref), 'The lamps that share.'),
  arrange: note(
    z.enum(['pair', 'own', 'series', 'parallel']).optional(),
    '`pair`: opposed, one resistor; `own`: a resistor for each; `series`; `parallel`.',
    '`pair` where each has a partner',
  ),
  ohms: note(positive.optional(), 'The resistor.', 'sized by the tool from E12'),
  guard: note(z.enum(['none', 'antiparallel']).optional(), 'A diode across each lamp.', '`none`'),
});

const supply = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What lists call it.'),
  kind: note(z.enum(['dc', 'ac', 'battery', 'cdu', 'track']).optional(), 'What it is.', '`dc`'),
  volts: note(positive.optional(), 'Its EMF.', '9; of a CDU those of what charges it'),
  voltsOffLoad: note(positive.optional(), 'Volts with nothing connected.'),
  tolerance: note(atLeastZero.optional(), 'Share of `volts` that it may be off, either way.', '0.05'),
  amps: note(positive.optional(), 'The most it gives.', '1'),
  ohms: note(atLeastZero.optional(), 'Its internal resistance.', '0'),
  limit: note(
    z.enum(['none', 'constant', 'fold', 'hiccup']).optional(),
    'What it does when asked for more than `amps`.',
    '`none`',
  ),
  isolated: note(yesNo.optional(), 'Neither pole is joined to anything else.', 'yes'),
  fuse: note(
    z
      .looseObject({
        amps: note(positive, 'Its rating.'),
        act: note(text.optional(), '`quick` or `slow`.', '`quick`'),
      })
      .nullable()
      .optional(),
    '`null`: there is none.',
    'sized by the tool',
  ),
  from: note(ref.optional(), 'The supply that charges a CDU.'),
  farads: note(positive.optional(), 'Its capacitor: of a CDU, or that smooths.'),
  chargeOhms: note(positive.optional(), 'The resistor that a CDU charges through.'),
  frequency: note(positive.optional(), 'Cycles a second of an `ac` supply.', '50'),
});

const returnWire = z.looseObject({
  id: note(id, 'Its id.'),
  supply: note(ref.optional(), 'The supply that it goes back to.'),
  levers: note(z.array(ref).optional(), 'The levers that share it.'),
  pins: note(
    z
      .int({ error: expectingValue('a whole number') })
      .min(1)
      .optional(),
    'How many pins carry it.',
    '1',
  ),
});

const connector = z.looseObject({
  id: note(letters, 'Its id: letters alone.'),
  name: note(text.optional(), 'What lists call it.'),
  part: note(ref.optional(), 'Its part.', '`dsub-25`'),
  panelHalf: note(z.enum(['plug', 'socket']).optional(), 'The half on the panel.', '`socket`'),
  spare: note(z.number().min(0).max(1).optional(), 'Share of its pins left free.', '0.125'),
  pins: note(z.record(z.string(), z.string()).optional(), 'What the user fixes: number of a pin to where it leads.'),
});

const board = z.looseObject({ id: note(id, 'Its id.'), name: note(text.optional(), 'What lists call it.') });
const boardJoint = z.looseObject({
  id: note(id, 'Its id.'),
  between: note(
    z.tuple([ref, ref], { error: expecting('the ids of two boards') }).optional(),
    'The two boards that it joins.',
  ),
  part: note(ref.optional(), 'Its connector.', '`dsub-25`'),
});

const wire = z.looseObject({
  id: note(id, 'Its id.'),
  from: note(text.optional(), 'Where it begins, as in `A.8`.'),
  to: note(text.optional(), 'Where it ends, as in `D1.b`.'),
  length: note(positive.optional(), 'Length, on the layout.'),
  gauge: note(positive.optional(), 'Section of the conductor in mm2.'),
  colour: note(text.optional(), 'Its colour in letters of IEC 60757.'),
});

const track = z.looseObject({
  system: note(text.optional(), 'What feeds the rails: `analogue`, `digital`.'),
  bus: note(wireRun.optional(), 'The pair that runs under the layout.'),
  droppers: note(wireRun.optional(), 'From the bus up to the rails.'),
  feeds: note(
    z.array(z.looseObject({ at: note(spot, 'Near a strip.') })).optional(),
    'Where droppers reach the rails.',
  ),
  gaps: note(
    z
      .array(
        z.looseObject({
          at: note(spot, 'Near a strip.'),
          rail: note(
            text.optional(),
            'Which rail is cut: `left`, `right`, `both`; seen along the strip, from its first corner to its last.',
            '`both`',
          ),
        }),
      )
      .optional(),
    'Where rails are cut.',
  ),
  boosters: note(
    z
      .array(
        z.looseObject({
          id: note(id, 'Its id.'),
          volts: note(positive.optional(), 'What it gives.'),
          tripAmps: note(positive.optional(), 'Where it trips.'),
        }),
      )
      .optional(),
    'What drives the bus.',
  ),
  numbering: note(
    z.enum(['board-1', 'board-0']).optional(),
    'Which board holds address 1 of accessories; the two ways to count differ by four addresses.',
    '`board-1`',
  ),
  accessoryBus: note(
    z.looseObject({ tripAmps: note(positive.optional(), 'Where its booster or breaker trips.') }).optional(),
    'A bus for accessories alone, behind a booster or a breaker of its own.',
    "accessories hang on the track's bus",
  ),
});

const train = z.looseObject({
  id: note(id, 'Its id.'),
  name: note(text.optional(), 'What the operators call it.'),
  length: note(positive.optional(), 'Over all, on the layout.'),
  stands: note(ref.optional(), 'The place where it stands.'),
  heads: note(ref.optional(), 'The place that its head points to.'),
});

const plate = z.looseObject({
  at: note(spot, 'Its middle on the face.'),
  text: note(text, 'What it says.'),
  size: note(positive.optional(), 'Height of its type.', 'chosen by the tool'),
  width: note(positive.optional(), 'Across.', 'what its text needs'),
  height: note(positive.optional(), 'Down.', 'what its text needs'),
});

const platform = z.looseObject({
  at: note(spot, 'Its top left corner.'),
  size: note(spot, 'Across and down.'),
  names: note(
    z
      .array(
        z.looseObject({
          at: note(spot, 'Where it is anchored, on its baseline.'),
          text: note(text, 'What it says.'),
          anchor: note(z.enum(['start', 'middle', 'end']).optional(), 'Which part of it stands there.', '`middle`'),
        }),
      )
      .optional(),
    'Lettering on it.',
  ),
});

const part = z.looseObject({
  id: note(id, 'A part of the user, or the typical part whose figures are overridden.'),
  like: note(ref.optional(), 'The part whose other figures it takes; its own figures stand beside, by their names.'),
});

const built = z.looseObject({
  revision: note(text.optional(), 'The revision that was built.'),
  date: note(text.optional(), 'When.'),
  wires: note(
    z
      .record(
        z.string(),
        z.looseObject({
          from: note(text, 'Where it begins.'),
          to: note(text, 'Where it ends.'),
          colour: note(text.optional(), 'Its colour in letters of IEC 60757.'),
          gauge: note(positive.optional(), 'Section of the conductor in mm2.'),
          length: note(positive.optional(), 'Length, on the layout.'),
        }),
      )
      .optional(),
    'Wires that are in, by id.',
  ),
  pins: note(z.record(z.string(), z.string()).optional(), 'Pins that are soldered, as `A.7`, and where they lead.'),
  holes: note(z.record(z.string(), drilled).optional(), 'Holes that are drilled, by the id of what they are for.'),
  groups: note(
    z
      .record(
        z.string(),
        z.looseObject({
          lamps: note(z.array(ref), 'The lamps that share.'),
          ohms: note(positive.optional(), 'The resistor that is in.'),
        }),
      )
      .optional(),
    'Lamp groups that are wired, by id.',
  ),
});

const result = z.looseObject({
  test: note(text, 'Id of the test.'),
  revision: note(text.optional(), 'The revision that was tested.'),
  at: note(text.optional(), 'When, as in `2026-03-01T14:06:00Z`.'),
  read: note(z.record(z.string(), z.unknown()).optional(), 'What was read, by quantity.'),
  pass: note(yesNo.optional(), 'Whether it was as expected.'),
});

/** The whole file. */
export const panelSchema = z.looseObject({
  format: note(z.literal(FORMAT), 'Says that this is a panel file.'),
  version: note(z.literal(VERSION), 'Version of the format.'),
  name: note(text.optional(), 'What the panel is called.'),
  revision: note(text.optional(), "The builder's own revision."),
  date: note(text.optional(), 'Date printed on every page.'),
  face: note(face.optional(), 'The sheet.', 'as large as what lies on it'),
  strips: note(z.array(strip), 'Tape that stands for track; later strips lie on top.'),
  places: note(z.array(place).optional(), 'Names of ends and of roads.', 'free ends are numbered `E1`...'),
  points: note(z.array(point).optional(), 'Points that the strips make.', 'those inferred are numbered `P1`...'),
  crossings: note(z.array(crossing).optional(), 'Where strips cross.', 'every crossing is a diamond'),
  threeWays: note(z.array(threeWay).optional(), 'Three-way points.'),
  frogs: note(z.array(frog).optional(), 'How frogs are fed.'),
  drives: note(z.array(drive).optional(), 'What moves the points.', 'one `stall-2-wire` for each point'),
  levers: note(z.array(lever).optional(), 'What works the points.', 'one for each point that a lever can work'),
  buttons: note(z.array(button).optional(), 'Push buttons.'),
  relays: note(z.array(relay).optional(), 'Relays.'),
  lamps: note(z.array(lamp).optional(), 'Lamps in the face.', 'none'),
  lampGroups: note(z.array(lampGroup).optional(), 'Lamps that share resistors.', 'grouped by the tool'),
  feed: note(feed.optional(), 'How drives are fed.', '`reversing` from `S1`'),
  lighting: note(lighting.optional(), 'How lamps are lit.', '`across-feed`'),
  supplies: note(z.array(supply).optional(), 'Where power comes from.', '`S1`: dc, 9 V, 1 A'),
  returns: note(z.array(returnWire).optional(), 'Wires back to a supply that several levers share.'),
  connectors: note(
    z.array(connector).optional(),
    'Multi-pin pairs between panel and layout.',
    'as many `dsub-25` as are needed',
  ),
  boards: note(z.array(board).optional(), 'Baseboards of the layout.'),
  boardJoints: note(z.array(boardJoint).optional(), 'Connectors between baseboards.'),
  wires: note(z.array(wire).optional(), 'Only what the user fixes of a wire.'),
  wireStock: note(
    z
      .array(
        z.looseObject({
          colour: note(text, 'In letters of IEC 60757.'),
          gauge: note(positive.optional(), 'Section of the conductor in mm2.'),
        }),
      )
      .optional(),
    'Wire that the builder has.',
  ),
  track: note(track.optional(), 'How the rails are fed.'),
  trains: note(z.array(train).optional(), 'Trains and where they stand.'),
  plates: note(z.array(plate).optional(), 'Plates with text.'),
  platforms: note(z.array(platform).optional(), 'Platforms drawn on the face.'),
  parts: note(z.array(part).optional(), "The user's own parts, and figures that override typical ones."),
  built: note(built.optional(), 'What is built and so fixed.'),
  results: note(z.array(result).optional(), 'What tests have read.'),
  retired: note(z.array(text).optional(), 'Ids that were used once and are never issued again.'),
});

/** A panel as its file holds it: what is absent is computed, what is there is the user's. */
export type PanelFile = z.infer<typeof panelSchema>;
export type Strip = PanelFile['strips'][number];
/** The keys that the file knows at its top. */
export type PanelKey = keyof typeof panelSchema.shape;
type Item<K extends PanelKey> = NonNullable<PanelFile[K]> extends readonly (infer T)[] ? T : never;
/** The keys that hold lists of records. */
export type ListKey = {
  [K in PanelKey]: Item<K> extends object ? (Item<K> extends never ? never : K) : never;
}[PanelKey];
/** One record of a list. */
export type RecordOf<K extends ListKey> = Item<K>;
export type PlaceRecord = Item<'places'>;
export type PointRecord = Item<'points'>;
export type CrossingRecord = Item<'crossings'>;
export type ThreeWayRecord = Item<'threeWays'>;
export type DriveRecord = Item<'drives'>;
export type LeverRecord = Item<'levers'>;
export type LampRecord = Item<'lamps'>;
export type LampGroupRecord = Item<'lampGroups'>;
export type SupplyRecord = Item<'supplies'>;
export type ConnectorRecord = Item<'connectors'>;
export type WireRecord = Item<'wires'>;
export type PlateRecord = Item<'plates'>;
export type PlatformRecord = Item<'platforms'>;
export type PartRecord = Item<'parts'>;
export type FeedRecord = NonNullable<PanelFile['feed']>;
export type LightingRecord = NonNullable<PanelFile['lighting']>;
export type FaceRecord = NonNullable<PanelFile['face']>;
export type Lie = 'normal' | 'reverse';
/** What a lamp may ask of points: every named point lies as said. */
export type Lies = Readonly<Record<string, Lie>>;
