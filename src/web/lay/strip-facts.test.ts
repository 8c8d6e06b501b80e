import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sketchPanel } from '../../derive-panel.ts';
import { type PanelFile, readPanel } from '../../panel/index.ts';
import { makeLayView } from '../worker/lay-view.ts';
import { stripFacts } from './strip-facts.ts';

const demo = readPanel(
  readFileSync(join(import.meta.dirname, '../../../examples/quillhaven-harbour.mimic.json'), 'utf8'),
);
if (!demo.ok) throw new Error('the demo panel does not read');
const viewOf = (panel: PanelFile) => makeLayView(sketchPanel(null, panel));

const factsOf = (panel: PanelFile, id: string) => {
  const strip = panel.strips.find((each) => each.id === id);
  if (strip === undefined) throw new Error(`no strip ${id}`);
  return stripFacts(panel, viewOf(panel), strip);
};

describe('facts of a strip', () => {
  it('tells what the ends of the platform loop meet', () => {
    const loop = demo.panel.strips.find(({ name }) => name === 'Platform loop');
    const facts = factsOf(demo.panel, loop?.id ?? '');
    // 48 across and 30 down: an angle of atan(30 / 48).
    expect(facts.ends.map(({ kind, point, at }) => [kind, point, at])).toEqual([
      ['joins', 'P2', [100, 96]],
      ['joins', 'P3', [392, 96]],
    ]);
    for (const { angle } of facts.ends) expect(angle).toBeCloseTo((Math.atan(30 / 48) * 180) / Math.PI, 9);
    expect(facts.points).toEqual(['P2', 'P4', 'P3']);
    expect(facts.lamps).toHaveLength(6);
    // H7 and others on it ask P1 too, which L1 works: as the file says.
    expect(facts.levers).toEqual(['L1', 'L2', 'L3', 'L4']);
  });
  it('tells a free end with its place, an end that cannot be read, and a butt', () => {
    const panel: PanelFile = {
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [200, 60],
          ],
        },
        {
          id: 'square',
          path: [
            [100, 60],
            [100, 120],
          ],
        },
        {
          id: 'on',
          path: [
            [200, 60],
            [300, 60],
          ],
        },
      ],
      places: [{ id: 'west', name: 'Westhaven', at: [0, 60] }],
    };
    const [west, east] = factsOf(panel, 'main').ends;
    expect([west?.kind, west?.place?.name, east?.kind, east?.onto]).toEqual(['free', 'Westhaven', 'butts', 'on']);
    const [meets, free] = factsOf(panel, 'square').ends;
    expect([meets?.kind, meets?.onto, free?.kind, free?.place?.name]).toEqual(['meets', 'main', 'free', null]);
    expect(meets?.angle).toBeCloseTo(90, 9);
  });
  it('measures tape along its bends', () => {
    // A right angle of radius 9 saves 2 r - r pi / 2 against its corner.
    const strip = {
      id: 'a',
      bend: 9,
      path: [
        [0, 0],
        [50, 0],
        [50, 40],
      ] as [number, number][],
    };
    const bent: PanelFile = { format: 'mimic-panel', version: 1, strips: [strip] };
    expect(factsOf(bent, 'a').length).toBeCloseTo(90 - 18 + (9 * Math.PI) / 2, 6);
    const panel: PanelFile = {
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'm',
          path: [
            [0, 0],
            [309.2, 0],
          ],
        },
      ],
    };
    expect(factsOf(panel, 'm').cut).toBe(320);
  });
});
