import { contactOf } from './contact-of.ts';
import { forwardVolts, lawExists, lawFrom } from './diode-law.ts';
import type { DiodePart, LampPart, Part } from './types.ts';

/** What a figure may be: the words for a finding, and the test. */
interface Figure {
  readonly expected: string;
  readonly fits: (value: unknown) => boolean;
}

const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);

function above0(most: number, unit: string): Figure {
  return { expected: `a number above 0 and up to ${most} ${unit}`, fits: (v) => isNumber(v) && v > 0 && v <= most };
}
function from0(most: number, unit: string): Figure {
  return { expected: `a number from 0 to ${most} ${unit}`, fits: (v) => isNumber(v) && v >= 0 && v <= most };
}
function whole(least: number, most: number): Figure {
  return {
    expected: `a whole number from ${least} to ${most}`,
    fits: (v) => isNumber(v) && Number.isInteger(v) && v >= least && v <= most,
  };
}
const text: Figure = { expected: 'text', fits: (v) => typeof v === 'string' && v.trim() !== '' };
const yesOrNo: Figure = { expected: 'true or false', fits: (v) => typeof v === 'boolean' };
const sizes: Figure = {
  expected: 'two numbers above 0 and up to 500 mm: width and height',
  fits: (v) => Array.isArray(v) && v.length === 2 && v.every((each) => isNumber(each) && each > 0 && each <= 500),
};
const plating: Figure = { expected: '"silver" or "gold"', fits: (v) => v === 'silver' || v === 'gold' };
const range: Figure = {
  expected: 'a range of volts as { "low": 9, "high": 12 }, above 0 and up to 100 V',
  fits: (v) => {
    if (typeof v !== 'object' || v === null) return false;
    const { low, high } = v as { readonly low?: unknown; readonly high?: unknown };
    return isNumber(low) && isNumber(high) && low > 0 && low <= high && high <= 100;
  },
};

// The limits catch a slip of the unit (15 for 15 mA) where they can, and never a part that someone may own.
const amps = above0(20, 'A');
const lampAmps = above0(2, 'A');
const millimetres = above0(500, 'mm');

/** Figures of every kind. */
const COMMON: Readonly<Record<string, Figure>> = {
  name: text,
  price: from0(1e6, 'of your money'),
  source: text,
};

const JUNCTION: Readonly<Record<string, Figure>> = {
  vf: above0(12, 'V'),
  at: lampAmps,
  n: { expected: 'a number from 1 to 10', fits: (v) => isNumber(v) && v >= 1 && v <= 10 },
  rs: from0(1000, 'ohm'),
  reverse: above0(2000, 'V'),
};

/** What every part with contacts may be given. */
const SURFACE: Readonly<Record<string, Figure>> = {
  plating,
  makeAmps: above0(200, 'A'),
  leastAmps: above0(1, 'A'),
};

const BY_KIND: Readonly<Record<Part['kind'], ReadonlyMap<string, Figure>>> = {
  lamp: figures({
    ...JUNCTION,
    colour: text,
    size: millimetres,
    seen: lampAmps,
    max: lampAmps,
    hole: millimetres,
    vfTolerance: from0(2, 'V'),
    dark: lampAmps,
  }),
  drive: figures({
    volts: range,
    stallVolts: above0(100, 'V'),
    stallAmps: above0(5, 'A'),
    stallTolerance: from0(0.9, 'as a share'),
    inputAmps: above0(1, 'A'),
    runAmps: amps,
    runSeconds: above0(60, 's'),
    coilOhms: above0(10000, 'ohm'),
    coilHenries: above0(10, 'H'),
    throwAmps: amps,
    throwSeconds: above0(60, 's'),
    contacts: whole(0, 8),
    contactAmps: amps,
    ...SURFACE,
    trap: text,
  }),
  switch: figures({
    poles: whole(1, 4),
    centreOff: yesOrNo,
    sprung: yesOrNo,
    hole: millimetres,
    nut: millimetres,
    driver: millimetres,
    tabHole: from0(500, 'mm'),
    body: sizes,
    depth: millimetres,
    amps,
    ...SURFACE,
  }),
  button: figures({ poles: whole(1, 4), hole: millimetres, body: sizes, amps, ...SURFACE }),
  relay: figures({
    latching: yesOrNo,
    coils: whole(1, 2),
    coilVolts: above0(100, 'V'),
    coilOhms: above0(100000, 'ohm'),
    pulseSeconds: above0(60, 's'),
    poles: whole(1, 8),
    contactAmps: amps,
    ...SURFACE,
  }),
  contact: figures({ amps, ...SURFACE }),
  connector: figures({ amps: above0(100, 'A') }),
  resistor: figures({ watts: above0(100, 'W'), tolerance: from0(0.5, 'as a share') }),
  diode: figures({ ...JUNCTION, at: amps, amps: above0(100, 'A') }),
  wire: figures({ gauge: above0(50, 'mm2'), amps: above0(200, 'A') }),
  capacitor: figures({ farads: above0(10, 'F'), volts: above0(1000, 'V') }),
  cdu: figures({ farads: above0(10, 'F'), volts: above0(100, 'V'), chargeOhms: above0(10000, 'ohm') }),
};

