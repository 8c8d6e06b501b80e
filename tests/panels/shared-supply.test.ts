/** Levers taken one by one behind a shared supply, against the whole network solved at once. */
import { describe, expect, it } from 'vitest';
import { solveDc } from '../../src/circuit/index.ts';
import { derive } from '../../src/derive.ts';
import {
  type Corner,
  heldVolts,
  islandsOf,
  NOMINAL,
  netlistOf,
  type Position,
  solveIsland,
  type Wiring,
} from '../../src/wiring/index.ts';
import { generatePanel } from '../generate/panels.ts';

function wire(seed: number, size: number, supply: Readonly<Record<string, unknown>>): Wiring {
  const file = { ...generatePanel(seed, size), supplies: [{ id: 'S1', volts: 12, ...supply }] };
  return derive(file as ReturnType<typeof generatePanel>).wiring;
}

describe('levers behind a shared supply', () => {
  it.each([
    [1, { ohms: 4 }],
    [2, { ohms: 60 }],
    [3, { ohms: 0.2, limit: 'constant', amps: 0.15 }],
    [4, { limit: 'constant', amps: 0.2 }],
    [5, { ohms: 3, limit: 'hiccup', amps: 0.1 }],
  ])('[OP9] carry what the whole network says, nominal and at both edges, seed %i, %o', (seed, supply) => {
    const wiring = wire(seed, 20, supply);
    const setting: Record<string, Position> = Object.fromEntries(
      wiring.circuits.map(({ id }, k) => [id, (seed * k) % 3 === 1 ? 'reverse' : 'normal']),
    );
    let shared = 0;
    for (const island of islandsOf(wiring)) {
      if (island.length < 2) continue;
      const whole = (corner: Corner) => {
        const held = heldVolts(wiring, setting, corner);
        return solveDc(netlistOf(wiring, setting, { circuits: new Set(island), corner, held })).amps;
      };
      const nominal = whole(NOMINAL);
      for (const lamp of solveIsland(wiring, island, setting).lamps) {
        const group = wiring.lamps.find(({ id }) => id === lamp.id)?.group ?? null;
        const low = whole({ supply: 'low', dimmed: 1, lamps: 'low', draw: 'high', group, lamp: null });
        const high = whole({ supply: 'high', dimmed: 1, lamps: 'high', draw: 'low', group, lamp: null });
        const near = (value: number, want: number) => expect(Math.abs(value - Math.max(0, want))).toBeLessThan(1e-10);
        near(lamp.amps, nominal.get(lamp.id) ?? 0);
        near(lamp.low, Math.min(nominal.get(lamp.id) ?? 0, low.get(lamp.id) ?? 0));
        near(lamp.high, Math.max(nominal.get(lamp.id) ?? 0, high.get(lamp.id) ?? 0));
        shared++;
      }
    }
    expect(shared).toBeGreaterThan(20);
  });

  it('[OP9] sixty levers, no two drives alike, carry what the whole network says, seed 6', () => {
    const panel = generatePanel(6, 60);
    const points = panel.points?.map((point, k) => ({ ...point, drive: `M${k}` })) ?? [];
    const drives = points.map((_, k) => ({
      id: `M${k}`,
      part: 'stall-2-wire',
      measured: { amps: 0.012 + 1e-4 * k, volts: 12 },
    }));
    const { wiring } = derive({ ...panel, points, drives, supplies: [{ id: 'S1', volts: 12, ohms: 1.5 }] });
    const [island = []] = islandsOf(wiring);
    expect(island.length).toBeGreaterThan(24);
    const setting: Record<string, Position> = Object.fromEntries(
      island.map((id, k) => [id, k % 3 === 1 ? 'reverse' : 'normal']),
    );
    const whole = solveDc(netlistOf(wiring, setting, { circuits: new Set(island) })).amps;
    const lamps = solveIsland(wiring, island, setting).lamps;
    expect(lamps.length).toBeGreaterThan(100);
    for (const { id, amps } of lamps) expect(Math.abs(amps - Math.max(0, whole.get(id) ?? 0))).toBeLessThan(1e-11);
  });
});
