/**
 * Edits of a panel from a seed, one at a time, as a hand makes them: most change one strip or one record, some many. Sound or not: a strip
 * that is moved leaves what it was joined to.
 */
import type { PanelFile, Strip } from '../../src/panel/index.ts';
import type { Random } from './random.ts';

type Spot = [number, number];
type Edit = (panel: PanelFile, random: Random, history: readonly PanelFile[]) => PanelFile;

/** Every kind of edit, by name. */
export const EDITS = {
  move: (panel, random) => {
    const [dx, dy] = [random.whole(-8, 8) * 2.5, random.whole(-8, 8) * 2.5];
    return change(panel, random, (strip) => ({ ...strip, path: strip.path.map(([x, y]): Spot => [x + dx, y + dy]) }));
  },
  bend: (panel, random) =>
    change(panel, random, (strip) => {
      const i = random.whole(0, strip.path.length - 1);
      const [dx, dy] = [random.next() * 30 - 15, random.whole(-3, 3) * 5];
      return { ...strip, path: strip.path.map(([x, y], k): Spot => (k === i ? [x + dx, y + dy] : [x, y])) };
    }),
  'add a corner': (panel, random) =>
    change(panel, random, (strip) => {
      const i = random.whole(1, Math.max(1, strip.path.length - 1));
      const [a, b] = [strip.path[i - 1], strip.path[i]];
      if (a === undefined || b === undefined) return strip;
      const t = 0.2 + random.next() * 0.6;
      const corner: Spot = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t + random.whole(-1, 1) * 10];
      return { ...strip, path: [...strip.path.slice(0, i), corner, ...strip.path.slice(i)] };
    }),
  'take out a corner': (panel, random) =>
    change(panel, random, (strip) => {
      const i = random.whole(0, strip.path.length - 1);
      return { ...strip, path: strip.path.filter((_, k) => k !== i) };
    }),
  split: (panel, random) => {
    const at = random.whole(0, panel.strips.length - 1);
    return {
      ...panel,
      strips: panel.strips.flatMap((strip, k): Strip[] => {
        const i = random.whole(1, Math.max(1, strip.path.length - 1));
        const [a, b] = [strip.path[i - 1], strip.path[i]];
        if (k !== at || a === undefined || b === undefined) return [strip];
        const seam: Spot = [a[0] + (b[0] - a[0]) * 0.37, a[1] + (b[1] - a[1]) * 0.37];
        return [
          { ...strip, path: [...strip.path.slice(0, i), seam] },
          { ...strip, id: freeId(panel), path: [seam, ...strip.path.slice(i)] },
        ];
      }),
    };
  },
  join: (panel, random) => {
    const one = pickStrip(panel, random);
    const end = one?.path[one.path.length - 1];
    if (one === undefined || end === undefined) return panel;
    const two = panel.strips.find(
      ({ id, path: [first] }) =>
        id !== one.id && first !== undefined && Math.hypot(first[0] - end[0], first[1] - end[1]) < 3,
    );
    if (two === undefined) return panel;
    const joined = { ...one, path: [...one.path, ...two.path.slice(1)] };
    return {
      ...panel,
      strips: panel.strips.flatMap((strip) => (strip === one ? [joined] : strip === two ? [] : [strip])),
    };
  },
  delete: (panel, random) => {
    const gone = pickStrip(panel, random);
    return { ...panel, strips: panel.strips.filter((strip) => strip !== gone) };
  },
  add: (panel, random) => {
    const like = pickStrip(panel, random);
    if (like === undefined) return panel;
    const [dx, dy] = [random.whole(-20, 20) * 5, random.whole(-20, 20) * 5];
    const added = { id: freeId(panel), path: like.path.map(([x, y]): Spot => [x + dx, y + dy]) };
    const place = random.chance(50) ? panel.strips.length : random.whole(0, panel.strips.length);
    return { ...panel, strips: [...panel.strips.slice(0, place), added, ...panel.strips.slice(place)] };
  },
  'lay one on another': (panel, random) => {
    const like = pickStrip(panel, random);
    if (like === undefined) return panel;
    const off = random.next() * 3;
    return {
      ...panel,
      strips: [...panel.strips, { ...like, id: freeId(panel), path: like.path.map(([x, y]): Spot => [x, y + off]) }],
    };
  },
  reverse: (panel, random) => change(panel, random, (strip) => ({ ...strip, path: [...strip.path].reverse() })),
  reorder: (panel, random) => {
    const moved = pickStrip(panel, random);
    if (moved === undefined) return panel;
    const rest = panel.strips.filter((strip) => strip !== moved);
    const place = random.pick([0, rest.length, random.whole(0, rest.length)]);
    return { ...panel, strips: [...rest.slice(0, place), moved, ...rest.slice(place)] };
  },
  shuffle: (panel, random) => ({
    ...panel,
    strips: panel.strips
      .map((strip) => ({ strip, key: random.next() }))
      .sort((a, b) => a.key - b.key)
      .map(({ strip }) => strip),
  }),
  width: (panel, random) =>
    change(panel, random, (strip) => ({ ...strip, width: random.pick([1, 3, 5, 7.5, 10, 45]) })),
  layoutLength: (panel, random) =>
    change(panel, random, ({ layoutLength: _, ...strip }) =>
      random.chance(50) ? { ...strip, layoutLength: random.whole(100, 5000) } : strip,
    ),
  'name a strip': (panel, random) =>
    change(panel, random, (strip) => ({ ...strip, name: `Name ${random.whole(1, 99)}` })),
  'name a place': (panel, random) => ({
    ...panel,
    places: pickOne(panel.places ?? [], random, ({ name: _, ...place }) =>
      random.chance(50) ? { ...place, name: `Name ${random.whole(1, 99)}` } : place,
    ),
  }),
  'move a place': (panel, random) => ({
    ...panel,
    places: pickOne(panel.places ?? [], random, ({ at, ...place }) => ({
      ...place,
      at: [at[0] + random.whole(-30, 30), at[1] + random.whole(-6, 6)],
    })),
  }),
  'add a place': (panel, random) => {
    const strip = pickStrip(panel, random);
    const [at] = strip?.path ?? [];
    if (at === undefined) return panel;
    const place = { id: `place-${panel.places?.length ?? 0}-${random.whole(1, 1e9)}`, at: [at[0] + 8, at[1]] as Spot };
    return { ...panel, places: [...(panel.places ?? []), place] };
  },
  'change a point': (panel, random) => ({
    ...panel,
    points: pickOne(panel.points ?? [], random, (point) => ({
      ...point,
      normal: random.pick(['left', 'right', 's1', 'nothing']),
      trap: random.chance(30),
    })),
  }),
  'forget a point': (panel, random) => {
    const gone = random.whole(0, Math.max(0, (panel.points?.length ?? 0) - 1));
    return { ...panel, points: (panel.points ?? []).filter((_, i) => i !== gone) };
  },
  'tell a crossing': (panel, random) => {
    const strip = pickStrip(panel, random);
    const [a, b] = strip?.path ?? [];
    if (a === undefined || b === undefined) return panel;
    const at: Spot = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const kind = random.pick(['over', 'diamond', 'double-slip', 'single-slip'] as const);
    const record = { id: `X${900 + (panel.crossings?.length ?? 0)}`, at, kind, curve: [at[0], at[1] + 3] as Spot };
    return { ...panel, crossings: [...(panel.crossings ?? []), record] };
  },
  'forget the levers': ({ levers: _, ...panel }) => panel,
  'read again': (panel) => JSON.parse(JSON.stringify(panel)) as PanelFile,
  undo: (panel, random, history) => {
    const back = history[history.length - random.whole(1, Math.min(5, Math.max(1, history.length)))];
    return back ?? panel;
  },
} as const satisfies Record<string, Edit>;

export type EditName = keyof typeof EDITS;

/** One edit by name. `history`: the panels before this one, the latest last. */
export function editPanel(name: EditName, panel: PanelFile, random: Random, history: readonly PanelFile[]): PanelFile {
  return EDITS[name](panel, random, history);
}

export const EDIT_NAMES = Object.keys(EDITS) as readonly EditName[];

function pickStrip({ strips }: PanelFile, random: Random): Strip | undefined {
  return strips[random.whole(0, Math.max(0, strips.length - 1))];
}

function change(panel: PanelFile, random: Random, to: (strip: Strip) => Strip): PanelFile {
  return { ...panel, strips: pickOne(panel.strips, random, to) };
}

function pickOne<T>(list: readonly T[], random: Random, to: (item: T) => T): T[] {
  const at = random.whole(0, Math.max(0, list.length - 1));
  return list.map((item, i) => (i === at ? to(item) : item));
}

function freeId({ strips }: PanelFile): string {
  const known = new Set(strips.map(({ id }) => id));
  let n = strips.length + 1;
  while (known.has(`n${n}`)) n += 1;
  return `n${n}`;
}
