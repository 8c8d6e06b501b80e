import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, type PanelFile } from '../panel/index.ts';
import { type Plan, readPlan, recordsToAdd } from './index.ts';

/** The plan without what only says that a record is there. */
function bare(plan: Plan) {
  const without = <T extends { readonly record: unknown }>({ record: _, ...rest }: T) => rest;
  return {
    ...plan,
    points: plan.points.map(without),
    crossings: plan.crossings.map(without),
    places: plan.places.map(without),
  };
}

function named(panel: PanelFile): PanelFile {
  const edit = recordsToAdd(panel, readPlan(panel));
  return edit === null ? panel : applyTransaction(panel, edit);
}

describe('recordsToAdd', () => {
  it.each([
    ['points, crossings and ends', 'main 0,60 300,60\nb 100,60 180,110\nc 120,0 250,90'],
    ['three-ways', 'main 0,60 300,60\nup 100,60 180,10\ndown 100,60 180,110'],
    ['ends on one spot', 'a 100,60 200,60\nb 100,60 50,147\nc 100,60 50,-27'],
  ])('[RC6] leaves the plan as it is, and nothing more to add: %s', (_, text) => {
    const panel = tracks(text);
    const after = named(panel);
    expect(bare(readPlan(after))).toEqual(bare(readPlan(panel)));
    expect(recordsToAdd(after, readPlan(after))).toBeNull();
  });

  it('[RC6] gives slips the ids of their ends', () => {
    const panel = tracks('a 0,0 200,0\nb 20,50 180,-50', {
      crossings: [{ id: 'X1', at: [100, 0], kind: 'double-slip' }],
    });
    expect(named(panel).crossings).toMatchObject([{ id: 'X1', ends: [{ id: 'P1' }, { id: 'P2' }] }]);
  });

  it('[RC6] a strip moved later keeps the names', () => {
    const panel = named(tracks('main 0,60 300,60\nb 100,60 180,110\nc 200,60 280,110'));
    const strips = panel.strips.map((strip) =>
      strip.id === 'b' ? { ...strip, path: strip.path.map(([x, y]): [number, number] => [x + 8, y]) } : strip,
    );
    const moved = readPlan({ ...panel, strips });
    expect(moved.points.map(({ id, reverseStrip }) => [id, reverseStrip])).toEqual([
      ['P1', 'b'],
      ['P2', 'c'],
    ]);
  });

  it('[RC6] on generated panels without records (seeds 1 to 20)', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { points: _, places: __, levers: ___, lamps: ____, ...panel } = generatePanel(seed, 25);
      const after = named(panel);
      expect(bare(readPlan(after)), `seed ${seed}`).toEqual(bare(readPlan(panel)));
    }
  });
});
