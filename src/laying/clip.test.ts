import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyStroke, everything } from '../../tests/generate/hand.ts';
import { generatePanel } from '../../tests/generate/panels.ts';
import { randomOf } from '../../tests/generate/random.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, invertTransaction, type PanelFile, writePanel } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import { copyThings, duplicateThings, laySlip, middleOfClip, type Picked, pasteClip, readClip } from './index.ts';

const SEED = 20261220;
const BARE = tracks('');

function pasted(panel: PanelFile, clip: ReturnType<typeof copyThings>, by: readonly [number, number] = [0, 0]) {
  const { edit, made, dropped } = pasteClip(panel, clip, by);
  if (edit === null) throw new Error('nothing was pasted');
  const after = applyTransaction(panel, edit);
  expect(writePanel(applyTransaction(after, invertTransaction(edit)))).toBe(writePanel(panel));
  return { panel: after, made, dropped };
}

/** What a plan says without its ids, from where its things are. */
function shape(plan: Plan, panel: PanelFile): readonly string[] {
  const spot = ([x, y]: readonly [number, number]) => `${x.toFixed(1)},${y.toFixed(1)}`;
  const at = new Map([...plan.points, ...plan.crossings, ...plan.places].map((each) => [each.id, spot(each.at)]));
  const lies = (asks: Readonly<Record<string, string>>) =>
    Object.entries(asks)
      .map(([id, lie]) => `${at.get(id)} ${lie}`)
      .sort()
      .join(' ');
  const lever = plan.levers.map(({ works }) =>
    works.map(({ point, whenNormal }) => `${at.get(point)} ${whenNormal}`).join(),
  );
  return [
    ...plan.spans.map(
      ({ ends, length }) =>
        `span ${ends
          .map((end) => at.get(end))
          .sort()
          .join(' ')} ${length.toFixed(1)}`,
    ),
    ...plan.points.map(
      (point) => `point ${spot(point.at)} ${point.of} ${point.hand} ${point.trap} ${point.record?.drive}`,
    ),
    ...plan.points.map((point) =>
      `legs ${spot(point.at)} ${spot(point.toward.normal)} ${spot(point.toward.reverse)}`.replaceAll('-0.0', '0.0'),
    ),
    ...plan.crossings.map((crossing) => `crossing ${spot(crossing.at)} ${crossing.kind}`),
    ...plan.bridges.map((bridge) => `bridge ${spot(bridge.at)}`),
    ...plan.places.map((place) => `place ${spot(place.at)} ${place.kind} ${place.name}`),
    ...plan.passages.map(({ asks, between }) => `passage ${lies(asks)} ${between.length}`),
    ...lever.map((works) => `lever ${works}`),
    ...(panel.lamps ?? []).map(
      ({ at: where, shows }) => `lamp ${spot(where)} ${lies((shows ?? {}) as Record<string, string>)}`,
    ),
    ...plan.problems.map(({ code }) => `problem ${code}`),
  ].sort();
}

