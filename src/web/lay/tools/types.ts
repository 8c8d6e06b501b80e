/**
 * What every tool of the Lay stage is: a small machine. It takes what the hand does, in millimetres of the face, and answers its next state
 * and what is to be done about it. It knows no screen, no clock and no document: what it may ask is in the context.
 */
import type { Picked, Snapped, SnappedMove } from '../../../laying/index.ts';
import type { PanelFile, Transaction } from '../../../panel/index.ts';
import type { Millimetre, Spot } from '../../../units/index.ts';

export type ToolName =
  | 'pick'
  | 'strip'
  | 'platform'
  | 'place'
  | 'plate'
  | 'lever'
  | 'button'
  | 'lamp'
  | 'fixing'
  | 'keep-out'
  | 'measure';

/** What the hand does. `free`: nothing shall draw it. */
export type ToolEvent =
  | {
      readonly kind: 'down';
      readonly at: Spot;
      readonly more: boolean;
      readonly free: boolean;
      readonly again: boolean;
    }
  | { readonly kind: 'move'; readonly at: Spot; readonly free: boolean }
  | { readonly kind: 'up'; readonly at: Spot; readonly free: boolean }
  | { readonly kind: 'cancel' }
  | { readonly kind: 'enter' }
  | { readonly kind: 'typed'; readonly length: Millimetre | null; readonly angle: number | null };

/** What is to be done about it. */
export type Deed =
  | { readonly do: 'pick'; readonly picked: readonly Picked[] }
  | { readonly do: 'begin'; readonly name: string; readonly subject: string }
  /** The drag as it stands, made for the panel as it was when the drag began; null: nothing has changed. */
  | { readonly do: 'redraw'; readonly edit: Transaction | null }
  | { readonly do: 'end' }
  | { readonly do: 'abandon' }
  | { readonly do: 'edit'; readonly edit: Transaction; readonly subject: string; readonly pick: 'laid' | null }
  | { readonly do: 'ghost'; readonly path: readonly Spot[]; readonly drawn: Snapped | null }
  /** What would be laid if the hand let go now, where that is more than one line. */
  | { readonly do: 'would'; readonly edit: Transaction | null }
  | { readonly do: 'refuse'; readonly why: WhyNot };

/** Why nothing is laid: the drag began on no strip, there is too little room, nothing crosses there, nothing is there that could have a name. */
export type WhyNot = 'no strip' | 'no room' | 'no crossing' | 'no place';

/** What a tool may ask. */
export interface ToolContext {
  /** The panel as the drag began. */
  readonly panel: PanelFile;
  readonly picked: readonly Picked[];
  /** Everything under a spot, what lies on top first. */
  under(spot: Spot): readonly Picked[];
  /** Where the hand is drawn to. `from`: the last corner, `before`: the one before it; `without`: what is being moved. */
  snap(
    spot: Spot,
    options: {
      readonly from?: Spot;
      readonly before?: Spot;
      readonly without: readonly Picked[];
      readonly free: boolean;
    },
  ): Snapped;
  /** By how much things are moved for a hand that has moved them so far. */
  snapMove(what: readonly Picked[], by: Spot, free: boolean): SnappedMove;
  /** Things that lie wholly within an oblong. */
  within(a: Spot, b: Spot): readonly Picked[];
  /** A move shorter than this is none: a hand is never quite still. */
  readonly still: Millimetre;
}

export interface Answer<S> {
  readonly state: S;
  readonly deeds: readonly Deed[];
}

/** A tool: where it begins, and what it does with what the hand does. */
export interface Tool<S> {
  readonly start: S;
  on(state: S, event: ToolEvent, context: ToolContext): Answer<S>;
}

/** What hands what the hand does to the tool that it holds. */
export interface Hand {
  on(event: ToolEvent): void;
}
