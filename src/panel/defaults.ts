import type { Ampere, Farad, Millimetre, Ohm, Spot, Volt } from '../units/index.ts';
import { foldId, idsIn } from './ids.ts';
import type { FeedRecord, LeverRecord, LightingRecord, PanelFile, Strip, SupplyRecord } from './schema.ts';
import { keptFor } from './sharing.ts';

/**
 * What holds where a file says nothing. Millimetres, V, A, ohm, mm2. The rule everywhere: a value in the file is the user's and
 * never altered; absent means computed from these.
 */
export const DEFAULTS = {
  face: {
    /** Clear of what lies on it, on the two far sides. */
    margin: 30,
    /** Its width and height are rounded up to this. */
    step: 10,
    thickness: 3,
    material: 'aluminium',
    colour: 'sage',
    view: 'front',
  },
  strip: { width: 5, bend: 9, tape: 'graphite' },
  crossing: { kind: 'diamond' },
  point: { sense: 'same', trap: false },
  drive: { part: 'stall-2-wire', positive: 'normal', member: 1 },
  /** Under the layout to a drive, one way: a guess, and flagged as one. */
  wire: { length: 3000, gauge: 0.22 },
  lever: {
    /** Between the middles of levers in the row that the tool lays. */
    pitch: 44,
    /** Of that row below the lowest corner of any strip. */
    below: 22,
    angle: 0,
  },
  button: { part: 'push-1p' },
  relay: { part: 'relay-latching-2p' },
  lamp: { part: 'led-3-amber', current: 0.002, dark: 'nothing' },
  lampGroup: { guard: 'none' },
  feed: { kind: 'reversing', supply: 'S1' },
  lighting: { scheme: 'across-feed', current: 0.002 },
  supply: {
    kind: 'dc',
    volts: 9,
    amps: 1,
    tolerance: 0.05,
    ohms: 0,
    limit: 'none',
    isolated: true,
    fuseAct: 'quick',
    /** Of an ac supply; half-wave feeds count on it. */
    frequency: 50,
  },
  connector: { part: 'dsub-25', panelHalf: 'socket', spare: 0.125 },
  track: { numbering: 'board-1' },
} as const;

/** Width of a strip's tape. */
export function stripWidth(strip: Strip): Millimetre {
  return strip.width ?? DEFAULTS.strip.width;
}

/** Radius of a strip's bends. */
export function stripBend(strip: Strip): Millimetre {
  return strip.bend ?? DEFAULTS.strip.bend;
}

/** A supply with everything settled; null is said where there is none of it. */
export interface Supply {
  readonly id: string;
  readonly name: string | null;
  readonly kind: NonNullable<SupplyRecord['kind']>;
  /** Its EMF. */
  readonly volts: Volt;
  readonly voltsOffLoad: Volt | null;
  /** Share of `volts`. */
  readonly tolerance: number;
  readonly amps: Ampere;
  readonly ohms: Ohm;
  readonly limit: NonNullable<SupplyRecord['limit']>;
  readonly isolated: boolean;
  /** 'computed': sized by the tool; null: the user has none. */
  readonly fuse: 'computed' | null | { readonly amps: Ampere; readonly act: string };
  /** The supply that charges a CDU. */
  readonly from: string | null;
  readonly farads: Farad | null;
  readonly chargeOhms: Ohm | null;
  readonly frequency: number;
  /** True where the file has a record of it. */
  readonly recorded: boolean;
}

/**
 * Supplies in the order of the file; one by default where the key is absent, none where the list is empty.
 * A CDU without `volts` has those of the supply that charges it.
 */
export function suppliesOf(panel: PanelFile): readonly Supply[] {
  if (panel.supplies === undefined) return [settle(panel, { id: defaultSupplyId(panel) }, false)];
  return panel.supplies.map((record) => settle(panel, record, true));
}

function settle(panel: PanelFile, record: SupplyRecord, recorded: boolean): Supply {
  const fallback = DEFAULTS.supply;
  const charger = record.from === undefined ? undefined : panel.supplies?.find(({ id }) => id === record.from);
  const { fuse } = record;
  return {
    id: record.id,
    name: record.name ?? null,
    kind: record.kind ?? fallback.kind,
    volts: record.volts ?? charger?.volts ?? fallback.volts,
    voltsOffLoad: record.voltsOffLoad ?? null,
    tolerance: record.tolerance ?? fallback.tolerance,
    amps: record.amps ?? fallback.amps,
    ohms: record.ohms ?? fallback.ohms,
    limit: record.limit ?? fallback.limit,
    isolated: record.isolated ?? fallback.isolated,
    fuse:
      fuse === undefined ? 'computed' : fuse === null ? null : { amps: fuse.amps, act: fuse.act ?? fallback.fuseAct },
    from: record.from ?? null,
    farads: record.farads ?? null,
    chargeOhms: record.chargeOhms ?? null,
    frequency: record.frequency ?? fallback.frequency,
    recorded,
  };
}

