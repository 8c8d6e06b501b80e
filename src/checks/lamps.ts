/** Lamps: what they cannot say, how bright they are, what they stand in reverse, and how they share. */

import { editOf, type LampGroupRecord, type LampRecord, type Lies } from '../panel/index.ts';
import { forwardVolts, lampLaw } from '../parts/index.ts';
import { preferred } from '../units/index.ts';
import type { WiredLamp } from '../wiring/index.ts';
import { brighten, isOpposed } from './brighten.ts';
import { addLever, liftRecord, mend, money } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import { EVEN_RATIO, HEADROOM, HOT_WATTS, PLEASANT_TIMES, SHARE_APART, SHARE_SPREAD } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkLamps(input: CheckInput): readonly RawFinding[] {
  return [
    ...unsaid(input),
    ...bright(input),
    ...reversed(input),
    ...guarded(input),
    ...sharing(input),
    ...resistors(input),
  ];
}

/** "P4 reverse and P5 reverse". */
export function liesInWords(lies: Lies): string {
  return Object.entries(lies)
    .map(([point, lie]) => `${point} ${lie}`)
    .join(' and ');
}

function unsaid({ lampProblems, panel, lamps, catalogue }: CheckInput): readonly RawFinding[] {
  return lampProblems.map((problem): RawFinding => {
    switch (problem.code) {
      case 'lamp-part-unknown':
        return raw(problem.code, [problem.lamp], problem.at, { part: problem.part }, [
          alter(problem.lamp, { part: undefined }, 'usual-lamp', 'Use the usual lamp'),
        ]);
      case 'lamp-claims-nothing':
        return raw(problem.code, [problem.lamp], problem.at, {}, [liftLamp(problem.lamp)]);
      case 'lamp-point-unknown':
        return raw(problem.code, [problem.lamp], problem.at, { point: problem.point }, [
          alter(problem.lamp, { shows: undefined }, 'show-its-leg', 'Show the leg that it lies on'),
        ]);
      case 'lamp-denies-its-leg': {
        const shows = problem.shows.map(liesInWords).join(', or ');
        return raw(problem.code, [problem.lamp], problem.at, { leg: liesInWords(problem.leg), shows }, [
          showLeg(problem.lamp, problem.leg),
        ]);
      }
      case 'lamp-needs-two-levers':
        return raw(
          problem.code,
          [problem.lamp],
          problem.at,
          { levers: problem.levers.join(' and ') },
          claimLeg(problem.lamp),
        );
      case 'lamp-point-has-no-lever':
        return raw(problem.code, [problem.lamp], problem.at, { point: problem.point }, [
          addLever(panel, catalogue, problem.point),
        ]);
      case 'lamp-never-or-always':
        return raw(problem.code, [problem.lamp], problem.at, {}, [
          alter(problem.lamp, { shows: undefined }, 'show-its-leg', 'Show the leg that it lies on'),
        ]);
      case 'lamp-scheme-not-built':
        return raw(
          problem.code,
          [problem.lamp],
          problem.at,
          { scheme: problem.scheme },
          problem.scheme === 'two colours' ? [] : [acrossFeed()],
        );
      case 'group-lamp-unknown':
        return raw(problem.code, [problem.group], null, { lamp: problem.lamp }, [
          takeOut(problem.lamp, [problem.group]),
        ]);
      case 'group-lamp-twice':
        return raw(problem.code, [problem.lamp], null, { groups: problem.groups.join(' and ') }, [
          takeOut(problem.lamp, problem.groups.slice(1)),
        ]);
      case 'group-two-levers':
        return raw(problem.code, [problem.group], null, { levers: problem.levers.join(' and ') }, [
          liftRecord(panel, 'lampGroups', problem.group, 'ungroup', 'Let the tool group them, lever by lever'),
        ]);
      case 'group-not-a-pair':
        return raw(problem.code, [problem.group], null, { normal: problem.normal, reverse: problem.reverse }, [
          ownResistors(panel, catalogue, problem.group),
        ]);
    }
  });

  function alter(id: string, to: Partial<LampRecord>, name: string, text: string): Mend {
    const there = panel.lamps?.some((each) => each.id === id);
    return mend(name, text, there ? editOf(panel).update('lamps', id, to).done('lamp.alter') : null);
  }

  /** The panel's lighting, and that of every lever that has its own. */
  function acrossFeed(): Mend {
    let edit = editOf(panel);
    if (panel.lighting?.scheme !== undefined) edit = edit.set('lighting', { ...panel.lighting, scheme: 'across-feed' });
    for (const { id, lighting } of panel.levers ?? [])
      if (lighting?.scheme !== undefined)
        edit = edit.update('levers', id, { lighting: { ...lighting, scheme: 'across-feed' as const } });
    return mend('across-feed', 'Light them across the feed', edit.done('lighting.scheme'));
  }

  /** A lamp out of some groups; a group that is left without lamps goes with it. */
  function takeOut(lamp: string, groups: readonly string[]): Mend {
    let edit = editOf(panel);
    for (const record of panel.lampGroups ?? []) {
      if (!groups.includes(record.id)) continue;
      const left = record.lamps.filter((id) => id !== lamp);
      edit =
        left.length > 0 ? edit.update('lampGroups', record.id, { lamps: left }) : edit.remove('lampGroups', record.id);
    }
    return mend('take-out', `Take ${lamp} out of ${groups.join(' and ')}`, edit.done('group.lamps'));
  }

  function liftLamp(id: string): Mend {
    return {
      id: 'lift-lamp',
      text: 'Take the lamp away',
      price: null,
      edit: editOf(panel).remove('lamps', id).done('lamp.lift'),
    };
  }

  function showLeg(id: string, leg: Lies): Mend {
    const record = panel.lamps?.find((each) => each.id === id);
    const edit =
      record === undefined
        ? null
        : editOf(panel)
            .update('lamps', id, { ...record, shows: { ...leg } })
            .done('lamp.show');
    return { id: 'show-leg', text: `Show ${liesInWords(leg)}`, price: null, edit };
  }

  /** A lamp that lies between two points may say just the nearer leg. */
  function claimLeg(id: string): readonly Mend[] {
    const record = panel.lamps?.find((each) => each.id === id);
    const use = lamps.find((each) => each.id === id);
    if (record === undefined || use === undefined || use.from !== 'span') return [];
    const edit = editOf(panel)
      .update('lamps', id, { ...record, claims: 'leg' as const })
      .done('lamp.claim');
    return [{ id: 'claim-leg', text: 'Let it show the nearer leg alone', price: null, edit }];
  }
}

