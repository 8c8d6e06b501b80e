/** Stage 1 for drives of two coils: their ohms, and a tap of the lead from a charged unit. A battery gives too little and only heats them. */
import { formatFarads, formatNumber, formatVolts, type Ohm } from '../units/index.ts';
import type { Wiring } from '../wiring/index.ts';
import type { CoilPins } from './at-pins.ts';
import { type Band, bandsOverlap, loopOhms, ohmsOnMeter, unitVolts } from './bands.ts';
import { COIL_BAND, DRY_JOINT, OPEN_OHMS, UNIT_FARADS, UNIT_HIGH, UNIT_LOW } from './tolerances.ts';
import type { BenchTest, Expect, KindOfTest } from './types.ts';

/** How a charged capacitor is made safe: it holds its charge after it is switched off. */
export const DISCHARGE = 'discharge it through 100 ohm 2 W for three seconds, not with a screwdriver';

/** The unit on the bench, charged. */
export function unitTest(wiring: Wiring): BenchTest {
  const own = wiring.supplies.find(({ kind }) => kind === 'cdu');
  const { low, high } = own === undefined ? { low: UNIT_LOW, high: UNIT_HIGH } : unitVolts(own);
  const farads = own?.farads ?? UNIT_FARADS;
  return {
    id: 'bench:unit',
    stage: 1,
    lever: null,
    do: `Extra-low voltage only. Charge the capacitor discharge unit of the bench (about ${formatFarads(farads)}) from an isolated, certified supply and measure it before anything is tapped with it. It holds its charge after it is switched off: ${DISCHARGE}, before you touch its leads.`,
    expect: [{ quantity: 'volts', unit: 'V', low, high, at: 'the unit, charged, nothing tapped with it' }],
    tells: 'A unit that does not charge, or is left on the wrong supply.',
    cannotTell: 'How much it holds: a unit with a dried-out capacitor shows the same volts and throws nothing.',
  };
}

export function coilTest(at: CoilPins, leverNormal: boolean, lies: readonly Expect[]): KindOfTest {
  const { drive } = at;
  const [thrown, rests] = leverNormal ? [at.first, at.second] : [at.second, at.first];
  const ohms = coilOhms(at);
  const cutsItself = drive.part.what === 'twin-coil-end-off';
  const reads: readonly Expect[] =
    ohms === null
      ? []
      : cutsItself
        ? [
            band(ohms, `${rests} to ${at.common}, after the throw`),
            {
              quantity: 'ohms',
              unit: 'ohm',
              low: OPEN_OHMS,
              high: null,
              at: `${thrown} to ${at.common}, after the throw`,
            },
          ]
        : [band(ohms, `${thrown} to ${at.common}, nothing else clipped to them`)];
  const dry = ohms === null ? null : { low: ohms.low + DRY_JOINT, high: ohms.high + DRY_JOINT };
  return {
    do: `Panel parted from the layout, ${cutsItself ? 'the drive lying the other way' : 'the meter on ohms first'}. Then minus of the charged unit on ${at.common} of the layout half, and tap ${thrown} with its plus: a tap, never longer than a tenth of a second, for a coil that is held burns.${cutsItself ? ' Take the unit off and put the meter on ohms.' : ''} If it lies the other way, swap the wires of its two coils at the drive, never in the connector.`,
    expect: [...reads, ...lies],
    tells: `An open or shorted coil, an open or dry joint, coils crossed, a pin counted from the wrong side, a lost common${cutsItself ? ', an end contact that sticks closed: that coil would burn' : ''}.`,
    cannotTell: `${
      ohms === null || dry === null
        ? 'The ohms of its coils, which are not in its figures.'
        : bandsOverlap(ohms, dry)
          ? `A dry joint of ${DRY_JOINT} ohm would show ${formatNumber(dry.low, 1)} to ${formatNumber(dry.high, 1)} ohm, which overlaps the good band: this reading cannot tell.`
          : 'A few shorted turns: ohms are typical of the kind, so measure one that is known to be good and go by that.'
    } Whether the lever's own feed gives it enough: that shows in stage 4, with all its wires. Whether the blades follow the drive is for the eye.`,
  };
}

/** One coil and both its wires on the meter; null where the part does not say. */
function coilOhms({ drive }: CoilPins): Band | null {
  const ohms: Ohm | null = drive.part.coilOhms;
  if (ohms === null) return null;
  const wires = loopOhms(drive);
  return ohmsOnMeter({ low: ohms * (1 - COIL_BAND) + wires, high: ohms * (1 + COIL_BAND) + wires });
}

function band(ohms: Band, at: string): Expect {
  return { quantity: 'ohms', unit: 'ohm', ...ohms, at };
}

/** "discharge C1 (0.0047 F at 24 V)..." of every capacitor of the panel; empty where there is none. */
export function dischargeWords(wiring: Wiring): string {
  const held = wiring.capacitors.map(({ id, farads }) => {
    const supply = wiring.supplies.find((each) => each.id === id);
    const volts = supply === undefined ? '' : ` at up to ${formatVolts(supply.high)}`;
    return `${id} (${formatFarads(farads)}${volts})`;
  });
  return held.length === 0
    ? ''
    : ` First discharge ${held.join(', ')}: each through 100 ohm 2 W for three seconds, not with a screwdriver.`;
}
