/**
 * Layouts that know by their making which joint is which, and edits of them. Main lines lie straight across the sheet; branches hang on
 * them by one end or both. Each track is a row of spots cut into strips; a joint is "this end of this branch", a crossing "these two
 * tracks, so many along the first". Splitting, joining and turning round changes the strips and no track. What a script may do is
 * checked by measuring (brute force, no reading of plans): an edit that would bring things too near one another is passed over.
 */
import type { PanelFile } from '../../src/panel/index.ts';
import { type Random, randomOf } from './random.ts';

export type Spot = readonly [number, number];

interface Vertex {
  readonly spot: Spot;
  /** Two strips meet here. */
  readonly cut: boolean;
  /** It was added by an edit and may be taken out again. */
  readonly extra: boolean;
}

export interface Track {
  readonly name: string;
  readonly main: boolean;
  readonly vertices: readonly Vertex[];
  /** One more than there are cuts. `back`: laid from its last spot to its first. */
  readonly pieces: readonly { readonly strip: string; readonly back: boolean }[];
}

export interface Model {
  readonly tracks: readonly Track[];
  /** Counts branches, so that each has a name and a level of its own. */
  readonly made: number;
}

/** `branch.0`: the first end of that branch lies on a main line. */
export interface Joint {
  readonly key: string;
  readonly at: Spot;
}

export interface Crossing {
  /** The two tracks in the order of their names. */
  readonly pair: string;
  readonly at: Spot;
}

const MAIN_GAP = 400;
const MAIN_LENGTH = 1_500;
const SLOPE = Math.tan((32 * Math.PI) / 180);

/** Everything that a script measures, in mm: well beyond all reaches of the reading, so that what it means leaves no doubt. */
const APART = 14;
const SEAM_APART = 4;

export function newModel(seed: number): Model {
  const random = randomOf(seed);
  let model: Model = { tracks: [], made: 0 };
  for (let i = 0; i < 2; i++) {
    const y = 300 + i * MAIN_GAP;
    const name = `m${i}`;
    const vertices = [0, MAIN_LENGTH].map((x): Vertex => ({ spot: [x, y], cut: false, extra: false }));
    model = {
      ...model,
      tracks: [...model.tracks, { name, main: true, vertices, pieces: [{ strip: name, back: false }] }],
    };
  }
  const wanted = random.whole(2, 6);
  for (let tries = 0; tries < 40 && model.made < wanted; tries++) model = withBranch(model, random) ?? model;
  return model;
}

/** One branch more, a siding or a loop, above or below one of the lines; null where it does not fit. */
export function withBranch(model: Model, random: Random): Model | null {
  const level = 34 + 15 * (model.made % 9) + Math.floor(model.made / 9) * 2;
  const run = level / SLOPE;
  const x = random.whole(30, MAIN_LENGTH - 700);
  const y = 300 + random.whole(0, 1) * MAIN_GAP;
  const up = random.chance(50) ? -1 : 1;
  const ahead = random.chance(50) ? 1 : -1;
  const from = ahead === 1 ? x : MAIN_LENGTH - x;
  const flat = random.whole(60, 240);
  const spots: Spot[] = [
    [from, y],
    [from + ahead * run, y + up * level],
    [from + ahead * (run + flat), y + up * level],
  ];
  if (random.chance(50)) spots.push([from + ahead * (2 * run + flat), y]);
  const name = `b${model.made}`;
  const vertices = spots.map((spot): Vertex => ({ spot, cut: false, extra: false }));
  const track: Track = { name, main: false, vertices, pieces: [{ strip: name, back: random.chance(50) }] };
  const next = { tracks: [...model.tracks, track], made: model.made + 1 };
  return isSound(next) ? next : null;
}

/** The strips that the model stands for, by id. */
export function stripsOf(model: Model): ReadonlyMap<string, readonly Spot[]> {
  return new Map(
    model.tracks.flatMap((track) =>
      track.pieces.map(({ strip, back }, k) => {
        const path = pieceOf(track, k).map(({ spot }) => spot);
        return [strip, back ? path.reverse() : path] as const;
      }),
    ),
  );
}

export function panelOf(model: Model): PanelFile {
  return {
    format: 'mimic-panel',
    version: 1,
    strips: [...stripsOf(model)].map(([id, path]) => ({ id, path: path.map(([x, y]): [number, number] => [x, y]) })),
  };
}

