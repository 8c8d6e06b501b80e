/**
 * The range of every lamp in each position of its own lever, whatever the other levers do.
 *
 * Behind an ideal supply a lever is alone, and one solve tells. Levers that share a weak supply feel each other through its volts
 * alone: each is a load of two terminals, and draws more the more volts there are. So the volts are least when every other lever
 * stands where it draws most at those very volts, and greatest where it draws least. Which position that is may change with the
 * volts (a long string draws nothing at low volts and much at high ones), so it is found by turns: volts for the positions,
 * positions for the volts, until nothing changes. Each turn moves the volts one way, so it ends, and no setting lies beyond it.
 * Within the lever resistors, lamps and diodes stand in series and side by side: every lamp's current grows with the volts.
 */
import { solveDc } from '../circuit/index.ts';
import {
  type Corner,
  drawAt,
  heldVolts,
  islandsOf,
  NOMINAL,
  netlistOf,
  type Position,
  sharedVolts,
  solveIsland,
  type Wiring,
} from '../wiring/index.ts';
import { ALIKE_AMPS } from './tolerances.ts';

/** What a lamp carries in one position of its lever. */
export interface Range {
  readonly low: number;
  readonly high: number;
  /** At nominal figures, the least and the most that the other levers leave it. */
  readonly least: number;
  readonly most: number;
}

type Setting = Readonly<Record<string, Position>>;

/** By lamp, then position. */
export type Ranges = ReadonlyMap<string, ReadonlyMap<Position, Range>>;

/** The same by the circuit that lights each lamp. */
export type RangesByCircuit = ReadonlyMap<string, Ranges>;

/** Of every lamp. `known`: those of circuits that are as they were; what is found now is handed to `keep`. */
export function rangesOf(
  wiring: Wiring,
  known: RangesByCircuit = new Map(),
  keep: (circuit: string, ranges: Ranges) => void = () => {},
): Ranges {
  const ranges = new Map<string, Map<Position, Range>>();
  const positions = new Map(wiring.circuits.map((circuit) => [circuit.id, circuit.positions]));
  for (const island of islandsOf(wiring)) {
    const before = island.map((id) => known.get(id));
    const simple = island.every((id) => isPlain(wiring, id));
    const isKnown = before.every((each) => each !== undefined);
    const extremes =
      isKnown || island.length < 2 ? null : simple ? extremesOf(wiring, island, positions) : endsOf(wiring, island);
    for (const [i, lever] of island.entries()) {
      const own = (isKnown ? before[i] : undefined) ?? rangesIn(lever, island, extremes);
      keep(lever, own);
      for (const [lamp, by] of own) ranges.set(lamp, new Map([...(ranges.get(lamp) ?? []), ...by]));
    }
  }
  return ranges;

  function rangesIn(
    lever: string,
    island: readonly string[],
    extremes: ((lever: string, position: Position) => readonly Setting[]) | null,
  ): Ranges {
    const found = new Map<string, Map<Position, Range>>();
    for (const position of positions.get(lever) ?? []) {
      for (const others of extremes?.(lever, position) ?? [{}]) {
        for (const lamp of solveIsland(wiring, island, { ...others, [lever]: position }, [lever]).lamps) {
          const own = found.get(lamp.id) ?? new Map<Position, Range>();
          found.set(lamp.id, own);
          const been = own.get(position);
          own.set(position, {
            low: Math.min(been?.low ?? lamp.low, lamp.low),
            high: Math.max(been?.high ?? lamp.high, lamp.high),
            least: Math.min(been?.least ?? lamp.amps, lamp.amps),
            most: Math.max(been?.most ?? lamp.amps, lamp.amps),
          });
        }
      }
    }
    return found;
  }
}

/** Is a circuit a lever's own, and decided by nothing else? */
function isPlain(wiring: Wiring, id: string): boolean {
  const circuit = wiring.circuits.find((each) => each.id === id);
  return circuit?.load === true && circuit.follows.length === 0 && circuit.levers.length === 1;
}

/** Where circuits of several levers share a weak supply: every other lever normal, and every other reverse. */
function endsOf(wiring: Wiring, island: readonly string[]): (lever: string, position: Position) => readonly Setting[] {
  const levers = [...new Set(wiring.circuits.filter(({ id }) => island.includes(id)).flatMap((each) => each.levers))];
  return (lever, position) =>
    (['normal', 'reverse'] as const).map((rest) => ({
      ...Object.fromEntries(levers.map((each) => [each, rest])),
      [lever]: position,
    }));
}

