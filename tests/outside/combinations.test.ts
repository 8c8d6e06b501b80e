/**
 * Every combination of drive, feed and lighting that is wired, in every setting and history, through ngspice: the text of the `spice`
 * command as it stands beside the product's own readings. Outside source: ngspice.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Combination, combine, DRIVES, FEEDS, type FeedKind, SCHEMES } from '../../src/cli/combine.ts';
import { type Derived, derive, readPanel } from '../../src/index.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { faultsOf } from '../../src/wiring/index.ts';
import { branchLine } from './panels-by-hand.ts';
import { seeded } from './rebuild/seeded.ts';
import { type Asked, compareAll, cycleOf, disagreements, type Pair, settingsOf, worstOf } from './setting-texts.ts';

/** Agreement at rest: a thousandth, or 1 uA. */
const SHARE = 1e-3;
const LEAST_AMPS = 1e-6;
/** Means over a cycle: the file format asks for a hundredth; two ways of stepping through a cycle agree closer. */
const CYCLE_SHARE = 2e-3;

/** Settings of one panel above which so many are drawn by lot. */
const SETTINGS_MOST = 40;

interface Case {
  readonly name: string;
  readonly derived: Derived;
}

const combined = (name: string, asked: Combination): Case => ({ name, derived: derive(combine(asked)) });

function check(cases: readonly Case[], seed: number): readonly Pair[] {
  const random = seeded(seed);
  const asked = cases.flatMap(({ name, derived }): readonly Asked[] =>
    random.some(settingsOf(name, derived), SETTINGS_MOST),
  );
  const pairs = compareAll(asked);
  const circuits = cases.reduce((sum, { derived }) => sum + derived.wiring.circuits.length, 0);
  console.log(`${cases.length} panels, ${circuits} circuits, ${asked.length} settings: ${worstOf(pairs)}`);
  return pairs;
}

const FEEDS_AT_REST = FEEDS.filter((feed) => feed !== 'half-wave');

function allOf(feeds: readonly FeedKind[]): readonly Case[] {
  return feeds.flatMap((feed) =>
    DRIVES.flatMap((drive) => SCHEMES.map((scheme) => combined(`${feed} ${drive} ${scheme}`, { drive, feed, scheme }))),
  );
}

/** What a combination must light for the check to say anything. */
function lit(pairs: readonly Pair[]): number {
  return pairs.filter(({ read }) => Math.abs(read) > 1e-3).length;
}

