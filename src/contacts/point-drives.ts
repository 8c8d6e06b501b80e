/** Which drive moves each point, and which of its contacts are free for lamps. */
import { DEFAULTS, type DriveRecord, type PanelFile } from '../panel/index.ts';
import type { Catalogue, DrivePart } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';

/** A point's drive, before anything is wired. */
export interface PointDrive {
  readonly point: string;
  /** Its record's id, or the point's where it has none. */
  readonly drive: string;
  /** What the file names: a record or a part. */
  readonly wanted: string;
  readonly record: DriveRecord | null;
  /** Null where the named part is not in the catalogue. */
  readonly part: DrivePart | null;
  /** False where the point lies the other way than its drive. */
  readonly same: boolean;
}

/** The drive of every point, in the order of the file's points, then those without a record in the order of the plan. */
export function drivesOfPoints(panel: PanelFile, catalogue: Catalogue, plan: Plan): ReadonlyMap<string, PointDrive> {
  const records = new Map<string, DriveRecord>((panel.drives ?? []).map((record) => [record.id, record]));
  const fileOrder = new Map((panel.points ?? []).map((record, i) => [record.id, i]));
  const place = (id: string) => fileOrder.get(id) ?? fileOrder.size;
  const points = plan.points.map((point, i) => ({ point, i }));
  points.sort((a, b) => place(a.point.id) - place(b.point.id) || a.i - b.i);
  return new Map(
    points.map(({ point }) => {
      const wanted = point.record?.drive ?? DEFAULTS.drive.part;
      const record = records.get(wanted) ?? null;
      const name = record === null ? wanted : (record.part ?? DEFAULTS.drive.part);
      const part = catalogue.find('drive', name) ?? null;
      const same = point.record?.sense !== 'opposite';
      return [point.id, { point: point.id, drive: record?.id ?? point.id, wanted, record, part, same }];
    }),
  );
}

/** A contact that feeds lamps says so: "lamps". */
const LAMPS = 'lamps';

/**
 * Ids of a drive's contacts that lamps may be lit from: those that its record gives them, then, from the last to the first, those that
 * nothing else takes (frogs take theirs from the first).
 */
export function contactsForLamps(panel: PanelFile, drive: PointDrive): readonly string[] {
  const count = drive.part?.contacts ?? 0;
  const uses: Readonly<Record<string, string>> = drive.record?.contacts ?? {};
  const frogs = new Set((panel.frogs ?? []).flatMap(({ from, kind }) => (kind === 'module' ? [] : (from ?? []))));
  const names = Array.from({ length: count }, (_, i) => `c${i + 1}`);
  const given = names.filter((name) => uses[name] === LAMPS);
  const free = names.filter((name) => uses[name] === undefined && !frogs.has(`${drive.drive}.${name}`)).reverse();
  return [...given, ...free].map((name) => `${drive.drive}.${name}`);
}
