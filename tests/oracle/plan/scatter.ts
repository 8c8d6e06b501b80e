/**
 * Strips scattered over a face from a seed, rows 25 mm apart, branches of 32, 45 and 60 degrees and their ends to 0.01 mm, with records
 * at, near and far from what they mean. Much of it is no railway that anyone would lay; each must be read all the same.
 */
import type { PanelFile } from '../../../src/panel/index.ts';
import { type Random, randomOf } from '../../generate/random.ts';
import { readSlowly } from './read.ts';

type Spot = [number, number];

const ROW = 25;
const STEP = 20;
/** Across for one row down, by the branch's angle. */
const RUN = [32, 45, 60].map((degrees) => ROW / Math.tan((degrees * Math.PI) / 180));

/** A panel of up to `size` strips in which the text leaves nothing open: a strip or record that would is not laid. */
export function scatterPanel(seed: number, size: number): PanelFile {
  const random = randomOf(seed);
  let panel: PanelFile = { format: 'mimic-panel', version: 1, name: `Scatter ${seed}`, strips: [] };
  const sound = (next: PanelFile) =>
    readSlowly(next).open.filter((why) => !/equally straight|single slip/.test(why)).length === 0;
  for (let tries = 0; tries < size * 2 && panel.strips.length < size; tries++) {
    const next = layOne(panel, random);
    if (next !== null && sound(next)) panel = next;
  }
  for (const add of [addPoints, addCrossings, addThreeWays, addPlaces]) {
    const next = add(panel, random);
    panel = next;
  }
  if (random.chance(30)) panel = { ...panel, retired: [random.pick(['P1', 'p2', 'E1', 'X1'])] };
  return panel;
}

const cents = (x: number) => Math.round(x * 100) / 100;

function layOne(panel: PanelFile, random: Random): PanelFile | null {
  const id = `s${panel.strips.length + 1}`;
  const width = random.chance(15) ? { width: random.pick([4, 6, 8]) } : {};
  const lay = (path: Spot[]): PanelFile => ({
    ...panel,
    strips: [...panel.strips, { id, ...width, path: random.chance(50) ? path : [...path].reverse() }],
  });
  const kind = random.whole(1, 10);
  if (panel.strips.length < 2 || kind === 1) {
    const [x, y] = [STEP * random.whole(0, 10), ROW * random.whole(1, 12)];
    return lay([
      [x, y],
      [x + STEP * random.whole(5, 20), y],
    ]);
  }
  const strip = random.pick(panel.strips);
  const at = random.whole(0, strip.path.length - 2);
  const [a, b] = [strip.path[at], strip.path[at + 1]];
  if (a === undefined || b === undefined) return null;
  const run = random.pick(RUN) * random.pick([1, -1]);
  const fall = random.pick([1, -1]);
  const share = random.whole(1, 9) / 10;
  const from: Spot = [cents(a[0] + (b[0] - a[0]) * share), cents(a[1] + (b[1] - a[1]) * share)];
  if (kind === 2) {
    // Laid in two: a seam in the middle, the second half perhaps the other way about.
    const [one, two] = [
      [...strip.path.slice(0, at + 1), from],
      [from, ...strip.path.slice(at + 1)],
    ];
    const strips = panel.strips.map((each) => (each === strip ? { ...each, path: one } : each));
    return { ...panel, strips: [...strips, { ...strip, id, path: random.chance(50) ? two : [...two].reverse() }] };
  }
  if (kind === 3) {
    // On from an end, with or without a kink.
    const end = random.chance(50) ? strip.path[0] : strip.path.at(-1);
    if (end === undefined) return null;
    const rows = random.whole(0, 2);
    return lay([end, [cents(end[0] + run * Math.max(1, rows)), end[1] + fall * ROW * rows]]);
  }
  if (kind === 4) {
    // Back to a line: a loop beside it, or a return loop where the two ends lie close.
    const rows = random.whole(1, 2);
    const reach = STEP * random.whole(2, 8) * Math.sign(run);
    return lay([
      from,
      [cents(from[0] + run * rows), from[1] + fall * ROW * rows],
      [cents(from[0] + run * rows + reach), from[1] + fall * ROW * rows],
      [cents(from[0] + 2 * run * rows + reach), from[1]],
    ]);
  }
  const rows = random.whole(1, 5);
  const turn: Spot = [cents(from[0] + run * rows), from[1] + fall * ROW * rows];
  if (kind <= 7) return lay([from, turn]);
  const level: Spot = [turn[0] + Math.sign(run) * STEP * random.whole(1, 8), turn[1]];
  return lay([from, turn, level]);
}

