/**
 * Which pin leads to which drive tag. What is built or the file fixes stays; the rest is allotted lever by lever, a drive's two wires
 * on neighbours in one shell, one pin in eight left spare, connectors filled in the order of the file. Neighbours that follow one
 * another in number are taken first; other neighbours where there are no such left (no two numbers of a DIN plug follow each other).
 */
import { type ConnectorRecord, DEFAULTS, keptFor, nextFreeLetters, type PanelFile } from '../panel/index.ts';
import { type Catalogue, type ConnectorPart, neighbours } from '../parts/index.ts';
import type { Pin, WiredConnector, WiringProblem } from './types.ts';

/** Wires that leave the panel together. */
export interface Bundle {
  readonly circuit: string;
  /** The drive, contact or return that they lead to. */
  readonly names: string;
  /** Where each wire ends under the layout; of a drive first the tag that is plus when the lever is normal. */
  readonly to: readonly string[];
  /** The net of each. */
  readonly net: readonly string[];
}

interface Shell {
  readonly id: string;
  readonly part: ConnectorPart;
  readonly panelHalf: 'plug' | 'socket';
  readonly spare: number;
  readonly recorded: boolean;
  readonly pins: Map<number, Pin>;
}

/** A pin before it is known what it carries. */
interface Place {
  readonly shell: Shell;
  readonly number: number;
}

