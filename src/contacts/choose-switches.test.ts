import { describe, expect, it } from 'vitest';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { chooseSwitches } from './choose-switches.ts';

/** A line with one siding, its point worked by the levers given. */
function choose(more: object, lampPoles?: ReadonlyMap<string, number>): ReturnType<typeof chooseSwitches> {
  const read = checkPanel({
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
        id: 'siding',
        path: [
          [60, 60],
          [100, 85],
          [200, 85],
        ],
      },
    ],
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return chooseSwitches(read.panel, resolveCatalogue(read.panel.parts), readPlan(read.panel), lampPoles);
}

const lever = (more: object) => ({ levers: [{ id: 'L1', works: [{ point: 'P1' }], ...more }] });

describe('chooseSwitches', () => {
  it('[CO1] takes the smallest standard toggle that serves: two poles for a reversing feed, one for every other; for a pulse one that springs back', () => {
    const reversing = choose({}).switches[0];
    expect([reversing?.part.id, reversing?.poles, reversing?.given]).toEqual(['toggle-2p', ['feed', 'feed'], false]);
    const pulse = choose({ feed: { kind: 'pulse' } }).switches[0];
    expect([pulse?.part.id, pulse?.poles]).toEqual(['toggle-1p-sprung', ['feed']]);
    for (const kind of ['split', 'half-wave', 'charge', 'contact']) {
      const held = choose({ feed: { kind } }).switches[0];
      expect([held?.part.id, held?.poles]).toEqual(['toggle-1p', ['feed']]);
    }
  });

  it('[CO2] keeps the part that the file names, and tells its spare poles', () => {
    const { switches, problems } = choose(lever({ switch: 'mini-toggle-4p' }));
    expect(switches[0]?.part.id).toBe('mini-toggle-4p');
    expect(switches[0]?.poles).toEqual(['feed', 'feed', 'spare', 'spare']);
    expect([switches[0]?.used, switches[0]?.given]).toEqual([2, true]);
    expect(problems).toEqual([]);
  });

  it('[CO3] keeps a part with too few poles, uses none of them, and says what would do: of the same kind', () => {
    const { switches, problems } = choose(lever({ switch: 'toggle-1p-centre-off' }));
    expect([switches[0]?.part.id, switches[0]?.used, switches[0]?.poles]).toEqual([
      'toggle-1p-centre-off',
      0,
      ['spare'],
    ]);
    expect(problems).toEqual([
      {
        code: 'switch-too-few-poles',
        lever: 'L1',
        part: 'toggle-1p-centre-off',
        has: 1,
        needs: 2,
        useInstead: 'toggle-2p-centre-off',
      },
    ]);
  });

  it('[CO4] reports a part that is not there, or that is no switch, and takes the smallest that serves', () => {
    for (const part of ['no-such-part', 'led-3-red']) {
      const { switches, problems } = choose(lever({ switch: part }));
      expect([switches[0]?.part.id, switches[0]?.used]).toEqual(['toggle-2p', 2]);
      expect(problems).toEqual([{ code: 'switch-unknown', lever: 'L1', part }]);
    }
  });

  it('[CO5] reports a sprung switch where the feed must be held, and not where it is a pulse', () => {
    const sprung = lever({ switch: 'toggle-2p-sprung' });
    expect(choose(sprung).problems.map((each) => each.code)).toEqual(['switch-sprung-on-held-feed']);
    expect(choose({ ...sprung, feed: { kind: 'pulse' } }).problems).toEqual([]);
  });

  it("[CO6] a lever's own feed counts before the panel's; a lever without points has a switch as well", () => {
    const { switches } = choose({
      feed: { kind: 'pulse' },
      levers: [
        { id: 'L1', works: [{ point: 'P1' }], feed: { kind: 'reversing' } },
        { id: 'L2', works: [] },
      ],
    });
    expect(switches.map((each) => [each.lever, each.part.id])).toEqual([
      ['L1', 'toggle-2p'],
      ['L2', 'toggle-1p-sprung'],
    ]);
  });

  it('[CO11] poles that light lamps come behind those of the feed, and the smallest toggle grows with them', () => {
    const poles = new Map([['L1', 1]]);
    const three = choose({}, poles).switches[0];
    expect([three?.part.id, three?.poles, three?.used]).toEqual(['toggle-3p', ['feed', 'feed', 'lamps'], 3]);
    const two = choose({ feed: { kind: 'charge' } }, poles).switches[0];
    expect([two?.part.id, two?.poles]).toEqual(['toggle-2p', ['feed', 'lamps']]);
    const named = choose(lever({ switch: 'mini-toggle-4p' }), poles).switches[0];
    expect([named?.part.id, named?.poles]).toEqual(['mini-toggle-4p', ['feed', 'feed', 'lamps', 'spare']]);
  });

  it('[CO11] a named part with poles for the feed and none for its lamps has too few', () => {
    const { switches, problems } = choose(lever({ switch: 'toggle-2p' }), new Map([['L1', 2]]));
    expect(switches[0]?.used).toBe(0);
    expect(problems).toEqual([
      { code: 'switch-too-few-poles', lever: 'L1', part: 'toggle-2p', has: 2, needs: 4, useInstead: 'toggle-4p' },
    ]);
  });
});
