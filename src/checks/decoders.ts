/** Decoders: addresses that are missing, shared or beyond the bus, what stops them, and what they draw. */
import { type Decoder, lastAddress, lowestFree, type Numbering, readAddress } from '../decoders/index.ts';
import { type Edit, editOf, nextFreeId, type PanelFile } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import { SUM_SLACK } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkDecoders(input: CheckInput): readonly RawFinding[] {
  const { panel, decoders: list } = input;
  const { decoders, numbering } = list;
  const last = lastAddress(numbering);
  const found: RawFinding[] = [...idleAddresses(input)];
  if (decoders.length === 0) return found;

  const bare = decoders.filter(({ address }) => address === null);
  if (bare.length > 0) found.push(tell('decoder-no-address', bare, {}));
  const beyond = decoders.filter(({ read }) => read?.kind === 'out-of-range');
  if (beyond.length > 0) found.push(tell('decoder-address-range', beyond, { addresses: addressesOf(beyond), last }));
  const all = decoders.filter(({ read }) => read?.kind === 'broadcast');
  if (all.length > 0) found.push(tell('decoder-address-broadcast', all, { addresses: addressesOf(all), last }));
  for (const { address, ids } of list.shared) {
    const those = decoders.filter((decoder) => decoder.address === address);
    const read = readAddress(address, numbering);
    if (read.kind !== 'pair') continue;
    // The first may keep it.
    found.push(
      raw('decoder-address-twice', ids, spotOf(those), { address, ...read.place }, freeAddresses(those.slice(1))),
    );
  }

  const first = decoders.find(({ packets }) => packets !== null);
  if (!list.numberingSaid && first !== undefined)
    found.push(raw('decoder-numbering-unsaid', [], null, { address: first.address ?? 0 }, sayNumbering(panel)));
  found.push(...busFindings(input));
  return found;

  function tell(code: RawFinding['code'], those: readonly Decoder[], values: RawFinding['values']): RawFinding {
    return raw(
      code,
      those.map(({ id }) => id),
      spotOf(those),
      values,
      freeAddresses(those),
    );
  }

  /** Each of these takes the lowest address that is still free; nothing where too few are. */
  function freeAddresses(those: readonly Decoder[]): readonly Mend[] {
    const taken = decoders.flatMap(({ address }) => (address === null ? [] : [address]));
    let edit = editOf(panel);
    const given: number[] = [];
    for (const decoder of those) {
      const address = lowestFree([...taken, ...given], numbering);
      const next = address === null ? null : withAddress(edit, decoder, address);
      if (address === null || next === null) return [];
      given.push(address);
      edit = next;
    }
    const [only] = those;
    const text =
      those.length === 1
        ? `Give ${only?.id ?? ''} address ${given[0] ?? 0}`
        : `Give them the lowest free addresses, ${given[0] ?? 0} to ${given.at(-1) ?? 0}`;
    return [mend('free-address', text, edit.done('drive.address'))];
  }
}

function addressesOf(those: readonly Decoder[]): string {
  return those.map(({ address }) => String(address)).join(', ');
}

function spotOf(those: readonly Decoder[]): Spot | null {
  return those.find(({ at }) => at !== null)?.at ?? null;
}

/** The address in the decoder's record; a part that a point names gets a record first. Null where no record can name it. */
function withAddress(edit: Edit, decoder: Decoder, address: number): Edit | null {
  if (decoder.recorded) return edit.update('drives', decoder.id, { address });
  const { panel } = edit;
  const id = nextFreeId(panel, 'D');
  const added = edit.add('drives', { id, part: decoder.part.id, address });
  if (panel.points?.some((point) => point.id === decoder.id) === true)
    return added.update('points', decoder.id, { drive: id });
  const slip = panel.crossings?.find(({ ends }) => ends?.some((end) => end.id === decoder.id));
  if (slip === undefined) return null;
  const ends = slip.ends?.map((end) => (end.id === decoder.id ? { ...end, drive: id } : end));
  return added.update('crossings', slip.id, { ends });
}

function sayNumbering(panel: PanelFile): readonly Mend[] {
  const say = (numbering: Numbering, text: string): Mend =>
    mend(
      `count-from-${numbering}`,
      text,
      editOf(panel)
        .set('track', { ...panel.track, numbering })
        .done('track.numbering'),
    );
  return [say('board-1', 'Address 1 is on board 1'), say('board-0', 'Address 1 is on board 0')];
}

/** What stops them: a short on the track, a track without commands, their own draw. */
function busFindings({ panel, decoders: { decoders, ownBus, draw } }: CheckInput): readonly RawFinding[] {
  const found: RawFinding[] = [];
  const ids = decoders.map(({ id }) => id);
  const at = spotOf(decoders);
  const own = mend(
    'own-bus',
    'Give accessories a bus behind a booster or a breaker of its own',
    editOf(panel)
      .set('track', { ...panel.track, accessoryBus: {} })
      .done('track.accessory-bus'),
  );
  if (!ownBus)
    found.push(
      panel.track?.system?.trim().toLowerCase() === 'analogue'
        ? raw('decoder-track-analogue', ids, at, {}, [own])
        : raw('decoder-stops-with-track', ids, at, {}, [own]),
    );
  if (draw.trip !== null && draw.one > draw.trip + SUM_SLACK) {
    const thrown = new Set(draw.oneOf);
    const first = spotOf(decoders.filter(({ id }) => thrown.has(id)));
    found.push(raw('decoder-trips-bus', draw.oneOf, first, { amps: draw.one, trip: draw.trip }));
  } else if (draw.tripAll !== null && draw.all > draw.tripAll + SUM_SLACK)
    found.push(
      raw('decoders-trip-at-power-up', ids, at, { amps: draw.all, trip: draw.tripAll, count: ids.length }, [
        mend('keep-still', 'Set the decoders to keep still at power-up, or to throw in turn', null),
      ]),
    );
  return found;
}

/** An address of a drive that is no decoder: it may be one that the file forgot to call so. */
function idleAddresses({ panel, catalogue, plan, decoders }: CheckInput): readonly RawFinding[] {
  return decoders.idle.map(({ id, address, part }) => {
    const moved = plan.points.filter((point) => point.record?.drive === id);
    const worked = plan.levers.some(
      (lever) => lever.recorded && lever.works.some(({ point }) => moved.some((each) => each.id === point)),
    );
    const lift = mend(
      'lift-address',
      'Take the address away',
      editOf(panel).update('drives', id, { address: undefined }).done('drive.address'),
    );
    const make = mend(
      'make-decoder',
      'Make it a decoder',
      editOf(panel).update('drives', id, { part: 'decoder' }).done('drive.part'),
      catalogue.find('drive', 'decoder')?.price ?? null,
    );
    return raw(
      'address-without-decoder',
      [id],
      moved[0]?.at ?? null,
      { address, part },
      worked ? [lift] : [make, lift],
    );
  });
}
