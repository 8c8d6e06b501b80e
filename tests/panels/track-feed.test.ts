/** Frogs and their contacts, gaps of the file, and the same answers however the track is drawn. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import type { TrackFeed } from '../../src/track/index.ts';
import { generatePanel } from '../generate/panels.ts';
import { randomOf } from '../generate/random.ts';
import { moved, turned } from '../generate/same-graph.ts';
import { printTracks, tracks } from '../generate/tracks.ts';

const SEED = 20_261_127;
const POINT = 'main 0,60 300,60\nsiding 100,60 140,85 220,85';
const CROSSOVER = 'up 0,60 300,60\ndown 0,85 300,85\nx 100,60 140,85';
const SLIP = 'main 0,60 300,60\ncross 90,97.5 210,22.5';
const THREE = 'main 0,60 300,60\na 150,60 190,85 250,85\nb 150,60 190,35 250,35';

const trackOf = (text: string, more: Partial<PanelFile> = {}): TrackFeed => derive(tracks(text, more)).track();
const contactsOf = ({ frogs }: TrackFeed) =>
  frogs.map(
    ({ id, contact, wants }) =>
      `${id} ${contact === null ? '-' : `${contact.id}${contact.stated ? '' : '?'}`} ${wants}`,
  );

describe('contacts of frogs', () => {
  it('[TF14] what is not said is not said, and a contact is proposed', () => {
    const track = trackOf(POINT);
    expect(track.frogs).toMatchObject([{ id: 'F-P1', record: null, kind: 'not-said', toldBy: 'P1' }]);
    expect(contactsOf(track)).toEqual(['F-P1 P1.c1? contact']);
    expect(track.gaps.every(({ onlyIfLive, state }) => onlyIfLive && state === 'to-cut')).toBe(true);
  });

  it('[TF14] what is said stays, in the record of the frog or of the drive', () => {
    const points = [{ id: 'P1', at: [100, 60] as [number, number], drive: 'D1' }];
    const live = { id: 'F1', of: 'P1', kind: 'live' as const };
    expect(contactsOf(trackOf(POINT, { points, drives: [{ id: 'D1' }], frogs: [{ ...live, from: 'D1.c2' }] }))).toEqual(
      ['F1 D1.c2 nothing'],
    );
    const drives = [{ id: 'D1', contacts: { c1: 'frog:F1', c2: 'lamps' } }];
    expect(contactsOf(trackOf(POINT, { points, drives, frogs: [live] }))).toEqual(['F1 D1.c1 nothing']);
    const taken = [{ id: 'D1', contacts: { c1: 'lamps' } }];
    expect(contactsOf(trackOf(POINT, { points, drives: taken, frogs: [live] }))).toEqual(['F1 D1.c2? contact']);
    for (const kind of ['dead', 'module'] as const)
      expect(contactsOf(trackOf(POINT, { points, drives: taken, frogs: [{ ...live, kind }] }))).toEqual([
        'F1 - nothing',
      ]);
  });

  it('[TF14] two points on one drive owe two contacts; a drive without any owes what it cannot give', () => {
    const points = [
      { id: 'P1', at: [100, 60] as [number, number], drive: 'D1' },
      { id: 'P2', at: [140, 85] as [number, number], drive: 'D1' },
    ];
    expect(contactsOf(trackOf(CROSSOVER, { points, drives: [{ id: 'D1' }] }))).toEqual([
      'F-P1 D1.c1? contact',
      'F-P2 D1.c2? contact',
    ]);
    expect(contactsOf(trackOf(CROSSOVER, { points, drives: [{ id: 'D1', part: 'limit-2-wire' }] }))).toEqual([
      'F-P1 D1.c1? contact',
      'F-P2 - contact',
    ]);
  });

  it('[TF7] [TF14] an end of a slip goes by the drive of the other end (from memory)', () => {
    const crossings = [
      {
        id: 'X1',
        at: [150, 60] as [number, number],
        kind: 'double-slip' as const,
        ends: [
          { id: 'P1', drive: 'D1' },
          { id: 'P2', drive: 'D2' },
        ],
      },
    ];
    const track = trackOf(SLIP, { crossings, drives: [{ id: 'D1' }, { id: 'D2' }] });
    expect(track.frogs.map(({ of, toldBy, what }) => [of, toldBy, what])).toEqual([
      ['P1', 'P2', 'slip-end'],
      ['P2', 'P1', 'slip-end'],
    ]);
    expect(contactsOf(track)).toEqual(['F-P1 D2.c1? contact', 'F-P2 D1.c1? contact']);
    expect(track.frogs.every(({ care }) => care.length === 0)).toBe(true);
  });

  it('[TF15] a single slip wants its other end reverse for either straight way', () => {
    const track = trackOf(SLIP, {
      crossings: [{ id: 'X1', at: [150, 60], kind: 'single-slip', curve: [150, 50] }],
    });
    expect(track.frogs.map(({ care }) => care)).toEqual([
      [{ way: { P1: 'normal' }, set: { P2: 'reverse' } }],
      [{ way: { P2: 'normal' }, set: { P1: 'reverse' } }],
    ]);
  });

  it('[TF7] [TF14] a three-way has three frogs and two contacts (common practice, no source)', () => {
    for (const normal of [undefined, 'a', 'b']) {
      const more = normal === undefined ? {} : { threeWays: [{ id: 'Y1', at: [150, 60] as [number, number], normal }] };
      const track = trackOf(THREE, more);
      expect(track.frogs).toHaveLength(3);
      expect(new Set(track.frogs.map(({ contact }) => contact?.id))).toEqual(new Set(['P1.c1', 'P2.c1']));
      expect(track.frogs.map(({ kind, what }) => [kind, what])).toEqual(Array(3).fill(['not-said', 'three-way']));
    }
  });

  it('[TF7] a diamond that points tell goes by them, else wants a module; two of its frogs may be fixed', () => {
    const alone = trackOf('main 0,60 300,60\ncross 60,10 240,110');
    expect(alone.frogs.map(({ what, toldBy, wants, fixed }) => [what, toldBy, wants, fixed])).toEqual([
      ['diamond-acute', null, 'module', false],
      ['diamond-acute', null, 'module', false],
      ['diamond-obtuse', null, 'nothing', true],
      ['diamond-obtuse', null, 'nothing', true],
    ]);
    // Both lines come from one point: normal leads over main, reverse over the branch that comes back across it.
    const told = trackOf('main 0,60 400,60\nbranch 60,60 100,85 160,85 240,35 320,35');
    const frogs = told.frogs.filter(({ what }) => what.startsWith('diamond'));
    expect(frogs.map(({ toldBy }) => toldBy)).toEqual(['P1', 'P1', 'P1', 'P1']);
    expect(frogs.map(({ normal, reverse }) => [normal.strip, reverse.strip])).toEqual(
      Array(4).fill(['main', 'branch']),
    );
    expect(frogs.map(({ contact }) => contact?.id ?? null)).toEqual(['P1.c2', null, null, null]);
    expect(frogs.map(({ fixed, wants }) => `${fixed} ${wants}`)).toEqual([
      'false contact',
      'false contact',
      'true nothing',
      'true nothing',
    ]);
  });
});

describe('gaps', () => {
  const live = { frogs: [{ id: 'F1', of: 'P1', kind: 'live' as const }] };
  const feeds = [
    { at: [20, 60] as [number, number] },
    { at: [280, 60] as [number, number] },
    { at: [200, 85] as [number, number] },
  ];
  const gapsOf = ({ gaps }: TrackFeed) =>
    gaps.map(({ span, rail, state, by }) => `${span} ${rail} ${state} ${by.join(' ')}`.trim());

  it('[TF8] a dead frog wants none; a live one a cut in either inner rail', () => {
    expect(trackOf(POINT, { frogs: [{ id: 'F1', of: 'P1', kind: 'dead' }] }).gaps).toEqual([]);
    // Both spans run away from P1; the siding lies on the right.
    const track = trackOf(POINT, live);
    expect(gapsOf(track)).toEqual(['P1/E2 left to-cut', 'P1/E3 right to-cut'].sort());
    expect(track.gaps.every(({ onlyIfLive }) => !onlyIfLive)).toBe(true);
    expect(track.gaps.map(({ for: what }) => what)).toEqual([['F1'], ['F1']]);
  });

  it('[TF9] [TF12] a siding that only its frog feeds wants no cut, and is dead in the other lie', () => {
    const track = trackOf(POINT, { ...live, track: { feeds: feeds.slice(0, 2) } });
    expect(track.gaps).toHaveLength(1);
    const [cut] = track.gaps;
    const line = track.legs.find(({ lie }) => lie === 'normal');
    const siding = track.legs.find(({ lie }) => lie === 'reverse');
    expect(cut?.span).toBe(line?.span);
    expect(line).toMatchObject({ alive: [{}], whenNormal: 'alive', whenReverse: 'alive' });
    expect(siding).toMatchObject({
      alive: [{ P1: 'reverse' }],
      whenSet: 'alive',
      whenNormal: 'dead',
      whenReverse: 'alive',
    });
  });

  it('[TF16] of the file serve where they cut the rail before any feed, by the hand of their strip', () => {
    const all = (gaps: NonNullable<NonNullable<PanelFile['track']>['gaps']>) =>
      trackOf(POINT, { ...live, track: { feeds, gaps } });
    // Along main from west to east the rail towards the siding, which lies south, is the right one.
    const sound = all([
      { at: [130, 62], rail: 'right' },
      { at: [150, 85], rail: 'left' },
    ]);
    expect(
      gapsOf(sound)
        .map((text) => text.split(' ').slice(2).join(' '))
        .sort(),
    ).toEqual(['there 0', 'there 1']);
    expect(sound.shorts).toEqual([]);
    expect(sound.otherGaps).toEqual([]);
    const off = all([{ at: [290, 60], rail: 'right' }, { at: [150, 85], rail: 'right' }, { at: [150, 200] }]);
    expect(off.gaps.map(({ state }) => state)).toEqual(['missing', 'missing']);
    expect(off.otherGaps.map(({ index, why }) => [index, why])).toEqual([
      [0, 'need-unknown'],
      [1, 'need-unknown'],
      [2, 'finds-no-track'],
    ]);
    expect(off.shorts).toMatchObject([{ when: {}, frogs: ['F1'] }]);
  });

  it('[TF16] laid the other way a strip has its rails the other way round', () => {
    const gaps = [{ at: [130, 60] as [number, number], rail: 'right' }];
    const there = (text: string) =>
      trackOf(text, { ...live, track: { feeds, gaps } }).gaps.filter(({ state }) => state === 'there');
    expect(there(POINT)).toHaveLength(1);
    expect(there(POINT.replace('main 0,60 300,60', 'main 300,60 0,60'))).toHaveLength(0);
    const found = trackOf(POINT.replace('main 0,60 300,60', 'main 300,60 0,60'), live).gaps;
    expect(found.map(({ stripRail }) => stripRail)).toEqual(['left', 'left']);
  });

  it('[TF13] none at all: the frog joins what it feeds', () => {
    const track = trackOf(POINT, { ...live, track: { feeds, gaps: [] } });
    // Line and siding want it on opposite wires: a short however the point lies.
    expect(track.shorts).toMatchObject([{ when: {}, frogs: ['F1'] }]);
    expect(track.gaps.every(({ state }) => state === 'missing')).toBe(true);
  });
});

/** What the answer says, without ids that go by place on the face, and hands turned over where the drawing is mirrored. */
function said(panel: PanelFile, mirrored: boolean): readonly string[] {
  const { plan, track } = derive(panel);
  const { frogs, gaps, droppers, legs, sections } = track();
  const hand = (rail: string) => (!mirrored || rail === 'both' ? rail : rail === 'left' ? 'right' : 'left');
  const wire = (bus: string | null) => (!mirrored || bus === null ? bus : bus === 'A' ? 'B' : 'A');
  const strips = (span: string) =>
    plan.spans
      .find(({ id }) => id === span)
      ?.stretches.map(
        ({ strip, from, to }) =>
          `${strip} ${Math.round(Math.min(from, to) * 10)} ${Math.round(Math.max(from, to) * 10)}`,
      )
      .sort()
      .join(' ');
  return [
    ...frogs
      .filter(({ what }) => !what.startsWith('diamond'))
      .map((frog) =>
        [
          frog.of,
          frog.toldBy,
          ...[frog.normal, frog.reverse].flatMap(({ rail, bus, leg }) => [hand(rail), wire(bus), strips(leg.span)]),
        ].join(' | '),
      ),
    ...gaps.map((gap) => ['gap', strips(gap.span), hand(gap.stripRail), gap.for.join(' ')].join(' | ')),
    ...droppers.map(({ span }) => `dropper ${strips(span)}`),
    ...legs.map((leg) => ['leg', leg.point, leg.lie, strips(leg.span), JSON.stringify(leg.alive)].join(' | ')),
    ...sections.map(({ span }) => `section ${strips(span)}`),
  ].sort();
}

