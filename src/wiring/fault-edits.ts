/** What faults do to a network, in the circuit layer's own edits. What a fault names and the network does not hold is passed over. */
import type { Edit, Node } from '../circuit/index.ts';
import type { Volt } from '../units/index.ts';
import { otherLie } from './drives.ts';
import { askIn, type Positions } from './positions.ts';
import { NO_OHMS } from './tolerances.ts';
import type { FaultEdit, Wiring } from './types.ts';

/** What must be known of a network to edit it. */
export interface EditedNetwork {
  hasElement(id: string): boolean;
  hasNode(node: Node): boolean;
  /** Is this contact closed as the levers lie? */
  isClosed(id: string): boolean;
  /** Of a source, its crest where it alternates; null where the network holds none of that id. */
  voltsOf(id: string): Volt | null;
  /** Is this a source that alternates? Absent: none does. */
  swings?(id: string): boolean;
}

/** One fault's edit; the levers say which way drives are asked. */
export function circuitEdits(
  edit: FaultEdit,
  network: EditedNetwork,
  wiring: Wiring,
  levers: Positions,
): readonly Edit[] {
  if (edit.do === 'join') {
    const { element: id, a, b } = edit;
    return network.hasNode(a) && network.hasNode(b) ? [{ do: 'join', id, a, b, ohms: NO_OHMS }] : [];
  }
  if (edit.do === 'keep') return [];
  if (edit.do === 'hold') return held(edit.drive, edit.at);
  const { element } = edit;
  if (!network.hasElement(element)) return [];
  switch (edit.do) {
    case 'cut':
      return [{ do: 'open', element }];
    case 'short':
    case 'turn':
      return [{ do: edit.do, element }];
    case 'ohms':
      return [{ do: 'ohms', element, ohms: edit.ohms }];
    case 'move':
      return network.hasNode(edit.b) ? [{ do: 'move', element, end: 'b', to: edit.b }] : [{ do: 'open', element }];
    case 'close':
      return [{ do: 'contact', element, closed: true }];
    case 'exchange':
      return [
        { do: 'contact', element, closed: network.isClosed(edit.other) },
        { do: 'contact', element: edit.other, closed: network.isClosed(element) },
      ];
    case 'volts':
    case 'rail': {
      // A network that runs through time holds no rail: there what is broken tells by itself.
      const volts = edit.do === 'rail' && network.swings?.(element) === true ? null : network.voltsOf(element);
      return volts === null ? [] : [{ do: 'volts', element, volts: volts * edit.times }];
    }
  }

  /** A drive kept from the end of its travel never cuts itself off: it draws what it draws while it runs. */
  function held(id: string, lie: 'normal' | 'reverse'): readonly Edit[] {
    const drive = wiring.drives.find((each) => each.id === id);
    const runs = drive?.part.runAmps ?? 0;
    if (drive === undefined || drive.ohms !== null || drive.circuit === null || runs <= 0) return [];
    const asked = askIn(wiring, levers, drive.circuit) === 'reverse' ? otherLie(drive.whenNormal) : drive.whenNormal;
    const circuit = wiring.circuits.find((each) => each.id === drive.circuit);
    const supply = wiring.supplies.find((each) => each.id === circuit?.supply);
    if (asked === lie || supply === undefined || !network.hasElement(id)) return [];
    return [{ do: 'ohms', element: id, ohms: supply.volts / runs }];
  }
}
