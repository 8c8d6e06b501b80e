import { contactOf } from './contact-of.ts';
import { darkBelow } from './dark-below.ts';
import { STALL_TOLERANCE, VF_TOLERANCE } from './tolerances.ts';
import type { DiodePart, DriveKind, LampPart, Part } from './types.ts';

/**
 * What each figure means, how far it goes across the kind, and where both come from. A range is what may be bought or found under
 * that name; it is no band of one part. All plain numbers in the base unit of the figure, as a file writes them.
 */

/** Least and greatest across the kind. */
export type Spread = readonly [low: number, high: number];

/** One figure of one kind of part. */
export interface FigureRule<P> {
  readonly figure: string;
  /** One sentence without a stop. */
  readonly what: string;
  /** V, A, ohm, H, F, s, mm, mm2, W; empty for a count, a share, a word. */
  readonly unit: string;
  /** One for each number of the figure (two for `body` and for a range of volts); null where it is no number. */
  readonly spread: (part: P) => readonly Spread[] | null;
  readonly source: string | ((part: P) => string);
  /** What counts where the part does not say it; null where the part then has no such figure. */
  readonly absent?: (part: P) => number;
}

const MEMORY = 'from memory';
const TRADE = 'common practice, no source';

/** The same spread for every part of the kind. */
const across = (low: number, high: number) => (): readonly Spread[] => [[low, high]];
const none = (): null => null;
/** So many times what the part says, from and to. */
const times = (value: number, low: number, high: number): readonly Spread[] => [[value * low, value * high]];

const PRICE = <P extends Part>(): FigureRule<P> => ({
  figure: 'price',
  what: 'price of one, in your own money',
  unit: '',
  spread: (part) => times(part.price, 0.5, 3),
  source: MEMORY,
});

type Contacted = Extract<Part, { plating: unknown }>;

/** The surface of the contacts; the same for all that have any. */
const surface = <P extends Contacted>(): readonly FigureRule<P>[] => [
  {
    figure: 'plating',
    what: 'surface of its contacts: silver or gold',
    unit: '',
    spread: none,
    source: `${MEMORY}; contacts made for more than half an amp are silver as a rule`,
  },
  {
    figure: 'makeAmps',
    what: 'the most a contact may make where the pulse has died before it opens; absent: five times what it carries',
    unit: 'A',
    spread: (part) => times(contactOf(part).amps, 1, 10),
    source: MEMORY,
    absent: (part) => contactOf(part).makeAmps,
  },
  {
    figure: 'leastAmps',
    what: 'the least a closed contact passes with certainty; absent: 0.001 on silver, 0.00001 on gold',
    unit: 'A',
    spread: (part) => (part.plating === 'gold' ? [[1e-6, 1e-3]] : [[1e-4, 0.1]]),
    source: `${MEMORY}; data sheets differ widely`,
    absent: (part) => contactOf(part).leastAmps,
  },
];

const FORMAT = 'file format, what the circuits take; range from memory';

/** Forward volts by colour: at 2 mA, and at 10 to 20 mA. From memory, but for the last three: a published table at 20 mA. */
const VF_NEW: Readonly<Record<string, Spread>> = {
  red: [1.6, 2],
  amber: [1.65, 2.05],
  yellow: [1.7, 2.1],
  green: [1.7, 2.1],
  'pure-green': [2.4, 3],
  blue: [2.5, 3],
  white: [2.5, 3],
  'red-green': [1.6, 2.1],
};
const VF_OLD: Readonly<Record<string, Spread>> = {
  red: [1.6, 2.2],
  amber: [1.8, 2.3],
  yellow: [1.8, 2.4],
  green: [1.8, 2.4],
  'pure-green': [2.6, 3.5],
  blue: [2.8, 3.6],
  white: [2.8, 3.6],
};
/** Of a colour that is in neither list. */
const VF_ANY: Spread = [1.6, 3.6];

/** Told by the current of its figures: the old kinds are measured at 10 mA and more. */
const isOld = (lamp: LampPart): boolean => lamp.at >= 0.01;

