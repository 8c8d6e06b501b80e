/** Levers: those of the file, or one for each point that a lever can work; and where they stand. */
import { DEFAULTS, type LeverRecord, type Lie, leverRow, type NewIds, type PanelFile } from '../panel/index.ts';
import { resolveCatalogue, worksWithoutLever } from '../parts/index.ts';
import type { Spot } from '../units/index.ts';
import { byId } from './by-id.ts';
import type { Lever, PlanPoint, PlanProblem, Worked } from './types.ts';

/** Points that something else than a lever works: a hand, or a decoder's command. */
export function pointsWithoutLever(panel: PanelFile, points: readonly PlanPoint[]): ReadonlySet<string> {
  const named = points.filter((point) => point.record?.drive !== undefined);
  if (named.length === 0) return new Set();
  const catalogue = resolveCatalogue(panel.parts);
  const records = new Map((panel.drives ?? []).map((record) => [record.id, record]));
  return new Set(
    named
      .filter(({ record }) => {
        const wanted = record?.drive ?? DEFAULTS.drive.part;
        const part = records.has(wanted) ? (records.get(wanted)?.part ?? DEFAULTS.drive.part) : wanted;
        const known = catalogue.find('drive', part);
        return known !== undefined && worksWithoutLever(known);
      })
      .map((point) => point.id),
  );
}

/**
 * Without the key `levers`: one for each point that no hand or decoder works, its id the point's own number where that is free, else
 * the next free one. With it: those of the file. Levers without a place stand in one row, 44 mm apart, 22 mm below the lowest strip, in the
 * order of their ids, its middle below the middle of the strips but never past the left edge.
 */
export function readLevers(
  panel: PanelFile,
  points: readonly PlanPoint[],
  ids: NewIds,
): { readonly levers: readonly Lever[]; readonly problems: readonly PlanProblem[] } {
  const free = pointsWithoutLever(panel, points);
  if (panel.levers === undefined) {
    const worked = points.filter((point) => !free.has(point.id));
    // Every point that can has its own number before the rest take what is left.
    const own = worked.map((point) => {
      const number = /\d+$/.exec(point.id)?.[0];
      return number === undefined ? null : ids.claim(`L${number}`);
    });
    const levers = worked.map((point, i) => ({ id: own[i] ?? ids.next('L'), point: point.id }));
    levers.sort((a, b) => byId(a.id, b.id));
    const row = rowOf(panel, levers.length);
    return {
      levers: levers.map(({ id, point }, i) => ({
        id,
        name: null,
        at: row(i),
        angle: DEFAULTS.lever.angle,
        switch: null,
        works: [{ point, whenNormal: 'normal' }],
        recorded: false,
      })),
      problems: [],
    };
  }
  return recordedLevers(panel, panel.levers, points, free);
}

function recordedLevers(
  panel: PanelFile,
  records: readonly LeverRecord[],
  points: readonly PlanPoint[],
  free: ReadonlySet<string>,
): { readonly levers: readonly Lever[]; readonly problems: readonly PlanProblem[] } {
  const known = new Map(points.map((point) => [point.id, point]));
  const problems: PlanProblem[] = [];
  const workers = new Map<string, string[]>();
  const sorted = [...records].sort((a, b) => byId(a.id, b.id));
  const row = rowOf(panel, sorted.filter((record) => record.at === undefined).length);
  let placed = 0;
  const levers = sorted.map((record): Lever => {
    const works: Worked[] = [];
    for (const { point, opposite } of record.works ?? []) {
      if (point === undefined) continue;
      if (!known.has(point)) {
        problems.push({ code: 'lever-works-nothing-there', lever: record.id, point });
        continue;
      }
      const whenNormal: Lie = opposite === true ? 'reverse' : 'normal';
      works.push({ point, whenNormal });
      // A lever that names a point twice still works it once.
      workers.set(point, [...new Set([...(workers.get(point) ?? []), record.id])]);
    }
    if ((record.works ?? []).length === 0) problems.push({ code: 'lever-works-nothing', lever: record.id });
    return {
      id: record.id,
      name: record.name ?? null,
      at: record.at ?? row(placed++),
      angle: record.angle ?? DEFAULTS.lever.angle,
      switch: record.switch ?? null,
      works,
      recorded: true,
    };
  });
  const byButton = new Set((panel.buttons ?? []).flatMap((button) => Object.keys(button.sets ?? {})));
  for (const point of points) {
    const by = workers.get(point.id) ?? [];
    if (by.length > 1) problems.push({ code: 'point-worked-twice', point: point.id, levers: by, at: point.at });
    if (by.length === 0 && !free.has(point.id) && !byButton.has(point.id))
      problems.push({ code: 'point-worked-by-none', point: point.id, at: point.at });
  }
  return { levers, problems };
}

/** Where the levers of a row of so many stand, counted from 0. */
function rowOf(panel: PanelFile, count: number): (i: number) => Spot {
  const { pitch } = DEFAULTS.lever;
  const y = leverRow(panel);
  let [left, right] = [Infinity, -Infinity];
  for (const { path } of panel.strips) {
    for (const [x] of path) {
      left = Math.min(left, x);
      right = Math.max(right, x);
    }
  }
  const middle = left > right ? 0 : (left + right) / 2;
  const first = Math.max(pitch / 2, middle - ((count - 1) * pitch) / 2);
  return (i) => [first + i * pitch, y];
}
