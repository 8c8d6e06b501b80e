import { describe, expect, it } from 'vitest';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { type LampsRead, readLamps } from './read-lamps.ts';

/** A line with so many roads that leave it one after the other, P1, P2 ..., each normal along the line; lamps stand off the tape. */
function read(more: object, points = 2): LampsRead {
  const panel = checkPanel({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [400, 60],
        ],
      },
      ...Array.from({ length: points }, (_, i) => ({
        id: `road-${i + 1}`,
        path: [
          [60 + 60 * i, 60],
          [60 + 60 * i + 40 * (points - i), 60 + 25 * (points - i)],
          [400, 60 + 25 * (points - i)],
        ],
      })),
    ],
    ...more,
  });
  if (!panel.ok) throw new Error(JSON.stringify(panel.problems));
  return readLamps(panel.panel, resolveCatalogue(panel.panel.parts), readPlan(panel.panel));
}

type Scheme =
  | 'across-feed'
  | 'in-series'
  | 'spare-pole'
  | 'drive-contact'
  | 'blade-contact'
  | 'latching-relay'
  | 'tree';

const lamp = (id: string, shows: unknown, more: object = {}) => ({ id, at: [20, 20], shows, ...more });
const lit = (scheme: Scheme, shows: unknown, more: object = {}, points = 2) =>
  read({ lighting: { scheme }, lamps: [lamp('H1', shows)], ...more }, points);

/** The one problem, or the lamp's way: scheme, basis, circuit, lever and lie, and the lies of what lights it. */
function told({ lamps, problems }: LampsRead): unknown {
  const [first] = problems;
  if (first !== undefined) {
    if (first.code === 'lamp-scheme-unfit') return [first.scheme, first.why, first.of, lamps[0]?.circuit];
    return [first.code, lamps[0]?.circuit];
  }
  const use = lamps[0];
  return [use?.scheme, use?.basis, use?.circuit, use?.lever, use?.lie, use?.hang?.cube ?? null];
}

const P1 = { id: 'P1', at: [60, 60] };
const P2 = { id: 'P2', at: [120, 60] };
const NORMAL = { P1: 'normal' };
const drive = (part: string) => ({ points: [{ ...P1, drive: part }] });
const feed = (kind: string) => ({ feed: { kind } });