/** All connectors with their pins by number, and the pins of each bundle by name (or none where too few are left). */
export function allotPins(
  panel: PanelFile,
  catalogue: Catalogue,
  bundles: readonly Bundle[],
  problems: WiringProblem[],
): { readonly connectors: readonly WiredConnector[]; readonly pinsOf: ReadonlyMap<string, readonly Pin[]> } {
  const shells = (panel.connectors ?? []).map(shellOf);
  /** Where the file has no connectors the tool adds what is needed: first those that are built, then more. */
  const mayGrow = shells.length === 0;
  if (mayGrow) shells.push(...builtShells());
  /** Pins that are promised: to a tag that has not been placed yet, or to something that is not there. */
  const promised = new Set<string>();
  const fixed = fixedPins();
  const pinsOf = new Map<string, readonly Pin[]>();
  const lacking: string[] = [];
  for (const bundle of bundles) {
    const places = place(bundle);
    if (places === null) lacking.push(bundle.names);
    else
      pinsOf.set(
        bundle.names,
        places.map((each, i) => take(each, bundle, i)),
      );
  }
  if (lacking.length > 0) {
    const has = shells.reduce((sum, shell) => sum + shell.part.ways, 0);
    const needs = bundles.reduce((sum, bundle) => sum + bundle.to.length, 0);
    problems.push({ code: 'connector-full', needs, has, lacking });
  }
  for (const shell of shells) {
    const free = shell.part.ways - shell.pins.size;
    const wanted = spareOf(shell);
    if (free < wanted) problems.push({ code: 'connector-spare-used', connector: shell.id, free, wanted });
  }
  const alike = new Map<string, string[]>();
  for (const shell of shells) {
    const key = `${shell.part.id} ${shell.panelHalf}`;
    alike.set(key, [...(alike.get(key) ?? []), shell.id]);
  }
  for (const ids of alike.values()) if (ids.length > 1) problems.push({ code: 'connectors-alike', connectors: ids });
  const connectors = shells.map((shell) => ({
    id: shell.id,
    part: shell.part,
    panelHalf: shell.panelHalf,
    spare: shell.spare,
    recorded: shell.recorded,
    pins: [...shell.pins.values()].sort((a, b) => a.number - b.number),
  }));
  return { connectors, pinsOf };

  function shellOf(record: ConnectorRecord): Shell {
    const wanted = record.part ?? DEFAULTS.connector.part;
    const part = catalogue.find('connector', wanted);
    if (part === undefined) problems.push({ code: 'connector-part-unknown', connector: record.id, part: wanted });
    return {
      id: record.id,
      part: part ?? usualPart(catalogue),
      panelHalf: record.panelHalf ?? DEFAULTS.connector.panelHalf,
      spare: record.spare ?? DEFAULTS.connector.spare,
      recorded: true,
      pins: new Map(),
    };
  }

  /** Shells that the built panel has soldered, or wires of the file end at, and the file does not list, in the order of their letters. */
  function builtShells(): readonly Shell[] {
    const pins = [...Object.keys(panel.built?.pins ?? {}), ...wiresOf(panel).flat().filter(isWay)];
    const ids = new Set(pins.map((pin) => splitPin(pin)[0]));
    return [...ids]
      .filter((id) => /^[A-Za-z]+$/.test(id))
      .sort((a, b) => a.length - b.length || (a < b ? -1 : 1))
      .map(usualShell);
  }

  function usualShell(id: string): Shell {
    return {
      id,
      part: usualPart(catalogue),
      panelHalf: DEFAULTS.connector.panelHalf,
      spare: DEFAULTS.connector.spare,
      recorded: false,
      pins: new Map(),
    };
  }

  /** Pins by the tag that they lead to: what is built first, then what connectors, then what wires give to tags and pins still free. */
  function fixedPins(): ReadonlyMap<string, Place> {
    const answer = new Map<string, Place>();
    const tags = new Set(bundles.flatMap((bundle) => bundle.to));
    const byId = new Map(shells.map((shell) => [shell.id, shell]));
    const built = Object.entries(panel.built?.pins ?? {}).map(([pin, to]) => [...splitPin(pin), to] as const);
    const given = (panel.connectors ?? []).flatMap(({ id, pins }) =>
      Object.entries(pins ?? {}).map(([pin, to]) => [id, pin, to] as const),
    );
    const said = new Set<string>();
    for (const [connector, pin, to] of [...built, ...given]) {
      const shell = byId.get(connector);
      if (said.has(`${connector}.${pin} ${to}`)) continue;
      said.add(`${connector}.${pin} ${to}`);
      const number = Number(pin);
      if (shell === undefined || !Number.isInteger(number) || number < 1 || number > shell.part.ways) {
        problems.push({ code: 'pin-unknown', connector, pin });
        continue;
      }
      const isTaken = promised.has(pinId(shell, number));
      // Kept free in any case: what the user gave a pin is never given to anything else.
      promised.add(pinId(shell, number));
      if (isTaken || answer.has(to) || !tags.has(to)) problems.push({ code: 'pin-leads-nowhere', connector, pin, to });
      else answer.set(to, { shell, number });
    }
    // A wire that cannot be so belongs to no circuit, and is reported for that.
    for (const [from, to] of wiresOf(panel)) {
      const [pin, tag] = isWay(from) ? [from, to] : [to, from];
      const [connector, way] = splitPin(pin);
      const shell = byId.get(connector);
      const number = Number(way);
      if (!isWay(pin) || shell === undefined || number > shell.part.ways) continue;
      if (!tags.has(tag) || answer.has(tag) || promised.has(pinId(shell, number))) continue;
      promised.add(pinId(shell, number));
      answer.set(tag, { shell, number });
    }
    return answer;
  }

  function place({ to }: Bundle): readonly Place[] | null {
    const given = to.map((tag) => fixed.get(tag) ?? null);
    if (given.some((each) => each !== null)) return placeBeside(given);
    const found = findRun(shells, to.length, true);
    if (found !== null) return found;
    return mayGrow ? findRun([grow()], to.length, true) : findRun(shells, to.length, false);
  }

  /** What is fixed stays, and the rest of the bundle goes beside it. */
  function placeBeside(given: readonly (Place | null)[]): readonly Place[] | null {
    const taken = given.filter((each) => each !== null);
    const places: Place[] = [];
    for (const [i, each] of given.entries()) {
      const anchor = each ?? places[i - 1] ?? taken[0];
      const chosen = each ?? (anchor === undefined ? null : beside(anchor, taken));
      if (chosen === null) return null;
      if (each === null) taken.push(chosen);
      places.push(chosen);
    }
    return places;
  }

  /** So many free ways side by side, in the first shell that has them; three or more anywhere in a shell where no run is left. */
  function findRun(where: readonly Shell[], count: number, keepSpare: boolean): readonly Place[] | null {
    for (const shell of where) {
      const free = freeWays(shell);
      if (free.length < count + (keepSpare ? spareOf(shell) : 0)) continue;
      const isFree = new Set(free);
      const run =
        first(free, (way) => runFrom(shell, way, count, (next, at) => isFree.has(next) && next === at + 1)) ??
        first(free, (way) => runFrom(shell, way, count, (next, at) => isFree.has(next) && next > at)) ??
        (count > 2 ? free.slice(0, count) : null);
      if (run !== null) return run.map((number) => ({ shell, number }));
    }
    return null;
  }

  /** A run from this way on, each the least fit neighbour of the one before; null where it ends too soon. */
  function runFrom(
    shell: Shell,
    way: number,
    count: number,
    fits: (next: number, at: number) => boolean,
  ): readonly number[] | null {
    const run = [way];
    while (run.length < count) {
      const at = run[run.length - 1] ?? way;
      const next = waysBeside(shell.part, at).find((other) => fits(other, at));
      if (next === undefined) return null;
      run.push(next);
    }
    return run;
  }

  /** A free way beside one that is taken; where there is none, any free way of its shell. */
  function beside({ shell, number }: Place, taken: readonly Place[]): Place | null {
    const gone = new Set(taken.flatMap((each) => (each.shell === shell ? [each.number] : [])));
    const free = freeWays(shell).filter((way) => !gone.has(way));
    const near = waysBeside(shell.part, number).filter((other) => free.includes(other));
    const follows = [number + 1, number - 1].find((other) => near.includes(other));
    const other = follows ?? near[0] ?? free[0];
    return other === undefined ? null : { shell, number: other };
  }

  function freeWays(shell: Shell): readonly number[] {
    const free: number[] = [];
    for (let number = 1; number <= shell.part.ways; number++) {
      if (!shell.pins.has(number) && !promised.has(pinId(shell, number))) free.push(number);
    }
    return free;
  }

  function take({ shell, number }: Place, bundle: Bundle, which: number): Pin {
    const to = bundle.to[which];
    const net = bundle.net[which];
    if (to === undefined || net === undefined) throw new RangeError(`bundle ${bundle.names} has no wire ${which}`);
    const id = pinId(shell, number);
    const { circuit } = bundle;
    const pin: Pin = { id, connector: shell.id, number, circuit, net, to, fixed: fixed.has(to) };
    shell.pins.set(number, pin);
    return pin;
  }

  function grow(): Shell {
    const taken = shells.map((shell) => shell.id);
    const shell = usualShell(nextFreeLetters(panel, taken));
    shells.push(shell);
    return shell;
  }
}

