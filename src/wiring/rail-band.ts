/**
 * Between what volts the rails of a half-wave feed stand, where steady rails stand in for them.
 *
 * Lamps and diodes carry more than in proportion to their volts, so the mean of what they carry is no less than what they carry at the mean
 * volts. The low edge is the mean volts of a rail that carries the worst draw of the whole supply, at its low volts: ripple, diode and
 * ohms of the supply are in it. The high edge is a rail that carries next to nothing, at high volts: smoothed, the crest less a diode
 * that hardly conducts; without a capacitor the mean of the half wave and, since a lamp is dark for the time that the wave is below its own
 * volts, as many volts more as the longest string of lamps has.
 */
import { rectify } from '../circuit/index.ts';
import { feedVolts, rectifiedVolts } from '../lamps/index.ts';
import type { Supply } from '../panel/index.ts';
import { type DiodeLaw, forwardVolts } from '../parts/index.ts';
import type { Ampere, Volt } from '../units/index.ts';
import { RAIL_LEAST_AMPS } from './tolerances.ts';

export interface RailBand {
  readonly low: Volt;
  readonly nominal: Volt;
  readonly high: Volt;
}

/** `draw`: the most that the supply gives at once, all of it from one rail. `string`: forward volts of the longest string of lamps. */
export function railBand(
  supply: Pick<Supply, 'volts' | 'tolerance' | 'voltsOffLoad' | 'farads' | 'ohms' | 'frequency'>,
  law: DiodeLaw,
  draw: Ampere,
  string: Volt,
): RailBand {
  const { nominal } = rectifiedVolts(supply);
  const { low, high } = feedVolts(supply);
  const { ohms, frequency: hertz } = supply;
  const farads = supply.farads ?? 0;
  const crest = high * Math.SQRT2;
  const most =
    farads > 0 ? crest - forwardVolts(law, RAIL_LEAST_AMPS) : Math.min(crest, crest / Math.PI + Math.max(0, string));
  return { low: Math.max(0, Math.min(nominal, leastOf())), nominal, high: Math.max(nominal, most) };

  function leastOf(): Volt {
    if (!(low > 0)) return 0;
    if (!(draw > 0)) return nominal * (low / supply.volts);
    const source = { kind: 'half-wave', volts: low, ohms, hertz, law, farads } as const;
    // What draws the worst at the rail's nominal volts, taken as ohms.
    return rectify(source, { ohms: nominal / draw }).mean;
  }
}
