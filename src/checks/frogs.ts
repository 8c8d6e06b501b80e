/** Live frogs and the contact budget: a contact feeds one thing, and a drive has as many as it has. */
import { editOf } from '../panel/index.ts';
import { HELD_RELAY } from '../parts/index.ts';
import { formatAmps, formatVolts } from '../units/index.ts';
import { turnsOver, type WiredDrive } from '../wiring/index.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import { FROG_MODULE_PRICE } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

/** A contact on a drive's slider: "D1.c2". */
const CONTACT = /^(.+)\.c(\d+)$/;
/** What the record of a drive says of a contact that feeds a frog: "frog:F1". */
const FROG = 'frog:';
/** The same of one that lights lamps. */
const LAMPS = 'lamps';

export function checkFrogs({ panel, plan, wiring, catalogue, track }: CheckInput): readonly RawFinding[] {
  const found: RawFinding[] = [];
  const driveOf = new Map(wiring.drives.map((drive) => [drive.id, drive]));
  const ofPoint = new Map(wiring.drives.flatMap((drive) => drive.points.map((point) => [point, drive] as const)));
  const atPoint = new Map(plan.points.map((point) => [point.id, point.at]));
  const frogs = panel.frogs ?? [];
  /** By an end of a slip, the end whose lie tells its frog. */
  const toldBy = new Map(
    track.frogs.flatMap((frog) => (frog.what === 'slip-end' && frog.toldBy !== null ? [[frog.of, frog.toldBy]] : [])),
  );

  /** What each contact feeds: "frog:F1", or what the drive's record says. */
  const uses = new Map<string, Set<string>>();
  const use = (contact: string, by: string) => uses.set(contact, (uses.get(contact) ?? new Set()).add(by));
  for (const frog of frogs) if (frog.from !== undefined && frog.kind !== 'module') use(frog.from, FROG + frog.id);
  for (const drive of panel.drives ?? [])
    for (const [name, by] of Object.entries(drive.contacts ?? {})) use(`${drive.id}.${name}`, by);
  for (const { id, carrier } of wiring.contacts) if (carrier.kind === 'drive') use(id, LAMPS);
  const fed = new Set([...uses.values()].flatMap((by) => [...by]));
  /** Frogs for which no contact is left. */
  const without = new Set(track.contacts.flatMap((budget) => budget.without));

  for (const frog of frogs) {
    const at = atPoint.get(frog.of) ?? null;
    if (frog.kind === 'live' && frog.from === undefined && !fed.has(FROG + frog.id) && !without.has(frog.id)) {
      found.push(raw('frog-unfed', [frog.id], at, { of: frog.of }, feedFrom(frog.id, ofPoint.get(frog.of))));
    }
    const [, name, number] = CONTACT.exec(frog.from ?? '') ?? [];
    if (name === undefined || frog.kind === 'module') continue;
    const drive = driveOf.get(name);
    if (drive === undefined) {
      found.push(raw('reference-unknown', [frog.id], at, { key: 'from', kind: 'drive', names: name }));
      continue;
    }
    const has = drive.part.contacts;
    if (Number(number) > has || Number(number) < 1) {
      const values = { contact: frog.from ?? '', drive: drive.id, has, needs: Number(number) };
      found.push(raw('frog-contact-missing', [frog.id], at, values, relieve(frog.id, drive)));
    }
    const other = toldBy.get(frog.of);
    if (other !== undefined && drive.points.includes(frog.of) && !drive.points.includes(other)) {
      const values = { of: frog.of, from: frog.from ?? '', other };
      found.push(raw('frog-own-end', [frog.id], at, values, feedFrom(frog.id, ofPoint.get(other))));
    }
  }
  found.push(...carrying(), ...overdrawn());
  for (const [contact, by] of uses) {
    if (by.size < 2) continue;
    const drive = driveOf.get(CONTACT.exec(contact)?.[1] ?? '');
    const last = frogs.filter((frog) => frog.from === contact).at(-1);
    const users = [...by].map((each) => (each.startsWith(FROG) ? each.slice(FROG.length) : each));
    found.push(
      raw(
        'contact-used-twice',
        [contact],
        atPoint.get(drive?.points[0] ?? '') ?? null,
        { by: users.join(' and ') },
        last === undefined || drive === undefined ? [] : relieve(last.id, drive),
      ),
    );
  }
  return found;

  /** Contacts that a drive has, less one for each frog, less one for each root of lamps: below nothing a live frog has none. */
  function overdrawn(): readonly RawFinding[] {
    return track.contacts.flatMap(({ drive: id, has, frogs: wanted, lamps, needs, without: left }) => {
      const drive = driveOf.get(id);
      const [first] = left;
      if (drive === undefined || first === undefined) return [];
      const values = { has, frogs: wanted, lamps, needs };
      const mends = [...relieve(first, drive), ...(lamps > 0 ? acrossFeed(drive) : [])];
      return [raw('contacts-overdrawn', [id, ...left], atPoint.get(drive.points[0] ?? '') ?? null, values, mends)];
    });
  }

  /** Lamps that could hang across the feed give their contact back. */
  function acrossFeed(drive: WiredDrive): readonly Mend[] {
    if (drive.feed === null || !turnsOver(drive.feed)) return [];
    const record = panel.levers?.find(({ id }) => id === drive.circuit);
    const lit = new Set(
      wiring.lamps.flatMap(({ of, cube }) => (cube !== null && Object.hasOwn(cube, drive.id) ? [of] : [])),
    );
    // A lamp that names its contact keeps it, whatever its lever says.
    const named = panel.lamps?.some(({ id, from }) => lit.has(id) && from !== undefined) === true;
    const edit =
      record === undefined || named
        ? null
        : editOf(panel)
            .update('levers', record.id, { lighting: { ...record.lighting, scheme: 'across-feed' as const } })
            .done('lever.lighting');
    return [mend('lamps-across-feed', 'Light its lamps across the feed: they then tell what was asked', edit)];
  }

  /** A frog carries what the booster gives before it trips: one finding for contacts of one rating. */
  function carrying(): readonly RawFinding[] {
    const trip = Math.max(0, ...(panel.track?.boosters ?? []).map((booster) => booster.tripAmps ?? 0));
    const byAmps = new Map<number, string[]>();
    for (const frog of frogs) {
      const drive = driveOf.get(CONTACT.exec(frog.from ?? '')?.[1] ?? '');
      if (drive === undefined || frog.kind === 'module' || drive.part.contactAmps >= trip) continue;
      byAmps.set(drive.part.contactAmps, [...(byAmps.get(drive.part.contactAmps) ?? []), frog.id]);
    }
    return [...byAmps].map(([most, ids]) => {
      let edit = editOf(panel);
      for (const id of ids) edit = edit.update('frogs', id, { kind: 'module' as const, from: undefined });
      const text = ids.length === 1 ? 'Give the frog a module' : 'Give the frogs modules';
      const at = atPoint.get(frogs.find((frog) => frog.id === ids[0])?.of ?? '') ?? null;
      return raw('frog-contact-small', ids, at, { amps: trip, most }, [
        mend(
          'frog-module',
          `${text} made for ${formatAmps(trip)}`,
          edit.done('frog.kind'),
          FROG_MODULE_PRICE * ids.length,
        ),
      ]);
    });
  }

  /** The first contact of a drive that feeds nothing yet. */
  function freeContact(drive: WiredDrive): string | null {
    for (let number = 1; number <= drive.part.contacts; number++)
      if (!uses.has(`${drive.id}.c${number}`)) return `${drive.id}.c${number}`;
    return null;
  }

  function feedFrom(id: string, drive: WiredDrive | undefined): readonly Mend[] {
    const contact = drive === undefined ? null : freeContact(drive);
    if (contact === null) return [module(id)];
    const edit = editOf(panel).update('frogs', id, { from: contact }).done('frog.from');
    return [mend('use-contact', `Feed it from ${contact}`, edit)];
  }

  /** Ways out when a drive's contacts are overdrawn: a free one, a relay, a second drive, a module. */
  function relieve(id: string, drive: WiredDrive): readonly Mend[] {
    const contact = freeContact(drive);
    const relay = catalogue.find('relay', HELD_RELAY);
    const coil =
      relay === undefined
        ? ''
        : ` (coil ${formatAmps(relay.coilVolts / relay.coilOhms)} at ${formatVolts(relay.coilVolts)}, a diode across it)`;
    return [
      ...(contact === null ? [] : feedFrom(id, drive)),
      mend(
        'add-relay',
        `Let a contact work a relay of two poles${coil} under the layout, and its poles feed both`,
        null,
        relay?.price ?? null,
      ),
      mend('add-drive', 'Use a second drive with contacts of its own', null, drive.part.price),
      module(id),
    ];
  }

  /** A frog that the file does not name by itself gets a record. */
  function module(id: string): Mend {
    const kind = 'module' as const;
    const named = frogs.some((frog) => frog.id === id);
    const of = track.frogs.find((frog) => frog.id === id)?.of ?? id;
    const edit = named
      ? editOf(panel).update('frogs', id, { kind, from: undefined }).done('frog.kind')
      : editOf(panel).add('frogs', { id, of, kind }).done('frog.add');
    return mend('frog-module', 'Give the frog a module that finds its polarity itself', edit, FROG_MODULE_PRICE);
  }
}
