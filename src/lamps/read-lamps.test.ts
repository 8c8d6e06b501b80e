import { describe, expect, it } from 'vitest';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { readLamps } from './read-lamps.ts';

/** A passing loop: P1 at its left end, P2 at its right; one lever for each unless said otherwise. */
function read(more: object): ReturnType<typeof readLamps> {
  const panel = checkPanel({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'loop',
        path: [
          [60, 60],
          [100, 85],
          [200, 85],
          [240, 60],
        ],
      },
    ],
    ...more,
  });
  if (!panel.ok) throw new Error(JSON.stringify(panel.problems));
  return readLamps(panel.panel, resolveCatalogue(panel.panel.parts), readPlan(panel.panel));
}

const both = { levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }] };
const codes = (answer: ReturnType<typeof readLamps>) => answer.problems.map((each) => each.code);

describe('readLamps', () => {
  it('[LA1] takes what a lamp shows from the file, one object or several', () => {
    const { lamps } = read({
      lamps: [
        { id: 'H1', at: [150, 20], shows: { P1: 'reverse' } },
        { id: 'H2', at: [150, 20], shows: [{ P1: 'normal' }, { P2: 'normal' }] },
      ],
    });
    expect(lamps.map((lamp) => [lamp.claim, lamp.from])).toEqual([
      [[{ P1: 'reverse' }], 'shows'],
      [[{ P1: 'normal' }, { P2: 'normal' }], 'shows'],
    ]);
  });

  it('[LA2] else the legs of its span, at both ends both; with "leg" the nearer end alone', () => {
    const { lamps } = read({
      ...both,
      lamps: [
        { id: 'H1', at: [150, 60] },
        { id: 'H2', at: [110, 85], claims: 'leg' },
        { id: 'H3', at: [190, 85], claims: 'leg' },
      ],
    });
    expect(lamps.map((lamp) => lamp.claim)).toEqual([
      [{ P1: 'normal', P2: 'normal' }],
      [{ P1: 'reverse' }],
      [{ P2: 'reverse' }],
    ]);
    // One point a leg, two a span: the file format's rule.
    expect(lamps.map((lamp) => lamp.kind)).toEqual(['span', 'leg', 'leg']);
  });

  it('[LA3] reaches 10 mm from the middle of the tape and no further; beside no leg it claims nothing', () => {
    const answer = read({
      lamps: [
        { id: 'H1', at: [150, 50], claims: 'leg' },
        { id: 'H2', at: [150, 49.9], claims: 'leg' },
        { id: 'H3', at: [30, 60] },
      ],
    });
    expect(answer.lamps.map((lamp) => lamp.claim.length)).toEqual([1, 0, 0]);
    expect(answer.problems.flatMap((each) => (each.code === 'lamp-claims-nothing' ? [each.lamp] : []))).toEqual([
      'H2',
      'H3',
    ]);
  });

  it('[LA4] reports a lamp that denies its nearest leg, and keeps what it shows', () => {
    const answer = read({ lamps: [{ id: 'H1', at: [110, 85], shows: { P1: 'normal' } }] });
    expect(answer.problems).toEqual([
      {
        code: 'lamp-denies-its-leg',
        lamp: 'H1',
        leg: { P1: 'reverse' },
        shows: [{ P1: 'normal' }],
        at: [110, 85],
      },
    ]);
    expect(answer.lamps[0]?.lie).toBe('normal');
    // Of the other leg it may say what it likes.
    expect(codes(read({ lamps: [{ id: 'H1', at: [110, 85], shows: { P2: 'normal' } }] }))).toEqual([]);
  });

  it('[LA5] ties a lamp to the lever, and its lie, that say its claim: the other lie where the lever works the point opposite', () => {
    const opposite = { levers: [{ id: 'L7', works: [{ point: 'P1', opposite: true }, { point: 'P2' }] }] };
    const shows = (lies: object) => read({ ...opposite, lamps: [{ id: 'H1', at: [150, 20], shows: lies }] }).lamps[0];
    expect([shows({ P1: 'reverse' })?.lever, shows({ P1: 'reverse' })?.lie]).toEqual(['L7', 'normal']);
    expect([shows({ P2: 'reverse' })?.lever, shows({ P2: 'reverse' })?.lie]).toEqual(['L7', 'reverse']);
    expect(shows({ P1: 'reverse', P2: 'normal' })?.lie).toBe('normal');
  });

  it('[LA6] reports what no single lever can say, and ties it to none', () => {
    const levers = { levers: [{ id: 'L1', works: [{ point: 'P1' }] }] };
    const one = (shows: unknown, more: object = both) => {
      const answer = read({ ...more, lamps: [{ id: 'H1', at: [150, 20], shows }] });
      return [answer.lamps[0]?.lever, ...codes(answer)];
    };
    expect(one({ P1: 'normal', P2: 'normal' }, {})).toEqual([null, 'lamp-needs-two-levers']);
    expect(one({ P2: 'normal' }, levers)).toEqual([null, 'lamp-point-has-no-lever']);
    expect(one({ P1: 'normal', P2: 'reverse' })).toEqual([null, 'lamp-never-or-always']);
    expect(one([{ P1: 'normal' }, { P1: 'reverse' }])).toEqual([null, 'lamp-never-or-always']);
    expect(one({ P9: 'normal' })).toEqual([null, 'lamp-point-unknown']);
    expect(one({})).toEqual([null, 'lamp-never-or-always']);
  });

  it('[LA7] speaks when dark where the opposite has no lamp of its own, unless the file says otherwise', () => {
    const speaks = (more: object, dark?: string) =>
      read({
        lamps: [
          { id: 'H1', at: [150, 20], shows: { P1: 'normal' }, ...(dark === undefined ? {} : { dark }) },
          { id: 'H2', at: [150, 20], ...more },
        ],
      }).lamps[0]?.speaksWhenDark;
    expect(speaks({ shows: { P2: 'reverse' } })).toBe(true);
    expect(speaks({ shows: { P1: 'reverse' } })).toBe(false);
    expect(speaks({ shows: { P2: 'reverse' } }, 'nothing')).toBe(false);
    expect(speaks({ shows: { P1: 'reverse' } }, 'opposite')).toBe(true);
  });

  it('[LA8] claims no lie of supply, occupancy and test, and wires the first alone', () => {
    const circuitOf = (claims: 'supply' | 'occupancy' | 'test') => {
      const { lamps, problems } = read({ lamps: [{ id: 'H1', at: [150, 60], claims, shows: { P1: 'normal' } }] });
      expect([lamps[0]?.claim, problems]).toEqual([[], []]);
      return lamps[0]?.circuit;
    };
    expect((['supply', 'occupancy', 'test'] as const).map(circuitOf)).toEqual(['TR1', null, null]);
  });

  it("[LA9] is sized for its own current, else its lever's lighting, else the panel's", () => {
    const { lamps } = read({
      lighting: { current: 0.003 },
      levers: [
        { id: 'L1', works: [{ point: 'P1' }], lighting: { current: 0.004 } },
        { id: 'L2', works: [{ point: 'P2' }] },
      ],
      lamps: [
        { id: 'H1', at: [150, 20], shows: { P1: 'normal' }, current: 0.005 },
        { id: 'H2', at: [150, 20], shows: { P1: 'normal' } },
        { id: 'H3', at: [150, 20], shows: { P2: 'normal' } },
      ],
    });
    expect(lamps.map((lamp) => lamp.current)).toEqual([0.005, 0.004, 0.003]);
  });

  it("[LA10] a three-way's leg asks both its points, and its lamp may deny neither", () => {
    // The straight way normal; the branch up the first point's reverse, the branch down the second's: the file format's order,
    // further left seen from the toe first. Up is left when running to the right, since y is down.
    const three = {
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
        {
          id: 'up',
          path: [
            [60, 60],
            [100, 35],
            [200, 35],
          ],
        },
        {
          id: 'down',
          path: [
            [60, 60],
            [100, 85],
            [200, 85],
          ],
        },
      ],
      threeWays: [{ id: 'Y1', at: [60, 60], points: ['P30', 'P31'] }],
    };
    const { lamps } = read({
      ...three,
      lamps: [
        { id: 'H1', at: [150, 35] },
        { id: 'H2', at: [150, 85] },
        { id: 'H3', at: [250, 60] },
      ],
    });
    expect(lamps.map((lamp) => lamp.claim)).toEqual([
      [{ P30: 'reverse', P31: 'normal' }],
      [{ P30: 'normal', P31: 'reverse' }],
      [{ P30: 'normal', P31: 'normal' }],
    ]);
    const wrong = read({ ...three, lamps: [{ id: 'H1', at: [150, 35], shows: { P31: 'reverse' } }] });
    expect(codes(wrong)).toContain('lamp-denies-its-leg');
  });

  it('[LA11] both legs of one point round a balloon never hold together', () => {
    const answer = read({
      strips: [
        {
          id: 'stem',
          path: [
            [0, 60],
            [100, 60],
            [200, 60],
            [240, 85],
            [240, 140],
            [180, 140],
            [140, 100],
            [100, 60],
          ],
        },
      ],
      lamps: [{ id: 'H1', at: [240, 120] }],
    });
    expect([answer.lamps[0]?.claim, ...codes(answer)]).toEqual([[], 'lamp-never-or-always']);
  });
});
