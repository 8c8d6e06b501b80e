/** Which drive moves which points, what lever asks it, and which of its tags is plus when. */
import { leversOfPoints } from '../lamps/index.ts';
import { DEFAULTS, type DriveRecord, type Lie, type PanelFile } from '../panel/index.ts';
import type { Catalogue, DrivePart } from '../parts/index.ts';
import type { Plan, PlanPoint } from '../plan/index.ts';
import type { Ohm } from '../units/index.ts';
import { METER_BAND, METER_DIGITS, STALL_BAND } from './tolerances.ts';
import type { WiredDrive, WiringProblem } from './types.ts';

/** Kinds that a reversing feed can move. */
const TWO_WIRE: ReadonlySet<DrivePart['what']> = new Set(['stall', 'limit']);

/** Can this kind be fed by two wires whose polarity turns over? */
export function isTwoWire(part: DrivePart): boolean {
  return TWO_WIRE.has(part.what);
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
  const records = new Map<string, DriveRecord>((panel.drives ?? []).map((record) => [record.id, record]));
  const workedBy = leversOfPoints(plan);
  const fileOrder = new Map((panel.points ?? []).map((record, i) => [record.id, i]));
  const place = (point: PlanPoint) => fileOrder.get(point.id) ?? fileOrder.size;
  const points = [...plan.points]
    .map((point, i) => ({ point, i }))
    .sort((a, b) => place(a.point) - place(b.point) || a.i - b.i);

  const byDrive = new Map<string, { record: DriveRecord | null; part: DrivePart; points: PlanPoint[] }>();
  for (const { point } of points) {
    const wanted = point.record?.drive ?? DEFAULTS.drive.part;
    const record = records.get(wanted) ?? null;
    const id = record?.id ?? point.id;
    const known = byDrive.get(id);
    if (known !== undefined) {
      known.points.push(point);
      continue;
    }
    byDrive.set(id, { record, part: partOf(point, record, wanted), points: [point] });
  }
  return [...byDrive].map(([id, { record, part, points: moved }]) => wireOne(id, record, part, moved));

  function partOf(point: PlanPoint, record: DriveRecord | null, wanted: string): DrivePart {
    const usual = catalogue.find('drive', DEFAULTS.drive.part);
    if (usual === undefined) throw new RangeError(`the catalogue holds no ${DEFAULTS.drive.part}`);
    const name = record === null ? wanted : (record.part ?? DEFAULTS.drive.part);
    const part = catalogue.find('drive', name);
    if (part !== undefined) return part;
    if (record === null) problems.push({ code: 'drive-unknown', point: point.id, drive: wanted });
    else problems.push({ code: 'drive-part-unknown', drive: record.id, part: name });
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
      a: `${id}.a`,
      b: `${id}.b`,
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
