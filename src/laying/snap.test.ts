import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyStroke } from '../../tests/generate/hand.ts';
import { generatePanel } from '../../tests/generate/panels.ts';
import { randomOf } from '../../tests/generate/random.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, type PanelFile } from '../panel/index.ts';
import { handlesOf, SNAP_KINDS, snap, snapContext, snapMove } from './index.ts';

const SEED = 20261201;
const MAIN = tracks('main 0,60 400,60\nquay 50,101 300,101\nlead 200,101 260,138.5', {
  lamps: [{ id: 'H1', at: [77, 60] }],
  levers: [{ id: 'L1', at: [333, 200] }],
});
const still = snapContext(MAIN);
const reach = 4;

describe('where a dragged spot falls', () => {
  it('on an end first', () => {
    const at = snap(still, [48.2, 99], { reach });
    expect(at).toMatchObject({ at: [50, 101], by: 'end', what: ['quay'] });
  });

  it('where the last segment meets a strip at 32 degrees, by the foot', () => {
    const found = snap(still, [148, 61], { reach, from: [100, 90] });
    // 30 / tan 32 degrees = 48.010 mm beside the foot of the square.
    expect(found).toMatchObject({ at: [148.01, 60], by: 'join', what: ['main'] });
    expect(found.guides).toEqual([{ from: [100, 90], to: [148.01, 60] }]);
  });

  it('along the direction of another strip', () => {
    // The lead lies at atan(37.5 / 60) = 32.005 degrees, the line from 120,20 at 30 degrees is none of it.
    const slanted = tracks('main 0,60 400,60\nlead 100,60 140,100');
    const found = snap(snapContext(slanted), [240, 61], { reach, from: [201, 20] });
    expect(found).toMatchObject({ at: [241, 60], by: 'angle', what: ['main', 'lead'] });
  });

  it('on a strip, on the grid along it', () => {
    expect(snap(still, [121.3, 62], { reach })).toMatchObject({ at: [122, 60], by: 'strip', what: ['main'] });
  });

  it('on a slanted strip at the nearest spot', () => {
    const found = snap(still, [230, 120], { reach, only: 'strip' });
    const [x, y] = found.at;
    expect((y - 101) / (x - 200)).toBeCloseTo(37.5 / 60, 3);
  });

  it('in line with things, with the line to show', () => {
    const across = snap(still, [332, 151.2], { reach });
    expect(across).toMatchObject({ at: [333, 152], by: 'line', what: ['L1'] });
    expect(across.guides).toEqual([{ from: [333, 200], to: [333, 152] }]);
    const both = snap(still, [332, 139], { reach });
    expect(both).toMatchObject({ at: [333, 138.5], by: 'cross', what: ['L1', 'lead'] });
  });

  it('across, down, and at 32 degrees from the segment before', () => {
    const bare = snapContext(tracks(''));
    expect(snap(bare, [151, 21.5], { reach, from: [100, 20] })).toMatchObject({ at: [152, 20], by: 'way' });
    expect(snap(bare, [101, 75], { reach, from: [100, 20] })).toMatchObject({ at: [100, 76], by: 'way' });
    const bent = snap(bare, [150, 52], { reach, from: [100, 20], before: [40, 20] });
    expect(bent.by).toBe('way');
    expect((bent.at[1] - 20) / (bent.at[0] - 100)).toBeCloseTo(Math.tan((32 * Math.PI) / 180), 4);
    expect(bent.at[1] % 2).toBe(0);
  });

  it('on the grid last, and free where it is asked', () => {
    const bare = snapContext(tracks(''));
    expect(snap(bare, [13.4, 7.1], { reach })).toMatchObject({ at: [14, 8], by: 'grid' });
    expect(snap(still, [48.2001, 99], { reach, free: true })).toMatchObject({ at: [48.2, 99], by: 'free', others: [] });
    expect(snap(bare, [13.4, 7.1], { reach: 0.3 })).toMatchObject({ at: [13.4, 7.1], by: 'free' });
    expect(snap(bare, [Number.NaN, 7.1], { reach }).by).toBe('free');
  });

  it('the next candidates one after the other, round and round', () => {
    const spots = [0, 1, 2].map((turn) => snap(still, [48.2, 100], { reach, turn }));
    expect(spots.map(({ by }) => by)).toEqual(['end', ...(spots[0]?.others ?? []).slice(0, 2).map(({ by }) => by)]);
    const count = 1 + (spots[0]?.others.length ?? 0);
    expect(snap(still, [48.2, 100], { reach, turn: count })).toEqual(spots[0]);
    expect(snap(still, [48.2, 100], { reach, only: 'grid' })).toMatchObject({ by: 'grid', at: [48, 100] });
  });

  it('not on what moves with it', () => {
    const context = snapContext(MAIN, [{ list: 'strips', id: 'quay', part: 0 }]);
    expect(snap(context, [49, 101], { reach, only: 'end' }).by).toBe('free');
    expect(snap(context, [299, 101], { reach })).toMatchObject({ at: [300, 101], by: 'end' });
  });
});

describe('a moved selection', () => {
  it('falls by its own ends', () => {
    const moving = [{ list: 'strips', id: 'lead' } as const];
    const context = snapContext(MAIN, moving);
    const moved = snapMove(context, handlesOf(MAIN, moving), [-148.2, 1.3], { reach });
    expect(moved.by).toEqual([-150, 0]);
    expect(moved.held).toMatchObject({ by: 'end', what: ['quay'] });
    expect(snapMove(context, handlesOf(MAIN, moving), [3, 3], { reach, free: true })).toEqual({
      by: [3, 3],
      held: null,
    });
  });
});

function busy(seed: number): PanelFile {
  const random = randomOf(seed);
  let panel = generatePanel(seed, random.whole(1, 12));
  for (let i = 0; i < 12; i++) {
    const tx = anyStroke(panel, random);
    if (tx !== null) panel = applyTransaction(panel, tx);
  }
  return panel;
}

describe('snapping', () => {
  it(`is idempotent and never moves a spot further than its reach (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.nat(100_000), fc.double({ min: 0.1, max: 12, noNaN: true }), (seed, within) => {
        const panel = busy(seed);
        const context = snapContext(panel);
        const random = randomOf(seed + 1);
        const corners = panel.strips.flatMap(({ path }) => path);
        const near = (): [number, number] => {
          const [x, y] = corners.length > 0 && random.chance(70) ? random.pick(corners) : [300, 150];
          return [x + random.next() * 40 - 20, y + random.next() * 40 - 20];
        };
        for (let i = 0; i < 40; i++) {
          const [from, before, spot] = [near(), near(), near()];
          const options = {
            reach: within,
            ...(random.chance(70) ? { from } : {}),
            ...(random.chance(50) ? { before } : {}),
            ...(random.chance(20) ? { grid: 0 } : {}),
            ...(random.chance(20) ? { only: random.pick(SNAP_KINDS) } : {}),
          };
          const once = snap(context, spot, options);
          // Rounding to 0.001 mm comes before the reach is measured.
          expect(Math.hypot(once.at[0] - spot[0], once.at[1] - spot[1])).toBeLessThanOrEqual(within + 0.001);
          const twice = snap(context, once.at, options);
          expect(
            twice.at,
            JSON.stringify({ spot, options, once: [once.at, once.by], twice: [twice.at, twice.by] }),
          ).toEqual(once.at);
          for (const { at } of once.others)
            expect(Math.hypot(at[0] - spot[0], at[1] - spot[1])).toBeLessThanOrEqual(within + 0.001);
        }
      }),
      { seed: SEED, numRuns: 60 },
    );
  });
});
