import { describe, expect, it } from 'vitest';
import { readSpots } from './typed-spots.ts';

describe('spots that are typed', () => {
  it.each([
    ['60 66', [[60, 66]]],
    ['60, 66', [[60, 66]]],
    ['12,5 7.5', [[12.5, 7.5]]],
    [
      '0 66 to 600 66',
      [
        [0, 66],
        [600, 66],
      ],
    ],
    [
      '0 66  TO 60 66 to 90 85',
      [
        [0, 66],
        [60, 66],
        [90, 85],
      ],
    ],
    [
      '10 20 to 50',
      [
        [10, 20],
        [60, 20],
      ],
    ],
    // Upwards is positive: y counts down the sheet.
    [
      '10 20 to 50<90',
      [
        [10, 20],
        [10, -30],
      ],
    ],
    ['1 in 2 in', null],
    ['1 in; 2 in', [[25.4, 50.8]]],
    ['1 1/2 in; 2 in', [[38.1, 50.8]]],
    ['1in 2in', [[25.4, 50.8]]],
  ])('"%s"', (text, spots) => {
    const read = readSpots(text, 'mm');
    expect(read?.map((spot) => spot.map((value) => Math.round(value * 1e6) / 1e6)) ?? null).toEqual(spots);
  });

  it('are told from the one before in the unit of the screen', () => {
    expect(readSpots('10 mm; 20 mm to 2', 'in')).toEqual([
      [10, 20],
      [60.8, 20],
    ]);
  });

  it.each(['', 'to', '50', '50<32', '60 66 to', '1 2 3', 'a b', '0 66 to -5', '10 10 to 5<2<3'])(
    '"%s" is none',
    (text) => {
      expect(readSpots(text, 'mm')).toBeNull();
    },
  );
});
