/**
 * The panel file, version 1, as a zod schema: every key that a file may hold, whether or not anything uses it yet.
 * Unknown keys are kept (loose objects). Lengths on the face and on the layout are millimetres; V, A, ohm, F, s and degrees otherwise.
 */
import { z } from 'zod';

export const FORMAT = 'mimic-panel';
export const VERSION = 1;

/** Ids are unique in the file, differ by more than case, and are never issued again. */
export const ID_PATTERN = /^[A-Za-z][A-Za-z0-9_-]*$/;

const id = z.string().regex(ID_PATTERN);
/** A reference to an id; whether it exists is a finding, not a reason to refuse the file. */
const ref = z.string();
const finite = z.number();
const positive = z.number().positive();
const atLeastZero = z.number().nonnegative();
const spot = z.tuple([finite, finite]);
const lie = z.enum(['normal', 'reverse']);
const lies = z.record(z.string(), lie);

const drilled = z.looseObject({ at: spot, drill: positive });
const face = z.looseObject({
  width: positive.optional(),
  height: positive.optional(),
  thickness: positive.optional(),
  material: z.string().optional(),
  colour: z.string().optional(),
  view: z.enum(['front', 'rear']).optional(),
  box: z.looseObject({ depth: positive.optional(), hinge: z.string().optional() }).optional(),
  fixings: z.array(drilled).optional(),
  keepOut: z.array(z.looseObject({ at: spot, size: spot })).optional(),
});

const strip = z.looseObject({
  id,
  name: z.string().optional(),
  width: positive.optional(),
  tape: z.string().optional(),
  bend: atLeastZero.optional(),
  path: z.array(spot).min(1),
  layoutLength: positive.optional(),
});

const place = z.looseObject({ id, name: z.string().optional(), at: spot, length: positive.optional() });

const point = z.looseObject({
  id,
  name: z.string().optional(),
  at: spot,
  normal: z.string().optional(),
  drive: ref.optional(),
  sense: z.enum(['same', 'opposite']).optional(),
  trap: z.boolean().optional(),
});

const crossing = z.looseObject({
  id,
  at: spot,
  kind: z.enum(['diamond', 'single-slip', 'double-slip', 'over']).optional(),
  normal: z.string().optional(),
  curve: spot.optional(),
  ends: z
    .array(
      z.looseObject({
        id,
        drive: ref.optional(),
        sense: z.enum(['same', 'opposite']).optional(),
      }),
    )
    .optional(),
});

const threeWay = z.looseObject({ id, at: spot, normal: z.string().optional(), points: z.array(ref).optional() });

const frog = z.looseObject({
  id,
  of: ref,
  kind: z.enum(['live', 'dead', 'module']).optional(),
  from: z.string().optional(),
});

const measured = z.looseObject({ amps: atLeastZero.optional(), volts: atLeastZero.optional() });
const wireRun = z.looseObject({ length: positive.optional(), gauge: positive.optional() });

const drive = z.looseObject({
  id,
  part: ref.optional(),
  positive: lie.optional(),
  contacts: z.record(z.string(), z.string()).optional(),
  wire: wireRun.optional(),
  measured: measured.optional(),
  address: z.number().int().optional(),
  existing: z.boolean().optional(),
});

const feed = z.looseObject({
  kind: z.enum(['reversing', 'split', 'half-wave', 'pulse', 'charge']).optional(),
  supplies: z.array(ref).optional(),
  farads: positive.optional(),
});

const lighting = z.looseObject({
  scheme: z
    .enum(['across-feed', 'in-series', 'spare-pole', 'drive-contact', 'blade-contact', 'latching-relay', 'tree'])
    .optional(),
  current: positive.optional(),
  supply: ref.optional(),
  from: ref.optional(),
  dimmer: z.looseObject({ least: positive }).optional(),
});

const works = z.looseObject({
  point: ref.optional(),
  signal: ref.optional(),
  section: ref.optional(),
  uncoupler: ref.optional(),
  opposite: z.boolean().optional(),
});

const lever = z.looseObject({
  id,
  name: z.string().optional(),
  at: spot.optional(),
  angle: finite.optional(),
  switch: ref.optional(),
  works: z.array(works).optional(),
  feed: feed.optional(),
  lighting: lighting.optional(),
  existing: z.boolean().optional(),
  twin: z.looseObject({ panel: z.string(), lever: z.string(), by: z.enum(['two-way', 'latch']) }).optional(),
});

const button = z.looseObject({ id, name: z.string().optional(), at: spot, part: ref.optional(), sets: lies.optional() });
const relay = z.looseObject({ id, part: ref.optional(), follows: ref.optional(), at: spot.optional() });

const shows = z.union([lies, z.array(lies)]);
const lamp = z.looseObject({
  id,
  name: z.string().optional(),
  at: spot,
  part: ref.optional(),
  shows: shows.optional(),
  claims: z.enum(['leg', 'span', 'route', 'supply', 'occupancy', 'test']).optional(),
  from: ref.optional(),
  current: positive.optional(),
  dark: z.enum(['nothing', 'opposite']).optional(),
  elements: z.array(z.looseObject({ colour: z.string(), shows: shows.optional() })).optional(),
});

const lampGroup = z.looseObject({
  id,
  lamps: z.array(ref),
  arrange: z.enum(['pair', 'own', 'series', 'parallel']).optional(),
  ohms: positive.optional(),
  guard: z.enum(['none', 'antiparallel']).optional(),
});