/** One finding for lamps of one group that look alike: they share a resistor and a fate. */
function bright(input: CheckInput): readonly RawFinding[] {
  const { wiring, readings, lamps } = input;
  const found: RawFinding[] = [];
  const spot = new Map(lamps.map((lamp) => [lamp.id, lamp.at]));
  const use = new Map(lamps.map((lamp) => [lamp.id, lamp]));
  const most = mostOf(readings);
  const byGroup = new Map<string, WiredLamp[]>();
  for (const lamp of wiring.lamps) byGroup.set(lamp.group, [...(byGroup.get(lamp.group) ?? []), lamp]);
  for (const group of byGroup.values()) {
    const say = (
      code: 'lamp-destroyed' | 'lamp-over-max' | 'lamp-may-be-over-max' | 'lamp-faint',
      those: readonly WiredLamp[],
    ) => {
      const first = those[0];
      const at = first === undefined ? undefined : most.get(first.id);
      if (first === undefined || at === undefined) return;
      const { seen, max } = first.part;
      const values =
        code === 'lamp-faint'
          ? { amps: at.amps, seen, good: Math.min(seen * PLEASANT_TIMES, max) }
          : code === 'lamp-may-be-over-max'
            ? { high: at.high, max }
            : { amps: at.amps, max };
      found.push(
        raw(
          code,
          those.map((lamp) => lamp.id),
          spot.get(first.id) ?? null,
          values,
          brighten(input, use.get(first.id)),
        ),
      );
    };
    const having = (want: (lamp: WiredLamp) => boolean) => group.filter(want);
    const amps = (lamp: WiredLamp) => most.get(lamp.id)?.amps ?? 0;
    const high = (lamp: WiredLamp) => most.get(lamp.id)?.high ?? 0;
    say(
      'lamp-destroyed',
      having((lamp) => amps(lamp) > 2 * lamp.part.max),
    );
    say(
      'lamp-over-max',
      having((lamp) => amps(lamp) > lamp.part.max && amps(lamp) <= 2 * lamp.part.max),
    );
    say(
      'lamp-may-be-over-max',
      having((lamp) => amps(lamp) <= lamp.part.max && high(lamp) > lamp.part.max),
    );
    say(
      'lamp-faint',
      having(
        (lamp) => amps(lamp) >= lamp.part.seen && amps(lamp) < Math.min(lamp.part.seen * PLEASANT_TIMES, lamp.part.max),
      ),
    );
  }
  return [...found, ...uneven(input, most, spot)];
}

