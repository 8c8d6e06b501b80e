/**
 * The tool that lays tape: a drag lays a strip from where it begins to where it ends; single presses lay it corner by corner until the last
 * is pressed twice or Enter ends it.
 */
import { layStrip, type Snapped } from '../../../laying/index.ts';
import type { Spot } from '../../../units/index.ts';
import type { Answer, Deed, Tool, ToolContext, ToolEvent } from './types.ts';

export type StripState =
  | { readonly is: 'idle' }
  /** `corners` are laid; `held`: the button is down since the last of them. */
  | {
      readonly is: 'laying';
      readonly corners: readonly Spot[];
      readonly held: boolean;
      readonly moved: boolean;
      readonly end: Spot;
    };

const IDLE: StripState = { is: 'idle' };
const NO_GHOST: Deed = { do: 'ghost', path: [], drawn: null };

export const stripTool: Tool<StripState> = {
  start: IDLE,
  on(state, event, context) {
    switch (event.kind) {
      case 'down':
        return down(state, event, context);
      case 'move': {
        const drawn = snapOf(state, event.at, event.free, context);
        if (state.is === 'idle') return { state, deeds: [{ do: 'ghost', path: [], drawn }] };
        const [last] = state.corners.slice(-1);
        const far = last !== undefined && apart(last, drawn.at) >= context.still;
        const next: StripState = { ...state, end: drawn.at, moved: state.moved || far };
        return { state: next, deeds: [{ do: 'ghost', path: [...state.corners, drawn.at], drawn }] };
      }
      case 'up': {
        if (state.is !== 'laying' || !state.held) return { state, deeds: [] };
        if (!state.moved) return { state: { ...state, held: false }, deeds: [] };
        // One drag is one strip; where corners were pressed before, it goes on.
        if (state.corners.length > 1)
          return { state: { ...state, held: false, corners: [...state.corners, state.end] }, deeds: [] };
        return finish(state.corners, state.end, context);
      }
      case 'typed': {
        if (state.is !== 'laying') return { state, deeds: [] };
        const to = typed(state, event);
        if (to === null) return { state, deeds: [] };
        const corners = [...state.corners, to];
        return {
          state: { ...state, corners, end: to, held: false, moved: false },
          deeds: [{ do: 'ghost', path: corners, drawn: null }],
        };
      }
      case 'enter':
        return state.is === 'laying' ? finish(state.corners, null, context) : { state, deeds: [] };
      case 'cancel':
        return { state: IDLE, deeds: [NO_GHOST] };
    }
  },
};

function down(
  state: StripState,
  event: Extract<ToolEvent, { kind: 'down' }>,
  context: ToolContext,
): Answer<StripState> {
  const drawn = snapOf(state, event.at, event.free, context);
  if (state.is === 'idle')
    return {
      state: { is: 'laying', corners: [drawn.at], held: true, moved: false, end: drawn.at },
      deeds: [{ do: 'ghost', path: [drawn.at], drawn }],
    };
  const [last] = state.corners.slice(-1);
  // Pressed where the last corner is: that is the end.
  if (last !== undefined && (event.again || apart(last, drawn.at) < context.still))
    return finish(state.corners, null, context);
  const corners = [...state.corners, drawn.at];
  return {
    state: { ...state, corners, held: true, moved: false, end: drawn.at },
    deeds: [{ do: 'ghost', path: corners, drawn }],
  };
}

function finish(corners: readonly Spot[], end: Spot | null, { panel }: ToolContext): Answer<StripState> {
  const edit = layStrip(panel, end === null ? corners : [...corners, end]);
  return {
    state: IDLE,
    deeds: edit === null ? [NO_GHOST] : [{ do: 'edit', edit, subject: '', pick: 'laid' }, NO_GHOST],
  };
}

function snapOf(state: StripState, at: Spot, free: boolean, context: ToolContext): Snapped {
  const corners = state.is === 'laying' ? state.corners : [];
  const [from, before] = [corners[corners.length - 1], corners[corners.length - 2]];
  return context.snap(at, {
    ...(from === undefined ? {} : { from }),
    ...(before === undefined ? {} : { before }),
    without: [],
    free,
  });
}

/** The corner that typed figures mean: so far, at such an angle, from the last one; what is not typed stays as the hand has it. */
function typed(
  state: Extract<StripState, { is: 'laying' }>,
  { length, angle }: Extract<ToolEvent, { kind: 'typed' }>,
): Spot | null {
  const [last] = state.corners.slice(-1);
  if (last === undefined) return null;
  const [dx, dy] = [state.end[0] - last[0], state.end[1] - last[1]];
  const far = length ?? Math.hypot(dx, dy);
  // Angles count from straight right, upwards positive, as on paper.
  const way = angle === null ? Math.atan2(dy, dx) : (-angle * Math.PI) / 180;
  if (!(far > 0)) return null;
  return [last[0] + far * Math.cos(way), last[1] + far * Math.sin(way)];
}

const apart = (a: Spot, b: Spot): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
