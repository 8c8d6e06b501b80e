/** Small panels of two to four levers for the brute force over whole panels: each a mixture that a single circuit does not have. */
import { combine, DRIVES, FEEDS, type FeedKind, SCHEMES } from '../../src/cli/combine.ts';
import type { PanelFile } from '../../src/panel/index.ts';

const S1 = { id: 'S1', volts: 12, voltsOffLoad: 12.2, amps: 1 };
const S2 = { ...S1, id: 'S2' };
const S9 = { ...S1, id: 'S9' };
const lamp = (id: string, shows: Record<string, 'normal' | 'reverse'>, x: number, y: number) => ({
  id,
  at: [x, y] as [number, number],
  part: 'led-3-amber',
  shows,
});

/** Points P1, P2, ... along a main line, each with a siding of its own, a drive D1, ... and a lever L1, ...; a lamp on each leg. */
function ladder(points: number, more: Partial<PanelFile> = {}): PanelFile {
  const ids = Array.from({ length: points }, (_, i) => i + 1);
  const x = (i: number) => 60 + 80 * (i - 1);
  return {
    format: 'mimic-panel',
    version: 1,
    name: 'Quillhaven Harbour',
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [80 * points + 60, 60],
        ],
      },
      ...ids.map((i) => ({
        id: `s${i}`,
        path: [
          [x(i), 60],
          [x(i) + 24, 45],
          [x(i) + 60, 45],
        ] as [number, number][],
      })),
    ],
    points: ids.map((i) => ({ id: `P${i}`, at: [x(i), 60] as [number, number], drive: `D${i}` })),
    drives: ids.map((i) => ({ id: `D${i}`, part: 'stall-2-wire' })),
    levers: ids.map((i) => ({ id: `L${i}`, at: [x(i), 110] as [number, number], works: [{ point: `P${i}` }] })),
    lamps: ids.flatMap((i) => [
      lamp(`N${i}`, { [`P${i}`]: 'normal' }, x(i) + 40, 60),
      lamp(`R${i}`, { [`P${i}`]: 'reverse' }, x(i) + 40, 45),
    ]),
    supplies: [S1, S2, S9],
    ...more,
  };
}

/** The way to each road of a ladder of three: main or siding, point by point. */
const ROADS = [
  lamp('A1', { P1: 'reverse' }, 100, 45),
  lamp('A2', { P1: 'normal', P2: 'reverse' }, 180, 45),
  lamp('A3', { P1: 'normal', P2: 'normal', P3: 'reverse' }, 260, 45),
  lamp('A4', { P1: 'normal', P2: 'normal', P3: 'normal' }, 260, 60),
];
const lit = (scheme: 'spare-pole' | 'drive-contact' | 'blade-contact' | 'tree') => ({ scheme, supply: 'S9' });
const split = { kind: 'split' as const, supplies: ['S1', 'S2'] };
const wide = (i: number, part: string, more = {}) => ({
  id: `L${i}`,
  at: [60 + 80 * (i - 1), 110] as [number, number],
  switch: part,
  works: [{ point: `P${i}` }],
  ...more,
});

/** A lever that one on another panel works too. */
const twinned = (i: number, by: 'two-way' | 'latch', more = {}) => ({
  id: `L${i}`,
  at: [60 + 80 * (i - 1), 110] as [number, number],
  works: [{ point: `P${i}` }],
  twin: { panel: 'Bramble Siding', lever: 'L7', by },
  ...more,
});