/** The vertices of a track's piece, both of its cuts included. */
export function pieceOf(track: Track, k: number): Vertex[] {
  const bounds = boundsOf(track);
  return track.vertices.slice(bounds[k], (bounds[k + 1] ?? 0) + 1);
}

/** Places in the list of vertices where pieces begin and end. */
export function boundsOf({ vertices }: Track): readonly number[] {
  return [0, ...vertices.flatMap(({ cut }, i) => (cut ? [i] : [])), vertices.length - 1];
}

export function jointsOf(model: Model): readonly Joint[] {
  const mains = model.tracks.filter((track) => track.main);
  return model.tracks.flatMap((track) =>
    track.main
      ? []
      : endsOf(track).flatMap(({ key, spot }) =>
          mains.some((main) => offTrack(main, spot) <= 1e-6) ? [{ key, at: spot }] : [],
        ),
  );
}

/** Both ends of a track, first and last. */
export function endsOf({ name, vertices }: Track): readonly { readonly key: string; readonly spot: Spot }[] {
  const [first, last] = [vertices[0]?.spot ?? NOWHERE, vertices[vertices.length - 1]?.spot ?? NOWHERE];
  return [
    { key: `${name}.0`, spot: first },
    { key: `${name}.1`, spot: last },
  ];
}

/** All crossings of two tracks, by pair, then along the first of the two. */
export function crossingsOf(model: Model): readonly Crossing[] {
  const joints = jointsOf(model);
  const found: Crossing[] = [];
  model.tracks.forEach((a, i) => {
    for (const b of model.tracks.slice(i + 1)) {
      const spots: { at: Spot; along: number }[] = [];
      eachSegment(a, (p, q, along) => {
        eachSegment(b, (r, s) => {
          const at = meetOf(p, q, r, s);
          if (at === null || joints.some((joint) => far(joint.at, at) < 1)) return;
          if (!spots.some((known) => far(known.at, at) < 1e-6)) spots.push({ at, along: along + far(p, at) });
        });
      });
      spots.sort((x, y) => x.along - y.along);
      found.push(...spots.map(({ at }) => ({ pair: `${a.name} ${b.name}`, at })));
    }
  });
  return found;
}

/** Is nothing so near anything else that the reading could doubt what it means? */
export function isSound(model: Model): boolean {
  const joints = jointsOf(model);
  const crossings = crossingsOf(model);
  for (const track of model.tracks) {
    for (let i = 0; i + 1 < track.vertices.length; i++) {
      const [a, b] = [track.vertices[i]?.spot ?? NOWHERE, track.vertices[i + 1]?.spot ?? NOWHERE];
      if (far(a, b) < APART) return false;
    }
    for (const { key, spot } of endsOf(track)) {
      const joined = joints.some((joint) => joint.key === key);
      for (const other of model.tracks) {
        if (other === track) continue;
        const off = offTrack(other, spot);
        if (off < APART && !(joined && other.main && off <= 1e-6)) return false;
        // A joint lies clear of the ends, of other joints, and of seams unless it lies just on one.
        if (!joined) continue;
        for (const { spot: there, cut, extra } of other.vertices) {
          const gap = far(there, spot);
          if (gap < APART && !((cut || extra) && gap <= 1e-6)) return false;
        }
      }
      if (joined && !isBranchAngle(track, key)) return false;
    }
    for (const { spot, cut, extra } of track.vertices) {
      for (const { at, pair } of crossings) {
        const gap = far(spot, at);
        const own = pair.split(' ').includes(track.name);
        if (own && gap < SEAM_APART && !((cut || extra) && gap <= 1e-6)) return false;
      }
      if (!cut) continue;
      for (const other of model.tracks) {
        if (other === track) continue;
        if (offTrack(other, spot) < SEAM_APART && !isKnown(spot)) return false;
      }
    }
    if (track.vertices.some(({ cut }, i) => cut && kinkAt(track, i) > 40)) return false;
    if (crossesItself(track)) return false;
    if (track.vertices.some(({ spot: [x] }) => x < 0 || x > MAIN_LENGTH)) return false;
  }
  const spots = [...joints.map(({ at }) => at), ...crossings.map(({ at }) => at)];
  if (spots.some((a, i) => spots.slice(i + 1).some((b) => far(a, b) < APART))) return false;
  // Bends that nearly touch another track are left out, and tracks one on the other.
  return model.tracks.every((a) =>
    a.vertices.every(({ spot, cut }, i) => {
      const end = i === 0 || i === a.vertices.length - 1;
      return cut || end || isKnown(spot) || model.tracks.every((b) => b === a || offTrack(b, spot) >= SEAM_APART);
    }),
  );

  function isKnown(spot: Spot): boolean {
    return [...joints, ...crossings].some(({ at }) => far(at, spot) <= 1e-6);
  }
}

