import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { type Random, randomOf } from '../../tests/generate/random.ts';
import { printTracks } from '../../tests/generate/tracks.ts';
import { everyStanding, runPlan } from '../../tests/oracle/every-standing.ts';
import type { Lie, PanelFile } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import { findStandings, type StandingsOptions } from './standings.ts';
import type { Standing, WantedTrain } from './train-types.ts';

const SEED = 20_260_301;
/** Pairs of a standing and how levers lie that brute force looks at. */
const MOST = 12_000;

interface Case {
  readonly panel: PanelFile;
  readonly plan: Plan;
  readonly standing: Standing;
  readonly wanted: readonly WantedTrain[];
  readonly options: StandingsOptions & { readonly levers: Readonly<Record<string, Lie>> };
}

/** Strips on a grid of 40 by 25, wherever they fall: triangles, loops, crossings, and much that does not join. */
function tangle(random: Random): PanelFile {
  const strips = Array.from({ length: random.whole(2, 5) }, (_, i) => ({
    id: `s${i}`,
    path: Array.from({ length: random.whole(2, 4) }, (): [number, number] => [
      40 * random.whole(0, 12),
      25 * random.whole(0, 8),
    ]),
  }));
  const spots = strips.flatMap(({ path }) => {
    const [a, b] = path;
    return a === undefined || b === undefined ? [] : [a, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as [number, number]];
  });
  return { format: 'mimic-panel', version: 1, strips, places: spots.map((at, i) => ({ id: `place${i}`, at })) };
}

/** A triangle, or a balloon, with roads: what turns trains round. */
function turner(random: Random): PanelFile {
  const strips: PanelFile['strips'] = random.chance(50)
    ? [
        {
          id: 'main',
          path: [
            [0, 60],
            [400, 60],
          ],
        },
        {
          id: 'west',
          path: [
            [80, 60],
            [160, 110],
            [200, 210],
          ],
        },
        {
          id: 'east',
          path: [
            [320, 60],
            [240, 110],
            [200, 210],
            [200, 300],
          ],
        },
      ]
    : [
        {
          id: 'loop',
          path: [
            [0, 60],
            [100, 60],
            [200, 60],
            [260, 100],
            [200, 140],
            [140, 100],
            [80, 60],
          ],
        },
        {
          id: 'spur',
          path: [
            [30, 60],
            [70, 25],
            [160, 25],
          ],
        },
      ];
  const places = [
    { id: 'near', at: [20, 60] as [number, number] },
    { id: 'west', at: [0, 60] as [number, number] },
    { id: 'spur', at: [160, 25] as [number, number] },
    { id: 'back', at: [200, 140] as [number, number] },
    { id: 'top', at: [200, 60] as [number, number] },
    { id: 'south', at: [200, 300] as [number, number] },
  ];
  return { format: 'mimic-panel', version: 1, strips, places };
}

