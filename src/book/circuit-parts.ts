/** What stands in a circuit, as parts with terminals, and the wires between them: pins cut in two, the panel's half and the layout's. */
import type { Derived } from '../derive.ts';
import type { CutWire } from '../loom/index.ts';
import { formatOhms } from '../units/index.ts';
import { type Circuit, hasCoils, type Terminal } from '../wiring/index.ts';
import { faradText, size as sizeText } from './format.ts';
import { type Nets, readNets } from './nets.ts';

/** What a circuit is drawn from. */
export type Drawable = Pick<Derived, 'wiring' | 'loom' | 'panel'>;

/** What a part of two ends is drawn as. */
export type PairKind =
  | 'resistor'
  | 'lamp'
  | 'diode'
  | 'capacitor'
  | 'fuse'
  | 'motor'
  | 'coil'
  | 'relay-coil'
  | 'button'
  | 'way'
  | 'supply'
  | 'battery'
  | 'ac';

/** A part of two ends; of a lamp and a diode `a` is the anode, of a supply and a capacitor the plus. */
export interface PairPart {
  readonly shape: 'pair';
  readonly kind: PairKind;
  readonly id: string;
  /** Said beside its id: a value, the points that it moves. */
  readonly note: string;
  readonly a: Terminal;
  readonly b: Terminal;
  /** Of a way: which half is the panel's. */
  readonly panelHalf?: 'plug' | 'socket';
}

/** A changeover contact; null where nothing is soldered to that throw. */
export interface ContactPart {
  readonly shape: 'contact';
  readonly id: string;
  readonly common: Terminal;
  readonly normal: Terminal | null;
  readonly reverse: Terminal | null;
}

/** A driver board: a box with its tags, drawn by what comes to them. */
export interface BoardPart {
  readonly shape: 'board';
  readonly id: string;
  readonly note: string;
  readonly tags: readonly { readonly terminal: Terminal; readonly name: string }[];
}

export type Part = PairPart | ContactPart | BoardPart;

export interface CircuitParts {
  readonly parts: readonly Part[];
  readonly nets: Nets;
  /** Names of the nets that come from supplies: they are drawn as marks, not as lines. In the order plus, middle, minus, return. */
  readonly rails: ReadonlyMap<string, string>;
  /** A wire that ends at no drawn part, said at its mark: the one to a return's ways under the layout. */
  readonly atMark: ReadonlyMap<Terminal, CutWire>;
}

/** The layout's side of a pin. */
export const under = (pin: Terminal): Terminal => `${pin}~`;

/** Ends of a part, in order. */
export function endsOf(part: Part): readonly Terminal[] {
  switch (part.shape) {
    case 'pair':
      return [part.a, part.b];
    case 'contact':
      return [
        part.common,
        ...(part.normal === null ? [] : [part.normal]),
        ...(part.reverse === null ? [] : [part.reverse]),
      ];
    case 'board':
      return part.tags.map((tag) => tag.terminal);
  }
}