function isBranchAngle(track: Track, key: string): boolean {
  const [first, next] = key.endsWith('.0') ? [0, 1] : [track.vertices.length - 1, track.vertices.length - 2];
  const [a, b] = [track.vertices[first]?.spot ?? NOWHERE, track.vertices[next]?.spot ?? NOWHERE];
  const angle = (Math.atan2(Math.abs(b[1] - a[1]), Math.abs(b[0] - a[0])) * 180) / Math.PI;
  return angle >= 14 && angle <= 70;
}

function kinkAt({ vertices }: Track, i: number): number {
  const [a, b, c] = [-1, 0, 1].map((n) => vertices[i + n]?.spot ?? NOWHERE);
  if (a === undefined || b === undefined || c === undefined) return 0;
  const [one, two] = [Math.atan2(b[1] - a[1], b[0] - a[0]), Math.atan2(c[1] - b[1], c[0] - b[0])];
  const turn = (Math.abs(one - two) * 180) / Math.PI;
  return Math.min(turn, 360 - turn);
}

function crossesItself(track: Track): boolean {
  const spots = track.vertices.map(({ spot }) => spot);
  for (let i = 0; i + 1 < spots.length; i++) {
    for (let j = i + 2; j + 1 < spots.length; j++) {
      if (meetOf(spots[i] ?? NOWHERE, spots[i + 1] ?? NOWHERE, spots[j] ?? NOWHERE, spots[j + 1] ?? NOWHERE) !== null)
        return true;
    }
  }
  return false;
}

const NOWHERE: Spot = [NaN, NaN];

export function far(a: Spot, b: Spot): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function eachSegment({ vertices }: Track, visit: (a: Spot, b: Spot, along: number) => void): void {
  let along = 0;
  for (let i = 0; i + 1 < vertices.length; i++) {
    const [a, b] = [vertices[i]?.spot ?? NOWHERE, vertices[i + 1]?.spot ?? NOWHERE];
    visit(a, b, along);
    along += far(a, b);
  }
}

export function offTrack(track: Track, spot: Spot): number {
  let least = Infinity;
  eachSegment(track, (a, b) => {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((spot[0] - a[0]) * dx + (spot[1] - a[1]) * dy) / (dx * dx + dy * dy)));
    least = Math.min(least, far([a[0] + dx * t, a[1] + dy * t], spot));
  });
  return least;
}

function meetOf(p: Spot, q: Spot, r: Spot, s: Spot): Spot | null {
  const [ax, ay, bx, by] = [q[0] - p[0], q[1] - p[1], s[0] - r[0], s[1] - r[1]];
  const sine = ax * by - ay * bx;
  if (Math.abs(sine) < 1e-9) return null;
  const t = ((r[0] - p[0]) * by - (r[1] - p[1]) * bx) / sine;
  const u = ((r[0] - p[0]) * ay - (r[1] - p[1]) * ax) / sine;
  const slack = 1e-9;
  if (t < -slack || t > 1 + slack || u < -slack || u > 1 + slack) return null;
  return [p[0] + ax * t, p[1] + ay * t];
}

/** One edit of a script: what to call, and the model after it; strips that come into being are named by the call. */
export interface Step {
  readonly say: string;
  readonly call:
    | { readonly kind: 'move'; readonly strips: readonly string[]; readonly by: Spot }
    | { readonly kind: 'corner'; readonly strip: string; readonly at: number; readonly to: Spot }
    | { readonly kind: 'add'; readonly strip: string; readonly at: number; readonly to: Spot }
    | { readonly kind: 'take'; readonly strip: string; readonly at: number }
    | { readonly kind: 'split'; readonly strip: string; readonly at: Spot }
    | { readonly kind: 'join'; readonly first: string; readonly second: string }
    | { readonly kind: 'delete'; readonly strips: readonly string[] }
    | { readonly kind: 'reverse'; readonly strip: string }
    | { readonly kind: 'lay'; readonly strip: string; readonly path: readonly Spot[] };
  readonly next: (fresh: string) => Model;
}

/** The step that four small numbers ask for; null where there is none or it would leave things in doubt. */
export function stepOf(model: Model, [what, a, b, c]: readonly [number, number, number, number]): Step | null {
  const step = proposeStep(model, what, a, b, c);
  return step !== null && isSound(step.next('fresh')) ? step : null;
}

