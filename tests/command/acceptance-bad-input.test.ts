/**
 * Panels with one thing wrong beside a sound passing loop: `check` finds it, at its place, with its exit status, and the loop keeps its
 * two routes. Every place was worked out on paper.
 */
import { describe, expect, it } from 'vitest';
import { answerSchemas } from '../../src/cli/index.ts';
import { runOn } from './by-hand.ts';

type Spot = readonly [number, number];

/** A passing loop along the top of a sheet of 400 x 300; what is wrong lies between y = 120 and y = 200. */
const LOOP = [
  {
    id: 'main',
    path: [
      [20, 60],
      [320, 60],
    ],
  },
  {
    id: 'loop',
    path: [
      [80, 60],
      [110, 85],
      [230, 85],
      [260, 60],
    ],
  },
] as const;
const PLACES = [
  { id: 'west', name: 'West', at: [20, 60] },
  { id: 'east', name: 'East', at: [320, 60] },
];

interface Bad {
  readonly name: string;
  readonly strips: readonly { readonly id: string; readonly path: readonly Spot[] }[];
  readonly more?: Readonly<Record<string, unknown>>;
  readonly status: 0 | 1;
  readonly code: string;
  readonly severity: string;
  readonly ids: readonly string[];
  readonly at: Spot;
  readonly values?: Readonly<Record<string, unknown>>;
  /** Routes beside the two of the loop, `from>to` by the numbers that free ends get (by x, then y). */
  readonly others: readonly string[];
}

/** Out from a spot, by degrees from the right, clockwise as the sheet lies. */
const spoke = (id: string, [x, y]: Spot, degrees: number) => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return { id, path: [[x, y] as const, [x + 60 * c, y + 60 * s] as const] };
};

const BAD: readonly Bad[] = [
  {
    name: 'an end that misses another by 3 mm',
    strips: [
      {
        id: 'a',
        path: [
          [20, 150],
          [100, 150],
        ],
      },
      {
        id: 'b',
        path: [
          [103, 150],
          [300, 150],
        ],
      },
    ],
    status: 0,
    code: 'end-misses',
    severity: 'caution',
    ids: ['a', 'b'],
    at: [100, 150],
    values: { gap: 3 },
    others: ['E1>E2', 'E3>E4'],
  },
  {
    name: 'an end that misses a line by 3 mm',
    strips: [
      {
        id: 'line',
        path: [
          [20, 130],
          [320, 130],
        ],
      },
      {
        id: 'spur',
        path: [
          [100, 133],
          [160, 180],
        ],
      },
    ],
    status: 0,
    code: 'end-misses',
    severity: 'caution',
    ids: ['spur', 'line'],
    at: [100, 133],
    values: { gap: 3 },
    others: ['E1>E4', 'E2>E3'],
  },
  {
    name: 'two strips that lie on top of each other',
    strips: [
      {
        id: 'a',
        path: [
          [20, 150],
          [200, 150],
        ],
      },
      {
        id: 'b',
        path: [
          [100, 150],
          [280, 150],
        ],
      },
    ],
    status: 1,
    code: 'strips-overlap',
    severity: 'wrong',
    ids: ['a', 'b'],
    // The middle of what they share.
    at: [150, 150],
    values: { length: 100 },
    others: ['E1>E3', 'E2>E4'],
  },
  {
    name: 'a strip that crosses itself',
    strips: [
      {
        id: 'knot',
        path: [
          [20, 130],
          [200, 130],
          [240, 170],
          [160, 190],
          [100, 110],
        ],
      },
    ],
    status: 0,
    code: 'strip-crosses-itself',
    severity: 'hint',
    ids: ['knot'],
    // Along (160,190) to (100,110): y = 130 a quarter of the way from its end, x = 100 + 60 / 4.
    at: [115, 130],
    others: ['E1>E2'],
  },
  {
    name: 'a strip that leaves the face',
    strips: [
      {
        id: 'out',
        path: [
          [20, 150],
          [500, 150],
        ],
      },
    ],
    status: 1,
    code: 'off-the-face',
    severity: 'wrong',
    ids: ['out'],
    at: [500, 150],
    others: ['E1>E2'],
  },
  {
    name: 'five ends that meet at a spot, all round',
    strips: [0, 72, 144, 216, 288].map((degrees, i) => spoke(`s${i + 1}`, [200, 160], degrees)),
    status: 1,
    code: 'ends-ambiguous',
    severity: 'wrong',
    ids: ['s1', 's2', 's3', 's4', 's5'],
    at: [200, 160],
    // Nothing joins there: each strip is a way by itself. Far ends to the left: s4 above s3; then the five, in the order of strips; then
    // s5 above s2, and s1.
    others: ['E1>E6', 'E2>E5', 'E3>E10', 'E4>E9', 'E7>E8'],
  },
  {
    name: 'five ends that meet at a spot, fanned out from one',
    strips: [180, -28, -12, 12, 28].map((degrees, i) => spoke(`s${i + 1}`, [200, 160], degrees)),
    status: 1,
    code: 'ends-ambiguous',
    severity: 'wrong',
    ids: ['s1', 's2', 's3', 's4', 's5'],
    at: [200, 160],
    // The far end of s1; the five; then by x s2 and s5, s3 and s4, the upper one first.
    others: ['E1>E2', 'E3>E7', 'E4>E9', 'E5>E10', 'E6>E8'],
  },
  {
    name: 'a strip of 10,000 corners',
    strips: [
      {
        id: 'traced',
        path: Array.from({ length: 10_000 }, (_, i) => [20 + i * 0.03, 150 + 20 * Math.sin(i / 500)] as const),
      },
    ],
    status: 0,
    code: 'strip-many-corners',
    severity: 'hint',
    ids: ['traced'],
    at: [20, 150],
    values: { corners: 10_000 },
    others: ['E1>E2'],
  },
  {
    name: 'a lever that works a point that is gone',
    strips: [],
    more: {
      levers: [
        { id: 'L1', at: [80, 240], works: [{ point: 'P1' }, { point: 'P2' }] },
        { id: 'L2', at: [150, 240], works: [{ point: 'P77' }] },
      ],
    },
    status: 1,
    code: 'lever-works-nothing-there',
    severity: 'wrong',
    ids: ['L2'],
    at: [150, 240],
    values: { point: 'P77' },
    others: [],
  },
];

