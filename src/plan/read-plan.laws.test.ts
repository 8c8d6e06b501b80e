import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { randomOf } from '../../tests/generate/random.ts';
import { graphOf, moved, turned } from '../../tests/generate/same-graph.ts';
import { printTracks } from '../../tests/generate/tracks.ts';
import type { PanelFile } from '../panel/index.ts';
import { readPlan } from './index.ts';

/** Runs of each law, each on another panel. */
const RUNS = { seed: 20_260_301, numRuns: 60 };
const panels = fc.record({ seed: fc.integer({ min: 1, max: 1_000_000 }), size: fc.integer({ min: 1, max: 40 }) });

function law(change: (panel: PanelFile, seed: number) => PanelFile, back?: Parameters<typeof graphOf>[1]): void {
  fc.assert(
    fc.property(panels, ({ seed, size }) => {
      const panel = generatePanel(seed, size);
      const after = change(panel, seed);
      expect(graphOf(readPlan(after), back), `${printTracks(panel)}\n--- became ---\n${printTracks(after)}`).toEqual(
        graphOf(readPlan(panel)),
      );
    }),
    RUNS,
  );
}

/** Records with ids of their own would hide that numbering follows x and y. */
function bare({ points: _, levers: __, lamps: ___, ...panel }: PanelFile): PanelFile {
  return { ...panel, levers: [] };
}

describe('[LW1] the same layout drawn otherwise is the same plan (seed 20260301)', () => {
  it.each([90, 180, 270, 1, 17.3, 45, 123.4])('turned by %s degrees', (degrees) => {
    law((panel) => moved(panel, turned(degrees)), turned(-degrees));
  });

  it('turned without records of points', () => {
    const strip = (panel: PanelFile): PanelFile => ({ ...bare(panel) });
    fc.assert(
      fc.property(panels, ({ seed, size }) => {
        const panel = strip(generatePanel(seed, size));
        const asGraph = (lines: readonly string[]) => lines.filter((line) => !line.startsWith('problem'));
        expect(asGraph(graphOf(readPlan(moved(panel, turned(61))), turned(-61))), printTracks(panel)).toEqual(
          asGraph(graphOf(readPlan(panel))),
        );
      }),
      RUNS,
    );
  });

  it('mirrored', () => {
    law(
      (panel) => moved(panel, ([x, y]) => [-x, y]),
      ([x, y]) => [-x, y],
    );
    law(
      (panel) => moved(panel, ([x, y]) => [x, -y]),
      ([x, y]) => [x, -y],
    );
  });

  it('moved', () => {
    law(
      (panel) => moved(panel, ([x, y]) => [x + 1234.5, y - 987.25]),
      ([x, y]) => [x - 1234.5, y + 987.25],
    );
    // At the far end of what a file may hold.
    law(
      (panel) => moved(panel, ([x, y]) => [x + 900_000, y + 900_000]),
      ([x, y]) => [x - 900_000, y - 900_000],
    );
  });

  it('with strips laid the other way', () => {
    law((panel, seed) => {
      const random = randomOf(seed + 1);
      const flip = (path: PanelFile['strips'][number]['path']) => (random.chance(50) ? [...path].reverse() : path);
      return { ...panel, strips: panel.strips.map((strip) => ({ ...strip, path: flip(strip.path) })) };
    });
  });

  it('with strips in another order', () => {
    law((panel, seed) => {
      const random = randomOf(seed + 2);
      const order = panel.strips.map((strip) => ({ strip, key: random.next() })).sort((a, b) => a.key - b.key);
      return { ...panel, strips: order.map(({ strip }) => strip) };
    });
  });

  it('with a seam in some segments, away from what is joined there', () => {
    law((panel, seed) => {
      const random = randomOf(seed + 3);
      const strips = panel.strips.flatMap((strip) => {
        const i = random.whole(0, strip.path.length - 2);
        const [a, b] = [strip.path[i], strip.path[i + 1]];
        if (a === undefined || b === undefined || random.chance(50)) return [strip];
        const seam: [number, number] = [a[0] + (b[0] - a[0]) * 0.37, a[1] + (b[1] - a[1]) * 0.37];
        return [
          { ...strip, path: [...strip.path.slice(0, i + 1), seam] },
          { ...strip, id: `${strip.id}-on`, path: [seam, ...strip.path.slice(i + 1)] },
        ];
      });
      return { ...panel, strips };
    });
  });

  it('with every strip cut just where points and crossings lie on it', () => {
    law((panel) => {
      const plan = readPlan(panel);
      const cuts = [...plan.points, ...plan.crossings].map(({ at }) => at);
      const strips = panel.strips.flatMap((strip) => {
        const pieces: [number, number][][] = [[]];
        strip.path.forEach((corner, i) => {
          const before = strip.path[i - 1];
          const inside = before === undefined ? [] : cuts.filter((at) => isInside(at, before, corner));
          const far = (at: readonly [number, number]) =>
            before === undefined ? 0 : Math.hypot(at[0] - before[0], at[1] - before[1]);
          inside.sort((p, q) => far(p) - far(q));
          for (const at of inside) {
            pieces[pieces.length - 1]?.push([at[0], at[1]]);
            pieces.push([[at[0], at[1]]]);
          }
          pieces[pieces.length - 1]?.push(corner);
        });
        return pieces.map((path, k) => ({ ...strip, id: k === 0 ? strip.id : `${strip.id}-${k}`, path }));
      });
      return { ...panel, strips };
    });
  });
});

