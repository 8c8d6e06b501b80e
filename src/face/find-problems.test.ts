import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Body, findProblems, type ProblemInput } from './find-problems.ts';
import { guidePath } from './path.ts';
import type { DrawnLamp, DrawnLever, DrawnPlate, Face, FaceProblem, Hole } from './types.ts';

type Spot = readonly [number, number];
const lamp = (id: string, at: Spot, size = 3, drill = 3.2): DrawnLamp => ({ id, at, size, drill, colour: 'amber' });
/** A standard two-pole toggle, figures of the catalogue. */
const lever = (id: string, at: Spot, angle = 0): DrawnLever => ({
  id,
  at,
  angle,
  drill: 12.2,
  nut: 15.8,
  driver: 22,
  body: [18, 31],
  depth: 35,
  poles: 2,
  centreOff: false,
});
const plate = (id: string, at: Spot, width: number, height: number, size = 7.6): DrawnPlate => ({
  id,
  kind: 'text',
  at,
  width,
  height,
  lines: [{ text: id, size, y: height / 2, weight: 600, spacing: 0 }],
  screws: false,
});

function sheet(things: {
  readonly lamps?: readonly DrawnLamp[];
  readonly levers?: readonly DrawnLever[];
  readonly plates?: readonly DrawnPlate[];
  readonly strips?: Face['strips'];
  readonly fixings?: Face['fixings'];
  readonly more?: Partial<ProblemInput>;
}): readonly FaceProblem[] {
  const { lamps = [], levers = [], plates = [], strips = [], fixings = [] } = things;
  const holes: Hole[] = [
    ...lamps.map(({ id, at, drill }) => ({ id, at, drill, what: 'lamp' as const })),
    ...levers.map(({ id, at, drill }) => ({ id, at, drill, what: 'lever' as const })),
    ...fixings.map(({ id, at, drill }) => ({ id, at, drill, what: 'fixing' as const })),
  ].map((hole, i) => ({ no: i + 1, for: '', ...hole }));
  const bodies: Body[] = levers.map(({ id, at, body, angle, depth }) => ({ id, at, size: body, angle, depth }));
  return findProblems({
    face: {
      width: 600,
      height: 300,
      thickness: 3,
      material: 'aluminium',
      view: 'front',
      platforms: [],
      buttons: [],
      relays: [],
      strips,
      lamps,
      levers,
      plates,
      fixings,
      holes,
    },
    bodies,
    owner: [],
    keepOut: [],
    boxDepth: null,
    paint: 'sage',
    ...things.more,
  });
}
const codes = (problems: readonly FaceProblem[]) => problems.map(({ code }) => code);
const strip = (id: string, width: number, ...path: Spot[]) => ({
  id,
  tape: 'graphite',
  width,
  strokes: guidePath(path, 9),
});

