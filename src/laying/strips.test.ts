import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { done } from '../../tests/generate/done.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { guidePath, pathText } from '../face/index.ts';
import { applyTransaction, type PanelFile, stripBend } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import {
  addBend,
  drawOn,
  joinStripEnds,
  laidBy,
  layStrip,
  liftStrips,
  mirrorThings,
  moveCorner,
  moveStrips,
  reorderStrips,
  setStrip,
  splitStripAt,
  takeOutBend,
  turnRound,
} from './index.ts';

const SEED = 20261210;

const pathOf = (panel: PanelFile, id: string) => panel.strips.find((strip) => strip.id === id)?.path;
const BARE = tracks('');
const LOOP = tracks('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60', {
  lamps: [
    { id: 'H1', at: [150, 85], shows: { P1: 'reverse' } },
    { id: 'H2', at: [80, 72.5] },
    { id: 'H3', at: [150, 60] },
  ],
});

describe('a strip is laid', () => {
  it('with the look of the one laid last, rounded to 0.001 mm', () => {
    const first = done(
      BARE,
      layStrip(
        BARE,
        [
          [0, 60.00049],
          [300, 60],
        ],
        { width: 6, tape: 'oxide', name: 'Quay line' },
      ),
    );
    expect(first.strips).toEqual([
      {
        id: 'strip-1',
        width: 6,
        tape: 'oxide',
        name: 'Quay line',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
    ]);
    const tx = layStrip(first, [
      [0, 100],
      [0, 100],
      [300, 100],
    ]);
    expect(tx === null ? [] : laidBy(tx).filter(({ list }) => list === 'strips')).toEqual([
      { list: 'strips', id: 'strip-2' },
    ]);
    const second = done(first, tx);
    expect(second.strips[1]).toEqual({
      id: 'strip-2',
      width: 6,
      tape: 'oxide',
      path: [
        [0, 100],
        [300, 100],
      ],
    });
  });

  it('but none shorter than 6 mm, and none that a file would not take', () => {
    expect(
      layStrip(BARE, [
        [0, 60],
        [5.9, 60],
      ]),
    ).toBe(null);
    expect(layStrip(BARE, [[0, 60]])).toBe(null);
    expect(layStrip(BARE, [])).toBe(null);
    expect(
      layStrip(BARE, [
        [0, 60],
        [Number.NaN, 60],
      ]),
    ).toBe(null);
    expect(
      layStrip(BARE, [
        [0, 60],
        [Infinity, 60],
      ]),
    ).toBe(null);
    expect(
      layStrip(BARE, [
        [0, 60],
        [2e6, 60],
      ]),
    ).toBe(null);
    expect(
      layStrip(
        BARE,
        [
          [0, 60],
          [100, 60],
        ],
        { width: 0 },
      ),
    ).toBe(null);
  });

  it('a retired id is never issued again', () => {
    const panel: PanelFile = { ...BARE, retired: ['strip-1'] };
    expect(
      done(
        panel,
        layStrip(panel, [
          [0, 0],
          [10, 0],
        ]),
      ).strips[0]?.id,
    ).toBe('strip-2');
  });
});

describe('a strip is moved', () => {
  it('whole, with the lamps on its tape', () => {
    const after = done(LOOP, moveStrips(LOOP, ['loop'], [10, 0]));
    expect(pathOf(after, 'loop')?.[1]).toEqual([110, 85]);
    expect(after.lamps?.map(({ at }) => at)).toEqual([
      [160, 85],
      [90, 72.5],
      [150, 60],
    ]);
    expect(readPlan(after).points.map(({ id }) => id)).toEqual(['P1', 'P2']);
    const bare = done(LOOP, moveStrips(LOOP, ['loop'], [10, 0], { carry: false }));
    expect(bare.lamps).toEqual(LOOP.lamps);
    expect(moveStrips(LOOP, ['nobody'], [10, 0])).toBe(null);
    expect(moveStrips(LOOP, ['loop'], [0, 0])).toBe(null);
  });

  it('by a corner: lamps keep their share of the segment', () => {
    const after = done(LOOP, moveCorner(LOOP, 'loop', 1, [120, 97.5]));
    // H1 at half of 100..200 is now at half of 120..200; H2 at half of the first leg.
    expect(after.lamps?.map(({ at }) => at)).toEqual([
      [160, 91.25],
      [90, 78.75],
      [150, 60],
    ]);
    expect(moveCorner(LOOP, 'loop', 9, [0, 0])).toBe(null);
    expect(moveCorner(BARE, 'loop', 0, [0, 0])).toBe(null);
  });

  it('a frame of a drag carries no names', () => {
    const tx = moveCorner(LOOP, 'loop', 0, [40, 60], { draft: true, carry: false });
    expect(tx?.changes.map((change) => ('list' in change ? change.list : change.key))).toEqual(['strips']);
  });
});

describe('a strip is bent', () => {
  it('a corner is put in where nothing moves, and taken out', () => {
    const bent = done(LOOP, addBend(LOOP, 'main', [120, 64]));
    expect(pathOf(bent, 'main')).toEqual([
      [0, 60],
      [120, 60],
      [300, 60],
    ]);
    expect(addBend(bent, 'main', [120, 61])).toBe(null);
    expect(pathOf(done(bent, takeOutBend(bent, 'main', 1)), 'main')).toEqual([
      [0, 60],
      [300, 60],
    ]);
    expect(takeOutBend(LOOP, 'main', 0)).toBe(null);
  });

  it('lamps of a bend that goes are laid on the strip again', () => {
    const after = done(LOOP, takeOutBend(LOOP, 'loop', 1));
    const [x, y] = after.lamps?.[1]?.at ?? [0, 0];
    expect((y - 60) / (x - 60)).toBeCloseTo(25 / 140, 3);
  });

  it('it is drawn on from either end', () => {
    expect(
      pathOf(
        done(
          LOOP,
          drawOn(LOOP, 'main', 1, [
            [350, 60],
            [380, 90],
          ]),
        ),
        'main',
      )?.slice(-2),
    ).toEqual([
      [350, 60],
      [380, 90],
    ]);
    expect(
      pathOf(
        done(
          LOOP,
          drawOn(LOOP, 'main', 0, [
            [-20, 70],
            [-40, 70],
          ]),
        ),
        'main',
      )?.[0],
    ).toEqual([-40, 70]);
    expect(drawOn(LOOP, 'main', 1, [])).toBe(null);
  });
});

describe('strips are split, joined and turned', () => {
  it('a split keeps points, lamps, levers and places', () => {
    const named = tracks('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60\n@road Loop 150,85', {
      lamps: LOOP.lamps ?? [],
      levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }],
    });
    const after = done(named, splitStripAt(named, 'main', [60, 60]));
    const plan = readPlan(after);
    expect(after.strips.map(({ id }) => id)).toEqual(['main', 'main-1', 'loop']);
    expect(plan.points.map(({ id }) => id)).toEqual(['P1', 'P2']);
    expect(plan.places.find(({ id }) => id === 'road')?.name).toBe('Loop');
    expect([after.lamps, after.levers]).toEqual([named.lamps, named.levers]);
    expect(splitStripAt(named, 'main', [1, 60])).toBe(null);
    expect(splitStripAt(named, 'nobody', [1, 60])).toBe(null);
    expect(splitStripAt(named, 'main', [Number.NaN, 60])).toBe(null);
  });

  it(`split and joined again it is the same drawn line (seed ${SEED})`, () => {
    const coordinate = fc.double({ min: 0, max: 600, noNaN: true });
    const path = fc.array(fc.tuple(coordinate, coordinate), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(path, fc.tuple(coordinate, coordinate), fc.boolean(), (corners, at, back) => {
        const laid = layStrip(BARE, corners);
        if (laid === null) return;
        const panel = applyTransaction(BARE, laid);
        const split = splitStripAt(panel, 'strip-1', at);
        if (split === null) return;
        let parted = applyTransaction(panel, split);
        if (back) parted = done(parted, turnRound(parted, 'strip-1-1'));
        const joined = done(parted, joinStripEnds(parted, 'strip-1', 'strip-1-1'));
        const drawn = ({ strips: [strip] }: PanelFile) =>
          strip === undefined ? '' : pathText(guidePath(strip.path, stripBend(strip)));
        expect(drawn(joined)).toBe(drawn(panel));
      }),
      {
        seed: SEED,
        numRuns: 300,
        examples: [
          [
            [
              [0, 0],
              [100, 0],
              [100, 0.5],
              [200, 0.5],
            ],
            [100, 0.25],
            false,
          ],
        ],
      },
    );
  });

  it('strips join end to end whichever way they lie, with their lengths', () => {
    const two = tracks('a 100,60 0,60 layoutLength=500\nb 200,60 101,61 layoutLength=700');
    const after = done(two, joinStripEnds(two, 'a', 'b'));
    expect(after.strips).toEqual([
      {
        id: 'a',
        path: [
          [200, 60],
          [101, 61],
          [100, 60],
          [0, 60],
        ],
        layoutLength: 1200,
      },
    ]);
    expect(after.retired).toContain('b');
    expect(joinStripEnds(LOOP, 'main', 'loop')).toBe(null);
    expect(joinStripEnds(two, 'a', 'a')).toBe(null);
  });

  it('turned round it means the same', () => {
    const after = done(LOOP, turnRound(LOOP, 'loop'));
    expect(pathOf(after, 'loop')?.[0]).toEqual([240, 60]);
    expect(readPlan(after).points.map(({ id, at }) => [id, at])).toEqual(
      readPlan(LOOP).points.map(({ id, at }) => [id, at]),
    );
  });
});