const LAMP_RULES: readonly FigureRule<LampPart>[] = [
  {
    figure: 'vf',
    what: 'forward volts at the current `at`',
    unit: 'V',
    spread: (lamp) => [(isOld(lamp) ? VF_OLD : VF_NEW)[lamp.colour] ?? VF_ANY],
    source: (lamp) =>
      isOld(lamp)
        ? 'from memory; published tables give more, at 20 mA'
        : 'from memory; data sheets of low-current kinds give 1.8 V for red and green, 1.9 V for yellow at 2 mA',
  },
  {
    figure: 'at',
    what: 'the current that `vf` belongs to',
    unit: 'A',
    spread: (lamp) => (isOld(lamp) ? [[0.005, 0.02]] : [[0.001, 0.005]]),
    source: 'file format, typical parts; published tables are of 20 mA',
  },
  {
    figure: 'vfTolerance',
    what: 'half width of the band of `vf`; absent: 0.1',
    unit: 'V',
    spread: across(0.05, 0.3),
    source: FORMAT,
    absent: () => VF_TOLERANCE,
  },
  {
    figure: 'seen',
    what: 'the least current at which it is seen indoors',
    unit: 'A',
    spread: (lamp) => (isOld(lamp) ? [[0.001, 0.005]] : [[0.00005, 0.001]]),
    source: TRADE,
  },
  {
    figure: 'dark',
    what: 'the most current at which it still counts as dark; absent: a twentieth of `seen`',
    unit: 'A',
    spread: (lamp) => times(lamp.seen, 0.01, 0.5),
    source: MEMORY,
    absent: ({ seen }) => darkBelow({ seen }),
  },
  {
    figure: 'max',
    what: 'the greatest current for good',
    unit: 'A',
    spread: across(0.01, 0.03),
    source: 'published tables allow 25 mA (green) to 30 mA; 20 mA keeps away from that',
  },
  {
    figure: 'reverse',
    what: 'the reverse volts that it stands for certain; where it breaks down is not given',
    unit: 'V',
    spread: across(5, 5),
    source: 'published tables and data sheets agree',
  },
  {
    figure: 'n',
    what: 'how flat its curve is, as a factor of the thermal voltage',
    unit: '',
    spread: across(1.5, 4),
    source: FORMAT,
  },
  {
    figure: 'rs',
    what: 'resistance in series with the junction',
    unit: 'ohm',
    spread: across(1, 30),
    source: FORMAT,
  },
  {
    figure: 'size',
    what: 'diameter of the body',
    unit: 'mm',
    spread: (lamp) => (lamp.size < 4 ? [[2.9, 3.1]] : [[4.8, 5.2]]),
    source: 'published drawings: 2.95 mm, and 5.00 mm give or take 0.20',
  },
  {
    figure: 'hole',
    what: 'the hole in the face for the bare lamp',
    unit: 'mm',
    spread: (lamp) => (lamp.size < 4 ? [[3.1, 3.2]] : [[5.2, 5.5]]),
    source: (lamp) => (lamp.size < 4 ? TRADE : 'a published guide gives 5.4 mm for a body of 5 mm'),
  },
  { figure: 'colour', what: 'the colour it shows', unit: '', spread: none, source: 'its name' },
  PRICE(),
];

type DriveSpreads = Readonly<Record<string, readonly Spread[]>>;

const COIL_SPREADS: DriveSpreads = {
  volts: [
    [12, 16],
    [20, 25],
  ],
  coilOhms: [[3, 8]],
  coilHenries: [[0.002, 0.02]],
  throwAmps: [[1, 4]],
  throwSeconds: [[0.005, 0.03]],
  contacts: [[0, 2]],
};

const DRIVE_SPREADS: Readonly<Record<DriveKind, DriveSpreads>> = {
  stall: {
    volts: [
      [6, 9],
      [12, 15],
    ],
    stallVolts: [[9, 15]],
    stallAmps: [[0.005, 0.02]],
    runAmps: [[0.002, 0.015]],
    runSeconds: [[1, 6]],
    contacts: [[1, 2]],
  },
  limit: {
    volts: [
      [6, 12],
      [12, 18],
    ],
    runAmps: [[0.04, 0.2]],
    runSeconds: [[0.5, 3]],
    contacts: [[0, 2]],
  },
  'twin-coil': COIL_SPREADS,
  'twin-coil-end-off': COIL_SPREADS,
  servo: {
    volts: [
      [4.5, 5],
      [5, 6],
    ],
    inputAmps: [[0.0005, 0.01]],
    runAmps: [[0.1, 0.7]],
    runSeconds: [[0.5, 5]],
    contacts: [[0, 1]],
  },
  decoder: {
    volts: [
      [7, 7],
      [24, 27],
    ],
    runAmps: [[0.05, 2]],
    runSeconds: [[0.02, 3]],
    contacts: [[0, 1]],
  },
  hand: { contacts: [[0, 2]] },
};

