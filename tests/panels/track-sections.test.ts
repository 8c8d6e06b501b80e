/** Reversing sections: the fewest spans, told by trying every set of them; where they begin and end; what holds a train. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import type { Plan, SpanEnd } from '../../src/plan/index.ts';
import { randomOf } from '../generate/random.ts';
import { printTracks, tracks } from '../generate/tracks.ts';

const SEED = 20_261_126;

/** Can every rail have a wire with these spans left out? Colours ends of spans one after the other; knows nothing of bodies. */
function isConsistent(plan: Plan, without: ReadonlySet<string>): boolean {
  // A state for each span: which wire is on its left. A passage ties two; so do two legs of one point over its stock rails.
  const ties: { a: string; b: string; equal: boolean }[] = [];
  const tie = (from: SpanEnd, to: SpanEnd, passing: boolean) => {
    const along = (end: SpanEnd, out: boolean) => (out ? end.end === 0 : end.end === 1);
    // Passing: out of one, into the other. Two legs of a toe: a walker leaves over either.
    const equal = passing ? along(from, false) === along(to, true) : along(from, true) === along(to, true);
    ties.push({ a: from.span, b: to.span, equal });
  };
  const same = (a: SpanEnd, b: SpanEnd) => a.span === b.span && a.end === b.end;
  for (const { between } of plan.passages) tie(between[0], between[1], true);
  for (const one of plan.passages)
    for (const other of plan.passages) {
      if (one.feature !== other.feature || one === other) continue;
      for (const [p, q] of [one.between, [one.between[1], one.between[0]]] as const)
        for (const [r, s] of [other.between, [other.between[1], other.between[0]]] as const)
          if (same(p, r)) tie(q, s, false);
    }
  const left = new Map<string, boolean>();
  for (const { id } of plan.spans) {
    if (left.has(id) || without.has(id)) continue;
    left.set(id, true);
    const queue = [id];
    for (const at of queue)
      for (const { a, b, equal } of ties) {
        if (a !== at && b !== at) continue;
        const to = a === at ? b : a;
        if (without.has(to)) continue;
        const wanted = left.get(at) === equal;
        if (!left.has(to)) {
          left.set(to, wanted);
          queue.push(to);
        } else if (left.get(to) !== wanted) return false;
      }
  }
  return true;
}

function fewestByTrying(plan: Plan): number {
  const ids = plan.spans.map(({ id }) => id);
  const choose = (size: number, from: number, taken: readonly string[]): boolean =>
    size === 0
      ? isConsistent(plan, new Set(taken))
      : ids.slice(from).some((id, i) => choose(size - 1, from + i + 1, [...taken, id]));
  for (let size = 0; ; size++) if (choose(size, 0, [])) return size;
}

/** An oval with chords across it, from side to side or along one, and a stem: chords reverse or not as they lean. */
function tangle(seed: number): PanelFile {
  const random = randomOf(seed);
  const chords = Array.from({ length: random.whole(1, 3) }, (_, i) => {
    const x = 90 + 100 * i + random.whole(0, 15);
    const lean = random.pick([-60, 60, 120]);
    return random.chance(25) ? `c${i} ${x},60 ${x + 30},80 ${x + 60},80 ${x + 90},60` : `c${i} ${x},60 ${x + lean},160`;
  });
  const stem = random.chance(50) ? 'stem 420,110 470,110' : 'stem 70,160 20,200';
  return tracks(`ring 20,60 440,60 470,110 440,160 20,160 -10,110 20,60\n${chords.join('\n')}\n${stem}`);
}

const RING = 'lead 0,60 100,60\nring 100,60 160,30 220,60 160,90 100,60';
const OVAL = 'oval 60,60 340,60 380,110 340,160 60,160 20,110 60,60';

