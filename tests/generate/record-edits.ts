/**
 * Small panels with every kind of feed, drive and light, and edits of their records as a hand makes them on the screen: one lever, lamp,
 * drive, group or supply at a time, now and then a strip, now and then back to an earlier state.
 */
import { drawPanel } from '../../src/derive-panel.ts';
import { type LightingRecord, type PanelFile, type SupplyRecord, takenIds } from '../../src/panel/index.ts';
import { EDIT_NAMES, editPanel } from './edits.ts';
import { generatePanel } from './panels.ts';
import { type Random, randomOf } from './random.ts';

type Kind = NonNullable<NonNullable<PanelFile['feed']>['kind']>;
type Edit = (panel: PanelFile, random: Random, history: readonly PanelFile[]) => PanelFile;

const FEEDS: readonly Kind[] = ['reversing', 'reversing', 'split', 'half-wave', 'pulse', 'charge', 'contact'];
const SCHEMES: readonly NonNullable<LightingRecord['scheme']>[] = [
  'across-feed',
  'across-feed',
  'in-series',
  'spare-pole',
  'drive-contact',
  'blade-contact',
  'latching-relay',
  'tree',
];
/** What each kind of feed can work, a misfit among them now and then. */
const DRIVES: Readonly<Record<Kind, readonly string[]>> = {
  reversing: ['stall-2-wire', 'stall-2-wire', 'limit-2-wire'],
  split: ['stall-2-wire', 'limit-2-wire'],
  'half-wave': ['stall-2-wire', 'limit-2-wire'],
  pulse: ['twin-coil', 'twin-coil-end-off', 'stall-2-wire'],
  charge: ['twin-coil', 'twin-coil-end-off'],
  contact: ['servo-board'],
};
const TWINS = ['two-way', 'latch'] as const;
const LAMP_PARTS = ['led-3-green', 'led-3-amber', 'led-3-red'] as const;

/** A panel of 3 to 8 points, mostly 3; its feed, its supplies, its drives and its lights are drawn from the seed. */
export function smallPanel(seed: number): PanelFile {
  const random = randomOf(seed);
  const panel = generatePanel(seed, seed % 16 === 0 ? random.whole(4, 8) : 3);
  const kind = FEEDS[seed % FEEDS.length] ?? 'reversing';
  const supplies: SupplyRecord[] = [
    { ...suppliesFor(kind), ...(random.chance(25) ? { ohms: random.whole(1, 30) } : {}) },
    { id: 'S2', volts: 12, amps: 1 },
    { id: 'S9', volts: 12, amps: 1 },
  ];
  const [first] = supplies;
  if (first !== undefined && random.chance(15)) supplies[0] = { ...first, limit: 'constant', amps: 0.05 };
  return {
    ...panel,
    supplies,
    feed: { kind, supplies: kind === 'split' ? ['S1', 'S2'] : ['S1'] },
    lighting: lightingFrom(random),
    points: (panel.points ?? []).map((point) => ({ ...point, drive: random.pick(DRIVES[kind]) })),
  };
}

function suppliesFor(kind: Kind): SupplyRecord {
  if (kind === 'half-wave') return { id: 'S1', kind: 'ac', volts: 9, amps: 1, farads: 0.0047 };
  if (kind === 'pulse' || kind === 'charge') return { id: 'S1', volts: 24, amps: 5 };
  return { id: 'S1', volts: kind === 'contact' ? 5 : 12, amps: 1 };
}

function lightingFrom(random: Random): LightingRecord {
  const scheme = random.pick(SCHEMES);
  return scheme === 'across-feed' || scheme === 'in-series' ? { scheme } : { scheme, supply: 'S9' };
}

