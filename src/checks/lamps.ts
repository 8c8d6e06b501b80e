/** Lamps: what they cannot say, and how bright they are. */

import { editOf, type LampRecord, type Lies } from '../panel/index.ts';
import type { WiredLamp } from '../wiring/index.ts';
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
