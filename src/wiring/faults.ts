import { keptFor } from '../panel/index.ts';
import { type FaultKind, neighbours } from '../parts/index.ts';
import type { Ohm } from '../units/index.ts';
import { partsOf } from './circuit-parts.ts';
import { hasCoils } from './drives.ts';
import { layoutSide } from './layout-side.ts';
import { DRY_OHMS, HIGH_SUPPLY, LOW_SUPPLY, WRONG_VALUE } from './tolerances.ts';
import type {
  FaultEdit,
  Pin,
  Wire,
  WiredConnector,
  WiredDrive,
  WiredLamp,
  WiredResistor,
  WiredSupply,
  WiredSwitch,
  Wiring,
} from './types.ts';
import { behindCut, unitsOf, upstreamOf } from './upstream.ts';

/** One thing that is broken or made wrong. */
export interface Fault {
  readonly code: string;
  /** What is at fault and how: "wire-open", "pin-swapped", "pole-weld". */
  readonly kind: FaultKind;
  /** Levers whose network it alters, in the order of the wiring. */
  readonly circuits: readonly string[];
  readonly edits: readonly FaultEdit[];
  /** "wire W12 open". */
  readonly says: string;
  /** Where a drive is at fault: the points that it moves. */
  readonly points: readonly string[];
  /** True where it cuts a wire between two rails: what hangs behind it then runs from rail to rail through its neighbours. */
  readonly middle: boolean;
}

interface Faults {
  readonly list: readonly Fault[];
  readonly byCode: ReadonlyMap<string, Fault>;
}

const FAULTS = new WeakMap<Wiring, Faults>();

/** Every single fault that the wiring can have, each code once. */
export function faultsOf(wiring: Wiring): readonly Fault[] {
  return faultsIn(wiring).list;
}

function faultsIn(wiring: Wiring): Faults {
  const known = FAULTS.get(wiring);
  if (known !== undefined) return known;
  const byCode = listFaults(wiring);
  const faults = { list: [...byCode.values()], byCode };
  FAULTS.set(wiring, faults);
  return faults;
}

/** A value that someone fitted instead: `value:R-G1=1000`. */
const VALUE = /^value:([^=]+)=(\d+(?:\.\d+)?(?:e[+-]?\d+)?)$/i;
/** Pins the other way about: `short:A.8,A.7`. */
const PAIR = /^(short|swapped|mated):([^,=]+),([^,=]+)$/;

/**
 * The fault of a code: one of those that are listed; a resistor of any value; pins and connectors in either order; a drive by any of
 * its points. Null where the panel has nothing that could fail so.
 */
export function faultByCode(wiring: Wiring, code: string): Fault | null {
  const { byCode } = faultsIn(wiring);
  const listed = byCode.get(code);
  if (listed !== undefined) return listed;
  const [, part, figure] = VALUE.exec(code) ?? [];
  const resistor = wiring.resistors.find(({ id }) => id === part);
  if (resistor !== undefined && Number(figure) > 0) return wrongValue(resistor, Number(figure), code);
  const [, what, first, second] = PAIR.exec(code) ?? [];
  if (what !== undefined) return byCode.get(`${what}:${second},${first}`) ?? null;
  const [kind = '', rest = ''] = code.split(/:(.*)/s);
  const [point, lie] = rest.split('=');
  const drive = wiring.drives.find((each) => each.points.includes(point ?? ''));
  const firstPoint = drive?.points[0];
  if (firstPoint === undefined || firstPoint === point) return null;
  return byCode.get(`${kind}:${firstPoint}${lie === undefined ? '' : `=${lie}`}`) ?? null;
}

