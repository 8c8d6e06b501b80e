import { describe, expect, it } from 'vitest';
import { applyTransaction, type PanelFile, type Transaction } from '../../src/panel/index.ts';
import { joinStrips, keepNames, readPlan, reverseStrip, splitStrip } from '../../src/plan/index.ts';
import { findConflicts, listRoutes } from '../../src/routes/index.ts';
import { generatePanel } from '../generate/panels.ts';
import { randomOf } from '../generate/random.ts';
import { printTracks } from '../generate/tracks.ts';

const NOWHERE: readonly [number, number] = [0, 0];

function routesOf(panel: PanelFile) {
  const { routes } = listRoutes(readPlan(panel), { limit: 500 });
  // Sums of lengths may differ in their last figures.
  const told = routes.map(({ from, to, points, levers, why, through, spans, faceLength }) => [
    [from, to, points, levers, why, through, spans],
    Math.round(faceLength * 1_000),
  ]);
  return JSON.stringify([told, findConflicts(routes)]);
}

function edited(panel: PanelFile, tx: Transaction | null): PanelFile {
  return tx === null ? panel : applyTransaction(panel, keepNames(panel, readPlan(panel), tx));
}

describe('[KN12] strips split, turned round and joined again have the same routes (seeds 1 to 15)', () => {
  it('the same points, levers, lengths and conflicts, to the letter', () => {
    let split = 0;
    for (let seed = 1; seed <= 15; seed++) {
      const random = randomOf(seed);
      const start = edited(generatePanel(seed, 12), null);
      const routes = routesOf(start);
      let panel = start;
      for (let n = 0; n < 4; n++) {
        const strip = random.pick(panel.strips);
        const i = random.whole(1, strip.path.length - 1);
        const [[ax, ay], [bx, by]] = [strip.path[i - 1] ?? NOWHERE, strip.path[i] ?? NOWHERE];
        const at = [ax + (bx - ax) * 0.37, ay + (by - ay) * 0.37] as const;
        const before = panel;
        panel = edited(panel, splitStrip(panel, strip.id, at));
        const fresh = panel.strips.find(({ id }) => !before.strips.some((each) => each.id === id));
        if (fresh === undefined) continue;
        split += 1;
        expect(routesOf(panel), `seed ${seed}\n${printTracks(panel)}`).toBe(routes);
        panel = edited(panel, reverseStrip(panel, random.chance(50) ? strip.id : fresh.id));
        expect(routesOf(panel), `seed ${seed}\n${printTracks(panel)}`).toBe(routes);
        if (random.chance(50)) panel = edited(panel, joinStrips(panel, fresh.id, strip.id));
        expect(routesOf(panel), `seed ${seed}\n${printTracks(panel)}`).toBe(routes);
      }
    }
    expect(split).toBeGreaterThan(30);
  });
});