const driveRule = (figure: string, what: string, unit: string): FigureRule<Extract<Part, { kind: 'drive' }>> => ({
  figure,
  what,
  unit,
  spread: (drive) => DRIVE_SPREADS[drive.what][figure] ?? null,
  source: (drive) =>
    figure === 'volts' && drive.what === 'decoder' ? 'NMRA S-9.1 (2020), volts at a decoder, by scale' : MEMORY,
});

const DRIVE_RULES: readonly FigureRule<Extract<Part, { kind: 'drive' }>>[] = [
  driveRule('volts', 'range of its feed: least and greatest nominal volts', 'V'),
  driveRule('stallVolts', 'the volts that `stallAmps` belongs to', 'V'),
  driveRule('stallAmps', 'what it draws for good when it has run', 'A'),
  {
    figure: 'stallTolerance',
    what: 'half width of the band of `stallAmps`, as a share; absent: 0.2',
    unit: '',
    spread: across(0.05, 0.3),
    source: FORMAT,
    absent: () => STALL_TOLERANCE,
  },
  driveRule('inputAmps', 'what the input of its board takes', 'A'),
  driveRule('runAmps', 'what it draws while it moves', 'A'),
  driveRule('runSeconds', 'how long it moves', 's'),
  driveRule('coilOhms', 'resistance of each coil', 'ohm'),
  driveRule('coilHenries', 'inductance of each coil', 'H'),
  driveRule('throwAmps', 'the current above which it throws', 'A'),
  driveRule('throwSeconds', 'how long the current must stay above `throwAmps`', 's'),
  driveRule('contacts', 'changeover contacts that move with it', ''),
  {
    figure: 'contactAmps',
    what: 'what each of its contacts carries',
    unit: 'A',
    spread: across(0.5, 5),
    source: MEMORY,
  },
  ...surface<Extract<Part, { kind: 'drive' }>>(),
  { figure: 'trap', what: 'what catches builders out with this kind', unit: '', spread: none, source: TRADE },
  PRICE(),
];

/** One spread of three, by the size of a toggle, which is told by its hole: below 5.7 mm sub-miniature, below 9 mm miniature. */
const bySize =
  (standard: Spread, mini: Spread, subMini: Spread) =>
  ({ hole }: { readonly hole: number }): readonly Spread[] => [hole < 5.7 ? subMini : hole < 9 ? mini : standard];

const SWITCH_RULES: readonly FigureRule<Extract<Part, { kind: 'switch' }>>[] = [
  { figure: 'poles', what: 'poles, each a changeover', unit: '', spread: across(1, 4), source: 'its name' },
  { figure: 'centreOff', what: 'can be left in the middle', unit: '', spread: none, source: 'its name' },
  { figure: 'sprung', what: 'springs back to the middle when let go', unit: '', spread: none, source: 'its name' },
  {
    figure: 'hole',
    what: 'the hole in the face',
    unit: 'mm',
    spread: bySize([12, 12.5], [6.1, 6.5], [5, 5.5]),
    source: MEMORY,
  },
  {
    figure: 'nut',
    what: 'across the dressed nut',
    unit: 'mm',
    spread: bySize([14, 17.5], [7.9, 10], [6.3, 8.1]),
    source: MEMORY,
  },
  {
    figure: 'driver',
    what: 'the circle that a nut driver sweeps',
    unit: 'mm',
    spread: bySize([19, 24], [11, 15], [9, 13]),
    source: MEMORY,
  },
  {
    figure: 'tabHole',
    what: 'the small hole for the tab of its washer; 0: none',
    unit: 'mm',
    spread: bySize([0, 3.5], [0, 3], [0, 2]),
    source: MEMORY,
  },
  {
    figure: 'body',
    what: 'behind the sheet: width across the poles, height along the throw',
    unit: 'mm',
    spread: ({ body: [width, height] }) => [
      [width - 1.5, width + 2],
      [height - 1.5, height + 2],
    ],
    source: MEMORY,
  },
  {
    figure: 'depth',
    what: 'behind the sheet, with its tags',
    unit: 'mm',
    spread: bySize([27, 42], [17, 28], [13, 22]),
    source: MEMORY,
  },
  {
    figure: 'amps',
    what: 'what each pole carries and breaks, direct current',
    unit: 'A',
    spread: bySize([1, 10], [0.5, 6], [0.1, 3]),
    source: MEMORY,
  },
  ...surface<Extract<Part, { kind: 'switch' }>>(),
  PRICE(),
];