function proposeStep(model: Model, what: number, a: number, b: number, c: number): Step | null {
  const pick = <T>(list: readonly T[], n: number): T | undefined =>
    list.length === 0 ? undefined : list[n % list.length];
  const branch = pick(
    model.tracks.filter((track) => !track.main),
    a,
  );
  const any = pick(model.tracks, a);
  if (any === undefined) return null;
  const k = b % any.pieces.length;
  const piece = any.pieces[k];
  if (piece === undefined) return null;
  switch (what % 12) {
    case 0:
    case 1:
      return branch === undefined ? null : moveTrack(model, branch, [((b % 61) - 30) * 11, 0]);
    case 2: {
      // To the other line, or off the line and back.
      if (branch === undefined) return null;
      const [y] = branch.vertices.map(({ spot }) => spot[1]);
      const on = y === 300 || y === 300 + MAIN_GAP;
      const off = y === undefined ? 0 : Math.round((y - 300) / MAIN_GAP) * MAIN_GAP + 300 - y;
      if (!on) return moveTrack(model, branch, [0, off]);
      return moveTrack(model, branch, [0, b % 3 === 0 ? (c % 2 === 0 ? 23 : -23) : y === 300 ? MAIN_GAP : -MAIN_GAP]);
    }
    case 3: {
      // Anywhere, or just at a joint or crossing.
      const spots = [...jointsOf(model), ...crossingsOf(model)]
        .map(({ at }) => at)
        .filter((at) => offTrack(any, at) <= 1e-6);
      const at = b % 2 === 0 ? pick(spots, c) : spotOf(any, ((c % 97) + 1) / 99);
      return at === undefined ? null : splitTrack(model, any, at);
    }
    case 4:
    case 5: {
      const second = any.pieces[k + 1];
      if (second === undefined) return null;
      const [first, last] = c % 2 === 0 ? [piece, second] : [second, piece];
      const bound = boundsOf(any)[k + 1] ?? 0;
      const track: Track = {
        ...any,
        vertices: any.vertices.map((vertex, i) => (i === bound ? { ...vertex, cut: false, extra: true } : vertex)),
        pieces: any.pieces.toSpliced(k, 2, first),
      };
      return {
        say: `join ${first.strip} ${last.strip}`,
        call: { kind: 'join', first: first.strip, second: last.strip },
        next: () => withTrack(model, any, track),
      };
    }
    case 6:
      return {
        say: `reverse ${piece.strip}`,
        call: { kind: 'reverse', strip: piece.strip },
        next: () => withTrack(model, any, { ...any, pieces: any.pieces.with(k, { ...piece, back: !piece.back }) }),
      };
    case 7: {
      if (branch === undefined || b % 3 !== 0) return null;
      const strips = branch.pieces.map(({ strip }) => strip);
      return {
        say: `delete ${strips.join(' ')}`,
        call: { kind: 'delete', strips },
        next: () => ({ ...model, tracks: model.tracks.filter((track) => track !== branch) }),
      };
    }
    case 8: {
      const grown = withBranch(model, randomOf(a * 1_000 + b * 31 + c));
      const track = grown?.tracks[grown.tracks.length - 1];
      const [strip, path] = (track === undefined ? [] : [...stripsOf({ tracks: [track], made: 0 })])[0] ?? ['', []];
      if (grown === null || strip === '') return null;
      return { say: `lay ${strip}`, call: { kind: 'lay', strip, path }, next: () => grown };
    }
    case 9:
      return branch === undefined ? null : bendTrack(model, branch, b, c);
    case 10:
      return takeCorner(model, any, b);
    default:
      return branch === undefined ? null : slideEnd(model, branch, b, c);
  }
}

function withTrack(model: Model, was: Track, is: Track): Model {
  return { ...model, tracks: model.tracks.map((track) => (track === was ? is : track)) };
}

function moveTrack(model: Model, track: Track, by: Spot): Step | null {
  if (by[0] === 0 && by[1] === 0) return null;
  const strips = track.pieces.map(({ strip }) => strip);
  const vertices = track.vertices.map((vertex) => ({ ...vertex, spot: plus(vertex.spot, by) }));
  return {
    say: `move ${strips.join(' ')} by ${by.join(',')}`,
    call: { kind: 'move', strips, by },
    next: () => withTrack(model, track, { ...track, vertices }),
  };
}

function plus(a: Spot, b: Spot): Spot {
  return [a[0] + b[0], a[1] + b[1]];
}

