import type { Ampere, Millimetre } from '../units/index.ts';
import type { ButtonPart, ContactPart, RelayPart, SwitchPart } from './types.ts';

const SOURCE = 'from memory';

type Poles = 1 | 2 | 3 | 4;
/** How a toggle behaves: stays both ways, has a middle to rest in, or springs back to the middle when let go. */
export type ToggleAction = 'held' | 'centre-off' | 'sprung';

const POLES: readonly Poles[] = [1, 2, 3, 4];
/** How a toggle can behave, the usual kind first. */
export const TOGGLE_ACTIONS: readonly ToggleAction[] = ['held', 'centre-off', 'sprung'];
const POLE_WORDS: Readonly<Record<Poles, string>> = { 1: 'one-pole', 2: 'two-pole', 3: 'three-pole', 4: 'four-pole' };
const ACTION_WORDS: Readonly<Record<ToggleAction, string>> = {
  held: '',
  'centre-off': ', centre off',
  sprung: ', sprung to the middle',
};

interface ToggleSize {
  readonly prefix: string;
  readonly word: string;
  readonly hole: Millimetre;
  readonly nut: Millimetre;
  readonly driver: Millimetre;
  readonly tabHole: Millimetre;
  readonly height: Millimetre;
  readonly depth: Millimetre;
  readonly amps: Ampere;
  /** Those that it can be had with, rising: width of the body and price. */
  readonly poles: readonly (readonly [poles: Poles, width: Millimetre, price: number])[];
}

const STANDARD: ToggleSize = {
  prefix: 'toggle',
  word: 'toggle',
  hole: 12.2,
  nut: 15.8,
  driver: 22,
  tabHole: 0,
  height: 31,
  depth: 35,
  amps: 3,
  poles: [
    [1, 13, 2.6],
    [2, 18, 3.4],
    [3, 27, 5.2],
    [4, 36, 6.8],
  ],
};
const MINIATURE: ToggleSize = {
  prefix: 'mini-toggle',
  word: 'miniature toggle',
  hole: 6.4,
  nut: 8,
  driver: 13,
  tabHole: 2.4,
  height: 13,
  depth: 22,
  amps: 3,
  poles: [
    [1, 8, 1.4],
    [2, 13, 1.8],
    [3, 18, 3],
    [4, 23, 3.8],
  ],
};
const SUB_MINIATURE: ToggleSize = {
  prefix: 'sub-mini-toggle',
  word: 'sub-miniature toggle',
  hole: 5.2,
  nut: 8,
  driver: 12,
  tabHole: 0,
  height: 9,
  depth: 17,
  amps: 1,
  poles: [
    [1, 5.5, 1.6],
    [2, 9.5, 2.2],
  ],
};

function toggleId(prefix: string, poles: Poles, action: ToggleAction): string {
  return `${prefix}-${poles}p${action === 'held' ? '' : `-${action}`}`;
}

function toggle(
  size: ToggleSize,
  [poles, width, price]: ToggleSize['poles'][number],
  action: ToggleAction,
): SwitchPart {
  return {
    kind: 'switch',
    id: toggleId(size.prefix, poles, action),
    name: `${POLE_WORDS[poles]} ${size.word}${ACTION_WORDS[action]}`,
    // A centre or a spring costs about a quarter more.
    price: Math.round(price * (action === 'held' ? 10 : 12.5)) / 10,
    source: SOURCE,
    poles,
    centreOff: action === 'centre-off',
    sprung: action === 'sprung',
    hole: size.hole,
    nut: size.nut,
    driver: size.driver,
    tabHole: size.tabHole,
    body: [width, size.height],
    depth: size.depth,
    amps: size.amps,
    plating: 'silver',
  };
}

/**
 * Every typical toggle. `sprung` ones rest in the middle when let go and have `centreOff` false: nothing can be left
 * standing there as a choice of its own.
 */
export const SWITCHES: readonly SwitchPart[] = [STANDARD, MINIATURE, SUB_MINIATURE].flatMap((size) =>
  size.poles.flatMap((poles) => TOGGLE_ACTIONS.map((action) => toggle(size, poles, action))),
);

/** The id of the smallest standard toggle with at least so many poles: toggle-1p for 0 or 1; null above 4. */
export function smallestToggle(poles: number, action: ToggleAction = 'held'): string | null {
  const enough = POLES.find((each) => each >= poles);
  return enough === undefined ? null : toggleId(STANDARD.prefix, enough, action);
}

function push(poles: 1 | 2, width: Millimetre, price: number): ButtonPart {
  return {
    kind: 'button',
    id: `push-${poles}p`,
    name: `${POLE_WORDS[poles]} push button`,
    price,
    source: SOURCE,
    poles,
    hole: 7,
    body: [width, 13],
    amps: 1,
    plating: 'silver',
  };
}

/** Every typical push button: closed while it is pressed. */
export const BUTTONS: readonly ButtonPart[] = [push(1, 8, 0.9), push(2, 13, 1.6)];

/** The id of the relay that pulls while its coil is fed, and falls back without. */
export const HELD_RELAY = 'relay-2p';

/**
 * Every typical relay. Each coil wants a diode across it, cathode to plus. The latching one has a coil for each way, as a
 * pulse feed wants it: one beside each coil of the drive.
 */
export const RELAYS: readonly RelayPart[] = [
  {
    kind: 'relay',
    id: HELD_RELAY,
    name: 'two-pole relay, 12 V',
    price: 2.4,
    source: SOURCE,
    latching: false,
    coils: 1,
    coilVolts: 12,
    coilOhms: 400,
    poles: 2,
    contactAmps: 1,
    plating: 'silver',
  },
  {
    kind: 'relay',
    id: 'relay-latching-2p',
    name: 'two-pole latching relay, 12 V',
    price: 3.6,
    source: SOURCE,
    latching: true,
    coils: 2,
    coilVolts: 12,
    coilOhms: 200,
    pulseSeconds: 0.01,
    poles: 2,
    contactAmps: 1,
    plating: 'silver',
  },
];

/** The id of the part that tells how blades lie. */
export const BLADE_CONTACT = 'blade-contact';

/** The typical contact on the blades: a small switch that a lug on the tie bar pushes over. */
export const CONTACTS: readonly ContactPart[] = [
  {
    kind: 'contact',
    id: BLADE_CONTACT,
    name: 'changeover contact worked by the blades',
    price: 1.9,
    source: SOURCE,
    amps: 1,
    plating: 'silver',
  },
];
