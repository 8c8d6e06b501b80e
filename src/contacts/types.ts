import type { SwitchPart } from '../parts/index.ts';

/** Why a lever's switch cannot do what is asked; checks turns each into a finding. */
export type ContactProblem =
  /** A switch that stays where a relay is to remember: it holds the relay's coil as long as it lies. */
  | { readonly code: 'twin-switch-stays'; readonly lever: string; readonly part: string; readonly useInstead: string }
  | { readonly code: 'switch-unknown'; readonly lever: string; readonly part: string }
  | {
      readonly code: 'switch-too-few-poles';
      readonly lever: string;
      readonly part: string;
      readonly has: number;
      readonly needs: number;
      readonly useInstead: string;
    }
  | {
      readonly code: 'switch-sprung-on-held-feed';
      readonly lever: string;
      readonly part: string;
      readonly useInstead: string;
    };

/** How a lever and its twin on another panel work together. */
export type TwinKind = 'two-way' | 'beside' | 'latch';

/** Why they cannot: the whole charge would go out and back, and a switch that stays holds a coil. */
export type TwinUnfit = 'charge' | 'two-way-pulse';

/** The switch of a lever and what each of its poles does, in order: those of the feed, those that light lamps, the rest. */
export interface LeverSwitch {
  readonly lever: string;
  readonly part: SwitchPart;
  readonly poles: readonly ('feed' | 'lamps' | 'spare')[];
  readonly used: number;
  /** True where the file names the part, false where it was chosen. */
  readonly given: boolean;
  /** How a lever on another panel works with it; absent: none does. */
  readonly twin?: TwinKind;
}