describe('reversing sections', () => {
  it.each([
    ['a plain oval', OVAL, 0],
    ['a loop of two points', 'main 0,60 300,60\nloop 60,60 100,85 200,85 240,60', 0],
    ['a balloon', RING, 1],
    [
      'a balloon at both ends',
      `${RING.replace('lead 0,60 100,60', 'lead -100,60 100,60')}\nback -100,60 -160,30 -220,60 -160,90 -100,60`,
      2,
    ],
    ['a triangle', 'top 0,100 300,100\nleft 80,100 150,40\nright 220,100 150,40\nstem 150,40 150,0', 1],
    ['a diagonal across an oval', `${OVAL}\ndiagonal 120,60 280,160`, 1],
  ])('[TF3] %s', (_, text, count) => {
    const { plan, track } = derive(tracks(text));
    expect(track().sections).toHaveLength(count);
    expect(track().sectionsProved).toBe(true);
    expect(fewestByTrying(plan)).toBe(count);
  });

  it(`[TF1] [TF3] as few as trying every set finds (seed ${SEED})`, () => {
    let some = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const panel = tangle(seed);
        const { plan, track } = derive(panel);
        fc.pre(plan.spans.length <= 20);
        const { sections, sectionsProved } = track();
        expect(sectionsProved).toBe(true);
        expect(isConsistent(plan, new Set(sections.map(({ span }) => span))), printTracks(panel)).toBe(true);
        expect(sections.length, printTracks(panel)).toBe(fewestByTrying(plan));
        some += sections.length > 0 ? 1 : 0;
      }),
      { seed: SEED, numRuns: 120 },
    );
    expect(some).toBeGreaterThan(20);
  });

  it('[TF5] begins and ends at the ends of its span, and both rails are cut there', () => {
    const { plan, track } = derive(tracks(RING));
    const { sections, gaps, rails, droppers } = track();
    const [section] = sections;
    expect(section).toMatchObject({ id: 'RS1', span: 'P1/P1', cut: null });
    expect([section?.begins.feature, section?.ends.feature]).toEqual(['P1', 'P1']);
    expect(section?.begins.at).toEqual(plan.spans.find(({ id }) => id === 'P1/P1')?.path[0]);
    expect(gaps.filter((gap) => gap.for.includes('RS1')).map(({ end, rail }) => [end, rail])).toEqual([
      [0, 'both'],
      [1, 'both'],
    ]);
    expect(rails.find(({ span }) => span === 'P1/P1')).toMatchObject({ left: null, right: null, section: 'RS1' });
    expect(droppers.find(({ section: of }) => of === 'RS1')).toMatchObject({ left: null, right: null });
  });

  it.each([
    [1500, 1500, 'holds', []],
    [1499, 1500, 'too-short', []],
    [undefined, 1500, 'not-asked-for', ['strips.ring.layoutLength']],
    [1500, undefined, 'not-asked-for', ['trains']],
    [undefined, undefined, 'not-asked-for', ['strips.ring.layoutLength', 'trains']],
  ] as const)('[TF5] of %s mm for a train of %s mm: %s', (layoutLength, length, verdict, keys) => {
    const panel = tracks(RING);
    const strips = panel.strips.map((strip) =>
      strip.id === 'ring' && layoutLength !== undefined ? { ...strip, layoutLength } : strip,
    );
    const trains =
      length === undefined
        ? [{ id: 'T1' }]
        : [
            { id: 'T1', length },
            { id: 'T2', length: length - 1 },
          ];
    const [section] = derive({ ...panel, strips, trains }).track().sections;
    expect(section?.verdict).toBe(verdict);
    expect(section?.questions.map(({ key }) => key)).toEqual(keys);
  });

  it('[TF4] is where the file cuts it, else where the longest train fits, never by tape where lengths are known', () => {
    const text =
      'top 0,100 300,100\nleft 80,100 150,40 layoutLength=900\nright 220,100 150,40 layoutLength=1100\nstem 150,40 150,0';
    const sectionsOf = (more: Partial<PanelFile>, laid = text) => derive(tracks(laid, more)).track().sections;
    const strips = (more: Partial<PanelFile>, laid = text) => {
      const { plan, track } = derive(tracks(laid, more));
      return track().sections.map(({ span }) => plan.spans.find(({ id }) => id === span)?.stretches[0]?.strip);
    };
    expect(strips({ trains: [{ id: 'T1', length: 1000 }] })).toEqual(['right']);
    expect(strips({ trains: [{ id: 'T1', length: 1000 }] }, text.replace('900', '1300'))).toEqual(['left']);
    const gaps = [{ at: [90, 91.43] as [number, number] }, { at: [140, 48.57] as [number, number], rail: 'both' }];
    expect(strips({ track: { gaps } })).toEqual(['left']);
    expect(sectionsOf({ track: { gaps } })).toMatchObject([{ cut: true }]);
    expect(sectionsOf({ track: { gaps: gaps.slice(1) } })).toMatchObject([{ cut: false }]);
    // The stem is no part of any loop: to cut it off helps nothing.
    expect(sectionsOf({ track: { gaps: [{ at: [150, 20] }, { at: [150, 10] }] } })).toMatchObject([{ cut: false }]);
  });

  it('[TF3] [TF4] of a dozen rings on one line: as many as rings that share no span, each where the file cuts it', () => {
    const rings = Array.from(
      { length: 12 },
      (_, i) =>
        `c${i} ${60 + i * 120},60 ${100 + i * 120},30 ${140 + i * 120},60 ${100 + i * 120},90 ${60 + i * 120},60`,
    );
    const text = `main 0,60 5000,60\n${rings.join('\n')}`;
    // The file cuts the upper half of the even rings and the lower half of the odd ones.
    const gaps = rings.flatMap((_, i) =>
      [15, 30].map((x) => ({ at: [60 + x + i * 120, 60 + (i % 2 === 0 ? -0.75 : 0.75) * x] as [number, number] })),
    );
    const { plan, track } = derive(tracks(text, { track: { gaps } }));
    const { sections, sectionsProved } = track();
    expect(sectionsProved).toBe(true);
    expect(sections).toHaveLength(12);
    expect(sections.every(({ cut }) => cut === true)).toBe(true);
    const below = sections.filter(({ span }) => plan.spans.find(({ id }) => id === span)?.path.some(([, y]) => y > 70));
    expect(below).toHaveLength(6);
  });

  it('[TF4] may be cut by the file some other way: then that stands', () => {
    const text = 'top 0,100 300,100\nleft 80,100 150,40\nright 220,100 150,40\nstem 150,40 150,0';
    const gaps = [{ at: [110, 74.29] as [number, number] }, { at: [190, 74.29] as [number, number] }];
    const { track, findings } = derive(tracks(text, { track: { gaps } }));
    expect(track()).toMatchObject({ sectionsByFile: true, sections: [{ cut: true }], legs: [] });
    expect(findings().filter(({ code }) => code.startsWith('reversing-section'))).toEqual([]);
  });
});