/** S1, or the next S number where something else in the file is called that. */
function defaultSupplyId(panel: PanelFile): string {
  const known = DEFAULT_SUPPLIES.get(panel);
  if (known !== undefined) return known;
  const id = nextFreeId(panel, 'S');
  DEFAULT_SUPPLIES.set(panel, id);
  return id;
}

/** Asked for with every lever, and found only past all that is called so. */
const DEFAULT_SUPPLIES = new WeakMap<PanelFile, string>();

/** A feed with everything settled. */
export interface Feed {
  readonly kind: NonNullable<FeedRecord['kind']>;
  /** Ids of supplies, that may not be there; for split the first gives plus. */
  readonly supplies: readonly string[];
  /** The capacitor of a charge feed. */
  readonly farads: Farad | null;
}

/**
 * How the panel's drives are fed, or those of one lever: what the lever says, then what the panel says, then the default.
 * The default supply is S1 where the file has it, else the first in the file (for split the first two).
 */
export function feedOf(panel: PanelFile, lever?: LeverRecord): Feed {
  const kind = lever?.feed?.kind ?? panel.feed?.kind ?? DEFAULTS.feed.kind;
  return {
    kind,
    supplies: lever?.feed?.supplies ?? panel.feed?.supplies ?? defaultSupplies(panel, kind),
    farads: lever?.feed?.farads ?? panel.feed?.farads ?? null,
  };
}

function defaultSupplies(panel: PanelFile, kind: Feed['kind']): readonly string[] {
  const ids = suppliesOf(panel).map(({ id }) => id);
  if (kind === 'split') return ids.slice(0, 2);
  return ids.includes(DEFAULTS.feed.supply) ? [DEFAULTS.feed.supply] : [ids[0] ?? DEFAULTS.feed.supply];
}

/** Lighting with everything settled. */
export interface Lighting {
  readonly scheme: NonNullable<LightingRecord['scheme']>;
  readonly current: Ampere;
  /** Id of a supply, that may not be there; null where the feed has none either. */
  readonly supply: string | null;
  readonly from: string | null;
  /** Share of the volts at a dimmer's lowest; null: no dimmer. */
  readonly dimmerLeast: number | null;
}

/** How the panel's lamps are lit, or those of one lever; the default supply is the first of the feed. */
export function lightingOf(panel: PanelFile, lever?: LeverRecord): Lighting {
  const own = lever?.lighting;
  const all = panel.lighting;
  return {
    scheme: own?.scheme ?? all?.scheme ?? DEFAULTS.lighting.scheme,
    current: own?.current ?? all?.current ?? DEFAULTS.lighting.current,
    supply: own?.supply ?? all?.supply ?? feedOf(panel, lever).supplies[0] ?? null,
    from: own?.from ?? all?.from ?? null,
    dimmerLeast: own?.dimmer?.least ?? all?.dimmer?.least ?? null,
  };
}

/** The sheet with everything settled. */
export interface FaceSize {
  readonly width: Millimetre;
  readonly height: Millimetre;
  readonly thickness: Millimetre;
  readonly material: string;
  readonly colour: string;
  readonly view: 'front' | 'rear';
}

/**
 * The sheet. Its default size is the furthest spot of what lies on it (corners of strips, middles of levers, lamps, buttons,
 * places, fixings; far edges of plates and platforms that say their size, and of keep-outs) plus the margin, rounded up to the step;
 * never less than one step. `also`: spots of levers that the tool has laid itself.
 */
export function faceOf(panel: PanelFile, also: Iterable<Spot> = []): FaceSize {
  const face = panel.face;
  const given = { width: face?.width, height: face?.height };
  const far = given.width === undefined || given.height === undefined ? furthest(panel, also) : ([0, 0] as const);
  const rounded = (reach: number) => {
    const { margin, step } = DEFAULTS.face;
    return Math.max(step, Math.ceil((reach + margin) / step - ROUNDING) * step);
  };
  return {
    width: given.width ?? rounded(far[0]),
    height: given.height ?? rounded(far[1]),
    thickness: face?.thickness ?? DEFAULTS.face.thickness,
    material: face?.material ?? DEFAULTS.face.material,
    colour: face?.colour ?? DEFAULTS.face.colour,
    view: face?.view ?? DEFAULTS.face.view,
  };
}