/** Every kind of edit, by name. */
export const RECORD_EDITS = {
  name: (panel, random) =>
    changed(panel, 'levers', random, (lever) => ({ ...lever, name: `Road ${random.whole(1, 9)}` })),
  place: (panel, random) =>
    changed(panel, 'levers', random, (lever) => {
      const [x, y] = lever.at ?? [0, 0];
      return { ...lever, at: [x + random.whole(-9, 9), y + random.whole(-9, 9)] };
    }),
  switch: (panel, random) =>
    changed(panel, 'levers', random, (lever) => ({
      ...lever,
      switch: random.pick(['toggle-2p', 'toggle-3p', 'toggle-4p', 'toggle-2p-centre']),
    })),
  'feed of a lever': (panel, random) =>
    changed(panel, 'levers', random, (lever) => ({ ...lever, feed: { kind: random.pick(FEEDS) } })),
  'light of a lever': (panel, random) =>
    changed(panel, 'levers', random, (lever) => ({ ...lever, lighting: lightingFrom(random) })),
  'the other way': (panel, random) =>
    changed(panel, 'levers', random, (lever) => ({
      ...lever,
      works: (lever.works ?? []).map((each) => ({ ...each, opposite: each.opposite !== true })),
    })),
  current: (panel, random) =>
    changed(panel, 'lamps', random, (lamp) => ({ ...lamp, current: random.whole(5, 60) / 10_000 })),
  claim: (panel, random) => {
    const point = random.pick(panel.points ?? []);
    return changed(panel, 'lamps', random, (lamp) => ({
      ...lamp,
      shows: {
        ...(Array.isArray(lamp.shows) ? {} : lamp.shows),
        [point.id]: random.pick(['normal', 'reverse'] as const),
      },
    }));
  },
  'what a dark lamp says': (panel, random) =>
    changed(panel, 'lamps', random, (lamp) => ({ ...lamp, dark: random.pick(['nothing', 'opposite'] as const) })),
  'part of a lamp': (panel, random) =>
    changed(panel, 'lamps', random, (lamp) => ({ ...lamp, part: random.pick(LAMP_PARTS) })),
  'a lamp moved': (panel, random) =>
    changed(panel, 'lamps', random, (lamp) => ({ ...lamp, at: [lamp.at[0] + 1, lamp.at[1] - 1] })),
  'a lamp more': (panel, random) => {
    const lamp = random.pick(panel.lamps ?? []);
    return { ...panel, lamps: [...(panel.lamps ?? []), { ...lamp, id: freeId(panel, 'HX'), at: besides(lamp.at) }] };
  },
  'no lamp': (panel, random) => without(panel, 'lamps', random),
  'a lever more': (panel, random) => {
    const point = random.pick(panel.points ?? []);
    const levers = (panel.levers ?? []).map((lever) => ({
      ...lever,
      works: (lever.works ?? []).filter((each) => each.point !== point.id),
    }));
    return { ...panel, levers: [...levers, { id: freeId(panel, 'LX'), works: [{ point: point.id }] }] };
  },
  'no lever': (panel, random) => without(panel, 'levers', random),
  'no drive': (panel, random) => without(panel, 'drives', random),
  twin: (panel, random) =>
    changed(panel, 'levers', random, ({ twin: _, ...lever }) =>
      random.chance(30) ? lever : { ...lever, twin: { panel: 'Bay', lever: 'L1', by: random.pick(TWINS) } },
    ),
  amps: (panel, random) => {
    const at = random.whole(0, (panel.points ?? []).length - 1);
    const point = panel.points?.[at];
    if (point === undefined) return panel;
    const id = `DX${at + 1}`;
    const known = (panel.drives ?? []).find((drive) => drive.id === id);
    const part = known?.part ?? point.drive ?? 'stall-2-wire';
    const drive = { id, part, measured: { amps: random.whole(0, 300) / 10_000 } };
    return {
      ...panel,
      drives: [...(panel.drives ?? []).filter((each) => each.id !== id), drive],
      points: (panel.points ?? []).map((each, i) => (i === at ? { ...each, drive: id } : each)),
    };
  },
  'wire of a drive': (panel, random) =>
    changed(panel, 'drives', random, (drive) => ({ ...drive, wire: { length: random.whole(1, 9) * 1000 } })),
  ohms: (panel, random) => {
    const lamp = random.pick(panel.lamps ?? []);
    const group = (panel.lampGroups ?? []).find(({ lamps }) => lamps.includes(lamp.id));
    const ohms = random.whole(1, 30) * 100;
    const others = (panel.lampGroups ?? []).filter((each) => each !== group);
    const made = group ?? { id: `GX-${lamp.id}`, lamps: [lamp.id], arrange: 'own' as const };
    return { ...panel, lampGroups: [...others, { ...made, ohms }] };
  },
  'a wire': (panel, random) => {
    const { wires } = drawPanel(null, panel).wiring;
    if (wires.length === 0) return panel;
    const { from, to } = random.pick(wires);
    const record = { id: freeId(panel, 'WX'), from, to, colour: 'RD', length: random.whole(1, 9) * 100 };
    return { ...panel, wires: [...(panel.wires ?? []), record] };
  },
  built: (panel, random) => {
    if (panel.built !== undefined && random.chance(30)) {
      const { built: _, ...rest } = panel;
      return rest;
    }
    const { wiring, groups } = drawPanel(null, panel);
    const pins = wiring.connectors.flatMap((connector) => connector.pins).filter(() => random.chance(40));
    const wires = wiring.wires.filter(() => random.chance(40));
    const joined = groups.filter(() => random.chance(40));
    return {
      ...panel,
      built: {
        wires: Object.fromEntries(wires.map(({ id, from, to }) => [id, { from, to }])),
        pins: Object.fromEntries(pins.map(({ id, to }) => [id, to])),
        groups: Object.fromEntries(
          joined.map(({ id, normal, reverse, ohms }) => [
            id,
            { lamps: [...normal, ...reverse], ...(ohms > 0 ? { ohms } : {}) },
          ]),
        ),
      },
    };
  },
  'a supply more': (panel, random) => ({
    ...panel,
    supplies: [...(panel.supplies ?? []), { id: freeId(panel, 'SX'), volts: random.whole(5, 24), amps: 1 }],
  }),
  'no supply': (panel, random) => without(panel, 'supplies', random),
  volts: (panel, random) => changed(panel, 'supplies', random, (supply) => ({ ...supply, volts: random.whole(5, 24) })),
  'a weak supply': (panel, random) =>
    changed(panel, 'supplies', random, (supply) => ({ ...supply, ohms: random.pick([0, 0, 2, 20]) })),
  limit: (panel, random) =>
    changed(panel, 'supplies', random, (supply) => ({
      ...supply,
      limit: random.pick(['none', 'none', 'constant', 'fold'] as const),
      amps: random.pick([0.03, 1]),
    })),
  'feed of all': (panel, random) => {
    const kind = random.pick(FEEDS);
    return { ...panel, feed: { kind, supplies: kind === 'split' ? ['S1', 'S2'] : ['S1'] } };
  },
  'a strip': (panel, random, history) => editPanel(random.pick(EDIT_NAMES), panel, random, history),
  back: (panel, random, history) => (history.length === 0 ? panel : random.pick(history)),
} satisfies Record<string, Edit>;

