import type { Ampere, Millimetre, Volt } from '../units/index.ts';
import type { LampPart } from './types.ts';

/** Round light-emitting diodes. Forward volts are those of low current, where a panel works them. */

const SOURCE_NEW =
  'forward volts at 2 mA from memory, close to data sheets of low-current types (1.8 to 1.9 V); reverse 5 V as in every data sheet read; holes: common practice';
const SOURCE_OLD =
  'forward volts at 10 mA from memory; reverse 5 V as in every data sheet read; holes: common practice';

const NEW: readonly (readonly [colour: string, vf: Volt, price: number])[] = [
  ['red', 1.8, 0.1],
  ['amber', 1.85, 0.1],
  ['yellow', 1.9, 0.1],
  ['green', 1.9, 0.1],
  ['pure-green', 2.7, 0.2],
  ['blue', 2.75, 0.2],
  ['white', 2.75, 0.2],
];
const OLD: readonly (readonly [colour: string, vf: Volt])[] = [
  ['red', 1.9],
  ['amber', 2.0],
  ['yellow', 2.05],
  ['green', 2.1],
];
const SIZES: readonly (readonly [size: Millimetre, hole: Millimetre])[] = [
  [3, 3.2],
  [5, 5.4],
];

/** Greatest current to run one at for good; makers allow 25 to 30 mA, kept away from. */
const MAX: Ampere = 0.02;
const REVERSE: Volt = 5;

function lamp(
  id: string,
  name: string,
  colour: string,
  size: Millimetre,
  hole: Millimetre,
  vf: Volt,
  price: number,
): LampPart {
  return {
    kind: 'lamp',
    id,
    name,
    price,
    source: SOURCE_NEW,
    colour,
    size,
    vf,
    at: 0.002,
    seen: 0.0002,
    max: MAX,
    reverse: REVERSE,
    hole,
    n: 2,
    rs: 5,
    elements: 1,
    leads: 2,
  };
}

function listLamps(): LampPart[] {
  const lamps: LampPart[] = [];
  for (const [size, hole] of SIZES) {
    for (const [colour, vf, price] of NEW) {
      lamps.push(
        lamp(`led-${size}-${colour}`, `${size} mm ${colour.replace('-', ' ')} lamp`, colour, size, hole, vf, price),
      );
    }
    for (const [colour, vf] of OLD) {
      lamps.push({
        ...lamp(`led-${size}-${colour}-old`, `${size} mm ${colour} lamp, old kind`, colour, size, hole, vf, 0.08),
        source: SOURCE_OLD,
        at: 0.01,
        seen: 0.002,
      });
    }
  }
  // Of two colours, `vf` lies midway between red 1.80 V and green 1.90 V: well inside the band of +-0.1 V for both.
  const twoColours = lamp('led-5-red-green-2', '5 mm red and green lamp, two leads', 'red-green', 5, 5.4, 1.85, 0.3);
  lamps.push({ ...twoColours, elements: 2 });
  for (const common of ['cathode', 'anode'] as const) {
    lamps.push({
      ...twoColours,
      id: `led-5-red-green-3${common === 'cathode' ? 'c' : 'a'}`,
      name: `5 mm red and green lamp, three leads, common ${common}`,
      elements: 2,
      leads: 3,
      common,
    });
  }
  return lamps;
}

/** Every typical lamp: `led-3-*` and `led-5-*`, their `-old` kinds, and three of two colours. */
export const LAMPS: readonly LampPart[] = listLamps();
