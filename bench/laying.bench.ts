/** Laying on a sheet of 300 points with 3,000 lamps: snapping at every move of a pointer, picking, describing, one edit. */

import {
  describeFace,
  handlesOf,
  moveCorner,
  pickAt,
  pickIndex,
  type SnapOptions,
  snap,
  snapContext,
  snapMove,
  strewSpan,
} from '../src/laying/index.ts';
import { applyTransaction, type PanelFile } from '../src/panel/index.ts';
import { readPlan } from '../src/plan/index.ts';
import { generatePanel } from '../tests/generate/panels.ts';
import { randomOf } from '../tests/generate/random.ts';

/** Lamps on span after span until there are so many. */
function withLamps(start: PanelFile, wanted: number): PanelFile {
  let panel = start;
  const spans = readPlan(panel).spans;
  for (let i = 0; (panel.lamps?.length ?? 0) < wanted && i < spans.length; i++) {
    const count = Math.ceil((wanted - (panel.lamps?.length ?? 0)) / (spans.length - i));
    const tx = strewSpan(panel, spans[i]?.id ?? '', { count, apart: 1 });
    if (tx !== null) panel = applyTransaction(panel, tx);
  }
  return panel;
}

function measured(name: string, calls: number, call: (i: number) => unknown): void {
  for (let i = 0; i < Math.min(calls, 200); i++) call(i);
  const times: number[] = [];
  for (let i = 0; i < calls; i++) {
    const from = performance.now();
    call(i);
    times.push(performance.now() - from);
  }
  times.sort((a, b) => a - b);
  const at = (share: number) => (times[Math.floor(share * (times.length - 1))] ?? 0).toFixed(4);
  console.log(`${name}: median ${at(0.5)} ms, p95 ${at(0.95)} ms, most ${at(1)} ms`);
}

const panel = withLamps(generatePanel(1, 300), 3_000);
const plan = readPlan(panel);
console.log(`${plan.points.length} points, ${panel.strips.length} strips, ${panel.lamps?.length} lamps`);

const random = randomOf(7);
const corners = panel.strips.flatMap(({ path }) => path);
const near = (by: number): [number, number] => {
  const [x, y] = random.pick(corners);
  return [x + (random.next() - 0.5) * by, y + (random.next() - 0.5) * by];
};
const spots = Array.from({ length: 2_000 }, () => ({ from: near(120), before: near(200), spot: near(40) }));
const moving = [{ list: 'strips', id: panel.strips[3]?.id ?? '', part: 0 }] as const;
const context = snapContext(panel, moving);
measured('snap context', 20, () => snapContext(panel, moving));
for (const reach of [3, 6]) {
  measured(`snap, reach ${reach}`, spots.length, (i) => {
    const { from, before, spot } = spots[i] ?? {
      from: [0, 0] as const,
      before: [0, 0] as const,
      spot: [0, 0] as const,
    };
    const options: SnapOptions = { reach, from, before };
    return snap(context, spot, options);
  });
}
const strip = [{ list: 'strips', id: panel.strips[3]?.id ?? '' }] as const;
const rest = snapContext(panel, strip);
const handles = handlesOf(panel, strip);
measured(`snap a move of ${handles.length} handles`, 500, (i) =>
  snapMove(rest, handles, [i % 50, i % 30], { reach: 3 }),
);
const index = pickIndex(panel, plan, null);
measured('pick', spots.length, (i) => pickAt(index, spots[i]?.spot ?? [0, 0], 6));
measured('index for picking', 10, () => pickIndex(panel, plan, null));
measured('describe', 5, () => describeFace(panel, plan));
measured('move a corner, names kept', 10, (i) => moveCorner(panel, panel.strips[i * 7]?.id ?? '', 0, near(60)));
measured('move a corner, a frame of a drag', 200, (i) =>
  moveCorner(panel, panel.strips[(i * 7) % panel.strips.length]?.id ?? '', 0, near(60), { draft: true }),
);
