import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { printPlan, printTracks, tracks } from '../../tests/generate/tracks.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import { type Plan, type PlanProblem, readPlan } from './index.ts';

/** What these tracks mean, without the caution that ends have no names. */
function plan(text: string, more: Partial<PanelFile> = {}): Plan {
  const panel = tracks(text, more);
  const read = readPlan(panel);
  return { ...read, problems: read.problems.filter((problem) => problem.code !== 'place-unnamed') };
}

function codes(read: Plan): readonly PlanProblem['code'][] {
  return read.problems.map((problem) => problem.code);
}

function pointLines(text: string, more: Partial<PanelFile> = {}): readonly string[] {
  return printPlan(plan(text, more))
    .split('\n')
    .filter((line) => /^[A-Z]\d+ .* from /.test(line));
}

describe('ends that join ends', () => {
  it('[JN1] two ends within half a tape are a butt, whichever tape is wider', () => {
    expect(plan('a 0,0 100,0\nb 102.5,0 200,0').butts).toEqual([{ at: [100, 0], strips: ['a', 'b'], kink: 0 }]);
    expect(plan('a 0,0 100,0\nb 104,0 200,0 width=8').butts).toHaveLength(1);
    expect(plan('a 0,0 100,0\nb 102.6,0 200,0').butts).toEqual([]);
  });

  it('[JN1] a kink above 45 degrees is a problem, at 45 none', () => {
    expect(codes(plan('a 0,0 100,0\nb 100,0 150,50'))).toEqual([]);
    const bent = plan('a 0,0 100,0\nb 100,0 140,50');
    expect(bent.butts[0]?.kink).toBeCloseTo((Math.atan2(50, 40) * 180) / Math.PI, 9);
    expect(codes(bent)).toEqual(['butt-kink']);
  });

  it('[JN1] a strip that ends where it begins is closed; without features it has no span', () => {
    const oval = plan('oval 100,0 200,0 200,80 0,80 0,0 100,0');
    expect(oval.butts).toHaveLength(1);
    expect([oval.spans, oval.places, oval.problems]).toEqual([[], [], []]);
  });

  it('[JN5] three ends: the toe lies opposite to both others', () => {
    expect(pointLines('a 0,60 100,60\nb 100,60 200,60\nc 100,60 180,110')).toEqual([
      'P1 100,60 from P1/E1: P1/E3 | P1/E2 right',
    ]);
  });

  it('[JN5] [NM4] a wye is a point, its left leg normal', () => {
    const wye = 'toe 0,60 100,60\nup 100,60 180,20\ndown 100,60 180,100';
    expect(pointLines(wye)).toEqual(['P1 100,60 from P1/E1: P1/E2 | P1/E3 right']);
    // From the right the left leg is the lower one.
    expect(plan('toe 200,60 100,60\nup 100,60 20,20\ndown 100,60 20,100').points[0]?.normalStrip).toBe('down');
  });

  it('[JN5] three ends of which each could be the toe, or none, are ambiguous and stay free', () => {
    const star = plan('a 100,60 200,60\nb 100,60 50,147\nc 100,60 50,-27');
    expect(codes(star)).toEqual(['ends-ambiguous']);
    expect(star.points).toEqual([]);
    expect(star.places.filter((place) => place.kind === 'end')).toHaveLength(6);
  });

  it('[JN5] where two of three lie straight and the third is square, the line carries on', () => {
    const tee = plan('a 0,60 100,60\nb 100,60 200,60\nc 100,60 100,120');
    expect(codes(tee)).toEqual(['end-too-square']);
    expect(tee.spans.map((span) => span.id)).toEqual(['E1/E4', 'E2/E3']);
  });

  it('[JN5] four ends are a crossing where they are two straight lines', () => {
    const four = plan('a 0,0 100,0\nb 100,0 200,0\nc 20,50 100,0\nd 100,0 180,-50');
    expect(printPlan(four).split('\n')[0]).toBe('X1 diamond a c');
    expect(four.butts).toHaveLength(2);
  });

  it('[JN5] five ends fanned out from one are no point: all stay free', () => {
    const fan = plan('toe 0,60 100,60\na 100,60 160,20\nb 100,60 170,45\nc 100,60 170,75\nd 100,60 160,100');
    expect(codes(fan)).toEqual(['ends-ambiguous']);
    expect(fan.points).toEqual([]);
    expect(fan.places.filter((place) => place.kind === 'end')).toHaveLength(10);
  });
});