const panelOf = ({ strips, more }: Bad) => ({
  face: { width: 400, height: 300, thickness: 3, material: 'acrylic' },
  strips: [...LOOP, ...strips],
  places: PLACES,
  ...more,
});

describe.each(BAD.map((bad) => [bad.name, bad] as const))('%s', (_, bad) => {
  it(`is ${bad.code} at its place, and nothing else is danger or wrong`, async () => {
    const ran = await runOn(panelOf(bad), 'check', '--json');
    expect(ran.stderr).toBe('');
    expect(ran.status).toBe(bad.status);
    const { findings } = answerSchemas.check.parse(JSON.parse(ran.stdout));
    const found = findings.find(({ code }) => code === bad.code);
    expect(found, findings.map(({ code, message }) => `${code}: ${message}`).join('\n')).toMatchObject({
      severity: bad.severity,
      where: { ids: bad.ids },
    });
    expect(found?.where.at?.[0]).toBeCloseTo(bad.at[0], 6);
    expect(found?.where.at?.[1]).toBeCloseTo(bad.at[1], 6);
    for (const [key, value] of Object.entries(bad.values ?? {})) {
      if (typeof value === 'number') expect(found?.values[key]).toBeCloseTo(value, 6);
      else expect(found?.values[key]).toBe(value);
    }
    const serious = findings.filter(({ severity }) => severity === 'danger' || severity === 'wrong');
    const about = new Set([...bad.ids, ...bad.strips.map(({ id }) => id)]);
    expect(serious.filter(({ where }) => !where.ids.some((id) => about.has(id)))).toEqual([]);
  });

  it('leaves the rest to work', async () => {
    const ran = await runOn(panelOf(bad), 'routes', '--json');
    expect([ran.status, ran.stderr]).toEqual([0, '']);
    const { routes, count } = answerSchemas.routes.parse(JSON.parse(ran.stdout));
    const through = routes.filter(({ from, to }) => from === 'west' && to === 'east');
    expect(through.map(({ points, levers }) => [points, levers === null])).toEqual([
      [{ P1: 'normal', P2: 'normal' }, false],
      [{ P1: 'reverse', P2: 'reverse' }, false],
    ]);
    const others = routes.filter(({ from }) => from !== 'west');
    expect(others.map(({ from, to }) => `${from}>${to}`)).toEqual(bad.others);
    expect(count).toBe(String(routes.length));
    // The file can be solved and built too.
    const solved = await runOn(panelOf(bad), 'solve', '--set', 'L1=reverse', '--json');
    expect([solved.status, solved.stderr]).toEqual([0, '']);
  });
});
