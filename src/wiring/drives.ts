/** Which drive moves which points, what lever asks it, and which of its tags is plus when. */
import { drivesOfPoints, type PointDrive } from '../contacts/index.ts';
import { leversOfPoints } from '../lamps/index.ts';
import { DEFAULTS, type DriveRecord, type Feed, type Lie, type PanelFile } from '../panel/index.ts';
import type { Catalogue, DrivePart } from '../parts/index.ts';
import type { Plan, PlanPoint } from '../plan/index.ts';
import type { Ohm } from '../units/index.ts';
import { METER_BAND, METER_DIGITS, STALL_BAND } from './tolerances.ts';
import type { WiredDrive, WiringProblem } from './types.ts';

/** Kinds of drive that each kind of feed can work. */
const WORKS: Readonly<Record<Feed['kind'], ReadonlySet<DrivePart['what']>>> = {
  reversing: new Set(['stall', 'limit']),
  split: new Set(['stall', 'limit']),
  'half-wave': new Set(['stall', 'limit']),
  pulse: new Set(['twin-coil', 'twin-coil-end-off']),
  charge: new Set(['twin-coil', 'twin-coil-end-off']),
  contact: new Set(['servo']),
};

/** Can this feed work a drive of this kind? */
export function canWork(feed: Feed['kind'], part: DrivePart): boolean {
  return WORKS[feed].has(part.what);
}

/** Does the polarity of a feed turn over between two wires that stay fed, so that motors and lamps across it follow it? */
export function turnsOver(feed: Feed['kind']): boolean {
  return WORKS[feed].has('stall');
}

/** Is it a drive of two coils? */
export function hasCoils(part: DrivePart): boolean {
  return part.what === 'twin-coil' || part.what === 'twin-coil-end-off';
}

export function otherLie(lie: Lie): Lie {
  return lie === 'normal' ? 'reverse' : 'normal';
}

/** Every drive of the panel, in the order of the first point that it moves. */
export function wireDrives(
  panel: PanelFile,
  catalogue: Catalogue,
  plan: Plan,
  problems: WiringProblem[],
): readonly WiredDrive[] {
  const workedBy = leversOfPoints(plan);
  const points = new Map(plan.points.map((point) => [point.id, point]));
  const byDrive = new Map<string, { record: DriveRecord | null; part: DrivePart; points: PlanPoint[] }>();
  for (const own of drivesOfPoints(panel, catalogue, plan).values()) {
    const point = points.get(own.point);
    if (point === undefined) continue;
    const known = byDrive.get(own.drive);
    if (known !== undefined) known.points.push(point);
    else byDrive.set(own.drive, { record: own.record, part: partOf(own), points: [point] });
  }
  return [...byDrive].map(([id, { record, part, points: moved }]) => wireOne(id, record, part, moved));

  function partOf({ point, record, wanted, part }: PointDrive): DrivePart {
    if (part !== null) return part;
    const usual = catalogue.find('drive', DEFAULTS.drive.part);
    if (usual === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.drive.part}`);
    // What is there already may be of any make: its reading on the meter tells all that is needed.
    if (record?.existing === true && record.measured?.amps !== undefined) return usual;
    if (record === null) problems.push({ code: 'drive-unknown', point, drive: wanted });
    else problems.push({ code: 'drive-part-unknown', drive: record.id, part: record.part ?? DEFAULTS.drive.part });
    return usual;
  }

  function wireOne(id: string, record: DriveRecord | null, part: DrivePart, moved: readonly PlanPoint[]): WiredDrive {
    const asked = moved.flatMap((point) => {
      const worked = workedBy.get(point.id);
      if (worked === undefined) return [];
      const same = point.record?.sense !== 'opposite';
      return [
        {
          point: point.id,
          lever: worked.lever.id,
          driveWhenNormal: same ? worked.whenNormal : otherLie(worked.whenNormal),
        },
      ];
    });
    const levers = [...new Set(asked.map((each) => each.lever))];
    const first = asked[0];
    if (levers.length > 1) problems.push({ code: 'drive-two-levers', drive: id, levers: levers.sort() });
    if (
      first !== undefined &&
      asked.some((each) => each.lever === first.lever && each.driveWhenNormal !== first.driveWhenNormal)
    ) {
      problems.push({
        code: 'drive-pulled-both-ways',
        drive: id,
        lever: first.lever,
        points: moved.map((point) => point.id),
      });
    }
    const positive = record?.positive ?? 'normal';
    const driveWhenNormal = first?.driveWhenNormal ?? 'normal';
    const asks = moved.map((point) => ({
      point: point.id,
      whenNormal: workedBy.get(point.id)?.whenNormal ?? null,
      goes: point.record?.sense === 'opposite' ? otherLie(driveWhenNormal) : driveWhenNormal,
    }));
    const { ohms, measured, ampsBand } = settled(part, record);
    return {
      id,
      points: moved.map((point) => point.id),
      part,
      circuit: first?.lever ?? null,
      feed: null,
      a: hasCoils(part) ? `${id}.n` : `${id}.a`,
      b: hasCoils(part) ? `${id}.r` : `${id}.b`,
      com: hasCoils(part) ? `${id}.com` : part.what === 'servo' ? `${id}.p` : null,
      ohms,
      measured,
      ampsBand,
      whenNormal: asks[0]?.whenNormal ?? asks[0]?.goes ?? 'normal',
      asks,
      plusToA: driveWhenNormal === positive,
      wire: {
        length: record?.wire?.length ?? DEFAULTS.wire.length,
        gauge: record?.wire?.gauge ?? DEFAULTS.wire.gauge,
        guess: record?.wire?.length === undefined,
      },
    };
  }
}

/**
 * What a drive that has settled is to its feed, and how far its amps may be off. A reading wins over the part's figures; volts
 * without amps are no reading.
 */
function settled(
  part: DrivePart,
  record: DriveRecord | null,
): { readonly ohms: Ohm | null; readonly measured: boolean; readonly ampsBand: number } {
  const read = record?.measured?.amps;
  const measured = read !== undefined;
  const amps = read ?? part.stallAmps;
  const volts = measured ? (record?.measured?.volts ?? part.stallVolts) : part.stallVolts;
  const stands = part.what === 'stall' && volts !== null && volts > 0 && amps !== null && amps > 0;
  return {
    ohms: stands ? volts / amps : null,
    measured,
    ampsBand: !measured ? (part.stallTolerance ?? STALL_BAND) : read > 0 ? METER_BAND + METER_DIGITS / read : 0,
  };
}
