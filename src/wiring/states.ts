/**
 * The states of a circuit: positions of the levers that decide its contacts, and lies of what no lever decides. All of them while they are
 * few. Of many, those that matter to its lamps: a lamp behind contacts feels only those on its own way, so each lamp is tried where its
 * way is closed and where it is open at one contact, all else normal and all else reverse.
 */
import type { Carrier } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import { carriersOf } from './carrier-lies.ts';
import { partsOf } from './circuit-parts.ts';
import { otherLie } from './drives.ts';
import type { Positions } from './positions.ts';
import { STATES_ALL } from './tolerances.ts';
import type { Circuit, Position, Wiring } from './types.ts';

/** One state: positions of levers, and lies of points that no lever works. */
export interface State {
  readonly levers: Positions;
  readonly history: Lies;
}

/** Levers whose position decides what stands in a circuit: by their poles, or by the drives that they ask. */
export function decidersOf(wiring: Wiring, circuit: Circuit): readonly string[] {
  const carriers = carriersOf(wiring);
  return [...new Set([...circuit.levers, ...circuit.follows.flatMap((id) => carriers.get(id)?.lever ?? [])])];
}

const STATES = new WeakMap<Wiring, Map<string, readonly State[]>>();

/** The states of a circuit, in a stated order: levers as the circuit lists them, normal before reverse before the middle. */
export function statesOf(wiring: Wiring, circuit: Circuit): readonly State[] {
  const known = STATES.get(wiring) ?? new Map<string, readonly State[]>();
  STATES.set(wiring, known);
  const before = known.get(circuit.id);
  if (before !== undefined) return before;
  const found = listStates(wiring, circuit);
  known.set(circuit.id, found);
  return found;
}

/** Positions that a lever can have, as its own circuit or its switch says. */
export function positionsOfLever(wiring: Wiring, lever: string): readonly Position[] {
  const part = partsOf(wiring).parts.get(lever);
  return part?.centreOff === true && !part.sprung ? ['normal', 'reverse', 'centre'] : ['normal', 'reverse'];
}

function listStates(wiring: Wiring, circuit: Circuit): readonly State[] {
  const carriers = carriersOf(wiring);
  const levers = decidersOf(wiring, circuit).map((id) => ({ id, positions: positionsOfLever(wiring, id) }));
  // Points whose lie is history: of carriers that no lever decides.
  const free = circuit.follows.flatMap((id): string[] => {
    const carrier = carriers.get(id);
    return carrier?.lever === null && carrier.points[0] !== undefined ? [carrier.points[0].point] : [];
  });
  const count = levers.reduce((product, { positions }) => product * positions.length, 2 ** free.length);
  if (count <= STATES_ALL) {
    let states: State[] = [{ levers: {}, history: {} }];
    for (const { id, positions } of levers)
      states = states.flatMap((state) =>
        positions.map((position) => ({ ...state, levers: { ...state.levers, [id]: position } })),
      );
    for (const point of free)
      states = states.flatMap((state) =>
        LIES.map((lie) => ({ ...state, history: { ...state.history, [point]: lie } })),
      );
    return states;
  }
  const found = new Map<string, State>();
  const add = (cube: ReadonlyMap<string, Lie>, rest: Lie): void => {
    const state = stateOf(
      levers.map(({ id }) => id),
      free,
      cube,
      rest,
      carriers,
    );
    found.set(JSON.stringify(state), state);
  };
  for (const rest of LIES) add(new Map(), rest);
  for (const cube of cubesOf(wiring, circuit))
    for (const rest of LIES) {
      add(cube, rest);
      for (const [carrier, lie] of cube) add(new Map([...cube, [carrier, otherLie(lie)]]), rest);
    }
  for (const { id, positions } of levers)
    if (positions.includes('centre')) {
      const state = stateOf(
        levers.map((each) => each.id),
        free,
        new Map(),
        'normal',
        carriers,
      );
      found.set(`${id} centre`, { ...state, levers: { ...state.levers, [id]: 'centre' } });
    }
  return [...found.values()];
}

const LIES: readonly Lie[] = ['normal', 'reverse'];

/** What lights each lamp of a circuit that contacts light, by carrier. */
function cubesOf(wiring: Wiring, circuit: Circuit): readonly ReadonlyMap<string, Lie>[] {
  return wiring.lamps.flatMap(({ circuit: own, cube }) =>
    own === circuit.id && cube !== null ? [new Map(Object.entries(cube))] : [],
  );
}

/** Levers and histories with some carriers lying so and all else at rest. */
function stateOf(
  levers: readonly string[],
  free: readonly string[],
  cube: ReadonlyMap<string, Lie>,
  rest: Lie,
  carriers: ReadonlyMap<string, Carrier>,
): State {
  const positions: Record<string, Position> = Object.fromEntries(levers.map((id) => [id, rest]));
  const history: Record<string, Lie> = Object.fromEntries(free.map((point) => [point, rest]));
  for (const [id, lie] of cube) {
    const carrier = carriers.get(id);
    if (carrier === undefined) positions[id] = lie;
    else if (carrier.lever !== null) positions[carrier.lever] = carrier.whenNormal === lie ? 'normal' : 'reverse';
    else {
      const [first] = carrier.points;
      if (first !== undefined) history[first.point] = first.whenNormal === lie ? 'normal' : 'reverse';
    }
  }
  return { levers: positions, history };
}