function figures(own: Readonly<Record<string, Figure>>): ReadonlyMap<string, Figure> {
  return new Map([...Object.entries(COMMON), ...Object.entries(own)]);
}

/** Names of the figures that a part of a kind may be given, as the file writes them, in the order of the tables above. */
export function figureNames(kind: Part['kind']): readonly string[] {
  return [...BY_KIND[kind].keys()];
}

/** What a file may say for a figure, in words: "a number above 0 and up to 20 A"; undefined where the kind has no such figure. */
export function figureMayBe(kind: Part['kind'], figure: string): string | undefined {
  return BY_KIND[kind].get(figure)?.expected;
}

/** Why one figure was left out. */
export type FigureProblem =
  | { readonly code: 'part-figure-unknown'; readonly figure: string }
  | { readonly code: 'part-figure-bad'; readonly figure: string; readonly expected: string };

/**
 * A part with the user's figures laid over it, under the user's id. What is no figure of the kind, of the wrong type or
 * out of range, is left at what the part had, with a problem; so are figures that contradict each other.
 */
export function overlay(
  base: Part,
  id: string,
  given: ReadonlyMap<string, unknown>,
): { part: Part; problems: FigureProblem[] } {
  const problems: FigureProblem[] = [];
  const good = new Map<string, unknown>();
  for (const [figure, value] of given) {
    const rule = BY_KIND[base.kind].get(figure);
    if (rule === undefined || isForeign(base, figure)) problems.push({ code: 'part-figure-unknown', figure });
    else if (rule.fits(value)) good.set(figure, value);
    else problems.push({ code: 'part-figure-bad', figure, expected: rule.expected });
  }
  // Every name in `good` comes from the tables above and its value has been tested there.
  let part = { ...base, id, ...Object.fromEntries(good) } as Part;
  for (const { figures, expected, holds } of CONTRADICTIONS) {
    if (holds(part)) continue;
    const culprits = figures.filter((figure) => good.has(figure));
    for (const figure of culprits) problems.push({ code: 'part-figure-bad', figure, expected });
    for (const figure of figures) good.delete(figure);
    part = { ...base, id, ...Object.fromEntries(good) } as Part;
  }
  if (part.kind === 'diode') {
    // `n` and `rs` of a diode live in its law.
    const { n: _n, rs: _rs, ...rest } = part as DiodeWithFigures;
    part = { ...rest, law: lawFrom(...junctionOf(part)) };
  }
  return { part, problems };
}

/** A figure that this kind of drive does not have, such as the stall current of a twin coil: it would do nothing. */
export function isForeign(base: Part, figure: string): boolean {
  if (base.kind !== 'drive') return false;
  if (figure === 'stallTolerance') return base.stallAmps === null;
  if (figure === 'inputAmps') return base.inputAmps === undefined;
  return new Map<string, unknown>(Object.entries(base)).get(figure) === null;
}

type DiodeWithFigures = DiodePart & { readonly n?: number; readonly rs?: number };

/** Where a diode's law came without its point, 10 mA is taken. */
function junctionOf(part: LampPart | DiodePart): [vf: number, at: number, n: number, rs: number] {
  if (part.kind === 'lamp') return [part.vf, part.at, part.n, part.rs];
  const own: DiodeWithFigures = part;
  const at = part.at ?? 0.01;
  return [part.vf ?? forwardVolts(part.law, at), at, own.n ?? part.law.n, own.rs ?? part.law.rs];
}

/** Figures that are each in range and cannot stand together; all of a failed set fall back to the part's own. */
const CONTRADICTIONS: readonly {
  readonly figures: readonly string[];
  readonly expected: string;
  readonly holds: (part: Part) => boolean;
}[] = [
  {
    figures: ['vf', 'at', 'n', 'rs'],
    expected: 'vf above at x rs, so that the junction is left with volts',
    holds: (part) => (part.kind !== 'lamp' && part.kind !== 'diode') || lawExists(...junctionOf(part)),
  },
  {
    figures: ['seen', 'max'],
    expected: 'seen no greater than max',
    holds: (part) => part.kind !== 'lamp' || part.seen <= part.max,
  },
  {
    figures: ['leastAmps', 'amps', 'contactAmps'],
    expected: 'leastAmps no more than what the contact carries',
    holds: (part) => !('plating' in part) || (part.leastAmps ?? 0) <= contactOf(part).amps,
  },
  {
    figures: ['dark'],
    expected: 'dark less than seen',
    holds: (part) => part.kind !== 'lamp' || part.dark === undefined || part.dark < part.seen,
  },
];
