/**
 * Tracks in lines of text, and plans printed back, so that a case fits a line and a failure shows what was laid.
 *
 *     main 0,60 300,60
 *     loop 60,60 100,85 200,85 240,60  width=6 layoutLength=2400
 *     @west West 0,60                                      a place, its name or -
 *     @loop-road Loop 150,85 length=1850
 */
import type { PanelFile } from '../../src/panel/index.ts';
import type { Plan } from '../../src/plan/index.ts';

type Spot = [number, number];

/** A panel of these tracks, with further keys of the file laid over it. Throws on a line that it cannot read. */
export function tracks(text: string, more: Partial<PanelFile> = {}): PanelFile {
  const strips: PanelFile['strips'] = [];
  const places: NonNullable<PanelFile['places']> = [];
  for (const line of text.split('\n').map((each) => each.trim())) {
    if (line === '') continue;
    const [id = '', ...words] = line.split(/\s+/);
    const figures = Object.fromEntries(
      words.filter((word) => word.includes('=')).map((word) => [word.split('=')[0] ?? '', Number(word.split('=')[1])]),
    );
    const spots = words.filter((word) => /^-?[\d.]+,-?[\d.]+$/.test(word)).map(spotOf);
    if (id.startsWith('@')) {
      const [at] = spots;
      if (at === undefined) throw new SyntaxError(`a place needs a spot: ${line}`);
      const name = words[0] === '-' || words[0]?.includes(',') ? {} : { name: words[0] ?? '' };
      places.push({ id: id.slice(1), ...name, at, ...figures });
    } else strips.push({ id, path: spots, ...figures });
  }
  return { format: 'mimic-panel', version: 1, strips, ...(places.length === 0 ? {} : { places }), ...more };
}

function spotOf(word: string): Spot {
  const [x, y] = word.split(',').map(Number);
  if (x === undefined || y === undefined || Number.isNaN(x + y)) throw new SyntaxError(`not a spot: ${word}`);
  return [x, y];
}

/** The tracks of a panel as lines that `tracks` reads. */
export function printTracks(panel: PanelFile): string {
  const spot = ([x, y]: readonly [number, number]) => `${x},${y}`;
  return [
    ...panel.strips.map(({ id, path, width }) =>
      [id, ...path.map(spot), ...(width === undefined ? [] : [`width=${width}`])].join(' '),
    ),
    ...(panel.places ?? []).map(({ id, name, at }) => `@${id} ${name?.replaceAll(' ', '_') ?? '-'} ${spot(at)}`),
  ].join('\n');
}

/**
 * What a plan says, a line a thing: `P1 60,60 from P1/west: P1/P2 | P1/P2#2 right` (toe, normal leg, reverse leg, its hand),
 * `X1 diamond a b`, `bridge a b`, `butt a b`, `E1 end P1/E1`, `problem end-too-square`.
 */
export function printPlan(plan: Plan): string {
  const tenth = (x: number) => String(Number(x.toFixed(2)));
  const spot = ([x, y]: readonly [number, number]) => `${tenth(x)},${tenth(y)}`;
  return [
    ...plan.points.map(
      (point) =>
        `${point.id} ${spot(point.at)} from ${point.toe.span}: ${point.normal.span} | ${point.reverse.span} ${point.hand}`,
    ),
    ...plan.crossings.map((crossing) => `${crossing.id} ${crossing.kind} ${crossing.strips.join(' ')}`),
    ...plan.bridges.map((bridge) => `bridge ${bridge.strips.join(' ')}`),
    ...plan.butts.map((butt) => `butt ${butt.strips.join(' ')}`),
    ...plan.places.map((place) => `${place.id} ${place.kind} ${place.span} ${tenth(place.along)}`),
    ...plan.problems
      .filter((problem) => problem.code !== 'place-unnamed')
      .map((problem) => `problem ${problem.code}${'strip' in problem ? ` ${problem.strip}` : ''}`),
  ].join('\n');
}