function listFaults(wiring: Wiring): ReadonlyMap<string, Fault> {
  const faults = new Map<string, Fault>();
  const addAll = (list: readonly Fault[]) => {
    for (const fault of list) if (!faults.has(fault.code)) faults.set(fault.code, fault);
  };
  const pending: Fault[] = [];
  const add = (
    kind: FaultKind,
    code: string,
    circuits: readonly string[],
    says: string,
    edits: readonly FaultEdit[],
    points: readonly string[] = [],
    middle = false,
  ) => pending.push({ code, kind, circuits, edits, says, points, middle });
  /** Lists those of one part: the very same as long as they are as they were. */
  const addOf = (part: object) => addAll(asBefore(part, pending.splice(0)));
  const order = wiring.circuits.map(({ id }) => id);
  const middles = new Set(
    wiring.circuits.flatMap(({ feed, supply }) => (feed === 'split' || feed === 'half-wave' ? [`${supply}.m`] : [])),
  );
  const { circuits: parts } = partsOf(wiring);
  const alone = new Map(order.map((id) => [id, [id] as const]));
  const live = (circuit: string | null): readonly string[] => (circuit === null ? NONE : (alone.get(circuit) ?? NONE));

  const lit = new Map(wiring.contacts.map(({ id, circuit }) => [id, circuit]));
  /** The circuit of a pole in use: its lever's for the feed, that of the lamps that it lights. */
  const circuitOfPole = ({ id, use }: WiredSwitch['poles'][number]): readonly string[] => {
    if (use === 'spare') return [];
    const [lever = ''] = id.split('.');
    if (use === 'lamps') return live(lit.get(id) ?? null);
    return parts.get(lever)?.circuit.feed === null ? [] : live(lever);
  };

  /** Circuits of a part that belongs to a circuit or to a supply. */
  const circuitsOn = (owner: string): readonly string[] =>
    alone.get(owner) ?? wiring.supplies.find(({ id }) => id === owner)?.circuits ?? NONE;
  /** Circuits in which a carrier's contacts stand, and another. */
  const circuitsOnCarrier = (carrier: string, other: string | null): readonly string[] =>
    wiring.circuits.flatMap(({ id, follows }) => (id === other || follows.includes(carrier) ? [id] : []));
  const following = new Map<string, readonly string[]>();
  for (const { id, follows } of wiring.circuits)
    for (const carrier of follows) following.set(carrier, [...(following.get(carrier) ?? []), id]);
  const circuitsOfDrive = ({ id, circuit, points }: WiredDrive): readonly string[] => {
    const follow = [id, ...points.map((point) => `${point}.b`)].flatMap((carrier) => following.get(carrier) ?? NONE);
    if (follow.length === 0) return live(circuit);
    const all = new Set([...live(circuit), ...follow]);
    return order.filter((each) => all.has(each));
  };
  const supplies = new Map(wiring.supplies.map((supply) => [supply.id, supply]));
  const chargesOrRectifies = wiring.supplies.some(({ kind }) => kind === 'ac' || kind === 'cdu');

  for (const wire of wiring.wires) {
    const supply = supplies.get(wire.circuit);
    const behind = supply === undefined ? live(wire.circuit) : circuitsFrom(supply.circuits, wire.feeds);
    const middle = supply !== undefined && middles.has(wire.net);
    addAll(wireFaults(wire, behind, middle, chargesOrRectifies ? behindCut(wiring, wire.id) : NO_EDITS));
  }
  for (const connector of wiring.connectors) addAll(pinFaults(connector, order, wiring.returns));
  for (const [i, connector] of wiring.connectors.entries())
    addAll(shellFaults(connector, wiring.connectors.slice(i + 1), order, wiring.returns));
  for (const each of wiring.switches) addAll(switchFaults(each, each.poles.map(circuitOfPole)));
  for (const lamp of wiring.lamps) addAll(lampFaults(lamp, live(lamp.circuit)));
  for (const { guard, circuit } of wiring.lamps) if (guard !== null) addAll(guardFaults(guard, live(circuit)));
  for (const diode of wiring.diodes) {
    const { id, circuit } = diode;
    const on = circuitsOn(circuit);
    const edits = (edit: FaultEdit, how: 'open' | 'short' | 'backwards') => [edit, ...upstreamOf(wiring, id, how)];
    add('diode-open', `open:${id}`, on, `diode ${id} open`, edits({ do: 'cut', element: id }, 'open'));
    add('diode-short', `short:${id}`, on, `diode ${id} shorted`, edits({ do: 'short', element: id }, 'short'));
    add(
      'diode-backwards',
      `backwards:${id}`,
      on,
      `diode ${id} backwards`,
      edits({ do: 'turn', element: id }, 'backwards'),
    );
    addOf(diode);
  }
  for (const resistor of wiring.resistors)
    if (resistor.ohms > 0)
      addAll(resistorFaults(resistor, circuitsOn(resistor.circuit), upstreamOf(wiring, resistor.id, 'open')));
  for (const capacitor of wiring.capacitors) {
    const { id, circuit, farads } = capacitor;
    const on = circuitsOn(circuit);
    const edits = (edit: FaultEdit, how: 'open' | 'short') => [edit, ...upstreamOf(wiring, id, how)];
    add('capacitor-open', `open:${id}`, on, `capacitor ${id} open`, edits({ do: 'cut', element: id }, 'open'));
    add('capacitor-short', `short:${id}`, on, `capacitor ${id} shorted`, edits({ do: 'short', element: id }, 'short'));
    for (const wrong of [plain(farads * WRONG_VALUE), plain(farads / WRONG_VALUE)])
      add('capacitor-value', `value:${id}=${wrong}`, on, `capacitor ${id} is ${wrong} F`, []);
    addOf(capacitor);
  }
  for (const drive of wiring.drives) addAll(driveFaults(drive, circuitsOfDrive(drive)));
  for (const contact of wiring.contacts) {
    const { id, circuit, carrier } = contact;
    if (carrier.kind === 'lever') continue;
    const [normal, reverse] = [`${id}=normal`, `${id}=reverse`];
    const cut = (element: string): FaultEdit => ({ do: 'cut', element });
    const [first, second] = carrier.kind === 'relay' ? ['reset', 'set'] : ['normal', 'reverse'];
    add('contact-open', `open:${id}`, live(circuit), `contact ${id} makes none`, [cut(normal), cut(reverse)]);
    for (const [stays, other, word] of [
      [normal, reverse, first],
      [reverse, normal, second],
    ] as const) {
      const edits: readonly FaultEdit[] = [{ do: 'close', element: stays }, cut(other)];
      add('contact-weld', `weld:${id}=${word}`, live(circuit), `contact ${id} welded to ${word}`, edits);
    }
    addOf(contact);
  }
  for (const relay of wiring.relays) {
    const { id, circuit, point, coils } = relay;
    const on = circuitsOnCarrier(id, circuit);
    const cuts = coils.map((coil): FaultEdit => ({ do: 'cut', element: coil.id }));
    add('relay-open', `open:${id}`, on, `coil of relay ${id} open`, cuts, [point]);
    for (const [lie, word] of [
      ['normal', 'reset'],
      ['reverse', 'set'],
    ] as const)
      add(
        'relay-stuck',
        `stuck:${id}=${word}`,
        on,
        `relay ${id} stuck ${word}`,
        [{ do: 'keep', carrier: id, at: lie }],
        [point],
      );
    addOf(relay);
  }
  for (const button of wiring.buttons) {
    const { circuit, poles } = button;
    for (const { id } of poles) {
      const element = `${id}=closed`;
      add('pole-open', `open:${id}`, live(circuit), `button ${id} makes no contact`, [{ do: 'cut', element }]);
      add('pole-weld', `weld:${element}`, live(circuit), `button ${id} welded shut`, [{ do: 'close', element }]);
    }
    addOf(button);
  }
  for (const supply of wiring.supplies) {
    const { id, circuits } = supply;
    // A half-wave feed is two rails of one supply.
    const sources = supply.kind === 'ac' ? [id, `${id}-`] : [id];
    // What charges a unit at rest is its resistor; a unit that it charges has as many volts as it.
    const units = unitsOf(wiring, id).map((unit) => unit.id);
    const all = (edit: (element: string) => FaultEdit) => [...units, ...sources].map(edit);
    const rest = supply.kind === 'cdu' ? [`R-${id}`] : [];
    add(
      'supply-off',
      `off:${id}`,
      circuits,
      `supply ${id} off`,
      [...units, ...rest, ...sources].map((element): FaultEdit => ({ do: 'cut', element })),
    );
    for (const [kind, code, times] of [
      ['supply-low', 'low', LOW_SUPPLY],
      ['supply-high', 'high', HIGH_SUPPLY],
    ] as const)
      add(
        kind,
        `${code}:${id}`,
        circuits,
        `supply ${id} ${code}`,
        all((element) => ({ do: 'volts', element, times })),
      );
    addOf(circuits);
  }
  for (const { fuse, circuits } of wiring.supplies)
    if (fuse !== null) {
      add('fuse-open', `open:${fuse.id}`, circuits, `fuse ${fuse.id} blown`, [
        { do: 'cut', element: fuse.id },
        ...upstreamOf(wiring, fuse.id, 'open'),
      ]);
      addOf(fuse);
    }
  for (const back of wiring.returns) {
    const { id, circuits, pins } = back;
    add(
      'common-open',
      `open:${id}`,
      circuits,
      `return ${id} open`,
      pins.map((element) => ({ do: 'cut', element })),
      [],
      true,
    );
    addOf(back);
  }
  return faults;
}

