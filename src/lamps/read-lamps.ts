/**
 * What each lamp claims, and whether one lever can say it.
 * A claim is a list of alternatives; each alternative asks lies of points, all of which must hold. The claim is on the blades;
 * the basis only says what the circuit can know, and across the feed that is what was asked.
 */
import { DEFAULTS, type LampRecord, type Lies, type PanelFile } from '../panel/index.ts';
import type { Catalogue, LampPart } from '../parts/index.ts';
import { legsOf, type Plan, spanAt } from '../plan/index.ts';
import { lampWays, unfit } from './lamp-ways.ts';
import { LAMP_REACH } from './tolerances.ts';
import type { ClaimKind, LampProblem, LampUse, LightTree } from './types.ts';
import { waysTo } from './ways-to.ts';

const CLAIMS_NO_LIE: ReadonlySet<string> = new Set(['supply', 'occupancy', 'test']);

/** What the lamps of a panel say, and how each is lit. */
export interface LampsRead {
  /** In the order of the file; of a lamp of two colours one for each element. */
  readonly lamps: readonly LampUse[];
  /** Contacts that light lamps, tree by tree. */
  readonly trees: readonly LightTree[];
  readonly problems: readonly LampProblem[];
}

/** One light: a lamp, or an element of one. */
interface Light {
  readonly id: string;
  readonly record: LampRecord;
  readonly element: LampUse['element'];
  readonly shows: LampRecord['shows'];
}

