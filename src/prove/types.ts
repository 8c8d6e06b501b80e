import type { Lie } from '../panel/index.ts';

export type Expect =
  | {
      readonly quantity: 'volts' | 'amps' | 'ohms';
      readonly unit: 'V' | 'A' | 'ohm';
      readonly low: number;
      readonly high: number | null;
      readonly at: string;
    }
  | { readonly lamp: string; readonly look: 'lit' | 'unlit' }
  | { readonly point: string; readonly lie: Lie };

/** One bench test. Stages in the order of work: 0 look, 1 layout half, 2 panel without power, 3 panel on a limited feed, 4 both, 5 a train, 6 a coin. */
export interface BenchTest {
  /** "bench:P1:reverse", "panel:L4:normal"... never reused for another test. */
  readonly id: string;
  readonly stage: 0 | 1 | 2 | 3 | 4 | 5 | 6;
  readonly lever: string | null;
  /** What to do, in one or two plain sentences. */
  readonly do: string;
  readonly expect: readonly Expect[];
  /** What a pass rules out, and what it cannot tell. */
  readonly tells: string;
  readonly cannotTell: string;
}

/** What a kind of drive adds to a test of one point and lie. */
export type KindOfTest = Pick<BenchTest, 'do' | 'expect' | 'tells' | 'cannotTell'>;