describe('how a lamp is lit', () => {
  it('[LA21] by the feed of its lever, and then it knows what was asked', () => {
    expect(told(lit('across-feed', NORMAL))).toEqual(['across-feed', 'asked', 'L1', 'L1', 'normal', null]);
    expect(told(lit('in-series', { P2: 'reverse' }))).toEqual(['in-series', 'asked', 'L2', 'L2', 'reverse', null]);
  });

  it('[LA21] by a pole, a drive, blades or a relay: asked, drive, blades, asked', () => {
    expect(told(lit('spare-pole', NORMAL))).toEqual(['spare-pole', 'asked', 'L1', 'L1', 'normal', { L1: 'normal' }]);
    expect(told(lit('drive-contact', NORMAL))).toEqual([
      'drive-contact',
      'drive',
      'L1',
      'L1',
      'normal',
      { P1: 'normal' },
    ]);
    expect(told(lit('blade-contact', NORMAL))).toEqual([
      'blade-contact',
      'blades',
      'L1',
      'L1',
      'normal',
      { 'P1.b': 'normal' },
    ]);
    expect(told(lit('latching-relay', NORMAL, { ...drive('twin-coil'), ...feed('pulse') }))).toEqual([
      'latching-relay',
      'asked',
      'L1',
      'L1',
      'normal',
      { K1: 'normal' },
    ]);
  });

  it('[LA21] the poles begin behind those of the feed: third of a reversing toggle, second of any other', () => {
    const links = (more: object) =>
      lit('spare-pole', NORMAL, more).trees.flatMap((tree) => tree.links.map(({ id }) => id));
    expect(links({})).toEqual(['L1.3']);
    expect(links(feed('charge'))).toEqual(['L1.2']);
  });

  it('[LA21] a relay is the record that follows the point, else the next free K', () => {
    const pulse = { ...drive('twin-coil'), ...feed('pulse') };
    const cube = (relays: object[]) => lit('latching-relay', NORMAL, { ...pulse, relays }).lamps[0]?.hang?.cube;
    expect(cube([{ id: 'K7', follows: 'P1' }])).toEqual({ K7: 'normal' });
    expect(cube([{ id: 'K1', follows: 'P2' }])).toEqual({ K2: 'normal' });
  });

  it('[LA22] a tree takes the pole of a lever that has one to spare, else a contact of the drive', () => {
    const both = { P1: 'reverse', P2: 'normal' };
    const poles = lit('tree', both);
    expect(told(poles)).toEqual(['tree', 'asked', 'TR1', null, null, { L1: 'reverse', L2: 'normal' }]);
    const full = {
      levers: [
        { id: 'L1', works: [{ point: 'P1' }], switch: 'toggle-2p' },
        { id: 'L2', works: [{ point: 'P2' }] },
      ],
    };
    // What knows least is its basis.
    expect(told(lit('tree', both, full))).toEqual([
      'tree',
      'asked',
      'TR1',
      null,
      null,
      { P1: 'reverse', L2: 'normal' },
    ]);
    const none = {
      levers: ['L1', 'L2'].map((id, i) => ({ id, works: [{ point: `P${i + 1}` }], switch: 'toggle-2p' })),
    };
    expect(told(lit('tree', both, none))).toEqual([
      'tree',
      'drive',
      'TR1',
      null,
      null,
      { P1: 'reverse', P2: 'normal' },
    ]);
  });

  it('[LA23] a lamp of a point that only a hand works is lit by its contact, whatever the scheme', () => {
    const hand = { points: [{ ...P1, drive: 'hand' }], levers: [{ id: 'L2', works: [{ point: 'P2' }] }] };
    for (const scheme of ['across-feed', 'spare-pole', 'drive-contact', 'tree'] as const)
      expect(told(lit(scheme, NORMAL, hand))).toEqual(['drive-contact', 'drive', 'P1', null, null, { P1: 'normal' }]);
    expect(told(lit('blade-contact', NORMAL, hand))).toEqual([
      'blade-contact',
      'blades',
      'P1',
      null,
      null,
      { 'P1.b': 'normal' },
    ]);
    // A decoder has no contacts.
    const decoder = { ...hand, points: [{ ...P1, drive: 'decoder' }] };
    expect(told(lit('across-feed', NORMAL, decoder))).toEqual(['lamp-contacts-short', null]);
  });

  it('[LA24] a point that lies opposite to its drive is shown by the other throw; the blades tell the point itself', () => {
    const opposite = {
      points: [{ ...P1, drive: 'D1', sense: 'opposite' }],
      drives: [{ id: 'D1', part: 'stall-2-wire' }],
    };
    const drives = lit('drive-contact', NORMAL, opposite);
    expect(told(drives)).toEqual(['drive-contact', 'drive', 'L1', 'L1', 'normal', { D1: 'reverse' }]);
    expect(drives.trees[0]?.links[0]?.carrier).toMatchObject({ lever: 'L1', whenNormal: 'reverse' });
    expect(told(lit('blade-contact', NORMAL, opposite))).toEqual([
      'blade-contact',
      'blades',
      'L1',
      'L1',
      'normal',
      { 'P1.b': 'normal' },
    ]);
  });

  it('[LA24] a lever that works a point opposite shows its normal on its own reverse', () => {
    const levers = { levers: [{ id: 'L1', works: [{ point: 'P1', opposite: true }] }] };
    expect(told(lit('spare-pole', NORMAL, levers))).toEqual([
      'spare-pole',
      'asked',
      'L1',
      'L1',
      'reverse',
      { L1: 'reverse' },
    ]);
    // The drive itself lies normal when the point does.
    expect(told(lit('drive-contact', NORMAL, levers))).toEqual([
      'drive-contact',
      'drive',
      'L1',
      'L1',
      'reverse',
      { P1: 'normal' },
    ]);
    // Both turned: the drive lies with the lever again.
    const both = { ...levers, points: [{ ...P1, drive: 'D1', sense: 'opposite' }], drives: [{ id: 'D1' }] };
    const twice = lit('drive-contact', NORMAL, both);
    expect(told(twice)).toEqual(['drive-contact', 'drive', 'L1', 'L1', 'reverse', { D1: 'reverse' }]);
    expect(twice.trees[0]?.links[0]?.carrier.whenNormal).toBe('normal');
  });
});