export type RecordEditName = keyof typeof RECORD_EDITS;
export const RECORD_EDIT_NAMES = Object.keys(RECORD_EDITS) as readonly RecordEditName[];

/** The panel after one edit; as it was where the file has nothing to edit so. */
export function editRecord(
  name: RecordEditName,
  panel: PanelFile,
  random: Random,
  history: readonly PanelFile[],
): PanelFile {
  const needs = (panel.points ?? []).length > 0 && (panel.lamps ?? []).length > 0;
  return needs || name === 'back' ? RECORD_EDITS[name](panel, random, history) : panel;
}

/** The first id with this prefix that none of the file's records has. */
function freeId(panel: PanelFile, prefix: string): string {
  const taken = takenIds(panel);
  let n = 1;
  while (taken.has(`${prefix}${n}`.toLowerCase())) n++;
  return `${prefix}${n}`;
}

function besides([x, y]: readonly [number, number]): [number, number] {
  return [x + 4, y + 4];
}

type Lists = 'levers' | 'lamps' | 'drives' | 'supplies';
type Item<K extends Lists> = NonNullable<PanelFile[K]>[number];

function changed<K extends Lists>(
  panel: PanelFile,
  key: K,
  random: Random,
  change: (item: Item<K>) => Item<K>,
): PanelFile {
  const list: readonly Item<K>[] = panel[key] ?? [];
  if (list.length === 0) return panel;
  const at = random.whole(0, list.length - 1);
  return { ...panel, [key]: list.map((item, i) => (i === at ? change(item) : item)) };
}

function without(panel: PanelFile, key: Lists, random: Random): PanelFile {
  const list: readonly unknown[] = panel[key] ?? [];
  if (list.length < 2) return panel;
  const at = random.whole(0, list.length - 1);
  return { ...panel, [key]: list.filter((_, i) => i !== at) };
}
