/**
 * Which pin leads to which drive tag. What the file fixes stays; the rest is allotted lever by lever, a drive's two wires on
 * neighbours in one shell, one pin in eight left spare, connectors filled in the order of the file.
 */
import { DEFAULTS, nextFreeLetters, type PanelFile } from '../panel/index.ts';
import type { Catalogue, ConnectorPart } from '../parts/index.ts';
import { PAIR_PITCHES } from './tolerances.ts';
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

/** All connectors with their pins by number, and the pins of each drive's pair (or none where no pin is left). */
export function allotPins(
  panel: PanelFile,
  catalogue: Catalogue,
  pairs: readonly Pair[],
  problems: WiringProblem[],
): { readonly connectors: readonly WiredConnector[]; readonly pinsOf: ReadonlyMap<string, readonly [Pin, Pin]> } {
  const shells: Shell[] = (panel.connectors ?? []).map((record) => {
    const wanted = record.part ?? DEFAULTS.connector.part;
    let part = catalogue.find('connector', wanted);
    if (part === undefined) {
      problems.push({ code: 'connector-part-unknown', connector: record.id, part: wanted });
      part = usualPart(catalogue);
    }
    return {
      id: record.id,
      part,
      panelHalf: record.panelHalf ?? 'socket',
      spare: record.spare ?? DEFAULTS.connector.spare,
      recorded: true,
      pins: new Map(),
    };
  });
  const mayGrow = shells.length === 0;
  /** Pins that the file gives to something that is not there. */
  const reserved = new Set<string>();
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
    const wanted = Math.ceil(shell.part.ways * shell.spare);
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

  /** Pins that the file names, by the tag that they lead to. */
  function fixedPins(): Map<string, { shell: Shell; number: number }> {
    const answer = new Map<string, { shell: Shell; number: number }>();
    const tags = new Set(pairs.flatMap((pair) => pair.to));
    for (const record of panel.connectors ?? []) {
      const shell = shells.find((each) => each.id === record.id);
      if (shell === undefined) continue;
      for (const [pin, to] of Object.entries(record.pins ?? {})) fix(shell, pin, to);
    }
    for (const [pin, to] of Object.entries(panel.built?.pins ?? {})) {
      const [connector, number] = [pin.slice(0, pin.lastIndexOf('.')), pin.slice(pin.lastIndexOf('.') + 1)];
      const shell = shells.find((each) => each.id === connector);
      if (shell !== undefined) fix(shell, number, to);
    }
    return answer;

    function fix(shell: Shell, pin: string, to: string): void {
      const number = Number(pin);
      if (!Number.isInteger(number) || number < 1 || number > shell.part.ways) {
        problems.push({ code: 'pin-unknown', connector: shell.id, pin });
      } else if (!tags.has(to)) {
        // Kept free: what the user gave a pin is never given to anything else.
        reserved.add(`${shell.id}.${number}`);
        problems.push({ code: 'pin-leads-nowhere', connector: shell.id, pin, to });
      } else answer.set(to, { shell, number });
    }
  }

  function place(pair: Pair): readonly [Pin, Pin] | null {
    const [plus, minus] = [fixed.get(pair.to[0]), fixed.get(pair.to[1])];
    if (plus !== undefined && minus !== undefined)
      return [take(plus.shell, plus.number, pair, 0), take(minus.shell, minus.number, pair, 1)];
    const oneFixed = plus ?? minus;
    if (oneFixed !== undefined) {
      const other = neighbourOf(oneFixed.shell, oneFixed.number) ?? anyFree(oneFixed.shell);
      if (other === null) return null;
      return plus !== undefined
        ? [take(plus.shell, plus.number, pair, 0), take(plus.shell, other, pair, 1)]
        : [take(oneFixed.shell, other, pair, 0), take(oneFixed.shell, oneFixed.number, pair, 1)];
    }
    return placeIn(shells, pair, true) ?? (mayGrow ? placeIn([grow()], pair, true) : placeIn(shells, pair, false));
  }

  function placeIn(where: readonly Shell[], pair: Pair, keepSpare: boolean): readonly [Pin, Pin] | null {
    for (const shell of where) {
      const promised = [...fixed.values()].filter(
        (each) => each.shell === shell && !shell.pins.has(each.number),
      ).length;
      const usable = shell.part.ways - (keepSpare ? Math.ceil(shell.part.ways * shell.spare) : 0);
      if (shell.pins.size + promised + 2 > usable) continue;
      for (let number = 1; number < shell.part.ways; number++) {
        if (isFree(shell, number) && isFree(shell, number + 1) && sideBySide(shell.part, number, number + 1)) {
          return [take(shell, number, pair, 0), take(shell, number + 1, pair, 1)];
        }
      }
    }
    return null;
  }

  function isFree(shell: Shell, number: number): boolean {
    if (shell.pins.has(number) || reserved.has(`${shell.id}.${number}`)) return false;
    return ![...fixed.values()].some((each) => each.shell === shell && each.number === number);
  }

  function neighbourOf(shell: Shell, number: number): number | null {
    for (const other of [number + 1, number - 1]) {
      if (other >= 1 && other <= shell.part.ways && isFree(shell, other) && sideBySide(shell.part, number, other))
        return other;
    }
    return null;
  }

  function anyFree(shell: Shell): number | null {
    for (let number = 1; number <= shell.part.ways; number++) if (isFree(shell, number)) return number;
    return null;
  }

  function take(shell: Shell, number: number, pair: Pair, which: 0 | 1): Pin {
    const pin: Pin = {
      id: `${shell.id}.${number}`,
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
    const id = nextFreeLetters(
      panel,
      shells.map((shell) => shell.id),
    );
    const shell: Shell = {
      id,
      part: usualPart(catalogue),
      panelHalf: 'socket',
      spare: DEFAULTS.connector.spare,
      recorded: false,
      pins: new Map(),
    };
    shells.push(shell);
    return shell;
  }
}

function usualPart(catalogue: Catalogue): ConnectorPart {
  const part = catalogue.find('connector', DEFAULTS.connector.part);
  if (part === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.connector.part}`);
  return part;
}

/** Do two ways lie next to each other? */
function sideBySide(part: ConnectorPart, one: number, other: number): boolean {
  const [a, b] = [part.at[one - 1], part.at[other - 1]];
  if (a === undefined || b === undefined) return false;
  return Math.hypot(a[0] - b[0], a[1] - b[1]) <= PAIR_PITCHES * pitchOf(part);
}

function pitchOf(part: ConnectorPart): number {
  const [a, b] = [part.at[0], part.at[1]];
  return a === undefined || b === undefined ? 1 : Math.hypot(a[0] - b[0], a[1] - b[1]);
}
