/** Mends that give a lever another feed: with the supply that it wants, a switch that suits it, and lamps that can still be lit. */
import { twinFor } from '../contacts/index.ts';
import {
  type Edit,
  editOf,
  type Feed,
  feedOf,
  type LeverRecord,
  lightingOf,
  nextFreeId,
  recordSupplies,
  type Supply,
  suppliesOf,
} from '../panel/index.ts';
import { smallestToggle } from '../parts/index.ts';
import { type Ampere, formatVolts, type Volt, wireOhms } from '../units/index.ts';
import { canWork, hasCoils, sizeSupply, type WiredDrive } from '../wiring/index.ts';
import { mend } from './mends.ts';
import { COIL_VOLTS, MOTOR_VOLTS } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

/** Feeds that a mend can give; `unit`: pulses from a capacitor unit. */
export type NewFeed = 'reversing' | 'contact' | 'unit' | 'charge';

type Scheme = ReturnType<typeof lightingOf>['scheme'];

/** What lights lamps where the new feed does not: the nearest to what was there. */
const LIGHT: Readonly<Record<NewFeed, Readonly<Partial<Record<Scheme, Scheme>>>>> = {
  reversing: { 'in-series': 'across-feed', 'latching-relay': 'across-feed' },
  contact: { 'across-feed': 'spare-pole', 'in-series': 'spare-pole', 'latching-relay': 'spare-pole' },
  charge: { 'across-feed': 'spare-pole', 'in-series': 'spare-pole', 'latching-relay': 'spare-pole' },
  unit: {
    'across-feed': 'latching-relay',
    'in-series': 'latching-relay',
    'spare-pole': 'latching-relay',
    tree: 'latching-relay',
  },
};

/** Feed a drive's lever otherwise; nothing where another drive on that lever would not go with it, or the file has no such lever. */
export function refeed(input: CheckInput, drive: WiredDrive, to: NewFeed): readonly Mend[] {
  const { panel, wiring, catalogue } = input;
  const lever = drive.circuit;
  const record = panel.levers?.find(({ id }) => id === lever);
  const kind: Feed['kind'] = to === 'unit' ? 'pulse' : to;
  const all = wiring.drives.filter(({ circuit }) => circuit === lever);
  if (lever === null || record === undefined || !all.every(({ part }) => canWork(kind, part))) return [];
  // From two panels a charge cannot be worked, and pulses from switches side by side.
  if (record.twin !== undefined && to === 'charge') return [];

  const before = feedOf(panel, record).supplies[0];
  let edit = editOf(panel);
  recordSupplies(edit);
  const source = sourceFor(drive, all, to);
  if (source.add !== null) edit = edit.add('supplies', source.add);
  let feeds = source.id;
  let price: number | null = null;
  if (to === 'unit') {
    const unit = suppliesOf(edit.panel).find((each) => each.kind === 'cdu' && each.from === source.id);
    const part = catalogue.find('cdu', 'cdu');
    feeds = unit?.id ?? nextFreeId(edit.panel, 'C');
    if (unit === undefined)
      edit = edit.add('supplies', {
        id: feeds,
        kind: 'cdu',
        from: source.id,
        farads: part?.farads ?? 0.0047,
        chargeOhms: part?.chargeOhms ?? 100,
      });
    price = unit === undefined ? (part?.price ?? null) : null;
  }
  const capacitor = catalogue.find('capacitor', 'capacitor-2200');
  if (to === 'charge') price = capacitor?.price ?? null;
  const farads = to === 'charge' ? { farads: record.feed?.farads ?? capacitor?.farads ?? 0.0022 } : {};
  const twin = record.twin === undefined ? {} : { twin: { ...record.twin, by: twinFor(kind, record.twin.by) } };
  edit = edit.update('levers', lever, { feed: { kind, supplies: [feeds], ...farads }, ...twin });
  edit = light(edit, record, to, before ?? source.id);
  const lit =
    lightingOf(
      edit.panel,
      edit.panel.levers?.find(({ id }) => id === lever),
    ).scheme === 'spare-pole'
      ? 1
      : 0;
  const sprung = to === 'unit' || (to === 'reversing' && record.twin?.by === 'latch');
  edit = suitSwitch(edit, record, sprung ? 'sprung' : 'held', (kind === 'reversing' ? 2 : 1) + lit);
  const words: Readonly<Record<NewFeed, string>> = {
    reversing: `Feed it by reversing ${formatVolts(source.volts)}`,
    contact: `Let the lever close its input to common, and give the board ${formatVolts(source.volts)}`,
    unit: 'Feed it by a capacitor unit and a switch that springs back',
    charge: 'Feed it by charge: a capacitor and two steering diodes behind a switch that stays',
  };
  return [mend(`feed-by-${to}`, words[to], edit.done('lever.feed'), price)];

  /** A supply of the file whose volts are in the drive's range, or a new one. */
  function sourceFor(
    one: WiredDrive,
    those: readonly WiredDrive[],
    wanted: NewFeed,
  ): { readonly id: string; readonly volts: Volt; readonly add: { id: string; volts: Volt; amps: Ampere } | null } {
    const { part } = one;
    const range = part.volts ?? { low: 0, high: 0 };
    const draw = (volts: Volt) =>
      those.reduce((sum, each) => {
        const loop = 2 * wireOhms(each.wire.length, each.wire.gauge) + (each.part.coilOhms ?? 0);
        const pulse = wanted === 'charge' && loop > 0 ? volts / loop : 0;
        return sum + pulse + (each.part.runAmps ?? 0);
      }, 0);
    const serves = (each: Supply) =>
      (each.kind === 'dc' || each.kind === 'battery') &&
      each.volts >= range.low &&
      Math.max(each.volts, each.voltsOffLoad ?? 0) <= range.high &&
      each.amps >= draw(each.volts);
    const found = suppliesOf(panel);
    const known = found.find((each) => each.id === before && serves(each)) ?? found.find(serves);
    if (known !== undefined) return { id: known.id, volts: known.volts, add: null };
    const wish = hasCoils(part) ? COIL_VOLTS : MOTOR_VOLTS;
    const volts = Math.min(Math.max(wish, range.low), range.high);
    const id = nextFreeId(edit.panel, 'S');
    const needs = draw(volts);
    return { id, volts, add: { id, volts, amps: Math.max(1, sizeSupply(needs).amps ?? needs) } };
  }
}

