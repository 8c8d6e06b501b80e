/**
 * Which lever works which point: put under a lever, taken off to one of its own, joined, parted, arranged anew.
 * A lever that works nothing any more goes, and its id is retired; one that works a signal, a section or an uncoupler besides stays.
 */
import {
  type Edit,
  editOf,
  faceOf,
  type LeverRecord,
  type Lie,
  type PanelFile,
  type Transaction,
} from '../panel/index.ts';
import { pointsWithoutLever } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import { finish, freshNames, planOf } from './edits.ts';
import { writtenSpot } from './geometry.ts';
import { type Picked, recordLevers } from './picked.ts';
import { takeOut } from './take-out.ts';
import { LEVER_APART, LEVER_LEVEL } from './tolerances.ts';

type Works = NonNullable<LeverRecord['works']>;
type Work = Works[number];

/** Two levers to be made one, as `joins` of the routes gives them. */
export interface JoinAsked {
  /** The one that stays, then the one that goes. */
  readonly levers: readonly [stays: string, goes: string];
  /** True: what the second did normal, the one does when it lies reverse. */
  readonly opposite: boolean;
}

/**
 * A point worked by a lever, in the lever's lie or the other; no other lever works it from then on. Null where it is so already, where
 * there is no such point or lever, or where a hand or a decoder works the point.
 */
export function putUnder(panel: PanelFile, point: string, lever: string, opposite = false): Transaction | null {
  if (!canBeWorked(panel, point) || !planOf(panel).levers.some(({ id }) => id === lever)) return null;
  const edit = editOf(panel);
  recordLevers(edit);
  leaveOnly(edit, new Map([[point, lever]]));
  const works = worksOf(edit, lever);
  const work: Work = opposite ? { point, opposite: true } : { point };
  const place = works.findIndex((each) => each.point === point);
  const kept = works.filter((each, i) => each.point !== point || i === place);
  edit.update('levers', lever, {
    works: place < 0 ? [...kept, work] : kept.with(kept.indexOf(works[place] ?? work), work),
  });
  return changed(panel, edit, 'lever.works');
}

/**
 * A point taken off its lever, to a lever of its own that lies as the point does: numbered as its point where that number is free, beside the
 * lever that it comes from where its row has room. Null where it has one already, or nothing that a lever works is there.
 */
export function ownLever(panel: PanelFile, point: string): Transaction | null {
  if (!canBeWorked(panel, point)) return null;
  const workers = planOf(panel).levers.filter(({ works }) => works.some((each) => each.point === point));
  if (workers.length === 1 && workers[0]?.works.length === 1) return null;
  const edit = editOf(panel);
  recordLevers(edit);
  leaveOnly(edit, new Map([[point, null]]));
  addLever(edit, panel, [{ point }], workers[0]?.at ?? null);
  return changed(panel, edit, 'lever.own');
}

/** A point that no lever works from then on. Null where none does. */
export function takeOffLevers(panel: PanelFile, point: string): Transaction | null {
  const edit = editOf(panel);
  recordLevers(edit);
  leaveOnly(edit, new Map([[point, null]]));
  return changed(panel, edit, 'lever.works');
}

/** Two levers made one: the first keeps its name, place and switch, the points of the other come to it. Null where one is not there. */
export function joinUnder(panel: PanelFile, { levers: [stays, goes], opposite }: JoinAsked): Transaction | null {
  const { levers } = planOf(panel);
  const gone = levers.find(({ id }) => id === goes);
  if (stays === goes || gone === undefined || !levers.some(({ id }) => id === stays)) return null;
  const edit = editOf(panel);
  recordLevers(edit);
  const moved = gone.works.map(
    ({ point, whenNormal }): Work => ((whenNormal === 'reverse') === opposite ? { point } : { point, opposite: true }),
  );
  leaveOnly(edit, new Map(gone.works.map(({ point }) => [point, stays])));
  edit.update('levers', stays, { works: [...worksOf(edit, stays), ...moved] });
  return changed(panel, edit, 'lever.join');
}

/** All points of a lever but the first to levers of their own. Null where it works one or none. */
export function partLever(panel: PanelFile, lever: string): Transaction | null {
  const parted = planOf(panel).levers.find(({ id }) => id === lever);
  const points = [...new Set(parted?.works.map(({ point }) => point))].slice(1);
  if (parted === undefined || points.length === 0) return null;
  const edit = editOf(panel);
  recordLevers(edit);
  leaveOnly(edit, new Map(points.map((point) => [point, null])));
  for (const point of points) addLever(edit, panel, [{ point }], parted.at);
  return changed(panel, edit, 'lever.part');
}

/**
 * Levers arranged as these groups of points say, each with the lie of its points when the first of them is normal: `groups` of
 * `fewestLevers`, or one for each point. A group goes to the lever that works most of it now and lies as it did; what no lever is left for gets a new one. Points in
 * no group stay where they are. Null where it is so already.
 */