describe('ends that join interiors', () => {
  const main = 'main 0,60 300,60';

  it('[JN2] the branch leaves on the side of its acute angle, whichever way either is laid', () => {
    for (const strips of [`${main}\nb 100,60 180,110`, `main 300,60 0,60\nb 180,110 100,60`]) {
      expect(pointLines(strips)).toEqual(['P1 100,60 from P1/E1: P1/E3 | P1/E2 right']);
    }
    expect(pointLines(`${main}\nb 100,60 20,110`)).toEqual(['P1 100,60 from P1/E3: P1/E1 | P1/E2 left']);
  });

  it('[JN2] within half the width of the met strip, measured across', () => {
    expect(plan(`${main}\nb 100,62.5 180,112`).points).toHaveLength(1);
    expect(plan(`${main}\nb 100,62.6 180,112`).points).toHaveLength(0);
    expect(plan(`main 0,60 300,60 width=8\nb 100,64 180,112`).points).toHaveLength(1);
    expect(plan(`${main}\nb 100,64 180,112 width=8`).points).toHaveLength(0);
  });

  it.each([
    [10, 'read'],
    [75, 'read'],
    [9.9, 'end-too-flat'],
    [75.1, 'end-too-square'],
    [90, 'end-too-square'],
  ] as const)('[JN2] [JN3] a branch at %s degrees: %s', (degrees, what) => {
    const [dx, dy] = [Math.cos((degrees * Math.PI) / 180) * 90, Math.sin((degrees * Math.PI) / 180) * 90];
    const panel: PanelFile = {
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
        {
          id: 'b',
          path: [
            [100, 60],
            [100 + dx, 60 + dy],
          ],
        },
      ],
      levers: [],
    };
    const read = readPlan(panel);
    const found = read.problems.filter(({ code }) => code.startsWith('end-'));
    if (what === 'read') expect([found, read.points.length]).toEqual([[], 1]);
    else {
      expect(found).toMatchObject([{ code: what, strip: 'b', onto: 'main' }]);
      expect([read.points.length, read.places.length]).toEqual([0, 4]);
    }
  });

  it('[JN3] an end too square is to swing to 32 degrees, on the side to which it leans', () => {
    const read = plan(`${main}\nb 150,60 145,110`);
    const [problem] = read.problems;
    if (problem?.code !== 'end-too-square') throw new Error(printPlan(read));
    expect(problem.swingTo[0]).toBeCloseTo(145 + 50 / Math.tan((32 * Math.PI) / 180), 9);
    expect(problem.swingTo[1]).toBe(60);
    const swung = plan(`${main}\nb ${problem.swingTo.join(',')} 145,110`);
    expect(swung.points[0]?.angle).toBeCloseTo(32, 9);
  });

  it('[JN3] where there is no room on either side the end stays as it is', () => {
    const [problem] = plan('main 90,60 110,60\nb 100,60 100,160').problems;
    expect(problem).toMatchObject({ code: 'end-too-square', swingTo: [100, 60] });
  });

  it('[JN4] an end that misses by up to 3 mm says so and where it would join; a name says that it is meant', () => {
    expect(plan(`${main}\nb 100,65.5 180,115`).problems).toMatchObject([
      { code: 'end-misses', strip: 'b', onto: 'main', gap: 5.5, snapTo: [100, 60] },
    ]);
    expect(codes(plan(`${main}\nb 100,65.6 180,115`))).toEqual([]);
    expect(codes(plan(`${main}\nb 100,65.5 180,115\n@stop Stop 100,65.5`))).toEqual([]);
    expect(plan('a 0,0 100,0\nb 105,0 200,0').problems).toMatchObject([{ code: 'end-misses', snapTo: [105, 0] }]);
  });

  it('[JN6] at a corner of the met strip the straighter way through is the normal one', () => {
    // The met strip bends away, the branch carries on straight.
    const read = plan('main 0,60 100,60 180,110\nb 100,60 200,60');
    expect(read.points).toMatchObject([{ normalStrip: 'b', reverseStrip: 'main', hand: 'right' }]);
    expect(read.points[0]?.angle).toBeCloseTo((Math.atan2(50, 80) * 180) / Math.PI, 9);
  });

  it('[JN6] inside a sharp corner it cannot be told', () => {
    expect(codes(plan('main 0,0 100,60 0,120\nb 100,60 0,60'))).toEqual(['ends-ambiguous']);
  });

  it('[JN7] a strip may join itself: a balloon loop', () => {
    const balloon = plan('loop 0,60 100,60 200,60 260,100 200,140 140,100 80,60');
    expect(printPlan(balloon).split('\n')[0]).toBe('P1 80,60 from P1/E1: P1/P1 | P1/P1 right');
    expect(balloon.spans.map((span) => span.id)).toEqual(['P1/E1', 'P1/P1']);
  });

  it('[JN8] two branches from one spot in one direction are a three-way of two points', () => {
    const read = plan(`${main}\nleft 100,60 180,10\nright 101,60 180,110`, {
      threeWays: [{ id: 'Y1', at: [100, 60], points: ['P30', 'P31'] }],
    });
    expect(printPlan(read).split('\n').slice(0, 2)).toEqual([
      'P30 100.5,60 from P30/E1: P30/E4 | P30/E2 left',
      'P31 100.5,60 from P30/E1: P30/E4 | P30/E3 right',
    ]);
    expect(read.passages.map((passage) => passage.asks)).toEqual(
      expect.arrayContaining([
        { P30: 'normal', P31: 'normal' },
        { P30: 'reverse', P31: 'normal' },
        { P30: 'normal', P31: 'reverse' },
      ]),
    );
    expect(read.passages).toHaveLength(3);
  });

  it('[JN8] both branches to one hand: the further left is the first of the two', () => {
    const read = plan(`${main}\nwide 100,60 160,140\nnarrow 100,60 180,85`);
    expect(read.points).toMatchObject([
      { id: 'P1', of: 'three-way', normalStrip: 'main', reverseStrip: 'narrow' },
      { id: 'P2', of: 'three-way', normalStrip: 'main', reverseStrip: 'wide' },
    ]);
  });

  it('[JN8] [NM2] a three-way obeys its `normal`', () => {
    const threeWays = [{ id: 'Y1', at: [100, 60] as [number, number], normal: 'right' }];
    const read = plan(`${main}\nup 100,60 180,10\ndown 100,60 180,110`, { threeWays });
    expect(read.points).toMatchObject([
      { normalStrip: 'down', reverseStrip: 'up' },
      { normalStrip: 'down', reverseStrip: 'main' },
    ]);
  });

  it('[JN8] two branches from one spot in opposite directions are ambiguous', () => {
    expect(codes(plan(`${main}\na 100,60 180,110\nb 101,60 20,110`))).toEqual(['ends-ambiguous']);
    expect(codes(plan(`${main}\na 100,60 180,110\nb 103,60 20,110`))).toEqual([]);
  });

  it('[JN9] an end on two strips alike is ambiguous', () => {
    expect(codes(plan('a 0,0 200,0\nb 20,50 180,-50\nc 100,0 180,20'))).toContain('ends-ambiguous');
  });
});

