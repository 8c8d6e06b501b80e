import type { SwitchPart } from '../parts/index.ts';

/** Why a lever's switch cannot do what is asked; checks turns each into a finding. */
export type ContactProblem =
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

/** The switch of a lever and what each of its poles does, in order: those of the feed, those that light lamps, the rest. */
export interface LeverSwitch {
  readonly lever: string;
  readonly part: SwitchPart;
  readonly poles: readonly ('feed' | 'lamps' | 'spare')[];
  readonly used: number;
  /** True where the file names the part, false where it was chosen. */
  readonly given: boolean;
}