describe('what is copied and pasted', () => {
  it(`reads as the same plan up to its ids (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.nat(10_000), fc.integer({ min: 1, max: 24 }), (seed, size) => {
        const panel = generatePanel(seed, size);
        const clip = copyThings(panel, everything(panel));
        const there = pasted(BARE, clip);
        expect(shape(readPlan(there.panel), there.panel)).toEqual(shape(readPlan(panel), panel));
        expect(there.dropped).toEqual([]);
        const text: unknown = JSON.parse(JSON.stringify(clip));
        expect(readClip(text)).toEqual(clip);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it(`of whatever a hand has laid, strips mean the same (seed ${SEED + 1})`, () => {
    fc.assert(
      fc.property(fc.nat(100_000), (seed) => {
        const random = randomOf(seed);
        let panel = random.chance(50) ? BARE : generatePanel(seed, random.whole(1, 6));
        for (let i = 0; i < 15; i++) {
          const tx = anyStroke(panel, random);
          if (tx !== null) panel = applyTransaction(panel, tx);
        }
        const { edit } = pasteClip(BARE, copyThings(panel, everything(panel)));
        if (edit === null) return;
        // Lamps and levers of points that are gone lose them; records that name nothing are not copied.
        const firm = (lines: readonly string[]) =>
          lines.filter((line) => !/^(lamp|lever|problem (record|lever|point|place|normal))/.test(line));
        const after = applyTransaction(BARE, edit);
        expect(firm(shape(readPlan(after), after))).toEqual(firm(shape(readPlan(panel), panel)));
      }),
      { seed: SEED + 1, numRuns: 60 },
    );
  });

  it('into the same panel it has fresh ids and speaks of itself', () => {
    const panel = tracks('main 0,60 300,60\nb 100,60 140,85 200,85', {
      points: [{ id: 'P1', at: [100, 60], drive: 'D1' }],
      drives: [{ id: 'D1', part: 'stall-2-wire', contacts: { c1: 'frog:F1', c2: 'lamps' }, measured: { amps: 0.01 } }],
      frogs: [{ id: 'F1', of: 'P1', kind: 'live', from: 'D1.c1' }],
      levers: [{ id: 'L1', at: [20, 120], works: [{ point: 'P1' }], feed: { kind: 'split', supplies: ['S1', 'S2'] } }],
      lamps: [
        { id: 'H1', at: [120, 60], shows: { P1: 'normal' } },
        { id: 'H2', at: [120, 72.5], shows: [{ P1: 'reverse' }] },
      ],
      lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], arrange: 'pair' }],
    });
    const { panel: after, made, dropped } = pasted(panel, copyThings(panel, everything(panel)), [0, 200]);
    expect(after.points?.find(({ id }) => id === 'P2')).toEqual({
      id: 'P2',
      at: [100, 260],
      drive: 'D2',
      normal: 'strip-1',
    });
    expect(after.drives?.[1]).toEqual({ id: 'D2', part: 'stall-2-wire', contacts: { c1: 'frog:F2', c2: 'lamps' } });
    expect(after.frogs?.[1]).toEqual({ id: 'F2', of: 'P2', kind: 'live', from: 'D2.c1' });
    expect(after.levers?.[1]).toEqual({ id: 'L2', at: [20, 320], works: [{ point: 'P2' }], feed: { kind: 'split' } });
    expect(after.lamps?.slice(2).map(({ shows }) => shows)).toEqual([{ P2: 'normal' }, [{ P2: 'reverse' }]]);
    expect(after.lampGroups?.[1]).toEqual({ id: 'G2', lamps: ['H3', 'H4'], arrange: 'pair' });
    expect(dropped).toEqual([
      { of: 'L1', key: 'feed', ref: 'S1' },
      { of: 'L1', key: 'feed', ref: 'S2' },
    ]);
    expect(made.map(({ id }) => id)).toEqual(['strip-1', 'strip-2', 'H3', 'H4', 'L2']);
  });

  it('what leads out of it is dropped and listed', () => {
    const panel = tracks('main 0,60 300,60\nb 100,60 140,85 200,85', {
      lamps: [{ id: 'H1', at: [120, 72.5], shows: { P1: 'reverse' }, from: 'west' }],
      buttons: [{ id: 'B1', at: [10, 100], sets: { P1: 'reverse' } }],
    });
    const picked: Picked[] = [
      { list: 'lamps', id: 'H1' },
      { list: 'levers', id: 'L1' },
      { list: 'buttons', id: 'B1' },
    ];
    const { panel: after, dropped } = pasted(BARE, copyThings(panel, picked));
    expect(after.lamps).toEqual([{ id: 'H1', at: [120, 72.5] }]);
    expect(after.levers).toEqual([{ id: 'L1', works: [] }]);
    expect(dropped).toEqual([
      { of: 'H1', key: 'from', ref: 'west' },
      { of: 'H1', key: 'shows', ref: 'P1' },
      { of: 'L1', key: 'works', ref: 'P1' },
      { of: 'B1', key: 'sets', ref: 'P1' },
    ]);
  });

  it('slips, three-ways and bridges keep what they are', () => {
    const cross = tracks(
      'main 0,60 300,60\nbranch 60,20 240,100\nthree 20,160 120,160\na 120,160 200,160\nb 120,160 200,200\nc 120,160 200,120',
    );
    const slip = laySlip(cross, [150, 60], 'double-slip');
    const panel = slip === null ? cross : applyTransaction(cross, slip);
    expect(
      readPlan(panel)
        .points.map(({ of }) => of)
        .sort(),
    ).toEqual(['slip', 'slip', 'three-way', 'three-way']);
    const by = [400, 0] as const;
    const { panel: after } = pasted(panel, copyThings(panel, everything(panel)), by);
    const kinds = readPlan(after)
      .points.map(({ of }) => of)
      .sort();
    expect(kinds).toEqual(['slip', 'slip', 'slip', 'slip', 'three-way', 'three-way', 'three-way', 'three-way']);
  });

  it('is no clip that is none, and none that a file would refuse', () => {
    expect(readClip(null)).toBe(null);
    expect(readClip('mimic-clip')).toBe(null);
    expect(readClip({ format: 'mimic-clip', version: 2, records: {} })).toBe(null);
    expect(readClip({ format: 'mimic-clip', version: 1, records: { lamps: [{ id: 'H 1', at: [0, 0] }] } })).toBe(null);
    expect(readClip({ format: 'mimic-clip', version: 1, records: { lamps: 3 } })).toBe(null);
    expect(pasteClip(BARE, { format: 'mimic-clip', version: 1, records: {} })).toEqual({
      edit: null,
      made: [],
      dropped: [],
    });
  });

  it('lies beside its model when it is duplicated', () => {
    const panel = tracks('main 0,60 300,60');
    const { edit } = duplicateThings(panel, [{ list: 'strips', id: 'main' }]);
    const after = edit === null ? panel : applyTransaction(panel, edit);
    expect(after.strips[1]?.path).toEqual([
      [10, 70],
      [310, 70],
    ]);
    expect(middleOfClip(copyThings(panel, [{ list: 'strips', id: 'main' }]))).toEqual([150, 60]);
    expect(middleOfClip(copyThings(panel, []))).toBe(null);
  });
});