/** A switch that springs back in place of one that stays: what a pulse wants. Lamps on its poles go over to a relay. */
export function springBack(input: CheckInput, lever: string): readonly Mend[] {
  const { panel, catalogue } = input;
  const record = panel.levers?.find(({ id }) => id === lever);
  if (record === undefined) return [];
  let edit = suitSwitch(editOf(panel), record, 'sprung', 1);
  edit = light(edit, record, 'unit', lightingOf(panel, record).supply ?? '');
  const part = edit.panel.levers?.find(({ id }) => id === lever)?.switch ?? '';
  const price = catalogue.find('switch', part)?.price ?? null;
  return [mend('spring-back', `Use ${part}, which springs back`, edit.done('lever.switch'), price)];
}

/** Where the file names a switch that does not suit, one of as many poles that does. */
function suitSwitch(edit: Edit, record: LeverRecord, action: 'held' | 'sprung', least: number): Edit {
  if (record.switch === undefined) return edit;
  const poles = Math.max(least, Number(/-(\d)p/.exec(record.switch)?.[1] ?? least));
  const isSprung = record.switch.endsWith('-sprung');
  const has = Number(/-(\d)p/.exec(record.switch)?.[1] ?? 0);
  if (isSprung === (action === 'sprung') && has >= least) return edit;
  const to = smallestToggle(poles, action);
  return to === null ? edit : edit.update('levers', record.id, { switch: to });
}

/** The lever's lamps lit from something that the new feed leaves lit. */
function light(edit: Edit, record: LeverRecord, to: NewFeed, supply: string): Edit {
  const { panel } = edit;
  const now = lightingOf(panel, record);
  const usual = LIGHT[to][now.scheme] ?? now.scheme;
  // A bat that another panel turns over says nothing: then the blades tell.
  const scheme = record.twin !== undefined && (usual === 'spare-pole' || usual === 'tree') ? 'blade-contact' : usual;
  const named = record.lighting?.supply ?? panel.lighting?.supply;
  const direct = suppliesOf(panel).find(({ id, kind }) => id === supply && (kind === 'dc' || kind === 'battery'));
  const from = named ?? direct?.id ?? suppliesOf(panel).find(({ kind }) => kind === 'dc' || kind === 'battery')?.id;
  if (scheme === now.scheme && named !== undefined) return edit;
  return edit.update('levers', record.id, {
    lighting: { ...record.lighting, scheme, ...(from === undefined ? {} : { supply: from }) },
  });
}

/** Take a drive's points off its lever: nothing wires a lever to what hands or addresses move. A lever that is left with nothing goes. */
export function noLever(input: CheckInput, drive: WiredDrive): readonly Mend[] {
  const { panel } = input;
  const record = panel.levers?.find(({ id }) => id === drive.circuit);
  if (record === undefined) return [];
  const works = (record.works ?? []).filter(({ point }) => point === undefined || !drive.points.includes(point));
  const edit = editOf(panel);
  const done = works.length > 0 ? edit.update('levers', record.id, { works }) : edit.remove('levers', record.id);
  return [mend('no-lever', `Take ${drive.points.join(' and ')} off lever ${record.id}`, done.done('lever.works'))];
}