describe('what a scheme cannot light', () => {
  it('[LA25] nothing is left on a feed of pulses, and a signal is no feed', () => {
    const coils = drive('twin-coil');
    for (const kind of ['pulse', 'charge'])
      for (const scheme of ['across-feed', 'in-series'] as const)
        expect(told(lit(scheme, NORMAL, { ...coils, ...feed(kind) }))).toEqual([scheme, 'feed-at-rest', 'L1', null]);
    expect(told(lit('across-feed', NORMAL, { ...drive('servo-board'), ...feed('contact') }))).toEqual([
      'across-feed',
      'feed-is-signal',
      'L1',
      null,
    ]);
  });

  it('[LA25] in series only a stall drive lights lamps, and each of its lever must be one', () => {
    expect(told(lit('in-series', NORMAL, drive('limit-2-wire')))).toEqual([
      'in-series',
      'not-a-stall-drive',
      'P1',
      null,
    ]);
    const two = { levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }] };
    expect(told(lit('in-series', NORMAL, { ...two, points: [P1, { ...P2, drive: 'limit-2-wire' }] }))).toEqual([
      'in-series',
      'not-a-stall-drive',
      'P2',
      null,
    ]);
  });

  it('[LA25] poles that spring back, or whose lever has a twin, know no lie', () => {
    expect(told(lit('spare-pole', NORMAL, { ...drive('twin-coil'), ...feed('pulse') }))).toEqual([
      'spare-pole',
      'pole-lets-go',
      'L1',
      null,
    ]);
    const twin = (by: string) => ({
      levers: [{ id: 'L1', works: [{ point: 'P1' }], twin: { panel: 'west', lever: 'L9', by } }],
    });
    expect(told(lit('spare-pole', NORMAL, twin('two-way')))).toEqual(['spare-pole', 'pole-of-twin', 'L1', null]);
    // In a tree the drive's contact stands in.
    expect(told(lit('tree', NORMAL, twin('two-way')))).toEqual([
      'tree',
      'drive',
      'L1',
      'L1',
      'normal',
      { P1: 'normal' },
    ]);
  });

  it('[LA25] a relay is latched by pulses alone', () => {
    expect(told(lit('latching-relay', NORMAL))).toEqual(['latching-relay', 'no-pulse', 'L1', null]);
    expect(told(lit('latching-relay', NORMAL, feed('charge')))).toEqual(['latching-relay', 'no-pulse', 'L1', null]);
  });

  it('[LA25] two colours: two leads on a feed that turns over, three and a common cathode on contacts', () => {
    const two = [
      { colour: 'green', shows: { P1: 'normal' } },
      { colour: 'red', shows: { P1: 'reverse' } },
    ];
    const of = (scheme: Scheme, part: string) => {
      const lamps = [{ id: 'H1', at: [20, 20], part, elements: two }];
      return told(read({ lighting: { scheme }, lamps }));
    };
    expect(of('across-feed', 'led-5-red-green-2')).toEqual(['across-feed', 'asked', 'L1', 'L1', 'normal', null]);
    expect(of('across-feed', 'led-5-red-green-3c')).toEqual([
      'across-feed',
      'needs-two-leads',
      'led-5-red-green-3c',
      null,
    ]);
    const by = { 'spare-pole': ['asked', { L1: 'normal' }], 'drive-contact': ['drive', { P1: 'normal' }] } as const;
    for (const scheme of ['spare-pole', 'drive-contact'] as const) {
      const [basis, cube] = by[scheme];
      expect(of(scheme, 'led-5-red-green-3c')).toEqual([scheme, basis, 'L1', 'L1', 'normal', cube]);
    }
    expect(of('spare-pole', 'led-5-red-green-2')).toEqual([
      'spare-pole',
      'needs-three-leads',
      'led-5-red-green-2',
      null,
    ]);
    expect(of('drive-contact', 'led-5-red-green-2')).toEqual([
      'drive-contact',
      'needs-three-leads',
      'led-5-red-green-2',
      null,
    ]);
    expect(of('drive-contact', 'led-5-red-green-3a')).toEqual([
      'drive-contact',
      'needs-common-cathode',
      'led-5-red-green-3a',
      null,
    ]);
  });

  it('[LA26] each element of a lamp of two colours stands for itself, the first A, the second B', () => {
    const lamps = [
      {
        id: 'H1',
        at: [20, 20],
        part: 'led-5-red-green-2',
        elements: [
          { colour: 'green', shows: { P1: 'normal' } },
          { colour: 'red', shows: { P1: 'reverse' } },
        ],
      },
    ];
    expect(read({ lamps }).lamps.map(({ id, of, element, lie }) => [id, of, element, lie])).toEqual([
      ['H1A', 'H1', 'A', 'normal'],
      ['H1B', 'H1', 'B', 'reverse'],
    ]);
    const one = read({ lamps: [{ id: 'H1', at: [20, 20], elements: [{ colour: 'green', shows: NORMAL }] }] });
    expect(one.problems.map((each) => ('why' in each ? each.why : each.code))).toEqual(['elements-not-two']);
    expect(one.lamps.map(({ id, circuit }) => [id, circuit])).toEqual([['H1', null]]);
  });
});