interface Most {
  readonly amps: number;
  readonly low: number;
  readonly high: number;
  readonly reverse: number;
}

/** The most that each lamp carries, and stands in reverse, in any position of its lever. */
function mostOf(readings: CheckInput['readings']): ReadonlyMap<string, Most> {
  const most = new Map<string, Most>();
  for (const reading of readings) {
    for (const lamp of reading.lamps) {
      const known = most.get(lamp.id);
      const lit = known === undefined || lamp.amps > known.amps;
      most.set(lamp.id, {
        amps: lit ? lamp.amps : known.amps,
        low: lit ? lamp.low : known.low,
        high: Math.max(known?.high ?? 0, lamp.high),
        reverse: Math.max(known?.reverse ?? 0, lamp.reverseVolts),
      });
    }
  }
  return most;
}

/** The brightest and the dimmest lamp of each part, where they differ more than 2 to 1. */
function uneven(
  input: CheckInput,
  most: ReadonlyMap<string, Most>,
  spot: ReadonlyMap<string, RawFinding['at']>,
): readonly RawFinding[] {
  const found: RawFinding[] = [];
  const byPart = new Map<string, { id: string; amps: number }[]>();
  for (const lamp of input.wiring.lamps) {
    const amps = most.get(lamp.id)?.amps ?? 0;
    if (amps >= lamp.part.seen) byPart.set(lamp.part.id, [...(byPart.get(lamp.part.id) ?? []), { id: lamp.id, amps }]);
  }
  for (const each of byPart.values()) {
    const sorted = [...each].sort((a, b) => b.amps - a.amps);
    const [high, low] = [sorted[0], sorted[sorted.length - 1]];
    if (high === undefined || low === undefined || high.amps <= low.amps * EVEN_RATIO) continue;
    const mends = [low, high]
      .flatMap(({ id }) =>
        brighten(
          input,
          input.lamps.find((lamp) => lamp.id === id),
        ),
      )
      .slice(0, 1);
    found.push(
      raw('lamps-uneven', [high.id, low.id], spot.get(low.id) ?? null, { high: high.amps, low: low.amps }, mends),
    );
  }
  return found;
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

/** Each lamp of a group behind a resistor of its own, and guarded, since none guards another any more. */
function ownResistors(panel: CheckInput['panel'], catalogue: CheckInput['catalogue'], id: string): Mend {
  const record = panel.lampGroups?.find((each) => each.id === id);
  const edit =
    record === undefined
      ? null
      : editOf(panel)
          .update('lampGroups', id, { arrange: 'own' as const, guard: 'antiparallel' as const, ohms: undefined })
          .done('group.own');
  const lamps = record?.lamps.length ?? 0;
  const price =
    lamps *
    ((catalogue.find('resistor', 'resistor-quarter-watt')?.price ?? 0) +
      (catalogue.find('diode', 'diode-small')?.price ?? 0));
  return mend('own-resistors', 'Give each a resistor and a guard diode of its own', edit, money(price));
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
  const most = mostOf(readings);
  const spot = new Map(lamps.map((lamp) => [lamp.id, lamp.at]));
  const found: RawFinding[] = [];
  for (const resistor of wiring.resistors) {
    const group = groups.find((each) => each.id === resistor.group);
    if (group === undefined) continue;
    const members = wiring.lamps.filter(
      (lamp) => lamp.group === group.id && (group.arrange !== 'own' || resistor.id === `R-${lamp.id}`),
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
    const feed = wiring.supplies.find((supply) => supply.circuits.includes(resistor.circuit))?.volts ?? 0;
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
