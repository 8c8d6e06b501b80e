/** What wants a contact of each drive: live frogs, lamps, and what its record says. */
import { budgetContacts, type ContactBudget, type ContactUse } from '../contacts/index.ts';
import type { PanelFile } from '../panel/index.ts';
import type { Wiring } from '../wiring/index.ts';
import type { TrackFrog } from './types.ts';

/** A contact on a drive's slider: "D1.c2". */
const CONTACT = /^(.+)\.c\d+$/;

/** The budget of every drive. A frog of which the file does not say that it is live wants nothing yet. */
export function contactBudget(panel: PanelFile, wiring: Wiring, frogs: readonly TrackFrog[]): readonly ContactBudget[] {
  const ofPoint = new Map(wiring.drives.flatMap(({ id, points }) => points.map((point) => [point, id] as const)));
  const uses: ContactUse[] = [];
  for (const frog of frogs) {
    if (frog.kind !== 'live' || frog.fixed || frog.toldBy === null) continue;
    const contact = frog.contact?.id ?? null;
    const drive = CONTACT.exec(contact ?? '')?.[1] ?? ofPoint.get(frog.toldBy);
    // One contact serves frogs of one body that take the same rail at the same time.
    const shares = `${frog.at.join(',')} ${frog.toldBy} ${frog.normal.rail}`;
    if (drive !== undefined) uses.push({ drive, contact, kind: 'frog', id: frog.id, shares });
  }
  for (const { id, carrier } of wiring.contacts)
    if (carrier.kind === 'drive') uses.push({ drive: carrier.id, contact: id, kind: 'lamps', id });
  for (const { id, contacts } of panel.drives ?? [])
    for (const [name, by] of Object.entries(contacts ?? {}))
      if (!by.startsWith('frog:')) {
        const lamps = by === 'lamps';
        uses.push({ drive: id, contact: `${id}.${name}`, kind: lamps ? 'lamps' : 'other', id: by });
      }
  return budgetContacts(
    wiring.drives.map(({ id, part }) => ({ id, contacts: part.contacts })),
    uses,
  );
}