describe('contacts that are short, and claims of several ways', () => {
  it('[LA27] a drive without contacts, or a switch without a pole to spare, is short of one', () => {
    expect(lit('drive-contact', NORMAL, drive('twin-coil')).problems).toEqual([
      { code: 'lamp-contacts-short', lamp: 'H1', carrier: 'P1', kind: 'drive', needs: 1, has: 0, at: [20, 20] },
    ]);
    const full = { levers: [{ id: 'L1', works: [{ point: 'P1' }], switch: 'toggle-2p' }] };
    expect(lit('spare-pole', NORMAL, full).problems).toEqual([
      { code: 'lamp-contacts-short', lamp: 'H1', carrier: 'L1', kind: 'lever', needs: 1, has: 0, at: [20, 20] },
    ]);
  });

  it('[LA28] alternatives that are one way are one: what makes no difference drops out', () => {
    const cube = (shows: unknown) => lit('drive-contact', shows).lamps[0]?.hang?.cube;
    expect(
      cube([
        { P1: 'normal', P2: 'normal' },
        { P1: 'normal', P2: 'reverse' },
      ]),
    ).toEqual({ P1: 'normal' });
    expect(cube([NORMAL, NORMAL])).toEqual({ P1: 'normal' });
    // What asks for more than another alternative adds nothing to it.
    expect(cube([NORMAL, { P1: 'normal', P2: 'reverse' }])).toEqual({ P1: 'normal' });
  });

  it('[LA28] ways that stay several, that never hold or always hold, are reported', () => {
    const several = lit('drive-contact', [{ P1: 'normal' }, { P2: 'normal' }]);
    expect(several.problems).toEqual([{ code: 'lamp-several-ways', lamp: 'H1', ways: 2, at: [20, 20] }]);
    expect(several.lamps[0]?.circuit).toBeNull();
    expect(told(lit('drive-contact', [{ P1: 'normal' }, { P1: 'reverse' }]))).toEqual(['lamp-never-or-always', null]);
    const shared = { points: [P1, P2].map((each) => ({ ...each, drive: 'D1' })), drives: [{ id: 'D1' }] };
    expect(told(lit('drive-contact', { P1: 'normal', P2: 'reverse' }, shared))).toEqual(['lamp-never-or-always', null]);
    // One drive, both lies that it can have at once: one contact.
    expect(told(lit('drive-contact', { P1: 'normal', P2: 'normal' }, shared))).toEqual([
      'drive-contact',
      'drive',
      'L1',
      'L1',
      'normal',
      { D1: 'normal' },
    ]);
  });
});
