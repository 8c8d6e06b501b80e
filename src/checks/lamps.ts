/** Lamps: what they cannot say, and how bright they are. */

import { contactsForLamps, drivesOfPoints } from '../contacts/index.ts';
import type { LampGroup, Scheme, SchemeUnfit } from '../lamps/index.ts';
import { type Edit, editOf, feedOf, type LampRecord, type Lies, nextFreeId } from '../panel/index.ts';
import { BLADE_CONTACT, forwardVolts, HELD_RELAY, lampLaw, smallestToggle } from '../parts/index.ts';
import { formatAmps, formatOhms, preferred } from '../units/index.ts';
import { turnsOver, type WiredLamp } from '../wiring/index.ts';
import { brighten } from './brighten.ts';
import { addLever, liftRecord, mend, ownResistors } from './mends.ts';
import { type Most, mostOf } from './most-of.ts';
import { type RawFinding, raw } from './raw.ts';
import { EVEN_RATIO, PLEASANT_TIMES } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkLamps(input: CheckInput): readonly RawFinding[] {
  return [...unsaid(input), ...bright(input), ...legsWithoutLamp(input)];
}

/** Rule 10 of truth: a leg that no lamp claims breaks the chain a route is read off. A panel without lamps has no chain to break. */
function legsWithoutLamp({ plan, lamps }: CheckInput): readonly RawFinding[] {
  if (lamps.length === 0) return [];
  const claimed = new Set(
    lamps.flatMap((lamp) =>
      lamp.claim.flatMap((lies) => Object.entries(lies).map(([point, lie]) => `${point} ${lie}`)),
    ),
  );
  const bare = plan.points.flatMap((point) =>
    (['normal', 'reverse'] as const).filter((lie) => !claimed.has(`${point.id} ${lie}`)).map((lie) => ({ point, lie })),
  );
  const first = bare[0];
  if (first === undefined) return [];
  const ids = [...new Set(bare.map(({ point }) => point.id))];
  const legs = bare.map(({ point, lie }) => `${point.id} ${lie}`).join(', ');
  return [raw('leg-without-lamp', ids, first.point.at, { legs, count: bare.length })];
}

/** How a scheme lights, as a sentence goes on. */
const SCHEMES: Readonly<Record<string, string>> = {
  'across-feed': 'across the feed',
  'in-series': 'in series with the drive',
  'spare-pole': 'from a spare pole',
  'drive-contact': "from the drive's contact",
  'blade-contact': 'from a contact on the blades',
  'latching-relay': 'from a relay',
  tree: 'from contacts one behind the other',
};

function schemeWords(scheme: string): string {
  return SCHEMES[scheme] ?? scheme;
}

/** Why a scheme cannot light a lamp, of whom. */
const WHY: Readonly<Record<SchemeUnfit, (of: string) => string>> = {
  'feed-at-rest': (of) => `nothing is left on the feed of ${of} once it has thrown`,
  'feed-is-signal': (of) => `what ${of} closes is the input of a driver board, a signal and no power`,
  'not-a-stall-drive': (of) =>
    `${of} is no stall drive: in series lamps see its running current and then nothing, or it does not move`,
  'pole-lets-go': (of) => `the switch of ${of} springs back and lets its poles go`,
  'pole-of-twin': (of) => `${of} has a twin on another panel: its bat does not say how the point lies`,
  'no-pulse': (of) => `a latching relay is set by pulses, and ${of} has a feed that is held`,
  'relay-falls-back': (of) =>
    `a relay that does not latch falls back where ${of} leaves its feed without volts: it wants a lever that stays, with no middle and no twin, on a feed that turns over`,
  'needs-two-leads': (of) =>
    `${of} has three leads: a feed that turns its polarity over lights opposed elements on two leads`,
  'needs-three-leads': (of) => `${of} has two leads: contacts light each element through a lead of its own`,
  'needs-common-cathode': (of) => `${of} has a common anode: contacts bring plus, and want a common cathode`,
  'elements-not-two': () => 'a lamp of two colours has two elements',
};

/** Schemes to take instead, the best evidence first. */
const INSTEAD: Readonly<Record<SchemeUnfit, readonly Scheme[]>> = {
  'feed-at-rest': ['latching-relay', 'spare-pole', 'blade-contact'],
  'feed-is-signal': ['spare-pole', 'blade-contact'],
  'not-a-stall-drive': ['across-feed', 'drive-contact'],
  'pole-lets-go': ['latching-relay', 'blade-contact'],
  'pole-of-twin': ['across-feed', 'drive-contact', 'blade-contact'],
  'no-pulse': ['across-feed', 'spare-pole', 'blade-contact'],
  'relay-falls-back': ['across-feed', 'drive-contact', 'blade-contact'],
  'needs-two-leads': ['spare-pole'],
  'needs-three-leads': ['across-feed'],
  'needs-common-cathode': ['across-feed'],
  'elements-not-two': [],
};

