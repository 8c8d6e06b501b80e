import type { Ampere, Farad, SquareMillimetre, Volt, Watt } from '../units/index.ts';
import { lawFrom } from './diode-law.ts';
import type { CapacitorPart, CduPart, DiodePart, ResistorPart, WirePart } from './types.ts';

function resistor(word: string, watts: Watt, price: number): ResistorPart {
  return {
    kind: 'resistor',
    id: `resistor-${word}-watt`,
    name: `${word} watt resistor, 5 %`,
    price,
    source: 'common practice; price from memory',
    watts,
    tolerance: 0.05,
  };
}

/** Typical resistors by rating, rising. */
export const RESISTORS: readonly ResistorPart[] = [
  resistor('quarter', 0.25, 0.03),
  resistor('half', 0.5, 0.05),
  resistor('one', 1, 0.1),
  resistor('two', 2, 0.2),
];

function diode(id: string, name: string, vf: Volt, at: Ampere, amps: Ampere, reverse: Volt, price: number): DiodePart {
  return {
    kind: 'diode',
    id,
    name,
    price,
    source: 'from memory',
    law: lawFrom(vf, at, 1.8, 0.05),
    vf,
    at,
    amps,
    reverse,
  };
}

/** Typical diodes: small ones guard lamps, power ones steer feeds and catch a coil's kick, one stands in a capacitor unit. */
export const DIODES: readonly DiodePart[] = [
  diode('diode-small', 'small-signal diode', 0.7, 0.01, 0.2, 75, 0.04),
  diode('diode-power', '1 A rectifier diode', 0.7, 0.01, 1, 400, 0.06),
  diode('diode-cdu', '3 A rectifier diode', 0.8, 1, 3, 400, 0.2),
];

const AMPS_FOUND = 'usual rating of equipment wire of this stranding, published table; price of a metre from memory';
const AMPS_REMEMBERED = 'amps, and price of a metre, from memory';

function wire(gauge: SquareMillimetre, amps: Ampere, price: number, source: string): WirePart {
  return {
    kind: 'wire',
    id: `wire-${String(gauge).replace('.', '-')}`,
    name: `stranded wire, ${gauge} mm2`,
    price,
    source,
    gauge,
    amps,
  };
}

/** Typical stranded wire by gauge, rising; the price is of a metre. Amps are for one wire in free air, less in a loom. */
export const WIRES: readonly WirePart[] = [
  wire(0.14, 1, 0.15, AMPS_REMEMBERED),
  wire(0.22, 1.4, 0.2, AMPS_FOUND),
  wire(0.5, 3, 0.3, AMPS_FOUND),
  wire(0.75, 4.5, 0.4, AMPS_FOUND),
  wire(1, 6, 0.5, AMPS_REMEMBERED),
  wire(1.5, 10, 0.7, AMPS_REMEMBERED),
];

function capacitor(microfarads: number, volts: Volt, price: number): CapacitorPart {
  const farads: Farad = Number(`${microfarads}e-6`);
  return {
    kind: 'capacitor',
    id: `capacitor-${microfarads}`,
    name: `${microfarads} µF electrolytic capacitor, ${volts} V`,
    price,
    source: 'common sizes; price from memory',
    farads,
    volts,
  };
}

/** Typical electrolytic capacitors, rising. They keep their charge after the supply is off. */
export const CAPACITORS: readonly CapacitorPart[] = [
  capacitor(470, 35, 0.3),
  capacitor(1000, 35, 0.5),
  capacitor(2200, 35, 0.8),
  capacitor(4700, 35, 1.6),
];

/** Typical capacitor discharge units. They keep their charge after the supply is off. */
export const CDUS: readonly CduPart[] = [
  {
    kind: 'cdu',
    id: 'cdu',
    name: 'capacitor discharge unit, 4,700 µF',
    price: 9,
    source: 'from memory',
    farads: 0.0047,
    volts: 35,
    chargeOhms: 100,
  },
];
