/** The two lies of a point changed over: which of its legs is called normal. */
import { editOf, type LampRecord, type Lies, type PanelFile, type Transaction } from '../panel/index.ts';
import type { PlanPoint } from '../plan/index.ts';
import { after, finish, planOf } from './edits.ts';
import { writtenSpot } from './geometry.ts';

/**
 * The reverse leg of a point becomes the normal one. Lamps and buttons go on to speak of the legs that they spoke of: what they say of the
 * point is turned over. Of a three-way the leg of this point becomes the one that both normal lead to; of a double slip the other
 * straight way becomes normal, at both its ends. Null for a single slip, whose straight ways are always normal.
 */
export function swapLies(panel: PanelFile, id: string): Transaction | null {
  const plan = planOf(panel);
  const point = plan.points.find((each) => each.id === id);
  if (point === undefined) return null;
  const edit = editOf(panel);
  let turnedOver: readonly string[] = [id];
  if (point.of === 'point') {
    const legs = point.normalStrip === point.reverseStrip;
    const normal = legs ? point.hand : point.reverseStrip;
    if (point.record === null) edit.add('points', { id, at: writtenSpot(point.at), normal });
    else edit.update('points', id, { normal });
  } else if (point.of === 'three-way') {
    const way = panel.threeWays?.find(({ points }) => points?.includes(id));
    if (way === undefined) return null;
    edit.update('threeWays', way.id, { normal: point.reverseStrip });
    turnedOver = [];
  } else {
    const slip = doubleSlipOf(panel, point);
    if (slip === null) return null;
    edit.update('crossings', slip.id, { normal: slip.other });
    turnedOver = slip.ends;
  }
  const over = new Set(turnedOver);
  for (const lamp of panel.lamps ?? []) {
    const shows = lamp.shows === undefined ? undefined : overturned(lamp.shows, over);
    const elements = lamp.elements?.map((each) =>
      each.shows === undefined ? each : { ...each, shows: overturned(each.shows, over) },
    );
    const changed: Partial<LampRecord> = {
      ...(shows === undefined ? {} : { shows }),
      ...(elements === undefined ? {} : { elements }),
    };
    if (mentions(lamp, over)) edit.update('lamps', lamp.id, changed);
  }
  for (const { id: button, sets } of panel.buttons ?? [])
    if (sets !== undefined && Object.keys(sets).some((each) => over.has(each)))
      edit.update('buttons', button, { sets: overturnedLies(sets, over) });
  const tx = finish(panel, edit, 'point.swap');
  if (tx === null) return null;
  // Where the reading does not follow, nothing was swapped.
  const now = planOf(after(panel, tx)).points.find((each) => each.id === id);
  return now?.hand === point.hand && now.normalStrip === point.normalStrip ? null : tx;
}

function doubleSlipOf(panel: PanelFile, point: PlanPoint) {
  const { crossings, passages } = planOf(panel);
  const slip = crossings.find(
    (each) =>
      each.kind === 'double-slip' &&
      passages.some(({ crossing, asks }) => crossing === each.id && asks[point.id] !== undefined),
  );
  if (slip?.record == null) return null;
  const asked = passages.filter(({ crossing }) => crossing === slip.id).flatMap(({ asks }) => Object.keys(asks));
  const first = panel.strips.find((strip) => slip.strips.includes(strip.id))?.id;
  const normal = slip.record.normal ?? first;
  const other = slip.strips.find((strip) => strip !== normal);
  return other === undefined ? null : { id: slip.record.id, other, ends: [...new Set(asked)] };
}

function mentions({ shows, elements }: LampRecord, points: ReadonlySet<string>): boolean {
  const all = [shows, ...(elements ?? []).map((each) => each.shows)];
  return all.some((each) => listOf(each).some((lies) => Object.keys(lies).some((point) => points.has(point))));
}

function listOf(shows: LampRecord['shows']): readonly Lies[] {
  return shows === undefined ? [] : Array.isArray(shows) ? shows : [shows];
}

function overturned(shows: NonNullable<LampRecord['shows']>, points: ReadonlySet<string>) {
  return Array.isArray(shows) ? shows.map((lies) => overturnedLies(lies, points)) : overturnedLies(shows, points);
}

function overturnedLies(lies: Lies, points: ReadonlySet<string>): Record<string, 'normal' | 'reverse'> {
  return Object.fromEntries(
    Object.entries(lies).map(([point, lie]) => [
      point,
      points.has(point) ? (lie === 'normal' ? ('reverse' as const) : ('normal' as const)) : lie,
    ]),
  );
}