type Listed = readonly [
  kind: FaultKind,
  code: string,
  circuits: readonly string[],
  says: string,
  edits: readonly FaultEdit[],
  points?: readonly string[],
];

const NONE: readonly string[] = [];
const NO_EDITS: readonly FaultEdit[] = [];

/** Faults as they are listed: those that no wire between two rails concerns. */
function told(list: readonly Listed[]): readonly Fault[] {
  return list.map(([kind, code, circuits, says, edits, points = []]) => ({
    code,
    kind,
    circuits,
    edits,
    says,
    points,
    middle: false,
  }));
}

/** The list of a part as it was before, where it says the same. */
const asBefore = keptFor((_part: object, list: readonly Fault[]) => list);

const TAILS = keptFor((_circuits: readonly string[]) => new Map<string, readonly string[]>());

/** Circuits that a wire of a supply's chain feeds: those from the one that it reaches, all where it reaches none; the very same list each time. */
function circuitsFrom(circuits: readonly string[], feeds: string | null): readonly string[] {
  const first = feeds === null ? -1 : circuits.indexOf(feeds);
  if (feeds === null || first < 1) return circuits;
  const tails = TAILS(circuits);
  const known = tails.get(feeds) ?? circuits.slice(first);
  tails.set(feeds, known);
  return known;
}

