import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printPlan, tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, type PanelFile, type Transaction } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import { describeFace, layCrossover, layLadder, layLead, layLoop, laySlip, swapLies } from './index.ts';

const SEED = 20261130;

function laid(panel: PanelFile, tx: Transaction | null): { readonly panel: PanelFile; readonly plan: Plan } {
  if (tx === null) throw new Error('nothing was laid');
  const after = applyTransaction(panel, tx);
  const plan = readPlan(after);
  const wrong = plan.problems.filter(({ code }) => code !== 'place-unnamed');
  expect(wrong, printPlan(plan)).toEqual([]);
  return { panel: after, plan };
}

const angles = ({ points }: Plan) => points.map(({ angle }) => Number(angle.toFixed(1)));
const MAIN = tracks('main 0,60 400,60');

describe('formations read back as what was meant', () => {
  it('a loop is two points that face each other, at 32 degrees', () => {
    const { plan, panel } = laid(MAIN, layLoop(MAIN, { strip: 'main', from: [60, 60], to: [300, 60] }, { apart: 30 }));
    expect(angles(plan)).toEqual([32, 32]);
    // 30 / tan 32 degrees = 48.01 mm.
    expect(panel.strips[1]?.path).toEqual([
      [60, 60],
      [108.01, 90],
      [251.99, 90],
      [300, 60],
    ]);
    expect(plan.points.map(({ normalStrip }) => normalStrip)).toEqual(['main', 'main']);
    expect(plan.spans.filter(({ ends }) => ends[0] === 'P1' && ends[1] === 'P2')).toHaveLength(2);
  });

  it('a loop lies to the left or right of one who goes from the first spot to the second', () => {
    const y = (from: number, to: number, side: 'left' | 'right') =>
      laid(MAIN, layLoop(MAIN, { strip: 'main', from: [from, 60], to: [to, 60] }, { side })).panel.strips[1]
        ?.path[1]?.[1];
    expect([y(60, 300, 'left'), y(60, 300, 'right'), y(300, 60, 'left'), y(300, 60, 'right')]).toEqual([
      36, 84, 84, 36,
    ]);
  });

  it('a loop follows a bend of its strip', () => {
    const bent = tracks('main 0,60 200,60 400,160');
    const { plan } = laid(bent, layLoop(bent, { strip: 'main', from: [60, 60], to: [350, 135] }, { side: 'left' }));
    expect(plan.points).toHaveLength(2);
    for (const angle of angles(plan)) expect(angle).toBeCloseTo(32, 0);
  });

  it('a loop that has no room is not laid', () => {
    expect(layLoop(MAIN, { strip: 'main', from: [60, 60], to: [120, 60] })).toBe(null);
    expect(layLoop(MAIN, { strip: 'main', from: [0, 60], to: [400, 60] })).toBe(null);
    expect(layLoop(MAIN, { strip: 'nobody', from: [0, 60], to: [400, 60] })).toBe(null);
  });

  it('a crossover is two points trailing into each other', () => {
    const two = tracks('up 0,60 400,60\ndown 0,84 400,84');
    const { plan, panel } = laid(two, layCrossover(two, { strip: 'up', from: [100, 60], to: [160, 84] }));
    expect(angles(plan)).toEqual([32, 32]);
    expect(panel.strips[2]?.path).toEqual([
      [100, 60],
      [138.408, 84],
    ]);
    const back = laid(two, layCrossover(two, { strip: 'down', from: [200, 84], to: [150, 60] }, { onto: 'up' }));
    expect(back.panel.strips[2]?.path[1]?.[0]).toBeCloseTo(200 - 24 / Math.tan((32 * Math.PI) / 180), 3);
  });

  it('a lead is one point, its road level with the second spot', () => {
    const { plan, panel } = laid(MAIN, layLead(MAIN, { strip: 'main', from: [100, 60], to: [300, 30] }));
    expect(angles(plan)).toEqual([32]);
    expect(plan.points[0]?.hand).toBe('left');
    expect(panel.strips[1]?.path[2]).toEqual([300, 30]);
  });

  it(`a ladder of n roads is n points, one at the strip and the rest on the lead (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 7 }),
        fc.boolean(),
        fc.boolean(),
        fc.double({ min: 12, max: 30, noNaN: true }),
        fc.integer({ min: 0, max: 359 }),
        (roads, back, up, apart, turn) => {
          const way = (along: number, off: number): [number, number] => {
            const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
            return [1000 + along * c - off * s, 1000 + along * s + off * c];
          };
          const panel: PanelFile = {
            format: 'mimic-panel',
            version: 1,
            strips: [{ id: 'main', path: [way(-600, 0), way(600, 0)] }],
          };
          const to = way(back ? -500 : 500, up ? -40 : 40);
          const { plan } = laid(panel, layLadder(panel, { strip: 'main', from: way(0, 0), to }, { roads, apart }));
          expect(plan.points).toHaveLength(roads);
          for (const angle of angles(plan)) expect(angle).toBeCloseTo(32, 1);
          expect(plan.places.filter(({ kind }) => kind === 'end')).toHaveLength(2 + roads);
          expect(plan.crossings).toEqual([]);
        },
      ),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('a crossing is told to be a slip, and a diamond again', () => {
    const cross = tracks('main 0,60 300,60\nbranch 60,20 240,100');
    const double = laid(cross, laySlip(cross, [150, 62], 'double-slip'));
    expect(double.plan.crossings.map(({ kind }) => kind)).toEqual(['double-slip']);
    expect(double.plan.points.map(({ of }) => of)).toEqual(['slip', 'slip']);
    const single = laid(double.panel, laySlip(double.panel, [150, 60], 'single-slip', [150, 70]));
    expect(single.plan.points.map(({ id }) => id)).toEqual(double.plan.points.map(({ id }) => id));
    const over = laid(single.panel, laySlip(single.panel, [150, 60], 'over'));
    expect(over.plan.bridges).toHaveLength(1);
    expect(over.panel.retired).toEqual(['P1', 'P2']);
    const diamond = laid(over.panel, laySlip(over.panel, [150, 60], 'diamond'));
    expect(diamond.plan.crossings.map(({ kind }) => kind)).toEqual(['diamond']);
    expect(laySlip(cross, [10, 10], 'diamond')).toBe(null);
  });

  it('a bridge is altered by the record that makes it one, however far off that may lie on wide tape', () => {
    // Half of 20 mm and a fingertip of 10 mm: the reading finds a record within 20 mm.
    const [main, branch] = tracks('main 0,60 300,60\nbranch 150,0 150,120').strips;
    if (main === undefined || branch === undefined) throw new Error('two strips were laid');
    const wide = tracks('', {
      strips: [
        { ...main, width: 20 },
        { ...branch, width: 20 },
      ],
      crossings: [{ id: 'X7', at: [167, 60], kind: 'over' }],
    });
    expect(readPlan(wide).bridges.map(({ record }) => record.id)).toEqual(['X7']);
    expect(describeFace(wide, readPlan(wide)).find(({ kind }) => kind === 'crossing')?.id).toBe('X7');
    const { panel, plan } = laid(wide, laySlip(wide, [150, 60], 'diamond'));
    expect(panel.crossings).toHaveLength(1);
    expect(plan.crossings.map(({ id, kind }) => [id, kind])).toEqual([['X7', 'diamond']]);
  });
});

describe('the lies of a point are swapped', () => {
  it('and lamps and buttons speak of the legs that they spoke of', () => {
    const panel = tracks('main 0,60 300,60\nb 100,60 140,85 200,85', {
      lamps: [
        { id: 'H1', at: [120, 60], shows: { P1: 'normal' } },
        { id: 'H2', at: [130, 79], shows: [{ P1: 'reverse' }] },
        { id: 'H3', at: [20, 20], shows: { P9: 'reverse' } },
      ],
      buttons: [{ id: 'B1', at: [10, 100], sets: { P1: 'reverse' } }],
    });
    const tx = swapLies(panel, 'P1');
    const after = applyTransaction(panel, tx ?? { name: 'no.edit', changes: [] });
    const [point] = readPlan(after).points;
    expect([point?.normalStrip, point?.reverseStrip]).toEqual(['b', 'main']);
    expect(after.lamps?.map(({ shows }) => shows)).toEqual([{ P1: 'reverse' }, [{ P1: 'normal' }], { P9: 'reverse' }]);
    expect(after.buttons?.[0]?.sets).toEqual({ P1: 'normal' });
    const back = applyTransaction(after, swapLies(after, 'P1') ?? { name: 'no.edit', changes: [] });
    expect(readPlan(back).points[0]?.normalStrip).toBe('main');
    expect(swapLies(panel, 'P7')).toBe(null);
  });

  it('of a double slip at both ends', () => {
    const cross = tracks('main 0,60 300,60\nbranch 60,20 240,100');
    const { panel } = laid(cross, laySlip(cross, [150, 60], 'double-slip'));
    const after = applyTransaction(panel, swapLies(panel, 'P1') ?? { name: 'no.edit', changes: [] });
    expect(after.crossings?.[0]?.normal).toBe('branch');
  });
});
