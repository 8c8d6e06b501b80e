/** Where on a circuit a fault is. */
import type { Fault, Wiring } from '../../wiring/index.ts';

/** Ids of the wires, parts and points that a fault is at: what its code names, what it alters, and the drives of its points. */
export function placesOf(wiring: Pick<Wiring, 'drives'>, { code, edits, points }: Fault): readonly string[] {
  const named = code.slice(code.indexOf(':') + 1).split(',');
  const altered = edits.flatMap((edit) => {
    // What joins two terminals is no part: the code names those.
    if (edit.do === 'join') return [];
    if ('element' in edit) return 'other' in edit ? [edit.element, edit.other] : [edit.element];
    return 'carrier' in edit ? [edit.carrier] : [edit.drive];
  });
  const drives = wiring.drives.filter((drive) => points.some((point) => drive.points.includes(point)));
  // A throw of a contact is told as the contact, and a value as what has it.
  const ids = [...named, ...altered].map((id) => id.split('=')[0] ?? id);
  return [...new Set([...ids, ...drives.map(({ id }) => id), ...points])];
}