/** A spot near another: mostly on it, sometimes within reach, seldom out of it. */
function near([x, y]: readonly [number, number], random: Random): Spot {
  const off = random.pick([0, 0, 0, 2, 6, 9, 20]);
  return [cents(x + off * random.pick([-0.6, 0.6])), cents(y + off * random.pick([-0.8, 0.8]))];
}

function addPoints(panel: PanelFile, random: Random): PanelFile {
  const { points } = readSlowly(panel);
  let next = panel;
  points
    .filter(({ of }) => of === 'point')
    .forEach((point, i) => {
      if (!random.chance(60)) return;
      const legs = [point.normal?.tape.id ?? '', point.reverse?.tape.id ?? ''];
      const normal = random.pick([null, null, 'left', 'right', ...legs, 'nowhere']);
      const record = {
        id: random.chance(20) ? `P${20 - i}` : `T${i + 1}`,
        at: near(point.at, random),
        ...(normal === null ? {} : { normal }),
        ...(random.chance(15) ? { trap: true } : {}),
      };
      if ((next.points ?? []).some(({ id }) => id === record.id)) return;
      next = keepIfClear(next, { ...next, points: [...(next.points ?? []), record] });
    });
  return next;
}

function addCrossings(panel: PanelFile, random: Random): PanelFile {
  let next = panel;
  readSlowly(panel).crossings.forEach(({ at, strips }, i) => {
    if (!random.chance(75)) return;
    const kind = random.pick([
      null,
      'diamond',
      'over',
      'single-slip',
      'single-slip',
      'double-slip',
      'double-slip',
    ] as const);
    const ends = [{ id: `B${i + 1}` }, { id: `A${i + 1}` }].slice(0, random.whole(0, 2));
    const record = {
      id: random.chance(50) ? `C${i + 1}` : `X${i + 1}`,
      at: near(at, random),
      ...(kind === null ? {} : { kind }),
      ...(ends.length > 0 ? { ends } : {}),
      ...(random.chance(50) ? { normal: random.pick([...strips]) } : {}),
      ...(kind === 'single-slip'
        ? { curve: [at[0] + random.pick([-5, 0, 5]), at[1] + random.pick([-12, 1, 12])] as Spot }
        : {}),
    };
    next = keepIfClear(next, { ...next, crossings: [...(next.crossings ?? []), record] });
  });
  return next;
}

function addThreeWays(panel: PanelFile, random: Random): PanelFile {
  let next = panel;
  const threes = readSlowly(panel).points.filter(({ of }) => of === 'three-way');
  threes.forEach(({ at, normal, reverse }, i) => {
    if (i % 2 === 1 || !random.chance(70)) return;
    const points = [`Q${i + 2}`, `Q${i + 1}`].slice(0, random.pick([0, 2]));
    const named = random.pick([null, normal?.tape.id ?? '', reverse?.tape.id ?? '']);
    const record = {
      id: `Y${i + 1}`,
      at: near(at, random),
      ...(points.length > 0 ? { points } : {}),
      ...(named === null ? {} : { normal: named }),
    };
    next = keepIfClear(next, { ...next, threeWays: [...(next.threeWays ?? []), record] });
  });
  return next;
}

function addPlaces(panel: PanelFile, random: Random): PanelFile {
  let next = panel;
  const { places, spans } = readSlowly(panel);
  const spots: Spot[] = places.filter(() => random.chance(50)).map(({ at }) => near(at, random));
  for (const { stretches } of spans) {
    const [stretch] = stretches;
    if (stretch === undefined || !random.chance(25)) continue;
    const strip = panel.strips.find(({ id }) => id === stretch.tape.id);
    const [a, b] = [strip?.path[0], strip?.path[1]];
    const share = random.whole(1, 8) / 9;
    if (a !== undefined && b !== undefined)
      spots.push(near([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share], random));
  }
  spots.forEach((at, i) => {
    const record = {
      id: random.chance(10) ? `E${i + 2}` : `place-${i + 1}`,
      at,
      ...(random.chance(70) ? { name: `Place ${i + 1}` } : {}),
    };
    next = keepIfClear(next, { ...next, places: [...(next.places ?? []), record] });
  });
  return next;
}

/** The panel with one record more, unless the text leaves open what the record means. */
function keepIfClear(before: PanelFile, after: PanelFile): PanelFile {
  const [a, b] = [readSlowly(before).open.length, readSlowly(after).open.length];
  return b > a ? before : after;
}