export function arrangeLevers(panel: PanelFile, groups: readonly Readonly<Record<string, Lie>>[]): Transaction | null {
  const { levers } = planOf(panel);
  const edit = editOf(panel);
  recordLevers(edit);
  const wanted = groups
    .map((group) => Object.entries(group).filter(([point]) => canBeWorked(panel, point)))
    .filter((group) => group.length > 0);
  const taken = new Set<string>();
  const homes = wanted.map((group) => {
    const has = (lever: (typeof levers)[number]) =>
      lever.works.filter(({ point }) => group.some(([id]) => id === point)).length;
    const best = levers
      .filter((lever) => !taken.has(lever.id) && has(lever) > 0)
      .reduce<(typeof levers)[number] | null>((a, b) => (a === null || has(b) > has(a) ? b : a), null);
    if (best !== null) taken.add(best.id);
    return best;
  });
  const from = new Map(levers.flatMap(({ at, works }) => works.map(({ point }) => [point, at] as const)));
  leaveOnly(
    edit,
    new Map(wanted.flatMap((group, g) => group.map(([point]) => [point, homes[g]?.id ?? null] as const))),
  );
  wanted.forEach((group, g) => {
    const home = homes[g] ?? null;
    const lead = home?.works.find(({ point }) => group.some(([id]) => id === point));
    const leadLie = group.find(([id]) => id === lead?.point)?.[1] ?? group[0]?.[1] ?? 'normal';
    const turned = lead?.whenNormal === 'reverse';
    const works = group.map(
      ([point, lie]): Work => ((lie !== leadLie) === turned ? { point } : { point, opposite: true }),
    );
    if (home === null) {
      addLever(edit, panel, works, from.get(group[0]?.[0] ?? '') ?? null);
      return;
    }
    const before = worksOf(edit, home.id);
    const sure = new Map(works.map((each) => [each.point, each]));
    const kept = before.map((each) => (each.point === undefined ? each : (sure.get(each.point) ?? each)));
    const come = works.filter((each) => !before.some(({ point }) => point === each.point));
    edit.update('levers', home.id, { works: [...kept, ...come] });
  });
  return changed(panel, edit, 'lever.arrange');
}

/** Is it a point of the plan that neither a hand nor a decoder works? */
function canBeWorked(panel: PanelFile, point: string): boolean {
  const { points } = planOf(panel);
  return points.some(({ id }) => id === point) && !pointsWithoutLever(panel, points).has(point);
}

/** The edit, or null where it only wrote down what the points have by default. */
function changed(panel: PanelFile, edit: Edit, name: string): Transaction | null {
  const now = planOf(edit.panel).levers;
  const said = (levers: typeof now) => JSON.stringify(levers.map(({ id, works }) => [id, works]));
  return said(now) === said(planOf(panel).levers) ? null : finish(panel, edit, name);
}

function worksOf({ panel }: Edit, lever: string): Works {
  return panel.levers?.find(({ id }) => id === lever)?.works ?? [];
}

/**
 * Each point left to the lever that it is to be worked by, or to none. Levers that then work nothing are lifted, but for those that points
 * are on their way to: in one step, since a file names no lever that is retired.
 */
function leaveOnly(edit: Edit, homes: ReadonlyMap<string, string | null>): void {
  const receiving = new Set(homes.values());
  const idle: Picked[] = [];
  for (const { id, works = [] } of edit.panel.levers ?? []) {
    const kept = works.filter(({ point }) => point === undefined || !homes.has(point) || homes.get(point) === id);
    if (kept.length === works.length) continue;
    if (kept.length === 0 && !receiving.has(id)) idle.push({ list: 'levers', id });
    else edit.update('levers', id, { works: kept });
  }
  takeOut(edit, idle);
}

/** A new lever, in the row of one that stands at `beside` where that has room, else in the tool's row. */
function addLever(edit: Edit, before: PanelFile, works: Works, beside: Spot | null): void {
  const ids = freshNames(edit.panel);
  // What a default lever is called is free again where the file does not name it.
  const number = /\d+$/.exec(works[0]?.point ?? '')?.[0];
  const own = number === undefined ? null : ids.claim(`L${number}`);
  const at = beside === null ? null : roomBeside(edit.panel, before, beside);
  const spot = at === null ? {} : { at: writtenSpot(at) };
  edit.add('levers', { id: own ?? ids.next('L'), ...spot, works });
}

/** The nearest spot in the row of placed levers that has room on the sheet; null where the row is the tool's own, or full. */
function roomBeside(panel: PanelFile, before: PanelFile, beside: Spot): Spot | null {
  const placed = (panel.levers ?? []).flatMap(({ at }) => (at === undefined ? [] : [at]));
  const row = placed.filter(([, y]) => Math.abs(y - beside[1]) <= LEVER_LEVEL).map(([x]) => x);
  const { width } = faceOf(before);
  if (row.length === 0) return null;
  row.sort((a, b) => a - b);
  const gaps = row.slice(1).map((x, i) => x - (row[i] ?? x));
  const pitch = Math.max(LEVER_APART, gaps.length === 0 ? 2 * LEVER_APART : Math.min(...gaps));
  const free = (x: number): boolean =>
    x >= LEVER_APART / 2 && x <= width - LEVER_APART / 2 && row.every((other) => Math.abs(other - x) >= LEVER_APART);
  const steps = Math.ceil(width / pitch);
  for (let n = 1; n <= steps; n++)
    for (const x of [beside[0] + n * pitch, beside[0] - n * pitch]) if (free(x)) return [x, beside[1]];
  return null;
}