/** The corners at which the volts of a weak supply may be least, or most, and what the others then do. */
const ENDS: readonly { readonly corner: Corner; readonly way: 1 | -1 }[] = [
  { corner: NOMINAL, way: 1 },
  { corner: { ...NOMINAL, supply: 'low', lamps: 'high', draw: 'high' }, way: 1 },
  { corner: NOMINAL, way: -1 },
  { corner: { ...NOMINAL, supply: 'high', lamps: 'low', draw: 'low' }, way: -1 },
];

/** Settings of an island, with one lever in one position, among which every lamp of that lever carries its least and its most. */
function extremesOf(
  wiring: Wiring,
  island: readonly string[],
  positions: ReadonlyMap<string, readonly Position[]>,
): (lever: string, position: Position) => readonly Setting[] {
  const circuits = new Set(island);
  const supply = wiring.circuits.find((circuit) => circuits.has(circuit.id))?.supply ?? '';
  const ends = ENDS.map(({ corner, way }) => {
    const all: Setting = Object.fromEntries(island.map((lever) => [lever, positions.get(lever)?.[0] ?? 'normal']));
    const open = best(all, island, openVolts(corner), corner, way);
    const free = settle(open, island, corner, way);
    const volts = voltsOf(free, corner);
    // Levers whose choice is the same from the least volts to the most keep it whatever the lever set apart does.
    const [low, high] = [Math.min(volts, lowest(corner)), openVolts(corner)];
    const samples = [low, (low + high) / 2, high].map((each) => best(free, island, each, corner, way));
    const torn = island.filter((lever) => samples.some((each) => each[lever] !== free[lever]));
    return { corner, way, free, torn };
  });
  return (lever, position) => {
    const found = new Map<string, Setting>();
    for (const { corner, way, free, torn } of ends) {
      const others = torn.filter((each) => each !== lever);
      const setting = settle({ ...free, [lever]: position }, others, corner, way);
      found.set(island.map((each) => setting[each]).join(' '), setting);
    }
    return [...found.values()];
  };

  /** Turn and turn about until the choice of the levers that may choose fits the volts that it makes. */
  function settle(start: Setting, choosing: readonly string[], corner: Corner, way: 1 | -1): Setting {
    let setting = start;
    if (choosing.length === 0) return setting;
    // Each turn moves the volts one way: no more turns than choices, and one to see that nothing changes.
    for (let turn = 0; turn <= 3 * choosing.length; turn++) {
      const next = best(setting, choosing, voltsOf(setting, corner), corner, way);
      if (choosing.every((lever) => next[lever] === setting[lever])) return setting;
      setting = next;
    }
    return setting;
  }

  /** Each lever that may choose where it draws most (way 1) or least (-1) at these volts; where nothing is gained it stays. */
  function best(start: Setting, choosing: readonly string[], volts: number, corner: Corner, way: 1 | -1): Setting {
    const setting: Record<string, Position> = { ...start };
    for (const lever of choosing) {
      let amps = drawOf(lever, setting[lever] ?? 'normal', volts, corner);
      for (const position of positions.get(lever) ?? []) {
        const other = drawOf(lever, position, volts, corner);
        if (way * (other - amps) <= ALIKE_AMPS) continue;
        setting[lever] = position;
        amps = other;
      }
    }
    return setting;
  }

  function lowest(corner: Corner): number {
    const all: Setting = Object.fromEntries(island.map((lever) => [lever, positions.get(lever)?.[0] ?? 'normal']));
    return voltsOf(settle(best(all, island, openVolts(corner), corner, 1), island, corner, 1), corner);
  }

  function openVolts(corner: Corner): number {
    const each = wiring.supplies.find(({ id }) => id === supply);
    if (each === undefined) throw new RangeError(`no supply ${supply} for ${island.join(', ')}`);
    return corner.supply === 'low' ? each.low : corner.supply === 'high' ? each.high : each.volts;
  }

  function voltsOf(setting: Setting, corner: Corner): number {
    const each = wiring.supplies.find(({ id }) => id === supply);
    const quick = each === undefined ? null : sharedVolts(wiring, each, setting, corner);
    if (quick !== null) return quick;
    const held = heldVolts(wiring, setting, corner);
    const { volts } = solveDc(netlistOf(wiring, setting, { circuits, corner, held }));
    return (volts.get(`${supply}.p`) ?? 0) - (volts.get(`${supply}.m`) ?? 0);
  }

  /** What one lever draws at so many volts. */
  function drawOf(lever: string, position: Position, volts: number, corner: Corner): number {
    const quick = drawAt(wiring, lever, position, volts, corner);
    if (quick !== null) return quick;
    const network = netlistOf(wiring, { [lever]: position }, { circuits: new Set([lever]), corner });
    const elements = network.elements.map((each) => (each.kind === 'source' ? { ...each, volts, ohms: 0 } : each));
    return -(solveDc({ ...network, elements }).amps.get(supply) ?? 0);
  }
}
