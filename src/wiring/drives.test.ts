import { describe, expect, it } from 'vitest';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { wireDrives } from './drives.ts';
import type { WiringProblem } from './types.ts';

/** A passing loop: P1 at its left end, P2 at its right. */
function drives(more: object) {
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
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const problems: WiringProblem[] = [];
  const found = wireDrives(read.panel, resolveCatalogue(read.panel.parts), readPlan(read.panel), problems);
  return { found, problems };
}

const points = (one: object, two: object = {}) => [
  { id: 'P1', at: [60, 60], ...one },
  { id: 'P2', at: [240, 60], ...two },
];
const bothOn = (works: object[]) => [{ id: 'L1', works }];

describe('wireDrives', () => {
  it('[DR1] a point without a word has a stall drive of its own, called by its id', () => {
    expect(drives({}).found.map(({ id, points: moved, part, a, b }) => [id, ...moved, part.id, a, b])).toEqual([
      ['P1', 'P1', 'stall-2-wire', 'P1.a', 'P1.b'],
      ['P2', 'P2', 'stall-2-wire', 'P2.a', 'P2.b'],
    ]);
  });

  it('[DR2] two points may share a record; the first in the file names it; order is that of the file', () => {
    const { found } = drives({
      points: [
        { id: 'P2', at: [240, 60], drive: 'D1' },
        { id: 'P1', at: [60, 60], drive: 'D1' },
      ],
      drives: [{ id: 'D1', part: 'limit-2-wire' }],
      levers: bothOn([{ point: 'P1' }, { point: 'P2' }]),
    });
    expect(found.map(({ id, points: moved, part }) => [id, moved, part.id])).toEqual([
      ['D1', ['P2', 'P1'], 'limit-2-wire'],
    ]);
  });

  it('[DR3] tag a is plus with the lever normal unless an odd number of: point opposite to drive, lever opposite, positive reverse', () => {
    for (const sense of ['same', 'opposite'] as const)
      for (const opposite of [false, true])
        for (const positive of ['normal', 'reverse'] as const) {
          const { found } = drives({
            points: points({ drive: 'D1', sense }),
            drives: [{ id: 'D1', positive }],
            levers: bothOn([{ point: 'P1', opposite }, { point: 'P2' }]),
          });
          const turned = [sense === 'opposite', opposite, positive === 'reverse'].filter(Boolean).length;
          expect([found[0]?.plusToA, found[0]?.whenNormal], `${sense} ${opposite} ${positive}`).toEqual([
            turned % 2 === 0,
            opposite ? 'reverse' : 'normal',
          ]);
        }
  });

  it('[DR4] reports points of one drive that want it both ways, or that two levers work', () => {
    const shared = { points: points({ drive: 'D1' }, { drive: 'D1' }), drives: [{ id: 'D1' }] };
    const pulled = drives({ ...shared, levers: bothOn([{ point: 'P1' }, { point: 'P2', opposite: true }]) });
    expect(pulled.problems).toEqual([
      { code: 'drive-pulled-both-ways', drive: 'D1', lever: 'L1', points: ['P1', 'P2'] },
    ]);
    const two = drives(shared);
    expect(two.problems).toEqual([{ code: 'drive-two-levers', drive: 'D1', levers: ['L1', 'L2'] }]);
    expect(two.found[0]?.circuit).toBe('L1');
    // Opposite in lever and opposite in sense: the drive goes one way.
    const agreed = drives({
      points: points({ drive: 'D1' }, { drive: 'D1', sense: 'opposite' }),
      drives: [{ id: 'D1' }],
      levers: bothOn([{ point: 'P1' }, { point: 'P2', opposite: true }]),
    });
    expect(agreed.problems).toEqual([]);
  });

  it('[DR5] reports a drive that is neither record nor part, and a part that is none, and takes the usual one', () => {
    const { found, problems } = drives({
      points: points({ drive: 'nothing' }, { drive: 'D2' }),
      drives: [{ id: 'D2', part: 'led-3-red' }],
    });
    expect(found.map((each) => [each.id, each.part.id])).toEqual([
      ['P1', 'stall-2-wire'],
      ['D2', 'stall-2-wire'],
    ]);
    expect(problems).toEqual([
      { code: 'drive-unknown', point: 'P1', drive: 'nothing' },
      { code: 'drive-part-unknown', drive: 'D2', part: 'led-3-red' },
    ]);
  });

  it('[DR9] takes what is there already by its reading on the meter, whatever part it is', () => {
    const { found, problems } = drives({
      points: points({ drive: 'D1' }),
      drives: [{ id: 'D1', part: 'no-name', existing: true, measured: { amps: 0.02, volts: 10 } }],
    });
    expect(problems).toEqual([]);
    // 10 V / 0.02 A.
    expect(found.slice(0, 1).map(({ id, ohms, measured }) => [id, ohms, measured])).toEqual([['D1', 500, true]]);
  });

  it('[DR6] a stalled motor is a resistance, its band the part’s; a measured one goes by the meter; a limit-switched one is open', () => {
    const one = (record: object, part = 'stall-2-wire') =>
      drives({ points: points({ drive: 'D1' }), drives: [{ id: 'D1', part, ...record }] }).found[0];
    // 12 V / 15 mA = 800 ohm, 20 %.
    expect([one({})?.ohms, one({})?.ampsBand, one({})?.measured]).toEqual([800, 0.2, false]);
    // Measured at the part's 12 V: 12 / 14.8 mA; 1 % and two digits of 0.1 mA.
    const read = one({ measured: { amps: 0.0148 } });
    expect(read?.ohms).toBeCloseTo(12 / 0.0148, 9);
    expect(read?.ampsBand).toBeCloseTo(0.01 + 0.0002 / 0.0148, 12);
    // At 9 V, 11 mA: the digits are of the 11 mA that were read, whatever the part draws at 12 V.
    const atNine = one({ measured: { amps: 0.011, volts: 9 } });
    expect(atNine?.ohms).toBeCloseTo(9 / 0.011, 9);
    expect(atNine?.ampsBand).toBeCloseTo(0.01 + 0.0002 / 0.011, 12);
    // Volts alone are no reading.
    expect([one({ measured: { volts: 9 } })?.ohms, one({ measured: { volts: 9 } })?.measured]).toEqual([800, false]);
    expect([one({ measured: { amps: 0 } })?.ohms, one({ measured: { amps: 0 } })?.ampsBand]).toEqual([null, 0]);
    expect(one({}, 'limit-2-wire')?.ohms).toBeNull();
  });

  it('[DR7] the wire is 3 m of 0.22 mm2 unless the record says: a guess as long as no one gave its length', () => {
    const wire = (more: object) =>
      drives({ points: points({ drive: 'D1' }), drives: [{ id: 'D1', ...more }] }).found[0]?.wire;
    expect(wire({})).toEqual({ length: 3000, gauge: 0.22, guess: true });
    expect(wire({ wire: { gauge: 0.5 } })).toEqual({ length: 3000, gauge: 0.5, guess: true });
    expect(wire({ wire: { length: 4500 } })).toEqual({ length: 4500, gauge: 0.22, guess: false });
  });

  it('[DR8] a point that no lever works goes where the drive that it shares takes it', () => {
    const { found } = drives({
      points: points({ drive: 'D1' }, { drive: 'D1', sense: 'opposite' }),
      drives: [{ id: 'D1' }],
      levers: bothOn([{ point: 'P2' }]),
    });
    // Lever normal: P2 normal, so the drive reverse, so P1 reverse; tag a is plus for normal, so now it is minus.
    expect(found[0]).toMatchObject({
      circuit: 'L1',
      plusToA: false,
      whenNormal: 'reverse',
      asks: [
        { point: 'P1', whenNormal: null, goes: 'reverse' },
        { point: 'P2', whenNormal: 'normal', goes: 'normal' },
      ],
    });
  });
});
