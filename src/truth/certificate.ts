/**
 * The certificate of a proof: everything that another program needs to work the proof out again without knowing how it was made. The
 * networks as plain records, every state of them with the volts of its nodes, and how each lamp stands in each state to its claim.
 * A state names the levers and lies that decide it; it holds for every setting of the others.
 */

import { twinId } from '../contacts/index.ts';
import type { LampUse } from '../lamps/index.ts';
import { leversOfPoints } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import { darkBelow } from '../parts/index.ts';
import { carriersOf, type Position } from '../wiring/index.ts';
import { type Case, settingsOf } from './cases.ts';
import {
  type CertifiedIsland,
  type CertifiedState,
  certifyIslands,
  linksOf,
  type PointLink,
} from './certificate-states.ts';
import type { TruthInput } from './prove-healthy.ts';
import { CERTIFIED_CASES } from './tolerances.ts';
import type { Shown } from './types.ts';
import { holds, type Verdict, verdictOf } from './verdict.ts';

/** One setting of the levers that a lamp's claim hangs on, and the states in which the lamp then is. */
export interface CertifiedCase {
  readonly levers: Readonly<Record<string, Position>>;
  readonly history: Lies;
  readonly states: readonly number[];
  readonly shown: Verdict;
  readonly should: Shown;
}

export interface CertifiedLamp {
  readonly id: string;
  readonly claim: readonly Lies[];
  readonly speaksWhenDark: boolean;
  /** Amps from which it is lit, up to which it is dark, and above twice which it is destroyed. */
  readonly seen: number;
  readonly dark: number;
  readonly max: number;
  /** Its place among the circuits; null where it is not wired. */
  readonly circuit: number | null;
  /** States, counted from 0 in its circuit, that tell of it. */
  readonly states: readonly number[];
  /** Empty where there are more than can be listed, or more states than are told. */
  readonly cases: readonly CertifiedCase[];
}

export interface Certificate {
  readonly settings: string;
  readonly levers: readonly {
    readonly id: string;
    readonly positions: readonly Position[];
    readonly sprung: boolean;
    /** Of a switch on another panel the lever whose asking it turns over; null: it is a lever of this panel. */
    readonly turns: string | null;
  }[];
  /** What works each point, how it lies when that lever is normal, and the point whose drive it shares, against which it may lie. */
  readonly points: readonly {
    readonly id: string;
    readonly lever: string | null;
    readonly whenNormal: Lie | null;
    readonly of: string;
    readonly opposite: boolean;
  }[];
  /** What decides contacts and is no lever: it lies normal when that point lies so. */
  readonly carriers: readonly { readonly id: string; readonly point: string; readonly whenNormal: Lie }[];
  readonly joints: readonly { readonly id: string; readonly a: string; readonly b: string }[];
  readonly circuits: readonly CertifiedIsland[];
  readonly lamps: readonly CertifiedLamp[];
}

/** Certify the healthy panel. Lists in the order of the file and of the wiring. */
export function certifyHealthy(input: TruthInput): Certificate {
  const { plan, switches, lamps, wiring } = input;
  const settings = settingsOf(plan, switches);
  const links = linksOf(wiring);
  const [circuits, joints] = certifyIslands(wiring, links);
  const own = new Map(switches.map((each) => [each.lever, each]));
  const workedBy = leversOfPoints(plan);
  return {
    settings: settings.count,
    levers: plan.levers.flatMap(({ id }): Certificate['levers'] => {
      const { part, twin } = own.get(id) ?? {};
      // Where a relay remembers for two levers, it stays where the last throw took it.
      const sprung = part?.sprung === true && twin !== 'latch';
      const centre = part?.centreOff === true && !part.sprung;
      const lever: Certificate['levers'][number] = {
        id,
        positions: centre ? ['normal', 'reverse', 'centre'] : ['normal', 'reverse'],
        sprung,
        turns: null,
      };
      if (twin !== 'two-way') return [lever];
      return [lever, { id: twinId(id), positions: ['normal', 'reverse'], sprung: false, turns: id }];
    }),
    points: plan.points.map(({ id }) => {
      const worked = workedBy.get(id);
      const link = links.get(id) ?? { of: id, opposite: false };
      return { id, lever: worked?.lever.id ?? null, whenNormal: worked?.whenNormal ?? null, ...link };
    }),
    carriers: [...carriersOf(wiring).values()].flatMap(({ id, points: [first] }) =>
      first === undefined ? [] : [{ id, point: first.point, whenNormal: first.whenNormal }],
    ),
    joints,
    circuits,
    lamps: lamps.map((lamp) => lampOf(lamp)),
  };

  function lampOf(lamp: LampUse): CertifiedLamp {
    const { id, claim, speaksWhenDark, part } = lamp;
    const place = circuits.findIndex(({ records }) => records.some((each) => each.kind === 'lamp' && each.id === id));
    const island = circuits[place];
    const states = island?.states.flatMap((state, i) => (Object.hasOwn(state.amps, id) ? [i] : [])) ?? [];
    const all = claim.length === 0 ? [] : settings.casesOf(lamp);
    return {
      id,
      claim,
      speaksWhenDark,
      seen: part.seen,
      dark: darkBelow(part),
      max: part.max,
      circuit: place < 0 ? null : place,
      states,
      cases:
        all.length > CERTIFIED_CASES || island?.left.includes(id) === true
          ? []
          : all.map((each) => caseOf(lamp, each, island, states)),
    };
  }

  function caseOf(
    lamp: LampUse,
    each: Case,
    island: CertifiedIsland | undefined,
    states: readonly number[],
  ): CertifiedCase {
    const near = states.flatMap((i) => {
      const state = island?.states[i];
      return state !== undefined && agree(state, each, links) ? [{ i, amps: state.amps[lamp.id] ?? DARK }] : [];
    });
    const of = (which: 0 | 1 | 2) => near.map(({ amps }) => amps[which]);
    const range =
      near.length === 0
        ? { low: 0, high: 0, least: 0, most: 0 }
        : {
            low: Math.min(...of(1)),
            high: Math.max(...of(2)),
            least: Math.min(...of(0)),
            most: Math.max(...of(0)),
          };
    return {
      levers: each.levers,
      history: each.history,
      states: near.map(({ i }) => i),
      shown: verdictOf(lamp, range),
      should: lamp.claim.some((lies) => holds(lies, each.lies)) ? 'lit' : 'unlit',
    };
  }
}

const DARK: readonly [number, number, number] = [0, 0, 0];

/** Can both be? A point's history in the case is told by the first point of its drive. */
function agree(state: CertifiedState, each: Case, links: ReadonlyMap<string, PointLink>): boolean {
  for (const [lever, position] of Object.entries(state.levers))
    if (Object.hasOwn(each.levers, lever) && each.levers[lever] !== position) return false;
  return Object.entries(each.history).every(([point, lie]) => {
    const { of, opposite } = links.get(point) ?? { of: point, opposite: false };
    const told = Object.hasOwn(state.history, of) ? state.history[of] : undefined;
    return told === undefined || (told === lie) !== opposite;
  });
}