const BUTTON_RULES: readonly FigureRule<Extract<Part, { kind: 'button' }>>[] = [
  {
    figure: 'poles',
    what: 'poles, each closed while it is pressed',
    unit: '',
    spread: across(1, 2),
    source: 'its name',
  },
  { figure: 'hole', what: 'the hole in the face', unit: 'mm', spread: across(6.8, 7.2), source: MEMORY },
  {
    figure: 'body',
    what: 'behind the sheet: width, height',
    unit: 'mm',
    spread: ({ body: [width, height] }) => [
      [width - 1.5, width + 2],
      [height - 2, height + 2],
    ],
    source: MEMORY,
  },
  { figure: 'amps', what: 'what each pole carries and breaks', unit: 'A', spread: across(0.1, 3), source: MEMORY },
  ...surface<Extract<Part, { kind: 'button' }>>(),
  PRICE(),
];

const RELAY_RULES: readonly FigureRule<Extract<Part, { kind: 'relay' }>>[] = [
  { figure: 'latching', what: 'stays as it was last set', unit: '', spread: none, source: 'its name' },
  {
    figure: 'coils',
    what: 'of a latching one: 2 with a coil for each way, 1 where the polarity of the pulse decides',
    unit: '',
    spread: across(1, 2),
    source: MEMORY,
  },
  { figure: 'coilVolts', what: 'nominal volts of its coil', unit: 'V', spread: across(5, 24), source: MEMORY },
  {
    figure: 'coilOhms',
    what: 'resistance of each coil',
    unit: 'ohm',
    spread: (part) => (part.latching ? [[100, 720]] : [[200, 1100]]),
    source: 'from memory, at 12 V',
  },
  {
    figure: 'pulseSeconds',
    what: 'the pulse that a latching one needs',
    unit: 's',
    spread: across(0.003, 0.05),
    source: MEMORY,
  },
  { figure: 'poles', what: 'changeover contacts', unit: '', spread: across(1, 4), source: 'its name' },
  {
    figure: 'contactAmps',
    what: 'what each contact carries and breaks',
    unit: 'A',
    spread: across(0.5, 8),
    source: MEMORY,
  },
  ...surface<Extract<Part, { kind: 'relay' }>>(),
  PRICE(),
];

const CONTACT_RULES: readonly FigureRule<Extract<Part, { kind: 'contact' }>>[] = [
  { figure: 'amps', what: 'what it carries and breaks', unit: 'A', spread: across(0.1, 5), source: MEMORY },
  ...surface<Extract<Part, { kind: 'contact' }>>(),
  PRICE(),
];

const WAY_AMPS: Readonly<Record<Extract<Part, { kind: 'connector' }>['family'], readonly [Spread, string]>> = {
  dsub: [[1, 6.5], 'from memory with all ways loaded; a published manual allows one stamped contact 6.5 A'],
  header: [[0.6, 1.2], 'a published rule of thumb; a published catalogue gives 1.2 A at 20 C, 0.6 A at 100 C'],
  screw: [[8, 16], 'published descriptions of pluggable terminals of 5.08 mm; range from memory'],
  din: [[1, 5], MEMORY],
};

const CONNECTOR_RULES: readonly FigureRule<Extract<Part, { kind: 'connector' }>>[] = [
  {
    figure: 'amps',
    what: 'what one way carries',
    unit: 'A',
    spread: (part) => [WAY_AMPS[part.family][0]],
    source: (part) => WAY_AMPS[part.family][1],
  },
  { ...PRICE(), what: 'price of the pair, in your own money' },
];

const RESISTOR_RULES: readonly FigureRule<Extract<Part, { kind: 'resistor' }>>[] = [
  {
    figure: 'watts',
    what: 'the heat it stands',
    unit: 'W',
    spread: (part) => times(part.watts, 1, 1),
    source: 'its name',
  },
  {
    figure: 'tolerance',
    what: 'half width of the band of its ohms, as a share',
    unit: '',
    spread: across(0.01, 0.1),
    source: TRADE,
  },
  PRICE(),
];

