import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { readLamps } from '../lamps/index.ts';
import { readPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { layFace } from './lay-face.ts';
import type { Face } from './types.ts';

function lay(text: string): Face {
  const read = readPanel(text);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const { panel } = read;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { switches } = chooseSwitches(panel, catalogue, plan);
  return layFace(panel, catalogue, plan, switches, readLamps(panel, catalogue, plan).lamps);
}
const example = (name: string) => lay(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
const main = {
  id: 'main',
  path: [
    [0, 60],
    [300, 60],
  ],
};
const small = (more: object) => lay(JSON.stringify({ format: 'mimic-panel', version: 1, strips: [main], ...more }));
const said = (face: Face, id: string) =>
  face.plates
    .find((plate) => plate.id === id)
    ?.lines.map((line) => line.text)
    .join(' / ');
const boxOf = (face: Face, id: string) => {
  const plate = face.plates.find((each) => each.id === id);
  if (plate === undefined) throw new Error(`no plate ${id}`);
  const { at, width, height } = plate;
  return { left: at[0] - width / 2, top: at[1] - height / 2, right: at[0] + width / 2, bottom: at[1] + height / 2 };
};

describe('laying the face', () => {
  it.each(['quillhaven-harbour', 'bramble-siding'])('[FA14] %s is laid without any problem', (name) => {
    expect(example(name).problems).toEqual([]);
  });

  it('[FA15] a named end wears its plate over the tape end, full size', () => {
    const face = example('quillhaven-harbour');
    const shed = boxOf(face, 'shed-road');
    // The end of the tape is at 206, 60: the plate begins 1 mm before it and stands about the middle of the tape.
    expect(shed.left).toBeCloseTo(205, 6);
    expect((shed.top + shed.bottom) / 2).toBeCloseTo(60, 6);
    // The neck ends to the left.
    expect(boxOf(face, 'neck').right).toBeCloseTo(101, 6);
    for (const { kind, lines } of face.plates) if (kind === 'place') expect(lines[0]?.size).toBe(7.6);
  });

  it('[FA15] at the edge of the sheet the plate stands above the tape', () => {
    const tolland = boxOf(example('quillhaven-harbour'), 'tolland');
    // As drawn in the visual direction: from 10 mm in, its lower edge 10.8 above the middle of the tape at 96.
    expect(tolland.left).toBeCloseTo(10, 6);
    expect(tolland.bottom).toBeCloseTo(85.2, 6);
  });

  it('[FA16] under a heading a name that does not fit says only what the heading does not', () => {
    const face = example('quillhaven-harbour');
    expect(said(face, 'storage-1')).toBe('1');
    expect(said(face, 'yard-road-1')).toBe('Yard 1');
    expect(said(example('bramble-siding'), 'siding-end')).toBe('Siding');
  });

  it('[FA17] a named road has a plate beside the tape, unless a platform or a plate says its name', () => {
    expect(said(example('quillhaven-harbour'), 'platform-1')).toBeUndefined();
    const bramble = example('bramble-siding');
    expect(said(bramble, 'loop-road')).toBe('Loop');
    const box = boxOf(bramble, 'loop-road');
    expect(box.bottom <= 80.5 || box.top >= 85.5).toBe(true);
  });

  it('[FA18] lever plates are 45 by 17.5 at a pitch of 48, narrower when closer, with number and name', () => {
    const face = example('quillhaven-harbour');
    const l4 = face.plates.find((plate) => plate.id === 'L4');
    expect(l4).toMatchObject({ width: 45, height: 17.5, kind: 'lever' });
    expect(said(face, 'L4')).toBe('L4 / Quay cross');
    const levers = [60, 90, 120].map((x, i) => ({ id: `L${i + 1}`, name: 'Harbour branch', at: [x, 120] }));
    const close = small({ levers, face: { width: 300, height: 180 } });
    expect(boxOf(close, 'L1').right).toBeLessThan(boxOf(close, 'L2').left);
    expect(close.plates.find((plate) => plate.id === 'L2')?.width).toBe(27);
    expect(close.problems).toEqual([]);
  });

  it('[FA18] a lever without a name says the points that it works', () => {
    const loop = {
      id: 'loop',
      path: [
        [60, 60],
        [90, 85],
        [210, 85],
        [240, 60],
      ],
    };
    const face = small({ strips: [loop, main] });
    expect(said(face, 'L1')).toBe('L1 / P1');
    expect(face.problems).toEqual([]);
  });

  it('[FA22] a large plate is a title with screws and spaced letters; a small one is not', () => {
    const face = example('quillhaven-harbour');
    expect(face.plates.find((plate) => plate.kind === 'title')).toMatchObject({ screws: true, width: 198, height: 31 });
    expect(face.plates.find((plate) => plate.id === 'plate-2')).toMatchObject({ kind: 'text', screws: false });
  });

  it('[FA23] holes are numbered lamps, levers, fixings, each in the order of ids, and say what they are for', () => {
    const { holes } = example('quillhaven-harbour');
    expect(holes.map(({ no }) => no)).toEqual(holes.map((_, i) => i + 1));
    expect(holes).toHaveLength(48 + 12 + 4);
    expect(holes[9]).toMatchObject({ id: 'H10', what: 'lamp', for: 'L3 reverse', drill: 3.2 });
    expect(holes[48]).toMatchObject({ id: 'L1', what: 'lever', for: 'Shed', drill: 12.2 });
    expect(holes[63]).toMatchObject({ what: 'fixing', drill: 3.2 });
  });

  it('[FA23] a miniature toggle has a hole for its tab, on the side of normal, next after its own', () => {
    const face = small({
      levers: [{ id: 'L1', at: [100, 120], angle: 90, switch: 'mini-toggle-2p' }],
      face: { width: 300, height: 200 },
    });
    const [bush, tab] = face.holes;
    expect(bush).toMatchObject({ id: 'L1', drill: 6.4 });
    // Turned by 90 clockwise the bat points right when it is normal.
    expect(tab).toMatchObject({ id: 'L1.tab', what: 'tab', drill: 2.4 });
    expect(tab?.at[0]).toBeCloseTo(106.4, 9);
    expect(tab?.at[1]).toBeCloseTo(120, 9);
    expect(face.problems).toEqual([]);
  });

  it('[FA23] what is drilled keeps its drill where it still is', () => {
    const built = { holes: { H1: { at: [78, 75], drill: 3.5 }, H2: { at: [10, 10], drill: 3.5 } } };
    const lamps = [
      { id: 'H1', at: [78, 75] },
      { id: 'H2', at: [120, 75] },
    ];
    expect(small({ lamps, built }).lamps.map(({ drill }) => drill)).toEqual([3.5, 3.2]);
  });

  it('[FA23] both elements of a lamp of two colours stand in one hole', () => {
    const face = small({
      lamps: [
        {
          id: 'H1',
          at: [30, 60],
          part: 'led-5-red-green-2',
          elements: [
            { colour: 'green', shows: {} },
            { colour: 'red', shows: {} },
          ],
        },
      ],
    });
    expect(face.holes.map(({ id, drill, what }) => ({ id, drill, what }))).toEqual([
      { id: 'H1', drill: 5.4, what: 'lamp' },
    ]);
    expect(face.problems.filter(({ code }) => code === 'holes-clash')).toEqual([]);
  });

  it('[FA24] no plate hides a lamp or another plate where there is room for it (seed 46)', () => {
    const x = fc.integer({ min: 20, max: 280 });
    fc.assert(
      fc.property(fc.uniqueArray(x, { maxLength: 12 }), (xs) => {
        const lamps = xs.map((at, i) => ({ id: `H${i + 1}`, at: [at, 60] }));
        const places = [
          { id: 'a', name: 'Quillhaven', at: [0, 60] },
          { id: 'b', name: 'Bramble', at: [300, 60] },
          { id: 'c', name: 'Middle road', at: [150, 60] },
        ];
        const face = small({ lamps, places, levers: [], face: { width: 300, height: 120 } });
        expect(face.plates).toHaveLength(3);
        expect(face.problems.filter(({ code }) => code.startsWith('plate'))).toEqual([]);
      }),
      { seed: 46, numRuns: 60 },
    );
  });

  it('[FA25] a file with nothing in it, and one with everything on one spot, are laid', () => {
    expect(lay(JSON.stringify({ format: 'mimic-panel', version: 1, strips: [] })).problems).toEqual([]);
    const lamps = Array.from({ length: 5 }, (_, i) => ({ id: `H${i}`, at: [50, 50] }));
    const face = small({ lamps, levers: [{ id: 'L1', at: [50, 50] }], plates: [{ at: [50, 50], text: '' }] });
    expect(face.problems.length).toBeGreaterThan(0);
    expect(face.holes).toHaveLength(6);
  });
});