/** Every part of a circuit with its supplies, in the order supply, feed, drives, lamps, and the nets between them. */
export function partsOf(derived: Drawable, circuit: Circuit): CircuitParts {
  const { wiring, loom } = derived;
  const own = new Set(circuit.wires);
  const pinIds = new Map(
    wiring.connectors.flatMap((connector) => connector.pins.map((pin) => [pin.id, connector.panelHalf] as const)),
  );
  const wires = loom.wires
    .filter((wire) => own.has(wire.id))
    .map((wire) => {
      const end = (terminal: Terminal): Terminal =>
        wire.side === 'layout' && pinIds.has(terminal) ? under(terminal) : terminal;
      return { ...wire, from: end(wire.from), to: end(wire.to) };
    });
  const ends = new Set(wires.flatMap((wire) => [wire.from, wire.to]));
  const pair = (kind: PairKind, id: string, note: string, a: Terminal, b: Terminal): PairPart => ({
    shape: 'pair',
    kind,
    id,
    note,
    a,
    b,
  });

  const feeding = wiring.supplies.filter(
    (supply) =>
      circuit.supplies.includes(supply.id) ||
      wiring.supplies.some((other) => other.from === supply.id && circuit.supplies.includes(other.id)),
  );
  const inSupply = new Set(feeding.map((supply) => supply.id));
  const parts: Part[] = [];
  for (const supply of feeding) {
    if (supply.kind !== 'cdu')
      parts.push(
        pair(
          supply.kind === 'ac' ? 'ac' : supply.kind === 'battery' ? 'battery' : 'supply',
          supply.id,
          `${sizeText(supply.volts)} V`,
          `${supply.id}.p`,
          `${supply.id}.m`,
        ),
      );
    if (supply.fuse !== null)
      parts.push(
        pair('fuse', supply.fuse.id, `${sizeText(supply.fuse.amps)} A`, `${supply.fuse.id}.1`, `${supply.fuse.id}.2`),
      );
  }
  const here = (of: string): boolean => of === circuit.id || inSupply.has(of);
  const resistors = wiring.resistors.filter((each) => here(each.circuit));
  for (const each of resistors.filter((one) => inSupply.has(one.circuit)))
    parts.push(pair('resistor', each.id, formatOhms(each.ohms), each.a, each.b));
  const diodes = wiring.diodes.filter((one) => here(one.circuit));
  const capacitors = wiring.capacitors.filter((one) => here(one.circuit));
  const store = (ofSupply: boolean): void => {
    for (const each of capacitors.filter((one) => inSupply.has(one.circuit) === ofSupply))
      parts.push(pair('capacitor', each.id, faradText(each.farads), each.plus, each.minus));
    for (const each of diodes.filter((one) => inSupply.has(one.circuit) === ofSupply))
      parts.push(pair('diode', each.id, '', each.anode, each.cathode));
  };
  store(true);
  const poles = wiring.switches
    .filter((each) => each.id === circuit.id || each.twinOf === circuit.id)
    .flatMap((each) => each.poles.filter((pole) => pole.use === 'feed'));
  for (const pole of poles) {
    const used = (tag: Terminal): Terminal | null => (ends.has(tag) ? tag : null);
    parts.push({
      shape: 'contact',
      id: pole.id,
      common: pole.common,
      normal: used(pole.normal),
      reverse: used(pole.reverse),
    });
  }
  for (const button of wiring.buttons.filter((each) => each.circuit === circuit.id))
    for (const pole of button.poles) parts.push(pair('button', pole.id, `${pole.point} ${pole.lie}`, pole.a, pole.b));
  store(false);
  for (const [pin, panelHalf] of pinIds)
    if (ends.has(pin) || ends.has(under(pin))) parts.push({ ...pair('way', pin, '', pin, under(pin)), panelHalf });
  for (const drive of wiring.drives) {
    if (drive.circuit !== circuit.id || drive.feed === null) continue;
    const points = drive.points.filter((point) => point !== drive.id).join(' ');
    if (drive.com !== null && hasCoils(drive.part)) {
      parts.push(pair('coil', `${drive.id}.n`, `${drive.points.join(' ')} normal`, drive.a, drive.com));
      parts.push(pair('coil', `${drive.id}.r`, `${drive.points.join(' ')} reverse`, drive.b, drive.com));
    } else if (drive.com !== null)
      parts.push({
        shape: 'board',
        id: drive.id,
        note: points === '' ? 'driver board' : `driver board, ${points}`,
        tags: [
          { terminal: drive.com, name: 'volts' },
          { terminal: drive.a, name: 'input' },
          { terminal: drive.b, name: 'common' },
        ],
      });
    else parts.push(pair('motor', drive.id, points, drive.a, drive.b));
  }
  for (const relay of wiring.relays.filter((each) => each.circuit === circuit.id))
    for (const [i, coil] of relay.coils.entries())
      parts.push(
        pair('relay-coil', coil.id, relay.part.latching ? (i === 0 ? 'set' : 'reset') : 'coil', coil.a, coil.b),
      );
  const contacts = wiring.contacts.filter((each) => each.circuit === circuit.id);
  for (const each of contacts)
    parts.push({ shape: 'contact', id: each.id, common: each.common, normal: each.normal, reverse: each.reverse });
  const lamps = wiring.lamps.filter((each) => each.circuit === circuit.id);
  for (const group of circuit.groups) {
    for (const each of resistors.filter((one) => one.group === group && one.circuit === circuit.id))
      parts.push(pair('resistor', each.id, formatOhms(each.ohms), each.a, each.b));
    for (const each of lamps.filter((one) => one.group === group)) {
      parts.push(pair('lamp', each.id, '', each.anode, each.cathode));
      if (each.guard !== null) parts.push(pair('diode', each.guard.id, '', `${each.guard.id}.a`, `${each.guard.id}.k`));
    }
  }

  const fuseEnds = feeding.flatMap(({ fuse }) => (fuse === null ? [] : [`${fuse.id}.2`, `${fuse.id}.1`]));
  const nets = readNets(wires, [
    ...feeding.flatMap(({ id }) => [`${id}.p`, `${id}.m`]),
    ...fuseEnds,
    ...wiring.capacitors.filter((each) => inSupply.has(each.circuit)).flatMap((each) => [each.plus, each.minus]),
    ...[...pinIds.keys()].map(under),
    ...poles.map((pole) => pole.common),
    ...contacts.flatMap((each) => [each.common, each.normal ?? '', each.reverse ?? '']),
    ...resistors.flatMap((each) => [each.b, each.a]),
  ]);

  const named: [string, string][] = [];
  for (const supply of feeding) {
    const { id, fuse } = supply;
    const rectified = wiring.diodes.filter((each) => each.circuit === id && each.what === 'rectifier');
    if (supply.kind === 'ac' && rectified.length > 0) {
      for (const diode of rectified) {
        const isPlus = diode.id.endsWith('p');
        named.push([nets.of(isPlus ? diode.cathode : diode.anode), `${id} ${isPlus ? '+' : '−'}`]);
      }
      named.push([nets.of(`${id}.m`), '0 V']);
      continue;
    }
    // A fuse stands behind the plus; of the second supply of a split feed behind the minus.
    const [one, two] = fuse === null ? [null, null] : [nets.of(`${fuse.id}.1`), nets.of(`${fuse.id}.2`)];
    for (const [end, sign] of [
      [`${id}.p`, '+'],
      [`${id}.m`, '−'],
    ] as const) {
      const net = nets.of(end);
      named.push([net === one && two !== null ? two : net, `${id} ${sign}`]);
    }
  }
  const rails = new Map<string, string>();
  for (const [net, name] of named) {
    const before = rails.get(net);
    const plus = name.endsWith('+');
    // The middle of a split feed: the minus of one supply is the plus of the other.
    rails.set(net, before === undefined ? name : before.endsWith('+') !== plus ? '0 V' : before);
  }
  const atMark = new Map<Terminal, CutWire>();
  for (const back of wiring.returns)
    for (const terminal of back.terminals) {
      if (!ends.has(terminal)) continue;
      const net = nets.of(terminal);
      if (!rails.has(net)) rails.set(net, back.id);
      const bringer = nets.bringer(terminal);
      if (bringer !== null) atMark.set(bringer.from === terminal ? bringer.to : bringer.from, bringer);
    }
  // What goes out to a switch on another panel, and what that brings to ours, is read on as what comes from a supply is.
  if (wiring.switches.some(({ twinOf, part }) => twinOf === circuit.id && !part.sprung))
    for (const tag of [...poles.map(({ normal }) => normal), ...poles.map(({ reverse }) => reverse)]) {
      const dot = tag.lastIndexOf('.');
      if (ends.has(tag) && !rails.has(nets.of(tag)) && !isBack(tag))
        rails.set(nets.of(tag), `${tag.slice(0, dot)} ${tag.slice(dot + 1)}`);
    }
  /** Does a tag of the switch over there lead straight back to ours? Then it has our name. */
  function isBack(tag: Terminal): boolean {
    return wiring.connectors.some(({ pins }) =>
      pins.some((pin) => pin.to === tag && pin.net.startsWith(`${circuit.id}.t`)),
    );
  }
  const order = (name: string): number => (name.endsWith('+') ? 0 : name === '0 V' ? 1 : name.endsWith('−') ? 2 : 3);
  const sorted = [...rails].map(([net, name], i) => ({ net, name, i }));
  sorted.sort((x, y) => order(x.name) - order(y.name) || x.i - y.i);
  return { parts, nets, rails: new Map(sorted.map(({ net, name }) => [net, name])), atMark };
}
