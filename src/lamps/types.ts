import type { Lie, Lies } from '../panel/index.ts';
import type { LampPart } from '../parts/index.ts';
import type { Ampere, Ohm, Spot, Volt, Watt } from '../units/index.ts';

export type ClaimKind = 'leg' | 'span' | 'route' | 'supply' | 'occupancy' | 'test';
export type Basis = 'asked' | 'drive' | 'blades';

/** What a lamp says, and by what means it can be lit. */
export interface LampUse {
  readonly id: string;
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
  /** The lever whose position its claim stands for, and that position; null where no single lever can say it. */
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
  readonly lever: string;
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
  | { readonly code: 'lamp-scheme-not-built'; readonly lamp: string; readonly scheme: string; readonly at: Spot }
  | { readonly code: 'group-lamp-unknown'; readonly group: string; readonly lamp: string }
  | { readonly code: 'group-lamp-twice'; readonly lamp: string; readonly groups: readonly string[] }
  | { readonly code: 'group-two-levers'; readonly group: string; readonly levers: readonly string[] }
  | { readonly code: 'group-not-a-pair'; readonly group: string; readonly normal: number; readonly reverse: number };

/** Volts that the feed holds at a lever's commons: what the resistors are sized for. */
export interface FeedVolts {
  readonly low: Volt;
  readonly nominal: Volt;
  readonly high: Volt;
}
