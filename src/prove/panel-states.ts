/** The settings in which each circuit is tried: positions of its lever, presses of its buttons, or what closes the contacts of its lamps. */
import type { Lie, Lies } from '../panel/index.ts';
import {
  type Circuit,
  carrierLies,
  carriersOf,
  type Fault,
  otherLie,
  type Position,
  type Reading,
  type Wiring,
} from '../wiring/index.ts';
import type { ContactPins } from './at-pins.ts';

/** One setting of a circuit. */
export interface PanelState {
  /** Ends the id of a test: "L4:normal", "B1.1:reverse", "TR1:D1=normal,L2=reverse". */
  readonly name: string;
  readonly circuit: Circuit;
  /** Its own lever; null where it has none. */
  readonly lever: string | null;
  /** How that lies; null where it has none. */
  readonly position: Position | null;
  /** The pole of a button that is pressed; null where none is. */
  readonly button: { readonly id: string; readonly a: string; readonly b: string; readonly lie: Lie } | null;
  readonly levers: Readonly<Record<string, Position>>;
  /** Points that no lever works. */
  readonly history: Lies;
}

export type Operate = (
  levers: Readonly<Record<string, Position>>,
  faults?: readonly Fault[],
  history?: Lies,
) => Reading;

/** In the order of positions; of poles of buttons; of lamps. */
export function statesOfCircuit(wiring: Wiring, circuit: Circuit): readonly PanelState[] {
  const own = { circuit, lever: null, position: null, button: null, levers: {}, history: {} };
  if (circuit.positions.length > 0)
    return circuit.positions.map((position) => ({
      ...own,
      name: `${circuit.id}:${position}`,
      lever: circuit.id,
      position,
      levers: { [circuit.id]: position },
    }));
  const buttons = wiring.buttons.filter((each) => each.circuit === circuit.id).flatMap(({ poles }) => poles);
  if (buttons.length > 0)
    return buttons.map((pole) => {
      const drive = wiring.drives.find(({ points }) => points.includes(pole.point));
      const history = (drive?.asks ?? []).map(
        ({ point, goes }) => [point, pole.lie === 'normal' ? goes : otherLie(goes)] as const,
      );
      return { ...own, name: `${pole.id}:${pole.lie}`, button: pole, history: Object.fromEntries(history) };
    });
  return cubesOf(wiring, circuit).map((cube) => {
    const [only, more] = Object.entries(cube);
    const name =
      only !== undefined && more === undefined && carriersOfCircuit(circuit) === 1
        ? only[1]
        : Object.entries(cube)
            .map(([id, lie]) => `${id}=${lie}`)
            .join(',');
    return { ...own, name: `${circuit.id}:${name}`, ...settingOf(wiring, cube) };
  });
}

function carriersOfCircuit(circuit: Circuit): number {
  return new Set([...circuit.levers, ...circuit.follows]).size;
}

/** What lights each lamp of a circuit, each once, in the order of the lamps. */
function cubesOf(wiring: Wiring, circuit: Circuit): readonly Lies[] {
  const found = new Map<string, Lies>();
  for (const { circuit: id, cube } of wiring.lamps)
    if (id === circuit.id && cube !== null) found.set(JSON.stringify(Object.entries(cube).sort()), cube);
  return [...found.values()];
}

/** Levers and points that make carriers lie so. */
function settingOf(wiring: Wiring, cube: Lies): Pick<PanelState, 'levers' | 'history'> {
  const carriers = carriersOf(wiring);
  const levers: Record<string, Position> = {};
  const history: Record<string, Lie> = {};
  for (const [id, lie] of Object.entries(cube)) {
    const carrier = carriers.get(id);
    if (carrier === undefined) levers[id] = lie;
    else if (carrier.lever !== null) levers[carrier.lever] = lie === carrier.whenNormal ? 'normal' : 'reverse';
    else
      for (const { point, whenNormal } of carrier.points)
        history[point] = lie === 'normal' ? whenNormal : otherLie(whenNormal);
  }
  return { levers, history };
}

/** What to do to bring it about, panel and layout together or the panel alone. */
export function setWords({ lever, position, button, levers, history }: PanelState, sprung: boolean): string {
  if (lever !== null && position !== null) {
    if (sprung) return `Hold lever ${lever} over to ${position} for a moment and let it go, all others normal`;
    return `Throw lever ${lever} to ${position === 'centre' ? 'its middle' : position}, all others normal`;
  }
  if (button !== null) return `Press button ${button.id} for a moment and let it go, all levers normal`;
  const thrown = Object.entries(levers).map(([id, lie]) => `lever ${id} to ${lie}`);
  const moved = Object.entries(history).map(([point, lie]) => `${point} to ${lie}`);
  const levered = thrown.length === 0 ? 'all levers normal' : `throw ${thrown.join(' and ')}, all others normal`;
  const words = moved.length === 0 ? levered : `set ${moved.join(' and ')}, ${levered}`;
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** On a test plug: which pins stand in for contacts under the layout in this setting; empty where it has none. */
export function linkWords(
  wiring: Wiring,
  contacts: readonly ContactPins[],
  { circuit, levers, history }: PanelState,
): string {
  const lies = carrierLies(wiring, levers, history);
  const links = contacts.flatMap(({ contact, common, normal, reverse }) => {
    if (contact.circuit !== circuit.id) return [];
    const throwTo = (lies[contact.carrier.id] ?? 'normal') === 'normal' ? normal : reverse;
    return throwTo === null ? [] : [`${common} to ${throwTo} (${contact.id})`];
  });
  return links.length === 0 ? '' : ` On the test plug join ${links.join(', ')}, and no other pins of contacts.`;
}