describe('feeds and gaps of the rails', () => {
  const fed: PanelFile = {
    ...tracks('main 0,60 150,60\neast 300,60 150,60\nquay 0,100 300,100'),
    track: {
      feeds: [{ at: [40, 62] }, { at: [40, 100] }],
      gaps: [
        { at: [100, 60], rail: 'left' },
        { at: [200, 60], rail: 'right' },
        { at: [100, 100], rail: 'both' },
      ],
    },
  };
  const gaps = (panel: PanelFile) => panel.track?.gaps?.map(({ at, rail }) => [...at, rail]);

  it('go along with their strip', () => {
    const moved = done(fed, moveStrips(fed, ['main'], [5, -10]));
    expect(moved.track?.feeds?.map(({ at }) => at)).toEqual([
      [45, 52],
      [40, 100],
    ]);
    expect(gaps(moved)?.[0]).toEqual([105, 50, 'left']);
    expect(gaps(done(fed, moveCorner(fed, 'main', 0, [50, 60])))?.[0]).toEqual([116.667, 60, 'left']);
  });

  it('change hands where the strip is turned round, joined the other way or mirrored', () => {
    expect(gaps(done(fed, turnRound(fed, 'main')))).toEqual([
      [100, 60, 'right'],
      [200, 60, 'right'],
      [100, 100, 'both'],
    ]);
    expect(gaps(done(fed, joinStripEnds(fed, 'main', 'east')))?.[1]).toEqual([200, 60, 'left']);
    const mirrored = done(fed, mirrorThings(fed, [{ list: 'strips', id: 'main' }], 'left-right'));
    expect(gaps(mirrored)?.[0]).toEqual([50, 60, 'right']);
  });
});

