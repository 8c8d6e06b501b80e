import { describe, expect, it } from 'vitest';
import { sizeFuse, sizeSupply, sumDraws } from './size-supply.ts';

const draws = (count: number, moving: number, resting: number, name = 'D') =>
  Array.from({ length: count }, (_, k) => ({ id: `${name}${k + 1}`, moving, resting }));

describe('sumDraws', () => {
  // Notes of the trade: switching on is the worst draw. 17 limit-switched at 0.2 A: 3.4 A; 17 servos at 0.7 A: 11.9 A.
  it.each([
    [0.2, 3.4],
    [0.7, 11.9],
  ])('[SU5] 17 drives at %d A that all move at switch-on: %d A', (each, sum) => {
    expect(sumDraws(draws(17, each, 0)).worst).toBeCloseTo(sum, 12);
  });

  it('[SU5] one lever at a time: the one that adds most, on top of what rests', () => {
    const mixed = [...draws(10, 0.006, 0.015), ...draws(2, 0.12, 0, 'L')];
    const one = sumDraws(mixed, 1);
    expect(one.moving).toEqual(['L1']);
    expect(one.worst).toBeCloseTo(10 * 0.015 + 0.12, 12);
    expect(one.steady).toBeCloseTo(0.15, 12);
    // A stall drive takes most when it stands: it is never the one that adds.
    expect(sumDraws(mixed).worst).toBeCloseTo(10 * 0.015 + 2 * 0.12, 12);
  });

  it('[SU5] shows the arithmetic', () => {
    expect(sumDraws(draws(17, 0.2, 0)).steps).toEqual([
      '17 moving × 200 mA = 3.40 A',
      'together 3.40 A at the worst, 0.00 mA at rest',
    ]);
    expect(sumDraws([]).worst).toBe(0);
  });
});

describe('sizeSupply', () => {
  it('[SU6] a quarter more than the worst draw, next rating up; none where no one supply gives it', () => {
    expect(sizeSupply(3.4).amps).toBe(5);
    expect(sizeSupply(0.8).amps).toBe(1);
    expect(sizeSupply(11.9).amps).toBeNull();
    expect(sizeSupply(3.4).steps).toEqual(['3.40 A × 1.25 = 4.25 A', 'next supply: 5.00 A']);
  });
});

describe('sizeFuse', () => {
  it('[SU7] a third above the draw, no higher than the thinnest wire', () => {
    expect(sizeFuse({ worst: 0.3, wire: 1.4, limit: null })).toMatchObject({ amps: 0.5, most: 1.25, verdict: 'ok' });
    expect(sizeFuse({ worst: 2, wire: 1.4, limit: null })).toMatchObject({
      amps: 3.15,
      most: 1.25,
      verdict: 'wire-too-thin',
    });
    expect(sizeFuse({ worst: 0.3, wire: null, limit: null }).most).toBeNull();
  });

  it('[SU7] behind a supply that limits, the limit may be the protection: then the wire must carry it', () => {
    // A supply of 1 A that limits there, and a fuse of 1 A: it holds 1.5 A for an hour (IEC 60127-2, from memory).
    const held = sizeFuse({ worst: 0.7, wire: 3, limit: 1 });
    expect(held).toMatchObject({ amps: 1, verdict: 'never-blows', wireMustCarry: 1 });
    expect(sizeFuse({ worst: 0.7, wire: 0.5, limit: 1 }).verdict).toBe('wire-too-thin');
    expect(sizeFuse({ worst: 0.7, wire: 3, limit: 5 })).toMatchObject({ verdict: 'ok', wireMustCarry: 1 });
    expect(held.steps).toHaveLength(3);
  });
});
