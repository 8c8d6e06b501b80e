/**
 * What a second reader takes from the panel file alone: supplies, the law of each lamp, drives, what levers work.
 * Figures are those that the file format promises for its typical parts and defaults; nothing comes from the product.
 */

/** i = is (exp((v - i rs) / (n Vt)) - 1), Vt at 27 C. */
export interface Law {
  readonly is: number;
  readonly n: number;
  readonly rs: number;
}

export interface DriveFacts {
  readonly id: string;
  /** Settled: stall volts over stall amps; null where it has cut itself off. */
  readonly ohms: number | null;
  /** Lie that it goes to when tag a is the positive one. */
  readonly positive: Lie;
  /** Points that it moves, in the order of the file, and whether each lies as the drive does. */
  readonly points: readonly { readonly id: string; readonly same: boolean }[];
  readonly wire: { readonly length: number; readonly gauge: number; readonly ohms: number };
}

export interface LampFacts {
  readonly part: string;
  readonly law: Law;
  /** Lies that it shows, where the file says them; null where it does not. */
  readonly shows: Readonly<Record<string, Lie>> | null;
}

export interface LeverFacts {
  readonly id: string;
  readonly positions: readonly Position[];
  readonly works: readonly { readonly point: string; readonly opposite: boolean }[];
}

export type Lie = 'normal' | 'reverse';
export type Position = Lie | 'centre';

export interface PanelFacts {
  readonly supplies: readonly { readonly id: string; readonly volts: number; readonly ohms: number }[];
  readonly lamps: ReadonlyMap<string, LampFacts>;
  readonly drives: ReadonlyMap<string, DriveFacts>;
  readonly levers: readonly LeverFacts[];
}

type Json = Readonly<Record<string, unknown>>;

function object(value: unknown): Json {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new TypeError(`${JSON.stringify(value)} is no record`);
  return Object.fromEntries(Object.entries(value));
}
const list = (value: unknown): readonly Json[] => (Array.isArray(value) ? value.map(object) : []);
function text(record: Json, key: string, absent?: string): string {
  const value = record[key] ?? absent;
  if (typeof value !== 'string') throw new TypeError(`${key} of ${JSON.stringify(record)} is no text`);
  return value;
}
function number(record: Json, key: string, absent?: number): number {
  const value = record[key] ?? absent;
  if (typeof value !== 'number') throw new TypeError(`${key} of ${JSON.stringify(record)} is no number`);
  return value;
}

/** Boltzmann's constant and the elementary charge, exact in the SI since 2019 (BIPM, SI Brochure, 9th edition). */
const VT = (1.380649e-23 * 300.15) / 1.602176634e-19;

/** The law that passes through `vf` at the current `at`. */
function lawThrough(vf: number, at: number, n: number, rs: number): Law {
  return { is: at / Math.expm1((vf - at * rs) / (n * VT)), n, rs };
}

/** Guard diode as the file format has it: 0.7 V at 10 mA, n 1.8, rs 0.05. */
export const GUARD: Law = lawThrough(0.7, 0.01, 1.8, 0.05);

/** Forward volts by colour as the file format's table of typical parts has them: at 2 mA, older kinds at 10 mA. */
const MODERN: Readonly<Record<string, number>> = {
  red: 1.8,
  amber: 1.85,
  yellow: 1.9,
  green: 1.9,
  'pure-green': 2.7,
  blue: 2.75,
  white: 2.75,
};
const OLD: Readonly<Record<string, number>> = { red: 1.9, amber: 2, yellow: 2.05, green: 2.1 };

function typicalLamp(part: string): Json {
  const found = /^led-[35]-(.+?)(-old)?$/.exec(part);
  const vf = found?.[1] === undefined ? undefined : (found[2] === undefined ? MODERN : OLD)[found[1]];
  if (vf === undefined) throw new RangeError(`this reader knows no lamp ${part}`);
  return { vf, at: found?.[2] === undefined ? 0.002 : 0.01, n: 2, rs: 5 };
}

function typicalDrive(part: string): Json {
  if (part === 'stall-2-wire') return { what: 'stall', stallVolts: 12, stallAmps: 0.015 };
  if (part === 'limit-2-wire') return { what: 'limit' };
  throw new RangeError(`this reader knows no drive ${part}`);
}

/** Figures of a part: the user's own over those of the part that it is like, or of its own typical namesake. */
function figures(parts: readonly Json[], id: string, typical: (id: string) => Json): Json {
  const own = parts.find((part) => part.id === id);
  if (own === undefined) return typical(id);
  const like = text(own, 'like', id);
  return { ...(like === id ? typical(id) : figures(parts, like, typical)), ...own };
}

/** Copper at 20 C, ohm mm2 / m, as the file format has it. */
const COPPER = 0.017241;

function lieOf(value: string): Lie {
  if (value !== 'normal' && value !== 'reverse') throw new RangeError(`${value} is no lie`);
  return value;
}

/** Reads a panel file. Holds panels on a reversing feed whose levers and points stand in the file. */
export function readFacts(panelText: string): PanelFacts {
  const panel = object(JSON.parse(panelText));
  const parts = list(panel.parts);
  const points = list(panel.points);
  const records = list(panel.drives);

  const drives = new Map<string, DriveFacts>();
  for (const point of points) {
    const named = text(point, 'drive', 'stall-2-wire');
    const record = records.find((each) => each.id === named);
    const id = record === undefined ? text(point, 'id') : named;
    const its = { id: text(point, 'id'), same: text(point, 'sense', 'same') === 'same' };
    const known = drives.get(id);
    if (known !== undefined) {
      drives.set(id, { ...known, points: [...known.points, its] });
      continue;
    }
    const part = figures(parts, record === undefined ? named : text(record, 'part', 'stall-2-wire'), typicalDrive);
    const measured = record?.measured === undefined ? {} : object(record.measured);
    const wire = record?.wire === undefined ? {} : object(record.wire);
    const length = number(wire, 'length', 3000);
    const gauge = number(wire, 'gauge', 0.22);
    drives.set(id, {
      id,
      ohms:
        part.what === 'limit'
          ? null
          : number(measured, 'volts', number(part, 'stallVolts')) / number(measured, 'amps', number(part, 'stallAmps')),
      positive: lieOf(text(record ?? {}, 'positive', 'normal')),
      points: [its],
      wire: { length, gauge, ohms: (COPPER * length) / 1000 / gauge },
    });
  }

  return {
    supplies: list(panel.supplies).map((supply) => ({
      id: text(supply, 'id'),
      volts: number(supply, 'volts'),
      ohms: number(supply, 'ohms', 0),
    })),
    lamps: new Map(
      list(panel.lamps).map((lamp) => {
        const id = text(lamp, 'part', 'led-3-amber');
        const part = figures(parts, id, typicalLamp);
        const law = lawThrough(number(part, 'vf'), number(part, 'at'), number(part, 'n'), number(part, 'rs'));
        const shows =
          lamp.shows === undefined
            ? null
            : Object.fromEntries(Object.entries(object(lamp.shows)).map(([point, lie]) => [point, lieOf(String(lie))]));
        return [text(lamp, 'id'), { part: id, law, shows }];
      }),
    ),
    drives,
    levers: list(panel.levers).map((lever) => ({
      id: text(lever, 'id'),
      positions: text(lever, 'switch', '').includes('centre-off')
        ? ['normal', 'reverse', 'centre']
        : ['normal', 'reverse'],
      works: list(lever.works)
        .filter((worked) => worked.point !== undefined)
        .map((worked) => ({ point: text(worked, 'point'), opposite: worked.opposite === true })),
    })),
  };
}