const wireFaults = keptFor(
  ({ id, ohms }: Wire, behind: readonly string[], middle: boolean, besides: readonly FaultEdit[]): readonly Fault[] => {
    const cut: readonly FaultEdit[] = [{ do: 'cut', element: id }, ...besides];
    const dry: readonly FaultEdit[] = [{ do: 'ohms', element: id, ohms: ohms + DRY_OHMS }];
    const [open] = told([['wire-open', `open:${id}`, behind, `wire ${id} open`, cut]]);
    return [
      ...(open === undefined ? [] : [{ ...open, middle }]),
      ...told([['wire-dry', `dry:${id}`, behind, `a dry joint on wire ${id}`, dry]]),
    ];
  },
);

const switchFaults = keptFor(
  ({ id, poles }: WiredSwitch, circuitsOf: readonly (readonly string[])[]): readonly Fault[] => {
    const found: Listed[] = [];
    const cut = (element: string): FaultEdit => ({ do: 'cut', element });
    for (const [i, pole] of poles.entries()) {
      const at = circuitsOf[i] ?? NONE;
      if (at.length === 0) continue;
      const [normal, reverse] = [`${pole.id}=normal`, `${pole.id}=reverse`];
      found.push(['pole-open', `open:${pole.id}`, at, `pole ${pole.id} makes no contact`, [cut(normal), cut(reverse)]]);
      for (const [stays, other] of [
        [normal, reverse],
        [reverse, normal],
      ] as const) {
        const edits: readonly FaultEdit[] = [{ do: 'close', element: stays }, cut(other)];
        found.push(['pole-weld', `weld:${stays}`, at, `pole ${pole.id} welded to ${stays.split('=')[1]}`, edits]);
      }
      const bridge: FaultEdit = { do: 'join', element: `bridge-${pole.id}`, a: pole.normal, b: pole.reverse };
      found.push(['pole-bridge', `bridge:${pole.id}`, at, `the outer tags of pole ${pole.id} bridged`, [bridge]]);
    }
    const used = poles.filter((_, i) => (circuitsOf[i] ?? NONE).length > 0);
    if (used.length === 0) return [];
    found.push([
      'switch-upside',
      `upside:${id}`,
      [...new Set(circuitsOf.flat())],
      `switch ${id} upside down`,
      used.map((pole) => ({ do: 'exchange', element: `${pole.id}=normal`, other: `${pole.id}=reverse` })),
    ]);
    return told(found);
  },
);

