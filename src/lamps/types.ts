import type { Lie, Lies, Lighting } from '../panel/index.ts';
import type { LampPart } from '../parts/index.ts';
import type { Ampere, Ohm, Spot, Volt, Watt } from '../units/index.ts';

export type ClaimKind = 'leg' | 'span' | 'route' | 'supply' | 'occupancy' | 'test';
export type Basis = 'asked' | 'drive' | 'blades';

/** How a lamp is lit. */
export type Scheme = Lighting['scheme'];

/** Something whose changeover contacts can light lamps: it lies normal or reverse. */
export interface Carrier {
  /** The lever's id, the drive's, the relay's; of blades the point's with ".b". */
  readonly id: string;
  readonly kind: 'lever' | 'drive' | 'blades' | 'relay';
  /** Changeovers that are free for lamps, by id: "L4.3", "D1.c1", "P4.b1", "K1.1". */
  readonly contacts: readonly string[];
  /** The points whose lie it tells, and how each lies when it lies normal. */
  readonly points: readonly { readonly point: string; readonly whenNormal: Lie }[];
  /** The lever that decides it while all is well, and how it lies when that is normal; null where none does. */
  readonly lever: string | null;
  readonly whenNormal: Lie;
}

/** Where a lamp that contacts light hangs: between two nodes of their tree. */
export interface Hang {
  readonly plus: string;
  readonly minus: string;
  /** The throw of the last contact before it: lamps of the two sides of one contact are never live together. */
  readonly side: Lie;
  /** The node that this contact hangs on, and its id: lamps of both its sides may share a resistor. */
  readonly contact: string;
  /** Lies of carriers that all must hold. */
  readonly cube: Lies;
}

/** One changeover contact of a tree. Nodes are named by the way to them: "plus", "plus/L1=reverse". */
export interface TreeLink {
  /** "L4.3", "D1.c1". */
  readonly id: string;
  readonly carrier: Carrier;
  readonly from: string;
  readonly normal: string | null;
  readonly reverse: string | null;
}

/** Contacts one behind the other, and the lamps that they light. */
export interface LightTree {
  /** The lever's id where one lever decides it all, the point's where none does, else a name of its own. */
  readonly circuit: string;
  readonly supply: string;
  readonly links: readonly TreeLink[];
  readonly lamps: readonly string[];
  /** How many contacts, and fewer than which none can be. */
  readonly least: number;
  readonly proved: boolean;
}

/** What a lamp says, and by what means it can be lit. */
export interface LampUse {
  /** Of a lamp of two colours each element stands for itself: H3A, H3B. */
  readonly id: string;
  /** The lamp of the file. */
  readonly of: string;
  readonly element: 'A' | 'B' | null;
  readonly scheme: Scheme;
  /** The circuit that lights it; null where it is not wired. */
  readonly circuit: string | null;
  /** Where contacts light it: between which nodes. */
  readonly hang: Hang | null;
  /** The supply that lights it, by id, which may not be there. */
  readonly supply: string | null;
  readonly at: Spot;
  readonly part: LampPart;
  /** Lit when any of these holds; empty: it claims no lie (supply, occupancy, test, or unreadable). */
  readonly claim: readonly Lies[];
  readonly kind: ClaimKind;
  readonly basis: Basis;
  /** Where the claim comes from. */
  readonly from: 'shows' | 'span' | 'none';
  /** The span it lies on, when within reach. */
  readonly span: string | null;
  /** The lever whose position lights it while all is well, and that position; null where no single lever does. */
  readonly lever: string | null;
  readonly lie: Lie | null;
  readonly current: Ampere;
  readonly speaksWhenDark: boolean;
}

/** One line of a sum that the screen and the book can show: "9 - 2 x 1.85 = 5.3 V". */
export interface SumStep {
  readonly text: string;
  readonly value: number;
  readonly unit: string;
}