const besideEach = keptFor((part: ConnectorPart) =>
  Array.from({ length: part.ways }, (_, i) => neighbours(part, i + 1)),
);

/** The ways next to one: asked for again and again while ways are allotted. */
function waysBeside(part: ConnectorPart, way: number): readonly number[] {
  return besideEach(part)[way - 1] ?? [];
}

/** The first answer that is one. */
function first<T, R>(list: readonly T[], find: (each: T) => R | null): R | null {
  for (const each of list) {
    const found = find(each);
    if (found !== null) return found;
  }
  return null;
}

function pinId(shell: Shell, number: number): string {
  return `${shell.id}.${number}`;
}

/** Wires of the file by their two ends, what is built first. */
function wiresOf(panel: PanelFile): readonly (readonly [from: string, to: string])[] {
  return [...Object.values(panel.built?.wires ?? {}), ...(panel.wires ?? [])].flatMap(({ from, to }) =>
    from === undefined || to === undefined ? [] : [[from, to] as const],
  );
}

/** Is a terminal a way of a connector, as "A.7"? Connectors have letters only, so that no other terminal reads so. */
export function isWay(terminal: string): boolean {
  return /^[A-Za-z]+\.[1-9][0-9]*$/.test(terminal);
}

/** "A.7" to "A" and "7". */
function splitPin(pin: string): readonly [connector: string, number: string] {
  const dot = pin.lastIndexOf('.');
  return [pin.slice(0, Math.max(0, dot)), pin.slice(dot + 1)];
}

/** Ways that a shell keeps free. */
function spareOf(shell: Shell): number {
  return Math.ceil(shell.part.ways * shell.spare);
}

function usualPart(catalogue: Catalogue): ConnectorPart {
  const part = catalogue.find('connector', DEFAULTS.connector.part);
  if (part === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.connector.part}`);
  return part;
}
