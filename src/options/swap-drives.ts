/** Another kind of drive for every point, as steps of an edit. */
import { drivesOfPoints } from '../contacts/index.ts';
import { lowestFree } from '../decoders/index.ts';
import type { DerivedPanel } from '../derive.ts';
import { DEFAULTS, type DriveRecord, type Edit, nextFreeId } from '../panel/index.ts';
import { type DrivePart, worksWithoutLever } from '../parts/index.ts';
import { byId, type PlanPoint } from '../plan/index.ts';

/**
 * Every point gets a drive of this part. A drive that has a record keeps it, with its wire and which way it runs; what was measured of the
 * old one, that it was there, its address and uses of contacts that the new one lacks go. Points without a record get one, decoders the
 * lowest free addresses. What needs no lever is taken off the levers, and a lever that is left with nothing goes; points that a hand or
 * an address moved, and no lever, get one each.
 */
export function swapDrives(edit: Edit, present: DerivedPanel, part: DrivePart): void {
  const { panel, catalogue, plan } = present;
  const drives = drivesOfPoints(panel, catalogue, plan);
  const taken = part.what === 'decoder' ? (panel.drives ?? []).flatMap(({ address }) => address ?? []) : [];
  const address = () => {
    const free = lowestFree(taken, panel.track?.numbering ?? DEFAULTS.track.numbering);
    if (free !== null) taken.push(free);
    return free ?? undefined;
  };
  const done = new Set<string>();
  for (const point of [...plan.points].sort((a, b) => byId(a.id, b.id))) {
    const own = drives.get(point.id);
    if (own === undefined) continue;
    if (own.record !== null) {
      if (done.has(own.record.id)) continue;
      done.add(own.record.id);
      edit.update('drives', own.record.id, {
        part: part.id,
        measured: undefined,
        existing: undefined,
        member: part.what === 'decoder' ? own.record.member : undefined,
        address: part.what === 'decoder' ? (own.record.address ?? address()) : undefined,
        contacts: usesLeft(own.record, part),
      });
      continue;
    }
    if (part.what !== 'decoder') {
      nameDrive(edit, present, point, part.id);
      continue;
    }
    const id = nextFreeId(edit.panel, 'D');
    const free = address();
    edit.add('drives', { id, part: part.id, ...(free === undefined ? {} : { address: free }) });
    nameDrive(edit, present, point, id);
  }
  if (worksWithoutLever(part)) offLevers(edit);
  else ontoLevers(edit, present);
}

/** Uses of contacts that the new part has; absent where none is left. */
function usesLeft({ contacts }: DriveRecord, part: DrivePart): DriveRecord['contacts'] {
  const left = Object.entries(contacts ?? {}).filter(([name]) => {
    const number = Number(/^c(\d+)$/.exec(name)?.[1] ?? 0);
    return number > 0 && number <= part.contacts;
  });
  return left.length === 0 ? undefined : Object.fromEntries(left);
}

/** Say in the point's record, or in that of its slip, which drive moves it; a record that is not there is made. */
function nameDrive(edit: Edit, { plan }: DerivedPanel, point: PlanPoint, drive: string): void {
  const { panel } = edit;
  const { id, of, at } = point;
  if (of === 'slip') {
    const crossing = plan.passages.find(({ crossing: passed, asks }) => passed !== null && id in asks)?.crossing;
    const record = panel.crossings?.find((each) => each.id === crossing);
    if (record === undefined) return;
    const both = plan.points
      .filter((each) => plan.passages.some(({ crossing: passed, asks }) => passed === crossing && each.id in asks))
      .filter((each) => each.of === 'slip')
      .sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1]);
    const ends = record.ends ?? both.map((each) => ({ id: each.id }));
    edit.update('crossings', record.id, { ends: ends.map((end) => (end.id === id ? { ...end, drive } : end)) });
    return;
  }
  if (panel.points?.some((record) => record.id === id) === true) {
    edit.update('points', id, { drive });
    return;
  }
  if (of === 'three-way' && panel.threeWays?.some(({ points }) => points?.includes(id)) !== true) {
    const pair = plan.points
      .filter((each) => each.of === 'three-way' && each.at[0] === at[0] && each.at[1] === at[1])
      .map((each) => each.id)
      .sort(byId);
    const reach = (spot: readonly [number, number]) => Math.hypot(spot[0] - at[0], spot[1] - at[1]);
    const near = [...(panel.threeWays ?? [])]
      .filter(({ points }) => points === undefined)
      .sort((a, b) => reach(a.at) - reach(b.at))[0];
    if (near !== undefined) edit.update('threeWays', near.id, { points: pair });
    else edit.add('threeWays', { id: nextFreeId(panel, 'Y'), at: [at[0], at[1]], points: pair });
  }
  edit.add('points', { id, at: [at[0], at[1]], drive });
}

/** No lever works points any more; what else it works stays. */
function offLevers(edit: Edit): void {
  for (const lever of edit.panel.levers ?? []) {
    const works = (lever.works ?? []).filter(({ point }) => point === undefined);
    if (works.length > 0) edit.update('levers', lever.id, { works });
    else edit.remove('levers', lever.id);
  }
}

/** A lever for each point that a hand or an address moved so far; without the list of levers every point has one by itself. */
function ontoLevers(edit: Edit, { panel, catalogue, plan }: DerivedPanel): void {
  if (panel.levers === undefined) return;
  const worked = new Set(panel.levers.flatMap(({ works }) => (works ?? []).map(({ point }) => point)));
  const pressed = new Set((panel.buttons ?? []).flatMap(({ sets }) => Object.keys(sets ?? {})));
  for (const own of drivesOfPoints(panel, catalogue, plan).values()) {
    if (own.part === null || !worksWithoutLever(own.part) || worked.has(own.point) || pressed.has(own.point)) continue;
    edit.add('levers', { id: nextFreeId(edit.panel, 'L'), works: [{ point: own.point }] });
  }
}