describe('crossings', () => {
  const x = 'a 0,0 200,0\nb 20,50 180,-50';

  it('[CR1] interiors that cross are a diamond, straight on each line', () => {
    const read = plan(x);
    expect(printPlan(read).split('\n')[0]).toBe('X1 diamond a b');
    expect(read.passages.map(({ asks, crossing }) => [asks, crossing])).toEqual([
      [{}, 'X1'],
      [{}, 'X1'],
    ]);
    expect(read.crossings[0]?.angle).toBeCloseTo((Math.atan2(50, 80) * 180) / Math.PI, 9);
  });

  it('[CR1] at corners of either or both it is one crossing', () => {
    expect(plan('a 0,0 100,0 200,10\nb 20,50 100,0 180,-60').crossings).toHaveLength(1);
    expect(plan('a 0,0 100,0 200,0\nb 20,50 180,-50').crossings).toHaveLength(1);
  });

  it('[CR2] a bridge is nothing: strips pass', () => {
    const read = plan(x, { crossings: [{ id: 'X1', at: [100, 3], kind: 'over' }] });
    expect(read.bridges).toEqual([
      { at: [100, 0], strips: ['a', 'b'], record: { id: 'X1', at: [100, 3], kind: 'over' } },
    ]);
    expect(read.spans.map((span) => span.id)).toEqual(['E1/E4', 'E2/E3']);
  });

  it('[CR2] strips with a seam under a bridge carry on', () => {
    const read = plan('a 0,0 200,0\nb 20,50 100,0\nc 100,0 180,-50', {
      crossings: [{ id: 'X1', at: [100, 0], kind: 'over' }],
    });
    expect(read.spans.map((span) => span.id)).toEqual(['E1/E4', 'E2/E3']);
  });

  it('[CR3] a double slip is two points, left to right; the blades of one end choose the exit at the other', () => {
    const crossings = [
      {
        id: 'X1',
        at: [100, 0] as [number, number],
        kind: 'double-slip' as const,
        ends: [{ id: 'P20' }, { id: 'P21' }],
      },
    ];
    const read = plan(x, { crossings });
    expect(read.points.map(({ id, of }) => [id, of])).toEqual([
      ['P20', 'slip'],
      ['P21', 'slip'],
    ]);
    const ways = (panel: Plan) =>
      Object.fromEntries(
        panel.passages.map(({ between, asks }) => [
          between.map(({ span }) => span.replace('X1/', '')).join('-'),
          Object.values(asks)
            .map((lie) => lie[0])
            .join(''),
        ]),
      );
    // E1 and E4 are the ends of a (west, east), E2 and E3 those of b (south-west, north-east).
    expect(ways(read)).toEqual({ 'E1-E4': 'nn', 'E2-E3': 'rr', 'E1-E3': 'rn', 'E2-E4': 'nr' });
    const other = plan(x, { crossings: crossings.map((crossing) => ({ ...crossing, normal: 'b' })) });
    expect(ways(other)).toEqual({ 'E2-E3': 'nn', 'E1-E4': 'rr', 'E2-E4': 'rn', 'E1-E3': 'nr' });
  });

  it('[CR4] a single slip: each straight way asks its own end, the curve both', () => {
    const slip = (curve: [number, number]) =>
      plan(x, {
        crossings: [{ id: 'X1', at: [100, 0], kind: 'single-slip', curve, ends: [{ id: 'P20' }, { id: 'P21' }] }],
      });
    const ways = (panel: Plan) =>
      Object.fromEntries(
        panel.passages.map(({ between, asks }) => [
          between
            .map(({ span }) => span.replace('X1/', ''))
            .sort()
            .join('-'),
          asks,
        ]),
      );
    // Above the middle: the curve joins a's west to b's north-east, so a's own blades are at the left end.
    expect(ways(slip([95, -10]))).toEqual({
      'E1-E4': { P20: 'normal' },
      'E2-E3': { P21: 'normal' },
      'E1-E3': { P20: 'reverse', P21: 'reverse' },
    });
    // Below it: b's south-west to a's east.
    expect(ways(slip([105, 10]))).toEqual({
      'E2-E3': { P20: 'normal' },
      'E1-E4': { P21: 'normal' },
      'E2-E4': { P20: 'reverse', P21: 'reverse' },
    });
  });

  it('[CR4] a slip that cannot be told is a diamond and a problem', () => {
    const at: [number, number] = [100, 0];
    expect(codes(plan(x, { crossings: [{ id: 'X1', at, kind: 'single-slip' }] }))).toEqual(['crossing-unreadable']);
    const square = 'a 0,0 200,0\nb 100,-50 100,50';
    const read = plan(square, { crossings: [{ id: 'X1', at, kind: 'double-slip' }] });
    expect([codes(read), read.crossings[0]?.kind]).toEqual([['crossing-unreadable'], 'diamond']);
  });

  it('[CR5] a strip may cross itself', () => {
    const read = plan('a 0,0 200,0 200,50 100,50 100,-50');
    expect(read.spans.map((span) => `${span.id} ${span.length}`)).toEqual(['X1/E1 100', 'X1/E2 50', 'X1/X1 300']);
  });

  it('[CR6] strips that touch without crossing are a problem', () => {
    expect(codes(plan('a 0,0 200,0\nb 0,50 100,0 200,50'))).toEqual(['crossing-unreadable']);
  });

  it('[CR7] an end that overshoots what it joins is a point and no crossing', () => {
    const read = plan('main 0,60 300,60\nb 98,58 180,110');
    expect([read.points.length, read.crossings.length, codes(read)]).toEqual([1, 0, []]);
    const flat = plan(`main 0,60 300,60\nb 90,57.6 200,${57.6 + 110 * Math.tan((11 * Math.PI) / 180)}`);
    expect([flat.points.length, flat.crossings.length]).toEqual([1, 0]);
  });

  it('[CR8] a seam on the strip that it crosses is a diamond', () => {
    const read = plan('a 0,0 200,0\nb 20,50 100,0\nc 100,0 180,-50');
    expect(printPlan(read).split('\n')[0]).toBe('X1 diamond a b');
    expect(read.spans).toHaveLength(4);
  });

  it('[CR9] strips one on the other are a problem with its length', () => {
    expect(plan('a 0,0 200,0\nb 50,0.5 150,0.5 180,60').problems).toEqual(
      expect.arrayContaining([expect.objectContaining({ code: 'strips-overlap', strips: ['a', 'b'], length: 100 })]),
    );
    expect(codes(plan('a 0,0 200,0\nb 0,5 200,5'))).not.toContain('strips-overlap');
  });
});