/** A neck with a fan of roads, and here and there a road at the other end of them: many plans of as many moves, with other throws. */
function fan(random: Random): PanelFile {
  const roads = random.whole(3, 5);
  const strips: PanelFile['strips'] = [
    {
      id: 'lead',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
  ];
  const places: PanelFile['places'] = [
    { id: 'neck', at: [0, 60] },
    { id: 'road0', at: [300, 60] },
  ];
  for (let i = 1; i < roads; i++) {
    const up = random.chance(50) ? -1 : 1;
    const [x, y] = [40 * i, 60 + up * 25 * i];
    const back = random.chance(25);
    strips.push({
      id: `road${i}`,
      path: [
        [x, 60],
        [x + 40 * i, y],
        ...(back
          ? ([
              [300 - 20 * i, y],
              [300 - 20 * i + 40 * i, 60],
            ] as [number, number][])
          : ([[330, y]] as [number, number][])),
      ],
    });
    places.push({ id: `road${i}`, at: back ? [x + 40 * i + 5, y] : [330, y] });
  }
  return { format: 'mimic-panel', version: 1, strips, places };
}

function caseOf(seed: number): Case | null {
  const random = randomOf(seed);
  const kind = random.whole(0, 14);
  const isFan = kind > 9;
  const drawn =
    kind < 6
      ? generatePanel(seed, random.whole(1, 6))
      : kind < 8
        ? tangle(random)
        : kind < 10
          ? turner(random)
          : fan(random);
  const panel: PanelFile = {
    ...drawn,
    places: (drawn.places ?? []).map(({ length: _, ...place }) =>
      !isFan && random.chance(15)
        ? place
        : { ...place, length: isFan ? random.pick([400, 600, 600, 900]) : random.pick([300, 600, 900, 1200]) },
    ),
  };
  const plan = readPlan(panel);
  if (plan.places.length < 2 || plan.points.length === 0 || plan.points.length > 6) return null;
  const standing = Array.from({ length: isFan ? 3 : random.pick([1, 2, 2, 3, 3]) }, (_, i) => ({
    id: `T${i + 1}`,
    name: null,
    length: !isFan && random.chance(12) ? null : random.pick([200, 300, 400, 600]),
    stands: random.pick(plan.places).id,
    heads: random.chance(40) ? random.pick(plan.places).id : null,
  }));
  const wanted = standing
    .filter((_, i) => i === 0 || random.chance(70))
    .map(({ id, stands }, i) => ({
      train: id,
      place: random.pick(plan.places.filter((place) => i > 0 || place.id !== stands)).id,
      ...(random.chance(25) ? { heads: random.pick(plan.places).id } : {}),
    }));
  return {
    panel,
    plan,
    standing,
    wanted,
    options: {
      levers: Object.fromEntries(plan.levers.map(({ id }) => [id, random.chance(50) ? 'normal' : 'reverse'])),
      othersStay: random.chance(20),
      inOrder: random.chance(30),
    },
  };
}

const print = ({ panel, standing, wanted, options }: Case): string =>
  [printTracks(panel), ...[...standing, ...wanted, options].map((each) => JSON.stringify(each))].join('\n');

describe('trains from standing to standing', () => {
  it(`[TS9] in the fewest moves, then throws, that brute force finds (seed ${SEED})`, () => {
    const counts = { found: 0, asked: 0, refused: 0, far: 0, turned: 0, three: 0 };
    for (let i = 0; counts.three < 150 || counts.found + counts.asked + counts.refused < 400; i++) {
      const each = caseOf(SEED + i);
      if (each === null) continue;
      const { plan, standing, wanted, options } = each;
      const found = findStandings(plan, standing, wanted, options);
      // What cannot be read is refused before any search.
      const isRead = found.outcome !== 'refused' || found.standings > 0;
      const known = everyStanding(plan, standing, wanted, { ...options, most: MOST });
      const hoped = everyStanding(plan, standing, wanted, { ...options, hoped: true, most: MOST });
      if (known === 'far' || hoped === 'far') {
        counts.far += 1;
        continue;
      }
      if (!isRead && found.why.some((why) => /heads|lies neither/.test(why))) continue;
      const says =
        known !== null ? { outcome: 'found', ...known } : hoped !== null ? { outcome: 'asked', ...hoped } : null;
      const short = { outcome: found.outcome, moves: found.moves.length, throws: found.throws };
      expect([short, found.proved], print(each)).toEqual([
        says ?? { outcome: 'refused', moves: 0, throws: null },
        true,
      ]);
      if (says !== null) expect(found.bound, print(each)).toEqual({ moves: says.moves, throws: says.throws });
      if (found.outcome === 'found') {
        const isBetter =
          hoped !== null && known !== null && 100 * hoped.moves + hoped.throws < 100 * known.moves + known.throws;
        expect(found.asks.length > 0, print(each)).toBe(isBetter);
      }
      if (found.outcome === 'stopped') throw new RangeError(print(each));
      counts[found.outcome] += 1;
      if (found.moves.length > 2) counts.three += 1;
      if (found.moves.length > 0 && wanted.some(({ heads }) => heads !== undefined)) counts.turned += 1;
      const ran = runPlan(plan, standing, found.moves, options.levers, found.outcome === 'asked');
      expect(ran.fault, print(each)).toBeNull();
      expect(ran.throws, print(each)).toBe(found.throws ?? 0);
    }
    // Enough of each kind that it says something.
    expect(counts.found + counts.asked).toBeGreaterThan(200);
    expect(counts.turned).toBeGreaterThan(20);
    expect(counts.far).toBeLessThan(40);
  });
});
