import { describe, expect, it } from 'vitest';
import { printPlan, printTracks, tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, invertTransaction, type PanelFile, type Transaction, writePanel } from '../panel/index.ts';
import {
  addCorner,
  deleteStrips,
  joinStrips,
  keepNames,
  moveCorner,
  moveStrips,
  type Plan,
  readPlan,
  recordsToAdd,
  removeCorner,
  reverseStrip,
  splitStrip,
} from './index.ts';

type Edit = (panel: PanelFile) => Transaction | null;

/** These tracks with a record for everything that they make. */
function named(text: string, more: Partial<PanelFile> = {}): PanelFile {
  const panel = tracks(text, more);
  const records = recordsToAdd(panel, readPlan(panel));
  return records === null ? panel : applyTransaction(panel, records);
}

/** The panel after edits, each of which keeps the names; each is undone once on the way, byte for byte. */
function edited(panel: PanelFile, ...edits: readonly Edit[]): PanelFile {
  return edits.reduce((now, edit) => {
    const tx = edit(now);
    if (tx === null) throw new Error(`nothing to do on\n${printTracks(now)}`);
    const kept = keepNames(now, readPlan(now), tx);
    const after = applyTransaction(now, kept);
    expect(writePanel(applyTransaction(after, invertTransaction(kept)))).toBe(writePanel(now));
    return after;
  }, panel);
}

/** `P1 loop of main`: of each point the strips of its reverse and normal leg; of crossings both strips; of places where they are. */
function names(panel: PanelFile): readonly string[] {
  const plan = readPlan(panel);
  expect(found(plan), `${printTracks(panel)}\n${printPlan(plan)}`).toEqual([]);
  return [
    ...plan.points.map((point) => `${point.id} ${point.reverseStrip} off ${point.normalStrip}`),
    ...plan.crossings.map((crossing) => `${crossing.id} ${crossing.kind} ${crossing.strips.join(' ')}`),
    ...plan.bridges.map((bridge) => `bridge ${bridge.strips.join(' ')}`),
    ...plan.places.map((place) => `${place.id} ${place.kind} ${place.at.map((x) => Number(x.toFixed(2))).join(',')}`),
  ];
}

/** Records that name nothing, or share; and things without a record. */
function found(plan: Plan): readonly unknown[] {
  return [
    ...plan.problems.filter((problem) => problem.code.startsWith('record') || problem.code === 'normal-unknown'),
    ...[...plan.points, ...plan.crossings, ...plan.places].filter(({ record }, i) => {
      const point = plan.points[i];
      return record === null && point?.of !== 'three-way';
    }),
  ];
}

const LOOP = 'main 0,60 300,60\nloop 60,60 100,85 200,85 240,60';
const points = (panel: PanelFile) => names(panel).filter((line) => line.startsWith('P'));

describe('a point is the end of a strip that makes it', () => {
  it('[KN1] moved along, far beyond the reach of a record, it is the same point', () => {
    const after = edited(named(LOOP), (panel) => moveCorner(panel, 'loop', 0, [20, 60]));
    expect(points(after)).toEqual(['P1 loop off main', 'P2 loop off main']);
    expect(after.points?.map(({ at }) => at)).toEqual([
      [20, 60],
      [240, 60],
    ]);
  });

  it('[KN1] everything moved to where something else was', () => {
    const after = edited(named(LOOP), (panel) => moveStrips(panel, ['main', 'loop'], [180, 0]));
    expect(after.points?.map(({ id, at }) => [id, ...at])).toEqual([
      ['P1', 240, 60],
      ['P2', 420, 60],
    ]);
  });

  it('[KN1] two branches that pass each other keep their names', () => {
    const yard = 'main 0,60 300,60\na 60,60 100,85 140,85\nb 120,60 160,35 200,35';
    const after = edited(named(yard), (panel) => moveStrips(panel, ['a'], [120, 0]));
    expect(points(after)).toEqual(['P1 a off main', 'P2 b off main']);
    expect(after.points?.map(({ at }) => at[0])).toEqual([180, 120]);
  });

  it('[KN1] a branch that swings over to the other way is the same point', () => {
    const before = 'main 0,60 300,60\nb 150,60 190,85';
    const after = edited(named(before), (panel) => moveCorner(panel, 'b', 1, [110, 85]));
    expect(points(after)).toEqual(['P1 b off main']);
  });

  it('[KN1] a branch taken to another strip is the same point', () => {
    const before = 'main 0,60 300,60\nb 100,60 140,85 200,85\ngoods 0,110 300,110';
    const after = edited(named(before), (panel) => moveCorner(panel, 'b', 0, [100, 110]));
    expect(points(after)).toEqual(['P1 b off goods']);
  });

  it('[KN2] splitting the main line at the point and joining its leg to the branch', () => {
    const before = named(LOOP);
    const split = edited(before, (panel) => splitStrip(panel, 'main', [60, 60]));
    expect(points(split)).toEqual(['P1 loop off main-1', 'P2 loop off main-1']);
    const joined = edited(split, (panel) => joinStrips(panel, 'main', 'loop'));
    expect(points(joined)).toEqual(['P1 main off main-1', 'P2 main off main-1']);
    const again = edited(joined, (panel) => reverseStrip(panel, 'main'));
    expect(points(again)).toEqual(points(joined));
  });

  it('[KN2] a strip drawn anew in place of another, in one edit, is followed by where it lies', () => {
    const before = named(LOOP);
    const after = edited(before, (panel) => ({
      name: 'strip.redraw',
      changes: [
        { kind: 'remove', list: 'strips', index: 1, record: panel.strips[1] ?? {} },
        { kind: 'add', list: 'strips', index: 1, record: { ...panel.strips[1], id: 'siding' } },
      ],
    }));
    expect(points(after)).toEqual(['P1 siding off main', 'P2 siding off main']);
  });
});

