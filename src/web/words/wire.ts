/** Words of the stage Wire: why a lamp will or will not light. */
import type { CircuitFigures, LampFigures, StringSum, SymbolKind } from '../../book/index.ts';
import type { Basis } from '../../lamps/index.ts';
import type { Lies } from '../../panel/index.ts';
import type { Position } from '../../wiring/index.ts';
import type { WireCircuit, WireSupply, WireValue } from '../worker/wire-types.ts';
import { count, fixed, list, percent, plain, ranged } from './figures.ts';

/** "12.00 V" */
export const voltsText = (volts: number): string => `${fixed(volts, 2)} V`;

/** "7.0 mA", "0.05 mA", "1.25 A" */
export function ampsText(amps: number): string {
  const size = Math.abs(amps);
  if (size >= 1) return `${fixed(amps, 2)} A`;
  return `${milliamps(amps)} mA`;
}

/** Thousandths of an ampere: two decimals below one, where a glimmer is told from nothing. */
export function milliamps(amps: number): string {
  const milli = amps * 1000;
  return fixed(milli, Math.abs(milli) < 1 ? 2 : Math.abs(milli) < 100 ? 1 : 0);
}

/** "390 Ω", "2.2 kΩ" */
export function ohmsText(ohms: number): string {
  return ohms >= 1e6 ? `${plain(ohms / 1e6)} MΩ` : ohms >= 1000 ? `${plain(ohms / 1000)} kΩ` : `${plain(ohms)} Ω`;
}

const knows: Readonly<Record<Basis, string>> = {
  asked: 'what was asked, not how drives or blades lie',
  drive: 'how the drive lies, not the blades',
  blades: 'how the blades lie',
};

const positionWords: Readonly<Record<Position, string>> = { normal: 'Normal', centre: 'Centre', reverse: 'Reverse' };

const kinds: Readonly<Record<SymbolKind, string>> = {
  supply: 'Supply',
  battery: 'Battery',
  ac: 'Alternating supply',
  fuse: 'Fuse',
  contact: 'Changeover contact',
  resistor: 'Resistor',
  lamp: 'Lamp',
  diode: 'Diode',
  capacitor: 'Capacitor',
  motor: 'Drive',
  coil: 'Coil',
  'relay-coil': 'Coil of a relay',
  button: 'Push button',
  way: 'Pin',
  board: 'Driver board',
};

const looks: Readonly<Record<LampFigures['look'], string>> = {
  unlit: 'unlit',
  faint: 'faint',
  good: 'lit',
  bright: 'too bright',
  destroyed: 'destroyed',
};

const liesText = (lies: Lies): string => list(Object.entries(lies).map(([point, lie]) => `${point} lies ${lie}`));

