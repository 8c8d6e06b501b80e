/** Drives: kinds that do not suit their feed, coils that are held, volts out of range, throws that are too weak, wires that lose too much. */
import { heldCoil } from '../circuit/index.ts';
import { editOf, feedOf } from '../panel/index.ts';
import type { DrivePart } from '../parts/index.ts';
import { type Spot, wireOhms } from '../units/index.ts';
import { isThrown, pulseFromTwin, type WiredDrive, type WiredSupply } from '../wiring/index.ts';
import { noLever, refeed, springBack } from './feed-mends.ts';
import { leaveTo, mend, money } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import { strengthen } from './strengthen.ts';
import { DROP_SHARE, EDGE_SLACK, GUESSED_LENGTH, RANGE_GRACE } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

/** Why a drive of each kind does not go on the feeds that it does not go on. */
const BECAUSE: Readonly<Record<DrivePart['what'], string>> = {
  stall: 'it wants its two wires held, and their polarity turned over for the other way',
  limit: 'it wants its two wires held until it has cut itself off, and their polarity turned over for the other way',
  'twin-coil': 'it has a coil for each way, and wants a pulse to the one or the other',
  'twin-coil-end-off': 'it has a coil for each way, and the one or the other must be fed',
  servo: 'a contact closes its input to its common, and it has volts of its own',
  decoder: 'it is told by an address over its bus, and no lever is wired to it',
  hand: 'it is moved by hand, and no lever is wired to it',
};

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
        found.push(unfit(problem.drive, problem.feed));
        break;
      case 'coil-held':
        found.push(heldOn(problem.drive, problem.lever, problem.supply, problem.cdu));
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
    const supply = supplyOf(drive);
    const wired = wiring.connectors.some((connector) => connector.pins.some((pin) => pin.to === drive.a));
    const sprung = wiring.switches.some((each) => each.id === drive.circuit && each.part.sprung);
    if (range === null || supply === undefined || !wired) continue;
    if (isThrown(drive)) {
      thrown(drive, supply, range);
      continue;
    }
    // A lever that springs back feeds nothing at rest, and that has its own finding.
    if (sprung) continue;
    const volts = Math.max(
      ...readings.map((reading) => Math.abs(reading.drives.find((each) => each.drive === drive.id)?.volts ?? 0)),
    );
    const low = range.low * (1 - RANGE_GRACE);
    const high = range.high * (1 + RANGE_GRACE);
    const lost = supply.railVolts - volts;
    if (volts < low)
      found.push(
        raw('drive-volts-low', [drive.id], spot(drive), { volts, least: range.low, most: range.high }, across(drive)),
      );
    else if (volts > high)
      found.push(raw('drive-volts-high', [drive.id], spot(drive), { volts, least: range.low, most: range.high }));
    else if (supply.high - lost > high + EDGE_SLACK)
      edge.push({ drive, volts: supply.high - lost, low: range.low, high: range.high });
    else if (supply.low - lost < low - EDGE_SLACK)
      edge.push({ drive, volts: supply.low - lost, low: range.low, high: range.high });
    // The wires lose most while it runs, which a drive that has settled does not show.
    const settled = Math.max(
      ...readings.map((reading) => Math.abs(reading.drives.find((each) => each.drive === drive.id)?.amps ?? 0)),
    );
    dropping(drive, supply, Math.max(settled, drive.part.runAmps ?? 0));
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

  /** Lamps in series with it take their volts from the drive: across the feed they take none. */
  function across(drive: WiredDrive): readonly Mend[] {
    if (!input.groups.some(({ circuit, scheme }) => circuit === drive.circuit && scheme === 'in-series')) return [];
    const record = panel.levers?.find(({ id }) => id === drive.circuit);
    const scheme = 'across-feed';
    const edit =
      record?.lighting?.scheme === undefined
        ? editOf(panel).set('lighting', { ...panel.lighting, scheme })
        : editOf(panel).update('levers', record.id, { lighting: { ...record.lighting, scheme } });
    return [mend('light-across-feed', 'Light its lamps across the feed', edit.done('lighting.scheme'))];
  }

  /** The supply that feeds a drive: of a split feed the first of the two. */
  function supplyOf(drive: WiredDrive): WiredSupply | undefined {
    const circuit = wiring.circuits.find(({ id }) => id === drive.circuit);
    return drive.feed === null ? undefined : wiring.supplies.find(({ id }) => id === circuit?.supply);
  }

  /** What is thrown rests without volts: its throw is judged. */
  function thrown(
    drive: WiredDrive,
    supply: WiredSupply,
    range: { readonly low: number; readonly high: number },
  ): void {
    if (supply.railVolts > range.high * (1 + RANGE_GRACE)) {
      const values = { volts: supply.railVolts, least: range.low, most: range.high };
      found.push(raw('drive-volts-high', [drive.id], spot(drive), values));
    }
    const own = readings.flatMap(({ drives }) => drives.find((each) => each.drive === drive.id)?.pulse ?? [])[0];
    // From another panel it goes through the cable besides, and gives less.
    const pulse = pulseFromTwin(wiring, drive) ?? own;
    const { throwAmps, throwSeconds } = drive.part;
    if (pulse === undefined || throwAmps === null || throwSeconds === null) return;
    if (pulse.amps < throwAmps || pulse.seconds < throwSeconds) {
      const values = { amps: pulse.amps, throwAmps, seconds: pulse.seconds, least: throwSeconds };
      found.push(raw('throw-too-weak', [drive.id], spot(drive), values, strengthen(input, drive)));
    } else dropping(drive, supply, pulse.amps);
  }

  /** So many amps in its wires: what they lose of the feed. */
  function dropping(drive: WiredDrive, supply: WiredSupply, amps: number): void {
    const ohms = 2 * wireOhms(drive.wire.length, drive.wire.gauge);
    const lost = amps * ohms;
    const volts = supply.railVolts;
    if (lost > volts * DROP_SHARE)
      found.push(raw('drive-wire-drop', [drive.id], spot(drive), { lost, volts, ohms }, thicker(drive, volts, lost)));
  }

  /** A coil that a switch holds: it burns on a raw supply; behind a unit it keeps that from charging. */
  function heldOn(id: string, lever: string, supplyId: string, cdu: boolean): RawFinding {
    const drive = byId.get(id);
    const mends = drive === undefined ? [] : [...springBack(input, lever), ...refeed(input, drive, 'charge')];
    return cdu
      ? raw('coil-held-by-unit', [id], spot(drive), { lever, supply: supplyId }, mends)
      : burning(id, drive, wiring.supplies.find((each) => each.id === supplyId)?.railVolts ?? 0, mends);
  }

  function burning(id: string, drive: WiredDrive | undefined, volts: number, mends: readonly Mend[]): RawFinding {
    const ohms = drive?.part.coilOhms ?? 0;
    const wires = 2 * wireOhms(drive?.wire.length ?? 0, drive?.wire.gauge ?? 1);
    return raw('drive-would-burn', [id], spot(drive), { volts, ohms, ...heldCoil(volts, ohms, wires) }, mends);
  }

  function unfit(id: string, feed: string): RawFinding {
    const drive = byId.get(id);
    if (drive === undefined) return raw('drive-kind-unfit', [id], null, { part: '', feed, because: '', trap: '' });
    const { part } = drive;
    const circuit = wiring.circuits.find((each) => each.id === drive.circuit);
    const supply = wiring.supplies.find((each) => each.id === circuit?.supply);
    const mends = feedsFor(drive);
    // Held on whatever the feed is, one coil of it burns.
    if (part.what === 'twin-coil' && part.coilOhms !== null && supply !== undefined)
      return burning(id, drive, supply.railVolts, mends);
    const values = { part: part.id, feed, because: BECAUSE[part.what], trap: part.trap };
    return raw('drive-kind-unfit', [id], spot(drive), values, mends);
  }

  /** The feeds that a drive of this kind wants, or none of a lever; or a drive that goes on the feed that there is. */
  function feedsFor(drive: WiredDrive): readonly Mend[] {
    const held = feedOfDrive(drive);
    const stall = held === 'reversing' || held === 'split' || held === 'half-wave' ? toStall(drive.id) : [];
    switch (drive.part.what) {
      case 'stall':
      case 'limit':
        return refeed(input, drive, 'reversing');
      case 'twin-coil':
      case 'twin-coil-end-off':
        return [...refeed(input, drive, 'unit'), ...refeed(input, drive, 'charge'), ...stall];
      case 'servo':
        return [...refeed(input, drive, 'contact'), ...stall];
      case 'decoder':
      case 'hand':
        return [...noLever(input, drive), ...stall];
    }
  }

  function feedOfDrive(drive: WiredDrive): string {
    return feedOf(
      panel,
      panel.levers?.find(({ id }) => id === drive.circuit),
    ).kind;
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
