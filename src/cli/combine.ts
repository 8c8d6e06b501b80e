/** One small panel for every combination of drive, feed, switch and lighting: a point, its lever, a lamp on each leg. */
import type { LampGroupRecord, LightingRecord, PanelFile, SupplyRecord } from '../panel/index.ts';

export type FeedKind = 'reversing' | 'split' | 'half-wave' | 'pulse' | 'unit' | 'charge' | 'contact';

/** What a combination asks for. `unit`: a pulse feed from a capacitor unit. */
export interface Combination {
  readonly drive: string;
  readonly feed: FeedKind;
  readonly scheme: NonNullable<LightingRecord['scheme']>;
  /** Part of the lever's switch; absent: the tool chooses. `buttons`: two push buttons and no lever. */
  readonly switch?: string;
  readonly lamp?: string;
  readonly arrange?: LampGroupRecord['arrange'] | 'free';
  readonly guard?: LampGroupRecord['guard'];
  /** A lever on another panel that works the same; absent: none. */
  readonly twin?: 'two-way' | 'latch';
  /** Lamps on each leg; 1 unless said. */
  readonly lamps?: number;
}

export const DRIVES = [
  'stall-2-wire',
  'limit-2-wire',
  'twin-coil',
  'twin-coil-end-off',
  'servo-board',
  'decoder',
  'hand',
] as const;
export const FEEDS: readonly FeedKind[] = ['reversing', 'split', 'half-wave', 'pulse', 'unit', 'charge', 'contact'];
export const SCHEMES = [
  'across-feed',
  'in-series',
  'spare-pole',
  'drive-contact',
  'blade-contact',
  'latching-relay',
  'tree',
] as const;

/** Supplies that suit each kind of feed: the drives' own volts. */
const SUPPLIES: Readonly<Record<FeedKind, readonly SupplyRecord[]>> = {
  reversing: [{ id: 'S1', volts: 12, amps: 1 }],
  split: [
    { id: 'S1', volts: 12, amps: 1 },
    { id: 'S2', volts: 12, amps: 1 },
  ],
  'half-wave': [{ id: 'S1', kind: 'ac', volts: 9, amps: 1, farads: 0.0047 }],
  pulse: [{ id: 'S1', volts: 24, amps: 5 }],
  unit: [
    { id: 'S1', volts: 24, amps: 1 },
    { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047, chargeOhms: 100 },
  ],
  charge: [{ id: 'S1', volts: 24, amps: 5 }],
  contact: [{ id: 'S1', volts: 5, amps: 1 }],
};

/** Schemes that a lamp supply of their own lights. */
const OWN_SUPPLY = new Set(['spare-pole', 'drive-contact', 'blade-contact', 'latching-relay', 'tree']);
const LAMPS: SupplyRecord = { id: 'S9', volts: 12, amps: 1 };

/** The panel of a combination. */
export function combine(asked: Combination): PanelFile {
  const { drive, feed, scheme, lamp = 'led-3-amber', arrange = 'free', lamps: count = 1 } = asked;
  const byHand = drive === 'hand' || drive === 'decoder';
  const noLever = asked.switch === 'buttons' || (byHand && asked.twin === undefined);
  const twoColours = lamp.includes('red-green');
  const own = OWN_SUPPLY.has(scheme);
  const kind = feed === 'unit' ? 'pulse' : feed;
  const supplies = feed === 'split' ? ['S1', 'S2'] : [feed === 'unit' ? 'C1' : 'S1'];
  const place = (lie: 'normal' | 'reverse', i: number): [number, number] =>
    lie === 'normal' ? [100 + 20 * i, 60] : [150 + 20 * i, 90];
  const lamps = twoColours
    ? [
        {
          id: 'H1',
          // Before the point, where it denies no leg.
          at: [30, 60] as [number, number],
          part: lamp,
          elements: [
            { colour: 'green', shows: { P1: 'normal' as const } },
            { colour: 'red', shows: { P1: 'reverse' as const } },
          ],
        },
      ]
    : (['normal', 'reverse'] as const).flatMap((lie) =>
        Array.from({ length: count }, (_, i) => ({
          id: `${lie === 'normal' ? 'N' : 'R'}${i + 1}`,
          at: place(lie, i),
          part: lamp,
          shows: { P1: lie },
        })),
      );
  const groups =
    arrange === 'free'
      ? {}
      : {
          lampGroups: [
            {
              id: 'G1',
              lamps: lamps.map(({ id }) => id),
              arrange,
              ...(asked.guard === undefined ? {} : { guard: asked.guard }),
            },
          ],
        };
  return {
    format: 'mimic-panel',
    version: 1,
    name: 'Bramble Siding',
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'branch',
        path: [
          [60, 60],
          [108, 90],
          [300, 90],
        ],
      },
    ],
    points: [{ id: 'P1', at: [60, 60], drive: drive === 'decoder' ? 'D1' : drive }],
    ...(drive === 'decoder' ? { drives: [{ id: 'D1', part: drive, address: 1 }] } : {}),
    levers: noLever
      ? []
      : [
          {
            id: 'L1',
            at: [60, 130],
            works: [{ point: 'P1' }],
            ...(asked.switch === undefined ? {} : { switch: asked.switch }),
            ...(asked.twin === undefined ? {} : { twin: { panel: 'Quillhaven Harbour', lever: 'L7', by: asked.twin } }),
          },
        ],
    ...(asked.switch === 'buttons'
      ? {
          buttons: [
            { id: 'B1', at: [60, 130], sets: { P1: 'normal' as const } },
            { id: 'B2', at: [90, 130], sets: { P1: 'reverse' as const } },
          ],
        }
      : {}),
    lamps,
    ...groups,
    feed: { kind, supplies, ...(feed === 'charge' ? { farads: 0.0022 } : {}) },
    lighting: { scheme, ...(own ? { supply: LAMPS.id } : {}) },
    supplies: [...SUPPLIES[feed], ...(own ? [LAMPS] : [])],
  };
}