describe('which leg is normal', () => {
  const branch = 'main 0,60 300,60\nb 100,60 180,110';
  const said = (record: object) => plan(branch, { points: [{ id: 'P7', at: [100, 60], ...record }] });

  it('[NM1] the straighter leg', () => {
    expect(said({}).points[0]).toMatchObject({ normalStrip: 'main', reverseStrip: 'b', hand: 'right' });
  });

  it('[NM2] what the record says: a strip, left or right seen from the toe', () => {
    expect(said({ normal: 'b' }).points[0]).toMatchObject({ normalStrip: 'b', hand: 'left' });
    expect(said({ normal: 'left' }).points[0]?.normalStrip).toBe('main');
    expect(said({ normal: 'right' }).points[0]?.normalStrip).toBe('b');
  });

  it('[NM2] a strip that is no leg, or both, is a problem, and the straighter leg is normal', () => {
    const read = said({ normal: 'nowhere' });
    expect(read.problems).toMatchObject([{ code: 'normal-unknown', point: 'P7', normal: 'nowhere' }]);
    expect(read.points[0]?.normalStrip).toBe('main');
  });

  it('[NM3] of a trap point the leg that runs out to a free end, the shorter of two', () => {
    expect(said({ trap: true }).points[0]).toMatchObject({ normalStrip: 'b', trap: true });
    // The trap lies straight ahead, the way on to the main line turns off.
    const siding = 'siding 0,60 150,60\non 100,60 140,85\nmain 0,85 300,85';
    const read = plan(siding, { points: [{ id: 'P1', at: [100, 60], trap: true }] });
    expect(read.points.find((point) => point.id === 'P1')).toMatchObject({ normalStrip: 'siding', reverseStrip: 'on' });
    const long = plan('main 0,60 120,60\nb 100,60 180,110', { points: [{ id: 'P1', at: [100, 60], trap: true }] });
    expect(long.points[0]?.normalStrip).toBe('main');
  });
});