function twoLeads(what: 'lamp' | 'diode', id: string, on: readonly string[]): readonly Fault[] {
  return told([
    [`${what}-open`, `open:${id}`, on, `${what} ${id} open`, [{ do: 'cut', element: id }]],
    [`${what}-short`, `short:${id}`, on, `${what} ${id} shorted`, [{ do: 'short', element: id }]],
    [`${what}-backwards`, `backwards:${id}`, on, `${what} ${id} backwards`, [{ do: 'turn', element: id }]],
  ]);
}

const lampFaults = keptFor(({ id }: WiredLamp, on: readonly string[]) => twoLeads('lamp', id, on));
const guardFaults = keptFor(({ id }: NonNullable<WiredLamp['guard']>, on: readonly string[]) =>
  twoLeads('diode', id, on),
);

const resistorFaults = keptFor(
  (resistor: WiredResistor, on: readonly string[], besides: readonly FaultEdit[]): readonly Fault[] => {
    const { id, ohms } = resistor;
    const values = [plain(ohms * WRONG_VALUE), plain(ohms / WRONG_VALUE)].map((wrong) => ({
      ...wrongValue(resistor, wrong, `value:${id}=${wrong}`),
      circuits: on,
    }));
    return [
      ...told([
        ['resistor-open', `open:${id}`, on, `resistor ${id} open`, [{ do: 'cut', element: id }, ...besides]],
        ['resistor-short', `short:${id}`, on, `resistor ${id} shorted`, [{ do: 'short', element: id }]],
      ]),
      ...values,
    ];
  },
);

/** What can go wrong at the ways that carry something: with a neighbour, used or not, and with the lowest higher free way. */
const pinFaults = keptFor(listPinFaults);

function listPinFaults(
  { id, part, pins }: WiredConnector,
  order: readonly string[],
  returns: Wiring['returns'],
): readonly Fault[] {
  const byNumber = new Map(pins.map((pin) => [pin.number, pin]));
  const faults: Listed[] = [];
  const pairs = new Map<string, readonly [number, number]>();
  for (const { number } of pins)
    for (const other of neighbours(part, number)) {
      const [low, high] = number < other ? [number, other] : [other, number];
      pairs.set(`${low},${high}`, [low, high]);
    }
  const rising = [...pairs.values()].sort(([a, b], [c, d]) => a - c || b - d);
  const circuitsOf = (ways: readonly number[]) =>
    circuitsNamed(
      ways.flatMap((way) => byNumber.get(way) ?? []),
      order,
      returns,
    );
  for (const pair of rising) {
    const [a, b] = pair.map((way) => `${id}.${way}`) as [string, string];
    const edits: readonly FaultEdit[] = [{ do: 'join', element: `short-${a}-${b}`, a, b }];
    faults.push(['pin-short', `short:${a},${b}`, circuitsOf(pair), `pins ${a} and ${b} shorted`, edits]);
  }
  for (const pair of rising) {
    const [a, b] = pair.map((way) => `${id}.${way}`) as [string, string];
    faults.push([
      'pin-swapped',
      `swapped:${a},${b}`,
      circuitsOf(pair),
      `pins ${a} and ${b} swapped`,
      [
        { do: 'move', element: a, b: layoutSide(b) },
        { do: 'move', element: b, b: layoutSide(a) },
      ],
    ]);
  }
  for (const { number, id: pin } of pins) {
    const free = Array.from({ length: part.ways - number }, (_, i) => number + 1 + i).find((way) => !byNumber.has(way));
    if (free === undefined) continue;
    const edits: readonly FaultEdit[] = [{ do: 'move', element: pin, b: layoutSide(`${id}.${free}`) }];
    faults.push([
      'pin-moved',
      `moved:${pin},${id}.${free}`,
      circuitsOf([number]),
      `the wire of ${pin} on ${id}.${free}`,
      edits,
    ]);
  }
  return told(faults);
}

/** Circuits of some pins, in the order of the wiring; those of a return are all that share it. */
function circuitsNamed(pins: readonly Pin[], order: readonly string[], returns: Wiring['returns']): readonly string[] {
  const named = new Set(
    pins.flatMap(({ id, circuit }) => returns.find((each) => each.pins.includes(id))?.circuits ?? [circuit]),
  );
  return [...named]
    .map((id) => ({ id, place: order.indexOf(id) }))
    .filter(({ place }) => place >= 0)
    .sort((a, b) => a.place - b.place)
    .map(({ id }) => id);
}