function isInside(at: readonly [number, number], a: readonly [number, number], b: readonly [number, number]): boolean {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) return false;
  const t = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / length;
  const off = Math.abs((at[0] - a[0]) * (b[1] - a[1]) - (at[1] - a[1]) * (b[0] - a[0])) / length;
  return off < 0.01 && t > 3 && t < length - 3;
}

describe('[LW2] any strips at all give a plan (seed 20260301)', () => {
  const coordinate = fc.oneof(
    fc.integer({ min: 0, max: 60 }),
    fc.double({ min: -1e6, max: 1e6, noNaN: true }),
    fc.constantFrom(0, 2.5, 5, 1e6, -1e6),
  );
  const strip = fc.record({
    width: fc.option(fc.oneof(fc.constantFrom(1e-12, 5, 40, 1e9), fc.double({ min: 0.1, max: 50, noNaN: true })), {
      nil: undefined,
    }),
    path: fc.array(fc.tuple(coordinate, coordinate), { maxLength: 8 }),
  });
  const at = fc.tuple(coordinate, coordinate);
  const anything = fc
    .record({
      strips: fc.array(strip, { maxLength: 12 }),
      places: fc.array(at, { maxLength: 4 }),
      points: fc.array(
        fc.record({ at, normal: fc.constantFrom('left', 'right', 's0', 'nothing'), trap: fc.boolean() }),
        {
          maxLength: 4,
        },
      ),
      crossings: fc.array(
        fc.record({ at, kind: fc.constantFrom('diamond', 'single-slip', 'double-slip', 'over'), curve: at }),
        { maxLength: 4 },
      ),
      threeWays: fc.array(at, { maxLength: 2 }),
    })
    .map(
      ({ strips, places, points, crossings, threeWays }): PanelFile => ({
        format: 'mimic-panel',
        version: 1,
        strips: strips.map(({ width, path }, i) => ({ id: `s${i}`, ...(width === undefined ? {} : { width }), path })),
        places: places.map((spot, i) => ({ id: `place${i}`, at: spot })),
        points: points.map((point, i) => ({ id: `P${2 * i}`, ...point })),
        crossings: crossings.map((crossing, i) => ({ id: `X${i}`, ...crossing })),
        threeWays: threeWays.map((spot, i) => ({ id: `Y${i}`, at: spot })),
      }),
    );

  it('never throws, is the same twice, and every port of every feature leads into a span', () => {
    fc.assert(
      fc.property(anything, (panel) => {
        const plan = readPlan(panel);
        expect(readPlan(panel)).toEqual(plan);
        const spans = new Set(plan.spans.map((span) => span.id));
        expect(spans.size).toBe(plan.spans.length);
        for (const { between } of plan.passages) for (const { span } of between) expect(spans.has(span)).toBe(true);
        for (const place of plan.places) expect(spans.has(place.span)).toBe(true);
        const ids = [...plan.points, ...plan.crossings, ...plan.places].map(({ id }) => id.toLowerCase());
        expect(new Set(ids).size).toBe(ids.length);
        // Each end of each span is a port of one feature: the hand-shaking sum.
        const ports =
          3 * plan.points.filter((point) => point.of === 'point').length +
          2 * plan.points.filter((point) => point.of === 'three-way').length +
          4 * plan.crossings.length +
          plan.places.filter((place) => place.kind === 'end').length;
        expect(2 * plan.spans.length).toBe(ports);
      }),
      { seed: 20_260_301, numRuns: 1_000 },
    );
  }, 60_000);
});
