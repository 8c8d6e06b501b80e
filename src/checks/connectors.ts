/** Connectors, pins and wires. */
import { editOf } from '../panel/index.ts';
import { isWireColour } from '../units/index.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkConnectors(input: CheckInput): readonly RawFinding[] {
  const { panel, wiring, loom, readings } = input;
  const found: RawFinding[] = [];
  for (const problem of wiring.problems) {
    switch (problem.code) {
      case 'connector-part-unknown':
        found.push(raw(problem.code, [problem.connector], null, { part: problem.part }));
        break;
      case 'connector-full':
        found.push(
          raw(problem.code, problem.lacking, null, { needs: problem.needs, has: problem.has }, [addConnector()]),
        );
        break;
      case 'connector-spare-used':
        found.push(raw(problem.code, [problem.connector], null, { free: problem.free, wanted: problem.wanted }));
        break;
      case 'connectors-alike':
        found.push(raw(problem.code, problem.connectors));
        break;
      case 'pin-unknown':
        found.push(raw(problem.code, [problem.connector], null, { pin: problem.pin }));
        break;
      case 'pin-leads-nowhere':
        found.push(raw(problem.code, [`${problem.connector}.${problem.pin}`], null, { to: problem.to }));
        break;
      case 'wire-joins-nothing':
        found.push(raw(problem.code, [problem.wire], null, { from: problem.from, to: problem.to }));
        break;
    }
  }
  for (const connector of wiring.connectors) {
    // The panel's half is the one that stays live: the supply is on its side.
    if (connector.pins.length > 0 && connector.panelHalf === 'plug') {
      found.push(raw('connector-live-pins', [connector.id], null, {}, [turnRound(connector.id)]));
    }
    for (const pin of connector.pins) {
      const drive = wiring.drives.find((each) => each.a === pin.to || each.b === pin.to);
      const held = Math.max(
        0,
        ...readings.map((reading) => Math.abs(reading.drives.find((each) => each.drive === drive?.id)?.amps ?? 0)),
      );
      const amps = Math.max(held, drive?.part.runAmps ?? 0);
      if (amps > connector.part.amps)
        found.push(raw('pin-overloaded', [pin.id], null, { amps, part: connector.part.id, most: connector.part.amps }));
    }
  }
  for (const wire of loom.wires) {
    const colour = wire.colour.toUpperCase();
    if (!isWireColour(colour)) found.push(raw('wire-colour-unknown', [wire.id], null, { colour: wire.colour }));
    else if (colour.includes('GN') && colour.includes('YE'))
      found.push(raw('wire-green-and-yellow', [wire.id], null, { colour: wire.colour }));
  }
  return found;

  function addConnector(): Mend {
    const price = input.catalogue.find('connector', 'dsub-25')?.price ?? null;
    const taken = new Set(wiring.connectors.map((connector) => connector.id));
    const id = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].find((letter) => !taken.has(letter));
    const edit =
      id === undefined
        ? null
        : editOf(panel)
            .add('connectors', { id, part: 'dsub-25', panelHalf: 'socket' as const })
            .done('connector.add');
    return { id: 'add-connector', text: 'Add a connector', price, edit };
  }

  function turnRound(id: string): Mend {
    const record = panel.connectors?.find((each) => each.id === id);
    const edit =
      record === undefined
        ? null
        : editOf(panel)
            .update('connectors', id, { ...record, panelHalf: 'socket' as const })
            .done('connector.half');
    return { id: 'socket-on-panel', text: 'Give the panel the socket', price: null, edit };
  }
}
