/** Which record each inferred point and crossing has, and the ids of those that have none. */
import {
  type CrossingRecord,
  DEFAULTS,
  type NewIds,
  type PanelFile,
  type PointRecord,
  type ThreeWayRecord,
} from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import type { LineEnd } from './find-ends.ts';
import { compareSpots } from './line.ts';
import { matchRecords, recordReach } from './match-records.ts';
import type { Junctions } from './read-junctions.ts';
import type { RawCrossing, RawPoint } from './read-sight.ts';
import { readSlip, type Slip } from './read-slip.ts';
import { NUMBERING_STEP } from './tolerances.ts';
import type { Bridge, PlanProblem } from './types.ts';

export interface NamedPoint {
  readonly raw: RawPoint;
  readonly id: string;
  readonly record: PointRecord | null;
}

export interface NamedThreeWay {
  readonly raw: RawPoint;
  /** The first's reverse is the leg further left. */
  readonly ids: readonly [string, string];
  readonly records: readonly [PointRecord | null, PointRecord | null];
  readonly record: ThreeWayRecord | null;
}

export interface NamedCrossing {
  readonly raw: RawCrossing;
  readonly id: string;
  readonly record: CrossingRecord | null;
  readonly slip: (Slip & { readonly ids: readonly [string, string]; readonly at: readonly [Spot, Spot] }) | null;
}

export interface NamedFeatures {
  readonly points: readonly NamedPoint[];
  readonly threeWays: readonly NamedThreeWay[];
  readonly crossings: readonly NamedCrossing[];
  readonly bridges: readonly Bridge[];
  /** Ends that carry on into each other on a bridge. */
  readonly joints: RawCrossing['seams'];
  readonly problems: readonly PlanProblem[];
}

export function nameFeatures(panel: PanelFile, { points, crossings }: Junctions, ids: NewIds): NamedFeatures {
  const usual = recordReach(DEFAULTS.strip.width / 2);
  const plain = points.filter((point) => point.kind === 'point');
  const triple = points.filter((point) => point.kind === 'three-way');
  const ways = matchRecords('threeWay', panel.threeWays ?? [], triple, usual);
  const ofWays = new Set([...ways.found.values()].flatMap((record) => record.points ?? []));
  const pointRecords = panel.points ?? [];
  const named = matchRecords(
    'point',
    pointRecords.filter((record) => !ofWays.has(record.id)),
    plain,
    usual,
  );
  const crossed = matchRecords('crossing', panel.crossings ?? [], crossings, usual);
  const problems: PlanProblem[] = [...ways.problems, ...named.problems, ...crossed.problems];

  const bridges: Bridge[] = [];
  const joints: (readonly [LineEnd, LineEnd])[] = [];
  const kept: { raw: RawCrossing; record: CrossingRecord | null; slip: Slip | null }[] = [];
  crossings.forEach((raw, i) => {
    const record = crossed.found.get(i) ?? null;
    const strips = [raw.lines[0].id, raw.lines[1].id] as const;
    if (record?.kind === 'over') {
      bridges.push({ at: raw.at, strips, record });
      joints.push(...raw.seams);
      return;
    }
    const slip = record === null ? null : readSlip(raw, record);
    if (slip === null && (record?.kind === 'single-slip' || record?.kind === 'double-slip'))
      problems.push({ code: 'crossing-unreadable', strips, at: raw.at });
    kept.push({ raw, record, slip });
  });

  // Two of each prefix are numbered together, left to right, whatever they are.
  const numberless: { at: Spot; give: (id: string) => void }[] = [];
  const idOr = (known: string | undefined, at: Spot): { id: string } => {
    const box = { id: known ?? '' };
    if (known === undefined) numberless.push({ at, give: (id) => (box.id = id) });
    return box;
  };
  const plainIds = plain.map((raw, i) => idOr(named.found.get(i)?.id, raw.at));
  const tripleIds = triple.map((raw, i) => {
    const known = ways.found.get(i)?.points ?? [];
    return [idOr(known[0], raw.at), idOr(known[1], raw.at)] as const;
  });
  const slipIds = kept.map(({ raw, record, slip }) => {
    if (slip === null) return null;
    const at = slip.toward.map((way): Spot => [raw.at[0] + way[0] * raw.half, raw.at[1] + way[1] * raw.half]);
    const [first, second] = [at[0] ?? raw.at, at[1] ?? raw.at];
    return {
      at: [first, second] as const,
      ids: [idOr(record?.ends?.[0]?.id, first), idOr(record?.ends?.[1]?.id, second)] as const,
    };
  });
  number('P');
  const crossingIds = kept.map(({ raw, record }) => idOr(record?.id, raw.at));
  number('X');

  const recordOf = new Map(pointRecords.map((record) => [record.id, record]));
  return {
    points: plain.map((raw, i) => ({ raw, id: plainIds[i]?.id ?? '', record: named.found.get(i) ?? null })),
    threeWays: triple.map((raw, i) => {
      const pair = [tripleIds[i]?.[0].id ?? '', tripleIds[i]?.[1].id ?? ''] as const;
      return {
        raw,
        ids: pair,
        records: [recordOf.get(pair[0]) ?? null, recordOf.get(pair[1]) ?? null],
        record: ways.found.get(i) ?? null,
      };
    }),
    crossings: kept.map(({ raw, record, slip }, i) => {
      const own = slipIds[i] ?? null;
      return {
        raw,
        id: crossingIds[i]?.id ?? '',
        record,
        slip: slip === null || own === null ? null : { ...slip, at: own.at, ids: [own.ids[0].id, own.ids[1].id] },
      };
    }),
    bridges: bridges.sort((a, b) => compareSpots(a.at, b.at, NUMBERING_STEP)),
    joints,
    problems,
  };

  function number(prefix: string): void {
    // Sorting is stable: what lies on one spot keeps its order.
    numberless.sort((a, b) => compareSpots(a.at, b.at, NUMBERING_STEP));
    for (const { give } of numberless) give(ids.next(prefix));
    numberless.length = 0;
  }
}