/** A connector apart, and mated with each like one that comes after it. */
const shellFaults = keptFor(listShellFaults);

function listShellFaults(
  connector: WiredConnector,
  after: readonly WiredConnector[],
  order: readonly string[],
  returns: Wiring['returns'],
): readonly Fault[] {
  const { id, part, panelHalf, pins } = connector;
  const circuitsOf = (of: readonly WiredConnector[]) =>
    circuitsNamed(
      of.flatMap((each) => each.pins),
      order,
      returns,
    );
  const apart = pins.map((pin): FaultEdit => ({ do: 'cut', element: pin.id }));
  const faults: Listed[] = [['shell-apart', `apart:${id}`, circuitsOf([connector]), `connector ${id} apart`, apart]];
  for (const other of after) {
    if (other.part.id !== part.id || other.panelHalf !== panelHalf) continue;
    const crossed = (from: WiredConnector, to: WiredConnector) =>
      from.pins.map((pin): FaultEdit => ({ do: 'move', element: pin.id, b: layoutSide(`${to.id}.${pin.number}`) }));
    faults.push([
      'shell-mated',
      `mated:${id},${other.id}`,
      circuitsOf([connector, other]),
      `connectors ${id} and ${other.id} mated crosswise`,
      [...crossed(connector, other), ...crossed(other, connector)],
    ]);
  }
  return told(faults);
}

const driveFaults = keptFor(listDriveFaults);

function listDriveFaults(drive: WiredDrive, circuits: readonly string[]): readonly Fault[] {
  const { id, points, part } = drive;
  const point = points[0] ?? id;
  const named = `drive of ${points.join(' and ')}`;
  const coils = hasCoils(part);
  const moved = part.what !== 'hand';
  const open = (code: string, element: string, says: string): readonly Listed[] => [
    ['drive-open', `open:${code}`, circuits, `${says} open`, [{ do: 'cut', element }], points],
    ['drive-short', `short:${code}`, circuits, `${says} shorted`, [{ do: 'short', element }], points],
  ];
  return told([
    ...(coils
      ? (['n', 'r'] as const).flatMap((coil) =>
          open(`${point}.${coil}`, `${id}.${coil}`, `coil ${coil.toUpperCase()} of the ${named}`),
        )
      : moved
        ? open(point, id, named)
        : []),
    // The tags change places and the motor cannot tell: what the meter reads stays, the lie is the other.
    ...(moved
      ? [['drive-crossed', `crossed:${point}`, circuits, `${named} runs the wrong way`, [], points] as const]
      : []),
    ...(['normal', 'reverse'] as const).map(
      (lie): Listed => [
        'drive-stuck',
        `stuck:${point}=${lie}`,
        circuits,
        `${named} stuck ${lie}`,
        [{ do: 'hold', drive: id, at: lie }],
        points,
      ],
    ),
    ...points.map(
      (each): Listed => ['drive-linkage', `linkage:${each}`, circuits, `linkage of ${each} off`, [], [each]],
    ),
  ]);
}

function wrongValue(resistor: Wiring['resistors'][number], ohms: Ohm, code: string): Fault {
  const edits: readonly FaultEdit[] = [{ do: 'ohms', element: resistor.id, ohms }];
  return {
    code,
    kind: 'resistor-value',
    circuits: [resistor.circuit],
    edits,
    says: `resistor ${resistor.id} is ${ohms} ohm`,
    points: [],
    middle: false,
  };
}

/** Ten times 0.47 is 4.7: twelve digits, so that codes read as people write them. */
function plain(ohms: Ohm): Ohm {
  return Number(ohms.toPrecision(12));
}

/** The supply that a fault cuts off whole, so that its terminals read nothing. */
export function isOff(faults: readonly Fault[], supply: Pick<WiredSupply, 'id'>): boolean {
  return faults.some((fault) => fault.edits.some((edit) => edit.do === 'cut' && edit.element === supply.id));
}

/** Do these lists of levers share one? */
export function touches(some: readonly string[], others: readonly string[]): boolean {
  return some.some((lever) => others.includes(lever));
}

/** Does it make levers feel each other that did not? What is cut, or changes the volts of all alike, does not. */
export function couples({ circuits, edits, middle }: Fault): boolean {
  if (circuits.length < 2) return false;
  return middle || edits.some((edit) => ['join', 'move', 'ohms'].includes(edit.do));
}
