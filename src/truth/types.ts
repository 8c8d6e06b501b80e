import type { Basis, ClaimKind } from '../lamps/index.ts';
import type { Lies } from '../panel/index.ts';
import type { Position } from '../wiring/index.ts';

export type Shown = 'lit' | 'unlit';

/** An entry names the levers that matter: it holds for every setting of the others. */
export interface TruthEntry {
  readonly levers: Readonly<Record<string, Position>>;
  readonly history: Lies;
  readonly lamp: string;
}

export interface Untruth extends TruthEntry {
  readonly shown: Shown;
  readonly should: Shown;
}

/** What the lamps of the healthy panel say in every setting. */
export interface HealthyTruth {
  /** How many settings the proof covers, as a decimal string. */
  readonly settings: string;
  readonly lamps: readonly {
    readonly id: string;
    readonly claim: readonly Lies[];
    readonly kind: ClaimKind;
    readonly basis: Basis;
  }[];
  readonly untruths: readonly Untruth[];
  readonly doubtful: readonly (TruthEntry & { readonly side: 'right' | 'wrong' })[];
  readonly contradictions: readonly TruthEntry[];
  readonly silent: readonly TruthEntry[];
  /** Lamps that lead the blades while they move, by how many seconds at most. */
  readonly leads: readonly { readonly lamp: string; readonly seconds: number }[];
}

/** What a single fault does to what the lamps say, at its worst: rule 14 and 15. */
export type FaultClass = 'rightSide' | 'wrongSide' | 'latent';

/** One setting and history in which a fault makes a lamp lie. */
export interface WrongSide extends Untruth {
  readonly fault: string;
  /** The lamp may be lit or not, or lamps of both legs are lit together and so show that something is wrong. */
  readonly mark: 'doubtful' | 'shows itself' | null;
}

/** Every single fault in every setting with every history. */
export interface FaultTruth {
  /** By code, in the order of the wiring. */
  readonly outcomes: readonly { readonly fault: string; readonly class: FaultClass }[];
  readonly faults: {
    readonly tried: number;
    readonly rightSide: number;
    readonly wrongSide: number;
    readonly latent: number;
  };
  /** One witness for each fault that lies, in the same order. */
  readonly wrongSide: readonly WrongSide[];
  /** Of all faults tried, how many lie; and the same weighted by how often each is met. Nothing tried: 0. */
  readonly share: number;
  readonly weightedShare: number;
}