describe('what has gone and what is new', () => {
  it('[KN3] a deleted branch leaves its ids retired, and drawn again it has new ones', () => {
    const before = named('main 0,60 300,60\nb 100,60 140,85 200,85\nc 200,60 240,85', {
      levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
    });
    const after = edited(before, (panel) => deleteStrips(panel, ['b']));
    expect(points(after)).toEqual(['P2 c off main']);
    expect(after.retired).toEqual(['b', 'P1', 'E2']);
    expect(after.levers).toEqual(before.levers);
    const drawn = edited(after, () => ({
      name: 'strip.lay',
      changes: [{ kind: 'add', list: 'strips', index: 2, record: { ...before.strips[1], id: 'b2' } }],
    }));
    expect(points(drawn)).toEqual(['P2 c off main', 'P3 b2 off main']);
  });

  it('[KN3] new things have their numbers and records at once', () => {
    const after = edited(named('main 0,60 300,60'), () => ({
      name: 'strip.lay',
      changes: [
        {
          kind: 'add',
          list: 'strips',
          index: 1,
          record: {
            id: 'x',
            path: [
              [20, 0],
              [200, 100],
              [250, 60],
            ],
          },
        },
      ],
    }));
    expect(after.crossings).toEqual([{ id: 'X1', at: [128, 60] }]);
    expect(after.points).toEqual([{ id: 'P1', at: [250, 60] }]);
  });

  it('[KN3] a hand-written panel without records has them after its first edit, with the numbers it had', () => {
    const panel = tracks(LOOP);
    const after = edited(panel, (each) => moveCorner(each, 'loop', 0, [20, 60]));
    expect(points(after)).toEqual(['P1 loop off main', 'P2 loop off main']);
  });

  it('[KN3] a record that named nothing names what comes within its reach', () => {
    const before = named('main 0,60 300,60\nb 100,70 140,95', { points: [{ id: 'P9', at: [100, 64], name: 'West' }] });
    const after = applyTransaction(
      before,
      keepNames(before, readPlan(before), moveCorner(before, 'b', 0, [100, 60]) ?? { name: 'none', changes: [] }),
    );
    expect(after.points).toEqual([{ id: 'P9', at: [100, 60], name: 'West' }]);
  });
});

