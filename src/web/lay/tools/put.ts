/** Tools that put one thing where the hand presses, or over what it draws: platforms, plates, levers, lamps and the rest. */
import {
  namePlace,
  putButton,
  putFixing,
  putKeepOut,
  putLamp,
  putLever,
  putPlate,
  putPlatform,
  strewAlong,
  stripAt,
  titleOf,
} from '../../../laying/index.ts';
import type { PanelFile, Transaction } from '../../../panel/index.ts';
import type { Millimetre, Spot } from '../../../units/index.ts';
import { layWords } from '../../words/lay.ts';
import type { Answer, Deed, Tool, ToolContext, WhyNot } from './types.ts';

export type PutState = { readonly is: 'idle' } | { readonly is: 'held'; readonly from: Spot; readonly to: Spot };

const IDLE: PutState = { is: 'idle' };
const NO_GHOST: Deed = { do: 'ghost', path: [], drawn: null };

interface Put {
  /** The edit for a press, or for a drag from one spot to another; null where nothing can be put there. */
  edit(panel: PanelFile, from: Spot, to: Spot, dragged: boolean): Transaction | null;
  /** Said where nothing can be put there. */
  readonly why?: WhyNot;
  /** What is drawn while the hand holds. */
  ghost(from: Spot, to: Spot): readonly Spot[];
}

function putTool({ edit, ghost, why }: Put): Tool<PutState> {
  return {
    start: IDLE,
    on(state, event, context): Answer<PutState> {
      switch (event.kind) {
        case 'down': {
          const drawn = context.snap(event.at, { without: [], free: event.free });
          return { state: { is: 'held', from: drawn.at, to: drawn.at }, deeds: [{ do: 'ghost', path: [], drawn }] };
        }
        case 'move': {
          const drawn = context.snap(event.at, { without: [], free: event.free });
          if (state.is === 'idle') return { state, deeds: [{ do: 'ghost', path: [], drawn }] };
          return {
            state: { ...state, to: drawn.at },
            deeds: [{ do: 'ghost', path: ghost(state.from, drawn.at), drawn }],
          };
        }
        case 'up':
          return state.is === 'idle' ? { state, deeds: [] } : put(state, context);
        case 'cancel':
          return { state: IDLE, deeds: [NO_GHOST] };
        default:
          return { state, deeds: [] };
      }
    },
  };

  function put({ from, to }: Extract<PutState, { is: 'held' }>, { panel, still }: ToolContext): Answer<PutState> {
    const dragged = Math.hypot(to[0] - from[0], to[1] - from[1]) >= still;
    const made = edit(panel, from, to, dragged);
    const refused: readonly Deed[] = why === undefined ? [] : [{ do: 'refuse', why }];
    const deeds: readonly Deed[] = made === null ? refused : [{ do: 'edit', edit: made, subject: '', pick: 'laid' }];
    return { state: IDLE, deeds: [...deeds, NO_GHOST] };
  }
}

const nothing = (): readonly Spot[] => [];
const line = (from: Spot, to: Spot): readonly Spot[] => [from, to];
const oblong = (a: Spot, b: Spot): readonly Spot[] => [a, [b[0], a[1]], b, [a[0], b[1]], a];

/** A platform that a press puts: as long as two carriages' names are wide. */
const PLATFORM: readonly [Millimetre, Millimetre] = [90, 14];

export const platformTool = putTool({
  edit: (panel, from, to, dragged) =>
    putPlatform(panel, from, dragged ? to : [from[0] + PLATFORM[0], from[1] + PLATFORM[1]]),
  ghost: oblong,
});

/** The end or the road that the hand presses becomes a place; its name is typed beside it. */
export const placeTool = putTool({
  edit: (panel, from) => namePlace(panel, from, {}),
  ghost: nothing,
  why: 'no place',
});

/** The first plate says the panel's name, where it has one; what others say is typed beside them. */
export const plateTool = putTool({
  edit: (panel, from) => {
    const name = (panel.name ?? '').trim();
    return putPlate(panel, from, name === '' || titleOf(panel) !== null ? layWords.plateText : name.toUpperCase());
  },
  ghost: nothing,
});

export const leverTool = putTool({ edit: (panel, from) => putLever(panel, from), ghost: nothing });

export const buttonTool = putTool({ edit: (panel, from) => putButton(panel, from), ghost: nothing });

/** A screw of M3 passes with a little play: common practice, no source. */
const FIXING_DRILL: Millimetre = 3.2;

export const fixingTool = putTool({ edit: (panel, from) => putFixing(panel, from, FIXING_DRILL), ghost: nothing });

/** A press keeps so much clear around it: about what a batten takes. */
const CLEAR: Millimetre = 20;

export const keepOutTool = putTool({
  edit: (panel, from, to, dragged) =>
    dragged
      ? putKeepOut(panel, from, to)
      : putKeepOut(panel, [from[0] - CLEAR / 2, from[1] - CLEAR / 2], [from[0] + CLEAR / 2, from[1] + CLEAR / 2]),
  ghost: oblong,
});

/** Lamps that a drag strews are so far apart at least: a 3 mm lamp every 24 mm is told from its neighbours. */
const LAMPS_APART: Millimetre = 24;

/** A press puts one lamp; a drag along a strip strews them from where it began to where it ends. */
export const lampTool = putTool({
  edit: (panel, from, to, dragged) => {
    const strip = dragged ? stripAt(panel, from, ON_STRIP) : null;
    if (strip == null) return putLamp(panel, from);
    const far = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const count = Math.max(2, Math.floor(far / LAMPS_APART) + 1);
    return strewAlong(panel, { strip: strip.strip.id, from, to }, { count });
  },
  ghost: line,
});

/** So near to a strip's middle a drag of lamps begins on it. */
const ON_STRIP: Millimetre = 4;

/** Measures from where the hand presses to where it lets go; nothing is laid. */
export const measureTool: Tool<PutState> = {
  start: IDLE,
  on(state, event, context) {
    if (event.kind === 'cancel') return { state: IDLE, deeds: [NO_GHOST] };
    if (event.kind === 'typed' || event.kind === 'enter') return { state, deeds: [] };
    const drawn = context.snap(event.at, { without: [], free: event.free });
    if (event.kind === 'down')
      return { state: { is: 'held', from: drawn.at, to: drawn.at }, deeds: [{ do: 'ghost', path: [], drawn }] };
    if (state.is === 'idle') return { state, deeds: [{ do: 'ghost', path: [], drawn }] };
    const path = [state.from, drawn.at];
    // What was measured stands until the next press.
    return {
      state: event.kind === 'up' ? IDLE : { ...state, to: drawn.at },
      deeds: [{ do: 'ghost', path, drawn: event.kind === 'up' ? null : drawn }],
    };
  },
};
