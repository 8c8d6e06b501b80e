/** The supplies that circuits hang on, and what stands between them and their rails: diodes, capacitors, charging resistors. */
import { feedVolts, type LampGroup, VF_BAND } from '../lamps/index.ts';
import type { Supply } from '../panel/index.ts';
import type { DiodePart } from '../parts/index.ts';
import { railBand } from './rail-band.ts';
import { type Rails, railNames } from './rails.ts';
import { fuseOf, worstDraw } from './supply.ts';
import { CHARGE_OHMS } from './tolerances.ts';
import type {
  Circuit,
  WiredCapacitor,
  WiredDiode,
  WiredDrive,
  WiredLamp,
  WiredResistor,
  WiredSupply,
} from './types.ts';

/** Every supply in use, in the order of the file; parts that stand before its rails are added to the lists. */
export function wireSupplies(
  supplies: readonly Supply[],
  circuits: readonly Circuit[],
  rails: Rails,
  drives: readonly WiredDrive[],
  groups: readonly LampGroup[],
  lamps: readonly WiredLamp[],
  diodes: WiredDiode[],
  capacitors: WiredCapacitor[],
  resistors: WiredResistor[],
  parts: { readonly rectifier: DiodePart; readonly cdu: DiodePart },
): readonly WiredSupply[] {
  const hung = new Set(circuits.flatMap((circuit) => circuit.supplies));
  const used = supplies.filter(({ id }) => rails.used.has(id) || hung.has(id));
  return used.map((supply): WiredSupply => {
    const { id, kind, farads, ohms, amps, limit, volts } = supply;
    if (kind === 'cdu') charging(supply);
    for (const [rail, side] of [
      [railNames.rectifiedPlus(id), 'p'],
      [railNames.rectifiedMinus(id), 'm'],
    ] as const)
      if (circuits.some((circuit) => circuit.rails.some(({ net }) => net === rail))) rectifying(id, side, farads);
    const mine = circuits.filter((circuit) => circuit.supplies.includes(id)).map((circuit) => circuit.id);
    const draw = worstDraw(supply, circuits, drives, groups, supplies);
    const { low, nominal, high } =
      kind === 'ac'
        ? railBand(supply, parts.rectifier.law, draw.worst, longestString(lamps, new Set(mine)))
        : feedVolts(supply);
    return {
      id,
      kind,
      volts,
      frequency: supply.frequency,
      from: supply.from,
      farads,
      chargeOhms: kind === 'cdu' ? (supply.chargeOhms ?? CHARGE_OHMS) : null,
      railVolts: nominal,
      low,
      high,
      ohms: kind === 'cdu' ? 0 : ohms,
      amps,
      limit,
      fuse: kind === 'cdu' ? null : fuseOf(supply, draw),
      circuits: mine,
      worstAmps: draw.worst,
      holdAmps: draw.holds,
      pulsed: draw.felt > 0,
      steadyAmps: draw.steady,
    };
  });

  function charging({ id, farads, chargeOhms }: Supply): void {
    const a = `SD-${id}`;
    diodes.push({ id: a, part: parts.cdu, circuit: id, what: 'rectifier', anode: `${a}.a`, cathode: `${a}.k` });
    const ohms = chargeOhms ?? CHARGE_OHMS;
    resistors.push({
      id: `R-${id}`,
      group: id,
      circuit: id,
      a: `R-${id}.1`,
      b: `R-${id}.2`,
      ohms,
      // Only while it charges: the mean over a charge is a few per cent of the first instant.
      rating: CHARGE_WATTS,
      ohmsFrom: chargeOhms === null ? 'computed' : 'file',
    });
    capacitors.push({ id, circuit: id, farads: farads ?? 0, plus: railNames.plus(id), minus: railNames.minus(id) });
  }

  function rectifying(id: string, side: 'p' | 'm', farads: number | null): void {
    const diode = `SD-${id}${side}`;
    const own = { id: diode, part: parts.rectifier, circuit: id, what: 'rectifier' as const };
    diodes.push({ ...own, anode: `${diode}.a`, cathode: `${diode}.k` });
    if (farads === null) return;
    const capacitor = `CAP-${id}${side}`;
    capacitors.push({ id: capacitor, circuit: id, farads, plus: `${capacitor}.p`, minus: `${capacitor}.m` });
  }
}

/** Forward volts, at their greatest, of the longest string of lamps in some circuits. */
function longestString(lamps: readonly WiredLamp[], circuits: ReadonlySet<string>): number {
  const strings = new Map<string, number>();
  for (const { id, circuit, series, part } of lamps)
    if (circuits.has(circuit)) {
      const string = series ?? id;
      strings.set(string, (strings.get(string) ?? 0) + part.vf + (part.vfTolerance ?? VF_BAND));
    }
  return Math.max(0, ...strings.values());
}

/** Rating of a CDU's charging resistor in watts: common practice, no source. */
const CHARGE_WATTS = 5;
