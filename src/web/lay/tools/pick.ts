/**
 * The tool that picks and moves: a press picks, a drag moves what is picked, a drag from bare sheet draws an oblong around what shall be
 * picked. The corner of a picked strip is moved by itself.
 */
import { moveCorner, moveThings, NOUNS, type Picked } from '../../../laying/index.ts';
import type { Spot } from '../../../units/index.ts';
import type { Answer, Deed, Tool, ToolContext, ToolEvent } from './types.ts';

export type PickState =
  | { readonly is: 'idle' }
  /** Pressed on a thing, or on bare sheet where `on` is null. */
  | {
      readonly is: 'pressed';
      readonly at: Spot;
      readonly on: Picked | null;
      readonly more: boolean;
      readonly was: boolean;
    }
  | { readonly is: 'moving'; readonly at: Spot; readonly what: readonly Picked[] }
  | { readonly is: 'around'; readonly at: Spot; readonly more: boolean };

const IDLE: PickState = { is: 'idle' };

export const isSame = (a: Picked, b: Picked): boolean => a.list === b.list && a.id === b.id && a.part === b.part;
const holds = (list: readonly Picked[], thing: Picked): boolean => list.some((each) => isSame(each, thing));

export const pickTool: Tool<PickState> = {
  start: IDLE,
  on(state, event, context) {
    switch (event.kind) {
      case 'down':
        return pressed(event, context);
      case 'move':
        return moved(state, event.at, event.free, context);
      case 'up':
        return released(state, event.at, event.free, context);
      case 'cancel': {
        const deeds: Deed[] = state.is === 'moving' ? [{ do: 'abandon' }] : [];
        return { state: IDLE, deeds: [...deeds, NO_GHOST] };
      }
      default:
        return { state, deeds: [] };
    }
  },
};

const NO_GHOST: Deed = { do: 'ghost', path: [], drawn: null };

function pressed(event: Extract<ToolEvent, { kind: 'down' }>, { under, picked }: ToolContext): Answer<PickState> {
  const { at, more, again } = event;
  const there = under(at);
  const [top = null] = there;
  const now = there.findIndex((thing) => holds(picked, thing));
  // A second tap on the spot takes what lies beneath.
  const on =
    again && now >= 0
      ? (there[(now + 1) % there.length] ?? top)
      : now >= 0 && top?.part === undefined
        ? (there[now] ?? top)
        : top;
  if (on === null)
    return { state: { is: 'pressed', at, on, more, was: false }, deeds: more ? [] : [{ do: 'pick', picked: [] }] };
  const was = holds(picked, on);
  const whole: Picked = on.part === undefined ? on : { list: on.list, id: on.id };
  const wanted = more ? (was ? picked.filter((each) => !isSame(each, on)) : [...picked, on]) : [whole];
  const deeds: Deed[] =
    was && !more && !again ? [] : [{ do: 'pick', picked: on.part === undefined || more ? wanted : [whole] }];
  return { state: { is: 'pressed', at, on, more, was }, deeds };
}

function moved(state: PickState, at: Spot, free: boolean, context: ToolContext): Answer<PickState> {
  if (state.is === 'idle') return { state, deeds: [] };
  if (state.is === 'pressed') {
    if (Math.hypot(at[0] - state.at[0], at[1] - state.at[1]) < context.still) return { state, deeds: [] };
    if (state.on === null) return moved({ is: 'around', at: state.at, more: state.more }, at, free, context);
    const corner = state.on.part !== undefined;
    const what = corner ? [state.on] : context.picked.length > 0 ? context.picked : [state.on];
    const next: PickState = { is: 'moving', at: state.at, what };
    const begin: Deed = { do: 'begin', name: corner ? 'strip.corner' : nameOf(what), subject: subjectOf(what) };
    const { state: after, deeds } = moved(next, at, free, context);
    return { state: after, deeds: [begin, ...deeds] };
  }
  if (state.is === 'around') return { state, deeds: [{ do: 'ghost', path: oblong(state.at, at), drawn: null }] };
  return { state, deeds: move(state.at, state.what, at, free, context, true) };
}

/** The move as it stands. While the hand still moves it is a draft: names follow when it lets go. */
function move(
  from: Spot,
  what: readonly Picked[],
  at: Spot,
  free: boolean,
  context: ToolContext,
  draft: boolean,
): readonly Deed[] {
  const [first] = what;
  if (first === undefined) return [];
  if (first.part !== undefined && typeof first.id === 'string') {
    const path = context.panel.strips.find(({ id }) => id === first.id)?.path;
    const [one, two] = [path?.[first.part - 1], path?.[first.part - 2]];
    const [next, afterNext] = [path?.[first.part + 1], path?.[first.part + 2]];
    const [corner, before] = one === undefined ? [next, afterNext] : [one, two];
    const drawn = context.snap(at, {
      ...(corner === undefined ? {} : { from: corner }),
      ...(before === undefined ? {} : { before }),
      without: what,
      free,
    });
    return [
      { do: 'redraw', edit: moveCorner(context.panel, first.id, first.part, drawn.at, { draft }) },
      { do: 'ghost', path: [], drawn },
    ];
  }
  const { by, held } = context.snapMove(what, [at[0] - from[0], at[1] - from[1]], free);
  return [
    { do: 'redraw', edit: moveThings(context.panel, what, by, { draft }) },
    { do: 'ghost', path: [], drawn: held },
  ];
}

function released(state: PickState, at: Spot, free: boolean, context: ToolContext): Answer<PickState> {
  if (state.is === 'moving') {
    const deeds = move(state.at, state.what, at, free, context, false);
    return { state: IDLE, deeds: [...deeds, { do: 'end' }, NO_GHOST] };
  }
  if (state.is === 'around') {
    const found = context.within(state.at, at);
    const picked = state.more ? [...context.picked, ...found.filter((each) => !holds(context.picked, each))] : found;
    return { state: IDLE, deeds: [{ do: 'pick', picked }, NO_GHOST] };
  }
  // A tap on one of several picks it alone.
  if (state.is === 'pressed' && state.on !== null && state.was && !state.more && context.picked.length > 1)
    return { state: IDLE, deeds: [{ do: 'pick', picked: [state.on] }] };
  return { state: IDLE, deeds: [] };
}

function oblong(a: Spot, b: Spot): readonly Spot[] {
  return [a, [b[0], a[1]], b, [a[0], b[1]], a];
}

/** Undo says what kind of thing was moved where all are of one. */
function nameOf(what: readonly Picked[]): string {
  const [first] = what;
  return first !== undefined && what.every(({ list }) => list === first.list)
    ? `${NOUNS[first.list]}.move`
    : 'thing.move';
}

function subjectOf(what: readonly Picked[]): string {
  const [first] = what;
  return what.length === 1 && typeof first?.id === 'string' ? first.id : what.length === 1 ? '' : String(what.length);
}