describe('records and numbers', () => {
  const branch = 'main 0,60 300,60\nb 100,60 180,110';

  it('[RC1] a record reaches half the met tape and 10 mm', () => {
    const at = (y: number) => plan(branch, { points: [{ id: 'P9', at: [100, y] }] });
    expect(at(72.5).points[0]?.id).toBe('P9');
    expect(at(72.6).points[0]?.id).toBe('P1');
    expect(at(72.6).problems).toEqual([
      { code: 'record-finds-nothing', kind: 'point', id: 'P9', at: [100, 72.6], reach: 12.5 },
    ]);
  });

  it('[RC2] of two records on one the first in the file has it', () => {
    const read = plan(branch, {
      points: [
        { id: 'P9', at: [101, 60] },
        { id: 'P8', at: [100, 60] },
      ],
    });
    expect(read.points.map((point) => point.id)).toEqual(['P9']);
    expect(read.problems).toMatchObject([{ code: 'records-on-one', kind: 'point', ids: ['P9', 'P8'] }]);
  });

  it('[RC2] two records on one spot have the two ends that lie there', () => {
    const star =
      'a 100,60 200,60\nb 100,60 50,147\nc 100,60 50,-27\n@one One 100,60\n@two Two 100,60\n@three Three 100,60';
    expect(codes(plan(star))).toEqual(['ends-ambiguous']);
  });

  it('[RC3] what has no record is numbered by x, then y, passing over ids in use or retired, case aside', () => {
    const two = 'main 0,60 300,60\nb 100,60 180,110\nc 100,60 20,110\nd 200,60 280,10';
    const apart = two.replace('c 100,60', 'c 110,60');
    expect(plan(apart).points.map((point) => [point.id, point.at[0]])).toEqual([
      ['P1', 100],
      ['P2', 110],
      ['P3', 200],
    ]);
    const read = plan(apart, {
      points: [{ id: 'P2', at: [200, 60] }],
      lamps: [{ id: 'p1', at: [0, 0] }],
      retired: ['P3', 'E1'],
    });
    expect(read.points.map((point) => [point.id, point.at[0]])).toEqual([
      ['P2', 200],
      ['P4', 100],
      ['P5', 110],
    ]);
    expect(read.places.map((place) => place.id)).toEqual(['E2', 'E3', 'E4', 'E5', 'E6']);
  });

  it('[RC3] x counts to 0.01 mm before y does', () => {
    const ends = plan('a 0.004,50 300,50\nb 0,90 300,90');
    expect(ends.places.map((place) => place.at[1])).toEqual([50, 90, 50, 90]);
  });

  it('[RC4] of an end and a strip equally near, told apart by rounding alone, the end is named', () => {
    // The end is too square to be read and lies on the slope; sums along the slope are off by a last digit.
    const slope = 'slope 435,25 360,100\nspur 340,20 390,70\n@here - 390,70';
    for (const text of [slope, slope.replace('340,20 390,70', '390,70 340,20')])
      expect(plan(text).places[0]).toMatchObject({ id: 'here', kind: 'end', at: [390, 70] });
  });

  it('[RC4] of two ends in reach the nearer is named, though a strip nearer still ends farther off', () => {
    // The spur's end is too square to be read and lies on the slope, 7 mm from the slope's own end.
    const text = 'slope 167,325 192,300\nspur 200.87,370 172,320';
    for (const at of ['172,320', '171.5,320.5', '172,321'])
      expect(plan(`${text}\n@here - ${at}`).places[0]).toMatchObject({ id: 'here', kind: 'end', at: [172, 320] });
    expect(plan(`${text}\n@here - 167,326`).places[0]).toMatchObject({ id: 'here', kind: 'end', at: [167, 325] });
  });

  it('[RC4] a place near a free end names it, one elsewhere on a strip the road', () => {
    const read = plan('main 0,60 300,60\nb 100,60 180,110\n@west West 8,65\n@road Road 200,66 length=900');
    expect(read.places).toMatchObject([
      { id: 'west', name: 'West', kind: 'end', at: [0, 60], span: 'P1/west', along: 100 },
      { id: 'road', kind: 'road', at: [200, 60], span: 'P1/E2', along: 100, length: 900 },
      { id: 'E1', name: null, kind: 'end' },
      { id: 'E2', name: null, kind: 'end' },
    ]);
  });

  it('[RC4] the nearer strip wins over the end of another', () => {
    const read = plan('a 0,60 100,60\nb 0,68 300,68\n@here Here 100,68');
    expect(read.places[0]).toMatchObject({ id: 'here', kind: 'road', at: [100, 68] });
  });

  it('[RC4] a road on a closed strip without features finds nothing', () => {
    expect(codes(plan('oval 100,0 200,0 200,80 0,80 0,0 100,0\n@halt Halt 150,0'))).toEqual(['record-finds-nothing']);
  });

  it('[RC5] an end without a name is told, one that the tool has numbered too', () => {
    const unnamed = (text: string) =>
      readPlan(tracks(text)).problems.flatMap((problem) => (problem.code === 'place-unnamed' ? [problem.place] : []));
    expect(unnamed('a 0,0 100,0')).toEqual(['E1', 'E2']);
    expect(unnamed('a 0,0 100,0\n@E1 - 0,0\n@yard - 100,0')).toEqual(['E1']);
  });
});