/** A diode for a small signal, by what it carries. */
const isSmall = (diode: DiodePart): boolean => diode.amps < 0.5;

const DIODE_RULES: readonly FigureRule<DiodePart>[] = [
  {
    figure: 'vf',
    what: 'forward volts at the current `at`',
    unit: 'V',
    spread: (diode) => ((diode.at ?? 0) >= 1 ? [[0.7, 1.1]] : [[0.6, 0.8]]),
    source: FORMAT,
  },
  {
    figure: 'at',
    what: 'the current that `vf` belongs to',
    unit: 'A',
    spread: across(0.001, 3),
    source: 'file format, what the circuits take',
  },
  {
    figure: 'n',
    what: 'how flat its curve is, as a factor of the thermal voltage',
    unit: '',
    spread: across(1, 2),
    source: FORMAT,
    absent: (diode) => diode.law.n,
  },
  {
    figure: 'rs',
    what: 'resistance in series with the junction',
    unit: 'ohm',
    spread: across(0.01, 1),
    source: FORMAT,
    absent: (diode) => diode.law.rs,
  },
  {
    figure: 'amps',
    what: 'what it carries for good',
    unit: 'A',
    spread: (diode) => (isSmall(diode) ? [[0.1, 0.3]] : times(diode.amps, 1, 2)),
    source: MEMORY,
  },
  {
    figure: 'reverse',
    what: 'the reverse volts that it stands for certain',
    unit: 'V',
    spread: (diode) => (isSmall(diode) ? [[50, 100]] : [[50, 1000]]),
    source: MEMORY,
  },
  PRICE(),
];

const WIRE_RULES: readonly FigureRule<Extract<Part, { kind: 'wire' }>>[] = [
  {
    figure: 'gauge',
    what: 'area of metal',
    unit: 'mm2',
    spread: (part) => times(part.gauge, 0.95, 1.05),
    source: 'its name',
  },
  {
    figure: 'amps',
    what: 'what it carries on its own in free air; less in a loom',
    unit: 'A',
    spread: (part) => times(part.amps, 0.5, 1.5),
    source: (part) =>
      [0.22, 0.5, 0.75].includes(part.gauge) ? 'a published table of equipment wire; range from memory' : MEMORY,
  },
  { ...PRICE(), what: 'price of a metre, in your own money' },
];

const CAPACITOR_RULES: readonly FigureRule<Extract<Part, { kind: 'capacitor' }>>[] = [
  {
    figure: 'farads',
    what: 'its capacitance',
    unit: 'F',
    spread: (part) => times(part.farads, 0.8, 1.2),
    source: 'its name; 20 % either way is usual for electrolytic ones, from memory',
  },
  { figure: 'volts', what: 'the most it stands', unit: 'V', spread: across(25, 63), source: MEMORY },
  PRICE(),
];

const CDU_RULES: readonly FigureRule<Extract<Part, { kind: 'cdu' }>>[] = [
  { figure: 'farads', what: 'the capacitance that it dumps', unit: 'F', spread: across(0.001, 0.01), source: MEMORY },
  { figure: 'volts', what: 'the most its capacitor stands', unit: 'V', spread: across(25, 50), source: MEMORY },
  {
    figure: 'chargeOhms',
    what: 'the resistor that it charges through',
    unit: 'ohm',
    spread: across(22, 470),
    source: `${MEMORY}; some charge through a transistor and are quicker`,
  },
  PRICE(),
];

/** The rules of every kind, in the order in which they are read. */
export const FIGURE_RULES: { readonly [K in Part['kind']]: readonly FigureRule<Extract<Part, { kind: K }>>[] } = {
  lamp: LAMP_RULES,
  drive: DRIVE_RULES,
  switch: SWITCH_RULES,
  button: BUTTON_RULES,
  relay: RELAY_RULES,
  contact: CONTACT_RULES,
  connector: CONNECTOR_RULES,
  resistor: RESISTOR_RULES,
  diode: DIODE_RULES,
  wire: WIRE_RULES,
  capacitor: CAPACITOR_RULES,
  cdu: CDU_RULES,
};
