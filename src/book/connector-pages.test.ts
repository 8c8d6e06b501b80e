import { describe, expect, test } from 'vitest';
import { resolveCatalogue } from '../parts/index.ts';
import { wiringSide } from './connector-pages.ts';

// Reference: D-subminiature contact positions of KiCad footprints, both genders, seen on the mating face: DE-9 pin 1 at (0, 0),
// pin 2 at 2.77; socket 1 at (0, 0), socket 2 at -2.77, y down. A rear view is the mirror of the mating face of the same half.
const AT = [0, 2.77, 5.54, 8.31, 11.08].map((x): [number, number] => [x, 0]);
const PLUG: readonly (readonly [number, number])[] = [
  ...AT,
  ...[1.385, 4.155, 6.925, 9.695].map((x): [number, number] => [x, 2.84]),
];
const MATING = { plug: PLUG, socket: PLUG.map(([x, y]) => [-x, y] as const) };

describe('the wiring side of a half', () => {
  test.each(['plug', 'socket'] as const)('of a nine-way %s mirrors its mating face', (half) => {
    const part = resolveCatalogue([]).find('connector', 'dsub-9');
    if (part === undefined) throw new Error('no dsub-9');
    const side = wiringSide(part.at, half);
    const [ox = 0, oy = 0] = side[0] ?? [];
    const from = side.map(([x, y]) => [x - ox, y - oy]);
    for (const [i, [x, y]] of MATING[half].entries()) {
      expect(from[i]?.[0]).toBeCloseTo(-x, 6);
      expect(from[i]?.[1]).toBeCloseTo(y, 6);
    }
  });
});
