/** Laws of the track's feed, against a flood over the rails in every lie of every point. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import type { Lie, PanelFile } from '../../src/panel/index.ts';
import type { TrackFeed, TrackGap } from '../../src/track/index.ts';
import { generatePanel } from '../generate/panels.ts';
import { randomOf } from '../generate/random.ts';
import { printTracks, tracks } from '../generate/tracks.ts';
import { everyLies, floodRails, type OneCut, type OneFeed, spanOf } from '../oracle/rails.ts';

const SEED = 20_261_125;

const SLIP = 'main 0,60 300,60\ncross 90,97.5 210,22.5';
const FORMATIONS: readonly (readonly [string, PanelFile])[] = [
  ['a point', tracks('main 0,60 300,60\nsiding 60,60 100,85 200,85')],
  ['a loop', tracks('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60')],
  ['a crossover', tracks('up 0,60 300,60\ndown 0,85 300,85\nx 100,60 140,85')],
  ['a ladder', tracks('main 0,60 400,60\na 60,60 140,110 300,110\nb 92,80 140,85 300,85\nc 200,60 240,35 300,35')],
  ['two crossovers facing', tracks('up 0,60 400,60\ndown 0,85 400,85\nx 60,60 100,85\ny 240,85 280,60')],
  ['a three-way', tracks('main 0,60 300,60\na 100,60 140,85 200,85\nb 100,60 140,35 200,35')],
  ['a double slip', tracks(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'double-slip' }] })],
  ['a single slip', tracks(SLIP, { crossings: [{ id: 'X1', at: [150, 60], kind: 'single-slip', curve: [150, 50] }] })],
  [
    'a slip in a loop',
    tracks(`${SLIP}\nw 60,60 90,97.5`, { crossings: [{ id: 'X1', at: [150, 60], kind: 'double-slip' }] }),
  ],
  ['a diamond', tracks('main 0,60 300,60\ncross 60,10 240,110')],
  ['a balloon', tracks('main 0,60 100,60\na 100,60 140,85 200,85 230,60\nb 100,60 140,35 200,35 230,60')],
  [
    'a diagonal across an oval',
    tracks('oval 60,60 340,60 380,110 340,160 60,160 20,110 60,60\ndiagonal 120,60 280,160'),
  ],
  ['a triangle', tracks('top 0,100 300,100\nleft 80,100 150,40\nright 220,100 150,40\nstem 150,40 150,0')],
];

function generated(seed: number, size: number): PanelFile {
  return { ...generatePanel(seed, size), lamps: [], levers: [] };
}

const liveFrogs = (panel: PanelFile): PanelFile => {
  const { plan } = derive(panel);
  return { ...panel, frogs: plan.points.map(({ id }) => ({ id: `F${id}`, of: id, kind: 'live' as const })) };
};

const trackOf = (panel: PanelFile) => {
  const { plan, track } = derive(panel);
  return { plan, track: track() };
};

function cutsOf(gaps: readonly Pick<TrackGap, 'span' | 'rail' | 'along'>[]): readonly OneCut[] {
  return gaps.flatMap(({ span, rail, along }) =>
    (rail === 'both' ? (['left', 'right'] as const) : [rail]).map((one): OneCut => ({ span, rail: one, along })),
  );
}

/** What droppers put on the rails: in a reversing section wires of its own. */
function feedsOf({ droppers }: TrackFeed): readonly OneFeed[] {
  return droppers.map(({ span, along, left, right, section }) => ({
    span,
    along,
    left: left ?? `${section} left`,
    right: right ?? `${section} right`,
  }));
}

const opposite = (a: ReadonlySet<string>, b: ReadonlySet<string>): boolean => {
  const all = [...a, ...b].sort().join(' ');
  return a.size === 1 && b.size === 1 && (all === 'A B' || /^(\S+) left \1 right$/.test(all));
};

const kindOf =
  ({ frogs }: TrackFeed) =>
  (point: string): 'live' | 'dead' => {
    const kind = frogs.find(({ of, what }) => of === point && !what.startsWith('diamond'))?.kind;
    return kind === 'live' || kind === 'module' ? 'live' : 'dead';
  };

