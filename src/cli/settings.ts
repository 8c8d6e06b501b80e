import type { Derived, LeverPositions } from '../derive.ts';
import type { Lie, Lies } from '../panel/index.ts';
import type { WantedTrain } from '../routes/index.ts';
import { type Fault, faultByCode, faultsOf, type Position, standsIn } from '../wiring/index.ts';
import { Refusal } from './refusal.ts';

/** Ids that a message names before it says how many more there are. */
const NAMED = 12;

/** "L1, L2, L3", cut after a dozen. */
export function listed(ids: readonly string[]): string {
  if (ids.length === 0) return 'none';
  const more = ids.length - NAMED;
  return more > 0 ? `${ids.slice(0, NAMED).join(', ')} and ${more} more` : ids.join(', ');
}

/** "L1=reverse,L2=centre" as pairs; each name once. */
function pairs(
  option: string,
  text: string,
  form = 'ID=POSITION',
): readonly (readonly [name: string, value: string])[] {
  const seen = new Set<string>();
  return text
    .split(',')
    .map((item) => item.trim())
    .filter((item) => item !== '')
    .map((item) => {
      const [name = '', value = '', ...rest] = item.split('=').map((side) => side.trim());
      if (name === '' || value === '' || rest.length > 0)
        throw new Refusal(`${option}: "${item}" is not of the form ${form}.`);
      if (seen.has(name)) throw new Refusal(`${option}: ${name} is named twice.`);
      seen.add(name);
      return [name, value] as const;
    });
}

/** Positions that a lever's switch has; a lever without a circuit, and one on another panel, has two. */
const positionsOf = (derived: Derived, lever: string): readonly Position[] =>
  derived.wiring.circuits.find((circuit) => circuit.id === lever)?.positions ?? ['normal', 'reverse'];

/**
 * The setting that `--set` asks for, every lever named in the order of the panel, each with its twin on another panel behind it; unnamed
 * levers lie normal. Of two that stand side by side and spring back one was thrown last: the other stands in its middle.
 */
export function readSetting(text: string | null, derived: Derived): LeverPositions {
  const asked = new Map(pairs('--set', text ?? ''));
  const twins = new Map(
    derived.wiring.switches.flatMap((each) => (each.twinOf === undefined ? [] : [[each.twinOf, each] as const])),
  );
  const levers = derived.plan.levers.flatMap(({ id }) => [id, ...(twins.has(id) ? [twins.get(id)?.id ?? id] : [])]);
  for (const [lever, { id, part }] of twins)
    if (part.sprung && asked.has(lever) && asked.has(id))
      throw new Refusal(`--set: ${lever} and ${id} spring back; name the one that was thrown last.`);
  for (const [name, value] of asked) {
    if (!levers.includes(name))
      throw new Refusal(`--set: there is no lever ${name}; the levers are ${listed(levers)}.`);
    const positions = positionsOf(derived, name);
    if (value === 'centre' && !positions.includes('centre')) {
      throw new Refusal(`--set: lever ${name} has no centre; it has ${positions.join(' and ')}.`);
    }
    if (!positions.some((position) => position === value)) {
      throw new Refusal(`--set: lever ${name} has no position "${value}"; it has ${positions.join(', ')}.`);
    }
  }
  const named: LeverPositions = Object.fromEntries(
    levers.flatMap((lever) => {
      const position = positionsOf(derived, lever).find((each) => each === asked.get(lever));
      return position === undefined ? [] : [[lever, position]];
    }),
  );
  return Object.fromEntries(levers.map((lever) => [lever, standsIn(derived.wiring, named, lever, true)]));
}

/** How the points lie that nothing asks about, as `--lies` says; by id in the order of the plan. */
export function readHistory(text: string | null, derived: Derived): Lies {
  const asked = new Map(pairs('--lies', text ?? ''));
  const points = derived.plan.points.map((point) => point.id);
  for (const [name, value] of asked) {
    if (!points.includes(name))
      throw new Refusal(`--lies: there is no point ${name}; the points are ${listed(points)}.`);
    if (value !== 'normal' && value !== 'reverse')
      throw new Refusal(`--lies: point ${name} lies normal or reverse, not "${value}".`);
  }
  const lies: (readonly [string, Lie])[] = [];
  for (const point of points) {
    const lie = asked.get(point);
    if (lie === 'normal' || lie === 'reverse') lies.push([point, lie]);
  }
  return Object.fromEntries(lies);
}

