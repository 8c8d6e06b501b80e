import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import { readPlan } from '../plan/index.ts';
import { placeHeadings, trainMarks } from './train-marks.ts';

/** A loop beside a main that runs from left to right. */
const LOOP = `main 0,60 400,60
  loop 60,60 100,85 300,85 340,60
  @west West 0,60 length=1000
  @east East 400,60 length=1000
  @loop Loop 200,85 length=700`;

const plan = readPlan(tracks(LOOP));
const train = (id: string, stands: string, heads: string | null = null) => ({
  id,
  name: null,
  length: 300,
  stands,
  heads,
});

describe('markers of trains', () => {
  it('[RS5] stand about a road and from a free end inwards, from left to right in the order of the standing', () => {
    const marks = trainMarks(plan, [
      train('T1', 'loop'),
      train('T2', 'loop'),
      train('T3', 'west'),
      train('T4', 'east'),
    ]);
    expect(marks.map(({ train: id }) => id)).toEqual(['T1', 'T2', 'T3', 'T4']);
    const [t1, t2, t3, t4] = marks;
    // Two of 24 with 2 between them, about 200.
    expect([t1?.at, t2?.at].map((at) => at?.map((v) => Math.round(v)))).toEqual([
      [187, 85],
      [213, 85],
    ]);
    // 5 from the end, and half a marker.
    expect([t3?.at, t4?.at]).toEqual([
      [17, 60],
      [383, 60],
    ]);
    expect(marks.map(({ angle }) => Math.abs(angle))).toEqual([0, 0, 0, 0]);
  });

  it('[RS5] head where the standing says, whichever way the strip was laid', () => {
    const standing = [
      train('T1', 'loop', 'east'),
      train('T2', 'west', 'east'),
      train('T3', 'west', 'west'),
      train('T4', 'east'),
    ];
    const heads = trainMarks(plan, standing).map((mark) => mark.heads);
    expect(heads).toEqual([1, 1, -1, 0]);
    const back = readPlan(
      tracks(
        LOOP.replace('main 0,60 400,60', 'main 400,60 0,60').replace(
          '60,60 100,85 300,85 340,60',
          '340,60 300,85 100,85 60,60',
        ),
      ),
    );
    expect(trainMarks(back, standing).map((mark) => mark.heads)).toEqual(heads);
    expect(trainMarks(back, standing).map(({ at }) => at)).toEqual(trainMarks(plan, standing).map(({ at }) => at));
  });

  it('[RS5] shrink where a road is too short for them, and never leave it', () => {
    const short = readPlan(tracks('main 0,60 60,60\n@west West 0,60 length=900\n@east East 60,60'));
    const marks = trainMarks(
      short,
      ['T1', 'T2', 'T3'].map((id) => train(id, 'west')),
    );
    for (const { at, length } of marks) {
      expect(at[0] - length / 2).toBeGreaterThanOrEqual(0);
      expect(at[0] + length / 2).toBeLessThanOrEqual(60);
    }
    expect(marks[0]?.length).toBeCloseTo((50 - 4) / 3, 9);
  });

  it('[RS5] can head left or right: to a place that lies that way alone, or to the end itself', () => {
    const told = placeHeadings(plan);
    expect(told.map(({ place }) => place)).toEqual(plan.places.map(({ id }) => id));
    expect(told.find(({ place }) => place === 'loop')).toEqual({ place: 'loop', left: 'west', right: 'east' });
    expect(told.find(({ place }) => place === 'west')).toMatchObject({ left: 'west' });
    for (const { place, left, right } of told)
      for (const [heads, sign] of [
        [left, -1],
        [right, 1],
      ] as const)
        if (heads !== null) expect(trainMarks(plan, [train('T1', place, heads)])[0]?.heads).toBe(sign);
  });

  it('[RS5] leave out trains that stand nowhere', () => {
    expect(trainMarks(plan, [train('T1', 'nowhere'), train('T2', 'east')]).map(({ train: id }) => id)).toEqual(['T2']);
  });
});
