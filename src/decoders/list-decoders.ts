/** Every decoder of a panel with its address, pair and packets, and what they draw together. Pure and total. */
import { DEFAULTS, type DriveRecord, type Lie, type PanelFile } from '../panel/index.ts';
import type { Catalogue, DrivePart } from '../parts/index.ts';
import { byId, type Plan, type PlanPoint } from '../plan/index.ts';
import type { Ampere } from '../units/index.ts';
import { readAddress } from './addresses.ts';
import { basicPacket } from './packets.ts';
import type { Decoder, DecoderDraw, DecoderList, Member, Numbering } from './types.ts';

/**
 * Drives whose part is a decoder: those that points name, as a record or as a part, and records that no point names. A part that is not in
 * the catalogue is none. Draw: trains are not counted.
 */
export function listDecoders(panel: PanelFile, catalogue: Catalogue, plan: Plan): DecoderList {
  const numbering = panel.track?.numbering ?? DEFAULTS.track.numbering;
  const records = new Map((panel.drives ?? []).map((record) => [record.id, record]));
  const moved = new Map<string, PlanPoint[]>();
  const named = new Map<string, string>();
  for (const point of plan.points) {
    const wanted = point.record?.drive ?? DEFAULTS.drive.part;
    const id = records.has(wanted) ? wanted : point.id;
    addTo(moved, id, point);
    if (!records.has(wanted)) named.set(id, wanted);
  }
  const partOf = (record: DriveRecord | undefined, wanted: string | undefined): DrivePart | undefined =>
    catalogue.find('drive', record === undefined ? (wanted ?? '') : (record.part ?? DEFAULTS.drive.part));

  const all = [...new Set([...moved.keys(), ...records.keys()])];
  const decoders = all
    .flatMap((id): readonly Decoder[] => {
      const record = named.has(id) ? undefined : records.get(id);
      const part = partOf(record, named.get(id));
      return part?.what === 'decoder' ? [decoderOf(id, record, part, moved.get(id) ?? [], numbering)] : [];
    })
    .sort((a, b) => (a.address ?? Infinity) - (b.address ?? Infinity) || byId(a.id, b.id));

  const byAddress = new Map<number, Decoder[]>();
  for (const decoder of decoders) if (decoder.address !== null) addTo(byAddress, decoder.address, decoder);
  return {
    numbering,
    numberingSaid: panel.track?.numbering !== undefined,
    decoders,
    shared: [...byAddress].flatMap(([address, those]) =>
      those.length > 1 ? [{ address, ids: those.map(({ id }) => id) }] : [],
    ),
    ownBus: panel.track?.accessoryBus !== undefined,
    draw: drawOf(panel, decoders),
    idle: [...records.values()].flatMap((record) => {
      const part = partOf(record, undefined);
      return record.address === undefined || part === undefined || part.what === 'decoder'
        ? []
        : [{ id: record.id, address: record.address, part: part.id }];
    }),
  };
}

function decoderOf(
  id: string,
  record: DriveRecord | undefined,
  part: DrivePart,
  points: readonly PlanPoint[],
  numbering: Numbering,
): Decoder {
  const address = record?.address ?? null;
  const read = address === null ? null : readAddress(address, numbering);
  const member: Member = (record?.member ?? DEFAULTS.drive.member) === 0 ? 0 : 1;
  const place = read?.kind === 'pair' ? read.place : null;
  return {
    id,
    recorded: record !== undefined,
    part,
    points: points.map((point) => ({ point: point.id, whenNormal: lieOf(point) })),
    at: points[0]?.at ?? null,
    address,
    read,
    member,
    packets:
      place === null ? null : { normal: basicPacket(place, member), reverse: basicPacket(place, member === 1 ? 0 : 1) },
    amps: record?.measured?.amps ?? part.runAmps ?? 0,
  };
}

function lieOf(point: PlanPoint): Lie {
  return point.record?.sense === 'opposite' ? 'reverse' : 'normal';
}

/** One command moves all decoders of its address; each without one is counted by itself. */
function drawOf(panel: PanelFile, decoders: readonly Decoder[]): DecoderDraw {
  const together = new Map<string, Decoder[]>();
  for (const decoder of decoders)
    addTo(together, decoder.address === null ? decoder.id : String(decoder.address), decoder);
  const sum = (those: readonly Decoder[]): Ampere => those.reduce((amps, each) => amps + each.amps, 0);
  let most: { readonly those: readonly Decoder[]; readonly amps: Ampere } = { those: [], amps: 0 };
  for (const those of together.values()) {
    const amps = sum(those);
    if (amps > most.amps) most = { those, amps };
  }
  const own = panel.track?.accessoryBus;
  const boosters = own === undefined ? (panel.track?.boosters ?? []) : [own];
  const said = boosters.flatMap(({ tripAmps }) => (tripAmps === undefined ? [] : [tripAmps]));
  const known = said.length > 0 && said.length === boosters.length;
  return {
    one: most.amps,
    oneOf: most.those.map(({ id }) => id),
    all: sum(decoders),
    trip: known ? Math.max(...said) : null,
    tripAll: known ? said.reduce((total, amps) => total + amps, 0) : null,
  };
}

function addTo<K, V>(lists: Map<K, V[]>, key: K, value: V): void {
  const known = lists.get(key);
  if (known === undefined) lists.set(key, [value]);
  else known.push(value);
}