/** What `--fault` says is broken: codes parted by spaces, each once, in their order. */
export function readFaults(text: string | null, derived: Derived): readonly Fault[] {
  const codes = (text ?? '').split(/\s+/).filter((code) => code !== '');
  if (text !== null && codes.length === 0) throw new Refusal('--fault: no code is given; write one as open:W12.');
  const faults = new Map<string, Fault>();
  for (const code of codes) {
    const fault = faultByCode(derived.wiring, code);
    if (fault === null)
      throw new Refusal(`--fault: nothing on this panel can fail as ${code}; ${nearFaults(code, derived)}.`);
    faults.set(fault.code, fault);
  }
  return [...faults.values()];
}

/** What a code that names nothing may have meant: all that can happen to its part, or the parts that can fail so. */
function nearFaults(code: string, derived: Derived): string {
  const codes = faultsOf(derived.wiring).map((fault) => fault.code);
  const [kind = '', part = ''] = code.split(/:(.*)/s);
  const name = part.split(/[=,]/)[0] ?? '';
  const ofPart = codes.filter((each) => name !== '' && (each.split(/:(.*)/s)[1] ?? '').split(/[=,]/).includes(name));
  if (ofPart.length > 0) return `${name} can fail as ${listed(ofPart)}`;
  const ofKind = codes.filter((each) => each.startsWith(`${kind}:`));
  if (ofKind.length > 0) return `${kind} can happen as ${listed(ofKind)}`;
  return `the kinds are ${[...new Set(codes.map((each) => each.split(':')[0] ?? ''))].join(', ')}`;
}

/** The id of the place that goes by this id or name (capitals do not matter in a name). */
export function findPlace(option: string, text: string, derived: Derived): string {
  const { places } = derived.plan;
  const byId = places.find((place) => place.id === text);
  if (byId !== undefined) return byId.id;
  const named = places.filter((place) => place.name?.toLowerCase() === text.toLowerCase());
  const [only] = named;
  if (only === undefined) {
    throw new Refusal(
      `${option}: there is no place ${text}; the places are ${listed(places.map((place) => place.id))}.`,
    );
  }
  if (named.length > 1) {
    throw new Refusal(
      `${option}: ${named.length} places are named ${text}; say which by id: ${listed(named.map((place) => place.id))}.`,
    );
  }
  return only.id;
}

/** Where trains are wanted, as `--stand` says: "T1=Yard 2,T2=Loop/West". A train goes by its id or its name, like a place. */
export function readStand(text: string, derived: Derived): readonly WantedTrain[] {
  const wanted = pairs('--stand', text, 'TRAIN=PLACE').map(([name, value]) => {
    const train = findTrain(name, derived);
    const cut = value.lastIndexOf('/');
    // A name may have a stroke in it.
    if (cut < 0 || isPlace(value, derived)) return { train, place: findPlace('--stand', value, derived) };
    const [place, heads] = [value.slice(0, cut).trim(), value.slice(cut + 1).trim()];
    return { train, place: findPlace('--stand', place, derived), heads: findPlace('--stand', heads, derived) };
  });
  if (wanted.length === 0) throw new Refusal('--stand: name a train and a place, as T1=Loop.');
  const twice = wanted.find(({ train }, i) => wanted.findIndex((each) => each.train === train) < i);
  if (twice !== undefined) throw new Refusal(`--stand: ${twice.train} is named twice.`);
  return wanted;
}

const isPlace = (text: string, { plan }: Derived): boolean =>
  plan.places.some(({ id, name }) => id === text || name?.toLowerCase() === text.toLowerCase());

function findTrain(text: string, { trains }: Derived): string {
  const byId = trains.find(({ id }) => id === text);
  if (byId !== undefined) return byId.id;
  const named = trains.filter(({ name }) => name?.toLowerCase() === text.toLowerCase());
  const [only] = named;
  if (only === undefined) {
    throw new Refusal(
      `--stand: no train ${text} stands on the plan; the trains are ${listed(trains.map(({ id }) => id))}.`,
    );
  }
  if (named.length > 1) {
    throw new Refusal(
      `--stand: ${named.length} trains are named ${text}; say which by id: ${listed(named.map(({ id }) => id))}.`,
    );
  }
  return only.id;
}

/** How points lie with levers so; those of a lever at centre, and those that no lever works, as `history` says, else normal. */
export function liesOf(derived: Derived, levers: LeverPositions, history: Lies): Lies {
  const lies = new Map<string, Lie>(derived.plan.points.map(({ id }) => [id, history[id] ?? 'normal']));
  const worked = new Set<string>();
  for (const { id, works } of derived.plan.levers) {
    const position = levers[id] ?? 'normal';
    for (const { point, whenNormal } of works) {
      if (worked.has(point)) continue;
      worked.add(point);
      if (position === 'normal') lies.set(point, whenNormal);
      else if (position === 'reverse') lies.set(point, whenNormal === 'normal' ? 'reverse' : 'normal');
    }
  }
  return Object.fromEntries(lies);
}
