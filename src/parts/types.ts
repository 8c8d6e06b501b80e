import type {
  Ampere,
  Farad,
  Henry,
  Millimetre,
  Ohm,
  Second,
  Spot,
  SquareMillimetre,
  Volt,
  Watt,
} from '../units/index.ts';

/** What every part of the catalogue says of itself. Figures are typical of the kind; the user's `parts` override them. */
interface PartBase {
  readonly id: string;
  /** Plain words, as printed in lists: "3 mm amber lamp". */
  readonly name: string;
  /** Typical price of one, in the user's own money; overridable like any figure. */
  readonly price: number;
  /** Where the figures come from: a reference, or "from memory". */
  readonly source: string;
}

/** The exact diode law i = is (exp((v - i rs) / (n Vt)) - 1) with Vt at 27 C. */
export interface DiodeLaw {
  readonly is: Ampere;
  readonly n: number;
  readonly rs: Ohm;
}

/** What the surface of a contact is: silver carries more, gold lets the smallest currents through. */
export type Plating = 'silver' | 'gold';

/** What every part with contacts says of their surface, beside what they carry and break. */
interface WithContacts {
  readonly plating: Plating;
  /** The most that a contact may make where the pulse has died before it opens; absent: five times what it carries. */
  readonly makeAmps?: Ampere;
  /** The least that it passes with certainty when closed; absent: 1 mA on silver, 10 uA on gold. */
  readonly leastAmps?: Ampere;
}

export interface LampPart extends PartBase {
  readonly kind: 'lamp';
  readonly colour: string;
  /** Diameter of the body. */
  readonly size: Millimetre;
  /** Forward voltage at the current `at`. */
  readonly vf: Volt;
  readonly at: Ampere;
  /** The least current at which it is seen indoors. */
  readonly seen: Ampere;
  /** Greatest continuous current. */
  readonly max: Ampere;
  /** The reverse voltage that it stands for certain. Where it breaks down lies above that, and no data sheet says where. */
  readonly reverse: Volt;
  readonly hole: Millimetre;
  readonly n: number;
  readonly rs: Ohm;
  /** One colour: 1 element. Two colours: 2, with two leads (opposed) or three. */
  readonly elements: 1 | 2;
  readonly leads: 2 | 3;
  /** Of two elements with three leads: which lead they share. Absent on all others. */
  readonly common?: 'cathode' | 'anode';
  /** Half width of the band of `vf`; absent: 0.1 V. Only a user's own part has it. */
  readonly vfTolerance?: Volt;
  /** The most current at which it still counts as dark; absent: a twentieth of `seen`. Only a user's own part has it. */
  readonly dark?: Ampere;
}

export type DriveKind = 'stall' | 'limit' | 'twin-coil' | 'twin-coil-end-off' | 'servo' | 'decoder' | 'hand';

export interface DrivePart extends PartBase, WithContacts {
  readonly kind: 'drive';
  readonly what: DriveKind;
  /** Tags, in the order of the wires: a, b; or n, r, com. */
  readonly tags: readonly string[];
  /** Range of the feed, nominal volts; null where it takes no feed. */
  readonly volts: { readonly low: Volt; readonly high: Volt } | null;
  readonly stallVolts: Volt | null;
  readonly stallAmps: Ampere | null;
  /** Half width of the band of `stallAmps` as a share; absent: 0.2. Only a user's own part has it. */
  readonly stallTolerance?: number;
  /** What the input of a driver board takes, at the volts of its feed; absent on all other kinds. */
  readonly inputAmps?: Ampere;
  readonly runAmps: Ampere | null;
  readonly runSeconds: Second | null;
  readonly coilOhms: Ohm | null;
  readonly coilHenries: Henry | null;
  readonly throwAmps: Ampere | null;
  readonly throwSeconds: Second | null;
  /** Changeover contacts that move with its slider. */
  readonly contacts: number;
  readonly contactAmps: Ampere;
  /** What catches builders out with this kind, in one sentence. */
  readonly trap: string;
}

