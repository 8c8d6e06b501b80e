import { describe, expect, test } from 'vitest';
import { netlistOf } from './notation.ts';
import { randomNetwork } from './random-network.ts';
import { deadElements } from './reach.ts';
import { solveDc } from './solve-dc.ts';

const dead = (lines: string) => deadElements(netlistOf(lines, 'm')).map(({ element, why }) => `${element} ${why}`);

describe('what can carry nothing', () => {
  test('[CI37] a part without a source, a branch that ends nowhere, a part that hangs on one node', () => {
    expect(dead('S1 p m 9V; R1 p m 1k; R2 x y 1k; R3 p z 1k; R4 z u 1k; R5 u z 2k')).toEqual([
      'R2 no-source',
      'R3 no-ring',
      'R4 no-ring',
      'R5 no-ring',
    ]);
  });

  test('[CI37] a lamp the wrong way round on its only way, and not one that has another way', () => {
    expect(dead('S1 p m 9V; R1 p x 1k; D1 x m 1e-18,2,5; D2 m x 1e-18,2,5')).toEqual([]);
    expect(dead('S1 p m 9V; R1 p x 1k; D1 x y 1e-18,2,5; D2 m y 1e-18,2,5')).toEqual(['D1 one-way', 'D2 one-way']);
    expect(dead('S1 p x 9V; D1 x y 1e-18,2,5; D2 p y 1e-18,2,5')).toEqual(['D1 one-way', 'D2 one-way']);
  });

  test('[CI37] 3,000 random networks: what is named dead carries no more than leakage (seeds 0 to 2,999)', () => {
    let named = 0;
    for (let seed = 0; seed < 3000; seed++) {
      const netlist = randomNetwork(seed);
      const found = deadElements(netlist);
      if (found.length === 0) continue;
      const { amps } = solveDc(netlist);
      for (const { element, why } of found) {
        const value = amps.get(element) ?? 0;
        named++;
        // Up to 20 silicon diodes of 2.9 nA leak side by side; the rest is the last digit of 72 V across 1 uohm.
        const room = why === 'one-way' ? 1e-7 + 3.2e-8 : 3.2e-8;
        if (!(Math.abs(value) <= room)) throw new Error(`seed ${seed}: ${element} (${why}) carries ${value} A`);
      }
    }
    expect(named).toBeGreaterThan(5000);
  });
});