export interface LampGroup {
  readonly id: string;
  /** The circuit that it hangs in: mostly a lever's id. */
  readonly circuit: string;
  readonly scheme: Scheme;
  /** Between which nodes it hangs where contacts light it: the two near ones, by side, and the far one. */
  readonly nodes: { readonly normal: string | null; readonly reverse: string | null; readonly far: string } | null;
  readonly arrange: 'pair' | 'own' | 'series' | 'parallel';
  readonly guard: 'none' | 'antiparallel';
  /** Lamps lit when the lever is normal and when it is reverse, in order. */
  readonly normal: readonly string[];
  readonly reverse: readonly string[];
  readonly ohms: Ohm;
  readonly ohmsFrom: 'file' | 'built' | 'computed';
  /** Dissipated in one resistor at the worst corner, and the rating to buy. */
  readonly watts: Watt;
  readonly rating: Watt;
  readonly recorded: boolean;
  readonly sum: readonly SumStep[];
  /** The whole arithmetic line by line: nominal, worst corners, power. */
  readonly steps?: readonly string[];
}

export type LampProblem =
  | { readonly code: 'lamp-part-unknown'; readonly lamp: string; readonly part: string; readonly at: Spot }
  | { readonly code: 'lamp-claims-nothing'; readonly lamp: string; readonly at: Spot }
  | { readonly code: 'lamp-point-unknown'; readonly lamp: string; readonly point: string; readonly at: Spot }
  | {
      readonly code: 'lamp-denies-its-leg';
      readonly lamp: string;
      readonly leg: Lies;
      readonly shows: readonly Lies[];
      readonly at: Spot;
    }
  | {
      readonly code: 'lamp-needs-two-levers';
      readonly lamp: string;
      readonly levers: readonly string[];
      readonly at: Spot;
    }
  | { readonly code: 'lamp-point-has-no-lever'; readonly lamp: string; readonly point: string; readonly at: Spot }
  | { readonly code: 'lamp-never-or-always'; readonly lamp: string; readonly at: Spot }
  /** The scheme cannot light it so: `why` is one of a few reasons that checks put into words. */
  | {
      readonly code: 'lamp-scheme-unfit';
      readonly lamp: string;
      readonly scheme: string;
      readonly why: SchemeUnfit;
      readonly of: string;
      readonly at: Spot;
    }
  | {
      readonly code: 'lamp-contacts-short';
      readonly lamp: string;
      readonly carrier: string;
      readonly kind: Carrier['kind'];
      readonly needs: number;
      readonly has: number;
      readonly at: Spot;
    }
  | { readonly code: 'lamp-several-ways'; readonly lamp: string; readonly ways: number; readonly at: Spot }
  | { readonly code: 'group-lamp-unknown'; readonly group: string; readonly lamp: string }
  | { readonly code: 'group-lamp-twice'; readonly lamp: string; readonly groups: readonly string[] }
  | { readonly code: 'group-two-levers'; readonly group: string; readonly levers: readonly string[] }
  | { readonly code: 'group-apart'; readonly group: string; readonly lamps: readonly string[] }
  | { readonly code: 'group-not-a-pair'; readonly group: string; readonly normal: number; readonly reverse: number };

/**
 * Why a scheme cannot light a lamp: nothing is left on a pulse or charge feed, or on the input of a driver board; in series only a stall
 * drive lights lamps; a switch that springs back lets its poles go; a lever with a twin on another panel does not know the lie; relays
 * that latch are set by pulses, and one that does not falls back where its feed is gone; a relay has no record; and which leads of a lamp of two colours fit.
 */
export type SchemeUnfit =
  | 'feed-at-rest'
  | 'feed-is-signal'
  | 'not-a-stall-drive'
  | 'pole-lets-go'
  | 'pole-of-twin'
  | 'no-pulse'
  | 'relay-falls-back'
  | 'needs-two-leads'
  | 'needs-three-leads'
  | 'needs-common-cathode'
  | 'elements-not-two';

/** Volts that the feed holds at a lever's commons: what the resistors are sized for. */
export interface FeedVolts {
  readonly low: Volt;
  readonly nominal: Volt;
  readonly high: Volt;
}