describe('normal stays normal', () => {
  it('[KN4] where a bend makes the other leg the straighter one', () => {
    const before = named('main 0,60 100,60 300,60\nb 100,60 180,110');
    const after = edited(
      before,
      (panel) => moveCorner(panel, 'main', 2, [180, 0]),
      (panel) => moveCorner(panel, 'b', 1, [200, 65]),
    );
    expect(points(after)).toEqual(['P1 b off main']);
    expect(after.points?.[0]?.normal).toBe('main');
  });

  it('[KN4] a strip that the record names may be split: the record then names the other piece', () => {
    const before = named(LOOP, { points: [{ id: 'P1', at: [60, 60], normal: 'loop' }] });
    const after = edited(
      before,
      (panel) => splitStrip(panel, 'main', [60, 60]),
      (panel) => splitStrip(panel, 'loop', [100, 85]),
    );
    expect(points(after)[0]).toBe('P1 main-1 off loop');
    const far = edited(named(LOOP, { points: [{ id: 'P2', at: [240, 60], normal: 'loop' }] }), (panel) =>
      splitStrip(panel, 'loop', [100, 85]),
    );
    expect(points(far)).toEqual(['P1 loop off main', 'P2 main off loop-1']);
  });

  it('[KN4] `left` becomes `right` where the branch goes over to the other side', () => {
    const before = named('main 0,60 300,60\nb 100,60 180,110', {
      points: [{ id: 'P1', at: [100, 60], normal: 'right' }],
    });
    const after = edited(before, (panel) => moveCorner(panel, 'b', 1, [180, 10]));
    expect(points(after)).toEqual(['P1 main off b']);
    expect(after.points?.[0]?.normal).toBe('left');
  });

  it('[KN4] a trap point keeps its trap when the line behind it is cut short', () => {
    const before = named('main 0,60 300,60\nb 100,60 140,85', { points: [{ id: 'P1', at: [100, 60], trap: true }] });
    expect(points(before)).toEqual(['P1 main off b']);
    const after = edited(before, (panel) => moveCorner(panel, 'main', 1, [125, 60]));
    expect(points(after)).toEqual(['P1 main off b']);
  });
});

describe('three-ways', () => {
  const THREE = 'main 0,60 300,60\nup 100,60 180,10\ndown 100,60 180,110';

  it('[KN5] one branch taken away leaves a plain point with the id of the other', () => {
    const before = named(THREE, { threeWays: [{ id: 'Y1', at: [100, 60], points: ['P30', 'P31'] }] });
    expect(points(before)).toEqual(['P30 up off main', 'P31 down off main']);
    const after = edited(before, (panel) => deleteStrips(panel, ['up']));
    expect(points(after)).toEqual(['P31 down off main']);
    expect(after.retired).toEqual(['up', 'P30', 'E2', 'Y1']);
  });

  it('[KN5] two points slid together are a three-way of the two, and slid apart again themselves', () => {
    const before = named('main 0,60 300,60\na 60,60 140,110\nb 120,60 200,10');
    const together = edited(before, (panel) => moveStrips(panel, ['a'], [60, 0]));
    expect(points(together)).toEqual(['P1 a off main', 'P2 b off main']);
    expect(together.threeWays).toEqual([{ id: 'Y1', at: [120, 60], points: ['P2', 'P1'] }]);
    const apart = edited(together, (panel) => moveStrips(panel, ['b'], [60, 0]));
    expect(points(apart)).toEqual(['P1 a off main', 'P2 b off main']);
    expect(apart.threeWays).toEqual([]);
  });

  it('[KN5] the order of the ids follows the legs', () => {
    const before = named(THREE);
    const after = edited(before, (panel) => moveCorner(panel, 'up', 1, [180, 160]));
    expect(points(after)).toEqual(['P1 up off main', 'P2 down off main']);
    expect(after.threeWays?.[0]?.points).toEqual(['P2', 'P1']);
  });
});