describe('spans', () => {
  it('[SP1] ids name points, then crossings, then ends; a second span between two features is #2, by its legs', () => {
    const read = plan('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60\n@P0 West 0,60');
    expect(read.spans.map((span) => `${span.id} ${span.stretches.map((each) => each.strip).join('+')}`)).toEqual([
      'P1/P0 main',
      'P1/P2 main',
      'P1/P2#2 loop',
      'P2/E1 main',
    ]);
  });

  it('[SP2] lengths run along corners, through butts', () => {
    const read = plan('a 0,0 100,0 100,50\nb 100,50 100,150 200,150');
    expect(read.spans).toMatchObject([
      {
        id: 'E1/E2',
        length: 350,
        path: [
          [0, 0],
          [100, 0],
          [100, 50],
          [100, 150],
          [200, 150],
        ],
      },
    ]);
  });

  it('[SP3] layout lengths are shared out along each strip, and null where one is not said', () => {
    const text = 'main 0,60 300,60 layoutLength=6000\nb 100,60 180,110\nc 300,60 400,60';
    const read = plan(text);
    expect(read.spans.map((span) => [span.id, span.layoutLength])).toEqual([
      ['P1/E1', 2000],
      ['P1/E2', null],
      ['P1/E3', null],
    ]);
  });
});

