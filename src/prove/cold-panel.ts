/**
 * Stage 2: the panel alone, unplugged, no power, a meter on ohms. Lamps are diodes: below their forward volts they read as nothing,
 * so every reading across them is "at least": a meter that pushes harder sees, at the most, all their resistors side by side.
 */

import { RESISTOR_BAND } from '../lamps/index.ts';
import type { Ohm } from '../units/index.ts';
import { METER_BAND, type Position, type WiredSupply, type Wiring } from '../wiring/index.ts';
import { drivesAtPins } from './at-pins.ts';
import { CONTINUITY, FUSE_OHMS, OHM_DIGITS, OPEN_OHMS } from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

const PARTED = 'Panel unplugged from the layout, its supply unplugged from the panel, no lever in the middle.';

/** Each supply's rails, then each lever's positions. */
export function coldTests(wiring: Wiring): readonly BenchTest[] {
  const drives = drivesAtPins(wiring);
  return [
    ...wiring.supplies.map(railTest),
    ...wiring.circuits.flatMap((circuit) => {
      const supply = wiring.supplies.find((each) => each.id === circuit.supply);
      return supply === undefined ? [] : circuit.positions.map((position) => leverTest(circuit.id, position, supply));
    }),
  ];

  function railTest(supply: WiredSupply): BenchTest {
    const [plus, minus] = [`${supply.id}.p`, `${supply.id}.m`];
    const rails = least(supply.circuits);
    return {
      id: `cold:${supply.id}`,
      stage: 2,
      lever: null,
      do: `${PARTED} All levers normal. Meter on ohms between the panel's own ends of the leads ${plus} and ${minus}, both ways round${supply.fuse === null ? '' : `, then across the fuse ${supply.fuse.id}`}.`,
      expect: [
        atLeast(rails, `${plus} to ${minus}, either way round`),
        ...(supply.fuse === null ? [] : [upTo(FUSE_OHMS, `across ${supply.fuse.id}`)]),
      ],
      tells: 'A short across the supply, a solder bridge on a switch, a blown fuse.',
      cannotTell: CANNOT_TELL_LAMPS,
    };
  }

  function leverTest(lever: string, position: Position, supply: WiredSupply): BenchTest {
    const plus = supply.fuse === null ? `${supply.id}.p` : `${supply.fuse.id}.2`;
    const minus = `${supply.id}.m`;
    const mine = drives.filter((each) => each.lever === lever);
    const ends = mine.length > 0 ? mine.map(({ first, second }) => [first, second] as const) : [tags(lever)];
    const across = position === 'centre' ? least([lever]) : least(supply.circuits);
    const expect = ends.flatMap(([first, second]): Expect[] => {
      const [toPlus, toMinus] = position === 'reverse' ? [second, first] : [first, second];
      const rail = position === 'centre' ? open : upToContinuity;
      return [
        rail(`${plus} to ${toPlus}`),
        rail(`${minus} to ${toMinus}`),
        atLeast(across, `${first} to ${second}, either way round`),
      ];
    });
    const others = position === 'centre' ? 'in its middle' : position;
    return {
      id: `cold:${lever}:${position}`,
      stage: 2,
      lever,
      do: `${position === 'centre' ? PARTED.replace(', no lever in the middle', '') : PARTED} Lever ${lever} ${others}, all others normal. Meter on ohms between the spots named.`,
      expect,
      tells:
        position === 'centre'
          ? 'A pole that stays closed in the middle, a bridge between the pair.'
          : 'A wire to the wrong tag or pin, a crossed pair on the panel side, an open or dry joint, a switch upside down, a solder bridge between tags or neighbouring pins.',
      cannotTell: `A joint of an ohm or less. A bridge between two pins that lie on the same rail in this position shows when this lever is thrown and the other is not. ${CANNOT_TELL_LAMPS}`,
    };
  }

  /** The least that a meter may show across what these levers' lamps leave between plus and minus. */
  function least(circuits: readonly string[]): Ohm {
    const resistors = wiring.resistors.filter((each) => circuits.includes(each.circuit));
    const siemens = resistors.reduce((sum, { ohms }) => sum + 1 / (ohms * (1 - RESISTOR_BAND)), 0);
    if (siemens === 0) return OPEN_OHMS;
    return Math.min(OPEN_OHMS, Math.max(0, (1 / siemens) * (1 - METER_BAND) - OHM_DIGITS));
  }

  function tags(lever: string): readonly [string, string] {
    return [`${lever}.t2`, `${lever}.t5`];
  }
}

const CANNOT_TELL_LAMPS =
  'Nothing of the lamps: most meters push less than a lamp needs and then read open, the others may light one faintly; which way round a lamp is shows in stage 3.';

const atLeast = (low: Ohm, at: string): Expect => ({ quantity: 'ohms', unit: 'ohm', low, high: null, at });
const upTo = (high: Ohm, at: string): Expect => ({ quantity: 'ohms', unit: 'ohm', low: 0, high, at });
const open = (at: string): Expect => atLeast(OPEN_OHMS, at);
const upToContinuity = (at: string): Expect => upTo(CONTINUITY, at);
