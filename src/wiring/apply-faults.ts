/** A network's elements with faults in them. */
import { type CircuitElement, editElement } from '../circuit/index.ts';
import { circuitEdits, type EditedNetwork } from './fault-edits.ts';
import type { Fault } from './faults.ts';
import type { Positions } from './positions.ts';
import type { Wiring } from './types.ts';

/** The elements as the faults leave them, each saying what befell it, in the same order; new joints stand last. */
export function withFaults(
  elements: readonly CircuitElement[],
  wiring: Wiring,
  levers: Positions,
  faults: readonly Fault[],
): readonly CircuitElement[] {
  const at = new Map(elements.map((element, i) => [element.id, i]));
  const nodes = new Set(elements.flatMap(({ a, b }) => [a, b]));
  const now = [...elements];
  const find = (id: string): CircuitElement | undefined => now[at.get(id) ?? -1];
  const network: EditedNetwork = {
    hasElement: (id) => at.has(id),
    hasNode: (node) => nodes.has(node),
    isClosed: (id) => {
      const element = find(id);
      return element?.kind === 'contact' && element.closed;
    },
    voltsOf: (id) => {
      const element = find(id);
      return element?.kind === 'source' ? (element.swing?.peak ?? element.volts) : null;
    },
    swings: (id) => {
      const element = find(id);
      return element?.kind === 'source' && element.swing !== undefined;
    },
  };
  for (const { edits, says } of faults)
    for (const edit of edits.flatMap((each) => circuitEdits(each, network, wiring, levers))) {
      if (edit.do === 'join') {
        const { id, a, b, ohms } = edit;
        now.push({ kind: 'wire', id, a, b, ohms, says });
        continue;
      }
      const i = at.get(edit.element);
      const element = find(edit.element);
      if (i === undefined || element === undefined) throw new RangeError(`no element ${edit.element} to edit`);
      now[i] = { ...editElement(element, edit), says: `${element.says ?? element.id}: ${says}` };
    }
  return now;
}
