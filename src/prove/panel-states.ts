/** The settings in which each circuit is tried: positions of its lever, presses of its buttons, or what closes the contacts of its lamps. */
import type { Lie, Lies } from '../panel/index.ts';
import {
  askIn,
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
  /** What that asks, a switch on another panel with it: how it would lie alone; null where it has none. */
  readonly position: Position | null;
  /** How it lies itself, and the switch on another panel that works the same; null where it has none. */
  readonly stands: Position | null;
  readonly twin: Position | null;
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
  const own = {
    circuit,
    lever: null,
    position: null,
    stands: null,
    twin: null,
    button: null,
    levers: {},
    history: {},
  };
  if (circuit.positions.length > 0) return [...leverStates(circuit), ...twinStates(wiring, circuit)];
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

/** Each position of its own lever; a switch on another panel that stays lies normal, one that springs back is let go. */
function leverStates(circuit: Circuit): readonly PanelState[] {
  const { id } = circuit;
  return circuit.positions.map((position) => ({
    name: `${id}:${position}`,
    circuit,
    lever: id,
    position,
    stands: position,
    twin: null,
    button: null,
    levers: { [id]: position },
    history: {},
  }));
}

/** Each of them again with the switch of the other panel reverse; of two that spring back the throws of the other alone. */
function twinStates(wiring: Wiring, circuit: Circuit): readonly PanelState[] {
  const own = wiring.switches.find(({ twinOf }) => twinOf === circuit.id);
  if (own === undefined) return [];
  const { id, part } = own;
  const lies: readonly Position[] = ['normal', 'reverse'];
  const settings = part.sprung
    ? lies.map((twin) => ({ stands: 'centre' as const, twin, name: `${id}:${twin}` }))
    : circuit.positions.map((stands) => ({
        stands,
        twin: 'reverse' as const,
        name: `${circuit.id}:${stands},${id}=reverse`,
      }));
  return settings.map(({ stands, twin, name }) => {
    const levers = { [circuit.id]: stands, [id]: twin };
    const position = askIn(wiring, levers, circuit.id);
    return { name, circuit, lever: circuit.id, position, stands, twin, button: null, levers, history: {} };
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
export function setWords({ lever, stands, twin, button, levers, history }: PanelState, sprung: boolean): string {
  if (lever !== null && stands !== null) {
    const there = `the lever on the other panel that works ${lever}`;
    if (sprung && twin !== null) return `Hold ${there} over to ${twin} for a moment and let it go, all others normal`;
    if (sprung) return `Hold lever ${lever} over to ${stands} for a moment and let it go, all others normal`;
    const too = twin === null ? '' : `, ${there} to ${twin}`;
    return `Throw lever ${lever} to ${stands === 'centre' ? 'its middle' : stands}${too}, all others normal`;
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
