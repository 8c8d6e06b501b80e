/** Lamp groups: what dark lamps stand in reverse, how lamps share, and what is left for the resistor. */
import { editOf, type LampGroupRecord } from '../panel/index.ts';
import { forwardVolts, lampLaw } from '../parts/index.ts';
import { preferred } from '../units/index.ts';
import type { WiredLamp } from '../wiring/index.ts';
import { brighten, isOpposed } from './brighten.ts';
import { money, ownResistors } from './mends.ts';
import { mostOf } from './most-of.ts';
import { type RawFinding, raw } from './raw.ts';
import { EVEN_RATIO, HEADROOM, HOT_WATTS, SHARE_APART, SHARE_SPREAD } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkGroups(input: CheckInput): readonly RawFinding[] {
  return [...reversed(input), ...guarded(input), ...sharing(input), ...resistors(input)];
}

/** Safe at the part's limit or less; up to the limit times the dark lamps in series a caution; above, wrong. */
function reversed({ wiring, readings, lamps, panel, catalogue, groups }: CheckInput): readonly RawFinding[] {
  const most = mostOf(readings);
  const spot = new Map(lamps.map((lamp) => [lamp.id, lamp.at]));
  const strings = new Map<string, WiredLamp[]>();
  for (const lamp of wiring.lamps) {
    const key = lamp.series ?? lamp.id;
    strings.set(key, [...(strings.get(key) ?? []), lamp]);
  }
  const found: RawFinding[] = [];
  for (const string of strings.values()) {
    const first = string[0];
    if (first === undefined) continue;
    const volts = Math.max(...string.map((lamp) => most.get(lamp.id)?.reverse ?? 0));
    const each = Math.min(...string.map((lamp) => lamp.part.reverse));
    if (volts <= each) continue;
    const limit = each * string.length;
    const code = volts <= limit ? 'lamp-reverse-doubtful' : 'lamp-reverse-wrong';
    const ids = string.map((lamp) => lamp.id);
    found.push(
      raw(code, ids, spot.get(first.id) ?? null, { volts, each, limit, lamps: string.length }, mendsFor(first.group)),
    );
  }
  return found;

  function mendsFor(group: string): readonly Mend[] {
    const record = panel.lampGroups?.find((each) => each.id === group);
    const made = groups.find((each) => each.id === group);
    if (record === undefined || made === undefined) return [];
    const count = record.lamps.length;
    const diode = catalogue.find('diode', 'diode-small');
    // Behind a resistor that both ways share, guards of the dark lamps would carry what should light the others.
    const mends: Mend[] = [];
    if (isOpposed(made)) mends.push(ownResistors(panel, catalogue, record.id));
    else if (made.guard === 'none') mends.push(guard(record, money((diode?.price ?? 0) * count)));
    if (made.arrange !== 'pair' && made.normal.length === 1 && made.reverse.length === 1) mends.unshift(pair(record));
    return mends;
  }

  function guard(record: LampGroupRecord, price: number): Mend {
    const edit = editOf(panel)
      .update('lampGroups', record.id, { ...record, guard: 'antiparallel' as const })
      .done('group.guard');
    return { id: 'guard', text: 'Put a guard diode across each lamp', price, edit };
  }

  function pair(record: LampGroupRecord): Mend {
    const edit = editOf(panel)
      .update('lampGroups', record.id, { ...record, arrange: 'pair' as const })
      .done('group.pair');
    return { id: 'pair', text: 'Pair them back to back behind one resistor', price: null, edit };
  }
}

/** Guards of dark lamps lie along the current of the lit ones: behind one resistor the lower of the two volts takes it all. */
function guarded(input: CheckInput): readonly RawFinding[] {
  const { groups, wiring, lamps } = input;
  return groups.flatMap((group): readonly RawFinding[] => {
    if (group.guard === 'none' || !isOpposed(group)) return [];
    const inRow = group.arrange === 'series';
    const wired = (lie: 'normal' | 'reverse') =>
      wiring.lamps.filter((lamp) => lamp.group === group.id && lamp.lie === lie);
    for (const [lit, dark] of [
      [wired('normal'), wired('reverse')],
      [wired('reverse'), wired('normal')],
    ] as const) {
      const wants = lit.map((lamp) => lamp.part.vf);
      const holds = dark.flatMap((lamp) => lamp.guard?.part.vf ?? []);
      if (wants.length === 0 || holds.length === 0) continue;
      const over = (volts: readonly number[]) =>
        inRow ? volts.reduce((sum, each) => sum + each, 0) : Math.min(...volts);
      const values = { guards: over(holds), lamps: over(wants) };
      if (values.guards >= values.lamps) continue;
      const use = lamps.find((lamp) => lamp.id === lit[0]?.id);
      return [raw('guards-short-lamps', [group.id], use?.at ?? null, values, brighten(input, use))];
    }
    return [];
  });
}

