/**
 * The tool that lays a formation of the trade in one drag: from a spot on a strip to a second one, laid as ordinary strips. While the hand
 * moves, what would be laid is offered; where there is no room for it, that is said when the hand lets go.
 */
import {
  layCrossover,
  layLadder,
  layLead,
  layLoop,
  laySlip,
  type OnStrip,
  type Side,
  stripAt,
} from '../../../laying/index.ts';
import { type PanelFile, stripWidth, type Transaction } from '../../../panel/index.ts';
import type { Millimetre, Spot } from '../../../units/index.ts';
import type { Deed, Tool, ToolContext, WhyNot } from './types.ts';

export type Formation = 'strip' | 'loop' | 'crossover' | 'lead' | 'ladder' | 'single-slip' | 'double-slip';

/** In the order of the row of choices. */
export const FORMATIONS: readonly Formation[] = [
  'strip',
  'loop',
  'crossover',
  'lead',
  'ladder',
  'single-slip',
  'double-slip',
];

/** Roads of a ladder that the row offers. */
export const LADDER_ROADS: readonly number[] = [2, 3, 4, 5, 6, 7, 8];
export const USUAL_ROADS = 4;

/** A loop's road lies as far off as the hand, on this grid; a hand nearer the strip than this means the usual distance. */
const APART_GRID: Millimetre = 2;
const APART_LEAST: Millimetre = 12;

/** `on`: id of the strip that the drag began on; null on bare sheet. */
export type FormationState =
  | { readonly is: 'idle' }
  | {
      readonly is: 'held';
      readonly from: Spot;
      readonly to: Spot;
      readonly on: string | null;
      readonly moved: boolean;
    };

const IDLE: FormationState = { is: 'idle' };
const NOTHING: readonly Deed[] = [
  { do: 'ghost', path: [], drawn: null },
  { do: 'would', edit: null },
];

/** What a drag from a spot on a strip to another lays; null where there is no room for it. `roads`: of a ladder. */
export function layFormation(
  panel: PanelFile,
  formation: Exclude<Formation, 'strip'>,
  roads: number,
  drag: { readonly strip: string; readonly from: Spot; readonly to: Spot },
): Transaction | null {
  switch (formation) {
    case 'loop':
      return layLoop(panel, drag, besideOf(panel, drag));
    case 'crossover':
      return layCrossover(panel, drag);
    case 'lead':
      return layLead(panel, drag);
    case 'ladder':
      return layLadder(panel, drag, { roads });
    default:
      return laySlip(panel, drag.from, formation, drag.to);
  }
}

/** On which side of its strip a loop lies, and how far off: where the hand is, as seen along the drag. */
function besideOf(
  panel: PanelFile,
  { strip, from, to }: { readonly strip: string; readonly from: Spot; readonly to: Spot },
): { readonly side?: Side; readonly apart?: Millimetre } {
  const others = new Set(panel.strips.filter(({ id }) => id !== strip).map(({ id }) => id));
  const foot: OnStrip | null = stripAt(panel, to, Number.MAX_SAFE_INTEGER, others);
  if (foot === null) return {};
  const [off, along]: readonly [Spot, Spot] = [
    [to[0] - foot.at[0], to[1] - foot.at[1]],
    [foot.at[0] - from[0], foot.at[1] - from[1]],
  ];
  // y counts downwards: a hand to the right of the way turns it clockwise.
  const turn = along[0] * off[1] - along[1] * off[0];
  const half = stripWidth(foot.strip) / 2;
  if (foot.off <= half) return {};
  const side: Side = turn >= 0 ? 'right' : 'left';
  return foot.off < APART_LEAST ? { side } : { side, apart: Math.round(foot.off / APART_GRID) * APART_GRID };
}

/** A machine for one formation. */
export function formationTool(formation: Exclude<Formation, 'strip'>, roads: number): Tool<FormationState> {
  const slip = formation === 'single-slip' || formation === 'double-slip';
  const made = (state: Extract<FormationState, { is: 'held' }>, panel: PanelFile): Transaction | null =>
    state.on === null || !(state.moved || slip)
      ? null
      : layFormation(panel, formation, roads, { strip: state.on, from: state.from, to: state.to });
  const snapAt = (at: Spot, free: boolean, context: ToolContext) => context.snap(at, { without: [], free });
  return {
    start: IDLE,
    on(state, event, context) {
      switch (event.kind) {
        case 'down': {
          const drawn = snapAt(event.at, event.free, context);
          const on = stripAt(context.panel, drawn.at)?.strip.id ?? null;
          return {
            state: { is: 'held', from: drawn.at, to: drawn.at, on, moved: false },
            deeds: [{ do: 'ghost', path: [], drawn }],
          };
        }
        case 'move': {
          const drawn = snapAt(event.at, event.free, context);
          if (state.is === 'idle') return { state, deeds: [{ do: 'ghost', path: [], drawn }] };
          const far = Math.hypot(drawn.at[0] - state.from[0], drawn.at[1] - state.from[1]);
          const next = { ...state, to: drawn.at, moved: state.moved || far >= context.still };
          return {
            state: next,
            deeds: [
              { do: 'ghost', path: [], drawn },
              { do: 'would', edit: made(next, context.panel) },
            ],
          };
        }
        case 'up': {
          if (state.is === 'idle') return { state, deeds: [] };
          const edit = made(state, context.panel);
          if (edit !== null)
            return { state: IDLE, deeds: [{ do: 'edit', edit, subject: '', pick: 'laid' }, ...NOTHING] };
          const why: WhyNot = slip ? 'no crossing' : state.on === null ? 'no strip' : 'no room';
          return { state: IDLE, deeds: [{ do: 'refuse', why }, ...NOTHING] };
        }
        case 'cancel':
          return { state: IDLE, deeds: NOTHING };
        default:
          return { state, deeds: [] };
      }
    },
  };
}