/** Every lamp of the file, in its order, with what it claims and what can light it. */
export function readLamps(panel: PanelFile, catalogue: Catalogue, plan: Plan): LampsRead {
  const problems: LampProblem[] = [];
  const points = new Set(plan.points.map((point) => point.id));
  const nearestFirst = legReader(plan);
  const ways = lampWays(panel, catalogue, plan);

  const lights = (panel.lamps ?? []).flatMap((record): Light[] => {
    const { elements } = record;
    if (elements === undefined) return [{ id: record.id, record, element: null, shows: record.shows }];
    if (elements.length !== 2) {
      problems.push(unfit(record, record.id, 'two colours', 'elements-not-two', record.part ?? ''));
      return [{ id: record.id, record, element: null, shows: undefined }];
    }
    return elements.map((each, i) => {
      const element = i === 0 ? 'A' : 'B';
      return { id: `${record.id}${element}`, record, element, shows: each.shows };
    });
  });
  const read = lights.map((light): LampUse => {
    const { id, record, element } = light;
    const part = partOf(light);
    const on = spanAt(plan, record.at, LAMP_REACH);
    const ends = on === null ? [] : nearestFirst(on.span, on.along);
    const { claim, from } = claimOf(light, ends, on?.span ?? null);
    const kind = kindOf(record, claim);
    const claimed = { id, at: record.at, claim, part, element };
    const way = record.claims === 'supply' ? ways.steady(claimed) : claim.length === 0 ? null : ways.wayOf(claimed);
    if (way !== null && 'problem' in way) problems.push(...way.problem);
    const lit = way === null || 'problem' in way ? null : way;
    return {
      id,
      of: record.id,
      element,
      at: record.at,
      part,
      claim,
      kind,
      basis: lit?.basis ?? 'asked',
      from,
      span: on?.span ?? null,
      scheme: lit?.scheme ?? ways.usual.scheme,
      circuit: lit?.circuit ?? null,
      hang: null,
      supply: lit?.supply ?? ways.usual.supply,
      lever: lit?.lever ?? null,
      lie: lit?.lie ?? null,
      current: record.current ?? lit?.current ?? ways.usual.current,
      speaksWhenDark: false,
    };
  });
  const claimed = new Set(
    read.flatMap((lamp) => lamp.claim.flatMap((lies) => Object.entries(lies).map(([point, lie]) => `${point} ${lie}`))),
  );
  const darkOf = new Map((panel.lamps ?? []).map((record) => [record.id, record.dark]));
  const spoken = read.map((lamp) => ({ ...lamp, speaksWhenDark: speaksWhenDark(lamp, claimed, darkOf.get(lamp.of)) }));
  const { lamps, trees } = ways.hang(spoken, problems);
  return { lamps, trees, problems };

  function partOf({ record, element }: Light): LampPart {
    const wanted = record.part ?? DEFAULTS.lamp.part;
    const part = catalogue.find('lamp', wanted);
    if (part !== undefined) return part;
    if (element !== 'B') problems.push({ code: 'lamp-part-unknown', lamp: record.id, part: wanted, at: record.at });
    const usual = catalogue.find('lamp', DEFAULTS.lamp.part);
    if (usual === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.lamp.part}`);
    return usual;
  }

  /** `ends`: what the legs of its span ask, end by end, the nearer first. */
  function claimOf(
    { id, record, element, shows }: Light,
    ends: readonly Lies[],
    span: string | null,
  ): { claim: readonly Lies[]; from: LampUse['from'] } {
    if (record.claims !== undefined && CLAIMS_NO_LIE.has(record.claims)) return { claim: [], from: 'none' };
    // Elements that are not two were reported: what they claim is not known.
    if (record.elements !== undefined && element === null) return { claim: [], from: 'none' };
    const [nearest, other] = ends;
    if (shows !== undefined) {
      const alternatives = listOf(shows);
      const unknown = alternatives.flatMap((lies) => Object.keys(lies)).find((id) => !points.has(id));
      if (unknown !== undefined) {
        problems.push({ code: 'lamp-point-unknown', lamp: id, point: unknown, at: record.at });
        return { claim: [], from: 'none' };
      }
      // Or of nothing never holds, and of nothing always.
      if (alternatives.length === 0 || alternatives.some((lies) => Object.keys(lies).length === 0)) {
        problems.push({ code: 'lamp-never-or-always', lamp: id, at: record.at });
        return { claim: [], from: 'shows' };
      }
      // Of two colours one speaks for this leg and the other for the one beside it: wrong is where neither is of this leg.
      const said = record.elements?.flatMap((each) => listOf(each.shows)) ?? alternatives;
      if (nearest !== undefined && element !== 'B' && said.every((lies) => denies(lies, nearest))) {
        problems.push({
          code: 'lamp-denies-its-leg',
          lamp: id,
          leg: nearest,
          shows: alternatives,
          at: record.at,
        });
      }
      return { claim: alternatives, from: 'shows' };
    }
    // Lit only when it is reached from a named place: every point on the way there.
    const reached = record.from ?? (record.claims === 'route' ? panel.lighting?.from : undefined);
    if (reached !== undefined && span !== null) {
      const claim = waysTo(plan, reached, span) ?? [];
      if (claim.length > 0 && claim.every((lies) => Object.keys(lies).length > 0)) return { claim, from: 'span' };
      const code = claim.length === 0 ? 'lamp-claims-nothing' : 'lamp-never-or-always';
      problems.push({ code, lamp: id, at: record.at });
      return { claim: [], from: 'none' };
    }
    if (nearest === undefined) {
      problems.push({ code: 'lamp-claims-nothing', lamp: id, at: record.at });
      return { claim: [], from: 'none' };
    }
    if (record.claims === 'leg' || other === undefined) return { claim: [nearest], from: 'span' };
    if (denies(nearest, other)) {
      // Both legs of one point, round a balloon: it never lies both ways.
      problems.push({ code: 'lamp-never-or-always', lamp: id, at: record.at });
      return { claim: [], from: 'none' };
    }
    return { claim: [{ ...nearest, ...other }], from: 'span' };
  }
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

/** What a lamp or an element shows, as a list of alternatives. */
function listOf(shows: LampRecord['shows']): readonly Lies[] {
  if (shows === undefined) return [];
  const list: readonly Lies[] = Array.isArray(shows) ? shows : [shows];
  return list;
}

/** Can these lies never hold together with that leg? */
function denies(lies: Lies, leg: Lies): boolean {
  return Object.entries(leg).some(([point, lie]) => Object.hasOwn(lies, point) && lies[point] !== lie);
}

function kindOf(record: LampRecord, claim: readonly Lies[]): ClaimKind {
  if (record.claims !== undefined) return record.claims;
  if (record.shows === undefined && record.from !== undefined) return 'route';
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