/** By name. */
export const WHOLE_PANELS: Readonly<Record<string, PanelFile>> = {
  'a split feed with a common return': ladder(3, { feed: split }),
  'a split feed, lamps on spare poles': ladder(2, { feed: split, lighting: lit('spare-pole') }),
  'kinds of drive side by side': ladder(3, {
    drives: [
      { id: 'D1', part: 'stall-2-wire' },
      { id: 'D2', part: 'limit-2-wire' },
      { id: 'D3', part: 'hand' },
    ],
    levers: [wide(1, 'toggle-2p'), wide(2, 'toggle-2p')],
    lighting: lit('drive-contact'),
  }),
  'a tree by poles over three levers': ladder(3, { lamps: ROADS, lighting: lit('tree') }),
  'a tree over contacts of drives': ladder(2, { lamps: ROADS.slice(0, 2), lighting: lit('drive-contact') }),
  'a tree over contacts of blades': ladder(2, { lamps: ROADS.slice(0, 2), lighting: lit('blade-contact') }),
  'contacts of a lever of two points': ladder(2, {
    levers: [{ id: 'L1', at: [60, 110], works: [{ point: 'P1' }, { point: 'P2' }] }],
    lighting: lit('drive-contact'),
  }),
  'contacts of a drive of two points, one the other way': ladder(2, {
    points: [
      { id: 'P1', at: [60, 60], drive: 'D1' },
      { id: 'P2', at: [140, 60], drive: 'D1', sense: 'opposite' },
    ],
    drives: [{ id: 'D1', part: 'stall-2-wire' }],
    levers: [{ id: 'L1', at: [60, 110], works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }],
    lighting: lit('drive-contact'),
  }),
  'a centre-off lever, lamps on its spare pole': ladder(2, {
    levers: [wide(1, 'toggle-3p-centre-off'), wide(2, 'toggle-3p')],
    lighting: lit('spare-pole'),
  }),
  'a centre-off lever, lamps on the drive': ladder(2, {
    levers: [wide(1, 'toggle-2p-centre-off'), wide(2, 'toggle-2p')],
    lighting: lit('drive-contact'),
  }),
  'lamps on spare poles that share the supply of the feed': ladder(2, {
    lighting: { scheme: 'spare-pole', supply: 'S1' },
  }),
  'a weak supply, lamps on contacts': ladder(2, {
    supplies: [{ ...S1, ohms: 30 }],
    lighting: { scheme: 'drive-contact', supply: 'S1' },
  }),
  'two colours by contacts': ladder(1, {
    lamps: [
      {
        id: 'H1',
        at: [30, 60],
        part: 'led-5-red-green-3c',
        elements: [
          { colour: 'green', shows: { P1: 'normal' } },
          { colour: 'red', shows: { P1: 'reverse' } },
        ],
      },
    ],
    lighting: lit('drive-contact'),
  }),
  'a two-way lever beside one alone, a split feed': ladder(2, {
    feed: split,
    levers: [twinned(1, 'two-way'), wide(2, 'toggle-1p')],
  }),
  'a two-way lever with a middle, lamps on the drive': ladder(1, {
    levers: [twinned(1, 'two-way', { switch: 'toggle-2p-centre-off' })],
    lighting: lit('drive-contact'),
  }),
  'a two-way lever of two points, one the other way': ladder(2, {
    levers: [twinned(1, 'two-way', { works: [{ point: 'P1' }, { point: 'P2', opposite: true }] })],
  }),
  'two-way levers behind a weak supply': ladder(2, {
    supplies: [{ ...S1, ohms: 30 }],
    levers: [twinned(1, 'two-way'), twinned(2, 'two-way')],
  }),
  'a relay that remembers for two levers': ladder(1, { levers: [twinned(1, 'latch')] }),
  'the same the other way, lamps on what the relay has left': ladder(1, {
    feed: split,
    levers: [twinned(1, 'latch', { works: [{ point: 'P1', opposite: true }] })],
    lighting: { scheme: 'latching-relay', supply: 'S9' },
  }),
  'a tree over drives of twins and of one alone': ladder(2, {
    lamps: ROADS.slice(0, 2),
    levers: [twinned(1, 'two-way'), wide(2, 'toggle-2p')],
    lighting: lit('drive-contact'),
  }),
  'two colours across the feed': ladder(1, {
    lamps: [
      {
        id: 'H1',
        at: [30, 60],
        part: 'led-5-red-green-2',
        elements: [
          { colour: 'green', shows: { P1: 'normal' } },
          { colour: 'red', shows: { P1: 'reverse' } },
        ],
      },
    ],
  }),
};

export { FEEDS, type FeedKind };

/** Every combination of a feed with drive and lighting, one lamp on a leg and two by turns; which of them are sound is the oracle's to say. */
export function combinations(feed: FeedKind): readonly { readonly name: string; readonly panel: PanelFile }[] {
  const isPulsed = feed === 'pulse' || feed === 'unit';
  // A lever on another panel by turns, one before the other or beside it at a relay.
  const twinBy = (turn: number) => (isPulsed || turn % 2 === 1 ? 'latch' : 'two-way');
  return DRIVES.flatMap((drive, i) =>
    SCHEMES.flatMap((scheme, k) =>
      [{}, ...(isPulsed ? [{ switch: 'buttons' }] : []), { twin: twinBy(i + (k >> 1)) } as const].map((more) => {
        const lamps = 1 + ((i + k) % 2);
        return {
          name: `${[feed, drive, scheme, ...Object.values(more)].join(', ')}, ${lamps} a leg`,
          panel: combine({ feed, drive, scheme, lamps, ...more }),
        };
      }),
    ),
  );
}
