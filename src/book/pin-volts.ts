/** What a pin holds in each setting of what decides its circuit: for the list of pins and the pages of connectors. */
import type { Derived } from '../derive.ts';
import type { Lies } from '../panel/index.ts';
import type { Volt } from '../units/index.ts';
import { type Pin, type Position, statesOf } from '../wiring/index.ts';

export interface PinSetting {
  /** `normal`, `reverse`, `centre` of its own lever; `L1=normal P2=reverse` where others decide it; `any` where nothing does. */
  readonly setting: string;
  readonly levers: Readonly<Record<string, Position>>;
  readonly history: Lies;
}

/** Of more settings than these two stand for all: everything normal, everything reverse. */
const MOST_SETTINGS = 16;

/** The settings of a pin's circuit, in order; all other levers lie normal. */
export function settingsOfPin(derived: Derived, pin: Pin): readonly PinSetting[] {
  const { wiring } = derived;
  const any: PinSetting = { setting: 'any', levers: {}, history: {} };
  const circuit = wiring.circuits.find((each) => each.id === pin.circuit);
  if (circuit === undefined) return [any];
  if (circuit.positions.length > 0)
    return circuit.positions.map((position) => ({
      setting: position,
      levers: { [circuit.id]: position },
      history: {},
    }));
  const states = statesOf(wiring, circuit);
  const shown = states.length > MOST_SETTINGS ? states.slice(0, 2) : states;
  return shown.map(({ levers, history }) => {
    const said = Object.entries({ ...levers, ...history }).map(([id, lie]) => `${id}=${lie}`);
    return said.length === 0 ? any : { setting: said.join(' '), levers, history };
  });
}

/** Volts at the pin with the levers so; null where it is open. A return is read where any of its ways ends: they are linked. */
export function pinVolts(derived: Derived, pin: Pin, { levers, history }: PinSetting): Volt | null {
  const { nodes } = derived.operate(levers, [], history);
  const back = derived.wiring.returns.find((each) => each.pins.includes(pin.id))?.terminals ?? [];
  const ofCircuit = nodes.filter((node) => node.circuit === pin.circuit);
  for (const [list, name] of [
    [ofCircuit, pin.id],
    [ofCircuit, pin.net],
    [nodes, pin.id],
    [nodes, pin.to],
    ...back.map((terminal) => [nodes, terminal] as const),
  ] as const) {
    const found = list.find((node) => node.node === name);
    if (found !== undefined) return found.volts;
  }
  return null;
}