describe('what is wrong with a sheet', () => {
  it('[FA5] a hole whose middle is off the sheet, tape and plates over its edge', () => {
    const found = sheet({
      lamps: [lamp('H1', [-2, 50])],
      strips: [strip('main', 5, [0, 60], [620, 60])],
      plates: [plate('A', [590, 200], 30, 10)],
    });
    expect(found.map((each) => [each.code, 'id' in each ? each.id : ''])).toEqual([
      ['off-the-face', 'A'],
      ['off-the-face', 'H1'],
      ['off-the-face', 'main'],
    ]);
  });

  it('[FA6] two holes want 1.5 mm of metal between them, and 3 to the edge', () => {
    // 3.2 holes 4.7 apart leave 4.7 - 3.2 = 1.5; 4.6 apart 1.4.
    expect(sheet({ lamps: [lamp('H1', [50, 50]), lamp('H2', [54.7, 50])] })).toEqual([]);
    const [found] = sheet({ lamps: [lamp('H1', [50, 50]), lamp('H2', [54.6, 50])] });
    expect(found).toMatchObject({ code: 'holes-clash', ids: ['H1', 'H2'], least: 1.5 });
    expect(found !== undefined && 'gap' in found ? found.gap : 0).toBeCloseTo(1.4, 9);
    expect(codes(sheet({ lamps: [lamp('H1', [4.5, 50])] }))).toEqual(['hole-near-edge']);
    expect(sheet({ lamps: [lamp('H1', [4.6, 50])] })).toEqual([]);
  });

  it('[FA7] bodies behind the sheet that foul each other though the holes look fine from the front', () => {
    // Two-pole bodies are 18 across and 31 down: turned by 90 they want 31 across, so 28 apart they share 3.
    const found = sheet({ levers: [lever('L1', [100, 100], 90), lever('L2', [128, 100], 90)] });
    expect(codes(found)).toEqual(['bodies-clash']);
    expect(found[0]).toMatchObject({ ids: ['L1', 'L2'] });
    expect(found[0] !== undefined && 'overlap' in found[0] ? found[0].overlap : 0).toBeCloseTo(3, 9);
    expect(sheet({ levers: [lever('L1', [100, 100], 90), lever('L2', [132, 100], 90)] })).toEqual([]);
  });

  it('[FA7] a body over a lamp hole', () => {
    // 31 / 2 = 15.5 down from the middle: a lamp 15 above it is under the body, one 18 above is clear of it (15.5 + 1.6 = 17.1).
    expect(codes(sheet({ levers: [lever('L1', [100, 100])], lamps: [lamp('H1', [100, 85])] }))).toEqual([
      'body-over-hole',
    ]);
    expect(sheet({ levers: [lever('L1', [100, 100])], lamps: [lamp('H1', [100, 82])] })).toEqual([]);
  });

  it('[FA8] a nut driver of 22 needs more room than the nut of 15.8', () => {
    // 11 + 7.9 = 18.9 from nut to nut; bats then stand 18.8 - 4.74 = 14.1 clear, too close as well.
    const levers = [lever('L1', [100, 100]), lever('L2', [118.8, 100])];
    expect(codes(sheet({ levers }))).toEqual(['nut-driver-fouls', 'bats-too-close']);
    expect(codes(sheet({ levers: [lever('L1', [100, 100])], lamps: [lamp('H1', [112, 100])] }))).toEqual([
      'nut-driver-fouls',
    ]);
    expect(sheet({ levers: [lever('L1', [100, 100])], lamps: [lamp('H1', [112.6, 100])] })).toEqual([]);
  });

  it('[FA9] toggles stand 19 mm clear: 23.7 between the middles of standard ones', () => {
    // NUREG-0700 rev. 3, Table 11.5: toggle to toggle, least edge separation 19 mm. In the trade 22 to 25 between centres.
    const found = sheet({ levers: [lever('L1', [100, 100]), lever('L2', [123.6, 100])] });
    expect(codes(found)).toEqual(['bats-too-close']);
    expect(found[0]).toMatchObject({ least: 19 });
    expect(sheet({ levers: [lever('L1', [100, 100]), lever('L2', [123.8, 100])] })).toEqual([]);
  });

  it('[FA10] a hole as wide as the tape cuts it in two; what is left is said', () => {
    const main = [strip('main', 5, [0, 60], [300, 60])];
    // A 5 mm lamp wants 5.4: nothing is left of 5. A 3 mm lamp wants 3.2 and leaves (5 - 3.2) / 2 = 0.9 on each side.
    expect(sheet({ lamps: [lamp('H1', [100, 60], 5, 5.4)], strips: main })).toEqual([
      { code: 'hole-cuts-tape', id: 'H1', strip: 'main', at: [100, 60], drill: 5.4, width: 5, left: 0 },
    ]);
    expect(sheet({ lamps: [lamp('H1', [100, 60])], strips: main })).toEqual([]);
    expect(codes(sheet({ lamps: [lamp('H1', [100, 60])], strips: [strip('thin', 3, [0, 60], [300, 60])] }))).toEqual([
      'hole-cuts-tape',
    ]);
    // 2 mm off the middle a 5.4 hole leaves 2.5 + 2 - 2.7 = 1.8 on the one side.
    expect(sheet({ lamps: [lamp('H1', [100, 62], 5, 5.4)], strips: main })).toEqual([]);
    // On a bend, where the tape is not on its corner: 9 (sqrt 2 - 1) = 3.7 inside it.
    const bent = [strip('bent', 5, [0, 60], [100, 60], [100, 200])];
    const off = 9 - 9 / Math.SQRT2;
    expect(codes(sheet({ lamps: [lamp('H1', [100 - off, 60 + off], 5, 5.4)], strips: bent }))).toEqual([
      'hole-cuts-tape',
    ]);
  });

  it('[FA11] lettering below 3 mm, plates on each other, plates over lamps and nuts', () => {
    expect(sheet({ plates: [plate('A', [100, 100], 20, 10, 2.9)] })).toMatchObject([
      { code: 'lettering-small', size: 2.9, least: 3 },
    ]);
    expect(codes(sheet({ plates: [plate('A', [100, 100], 20, 10), plate('B', [119, 100], 20, 10)] }))).toEqual([
      'plates-overlap',
    ]);
    expect(sheet({ plates: [plate('A', [100, 100], 20, 10), plate('B', [120, 100], 20, 10)] })).toEqual([]);
    expect(sheet({ plates: [plate('A', [100, 100], 20, 10)], lamps: [lamp('H1', [111, 100])] })).toMatchObject([
      { code: 'plate-hides', plate: 'A', id: 'H1' },
    ]);
  });

  it('[FA13] keep-outs, a box too shallow for tags and bent wires, tape that is lost on its paint', () => {
    const levers = [lever('L1', [100, 100])];
    expect(codes(sheet({ levers, more: { keepOut: [[108, 90, 130, 95]] } }))).toEqual(['in-keep-out']);
    expect(sheet({ levers, more: { keepOut: [[109.5, 90, 130, 95]] } })).toEqual([]);
    // 35 deep and 15 for tags and wires.
    expect(sheet({ levers, more: { boxDepth: 49 } })).toMatchObject([{ code: 'box-too-shallow', needs: 50, has: 49 }]);
    expect(sheet({ levers, more: { boxDepth: 50 } })).toEqual([]);
    expect(sheet({ strips: [strip('main', 5, [0, 60], [300, 60])], more: { paint: 'black' } })).toMatchObject([
      { code: 'tape-on-paint', strip: 'main', least: 3 },
    ]);
  });

  it('[FA19] among random lamps and levers it finds what a look at every pair finds (seed 45)', () => {
    const spot = fc.tuple(fc.integer({ min: 20, max: 580 }), fc.integer({ min: 20, max: 280 }));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(spot, fc.boolean()), { maxLength: 60 }),
        fc.array(fc.tuple(spot, fc.integer({ min: 0, max: 359 })), { maxLength: 25 }),
        (lampSpots, leverSpots) => {
          const lamps = lampSpots.map(([at, big], i) => (big ? lamp(`H${i}`, at, 5, 5.4) : lamp(`H${i}`, at)));
          const levers = leverSpots.map(([at, angle], i) => lever(`L${i}`, at, angle));
          const found = sheet({ lamps, levers }).map(
            (each) =>
              `${each.code} ${'ids' in each ? each.ids.join(' ') : `${'id' in each ? each.id : ''} ${'other' in each ? each.other : 'hole' in each ? each.hole : ''}`}`,
          );
          expect(found.filter((each) => /^(holes|bats|bodies|nut|body)/.test(each)).sort()).toEqual(
            everyPair(lamps, levers).sort(),
          );
        },
      ),
      { seed: 45, numRuns: 60 },
    );
  });
});

