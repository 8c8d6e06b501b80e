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

/** What the lamps of the healthy panel say in every setting, as TRUTH 1 to 9 define it. */
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