/** Share of a step: a spot that is over it by a rounding error of sums of decimals does not make the sheet a step larger. */
const ROUNDING = 1e-9;

function furthest(panel: PanelFile, also: Iterable<Spot>): readonly [number, number] {
  let x = 0;
  let y = 0;
  const reach = (spot: Spot | undefined, across = 0, down = 0) => {
    if (spot === undefined) return;
    x = Math.max(x, spot[0] + across);
    y = Math.max(y, spot[1] + down);
  };
  for (const { path } of panel.strips) for (const corner of path) reach(corner);
  const records = [panel.places, panel.levers, panel.buttons, panel.lamps, panel.face?.fixings];
  for (const list of records) for (const { at } of list ?? []) reach(at);
  for (const { at, width, height } of panel.plates ?? []) reach(at, (width ?? 0) / 2, (height ?? 0) / 2);
  for (const { at, size } of panel.platforms ?? []) reach(at, size[0], size[1]);
  for (const { at, size } of panel.face?.keepOut ?? []) reach(at, size[0], size[1]);
  for (const spot of also) reach(spot);
  return [x, y];
}

/** How far down the row of levers stands that the tool lays itself: below the lowest corner of any strip. */
export function leverRow(panel: PanelFile): Millimetre {
  let lowest = 0;
  for (const { path } of panel.strips) for (const [, y] of path) lowest = Math.max(lowest, y);
  return lowest + DEFAULTS.lever.below;
}

const idsUnder = keptFor((value: object, key: string) => idsIn({ [key]: value }).map(({ id }) => foldId(id)));

const TAKEN = new WeakMap<PanelFile, ReadonlySet<string>>();

/** Every id that may not be issued, folded by `foldId`: those in use and those retired. Gathered once for each panel. */
export function takenIds(panel: PanelFile): ReadonlySet<string> {
  const known = TAKEN.get(panel);
  if (known !== undefined) return known;
  const taken = new Set<string>();
  // What is left as it was by an edit has the ids that it had.
  for (const [key, value] of Object.entries(panel))
    if (typeof value === 'object' && value !== null) for (const id of idsUnder(value, key)) taken.add(id);
  for (const id of panel.retired ?? []) taken.add(foldId(id));
  TAKEN.set(panel, taken);
  return taken;
}

/** Issues ids for what the file does not name: each once, in the order of their numbers. */
export interface NewIds {
  /** The prefix with the least number from 1 that is free; it is taken from then on. */
  next(prefix: string): string;
  /** Exactly this id where it is free, then taken; else null. */
  claim(id: string): string | null;
}

/** Passes over every id that the file uses or has retired; case does not count. */
export function newIds(panel: PanelFile): NewIds {
  const taken = takenIds(panel);
  const issued = new Set<string>();
  const reached = new Map<string, number>();
  const claim = (id: string) => {
    const folded = foldId(id);
    if (taken.has(folded) || issued.has(folded)) return null;
    issued.add(folded);
    return id;
  };
  return {
    claim,
    next(prefix) {
      for (let n = (reached.get(prefix) ?? 0) + 1; ; n++) {
        const id = claim(`${prefix}${n}`);
        if (id === null) continue;
        reached.set(prefix, n);
        return id;
      }
    },
  };
}

/** The prefix with the least number from 1 that is neither used nor retired in the file, nor among `alsoTaken`; case does not count. */
export function nextFreeId(panel: PanelFile, prefix: string, alsoTaken: Iterable<string> = []): string {
  const taken = takenIds(panel);
  const also = new Set([...alsoTaken].map(foldId));
  const isTaken = (id: string) => taken.has(foldId(id)) || also.has(foldId(id));
  let number = 1;
  while (isTaken(`${prefix}${number}`)) number += 1;
  return `${prefix}${number}`;
}

/** The first of A, B, ... Z, AA, AB, ... that is free: ids of connectors have no figures. */
export function nextFreeLetters(panel: PanelFile, alsoTaken: Iterable<string> = []): string {
  const taken = takenIds(panel);
  const also = new Set([...alsoTaken].map(foldId));
  const isTaken = (id: string) => taken.has(foldId(id)) || also.has(foldId(id));
  let number = 1;
  while (isTaken(inLetters(number))) number += 1;
  return inLetters(number);
}

function inLetters(number: number): string {
  let text = '';
  for (let n = number; n > 0; n = Math.floor((n - 1) / 26)) text = String.fromCharCode(65 + ((n - 1) % 26)) + text;
  return text;
}