const supply = z.looseObject({
  id,
  name: z.string().optional(),
  kind: z.enum(['dc', 'ac', 'battery', 'cdu', 'track']).optional(),
  volts: positive.optional(),
  voltsOffLoad: positive.optional(),
  tolerance: atLeastZero.optional(),
  amps: positive.optional(),
  ohms: atLeastZero.optional(),
  limit: z.enum(['none', 'constant', 'fold', 'hiccup']).optional(),
  isolated: z.boolean().optional(),
  fuse: z.looseObject({ amps: positive, act: z.string().optional() }).nullable().optional(),
  from: ref.optional(),
  farads: positive.optional(),
  chargeOhms: positive.optional(),
  frequency: positive.optional(),
});

const returnWire = z.looseObject({
  id,
  supply: ref.optional(),
  levers: z.array(ref).optional(),
  pins: z.number().int().positive().optional(),
});

const connector = z.looseObject({
  id: z.string().regex(/^[A-Za-z]+$/),
  name: z.string().optional(),
  part: ref.optional(),
  panelHalf: z.enum(['plug', 'socket']).optional(),
  spare: z.number().min(0).max(1).optional(),
  pins: z.record(z.string(), z.string()).optional(),
});

const board = z.looseObject({ id, name: z.string().optional() });
const boardJoint = z.looseObject({ id, between: z.tuple([ref, ref]).optional(), part: ref.optional() });

const wire = z.looseObject({
  id,
  from: z.string().optional(),
  to: z.string().optional(),
  length: positive.optional(),
  gauge: positive.optional(),
  colour: z.string().optional(),
});

const track = z.looseObject({
  system: z.string().optional(),
  bus: wireRun.optional(),
  droppers: wireRun.optional(),
  feeds: z.array(z.looseObject({ at: spot })).optional(),
  gaps: z.array(z.looseObject({ at: spot, rail: z.string().optional() })).optional(),
  boosters: z
    .array(z.looseObject({ id, volts: positive.optional(), tripAmps: positive.optional() }))
    .optional(),
});

const train = z.looseObject({
  id,
  name: z.string().optional(),
  length: positive.optional(),
  stands: ref.optional(),
  heads: ref.optional(),
});

const plate = z.looseObject({
  at: spot,
  text: z.string(),
  size: positive.optional(),
  width: positive.optional(),
  height: positive.optional(),
});

const platform = z.looseObject({
  at: spot,
  size: spot,
  names: z.array(z.looseObject({ at: spot, text: z.string(), anchor: z.enum(['start', 'middle', 'end']).optional() })).optional(),
});

const part = z.looseObject({ id, like: ref.optional() });

const built = z.looseObject({
  revision: z.string().optional(),
  date: z.string().optional(),
  wires: z
    .record(
      z.string(),
      z.looseObject({
        from: z.string(),
        to: z.string(),
        colour: z.string().optional(),
        gauge: positive.optional(),
        length: positive.optional(),
      }),
    )
    .optional(),
  pins: z.record(z.string(), z.string()).optional(),
  holes: z.record(z.string(), drilled).optional(),
  groups: z.record(z.string(), z.looseObject({ lamps: z.array(ref), ohms: positive.optional() })).optional(),
});

const result = z.looseObject({
  test: z.string(),
  revision: z.string().optional(),
  at: z.string().optional(),
  read: z.record(z.string(), z.unknown()).optional(),
  pass: z.boolean().optional(),
});

export const panelSchema = z.looseObject({
  format: z.literal(FORMAT),
  version: z.literal(VERSION),
  name: z.string().optional(),
  revision: z.string().optional(),
  date: z.string().optional(),
  face: face.optional(),
  strips: z.array(strip),
  places: z.array(place).optional(),
  points: z.array(point).optional(),
  crossings: z.array(crossing).optional(),
  threeWays: z.array(threeWay).optional(),
  frogs: z.array(frog).optional(),
  drives: z.array(drive).optional(),
  levers: z.array(lever).optional(),
  buttons: z.array(button).optional(),
  relays: z.array(relay).optional(),
  lamps: z.array(lamp).optional(),
  lampGroups: z.array(lampGroup).optional(),
  feed: feed.optional(),
  lighting: lighting.optional(),
  supplies: z.array(supply).optional(),
  returns: z.array(returnWire).optional(),
  connectors: z.array(connector).optional(),
  boards: z.array(board).optional(),
  boardJoints: z.array(boardJoint).optional(),
  wires: z.array(wire).optional(),
  wireStock: z.array(z.looseObject({ colour: z.string(), gauge: positive.optional() })).optional(),
  track: track.optional(),
  trains: z.array(train).optional(),
  plates: z.array(plate).optional(),
  platforms: z.array(platform).optional(),
  parts: z.array(part).optional(),
  built: built.optional(),
  results: z.array(result).optional(),
  retired: z.array(z.string()).optional(),
});

/** A panel as its file holds it: what is absent is computed, what is there is the user's. */
export type PanelFile = z.infer<typeof panelSchema>;
export type Strip = PanelFile['strips'][number];
type Item<K extends keyof PanelFile> = NonNullable<PanelFile[K]> extends readonly (infer T)[] ? T : never;
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