describe('every drive, feed and scheme', () => {
  test('in every setting and history', () => {
    const cases = allOf(FEEDS_AT_REST);
    const pairs = check(cases, 1);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(cases.length).toBe(6 * 7 * 7);
    expect(lit(pairs)).toBeGreaterThan(200);
  });

  test('of half-wave feeds, means of the last cycle', () => {
    const pairs = check(allOf(['half-wave']), 2);
    expect(disagreements(pairs, CYCLE_SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(40);
  });
});

const ARRANGED: readonly Pick<Combination, 'arrange' | 'guard'>[] = [
  { arrange: 'pair' },
  { arrange: 'own', guard: 'antiparallel' },
  { arrange: 'series' },
  { arrange: 'series', guard: 'antiparallel' },
  { arrange: 'parallel' },
];

/** Feeds with a drive that suits each, and schemes that a panel of it can wire. */
const SUITED: readonly { readonly feed: FeedKind; readonly drive: string }[] = [
  { feed: 'reversing', drive: 'stall-2-wire' },
  { feed: 'split', drive: 'limit-2-wire' },
  { feed: 'unit', drive: 'twin-coil-end-off' },
  { feed: 'charge', drive: 'twin-coil' },
  { feed: 'contact', drive: 'servo-board' },
];

/** One scheme for each place that can light a lamp. */
const PLACES = ['across-feed', 'in-series', 'spare-pole', 'drive-contact', 'latching-relay'] as const;

describe('arrangements, lamps and switches', () => {
  test('pairs, own, strings and side by side with 1, 2 and 4 lamps a leg', () => {
    const cases = SUITED.flatMap(({ feed, drive }) =>
      PLACES.flatMap((scheme) =>
        ARRANGED.flatMap((arranged) =>
          [1, 2, 4].flatMap((lamps) =>
            arranged.arrange === 'pair' && lamps > 1
              ? []
              : [
                  combined(`${feed} ${scheme} ${arranged.arrange} ${lamps}`, {
                    feed,
                    drive,
                    scheme,
                    ...arranged,
                    lamps,
                  }),
                ],
          ),
        ),
      ),
    );
    const pairs = check(cases, 3);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(300);
  });

  test('lamps of two colours with two and three leads', () => {
    const cases = ['led-5-red-green-2', 'led-5-red-green-3c'].flatMap((lamp) =>
      SUITED.flatMap(({ feed, drive }) =>
        SCHEMES.map((scheme) => combined(`${feed} ${scheme} ${lamp}`, { feed, drive, scheme, lamp })),
      ),
    );
    const pairs = check(cases, 4);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(30);
  });

  test('switches of one to four poles, with a middle, sprung, and push buttons', () => {
    const switches = ['toggle-1p', 'toggle-2p', 'toggle-3p', 'toggle-4p'].flatMap((id) => [
      id,
      `${id}-centre-off`,
      `${id}-centre-off-sprung`,
    ]);
    const cases = [...switches, 'buttons'].flatMap((each) =>
      SUITED.flatMap(({ feed, drive }) =>
        PLACES.map((scheme) => combined(`${feed} ${scheme} ${each}`, { feed, drive, scheme, switch: each })),
      ),
    );
    const pairs = check(cases, 5);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(300);
  });
});

describe('points worked from two panels', () => {
  test.each(['two-way', 'latch'] as const)('%s, in every setting of both levers', (twin) => {
    const cases = FEEDS_AT_REST.flatMap((feed) =>
      DRIVES.flatMap((drive) =>
        SCHEMES.map((scheme) => combined(`${twin} ${feed} ${drive} ${scheme}`, { drive, feed, scheme, twin })),
      ),
    );
    const pairs = check(cases, 9);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(200);
  });

  test('of half-wave feeds, means of the last cycle', () => {
    const cases = (['two-way', 'latch'] as const).flatMap((twin) =>
      (['stall-2-wire', 'limit-2-wire'] as const).flatMap((drive) =>
        (['across-feed', 'drive-contact'] as const).map((scheme) =>
          combined(`${twin} ${drive} ${scheme}`, { drive, feed: 'half-wave', scheme, twin }),
        ),
      ),
    );
    const pairs = check(cases, 10);
    expect(disagreements(pairs, CYCLE_SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(30);
  });

  test('with a middle, and with single faults of the cable and of either switch, by lot', () => {
    const random = seeded(11);
    const asked = (['two-way', 'latch'] as const).flatMap((twin) =>
      (['reversing', 'split', 'contact', 'unit'] as const).flatMap((feed) => {
        const drive = feed === 'contact' ? 'servo-board' : feed === 'unit' ? 'twin-coil' : 'stall-2-wire';
        const part = twin === 'two-way' && feed === 'reversing' ? { switch: 'toggle-2p-centre-off' } : {};
        const scheme = feed === 'reversing' || feed === 'split' ? 'across-feed' : 'blade-contact';
        const { name, derived } = combined(`${twin} ${feed}`, { drive, feed, scheme, twin, ...part });
        const faults = faultsOf(derived.wiring).filter(({ code }) => /^(open|dry|weld|upside|swapped)/.test(code));
        return random.some(
          settingsOf(name, derived).flatMap((each) => faults.map((fault) => ({ ...each, faults: [fault] }))),
          25,
        );
      }),
    );
    const pairs = compareAll(asked);
    console.log(`${asked.length} settings with a fault: ${worstOf(pairs)}`);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(50);
  });
});

const SPLIT: Partial<PanelFile> = {
  feed: { kind: 'split', supplies: ['S1', 'S2'] },
  supplies: [
    { id: 'S1', volts: 12, amps: 2 },
    { id: 'S2', volts: 12, amps: 2 },
    { id: 'S9', volts: 12, amps: 1 },
  ],
};
const REVERSING: Partial<PanelFile> = {
  feed: { kind: 'reversing', supplies: ['S1'] },
  supplies: [
    { id: 'S1', volts: 12, amps: 2 },
    { id: 'S9', volts: 12, amps: 1 },
  ],
};
const EVERY = (count: number, normal: boolean): Record<string, 'normal' | 'reverse'> =>
  Object.fromEntries(
    Array.from({ length: count }, (_, k) => [`P${k + 1}`, normal ? 'normal' : k === count - 1 ? 'reverse' : 'normal']),
  );

/** Lamps that show several points, so that contacts of several levers must light them. */
function treeOf(
  count: number,
  scheme: 'tree' | 'drive-contact' | 'blade-contact',
  rest: Partial<PanelFile>,
): PanelFile {
  const panel = branchLine(
    Array.from({ length: count }, () => ({ lamp: null })),
    rest,
  );
  const lamps = Array.from({ length: count + 1 }, (_, k) => ({
    id: `H${k + 1}`,
    at: [100 + 20 * k, 200] as [number, number],
    part: 'led-3-amber',
    // Road k + 1 is open when every point before it lies normal and its own reverse; the last with all of them normal.
    shows: k === count ? EVERY(count, true) : EVERY(k + 1, false),
  }));
  return { ...panel, lamps, lighting: { scheme, supply: 'S9' } };
}

const MIXED = branchLine(
  [
    { drive: 'stall-2-wire' },
    { drive: 'limit-2-wire', lever: { feed: { kind: 'split', supplies: ['S1', 'S2'] } } },
    { drive: 'twin-coil-end-off', lever: { feed: { kind: 'pulse', supplies: ['C1'] } } },
    { drive: 'twin-coil', lever: { feed: { kind: 'charge', supplies: ['S4'], farads: 0.0022 } } },
    { drive: 'servo-board', lever: { feed: { kind: 'contact', supplies: ['S5'] } } },
    { drive: 'hand', lever: null },
  ],
  {
    feed: { kind: 'reversing', supplies: ['S3'] },
    lighting: { scheme: 'blade-contact', supply: 'S9' },
    supplies: [
      { id: 'S1', volts: 12, amps: 1 },
      { id: 'S2', volts: 12, amps: 1 },
      { id: 'S3', volts: 12, amps: 1, ohms: 3 },
      { id: 'S4', volts: 24, amps: 3 },
      { id: 'S5', volts: 5, amps: 1 },
      { id: 'S9', volts: 9, amps: 1 },
      { id: 'C1', kind: 'cdu', from: 'S4', farads: 0.0047, chargeOhms: 100 },
    ],
  },
);

const five = Array.from({ length: 5 }, () => ({}));
const HAND_MADE: readonly (readonly [name: string, panel: PanelFile])[] = [
  ['five split levers on one return', branchLine(five, { ...SPLIT, returns: [{ id: 'R0', supply: 'S1' }] })],
  [
    'five split levers behind ohms',
    branchLine(five, {
      ...SPLIT,
      supplies: [
        { id: 'S1', volts: 12, amps: 2, ohms: 4 },
        { id: 'S2', volts: 12, amps: 2, ohms: 2 },
      ],
    }),
  ],
  ['a tree over the poles of four levers', treeOf(4, 'tree', REVERSING)],
  ['a tree over the contacts of four drives', treeOf(4, 'drive-contact', REVERSING)],
  ['a tree over the blades of four points', treeOf(4, 'blade-contact', REVERSING)],
  ['every kind of drive on one panel', MIXED],
];

describe('panels of several levers', () => {
  test.each(HAND_MADE)('%s', (name, panel) => {
    const derived = derive(panel);
    const pairs = check([{ name, derived }], 6);
    expect(derived.wiring.problems.filter(({ code }) => code !== 'connectors-alike')).toEqual([]);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(20);
  });

  test('half-wave feeds of several levers, smoothed and not, with and without ohms', () => {
    const cases = ['stall-2-wire', 'limit-2-wire'].flatMap((drive) =>
      (['across-feed', 'drive-contact'] as const).flatMap((scheme) =>
        [undefined, 0.0001, 0.0022].flatMap((farads) =>
          [0, 2].map((ohms): Case => {
            const supply = {
              id: 'S1',
              kind: 'ac' as const,
              volts: 9,
              amps: 2,
              ohms,
              ...(farads === undefined ? {} : { farads }),
            };
            const panel = branchLine(
              Array.from({ length: 3 }, () => ({ drive })),
              {
                feed: { kind: 'half-wave', supplies: ['S1'] },
                lighting: { scheme },
                supplies: [supply],
              },
            );
            return { name: `${drive} ${scheme} ${farads} F ${ohms} ohm`, derived: derive(panel) };
          }),
        ),
      ),
    );
    const random = seeded(7);
    // Both positions of several levers on one supply, by lot.
    const asked = cases.flatMap(({ name, derived }) => random.some(settingsOf(name, derived), 2));
    const pairs = compareAll(asked);
    console.log(`${cases.length} half-wave panels, ${asked.length} settings: ${worstOf(pairs)}`);
    expect(cases.every(({ derived }) => cycleOf(derived) === 0.02)).toBe(true);
    expect(disagreements(pairs, CYCLE_SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(100);
  });

  test.each(['bramble-siding', 'quillhaven-harbour'])('the example %s', (name) => {
    const read = readPanel(readFileSync(new URL(`../../examples/${name}.mimic.json`, import.meta.url), 'utf8'));
    if (!('panel' in read)) throw new RangeError(JSON.stringify(read));
    const derived = derive(read.panel);
    const random = seeded(8);
    const asked = Array.from({ length: 12 }, (): Asked => {
      const levers = Object.fromEntries(
        derived.wiring.circuits.flatMap(({ id, positions }) =>
          positions.length === 0 ? [] : [[id, random.one(positions)] as const],
        ),
      );
      return { name, derived, levers, history: {}, faults: [] };
    });
    const pairs = compareAll(asked);
    expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
    expect(lit(pairs)).toBeGreaterThan(12);
  });
});
