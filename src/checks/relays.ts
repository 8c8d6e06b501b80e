/** Coils of relays that are held: what they get beside what they are made for. */
import { editOf, type PanelFile } from '../panel/index.ts';
import type { RelayPart } from '../parts/index.ts';
import { formatAmps, formatOhms, formatVolts, formatWatts, preferred, type Volt } from '../units/index.ts';
import type { WiredRelay } from '../wiring/index.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import { COIL_LEAST, COIL_MOST, RESISTOR_WATTS } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkRelays({ panel, wiring, readings }: CheckInput): readonly RawFinding[] {
  return wiring.relays.flatMap((relay): RawFinding[] => {
    const { id, part, coils } = relay;
    const [coil] = coils;
    if (part.latching || coil === undefined) return [];
    const volts = Math.max(
      0,
      ...readings.map(({ nodes }) => {
        const at = (node: string) => nodes.find((each) => each.node === node)?.volts ?? 0;
        return at(coil.a) - at(coil.b);
      }),
    );
    if (volts >= COIL_LEAST * part.coilVolts && volts <= COIL_MOST * part.coilVolts) return [];
    const watts = volts ** 2 / part.coilOhms;
    const values = { volts, coil: part.coilVolts, watts, made: part.coilVolts ** 2 / part.coilOhms };
    const code = volts < part.coilVolts ? ('relay-volts-low' as const) : ('relay-volts-high' as const);
    const other = otherCoil(panel, relay, volts);
    return [raw(code, [id], null, values, code === 'relay-volts-high' ? [other, inSeries(part, volts)] : [other])];
  });
}

/** What is left over drops across a resistor that carries what the coil wants. Of E12, the nearest. */
function inSeries({ coilVolts, coilOhms }: RelayPart, volts: Volt): Mend {
  const amps = coilVolts / coilOhms;
  const ohms = preferred('E12', (volts - coilVolts) / amps, 'nearest');
  const watts = (volts / (ohms + coilOhms)) ** 2 * ohms;
  const rating = RESISTOR_WATTS.find((each) => each >= 2 * watts) ?? 2 * watts;
  const sum = `(${formatVolts(volts)} - ${formatVolts(coilVolts)}) / ${formatAmps(amps)}`;
  const text = `Put a resistor of ${formatOhms(ohms)}, ${formatWatts(rating)}, in series with its coil: ${sum}, ${formatWatts(watts)} in it`;
  return mend('coil-resistor', text, null);
}

/** A relay of the same kind for other volts: as many watts, so ohms go with the square of the volts. */
function otherCoil(panel: PanelFile, { id, part }: WiredRelay, volts: Volt): Mend {
  const coilVolts = COILS.reduce((best, each) => (Math.abs(each - volts) < Math.abs(best - volts) ? each : best));
  const coilOhms = Number((part.coilOhms * (coilVolts / part.coilVolts) ** 2).toPrecision(3));
  const own = `${part.id}-${coilVolts}-volts`;
  const text = `Use a relay with a coil for ${formatVolts(coilVolts)}`;
  const there = panel.relays?.some((each) => each.id === id) === true;
  if (!there || panel.parts?.some((each) => each.id === own) === true) return mend('coil-for-volts', text, null);
  const edit = editOf(panel).add('parts', { id: own, like: part.id, coilVolts, coilOhms });
  return mend('coil-for-volts', text, edit.update('relays', id, { part: own }).done('relay.part'), part.price);
}

/** Volts of coils on sale: common practice, no source. */
const COILS: readonly Volt[] = [5, 6, 9, 12, 24];