/** The same rules by looking at every pair; bodies by their corners and sides instead of by half widths. */
function everyPair(lamps: readonly DrawnLamp[], levers: readonly DrawnLever[]): string[] {
  const found: string[] = [];
  const apart = (a: Spot, b: Spot) => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const holes = [...lamps, ...levers];
  holes.forEach((a, i) =>
    holes.slice(i + 1).forEach((b) => {
      if (apart(a.at, b.at) - (a.drill + b.drill) / 2 < 1.5) found.push(`holes-clash ${a.id} ${b.id}`);
    }),
  );
  levers.forEach((a, i) => {
    for (const b of lamps) {
      if (apart(a.at, b.at) < a.driver / 2 + b.size / 2) found.push(`nut-driver-fouls ${a.id} ${b.id}`);
      // The lamp in the lever's own frame.
      const turn = (-a.angle * Math.PI) / 180;
      const [x, y] = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
      const [u, v] = [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)];
      const clear = Math.hypot(Math.max(0, Math.abs(u) - a.body[0] / 2), Math.max(0, Math.abs(v) - a.body[1] / 2));
      if (clear < b.drill / 2) found.push(`body-over-hole ${a.id} ${b.id}`);
    }
    for (const b of levers.slice(i + 1)) {
      if (apart(a.at, b.at) < 11 + 7.9) found.push(`nut-driver-fouls ${a.id} ${b.id}`);
      if (apart(a.at, b.at) - 0.3 * 15.8 < 19) found.push(`bats-too-close ${a.id} ${b.id}`);
      if (cornersMeet(corners(a), corners(b))) found.push(`bodies-clash ${a.id} ${b.id}`);
    }
  });
  return found;
}

function corners({ at, body, angle }: DrawnLever): Spot[] {
  const turn = (angle * Math.PI) / 180;
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([i = 0, j = 0]): Spot => {
    const [x, y] = [(i * body[0]) / 2, (j * body[1]) / 2];
    return [at[0] + x * Math.cos(turn) - y * Math.sin(turn), at[1] + x * Math.sin(turn) + y * Math.cos(turn)];
  });
}

/** Two four-sided shapes share more than 0.01 mm along every square to a side: by projecting all corners. */
function cornersMeet(a: readonly Spot[], b: readonly Spot[]): boolean {
  return [a, b].every((shape) =>
    shape.every((from, i) => {
      const to = shape[(i + 1) % shape.length] ?? from;
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      const across = ([x, y]: Spot) => (x * (to[1] - from[1]) - y * (to[0] - from[0])) / length;
      const [pa, pb] = [a.map(across), b.map(across)];
      const shared = Math.min(Math.max(...pa) - Math.min(...pb), Math.max(...pb) - Math.min(...pa));
      return shared > 0.01;
    }),
  );
}
