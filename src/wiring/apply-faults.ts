/** Faults as edits of a network's elements. What an edit names and the network does not hold (an unused way, another lever) is passed over. */
import type { CircuitElement } from '../circuit/index.ts';
import { otherLie } from './drives.ts';
import type { Fault, FaultEdit } from './faults.ts';
import { type Positions, positionIn } from './positions.ts';
import { NO_OHMS } from './tolerances.ts';
import type { Wiring } from './types.ts';

/** The elements with the faults in them, in the same order; new joints stand last. The levers say which way drives are asked. */
export function withFaults(
  elements: readonly CircuitElement[],
  wiring: Wiring,
  levers: Positions,
  faults: readonly Fault[],
): readonly CircuitElement[] {
  const at = new Map(elements.map((element, i) => [element.id, i]));
  const nodes = new Set(elements.flatMap(({ a, b }) => [a, b]));
  const now = [...elements];
  for (const { edits, says } of faults) for (const edit of edits) apply(edit, says);
  return now;

  function change(id: string, says: string, make: (element: CircuitElement) => CircuitElement): void {
    const i = at.get(id);
    const element = i === undefined ? undefined : now[i];
    if (i === undefined || element === undefined) return;
    now[i] = { ...make(element), says: `${element.says ?? id}: ${says}` };
  }

  function apply(edit: FaultEdit, says: string): void {
    if (edit.do === 'join') {
      const joint = { id: edit.element, a: edit.a, b: edit.b, says };
      if (nodes.has(edit.a) || nodes.has(edit.b)) now.push({ ...joint, kind: 'wire', ohms: NO_OHMS });
    } else if (edit.do === 'exchange') {
      const [one, other] = [closed(edit.element), closed(edit.other)];
      change(edit.element, says, (element) => closedAs(element, other));
      change(edit.other, says, (element) => closedAs(element, one));
    } else if (edit.do === 'hold') hold(edit.drive, edit.at, says);
    else change(edit.element, says, (element) => edited(element, edit));
  }

  function closed(id: string): boolean {
    const element = now[at.get(id) ?? -1];
    return element?.kind === 'contact' && element.closed;
  }

  /** A drive kept from the end of its travel never cuts itself off: it draws what it draws while it runs. */
  function hold(id: string, lie: 'normal' | 'reverse', says: string): void {
    const drive = wiring.drives.find((each) => each.id === id);
    const runs = drive?.part.runAmps ?? 0;
    if (drive === undefined || drive.ohms !== null || drive.circuit === null || runs <= 0) return;
    const asked = positionIn(levers, drive.circuit) === 'reverse' ? otherLie(drive.whenNormal) : drive.whenNormal;
    const circuit = wiring.circuits.find((each) => each.id === drive.circuit);
    const supply = wiring.supplies.find((each) => each.id === circuit?.supply);
    if (asked === lie || supply === undefined) return;
    change(id, says, (element) => ({ ...ends(element), kind: 'resistor', ohms: supply.volts / runs }));
  }
}

/** One element after an edit that concerns it alone. */
function edited(
  element: CircuitElement,
  edit: Exclude<FaultEdit, { readonly do: 'join' | 'exchange' | 'hold' }>,
): CircuitElement {
  switch (edit.do) {
    case 'cut':
      return { ...ends(element), kind: 'open' };
    case 'short':
      return { ...ends(element), kind: 'wire', ohms: NO_OHMS };
    case 'turn':
      // Its reading keeps the direction of its own leads.
      return { ...element, a: element.b, b: element.a };
    case 'ohms':
      return { ...ends(element), kind: 'resistor', ohms: edit.ohms };
    case 'add-ohms':
      return { ...ends(element), kind: 'resistor', ohms: edit.ohms + ('ohms' in element ? element.ohms : NO_OHMS) };
    case 'move':
      return { ...element, b: edit.b };
    case 'close':
      return closedAs(element, true);
    case 'volts':
      return element.kind === 'source' ? { ...element, volts: element.volts * edit.times } : element;
  }
}

function closedAs(element: CircuitElement, closed: boolean): CircuitElement {
  return element.kind === 'contact' ? { ...element, closed } : element;
}

/** What every element has, whatever it becomes. */
function ends({ id, a, b, probe }: CircuitElement): Pick<CircuitElement, 'id' | 'a' | 'b' | 'probe'> {
  return { id, a, b, ...(probe === undefined ? {} : { probe }) };
}