/** The longest stretch of a span between cuts, its middle. */
function middle(length: number, cuts: readonly OneCut[], span: string): number {
  const marks = [0, ...cuts.filter((cut) => cut.span === span).map(({ along }) => along), length].sort((a, b) => a - b);
  let best = [0, 0] as readonly [number, number];
  for (let i = 0; i + 1 < marks.length; i++) {
    const [from = 0, to = 0] = [marks[i], marks[i + 1]];
    if (to - from > best[1] - best[0]) best = [from, to];
  }
  return (best[0] + best[1]) / 2;
}

function provePlanned(panel: PanelFile, about: string): void {
  const { plan, track } = trackOf(panel);
  const points = plan.points.map(({ id }) => id);
  const cuts = cutsOf(track.gaps);
  const feeds = feedsOf(track);
  const kind = kindOf(track);
  const settings = everyLies(points);
  for (const lies of settings) {
    const flood = floodRails(plan, lies, cuts, feeds, kind);
    expect(flood.shorted, `${about}: no short in ${JSON.stringify(lies)}`).toBe(false);
    for (const { id, length } of plan.spans) {
      const at = middle(length, cuts, id);
      const both = [flood.wiresAt(id, 'left', at), flood.wiresAt(id, 'right', at)] as const;
      expect(opposite(...both), `${about}: ${id} is alive in ${JSON.stringify(lies)}`).toBe(true);
    }
  }
  for (const cut of cuts) {
    const rest = cuts.filter((other) => other !== cut);
    const bad = settings.some((lies) => floodRails(plan, lies, rest, feeds, kind).shorted);
    expect(bad, `${about}: ${cut.rail} of ${cut.span} at ${cut.along} cannot be spared`).toBe(true);
  }
}

describe(`the plan for live frogs (seed ${SEED})`, () => {
  it.each(FORMATIONS)(
    '[TF8] [TF10] [TF11] %s: gaps and droppers leave no short and no dead leg, and no gap can be spared',
    (name, panel) => {
      provePlanned(liveFrogs(panel), name);
    },
  );

  it('[TF8] [TF10] [TF11] the same on generated panels of up to 6 points', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 6 }), (seed, size) => {
        const panel = liveFrogs(generated(seed, size));
        provePlanned(panel, printTracks(panel));
      }),
      { seed: SEED, numRuns: 40 },
    );
  });
});

/** A panel with kinds, feeds and perhaps gaps drawn at random. */
function furnished(panel: PanelFile, seed: number, gaps: boolean): PanelFile {
  const random = randomOf(seed);
  const { plan } = derive(panel);
  const kinds = ['live', 'live', 'dead', 'module'] as const;
  const frogs = plan.points.map(({ id }) => ({ id: `F${id}`, of: id, kind: random.pick(kinds) }));
  const spot = (span: string, share: number): [number, number] => {
    const { path, length } = spanOf(plan, span);
    let left = length * share;
    for (let i = 0; i + 1 < path.length; i++) {
      const [a = [0, 0], b = [0, 0]] = [path[i], path[i + 1]];
      const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (left <= step) return [a[0] + ((b[0] - a[0]) * left) / step, a[1] + ((b[1] - a[1]) * left) / step];
      left -= step;
    }
    return [0, 0];
  };
  // At least one: a list without feeds says nothing.
  const feeds = plan.spans.filter((_, i) => random.chance(45) || i === 0).map(({ id }) => ({ at: spot(id, 0.5) }));
  const cuts = plan.spans
    .flatMap(({ id }) => [0.3, 0.7].map((share) => ({ id, share })))
    .filter(() => random.chance(60))
    .map(({ id, share }) => ({ at: spot(id, share), rail: random.pick(['left', 'right', 'both'] as const) }));
  return { ...panel, frogs, track: gaps ? { feeds, gaps: cuts } : { feeds } };
}

const holds = (lies: Readonly<Record<string, Lie>>, list: readonly Readonly<Record<string, Lie>>[]) =>
  list.some((when) => Object.entries(when).every(([point, lie]) => lies[point] === lie));