describe(`the same track drawn otherwise (seed ${SEED})`, () => {
  const panels = fc.record({ seed: fc.integer({ min: 1, max: 1e6 }), size: fc.integer({ min: 1, max: 16 }) });
  const law = (change: (panel: PanelFile, seed: number) => PanelFile, mirrored = false) =>
    fc.assert(
      fc.property(panels, ({ seed, size }) => {
        const panel = { ...generatePanel(seed, size), lamps: [], levers: [] };
        const all = {
          ...panel,
          frogs: (panel.points ?? []).map(({ id }) => ({ id: `F${id}`, of: id, kind: 'live' as const })),
        };
        expect(said(change(all, seed), mirrored), printTracks(all)).toEqual(said(all, false));
      }),
      { seed: SEED, numRuns: 30 },
    );

  it.each([90, 180, 61])('[TF1] [TF6] turned by %s degrees', (degrees) =>
    law((panel) => moved(panel, turned(degrees))),
  );

  it('[TF1] [TF2] [TF6] mirrored: left is right, and what was on A is on B', () => {
    law((panel) => moved(panel, ([x, y]) => [x, -y]), true);
    law((panel) => moved(panel, ([x, y]) => [-x, y]), true);
  });

  it('[TF1] strips laid the other way: frogs take the same rails', () => {
    fc.assert(
      fc.property(panels, ({ seed, size }) => {
        const panel = { ...generatePanel(seed, size), lamps: [], levers: [] };
        const random = randomOf(seed + 1);
        const flipped = {
          ...panel,
          strips: panel.strips.map((strip) =>
            random.chance(50) ? { ...strip, path: [...strip.path].reverse() } : strip,
          ),
        };
        const rails = (of: PanelFile) =>
          derive(of)
            .track()
            .frogs.filter(({ what }) => !what.startsWith('diamond'))
            .map(({ id, toldBy, normal, reverse }) => [id, toldBy, normal.rail, reverse.rail]);
        expect(rails(flipped)).toEqual(rails(panel));
      }),
      { seed: SEED, numRuns: 30 },
    );
  });

  it('[TF19] any strips give an answer, and the same twice', () => {
    const spot = fc.tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 8 }));
    fc.assert(
      fc.property(fc.array(fc.array(spot, { minLength: 1, maxLength: 5 }), { maxLength: 8 }), (paths) => {
        const panel: PanelFile = {
          format: 'mimic-panel',
          version: 1,
          strips: paths.map((path, i) => ({
            id: `s${i}`,
            path: path.map(([x, y]): [number, number] => [x * 25, y * 20]),
          })),
          track: {
            feeds: [{ at: [25, 20] }, { at: [100, 60] }],
            gaps: [{ at: [50, 40] }, { at: [110, 60], rail: 'left' }],
          },
        };
        const track = derive(panel).track();
        expect(JSON.stringify(derive(panel).track())).toBe(JSON.stringify(track));
        for (const { at } of [...track.gaps, ...track.droppers]) expect(at.every(Number.isFinite)).toBe(true);
      }),
      { seed: SEED, numRuns: 150 },
    );
  });
});
