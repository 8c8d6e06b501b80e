import type { Ampere, Ohm, Volt } from '../units/index.ts';
import type { DiodeLaw, LampPart } from './types.ts';

/** Boltzmann constant, J/K, and elementary charge, C: exact by the definition of the SI (CODATA 2018). */
const BOLTZMANN = 1.380649e-23;
const ELEMENTARY_CHARGE = 1.602176634e-19;
/** 27 C, the temperature at which every law of the product stands; SPICE programs start from it too. */
const KELVIN = 300.15;

/** Thermal voltage k T / q at 27 C: 25.865 mV. A rounded 26 mV would be 28.6 C. */
export const THERMAL_VOLTAGE: Volt = (BOLTZMANN * KELVIN) / ELEMENTARY_CHARGE;

/** Above this exponent the saturation current would leave the range of a double. No unit. */
const GREATEST_EXPONENT = 600;

/** Can a law be made of these? All above 0 (`rs` may be 0), the junction left with volts, the exponent within reach. */
export function lawExists(vf: Volt, at: Ampere, n: number, rs: Ohm): boolean {
  const exponent = (vf - at * rs) / (n * THERMAL_VOLTAGE);
  return at > 0 && n > 0 && rs >= 0 && exponent > 0 && exponent <= GREATEST_EXPONENT;
}

/**
 * The law i = is (exp((v - i rs) / (n Vt)) - 1) of a diode that drops `vf` at the current `at`: the saturation current is
 * `at` / (exp((vf - at rs) / (n Vt)) - 1). Throws RangeError where `lawExists` says that there is none.
 */
export function lawFrom(vf: Volt, at: Ampere, n: number, rs: Ohm): DiodeLaw {
  if (!lawExists(vf, at, n, rs)) throw new RangeError(`no diode law for ${vf} V at ${at} A, n ${n}, rs ${rs} ohm`);
  return { is: at / Math.expm1((vf - at * rs) / (n * THERMAL_VOLTAGE)), n, rs };
}

/**
 * Volts across a diode that carries `amps`: n Vt ln(1 + i / is) + i rs. In reverse the current ends at -is: RangeError
 * at and below that. Does not model breakdown.
 */
export function forwardVolts(law: DiodeLaw, amps: Ampere): Volt {
  if (!(amps > -law.is) || !Number.isFinite(amps))
    throw new RangeError(`a diode of is ${law.is} A cannot carry ${amps} A`);
  return law.n * THERMAL_VOLTAGE * Math.log1p(amps / law.is) + amps * law.rs;
}

/** The law of a lamp, from its `vf` at `at`, its `n` and `rs`; of two colours, of each element. */
export function lampLaw(lamp: LampPart): DiodeLaw {
  return lawFrom(lamp.vf, lamp.at, lamp.n, lamp.rs);
}