function proveFurnished(panel: PanelFile, about: string): void {
  const { plan, track } = trackOf(panel);
  if (track.sections.length > 0) return;
  const stated = panel.track?.gaps !== undefined;
  const cuts = stated ? statedCuts(panel) : cutsOf(track.gaps);
  const feeds = feedsOf(track);
  const kind = kindOf(track);
  const settings = everyLies(plan.points.map(({ id }) => id));
  for (const lies of settings) {
    const flood = floodRails(plan, lies, cuts, feeds, kind);
    const said = holds(
      lies,
      track.shorts.map(({ when }) => when),
    );
    expect(flood.shorted, `${about}\nshort in ${JSON.stringify(lies)}`).toBe(stated ? said : false);
    if (flood.shorted) continue;
    for (const leg of track.legs) {
      const at = middle(spanOf(plan, leg.span).length, cuts, leg.span);
      const alive = opposite(flood.wiresAt(leg.span, 'left', at), flood.wiresAt(leg.span, 'right', at));
      expect(holds(lies, leg.alive), `${about}\n${leg.span} of ${leg.point} in ${JSON.stringify(lies)}`).toBe(alive);
      expect(leg.complete).toBe(true);
    }
  }
  if (stated) return;
  for (const cut of cuts) {
    const rest = cuts.filter((other) => other !== cut);
    const bad = settings.some((lies) => floodRails(plan, lies, rest, feeds, kind).shorted);
    expect(bad, `${about}\n${cut.rail} of ${cut.span} at ${cut.along} cannot be spared`).toBe(true);
  }
}

/** Gaps of the file, found by the nearest spot of any span; strips of these panels and their spans may run either way. */
function statedCuts(panel: PanelFile): readonly OneCut[] {
  const { plan } = derive(panel);
  return (panel.track?.gaps ?? []).flatMap(({ at, rail }) => {
    let best: { span: string; along: number; off: number; back: boolean } | null = null;
    for (const { id, path, stretches } of plan.spans) {
      let along = 0;
      for (let i = 0; i + 1 < path.length; i++) {
        const [a = [0, 0], b = [0, 0]] = [path[i], path[i + 1]];
        const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
        const t = Math.min(step, Math.max(0, ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / step));
        const off = Math.hypot(a[0] + ((b[0] - a[0]) * t) / step - at[0], a[1] + ((b[1] - a[1]) * t) / step - at[1]);
        if (best === null || off < best.off - 1e-9) {
          let left = along + t;
          const on = stretches.find(({ from, to }) => {
            left -= Math.abs(to - from);
            return left <= 1e-9;
          });
          best = { span: id, along: along + t, off, back: (on?.from ?? 0) > (on?.to ?? 0) };
        }
        along += step;
      }
    }
    if (best === null) return [];
    const { span, along, back } = best;
    const flip = (hand: 'left' | 'right') => (back ? (hand === 'left' ? 'right' : 'left') : hand);
    const rails = rail === 'left' || rail === 'right' ? [flip(rail)] : (['left', 'right'] as const);
    return rails.map((one): OneCut => ({ span, rail: one, along }));
  });
}

describe(`feeds and gaps of the file (seed ${SEED})`, () => {
  const draw = [fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 6 })] as const;

  it.each(FORMATIONS)('[TF9] [TF12] %s: with feeds alone, what is dead when, and the least gaps', (name, panel) => {
    for (let seed = 1; seed <= 12; seed++) proveFurnished(furnished(panel, SEED + seed, false), `${name} ${seed}`);
  });

  it.each(FORMATIONS)('[TF12] [TF13] %s: with feeds and gaps, what is dead and what is short when', (name, panel) => {
    for (let seed = 1; seed <= 12; seed++) proveFurnished(furnished(panel, SEED + seed, true), `${name} ${seed}`);
  });

  it('[TF9] [TF12] [TF13] the same on generated panels of up to 6 points', () => {
    fc.assert(
      fc.property(...draw, fc.boolean(), (seed, size, gaps) => {
        const panel = furnished(generated(seed, size), seed, gaps);
        proveFurnished(panel, `${printTracks(panel)}\n${JSON.stringify(panel.track)}\n${JSON.stringify(panel.frogs)}`);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });
});
