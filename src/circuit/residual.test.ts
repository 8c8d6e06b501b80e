import { describe, expect, test } from 'vitest';
import { netlistOf } from './notation.ts';
import { residual } from './residual.ts';
import { solveDc } from './solve-dc.ts';

const netlist = netlistOf('S1 p m 12V; W1 p a; R1 a x 1k; R2 x m 3k', 'm');

describe('residual', () => {
  test('[CI17] is nothing at the operating point', () => {
    expect(residual(netlist, solveDc(netlist)).amps).toBeLessThan(1e-15);
  });

  test('[CI17] shows the node where an answer is wrong, and by how much', () => {
    const point = solveDc(netlist);
    const volts = new Map(point.volts).set('x', 10);
    // (12 - 10) / 1k in, 10 / 3k out.
    const found = residual(netlist, { ...point, volts });
    expect(found.worst).toBe('x');
    expect(found.amps).toBeCloseTo(10 / 3000 - 2 / 1000, 12);
  });

  test('[CI17] a stated current of a source that does not fit is seen too', () => {
    const point = solveDc(netlist);
    const amps = new Map(point.amps).set('S1', 0.5);
    expect(residual(netlist, { ...point, amps }).amps).toBeCloseTo(0.503, 9);
  });

  test('[CI17] the ends of a source without a known current count as one', () => {
    const loop = netlistOf('S1 p m 9V; S2 p m 9V; R1 p m 100', 'm');
    expect(residual(loop, solveDc(loop))).toEqual({ worst: 'm', amps: 0 });
  });
});
