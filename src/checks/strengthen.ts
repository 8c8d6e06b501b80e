/** What makes a throw strong enough: each is tried in the same sum that found it too weak, and offered only where it serves. */
import { editOf } from '../panel/index.ts';
import { formatFarads, formatVolts } from '../units/index.ts';
import { pulseOf, type WiredDrive, type Wiring } from '../wiring/index.ts';
import { mend, money } from './mends.ts';
import type { CheckInput, Mend } from './types.ts';

/** Thicker wire, a larger capacitor, more volts: the least of each that throws the drive. */
export function strengthen(input: CheckInput, drive: WiredDrive): readonly Mend[] {
  const { wiring, panel, catalogue } = input;
  const circuit = wiring.circuits.find(({ id }) => id === drive.circuit);
  const supply = wiring.supplies.find(({ id }) => id === circuit?.supply);
  if (circuit === undefined || supply === undefined) return [];
  return [...wire(), ...capacitor(), ...volts()];

  function serves(changed: Wiring): boolean {
    const own = changed.drives.find(({ id }) => id === drive.id);
    const pulse = own === undefined ? null : pulseOf(changed, own);
    const { throwAmps, throwSeconds } = drive.part;
    return pulse !== null && pulse.amps >= (throwAmps ?? 0) && pulse.seconds >= (throwSeconds ?? 0);
  }

  function wire(): readonly Mend[] {
    const record = panel.drives?.find(({ id }) => id === drive.id);
    const parts = catalogue.all('wire').filter(({ gauge }) => gauge > drive.wire.gauge);
    const part = [...parts]
      .sort((a, b) => a.gauge - b.gauge)
      .find(({ gauge }) =>
        serves({
          ...wiring,
          drives: wiring.drives.map((each) =>
            each.id === drive.id ? { ...each, wire: { ...each.wire, gauge } } : each,
          ),
        }),
      );
    if (part === undefined || record === undefined) return [];
    const edit = editOf(panel)
      .update('drives', record.id, { wire: { ...record.wire, gauge: part.gauge } })
      .done('drive.wire');
    const price = money((part.price * 2 * drive.wire.length) / 1000);
    return [mend('thicker-wire', `Use wire of ${part.gauge} mm2`, edit, price)];
  }

  function capacitor(): readonly Mend[] {
    const charge = drive.feed === 'charge';
    const has = charge
      ? wiring.capacitors.find(({ circuit: of }) => of === drive.circuit)?.farads
      : supply?.kind === 'cdu'
        ? supply.farads
        : null;
    if (has === undefined || has === null) return [];
    const part = [...catalogue.all('capacitor')]
      .sort((a, b) => a.farads - b.farads)
      .find(
        ({ farads }) =>
          farads > has &&
          serves({
            ...wiring,
            capacitors: wiring.capacitors.map((each) =>
              charge && each.circuit === drive.circuit ? { ...each, farads } : each,
            ),
            supplies: wiring.supplies.map((each) => (!charge && each.id === supply?.id ? { ...each, farads } : each)),
          }),
      );
    if (part === undefined) return [];
    const { farads } = part;
    const lever = panel.levers?.find(({ id }) => id === drive.circuit);
    let edit = editOf(panel);
    if (!charge) {
      if (!panel.supplies?.some(({ id }) => id === supply?.id)) return [];
      edit = edit.update('supplies', supply?.id ?? '', { farads });
    } else if (lever?.feed?.farads !== undefined)
      edit = edit.update('levers', lever.id, { feed: { ...lever.feed, farads } });
    else edit = edit.set('feed', { ...panel.feed, farads });
    const text = `Use a capacitor of ${formatFarads(farads)}`;
    return [mend('larger-capacitor', text, edit.done('feed.farads'), part.price)];
  }

  /** Up to the top of the drive's range. */
  function volts(): readonly Mend[] {
    const source = supply?.kind === 'cdu' ? supply.from : supply?.id;
    const now = wiring.supplies.find(({ id }) => id === source)?.railVolts ?? supply?.railVolts ?? 0;
    const wish = STEPS.find(
      (more) =>
        more > now &&
        more <= (drive.part.volts?.high ?? 0) &&
        serves({
          ...wiring,
          supplies: wiring.supplies.map((each) =>
            each.id === source || each.id === supply?.id
              ? { ...each, volts: more, railVolts: more, low: more, high: more }
              : each,
          ),
        }),
    );
    const record = panel.supplies?.find(({ id }) => id === source);
    if (wish === undefined || record === undefined) return [];
    const edit = editOf(panel).update('supplies', record.id, { volts: wish, voltsOffLoad: undefined });
    return [mend('more-volts', `Use a supply of ${formatVolts(wish)}`, edit.done('supply.volts'))];
  }
}

/** Volts of supplies on sale: common practice, no source. */
const STEPS = [16, 18, 20, 24];
