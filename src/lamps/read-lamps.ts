/**
 * What each lamp claims, and whether one lever can say it.
 * A claim is a list of alternatives; each alternative asks lies of points, all of which must hold. The claim is on the blades;
 * the basis only says what the circuit can know, and across the feed that is what was asked.
 */
import {
  DEFAULTS,
  type LampRecord,
  type LeverRecord,
  type Lie,
  type Lies,
  lightingOf,
  type PanelFile,
} from '../panel/index.ts';
import type { Catalogue, LampPart } from '../parts/index.ts';
import { type Lever, legsOf, type Plan, spanAt } from '../plan/index.ts';
import { LAMP_REACH } from './tolerances.ts';
import type { ClaimKind, LampProblem, LampUse } from './types.ts';

const CLAIMS_NO_LIE: ReadonlySet<string> = new Set(['supply', 'occupancy', 'test']);

/** Every lamp of the file, in its order, with what it claims and the lever that can light it. */
export function readLamps(
  panel: PanelFile,
  catalogue: Catalogue,
  plan: Plan,
): { readonly lamps: readonly LampUse[]; readonly problems: readonly LampProblem[] } {
  const problems: LampProblem[] = [];
  const points = new Set(plan.points.map((point) => point.id));
  const leverRecords = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const workedBy = leversOfPoints(plan);
  const nearestFirst = legReader(plan);

  const read = (panel.lamps ?? []).map((record): LampUse => {
    const part = partOf(record);
    const on = spanAt(plan, record.at, LAMP_REACH);
    const ends = on === null ? [] : nearestFirst(on.span, on.along);
    const { claim, from } = claimOf(record, ends);
    const kind = kindOf(record, claim);
    const bound = bindToLever(record, claim);
    const leverRecord = bound === null ? undefined : leverRecords.get(bound.lever);
    const lighting = lightingOf(panel, leverRecord);
    const scheme = record.elements !== undefined || part.elements === 2 ? 'two colours' : lighting.scheme;
    const wired = bound !== null && scheme === 'across-feed';
    if (bound !== null && !wired)
      problems.push({ code: 'lamp-scheme-not-built', lamp: record.id, scheme, at: record.at });
    return {
      id: record.id,
      at: record.at,
      part,
      claim,
      kind,
      basis: 'asked',
      from,
      span: on?.span ?? null,
      lever: wired ? bound.lever : null,
      lie: wired ? bound.lie : null,
      current: record.current ?? lighting.current,
      speaksWhenDark: false,
    };
  });
  const claimed = new Set(
    read.flatMap((lamp) => lamp.claim.flatMap((lies) => Object.entries(lies).map(([point, lie]) => `${point} ${lie}`))),
  );
  const darkOf = new Map((panel.lamps ?? []).map((record) => [record.id, record.dark]));
  const lamps = read.map((lamp) => ({ ...lamp, speaksWhenDark: speaksWhenDark(lamp, claimed, darkOf.get(lamp.id)) }));
  return { lamps, problems };

  function partOf(record: LampRecord): LampPart {
    const wanted = record.part ?? DEFAULTS.lamp.part;
    const part = catalogue.find('lamp', wanted);
    if (part !== undefined) return part;
    problems.push({ code: 'lamp-part-unknown', lamp: record.id, part: wanted, at: record.at });
    const usual = catalogue.find('lamp', DEFAULTS.lamp.part);
    if (usual === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.lamp.part}`);
    return usual;
  }

  /** `ends`: what the legs of its span ask, end by end, the nearer first. */
  function claimOf(record: LampRecord, ends: readonly Lies[]): { claim: readonly Lies[]; from: LampUse['from'] } {
    if (record.claims !== undefined && CLAIMS_NO_LIE.has(record.claims)) return { claim: [], from: 'none' };
    const [nearest, other] = ends;
    if (record.shows !== undefined) {
      const alternatives: readonly Lies[] = Array.isArray(record.shows) ? record.shows : [record.shows];
      const unknown = alternatives.flatMap((lies) => Object.keys(lies)).find((id) => !points.has(id));
      if (unknown !== undefined) {
        problems.push({ code: 'lamp-point-unknown', lamp: record.id, point: unknown, at: record.at });
        return { claim: [], from: 'none' };
      }
      // Or of nothing never holds, and of nothing always.
      if (alternatives.length === 0 || alternatives.some((lies) => Object.keys(lies).length === 0)) {
        problems.push({ code: 'lamp-never-or-always', lamp: record.id, at: record.at });
        return { claim: [], from: 'shows' };
      }
      if (nearest !== undefined && alternatives.every((lies) => denies(lies, nearest))) {
        problems.push({
          code: 'lamp-denies-its-leg',
          lamp: record.id,
          leg: nearest,
          shows: alternatives,
          at: record.at,
        });
      }
      return { claim: alternatives, from: 'shows' };
    }
    if (nearest === undefined) {
      problems.push({ code: 'lamp-claims-nothing', lamp: record.id, at: record.at });
      return { claim: [], from: 'none' };
    }
    if (record.claims === 'leg' || other === undefined) return { claim: [nearest], from: 'span' };
    if (denies(nearest, other)) {
      // Both legs of one point, round a balloon: it never lies both ways.
      problems.push({ code: 'lamp-never-or-always', lamp: record.id, at: record.at });
      return { claim: [], from: 'none' };
    }
    return { claim: [{ ...nearest, ...other }], from: 'span' };
  }

  function bindToLever(record: LampRecord, claim: readonly Lies[]): { lever: string; lie: Lie } | null {
    if (claim.length === 0) return null;
    const levers = new Set<string>();
    const positions = new Set<Lie>();
    for (const lies of claim) {
      const asked = new Set<Lie>();
      for (const [point, lie] of Object.entries(lies)) {
        const worked = workedBy.get(point);
        if (worked === undefined) {
          problems.push({ code: 'lamp-point-has-no-lever', lamp: record.id, point, at: record.at });
          return null;
        }
        levers.add(worked.lever.id);
        asked.add(worked.whenNormal === lie ? 'normal' : 'reverse');
      }
      // Both positions of one lever at once: this alternative never holds.
      if (asked.size === 1 || levers.size > 1) for (const position of asked) positions.add(position);
    }
    if (levers.size > 1) {
      problems.push({ code: 'lamp-needs-two-levers', lamp: record.id, levers: [...levers].sort(), at: record.at });
      return null;
    }
    const [lever] = levers;
    const [lie] = positions;
    if (lever === undefined || lie === undefined || positions.size > 1) {
      problems.push({ code: 'lamp-never-or-always', lamp: record.id, at: record.at });
      return null;
    }
    return { lever, lie };
  }
}

/** The lever that works each point, and the point's lie when it is normal; the first lever where two claim one point. */
export function leversOfPoints(plan: Plan): ReadonlyMap<string, { readonly lever: Lever; readonly whenNormal: Lie }> {
  const answer = new Map<string, { lever: Lever; whenNormal: Lie }>();
  for (const lever of plan.levers) {
    for (const worked of lever.works) {
      if (!answer.has(worked.point)) answer.set(worked.point, { lever, whenNormal: worked.whenNormal });
    }
  }
  return answer;
}

/** What the legs of a span ask, end by end, the nearer end first; each span is asked once. A leg of a three-way asks two lies. */
function legReader(plan: Plan): (span: string, along: number) => readonly Lies[] {
  const lengths = new Map(plan.spans.map((span) => [span.id, span.length]));
  const legs = new Map<string, ReturnType<typeof legsOf>>();
  return (span, along) => {
    const known = legs.get(span) ?? legsOf(plan, span);
    legs.set(span, known);
    const distance = (end: 0 | 1) => (end === 0 ? along : (lengths.get(span) ?? 0) - along);
    return ([0, 1] as const)
      .map((end) => ({ end, legs: known.filter((leg) => leg.end === end) }))
      .filter((each) => each.legs.length > 0)
      .sort((a, b) => distance(a.end) - distance(b.end) || a.end - b.end)
      .map((each) => Object.fromEntries(each.legs.map((leg) => [leg.point, leg.lie])));
  };
}

/** Can these lies never hold together with that leg? */
function denies(lies: Lies, leg: Lies): boolean {
  return Object.entries(leg).some(([point, lie]) => Object.hasOwn(lies, point) && lies[point] !== lie);
}

function kindOf(record: LampRecord, claim: readonly Lies[]): ClaimKind {
  if (record.claims !== undefined) return record.claims;
  const points = new Set(claim.flatMap((lies) => Object.keys(lies))).size;
  return points > 2 ? 'route' : points === 2 ? 'span' : 'leg';
}

/** A lamp speaks when dark when the opposite of its claim has no lamp of its own; the file may say otherwise. */
function speaksWhenDark(lamp: LampUse, claimed: ReadonlySet<string>, said: LampRecord['dark']): boolean {
  if (said !== undefined) return said === 'opposite';
  return lamp.claim.some((lies) =>
    Object.entries(lies).some(([point, lie]) => !claimed.has(`${point} ${lie === 'normal' ? 'reverse' : 'normal'}`)),
  );
}
