import { describe, expect, it } from 'vitest';
import type { LampGroup } from '../lamps/index.ts';
import type { Supply } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { fuseOf, worstDraw } from './supply.ts';
import type { Circuit, WiredDrive } from './types.ts';

const SUPPLY: Supply = {
  id: 'S1',
  name: null,
  kind: 'dc',
  volts: 12,
  voltsOffLoad: null,
  tolerance: 0.05,
  amps: 1,
  ohms: 0,
  limit: 'none',
  isolated: true,
  fuse: 'computed',
  from: null,
  farads: null,
  chargeOhms: null,
  frequency: 50,
  recorded: true,
};

function drive(partId: string, ohms: number | null): WiredDrive {
  const part = resolveCatalogue(undefined).find('drive', partId);
  if (part === undefined) throw new Error(`no ${partId}`);
  return {
    id: 'D1',
    points: ['P1'],
    part,
    circuit: 'L1',
    feed: 'reversing',
    a: 'D1.a',
    b: 'D1.b',
    com: null,
    ohms,
    measured: false,
    ampsBand: 0.2,
    whenNormal: 'normal',
    asks: [],
    plusToA: true,
    wire: { length: 3000, gauge: 0.22, guess: true },
  };
}

function group(more: Partial<LampGroup>, amps: readonly number[]): LampGroup {
  return {
    id: 'G1',
    circuit: 'L1',
    scheme: 'across-feed',
    nodes: null,
    arrange: 'pair',
    guard: 'none',
    normal: [],
    reverse: [],
    ohms: 3900,
    ohmsFrom: 'computed',
    watts: 0.1,
    rating: 0.25,
    recorded: false,
    sum: amps.map((value) => ({ text: '', value, unit: 'A' })),
    ...more,
  };
}

/** L1 on S1, with these groups. */
function circuit(groups: readonly string[] = []): Circuit {
  return {
    id: 'L1',
    supply: 'S1',
    supplies: ['S1'],
    feed: 'reversing',
    positions: ['normal', 'reverse'],
    levers: ['L1'],
    follows: [],
    rails: [],
    load: true,
    dimmed: 1,
    points: ['P1'],
    drives: [],
    groups,
    lamps: [],
    wires: [],
  };
}

describe('worstDraw', () => {
  it('[SU1] counts every stalled motor for good, and at switch-on every drive that runs', () => {
    // Stall: 12 / 800 = 15 mA, always. Limit: 120 mA while it runs, nothing after.
    const draw = worstDraw(
      SUPPLY,
      [circuit()],
      [drive('stall-2-wire', 800), drive('limit-2-wire', null)],
      [],
      [SUPPLY],
    );
    expect(draw.steady).toBeCloseTo(0.015, 12);
    expect(draw.worst).toBeCloseTo(0.135, 12);
  });

  it('[SU2] counts the brighter way of each group: one of a pair, all side by side, a string once', () => {
    const draw = (more: Partial<LampGroup>, amps: number[]) =>
      worstDraw(SUPPLY, [circuit(['G1'])], [], [group(more, amps)], [SUPPLY]).steady;
    expect(draw({ normal: ['H1'], reverse: ['H2'] }, [0.0019, 0.002])).toBeCloseTo(0.002, 12);
    expect(draw({ arrange: 'parallel', normal: ['H1', 'H2', 'H3'] }, [0.002])).toBeCloseTo(0.006, 12);
    expect(draw({ arrange: 'series', normal: ['H1', 'H2', 'H3'] }, [0.002])).toBeCloseTo(0.002, 12);
    expect(draw({ arrange: 'own', normal: ['H1', 'H2'], reverse: ['H3'] }, [0.002, 0.002, 0.002])).toBeCloseTo(
      0.004,
      12,
    );
  });
});

/** What a fuse must hold, none of it in pulses. */
const held = (holds: number) => ({ holds, felt: 0 });

describe('fuseOf', () => {
  it('[SU8] is a slow one of a quarter of each pulse, of which it holds four times its rating (IEC 60127-2 time-lag, from memory)', () => {
    const coil = { ...drive('twin-coil', null), feed: 'charge' as const };
    const draw = worstDraw(SUPPLY, [{ ...circuit(), feed: 'charge' }], [coil], [], [SUPPLY]);
    // 12 V through 5 ohm of coil and 2 x 3 m x 0.017241 / 0.22 = 0.470 ohm of wire: 2.194 A, a quarter of it 0.548 A.
    expect(draw.worst).toBeCloseTo(2.194, 3);
    expect(draw.holds).toBeCloseTo(0.548, 3);
    // No margin on a pulse, which does not tire it: 0.63 A is the next of the R10 steps, and four times that is 2.5 A.
    expect(fuseOf(SUPPLY, draw)).toEqual({ id: 'FU-S1', amps: 0.63, act: 'slow', given: false });
  });

  it('[SU3] is the first standard rating a third above the worst draw', () => {
    // 0.3 A x 1.35 = 0.405 A: 0.5 A is the next of the R10 steps; 0.29 x 1.35 = 0.39: 0.4 A.
    expect(fuseOf(SUPPLY, held(0.3))).toEqual({ id: 'FU-S1', amps: 0.5, act: 'quick', given: false });
    expect(fuseOf(SUPPLY, held(0.29))?.amps).toBe(0.4);
    expect(fuseOf(SUPPLY, held(0))?.amps).toBe(0.1);
  });

  it('[SU4] is the one that the file gives, or none where it says none', () => {
    expect(fuseOf({ ...SUPPLY, fuse: { amps: 2, act: 'slow' } }, held(5))).toEqual({
      id: 'FU-S1',
      amps: 2,
      act: 'slow',
      given: true,
    });
    expect(fuseOf({ ...SUPPLY, fuse: null }, held(5))).toBeNull();
  });
});
