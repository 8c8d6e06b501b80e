/** Drives: kinds that do not suit, volts out of range, wires that lose too much. */
import { heldCoil } from '../circuit/index.ts';
import { editOf } from '../panel/index.ts';
import type { DrivePart } from '../parts/index.ts';
import { type Spot, wireOhms } from '../units/index.ts';
import type { WiredDrive } from '../wiring/index.ts';
import { leaveTo, mend, money } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import { DROP_SHARE, EDGE_SLACK, GUESSED_LENGTH, RANGE_GRACE } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkDrives(input: CheckInput): readonly RawFinding[] {
  const { panel, plan, wiring, readings } = input;
  const atPoint = new Map(plan.points.map((point) => [point.id, point.at]));
  const spot = (drive: WiredDrive | undefined): Spot | null =>
    drive === undefined ? null : (atPoint.get(drive.points[0] ?? '') ?? null);
  const byId = new Map(wiring.drives.map((drive) => [drive.id, drive]));
  const found: RawFinding[] = [];

  for (const problem of wiring.problems) {
    switch (problem.code) {
      case 'drive-unknown':
        found.push(
          raw(
            problem.code,
            [problem.point],
            atPoint.get(problem.point) ?? null,
            { drive: problem.drive },
            toStall(problem.point),
          ),
        );
        break;
      case 'drive-part-unknown':
        found.push(
          raw(
            problem.code,
            [problem.drive],
            spot(byId.get(problem.drive)),
            { part: problem.part },
            toStall(problem.drive),
          ),
        );
        break;
      case 'drive-kind-unfit':
        found.push(unfit(problem.drive));
        break;
      case 'drive-two-levers':
        found.push(
          raw(problem.code, [problem.drive], spot(byId.get(problem.drive)), { levers: problem.levers.join(' and ') }, [
            leaveTo(panel, problem.levers[0] ?? '', byId.get(problem.drive)?.points ?? []),
          ]),
        );
        break;
      case 'drive-pulled-both-ways':
        found.push(
          raw(problem.code, [problem.drive], spot(byId.get(problem.drive)), { lever: problem.lever }, [
            turnOver(problem.points),
          ]),
        );
        break;
    }
  }

  const edge: { drive: WiredDrive; volts: number; low: number; high: number }[] = [];
  for (const drive of wiring.drives) {
    const range = drive.part.volts;
    const supply = wiring.supplies.find((each) => drive.circuit !== null && each.circuits.includes(drive.circuit));
    const wired = wiring.connectors.some((connector) => connector.pins.some((pin) => pin.to === drive.a));
    const sprung = wiring.switches.some((each) => each.id === drive.circuit && each.part.sprung);
    // A lever that springs back feeds nothing at rest, and that has its own finding.
    if (range === null || supply === undefined || !wired || sprung) continue;
    const volts = Math.max(
      ...readings.map((reading) => Math.abs(reading.drives.find((each) => each.drive === drive.id)?.volts ?? 0)),
    );
    const low = range.low * (1 - RANGE_GRACE);
    const high = range.high * (1 + RANGE_GRACE);
    const lost = supply.volts - volts;
    if (volts < low)
      found.push(raw('drive-volts-low', [drive.id], spot(drive), { volts, least: range.low, most: range.high }));
    else if (volts > high)
      found.push(raw('drive-volts-high', [drive.id], spot(drive), { volts, least: range.low, most: range.high }));
    else if (supply.high - lost > high + EDGE_SLACK)
      edge.push({ drive, volts: supply.high - lost, low: range.low, high: range.high });
    else if (supply.low - lost < low - EDGE_SLACK)
      edge.push({ drive, volts: supply.low - lost, low: range.low, high: range.high });
    // The wires lose most while it runs, which a drive that has settled does not show.
    const loop = 2 * wireOhms(drive.wire.length, drive.wire.gauge);
    const settled = Math.max(
      ...readings.map((reading) => Math.abs(reading.drives.find((each) => each.drive === drive.id)?.amps ?? 0)),
    );
    const most = Math.max(settled, drive.part.runAmps ?? 0) * loop;
    if (most > supply.volts * DROP_SHARE) {
      const values = { lost: most, volts: supply.volts, ohms: loop };
      found.push(raw('drive-wire-drop', [drive.id], spot(drive), values, thicker(drive, supply.volts, most)));
    }
  }
  // One finding for all drives that stand at the same edge.
  const byEdge = new Map<string, typeof edge>();
  for (const each of edge) {
    const key = `${each.volts > each.high} ${each.low} ${each.high}`;
    byEdge.set(key, [...(byEdge.get(key) ?? []), each]);
  }
  for (const those of byEdge.values()) {
    const worst = those.reduce((a, b) =>
      Math.abs(b.volts - b.low) + Math.abs(b.volts - b.high) > Math.abs(a.volts - a.low) + Math.abs(a.volts - a.high)
        ? b
        : a,
    );
    found.push(
      raw(
        'drive-volts-edge',
        those.map((each) => each.drive.id),
        spot(those[0]?.drive),
        { volts: worst.volts, least: worst.low, most: worst.high },
      ),
    );
  }
  const guessed = wiring.drives.filter((drive) => drive.wire.guess && drive.circuit !== null).map((drive) => drive.id);
  if (guessed.length > 0) found.push(raw('drive-wire-guessed', guessed, null, { length: GUESSED_LENGTH }));
  return found;

  function unfit(id: string): RawFinding {
    const drive = byId.get(id);
    const part: DrivePart | undefined = drive?.part;
    const supply = wiring.supplies.find(
      (each) => drive?.circuit !== null && drive !== undefined && each.circuits.includes(drive.circuit ?? ''),
    );
    const mends = toStall(id);
    if (part?.what === 'twin-coil' && part.coilOhms !== null && supply !== undefined) {
      const wires = 2 * wireOhms(drive?.wire.length ?? 0, drive?.wire.gauge ?? 1);
      const values = {
        volts: supply.volts,
        ohms: part.coilOhms,
        ...heldCoil(supply.volts, part.coilOhms, wires),
      };
      return raw('drive-would-burn', [id], spot(drive), values, mends);
    }
    return raw('drive-kind-unfit', [id], spot(drive), { part: part?.id ?? '', trap: part?.trap ?? '' }, mends);
  }

  /** Each of the drive's points that asks for the other lie than the first is turned over at the drive. */
  function turnOver(points: readonly string[]): Mend {
    const asks = points.map((id) => {
      const record = panel.points?.find((each) => each.id === id);
      const worked = plan.levers.flatMap((lever) => lever.works).find((each) => each.point === id);
      const same = record?.sense !== 'opposite';
      return { record, lie: worked === undefined ? null : (worked.whenNormal === 'normal') === same };
    });
    const first = asks.find((each) => each.lie !== null)?.lie;
    let edit = editOf(panel);
    for (const { record, lie } of asks) {
      if (record === undefined || lie === null || lie === first) continue;
      edit = edit.update('points', record.id, { sense: record.sense === 'opposite' ? undefined : 'opposite' });
    }
    return mend('turn-over', 'Turn the other points over at the drive', edit.done('point.sense'));
  }

  /** The thinnest usual wire that loses no more than a tenth. */
  function thicker(drive: WiredDrive, volts: number, lost: number): readonly Mend[] {
    const wants = (drive.wire.gauge * lost) / (volts * DROP_SHARE);
    const part = input.catalogue
      .all('wire')
      .filter((each) => each.gauge > wants)
      .sort((a, b) => a.gauge - b.gauge)[0];
    const record = panel.drives?.find((each) => each.id === drive.id);
    if (part === undefined || record === undefined) return [];
    const edit = editOf(panel)
      .update('drives', record.id, { wire: { ...record.wire, gauge: part.gauge } })
      .done('drive.wire');
    const metres = (2 * drive.wire.length) / 1000;
    return [mend('thicker-wire', `Use wire of ${part.gauge} mm2`, edit, money(part.price * metres))];
  }

  /** By the drive's id, or that of a point whose drive is none. */
  function toStall(id: string): readonly Mend[] {
    const drive = byId.get(id);
    return drive === undefined ? [] : [changeToStall(drive)];
  }

  function changeToStall(drive: WiredDrive): Mend {
    const part = input.catalogue.find('drive', 'stall-2-wire');
    const record = panel.drives?.find((each) => each.id === drive.id);
    const point = panel.points?.find((each) => each.id === drive.points[0]);
    const edit =
      record !== undefined
        ? editOf(panel)
            .update('drives', record.id, { ...record, part: 'stall-2-wire' })
            .done('drive.part')
        : point !== undefined
          ? editOf(panel)
              .update('points', point.id, { ...point, drive: 'stall-2-wire' })
              .done('point.drive')
          : null;
    return { id: 'use-stall', text: 'Use a stall drive', price: part?.price ?? null, edit };
  }
}