export const wireWords = {
  stage: 'Circuits',
  levers: 'Levers and circuits',
  leversHint: (levers: number, points: number): string =>
    `${count(levers, 'circuit')}, working ${count(points, 'point')}`,
  nothing: 'Nothing is wired yet',
  nothingMore: 'Lay strips that meet at a point: each point gets a lever, a drive and a circuit.',
  toLay: 'Lay a point',
  asking: 'Working it out',
  unsolved: 'This network has no answer that holds: the figures below are not to be relied on.',
  notCovered: 'The rules of drawing do not cover this circuit: here are its wires, from end to end.',
  clear: 'clear',
  circuitName: ({ id, kind, name, works }: Pick<WireCircuit, 'id' | 'kind' | 'name' | 'works'>): string =>
    name ??
    (kind === 'lever'
      ? works.length === 0
        ? `Lever ${id}`
        : list(works)
      : kind === 'point'
        ? `Point ${id}`
        : `Lamps by ${list(works)}`),
  works: ({ kind, works }: Pick<WireCircuit, 'kind' | 'works'>): string =>
    // The name of what hangs on several levers says them already.
    kind === 'tree'
      ? ''
      : works.length === 0
        ? 'works nothing'
        : works.length === 1
          ? `works ${works[0]}`
          : `works ${list(works)} together`,
  short: ({ works }: Pick<WireCircuit, 'works'>): string => works.join(', '),
  evidence: (bases: readonly Basis[]): string =>
    bases.length === 0 ? 'No lamp hangs in this circuit' : `Lamps know ${list(bases.map((basis) => knows[basis]))}`,
  position: positionWords,
  positionOf: (lever: string): string => `Position of ${lever}`,
  lieOf: (point: string): string => `Lie of ${point}`,
  historyHint: 'Nothing asks these points how to lie: say how they lie.',
  load: 'Supply load',
  loadOf: ({ worst, amps }: Pick<WireSupply, 'worst' | 'amps'>): string => `${fixed(worst, 2)} A of ${plain(amps)} A`,
  loadHint: 'At switch-on: every drive at once, and the lamps of the worst setting',
  drawing: (name: string): string => `Circuit of ${name}`,
  drawingKeys: 'Arrow keys move it, plus and minus zoom, 0 fits it',
  zoomOf: 'Of the drawing at its own size',
  fitTitle: 'The whole circuit',
  underLayout: 'Under the layout',
  inReverse: (volts: number): string => `${voltsText(volts)} in reverse`,
  leverLies: (lever: string, position: Position): string =>
    `${lever} ${position === 'centre' ? 'stands in its centre' : `lies ${position}`}`,
  pickedWire: (id: string, colour: string, from: string, to: string, gauge: number, metres: string): string =>
    `${id} ${colour}, ${from} to ${to}, ${plain(gauge)} mm², ${metres}`,
  metres: (mm: number): string => `${fixed(mm / 1000, 2)} m`,
  faultsOfPart: (n: number): string =>
    n === 0 ? 'No single fault of it is listed' : `Its ${count(n, 'single fault')}`,
  pickedOff: 'Put away',
  reading: 'The circuit in reading order',
  looks,
  symbolRow: (kind: SymbolKind, title: string, note: string, said: readonly string[]): string =>
    [`${kinds[kind]} ${title}`.trim(), note, ...said].filter((each) => each !== '').join(', '),
  endVolts: (terminal: string, volts: number | null | undefined): string =>
    volts === undefined ? '' : `${terminal} ${volts === null ? 'floats' : `at ${voltsText(volts)}`}`,
  closedTo: (to: CircuitFigures['closed'][string]): string =>
    to === 'none' ? 'open' : to === 'both' ? 'closed both ways' : `closed to ${to}`,

  sums: 'Sums',
  lampCount: (n: number, worst: Pick<StringSum, 'seen' | 'look'> | null): string =>
    n === 0 || worst === null
      ? 'no lamp is meant to light'
      : `${count(n, 'lamp')}, ${worst.look === 'destroyed' ? 'destroyed' : worst.look === 'bright' ? 'too bright' : worst.seen === 'doubtful' ? 'a glimmer' : worst.seen}`,
  strings: (lamps: readonly string[], alike: number): string =>
    alike > 1 ? `${list(lamps)}: ${alike} strings alike` : list(lamps),
  supply: 'Supply',
  lamps: (n: number, each: string): string => `Lamps, ${n} × ${each} V`,
  oneLamp: 'Lamp',
  wants: (n: number, milli: string, each: string): string =>
    n === 1 ? `Lamp at ${milli} mA wants` : `Lamps at ${milli} mA want ${n} × ${each} V`,
  takes: (supply: string, n: number, each: string): string =>
    n === 1 ? `Of ${supply} V it takes` : `Of ${supply} V they take ${n} × ${each} V`,
  left: (id: string): string => `Left for ${id}`,
  leftQuarter: (id: string, quarter: string): string => `Left for ${id}: a quarter, ${quarter} V, is wanted`,
  leftDrive: (id: string): string => `Left for drive ${id}, in series`,
  current: (left: string, ohms: string, strings: number): string =>
    strings > 1 ? `Current, ${left} ÷ ${ohms} for ${strings} strings` : `Current, ${left} ÷ ${ohms}`,
  currentAlone: 'Current',
  bands: (seen: string): string => `Low and high; seen from ${seen} mA`,
  and: (one: string, other: string): string => `${one} and ${other} mA`,
  doubtful: (amps: string): string => `${amps}, doubtful`,
  tooMuch: (amps: string, most: string): string => `${amps}, above ${most}`,
  reverse: (lamps: readonly string[], limit: string): string => `${ranged(lamps)} dark, in reverse: limit ${limit} V`,
  supplyMark: (volts: string): string => `supply ${volts} V`,
  short_: 'short',

  findings: 'Findings',
  noFindings: 'Nothing found in this circuit',
  noFindingsWithout: 'Nothing found without the fault',
  noFindingsMore: 'Volts, currents, bands, reverse volts, contacts, pins, wires and what every lamp says were checked.',
  ofSupply: 'Of its supply and of the whole panel',
  andSo: (ids: readonly string[]): string => `The same of ${list(ids)}`,
  price: (price: number): string =>
    price > 0 ? `costs ${fixed(price, 2)}` : price < 0 ? `saves ${fixed(-price, 2)}` : 'free',
  checking: 'Checking',

  values: 'Values',
  yours: 'yours',
  typical: 'computed',
  measured: 'measured',
  valueLabel: ({ what, id }: Pick<WireValue, 'what' | 'id'>): string =>
    what === 'ohms'
      ? `${id}, Ω`
      : what === 'lamp-amps'
        ? `${id}, current wanted, mA`
        : what === 'supply-volts'
          ? `${id}, V`
          : what === 'drive-amps'
            ? `${id}, stalled, measured, mA`
            : `${id}, wire one way, m`,
  badNumber: (least: number, most: number, unit: string): string =>
    `A number from ${plain(least)} to ${plain(most)} ${unit}`,
  valuesHint: 'What you type is kept as yours and never altered; what is measured wins over what is typical.',

  faults: 'Try a single fault',
  faultsFind: 'Part, wire or kind of fault',
  faultsCount: (shown: number, all: number): string =>
    shown === all ? count(all, 'fault') : `${shown} of ${count(all, 'fault')}: type to find the others`,
  noFault: 'No fault',
  /** Where a fault is. */
  wireRun: (from: string, to: string, colour: string): string => `${from} to ${to}, ${colour}`,
  atLever: (id: string, name: string): string => `switch of ${name === '' || name === id ? id : `${id} ${name}`}`,
  atPoints: (points: string): string => `moves ${points}`,
  onStrip: (strip: string): string => (strip === '' ? '' : `on ${strip}`),
  pinTo: (pin: string, to: string): string => `${pin} to ${to}`,
  faultTried: (says: string): string => `Tried: ${says}`,
  takeAway: 'Take it away',
  lies: 'lies',
  liesHere: (lamp: string, look: string, blades: Lies): string =>
    Object.keys(blades).length === 0
      ? `${lamp} is ${look}: it lies here`
      : `${lamp} is ${look} while ${liesText(blades)}: it lies here`,
  mayLieHere: (lamp: string, blades: Lies): string =>
    Object.keys(blades).length === 0 ? `${lamp} may lie here` : `${lamp} may lie here: ${liesText(blades)} perhaps`,
  noneLies: 'No lamp of this circuit lies with the levers so',
  liesSomewhere: (lamp: string): string => `makes ${lamp} lie in some position`,
  face: 'The face with the levers so',
  faceLies: (id: string, sure: boolean): string => (sure ? `${id} lies here` : `${id} may lie here`),

  truth: 'What the lamps can know',
  tryAll: 'Try every single fault',
  trying: 'Every single fault is being tried',
  share: (lie: number, tried: number): string =>
    tried === 0
      ? 'No single fault was tried here'
      : `${lie} of ${count(tried, 'single fault')} here would make a lamp lie: ${percent(lie / tried)}`,
  claims: (id: string, claim: readonly Lies[]): string =>
    claim.length === 0 ? `${id} claims no lie` : `${id}: ${claim.map(liesText).join(', or ')}`,
  better: 'Better evidence, cheapest first, in the money of your prices',
  suggestion: (money: number | null, wires: number, pins: number, cures: number): string =>
    [
      money === null ? 'no such part in the catalogue' : money === 0 ? 'nothing to buy' : `costs ${fixed(money, 2)}`,
      wires === 0 ? '' : count(wires, 'wire'),
      pins === 0 ? '' : count(pins, 'pin'),
      `${count(cures, 'fault')} would lie no more, on the whole panel`,
    ]
      .filter((each) => each !== '')
      .join(', '),

  connector: (id: string): string => `Connector ${id}`,
  side: (half: 'panel' | 'layout', gender: 'plug' | 'socket'): string =>
    `${half === 'panel' ? 'Panel' : 'Layout'} half, ${gender}, from the wiring side`,
  flip: (half: 'panel' | 'layout'): string => (half === 'panel' ? 'Layout half' : 'Panel half'),
  pin: (number: number): string => `Pin ${number}`,
  fixedPin: 'yours',
  pinsHint: 'Count from the figure moulded beside pin 1, not from a corner.',
  switch: (id: string): string => `Switch ${id} from behind`,
  switchHint: 'Bat up is normal; it points away from the contact that it closes.',
  polesUsed: (used: number, poles: number): string => `${used} of ${count(poles, 'pole')} used`,
  role: { normal: 'closed in normal', common: 'common', reverse: 'closed in reverse' },
  tagNothing: 'nothing',
  toEnd: (id: string, colour: string, to: string): string => `${id} ${colour} to ${to}`,

  supplies: 'Supplies, fuses and returns',
  supplyRow: ({ id, volts, amps }: Pick<WireSupply, 'id' | 'volts' | 'amps'>): string =>
    `${id}, ${plain(volts)} V, ${plain(amps)} A`,
  fuseRow: (id: string, amps: number): string => `Fuse ${id}, ${plain(amps)} A`,
  chargedFrom: (from: string): string => `charged from ${from}`,
  returnRow: (id: string, pins: number, circuits: readonly string[]): string =>
    `Return ${id}, ${count(pins, 'pin')}, of ${list(circuits)}`,
  wiresTable: { wire: 'Wire', from: 'From', to: 'To', colour: 'Colour', volts: 'Volts' },
} as const;
