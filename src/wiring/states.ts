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
import { askedTo, type Positions } from './positions.ts';
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
  const { twins } = partsOf(wiring);
  const decide = [...circuit.levers, ...circuit.follows.flatMap((id) => carriers.get(id)?.lever ?? [])];
  return [...new Set(decide.flatMap((lever) => [lever, ...(twins.has(lever) ? [twins.get(lever) ?? lever] : [])]))];
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
  const deciders = decidersOf(wiring, circuit);
  const levers = deciders.map((id) => ({ id, positions: positionsOfLever(wiring, id) }));
  const choices = choicesOf(wiring, deciders);
  // Points whose lie is history: of carriers that no lever decides.
  const free = circuit.follows.flatMap((id): string[] => {
    const carrier = carriers.get(id);
    return carrier?.lever === null && carrier.points[0] !== undefined ? [carrier.points[0].point] : [];
  });
  const count = choices.reduce((product, each) => product * each.length, 2 ** free.length);
  if (count <= STATES_ALL) {
    let states: State[] = [{ levers: {}, history: {} }];
    for (const each of choices)
      states = states.flatMap((state) => each.map((chosen) => ({ ...state, levers: { ...state.levers, ...chosen } })));
    for (const point of free)
      states = states.flatMap((state) =>
        LIES.map((lie) => ({ ...state, history: { ...state.history, [point]: lie } })),
      );
    return states;
  }
  const found = new Map<string, State>();
  const add = (cube: ReadonlyMap<string, Lie>, rest: Lie): void => {
    const state = stateOf(wiring, deciders, free, cube, rest, carriers);
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
      const state = stateOf(wiring, deciders, free, new Map(), 'normal', carriers);
      found.set(`${id} centre`, { ...state, levers: { ...state.levers, [id]: 'centre' } });
    }
  return [...found.values()];
}

const LIES: readonly Lie[] = ['normal', 'reverse'];

/** What can be chosen of each lever alone; a twin that springs back is thrown, or the lever beside it is. */
function choicesOf(wiring: Wiring, deciders: readonly string[]): readonly (readonly Positions[])[] {
  const { sprung, twins, twinOf } = partsOf(wiring);
  return deciders.flatMap((id): readonly (readonly Positions[])[] => {
    if (twinOf.has(id) && sprung.has(id)) return [];
    const twin = twins.get(id);
    if (twin === undefined || !sprung.has(twin))
      return [positionsOfLever(wiring, id).map((position) => ({ [id]: position }))];
    const here = LIES.map((lie): Positions => ({ [id]: lie, [twin]: 'centre' }));
    return [[...here, ...LIES.map((lie): Positions => ({ [id]: 'centre', [twin]: lie }))]];
  });
}

/** What lights each lamp of a circuit that contacts light, by carrier. */
function cubesOf(wiring: Wiring, circuit: Circuit): readonly ReadonlyMap<string, Lie>[] {
  return wiring.lamps.flatMap(({ circuit: own, cube }) =>
    own === circuit.id && cube !== null ? [new Map(Object.entries(cube))] : [],
  );
}

/** Levers and histories with some carriers lying so and all else at rest. */
function stateOf(
  wiring: Wiring,
  levers: readonly string[],
  free: readonly string[],
  cube: ReadonlyMap<string, Lie>,
  rest: Lie,
  carriers: ReadonlyMap<string, Carrier>,
): State {
  const { sprung, twinOf } = partsOf(wiring);
  let positions: Positions = Object.fromEntries(
    levers.map((id) => [id, twinOf.has(id) && sprung.has(id) ? 'centre' : rest]),
  );
  const history: Record<string, Lie> = Object.fromEntries(free.map((point) => [point, rest]));
  for (const [id, lie] of cube) {
    const carrier = carriers.get(id);
    if (carrier === undefined) positions = { ...positions, [id]: lie };
    else if (carrier.lever !== null)
      positions = askedTo(wiring, positions, carrier.lever, carrier.whenNormal === lie ? 'normal' : 'reverse');
    else {
      const [first] = carrier.points;
      if (first !== undefined) history[first.point] = first.whenNormal === lie ? 'normal' : 'reverse';
    }
  }
  return { levers: positions, history };
}