describe('crossings', () => {
  const TWICE = 'main 0,60 300,60\nzig 20,20 120,100 220,20';

  it('[KN6] of two between the same strips each keeps its place in the order', () => {
    const before = named(TWICE);
    const after = edited(before, (panel) => moveStrips(panel, ['zig'], [70, 5]));
    expect(after.crossings?.map(({ id, at }) => [id, ...at])).toEqual([
      ['X1', 133.75, 60],
      ['X2', 246.25, 60],
    ]);
  });

  it('[KN6] one of the two undone: the nearer one stays', () => {
    const after = edited(named(TWICE), (panel) => moveCorner(panel, 'zig', 2, [220, 70]));
    expect(after.crossings?.map(({ id }) => id)).toEqual(['X1']);
    expect(after.retired).toEqual(['X2']);
  });

  it('[KN6] a bridge stays a bridge, split under it or not', () => {
    const before = named('a 0,60 300,60\nb 100,0 160,120', { crossings: [{ id: 'X7', at: [130, 60], kind: 'over' }] });
    const moved = edited(
      before,
      (panel) => moveStrips(panel, ['b'], [100, 0]),
      (panel) => splitStrip(panel, 'b', [230, 60]),
    );
    expect(names(moved).filter((line) => line.startsWith('bridge'))).toEqual(['bridge a b']);
    expect(moved.crossings).toEqual([{ id: 'X7', at: [230, 60], kind: 'over' }]);
  });

  const SLIP = 'a 0,60 280,60\nb 70,110 230,10';

  it('[KN7] the ends of a slip keep their ids when it is turned over', () => {
    const before = named(SLIP, {
      crossings: [{ id: 'X1', at: [150, 60], kind: 'double-slip', ends: [{ id: 'P20', drive: 'D1' }, { id: 'P21' }] }],
    });
    const toe = (panel: PanelFile, id: string) => readPlan(panel).points.find((point) => point.id === id)?.toe;
    // The whole drawing mirrored: what was the left end is the right one.
    const mirrored = edited(before, (panel) => ({
      name: 'strip.mirror',
      changes: panel.strips.map((strip) => ({
        kind: 'update',
        list: 'strips',
        id: strip.id,
        from: strip,
        to: { ...strip, path: strip.path.map(([x, y]) => [300 - x, y]) },
      })),
    }));
    expect(mirrored.crossings?.[0]?.ends).toEqual([{ id: 'P21' }, { id: 'P20', drive: 'D1' }]);
    expect(toe(mirrored, 'P20')).toEqual(toe(before, 'P20'));
  });

  it('[KN7] the normal way of a double slip stays with its strip, and follows a split and a new order', () => {
    const before = named(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'double-slip' }] });
    const gone = edited(
      before,
      (panel) => splitStrip(panel, 'a', [20, 60]),
      (panel) => ({
        name: 'strip.order',
        changes: [{ kind: 'set', key: 'strips', from: panel.strips, to: [...panel.strips].reverse() }],
      }),
    );
    expect(gone.crossings?.[0]?.normal).toBe('a-1');
    expect(points(gone)).toEqual(points(before).map((line) => line.replaceAll(/\ba\b/g, 'a-1')));
  });

  it('[KN7] the curve of a single slip goes along', () => {
    const before = named(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'single-slip', curve: [150, 66] }] });
    const shape = (panel: PanelFile) =>
      readPlan(panel).points.map(({ id, normal, reverse }) => [id, normal.span, reverse.span]);
    const after = edited(
      before,
      (panel) => moveStrips(panel, ['a', 'b'], [40, 30]),
      (panel) => moveCorner(panel, 'b', 1, [230, 40]),
    );
    expect(shape(after)).toEqual(shape(before));
  });
});

describe('places', () => {
  it('[KN8] a free end is the end of its strip, wherever it goes', () => {
    const before = named('main 0,60 300,60\n@west West 0,60\n@east East 300,60');
    const after = edited(
      before,
      (panel) => moveStrips(panel, ['main'], [500, 200]),
      (panel) => reverseStrip(panel, 'main'),
    );
    expect(names(after)).toEqual(['west end 500,260', 'east end 800,260']);
  });

  it('[KN8] an end with a name that is butted onto another strip becomes the road there; one without is retired', () => {
    const before = named('a 0,60 100,60\nb 150,60 250,60\n@mid Mid 100,60');
    const after = edited(before, (panel) => moveStrips(panel, ['b'], [-50, 0]));
    expect(names(after)).toEqual(['mid road 100,60', 'E1 end 0,60', 'E3 end 200,60']);
    expect(after.retired).toEqual(['E2']);
    const one = edited(after, (panel) => joinStrips(panel, 'a', 'b'));
    expect(names(one)).toEqual(names(after));
    const apart = edited(after, (panel) => moveStrips(panel, ['b'], [40, 0]));
    expect(names(apart)).toContain('mid road 87,60');
  });

  it('[KN9] a road stays on its strip and between the same two points', () => {
    const before = named(`${LOOP}\n@loop-road Loop 180,85\n@main-road Main 200,60`);
    const span = (panel: PanelFile) =>
      readPlan(panel)
        .places.filter(({ kind }) => kind === 'road')
        .map((place) => place.span);
    const bent = edited(
      before,
      (panel) => addCorner(panel, 'loop', 2, [150, 120]),
      (panel) => removeCorner(panel, 'loop', 1),
    );
    expect(span(bent)).toEqual(span(before));
    const short = edited(
      before,
      (panel) => moveStrips(panel, ['loop'], [-40, 0]),
      (panel) => moveCorner(panel, 'loop', 3, [150, 60]),
    );
    expect(span(short)).toEqual(span(before));
  });
});

describe('what keeping names costs', () => {
  it('[KN10] an edit that leaves the strips alone is left alone', () => {
    const panel = named(LOOP);
    const tx: Transaction = { name: 'panel.name', changes: [{ kind: 'set', key: 'name', to: 'Quillhaven Harbour' }] };
    expect(keepNames(panel, readPlan(panel), tx)).toBe(tx);
  });
});
