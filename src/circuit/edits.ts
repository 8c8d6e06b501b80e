/** Changes of single elements, as a slip of the builder or a fault makes them. */
import type { DiodeLaw } from '../parts/index.ts';
import type { Ohm, Volt } from '../units/index.ts';
import type { CircuitElement, Netlist, Node } from './types.ts';

/** One change. Elements are named by id; edits of one element follow one another. */
export type Edit =
  /** Cut through: no branch at all. */
  | { readonly do: 'open'; readonly element: string }
  /** Its ends are one. */
  | { readonly do: 'short'; readonly element: string }
  /** Other ohms: of a resistor, wire, contact or source; of a diode, in series with it; where nothing joined, a resistor. */
  | { readonly do: 'ohms'; readonly element: string; readonly ohms: Ohm }
  | { readonly do: 'volts'; readonly element: string; readonly volts: Volt }
  | { readonly do: 'law'; readonly element: string; readonly law: DiodeLaw }
  /** A contact welded shut, or one that never closes. */
  | { readonly do: 'contact'; readonly element: string; readonly closed: boolean }
  /** Ends changed over. */
  | { readonly do: 'turn'; readonly element: string }
  /** One end taken off and put to another node of the network. */
  | { readonly do: 'move'; readonly element: string; readonly end: 'a' | 'b'; readonly to: Node }
  /** Two nodes joined by so many ohms; the id names the join in answers. */
  | { readonly do: 'join'; readonly id: string; readonly a: Node; readonly b: Node; readonly ohms: Ohm };

/** The element after an edit of its own. Throws a RangeError where the edit does not suit its kind. */
export function editElement(element: CircuitElement, edit: Exclude<Edit, { do: 'join' }>): CircuitElement {
  const { id, a, b } = element;
  const named = {
    ...(element.says === undefined ? {} : { says: element.says }),
    ...(element.probe === undefined ? {} : { probe: element.probe }),
  };
  const unfit = (): RangeError => new RangeError(`a ${element.kind} (${id}) has no "${edit.do}" to edit`);
  switch (edit.do) {
    case 'open':
      return { id, a, b, kind: 'open', ...named };
    case 'short':
      return { id, a, b, kind: 'wire', ohms: 0, ...named };
    case 'ohms':
      if (element.kind === 'capacitor') throw unfit();
      if (element.kind === 'open') return { id, a, b, kind: 'resistor', ohms: edit.ohms, ...named };
      if (element.kind === 'diode') return { ...element, law: { ...element.law, rs: element.law.rs + edit.ohms } };
      return { ...element, ohms: edit.ohms };
    case 'volts':
      if (element.kind !== 'source') throw unfit();
      // Of an alternating one they are those of its crest.
      if (element.swing !== undefined) return { ...element, swing: { ...element.swing, peak: edit.volts } };
      return { ...element, volts: edit.volts };
    case 'law':
      if (element.kind !== 'diode') throw unfit();
      return { ...element, law: edit.law };
    case 'contact':
      if (element.kind !== 'contact') throw unfit();
      return { ...element, closed: edit.closed };
    case 'turn':
      return { ...element, a: b, b: a };
    case 'move':
      return edit.end === 'a' ? { ...element, a: edit.to } : { ...element, b: edit.to };
  }
}

/** The netlist with the edits made, joins as wires at its end. Throws a RangeError for an element that is not there. */
export function editNetlist(netlist: Netlist, edits: readonly Edit[]): Netlist {
  const elements = [...netlist.elements];
  for (const edit of edits) {
    if (edit.do === 'join') {
      elements.push({ id: edit.id, a: edit.a, b: edit.b, kind: 'wire', ohms: edit.ohms });
      continue;
    }
    const at = elements.findIndex(({ id }) => id === edit.element);
    const element = elements[at];
    if (element === undefined) throw new RangeError(`no element ${edit.element} to edit`);
    elements[at] = editElement(element, edit);
  }
  return { ...netlist, elements };
}