/** Lamps of two colours by the leads that are wanted. */
const LEADS: Readonly<Partial<Record<SchemeUnfit, string>>> = {
  'needs-two-leads': 'led-5-red-green-2',
  'needs-three-leads': 'led-5-red-green-3c',
  'needs-common-cathode': 'led-5-red-green-3c',
};

/** "P4 reverse and P5 reverse". */
export function liesInWords(lies: Lies): string {
  return Object.entries(lies)
    .map(([point, lie]) => `${point} ${lie}`)
    .join(' and ');
}

function unsaid({ lampProblems, panel, plan, lamps, catalogue, switches }: CheckInput): readonly RawFinding[] {
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
          ...(pressed(problem.point)
            ? lightOtherwise(
                problem.lamp,
                (['latching-relay', 'drive-contact', 'blade-contact'] as const).filter(canLight(problem.lamp)),
              )
            : [addLever(panel, catalogue, problem.point)]),
        ]);
      case 'lamp-never-or-always':
        return raw(problem.code, [problem.lamp], problem.at, {}, [
          alter(problem.lamp, { shows: undefined }, 'show-its-leg', 'Show the leg that it lies on'),
        ]);
      case 'lamp-scheme-unfit':
        return raw(
          problem.code,
          [problem.lamp],
          problem.at,
          { scheme: schemeWords(problem.scheme), why: WHY[problem.why](problem.of) },
          [
            ...otherLeads(problem.lamp, problem.why),
            ...lightOtherwise(problem.lamp, INSTEAD[problem.why].filter(canLight(problem.lamp))),
            ...(problem.why === 'no-pulse' ? repeatLever(problem.lamp) : []),
          ],
        );
      case 'lamp-contacts-short':
        return raw(
          problem.code,
          [problem.lamp],
          problem.at,
          { carrier: problem.carrier, kind: problem.kind, needs: problem.needs, has: problem.has },
          moreContacts(problem.lamp, problem.carrier, problem.kind),
        );
      case 'lamp-several-ways':
        return raw(problem.code, [problem.lamp], problem.at, { ways: problem.ways }, [
          mend('split-lamp', 'Use a lamp for each way', null, price('lamp', 'led-3-amber')),
        ]);
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
      case 'group-apart':
        return raw(problem.code, [problem.group], null, { lamps: problem.lamps.join(' and ') }, [
          liftRecord(panel, 'lampGroups', problem.group, 'ungroup', 'Let the tool group them, contact by contact'),
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

  /** The lamp's lighting changed to other schemes: that of its lever where it has one, else the panel's. */
  function lightOtherwise(lamp: string, schemes: readonly Scheme[]): readonly Mend[] {
    const lever = leverOf(lamp);
    return schemes.map((scheme) => {
      const record = panel.levers?.find(({ id }) => id === lever);
      const edit =
        record?.lighting === undefined
          ? editOf(panel).set('lighting', { ...panel.lighting, scheme })
          : editOf(panel).update('levers', record.id, { lighting: { ...record.lighting, scheme } });
      return mend(`light-${scheme}`, `Light it ${schemeWords(scheme)}`, edit.done('lighting.scheme'));
    });
  }

  /** More contacts for what lights lamps: a switch of more poles; for a drive a relay, a second drive, or the lamps across the feed. */
  function moreContacts(lamp: string, carrier: string, kind: string): readonly Mend[] {
    if (kind === 'lever') {
      const record = panel.levers?.find(({ id }) => id === carrier);
      const has = record?.switch === undefined ? null : (catalogue.find('switch', record.switch)?.poles ?? null);
      const larger = has === null || has >= 4 ? null : smallestToggle(has + 1);
      const edit =
        larger === null || record === undefined
          ? null
          : editOf(panel).update('levers', carrier, { switch: larger }).done('lever.switch');
      const poles = larger === null ? [] : [mend('more-poles', `Use ${larger}`, edit, price('switch', larger))];
      return [...poles, ...repeatLever(lamp), ...acrossFeed(lamp)];
    }
    return [
      mend('add-relay', 'Let a contact work a relay that has two', null, price('relay', HELD_RELAY)),
      ...lightOtherwise(lamp, ['blade-contact']).map((each) => ({ ...each, price: price('contact', BLADE_CONTACT) })),
      ...acrossFeed(lamp),
    ];
  }

  /** A relay across the feed of a lever that stays, which repeats it for more contacts: one for the point that a lamp shows. */
  function repeatLever(lamp: string): readonly Mend[] {
    const lever = leverOf(lamp);
    const record = panel.levers?.find(({ id }) => id === lever);
    const points = new Set(lamps.find(({ id }) => id === lamp)?.claim.flatMap((lies) => Object.keys(lies)));
    const [point] = points;
    const { kind } = feedOf(panel, record);
    const stays = switches.find((each) => each.lever === lever);
    const fits =
      (kind === 'reversing' || kind === 'split') &&
      stays?.part.sprung === false &&
      !stays.part.centreOff &&
      stays.twin === undefined;
    if (point === undefined || points.size > 1 || !fits) return [];
    const own = panel.relays?.find(({ follows }) => follows === point);
    const edit =
      own === undefined
        ? editOf(panel).add('relays', { id: nextFreeId(panel, 'K'), part: HELD_RELAY, follows: point })
        : editOf(panel).update('relays', own.id, { part: HELD_RELAY });
    const scheme = 'latching-relay';
    const lit =
      record?.lighting === undefined
        ? edit.set('lighting', { ...panel.lighting, scheme })
        : edit.update('levers', record.id, { lighting: { ...record.lighting, scheme } });
    const text = `Let a relay across the feed of ${lever} repeat it, and light it from there`;
    return [mend('repeat-lever', text, lit.done('lighting.scheme'), price('relay', HELD_RELAY))];
  }

  /** A lamp of two colours whose leads go with what lights it. */
  function otherLeads(lamp: string, why: SchemeUnfit): readonly Mend[] {
    const part = LEADS[why];
    const of = lamps.find(({ id }) => id === lamp)?.of ?? lamp;
    const there = panel.lamps?.some(({ id }) => id === of) === true;
    if (part === undefined || !there) return [];
    const edit = editOf(panel).update('lamps', of, { part }).done('lamp.alter');
    return [mend('other-leads', `Use ${part}`, edit, price('lamp', part))];
  }

  /** Do buttons throw this point? */
  function pressed(point: string): boolean {
    return (panel.buttons ?? []).some(({ sets }) => sets?.[point] !== undefined);
  }

  /** Would a scheme light it, as its lever's feed and switch and its points' drives are? */
  function canLight(lamp: string): (scheme: Scheme) => boolean {
    const lever = leverOf(lamp);
    const record = panel.levers?.find(({ id }) => id === lever);
    const { kind } = feedOf(panel, record);
    const points = lamps.find(({ id }) => id === lamp)?.claim.flatMap((lies) => Object.keys(lies)) ?? [];
    const drives = drivesOfPoints(panel, catalogue, plan);
    return (scheme) => {
      switch (scheme) {
        case 'across-feed':
          return lever !== null && turnsOver(kind);
        case 'spare-pole':
          return (
            lever !== null &&
            switches.some((each) => each.lever === lever && !each.part.sprung && each.twin !== 'two-way')
          );
        case 'drive-contact':
          return points.every((point) => {
            const drive = drives.get(point);
            return drive !== undefined && contactsForLamps(panel, drive).length > 0;
          });
        case 'latching-relay':
          if (panel.relays?.some((each) => points.includes(each.follows ?? '') && each.part === HELD_RELAY) === true)
            return false;
          return (
            (kind === 'pulse' || switches.some((each) => each.lever === lever && each.twin === 'latch')) &&
            switches.find((each) => each.lever === lever)?.part.sprung !== false
          );
        default:
          return true;
      }
    };
  }

  /** Across the feed, where the lamp's lever has one that is held. */
  function acrossFeed(lamp: string): readonly Mend[] {
    return lightOtherwise(lamp, (['across-feed'] as const).filter(canLight(lamp)));
  }

  function price(kind: 'lamp' | 'switch' | 'relay' | 'contact', id: string): number | null {
    return catalogue.find(kind, id)?.price ?? null;
  }

  /** The lever that works the first point of a lamp's claim. */
  function leverOf(lamp: string): string | null {
    const points = lamps.find(({ id }) => id === lamp)?.claim.flatMap((lies) => Object.keys(lies)) ?? [];
    return plan.levers.find(({ works }) => works.some(({ point }) => points.includes(point)))?.id ?? null;
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

/**
 * The brightest and the dimmest lit lamp of the panel, where they differ more than 2 to 1. Brightness is current times efficiency, and
 * what a part is seen from is the measure of its efficiency: amps / seen.
 */
function uneven(
  input: CheckInput,
  most: ReadonlyMap<string, Most>,
  spot: ReadonlyMap<string, RawFinding['at']>,
): readonly RawFinding[] {
  const lit = input.wiring.lamps.flatMap((lamp) => {
    const amps = most.get(lamp.id)?.amps ?? 0;
    return amps >= lamp.part.seen ? [{ lamp, amps, light: amps / lamp.part.seen }] : [];
  });
  const sorted = lit.sort((a, b) => b.light - a.light);
  const [high, low] = [sorted[0], sorted[sorted.length - 1]];
  if (high === undefined || low === undefined || high.light <= low.light * EVEN_RATIO) return [];
  const sized = [low, high]
    .flatMap(({ lamp }) =>
      brighten(
        input,
        input.lamps.find(({ id }) => id === lamp.id),
      ),
    )
    .slice(0, 1);
  const values = { high: high.amps, low: low.amps, ratio: high.light / low.light };
  const mends = [...sized, ...match(input, high, low)];
  return [raw('lamps-uneven', [high.lamp.id, low.lamp.id], spot.get(low.lamp.id) ?? null, values, mends)];
}

interface Lit {
  readonly lamp: WiredLamp;
  readonly amps: number;
  readonly light: number;
}

/** The resistor that brings the two together: the brighter one dimmed where it stays pleasant, else the dimmer one raised. */
function match(input: CheckInput, high: Lit, low: Lit): readonly Mend[] {
  const dims = low.light * MATCH_WITHIN >= PLEASANT_TIMES;
  const lamp = dims ? high.lamp : low.lamp;
  const from = dims ? high.amps : low.amps;
  // An old lamp is raised no further than it stands.
  const amps = dims
    ? lamp.part.seen * low.light * MATCH_WITHIN
    : Math.min(lamp.part.max, (lamp.part.seen * high.light) / MATCH_WITHIN);
  if (!dims && high.light > (amps / lamp.part.seen) * EVEN_RATIO) return [];
  const group = input.groups.find(({ id }) => id === lamp.group);
  if (group === undefined || group.ohmsFrom === 'built' || group.arrange === 'parallel') return [];
  const law = lampLaw(lamp.part);
  const row = lamp.series === null ? 1 : group[lamp.lie].length;
  const left = from * group.ohms + row * (forwardVolts(law, from) - forwardVolts(law, amps));
  if (left <= 0) return [];
  const ohms = preferred('E12', left / amps, dims ? 'nearest' : 'up');
  if (ohms === group.ohms) return [];
  const { panel } = input;
  const record = panel.lampGroups?.find(({ id }) => id === group.id);
  const { id, arrange, guard } = group;
  const say = (edit: Edit) =>
    mend('match-ohms', `Use ${formatOhms(ohms)} for ${lamp.id}: ${formatAmps(amps)}`, edit.done('group.ohms'));
  const all = members(group);
  if (high.lamp.group !== low.lamp.group) {
    return record === undefined
      ? [say(editOf(panel).add('lampGroups', { id, lamps: all, arrange, guard, ohms }))]
      : [say(editOf(panel).update('lampGroups', id, { ohms }))];
  }
  // One resistor serves both: each gets its own, and a guard where the feed turns over, since neither guards the other any more.
  if (high.lamp.of === low.lamp.of || all.length !== 2) return [];
  const guarded = group.nodes === null ? ({ guard: 'antiparallel' } as const) : {};
  const rest = { lamps: all.filter((each) => each !== lamp.of), arrange: 'own' as const, ohms: group.ohms, ...guarded };
  const kept =
    record === undefined
      ? editOf(panel).add('lampGroups', { id, ...rest })
      : editOf(panel).update('lampGroups', id, rest);
  const own = { id: nextFreeId(kept.panel, 'G'), lamps: [lamp.of], arrange: 'own' as const, ohms, ...guarded };
  return [say(kept.add('lampGroups', own))];

  /** The lamps of the file in a group, each once: of two colours both elements are one lamp. */
  function members(group: LampGroup): string[] {
    const of = new Map(input.lamps.map((lamp) => [lamp.id, lamp.of]));
    return [...new Set([...group.normal, ...group.reverse].map((id) => of.get(id) ?? id))];
  }
}

/** Brought together to less than the 2 to 1 that is the most, so that the next resistor of the row still serves. */
const MATCH_WITHIN = 1.2;
