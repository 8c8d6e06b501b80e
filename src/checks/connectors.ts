/** Connectors, pins and wires. */
import { type ConnectorRecord, editOf, nextFreeLetters } from '../panel/index.ts';
import { type ConnectorPart, neighbours } from '../parts/index.ts';
import { isProtectiveEarth, isWireColour } from '../units/index.ts';
import { liftRecord, mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkConnectors(input: CheckInput): readonly RawFinding[] {
  const { panel, wiring, loom, readings } = input;
  const found: RawFinding[] = [];
  for (const problem of wiring.problems) {
    switch (problem.code) {
      case 'connector-part-unknown':
        found.push(
          raw(problem.code, [problem.connector], null, { part: problem.part }, [
            alter(problem.connector, { part: undefined }, 'usual-shell', 'Use the usual shell of 25 ways'),
          ]),
        );
        break;
      case 'connector-full':
        found.push(
          raw(problem.code, problem.lacking, null, { needs: problem.needs, has: problem.has }, [addConnector()]),
        );
        break;
      case 'connector-spare-used':
        found.push(
          raw(
            problem.code,
            [problem.connector],
            null,
            { free: problem.free, wanted: problem.wanted },
            largerShell(problem.connector),
          ),
        );
        break;
      case 'connectors-alike':
        found.push(raw(problem.code, problem.connectors, null, {}, otherSize(problem.connectors)));
        break;
      case 'pin-unknown':
        found.push(
          raw(problem.code, [problem.connector], null, { pin: problem.pin }, freePin(problem.connector, problem.pin)),
        );
        break;
      case 'pin-leads-nowhere': {
        const mends = freePin(problem.connector, problem.pin);
        const ids = [`${problem.connector}.${problem.pin}`];
        const frog = frogOf(problem.to);
        if (frog === null) found.push(raw(problem.code, ids, null, { to: problem.to }, mends));
        else found.push(raw('frog-through-panel', [...ids, frog], null, {}, mends));
        break;
      }
      case 'wire-joins-nothing':
        found.push(
          raw(problem.code, [problem.wire], null, { from: problem.from, to: problem.to }, [
            liftRecord(panel, 'wires', problem.wire, 'lift-wire', 'Take the wire out of the file'),
          ]),
        );
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
  for (const drive of wiring.drives) {
    const pins = wiring.connectors.flatMap((connector) =>
      connector.pins
        .filter((pin) => pin.to === drive.a || pin.to === drive.b)
        .map((pin) => ({ pin, part: connector.part })),
    );
    const [one, two] = pins;
    if (one === undefined || two === undefined) continue;
    const together =
      one.pin.connector === two.pin.connector && neighbours(one.part, one.pin.number).includes(two.pin.number);
    if (together) continue;
    const mends = freePin(two.pin.connector, String(two.pin.number), 'Let the second pin stand beside the first');
    found.push(raw('pin-pair-apart', [drive.id], null, { pins: `${one.pin.id} and ${two.pin.id}` }, mends));
  }
  for (const wire of loom.wires) {
    const mends = () => [chooseColour(wire.id)];
    if (!isWireColour(wire.colour))
      found.push(raw('wire-colour-unknown', [wire.id], null, { colour: wire.colour }, mends()));
    else if (isProtectiveEarth(wire.colour))
      found.push(raw('wire-green-and-yellow', [wire.id], null, { colour: wire.colour }, mends()));
  }
  return found;

  function alter(
    id: string,
    to: Partial<ConnectorRecord>,
    name: string,
    text: string,
    price: number | null = null,
  ): Mend {
    const there = panel.connectors?.some((each) => each.id === id);
    return mend(name, text, there ? editOf(panel).update('connectors', id, to).done('connector.alter') : null, price);
  }

  /** The next shell of its family in which what it carries leaves enough free. */
  function largerShell(id: string): readonly Mend[] {
    const connector = wiring.connectors.find((each) => each.id === id);
    if (connector === undefined) return [];
    const used = connector.pins.length;
    const part = familyOf(connector.part).find((each) => each.ways - used >= Math.ceil(each.ways * connector.spare));
    return part === undefined ? [] : [alter(id, { part: part.id }, 'larger-shell', `Use a ${part.name}`, part.price)];
  }

  /** The last of equal shells in another size, which none of the panel's shells has. */
  function otherSize(ids: readonly string[]): readonly Mend[] {
    const id = ids[ids.length - 1];
    const connector = wiring.connectors.find((each) => each.id === id);
    if (id === undefined || connector === undefined) return [];
    const taken = new Set(wiring.connectors.map((each) => each.part.id));
    const most = Math.max(0, ...connector.pins.map((pin) => pin.number));
    const part = familyOf(connector.part).find((each) => !taken.has(each.id) && each.ways >= most);
    return part === undefined
      ? []
      : [alter(id, { part: part.id }, 'other-size', `Make ${id} a ${part.name}`, part.price)];
  }

  function familyOf(part: ConnectorPart): readonly ConnectorPart[] {
    return input.catalogue
      .all('connector')
      .filter((each) => each.family === part.family)
      .sort((a, b) => a.ways - b.ways);
  }

  /** What the file gives a pin is taken back; what is soldered stays. */
  function freePin(connector: string, pin: string, text = `Leave ${connector}.${pin} free`): readonly Mend[] {
    const record = panel.connectors?.find((each) => each.id === connector);
    if (record?.pins?.[pin] === undefined) return [];
    const pins = Object.fromEntries(Object.entries(record.pins).filter(([number]) => number !== pin));
    return [alter(connector, { pins }, 'free-pin', text)];
  }

  function chooseColour(id: string): Mend {
    const there = panel.wires?.some((each) => each.id === id && each.colour !== undefined);
    const edit = there ? editOf(panel).update('wires', id, { colour: undefined }).done('wire.colour') : null;
    return mend('choose-colour', 'Let the tool choose its colour', edit);
  }

  /** The frog that a pin is given to, by its id or as drives name it. */
  function frogOf(to: string): string | null {
    const id = to.startsWith('frog:') ? to.slice('frog:'.length) : to;
    return panel.frogs?.some((frog) => frog.id === id) ? id : null;
  }

  function addConnector(): Mend {
    const price = input.catalogue.find('connector', 'dsub-25')?.price ?? null;
    const id = nextFreeLetters(
      panel,
      wiring.connectors.map((connector) => connector.id),
    );
    const edit = editOf(panel)
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
