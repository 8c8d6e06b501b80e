/** Routes counted, cut and moved, on panels written by hand; every expectation was worked out on paper. */
import { describe, expect, it } from 'vitest';
import { loopsInARow, yardsInSeries } from '../generate/yards.ts';
import { answerOn, runOn } from './by-hand.ts';

describe('a list that is cut', () => {
  // 20 loops in a row: 2^20 ways from end to end.
  const panel = { strips: loopsInARow(20).strips, places: loopsInARow(20).places };

  it('says how many routes there are, how many are listed, and what to do', async () => {
    const { stdout, status } = await runOn(panel, 'routes');
    expect(status).toBe(0);
    const [, counted = '', stop = ''] = stdout.split('\n');
    expect(counted).toMatch(/^1,048,576 routes; the first 5,000 are listed, /);
    expect(stop).toBe('The list stops at 5,000. Ask for the routes between two places with --from and --to.');
  });

  it('has the count beside it, and gives those between two places of which it has none', async () => {
    // A short line below, whose places stand last.
    const short = {
      id: 'short',
      path: [
        [0, 200],
        [200, 200],
      ],
    };
    const places = [
      ...(panel.places ?? []),
      { id: 'a', name: 'A', at: [0, 200] },
      { id: 'b', name: 'B', at: [200, 200] },
    ];
    const both = { strips: [...panel.strips, short], places };
    // Two million pairs: read plainly, not against the published shape.
    const whole = JSON.parse((await runOn(both, 'routes', '--json')).stdout) as Record<string, unknown>;
    // All go from end to end, so each two have the first span in common.
    const pairs = (5_000 * 4_999) / 2;
    expect(whole).toMatchObject({ cut: true, limit: 5_000, count: '1048577', counted: 'exact', conflictCount: pairs });
    expect([whole.routes, whole.conflicts].map((list) => Array.isArray(list) && list.length)).toEqual([
      5_000, 2_000_000,
    ]);
    const part = await answerOn(both, 'routes', '--from', 'B', '--to', 'A');
    expect(part).toMatchObject({ cut: false, count: '1', counted: 'exact', conflicts: [], conflictCount: 0 });
    expect(part.routes.map(({ from, to, faceLength }) => [from, to, faceLength])).toEqual([['a', 'b', 200]]);
  });

  it('is not cut where all fit: two yards of 12 roads, 144 ways', async () => {
    const { strips, places } = yardsInSeries(2, 12);
    const answer = await answerOn({ strips, places }, 'routes');
    expect(answer).toMatchObject({ cut: false, count: '144', counted: 'exact' });
    expect(answer.routes).toHaveLength(144);
  });
});

describe('a move', () => {
  /** A stub yard of two roads off a line with a headshunt: to go from road to road a train turns back at the headshunt or the line. */
  const yard = (lengths: Readonly<Record<string, number>>) => ({
    name: 'Bramble Siding',
    strips: [
      {
        id: 'one',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'two',
        path: [
          [100, 60],
          [140, 85],
          [300, 85],
        ],
      },
    ],
    places: [
      { id: 'head', name: 'Headshunt', at: [0, 60] },
      { id: 'yard-1', name: 'Yard 1', at: [300, 60] },
      { id: 'yard-2', name: 'Yard 2', at: [300, 85] },
    ].map((place) => (lengths[place.id] === undefined ? place : { ...place, length: lengths[place.id] })),
  });

  it('is refused where the train is too long, in words', async () => {
    const { moves } = await answerOn(
      yard({ head: 1200, 'yard-1': 1000, 'yard-2': 800 }),
      'routes',
      '--from',
      'Yard 1',
      '--to',
      'Yard 2',
      '--length',
      '900',
    );
    expect(moves).toMatchObject({
      outcome: 'refused',
      legs: [],
      asks: [],
      why: ['Yard 2 holds 800 mm, the train is 900 mm'],
    });
    const text = await runOn(
      yard({ head: 1200, 'yard-1': 1000, 'yard-2': 800 }),
      'routes',
      '--from',
      'Yard 1',
      '--to',
      'Yard 2',
      '--length',
      '900',
    );
    expect(text.stdout).toContain('Yard 2 holds 800 mm, the train is 900 mm');
  });

  it('asks for a length that the file does not give', async () => {
    const { moves } = await answerOn(
      yard({ 'yard-1': 1000, 'yard-2': 1000 }),
      'routes',
      '--from',
      'Yard 1',
      '--to',
      'Yard 2',
      '--length',
      '900',
    );
    expect(moves).toMatchObject({
      outcome: 'asked',
      asks: [{ place: 'head', question: 'How long may a train be to stand at Headshunt?' }],
    });
  });

  it('is found where all fit: out, back, one reversal', async () => {
    const { moves } = await answerOn(
      yard({ head: 900, 'yard-1': 800, 'yard-2': 900 }),
      'routes',
      '--from',
      'Yard 1',
      '--to',
      'Yard 2',
      '--length',
      '900',
    );
    expect(moves).toMatchObject({ outcome: 'found', reversals: 1, asks: [], why: [] });
    expect(moves?.legs.map(({ from, to, turns, points }) => [from, to, turns, points])).toEqual([
      ['yard-1', 'head', false, { P1: 'normal' }],
      ['head', 'yard-2', true, { P1: 'reverse' }],
    ]);
  });
});
