import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyStroke } from '../../tests/generate/hand.ts';
import { generatePanel } from '../../tests/generate/panels.ts';
import { randomOf } from '../../tests/generate/random.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, type PanelFile } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { type Described, describeFace } from './index.ts';

const SEED = 20261230;
function of<K extends Described['kind']>(panel: PanelFile, kind: K, id: string | number) {
  return describeFace(panel, readPlan(panel)).find(
    (each): each is Extract<Described, { kind: K }> => each.kind === kind && each.id === id,
  );
}

const HARBOUR = tracks(
  'main 0,60 300,60\nloop 60,60 100,85 200,85 240,60\nquay 150,85 190,110 290,110\n@w Tolland 0,60\n@p2 Platform_2 100,85\n@q Quay 290,110',
  {
    lamps: [
      { id: 'H1', at: [180, 103.75], shows: { P3: 'reverse' } },
      { id: 'H2', at: [130, 85] },
      { id: 'H3', at: [130, 200], part: 'led-5-red-green-2', elements: [{ colour: 'red', shows: { P1: 'normal' } }] },
    ],
    levers: [{ id: 'L4', name: 'Quay', at: [150, 140], works: [{ point: 'P3', opposite: true }, { section: 'Z' }] }],
    buttons: [{ id: 'B1', at: [30, 140], sets: { P1: 'reverse' } }],
    plates: [{ at: [150, 20], text: 'BRAMBLE SIDING' }],
  },
);
const named: PanelFile = {
  ...HARBOUR,
  strips: HARBOUR.strips.map((strip) => (strip.id === 'loop' ? { ...strip, name: 'Platform loop' } : strip)),
};

describe('the face, said aloud', () => {
  it('an end that meets wide tape off its middle makes the point there', () => {
    const [main, branch] = tracks('main 0,60 300,60\nbranch 110,70 150,110').strips;
    if (main === undefined || branch === undefined) throw new Error('two strips were laid');
    const wide = tracks('', { strips: [{ ...main, width: 24 }, branch] });
    // 10 mm off the middle of tape that reaches 12 mm: a joint, and its point on the middle.
    expect(readPlan(wide).points.map(({ reverseStrip }) => reverseStrip)).toEqual(['branch']);
    expect(of(wide, 'strip', 'branch')?.facts.ends[0]).toMatchObject({ makes: 'point' });
  });

  it('a point: what it is on, where its legs lead, what works it', () => {
    const plan = readPlan(named);
    const quay = plan.points.find(({ reverseStrip }) => reverseStrip === 'quay');
    expect(of(named, 'point', quay?.id ?? '')?.facts).toMatchObject({
      on: { id: 'loop', name: 'Platform loop' },
      normal: { strip: { id: 'loop', name: 'Platform loop' }, place: null },
      reverse: { strip: { id: 'quay', name: null }, place: { id: 'q', name: 'Quay' }, far: 'q' },
      hand: 'right',
    });
    const worked = plan.levers[0]?.works[0]?.point ?? '';
    expect(of(named, 'point', worked)?.facts?.workedBy).toEqual([{ id: 'L4', name: 'Quay', whenNormal: 'reverse' }]);
    expect(of(named, 'point', 'P1')?.facts?.setBy).toEqual([{ id: 'B1', name: null }]);
    // Going left from P1 a leg leads to the named road on its way.
    expect(of(named, 'point', 'P1')?.facts?.reverse.place).toEqual({ id: 'p2', name: 'Platform_2' });
  });

  it('a strip: its ends and what is on it from left to right', () => {
    const facts = of(named, 'strip', 'loop')?.facts;
    expect(facts).toMatchObject({
      name: 'Platform loop',
      tape: 'graphite',
      width: 5,
      places: [{ id: 'p2' }],
      lamps: ['H2'],
    });
    expect(facts?.ends.map(({ makes }) => makes)).toEqual(['point', 'point']);
    expect(facts?.ends[0]).toMatchObject({ at: [60, 60], id: 'P1', onto: { id: 'main' } });
    expect(facts?.points).toHaveLength(3);
    expect(of(named, 'strip', 'main')?.facts?.ends[0]).toEqual({
      at: [0, 60],
      makes: 'place',
      id: 'w',
      name: 'Tolland',
    });
  });

  it('lamps with what they show, said or by their leg', () => {
    expect(of(named, 'lamp', 'H1')?.facts).toMatchObject({
      shows: [{ P3: 'reverse' }],
      said: true,
      strip: { id: 'quay' },
    });
    expect(of(named, 'lamp', 'H2')?.facts).toMatchObject({ said: false, strip: { id: 'loop', name: 'Platform loop' } });
    expect(Object.values(of(named, 'lamp', 'H2')?.facts?.shows[0] ?? {})).toContain('reverse');
    expect(of(named, 'lamp', 'H3')?.facts).toMatchObject({
      shows: [],
      elements: [{ colour: 'red', shows: [{ P1: 'normal' }] }],
      strip: null,
    });
  });

  it('levers with all that they work', () => {
    expect(of(named, 'lever', 'L4')?.facts).toMatchObject({
      name: 'Quay',
      works: [{ point: 'P3', whenNormal: 'reverse' }],
      others: [{ what: 'section', id: 'Z' }],
      recorded: true,
    });
  });

  it('row by row from the top, in a row from the left', () => {
    const order = describeFace(named, readPlan(named)).map(({ kind, id }) => `${kind} ${id}`);
    expect(order.slice(0, 5)).toEqual(['plate 0', 'strip main', 'place w', 'strip loop', 'point P1']);
    expect(order.slice(-3)).toEqual(['button B1', 'lever L4', 'lamp H3']);
  });

  it(`says each thing once, whatever lies there (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.nat(100_000), (seed) => {
        const random = randomOf(seed);
        let panel = generatePanel(seed, random.whole(1, 8));
        for (let i = 0; i < 15; i++) {
          const tx = anyStroke(panel, random);
          if (tx !== null) panel = applyTransaction(panel, tx);
        }
        const plan = readPlan(panel);
        const all = describeFace(panel, plan);
        const count = (kind: Described['kind']) =>
          new Set(all.filter((each) => each.kind === kind).map(({ id }) => id)).size;
        expect(count('strip')).toBe(panel.strips.length);
        expect(count('point')).toBe(plan.points.length);
        expect(count('place')).toBe(plan.places.length);
        expect(count('lamp')).toBe(panel.lamps?.length ?? 0);
        expect(count('lever')).toBe(plan.levers.length);
        expect(new Set(all.map(({ kind, id }) => `${kind} ${id}`)).size).toBe(all.length);
      }),
      { seed: SEED, numRuns: 30 },
    );
  });
});