describe('levers', () => {
  const two = 'main 0,60 300,60\nb 100,60 180,110\nc 200,60 280,10';

  it('[LV1] without the key each point has its own, of its own number, in a row below the strips', () => {
    const read = plan(two, { points: [{ id: 'P4', at: [200, 60] }] });
    expect(read.levers.map(({ id, at, works }) => [id, at, works[0]?.point])).toEqual([
      ['L1', [128, 132], 'P1'],
      ['L4', [172, 132], 'P4'],
    ]);
  });

  it('[LV1] a number that is taken gives way to the next free one', () => {
    const read = plan(two, { lamps: [{ id: 'L1', at: [0, 0] }] });
    expect(read.levers.map(({ id, works }) => [id, works[0]?.point])).toEqual([
      ['L2', 'P2'],
      ['L3', 'P1'],
    ]);
  });

  it('[LV2] points worked by hand or by a decoder have none', () => {
    const read = plan(two, {
      points: [
        { id: 'P1', at: [100, 60], drive: 'hand' },
        { id: 'P2', at: [200, 60], drive: 'D1' },
      ],
      drives: [{ id: 'D1', part: 'mine' }],
      parts: [{ id: 'mine', like: 'decoder' }],
    });
    expect([read.levers, codes(read)]).toEqual([[], []]);
  });

  it('[LV3] with the key a point that nothing works is told', () => {
    const read = plan(two, { levers: [{ id: 'L1', works: [{ point: 'P2', opposite: true }, { point: 'P9' }] }] });
    expect(read.levers).toMatchObject([{ id: 'L1', recorded: true, works: [{ point: 'P2', whenNormal: 'reverse' }] }]);
    expect(codes(read)).toEqual(['point-worked-by-none', 'lever-works-nothing-there']);
    expect(codes(plan(two, { levers: [] }))).toEqual(['point-worked-by-none', 'point-worked-by-none']);
  });

  it('[LV3] two levers on one point, and a lever that works nothing', () => {
    const levers = [
      { id: 'L1', works: [{ point: 'P1' }] },
      { id: 'L2', works: [{ point: 'P1' }, { point: 'P2' }] },
      { id: 'L3' },
      { id: 'L4', works: [{ signal: 'home' }] },
    ];
    const read = plan(two, { levers });
    expect(read.problems).toMatchObject([
      { code: 'point-worked-twice', point: 'P1', levers: ['L1', 'L2'] },
      { code: 'lever-works-nothing', lever: 'L3' },
    ]);
  });

  it('[LV4] a row that is wider than what it works begins 22 from the edge', () => {
    const read = plan('main 0,60 60,60', { levers: [{ id: 'L1' }, { id: 'L2' }, { id: 'L3' }] });
    expect(read.levers.map(({ at }) => at[0])).toEqual([22, 66, 110]);
  });
});

describe('strips that say little', () => {
  it('[TL1] no strips, strips without length, all coordinates alike', () => {
    expect(plan('').spans).toEqual([]);
    expect(codes(plan('a\nb 5,5\nc 5,5 5,5'))).toEqual(['strip-no-length', 'strip-no-length', 'strip-no-length']);
  });

  it('[TL1] ten thousand corners, of a scribble too, are read and cut', () => {
    const path = Array.from({ length: 10_000 }, (_, i): [number, number] => [(i * 7919) % 1000, (i * 6101) % 997]);
    const read = readPlan({ format: 'mimic-panel', version: 1, strips: [{ id: 'a', path }] });
    expect(read.problems.some((problem) => problem.code === 'crossing-unreadable')).toBe(true);
  }, 30_000);

  it('[TL2] the examples read without a problem', () => {
    for (const [name, points] of [
      ['bramble-siding', 3],
      ['quillhaven-harbour', 17],
    ] as const) {
      const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
      if (!read.ok) throw new Error(JSON.stringify(read.problems));
      const found = readPlan(read.panel);
      expect([found.problems, found.points.length], printTracks(read.panel)).toEqual([[], points]);
    }
  });
});