/** A spot so much of the way along a track, to whole millimetres on level runs. */
function spotOf(track: Track, share: number): Spot {
  let length = 0;
  eachSegment(track, (a, b) => {
    length += far(a, b);
  });
  let found: Spot = NOWHERE;
  eachSegment(track, (a, b, along) => {
    const t = (share * length - along) / far(a, b);
    if (t >= 0 && t <= 1) found = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
  });
  return found;
}

function splitTrack(model: Model, track: Track, at: Spot): Step | null {
  const i = track.vertices.findIndex(({ spot }, n) => {
    const before = track.vertices[n - 1]?.spot;
    return before !== undefined && Math.abs(far(before, at) + far(at, spot) - far(before, spot)) < 1e-9;
  });
  // Cuts at bends are left out, and those that are there already.
  if (i < 1 || track.vertices.some(({ spot }) => far(spot, at) < APART)) return null;
  const k = track.vertices.slice(0, i).filter(({ cut }) => cut).length;
  const piece = track.pieces[k];
  if (piece === undefined) return null;
  const vertices = track.vertices.toSpliced(i, 0, { spot: at, cut: true, extra: false });
  return {
    say: `split ${piece.strip} at ${at.join(',')}`,
    call: { kind: 'split', strip: piece.strip, at },
    next: (fresh) => {
      const other = { strip: fresh, back: piece.back };
      return withTrack(model, track, {
        ...track,
        vertices,
        pieces: track.pieces.toSpliced(k, 1, ...(piece.back ? [other, piece] : [piece, other])),
      });
    },
  };
}

/** The strip that holds a vertex, and its number there. */
function cornerOf(track: Track, i: number): { readonly strip: string; readonly at: number } | null {
  const bounds = boundsOf(track);
  const k = bounds.findIndex((bound, n) => bound <= i && i <= (bounds[n + 1] ?? -1));
  const piece = track.pieces[k];
  const [from, to] = [bounds[k] ?? 0, bounds[k + 1] ?? 0];
  return piece === undefined ? null : { strip: piece.strip, at: piece.back ? to - i : i - from };
}

/** A new corner half way along a segment, a little off it. */
function bendTrack(model: Model, track: Track, b: number, c: number): Step | null {
  const i = 1 + (b % (track.vertices.length - 1));
  const [p, q] = [track.vertices[i - 1]?.spot ?? NOWHERE, track.vertices[i]?.spot ?? NOWHERE];
  if (far(p, q) < 60) return null;
  const to: Spot = [Math.round((p[0] + q[0]) / 2), Math.round((p[1] + q[1]) / 2) + (c % 9) - 4];
  const vertices = track.vertices.toSpliced(i, 0, { spot: to, cut: false, extra: true });
  const after: Track = { ...track, vertices };
  const corner = cornerOf(after, i);
  if (corner === null) return null;
  return {
    say: `bend ${corner.strip} at ${corner.at} to ${to.join(',')}`,
    call: { kind: 'add', ...corner, to },
    next: () => withTrack(model, track, after),
  };
}

function takeCorner(model: Model, track: Track, b: number): Step | null {
  const extras = track.vertices.flatMap(({ extra }, n) => (extra ? [n] : []));
  const i = extras.length === 0 ? -1 : (extras[b % extras.length] ?? -1);
  const corner = cornerOf(track, i);
  if (i < 1 || corner === null || jointsOf(model).some(({ at }) => far(at, track.vertices[i]?.spot ?? NOWHERE) < 1))
    return null;
  return {
    say: `straighten ${corner.strip} at ${corner.at}`,
    call: { kind: 'take', ...corner },
    next: () => withTrack(model, track, { ...track, vertices: track.vertices.toSpliced(i, 1) }),
  };
}

/** One end of a branch drawn along its line: its first leg bends. */
function slideEnd(model: Model, track: Track, b: number, c: number): Step | null {
  const i = b % 2 === 0 ? 0 : track.vertices.length - 1;
  const vertex = track.vertices[i];
  const corner = cornerOf(track, i);
  if (vertex === undefined || corner === null) return null;
  if (c % 41 === 20) return null;
  const to = plus(vertex.spot, [((c % 41) - 20) * 3, 0]);
  return {
    say: `draw ${corner.strip} at ${corner.at} to ${to.join(',')}`,
    call: { kind: 'corner', ...corner, to },
    next: () => withTrack(model, track, { ...track, vertices: track.vertices.with(i, { ...vertex, spot: to }) }),
  };
}
