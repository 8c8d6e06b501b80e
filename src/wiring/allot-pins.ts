/**
 * Which pin leads to which drive tag. What is built or the file fixes stays; the rest is allotted lever by lever, a drive's two wires
 * on neighbours in one shell, one pin in eight left spare, connectors filled in the order of the file. Neighbours that follow one
 * another in number are taken first; other neighbours where there are no such left (no two numbers of a DIN plug follow each other).
 */
import { type ConnectorRecord, DEFAULTS, nextFreeLetters, type PanelFile } from '../panel/index.ts';
import { type Catalogue, type ConnectorPart, neighbours } from '../parts/index.ts';
import type { Pin, WiredConnector, WiringProblem } from './types.ts';

/** Two wires that leave the panel together. */
export interface Pair {
  readonly circuit: string;
  readonly drive: string;
  /** For the pin that is plus when the lever is normal, and for the other. */
  readonly to: readonly [string, string];
  readonly net: readonly [string, string];
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

/** All connectors with their pins by number, and the pins of each drive's pair (or none where no pin is left). */
export function allotPins(
  panel: PanelFile,
  catalogue: Catalogue,
  pairs: readonly Pair[],
  problems: WiringProblem[],
): { readonly connectors: readonly WiredConnector[]; readonly pinsOf: ReadonlyMap<string, readonly [Pin, Pin]> } {
  const shells = (panel.connectors ?? []).map(shellOf);
  /** Where the file has no connectors the tool adds what is needed: first those that are built, then more. */
  const mayGrow = shells.length === 0;
  if (mayGrow) shells.push(...builtShells());
  /** Pins that are promised: to a tag that has not been placed yet, or to something that is not there. */
  const promised = new Set<string>();
  const fixed = fixedPins();
  const pinsOf = new Map<string, readonly [Pin, Pin]>();
  const lacking: string[] = [];
  for (const pair of pairs) {
    const pins = place(pair);
    if (pins === null) lacking.push(pair.drive);
    else pinsOf.set(pair.drive, pins);
  }
  if (lacking.length > 0) {
    const has = shells.reduce((sum, shell) => sum + shell.part.ways, 0);
    problems.push({ code: 'connector-full', needs: pairs.length * 2, has, lacking });
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
    const tags = new Set(pairs.flatMap((pair) => pair.to));
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

  function place(pair: Pair): readonly [Pin, Pin] | null {
    const [plus, minus] = [fixed.get(pair.to[0]), fixed.get(pair.to[1])];
    if (plus !== undefined && minus !== undefined) return takeBoth(pair, plus, minus);
    if (plus !== undefined) {
      const other = beside(plus);
      return other === null ? null : takeBoth(pair, plus, other);
    }
    if (minus !== undefined) {
      const other = beside(minus);
      return other === null ? null : takeBoth(pair, other, minus);
    }
    const found = findPair(shells, true);
    if (found !== null) return takeBoth(pair, ...found);
    const more = mayGrow ? findPair([grow()], true) : findPair(shells, false);
    return more === null ? null : takeBoth(pair, ...more);
  }

  /** Two free ways side by side, in the first shell that has them. */
  function findPair(where: readonly Shell[], keepSpare: boolean): readonly [Place, Place] | null {
    for (const shell of where) {
      const free = freeWays(shell);
      if (free.length < 2 + (keepSpare ? spareOf(shell) : 0)) continue;
      const isFree = new Set(free);
      const next = (number: number, other: number | undefined): readonly [Place, Place] | null =>
        other === undefined
          ? null
          : [
              { shell, number },
              { shell, number: other },
            ];
      for (const number of free) {
        const follows = neighbours(shell.part, number).find((other) => other === number + 1 && isFree.has(other));
        if (follows !== undefined) return next(number, follows);
      }
      for (const number of free) {
        const above = neighbours(shell.part, number).find((other) => other > number && isFree.has(other));
        if (above !== undefined) return next(number, above);
      }
    }
    return null;
  }

  /** A free way beside one that is fixed; where there is none, any free way of its shell. */
  function beside({ shell, number }: Place): Place | null {
    const free = freeWays(shell);
    const near = neighbours(shell.part, number).filter((other) => free.includes(other));
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

  function takeBoth(pair: Pair, plus: Place, minus: Place): readonly [Pin, Pin] {
    return [take(plus, pair, 0), take(minus, pair, 1)];
  }

  function take({ shell, number }: Place, pair: Pair, which: 0 | 1): Pin {
    const pin: Pin = {
      id: pinId(shell, number),
      connector: shell.id,
      number,
      circuit: pair.circuit,
      net: pair.net[which],
      to: pair.to[which],
      fixed: fixed.has(pair.to[which]),
    };
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
function isWay(terminal: string): boolean {
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