describe('figures of a strip', () => {
  it('are set as typed, or taken out', () => {
    const after = done(LOOP, setStrip(LOOP, ['main', 'loop'], { width: 6, name: 'Platform loop' }));
    expect(after.strips.map(({ width, name }) => [width, name])).toEqual([
      [6, 'Platform loop'],
      [6, 'Platform loop'],
    ]);
    expect('width' in (done(after, setStrip(after, 'main', { width: undefined })).strips[0] ?? {})).toBe(false);
    expect(setStrip(after, 'main', { width: 6 })).toBe(null);
    expect(setStrip(LOOP, 'main', { width: -3 })).toBe(null);
    expect(setStrip(LOOP, 'main', { bend: Number.NaN })).toBe(null);
  });

  it('later strips lie on top', () => {
    expect(done(LOOP, reorderStrips(LOOP, ['main'], 'front')).strips.map(({ id }) => id)).toEqual(['loop', 'main']);
    expect(reorderStrips(LOOP, ['main'], 'back')).toBe(null);
  });
});

describe('a strip is lifted', () => {
  const worked: PanelFile = {
    ...LOOP,
    levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
    lampGroups: [{ id: 'G1', lamps: ['H1', 'H3'] }],
  };

  it('what stood on it is named and stays', () => {
    const lifted = liftStrips(worked, ['loop']);
    expect(lifted).toMatchObject({ lamps: ['H1', 'H2'], points: ['P1', 'P2'], places: [], levers: ['L1'] });
    const after = done(worked, lifted.edit);
    expect(after.lamps).toEqual(worked.lamps);
    expect(after.retired).toEqual(['loop', 'P1', 'P2']);
  });

  it('or goes along', () => {
    const after = done(worked, liftStrips(worked, ['loop'], { lamps: true }).edit);
    expect(after.lamps?.map(({ id }) => id)).toEqual(['H3']);
    expect(after.lampGroups?.[0]?.lamps).toEqual(['H3']);
    expect(liftStrips(worked, ['nobody']).edit).toBe(null);
  });
});