export interface SwitchPart extends PartBase, WithContacts {
  readonly kind: 'switch';
  readonly poles: 1 | 2 | 3 | 4;
  readonly centreOff: boolean;
  readonly sprung: boolean;
  readonly hole: Millimetre;
  /** Across the dressed nut, and the circle that a nut driver sweeps. */
  readonly nut: Millimetre;
  readonly driver: Millimetre;
  /** A small hole beside the bush for the tab of its washer; 0 when it has none. */
  readonly tabHole: Millimetre;
  /** Behind the sheet: width (across the poles) and height (along the throw). */
  readonly body: readonly [width: Millimetre, height: Millimetre];
  readonly depth: Millimetre;
  readonly amps: Ampere;
}

export interface ButtonPart extends PartBase, WithContacts {
  readonly kind: 'button';
  readonly poles: number;
  readonly hole: Millimetre;
  readonly body: readonly [width: Millimetre, height: Millimetre];
  readonly amps: Ampere;
}

/** A changeover contact that something else works: the blades of a point, by a rod or a lug. */
export interface ContactPart extends PartBase, WithContacts {
  readonly kind: 'contact';
  readonly amps: Ampere;
}

export interface RelayPart extends PartBase, WithContacts {
  readonly kind: 'relay';
  readonly latching: boolean;
  /** Of a latching one: 2 where each way has a coil of its own, 1 where the polarity of the pulse decides. Held ones: 1. */
  readonly coils: 1 | 2;
  readonly coilVolts: Volt;
  /** Of each coil. */
  readonly coilOhms: Ohm;
  /** The pulse that a latching relay needs; absent where the coil is held. */
  readonly pulseSeconds?: Second;
  readonly poles: number;
  readonly contactAmps: Ampere;
}

export interface ConnectorPart extends PartBase {
  readonly kind: 'connector';
  readonly family: 'dsub' | 'header' | 'screw' | 'din';
  readonly ways: number;
  /** Amps that one way may carry. */
  readonly amps: Ampere;
  /** Where each way sits on the mating face of the plug (pins towards the reader), millimetres, way 1 at index 0. */
  readonly at: readonly Spot[];
}

export interface ResistorPart extends PartBase {
  readonly kind: 'resistor';
  readonly watts: Watt;
  readonly tolerance: number;
}

export interface DiodePart extends PartBase {
  readonly kind: 'diode';
  readonly law: DiodeLaw;
  /** The forward voltage, and the current it was taken at, that `law` was made from. */
  readonly vf?: Volt;
  readonly at?: Ampere;
  readonly amps: Ampere;
  readonly reverse: Volt;
}

export interface WirePart extends PartBase {
  readonly kind: 'wire';
  readonly gauge: SquareMillimetre;
  readonly amps: Ampere;
}

export interface CapacitorPart extends PartBase {
  readonly kind: 'capacitor';
  readonly farads: Farad;
  readonly volts: Volt;
}

/** A capacitor discharge unit: charges slowly through a resistor, dumps its charge into a coil. */
export interface CduPart extends PartBase {
  readonly kind: 'cdu';
  readonly farads: Farad;
  /** The most that its capacitor stands; the volts it is charged to are the supply's. */
  readonly volts: Volt;
  /** The resistor that it charges through. */
  readonly chargeOhms: Ohm;
}

export type Part =
  | LampPart
  | DrivePart
  | SwitchPart
  | ButtonPart
  | RelayPart
  | ContactPart
  | ConnectorPart
  | ResistorPart
  | DiodePart
  | WirePart
  | CapacitorPart
  | CduPart;

/** What is wrong with a user's own part; checks turns each into a finding. */
export type PartProblem =
  | { readonly code: 'part-like-unknown'; readonly id: string; readonly like: string }
  | { readonly code: 'part-figure-unknown'; readonly id: string; readonly figure: string }
  | { readonly code: 'part-figure-bad'; readonly id: string; readonly figure: string; readonly expected: string };

/** The typical parts with the user's own laid over them. */
export interface Catalogue {
  /** The part of this id and kind, or undefined when there is none of that kind. */
  find<K extends Part['kind']>(kind: K, id: string): Extract<Part, { kind: K }> | undefined;
  /** All parts of a kind, by id. */
  all<K extends Part['kind']>(kind: K): readonly Extract<Part, { kind: K }>[];
  /** Does any part have this id? */
  has(id: string): boolean;
  readonly problems: readonly PartProblem[];
}