function sharing({ wiring, lamps, panel, groups, readings, catalogue }: CheckInput): readonly RawFinding[] {
  const most = mostOf(readings);
  const spot = new Map(lamps.map((lamp) => [lamp.id, lamp.at]));
  const found: RawFinding[] = [];
  for (const group of groups) {
    if (group.arrange === 'own' || group.arrange === 'series') continue;
    for (const lie of ['normal', 'reverse'] as const) {
      const side = group[lie].flatMap((id) => wiring.lamps.find((lamp) => lamp.id === id) ?? []);
      const first = side[0];
      if (side.length < 2 || first === undefined) continue;
      const at = spot.get(first.id) ?? null;
      const ids = side.map((lamp) => lamp.id);
      const volts = side.map((lamp) => ({ id: lamp.id, volts: forwardVolts(lampLaw(lamp.part), lamp.part.at) }));
      volts.sort((a, b) => a.volts - b.volts);
      const apart = (volts[volts.length - 1]?.volts ?? 0) - (volts[0]?.volts ?? 0);
      const mends = [ownResistors(panel, catalogue, group.id)];
      if (apart >= SHARE_APART)
        found.push(raw('lamps-share-badly', ids, at, { apart, lowest: volts[0]?.id ?? '' }, mends));
      else {
        // What one of them carries on the average says how much of the difference their own resistance takes up.
        const amps = side.reduce((sum, lamp) => sum + Math.max(0, most.get(lamp.id)?.amps ?? 0), 0) / side.length;
        const ratio = sharingRatio(first, apart + SHARE_SPREAD, Math.max(amps, first.part.seen / 10));
        found.push(raw('lamps-share', ids, at, { ratio, amps }, mends));
      }
    }
  }
  return found;
}

/**
 * Current of the lower to the higher of two lamps of one law so many volts apart, so many amps through the higher, by bisection.
 * The current rises e-fold in n Vt less what the lamp's own resistance takes up: 2.6 to 1 for 50 mV at small currents.
 */
function sharingRatio(lamp: WiredLamp, apart: number, amps: number): number {
  const law = lampLaw(lamp.part);
  const volts = forwardVolts(law, amps) + apart;
  let [low, high] = [amps, amps * 1e4];
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (forwardVolts(law, mid) > volts) high = mid;
    else low = mid;
  }
  return low / amps;
}

function resistors({ wiring, groups, readings, lamps, panel, catalogue }: CheckInput): readonly RawFinding[] {
  const byId = new Map(groups.map((group) => [group.id, group]));
  const inGroup = new Map<string, CheckInput['wiring']['lamps'][number][]>();
  for (const lamp of wiring.lamps) {
    const there = inGroup.get(lamp.group);
    if (there === undefined) inGroup.set(lamp.group, [lamp]);
    else there.push(lamp);
  }
  // The first supply of a circuit holds.
  const feeds = new Map(
    [...wiring.supplies]
      .reverse()
      .flatMap(({ circuits, volts }) => circuits.map((circuit) => [circuit, volts] as const)),
  );
  const most = mostOf(readings);
  const spot = new Map(lamps.map((lamp) => [lamp.id, lamp.at]));
  const found: RawFinding[] = [];
  for (const resistor of wiring.resistors) {
    const group = byId.get(resistor.group);
    if (group === undefined) continue;
    const members = (inGroup.get(group.id) ?? []).filter(
      (lamp) => group.arrange !== 'own' || resistor.id === `R-${lamp.id}`,
    );
    const first = members[0];
    const at = first === undefined ? null : (spot.get(first.id) ?? null);
    if (resistor.ohmsFrom === 'file') {
      const nearest = preferred('E24', resistor.ohms, 'nearest');
      if (Math.abs(nearest - resistor.ohms) > resistor.ohms * 1e-9) {
        found.push(
          raw('resistor-not-preferred', [resistor.id], at, { ohms: resistor.ohms, nearest }, [
            setOhms(group.id, nearest),
          ]),
        );
      }
    }
    if (group.watts > HOT_WATTS)
      found.push(raw('resistor-hot', [resistor.id], at, { watts: group.watts, rating: group.rating }));
    const feed = feeds.get(resistor.circuit) ?? 0;
    for (const lie of ['normal', 'reverse'] as const) {
      const lit = members.filter((lamp) => lamp.lie === lie);
      const one = lit[0];
      const reading = one === undefined ? undefined : most.get(one.id);
      if (one === undefined || reading === undefined || reading.amps < one.part.seen) continue;
      const strings = one.series === null ? [one] : lit;
      const left = feed - strings.reduce((sum, lamp) => sum + forwardVolts(lampLaw(lamp.part), reading.amps), 0);
      if (left < feed * HEADROOM && reading.high > reading.low * EVEN_RATIO) {
        const values = { left, feed, low: reading.low, high: reading.high };
        const mends = group.arrange === 'own' ? [] : [ownResistors(panel, catalogue, group.id)];
        found.push(raw('resistor-headroom', [resistor.id], at, values, mends));
      }
    }
  }
  return found;

  function setOhms(id: string, ohms: number): Mend {
    const record = panel.lampGroups?.find((each) => each.id === id);
    const edit =
      record === undefined
        ? null
        : editOf(panel)
            .update('lampGroups', id, { ...record, ohms })
            .done('group.ohms');
    return { id: 'set-ohms', text: 'Use the nearest E24 value', price: null, edit };
  }
}
