/**
 * Lamps that show their supply: across it behind its fuse, with a resistor. Sums by hand: a green lamp of the file format's table has
 * 1.90 V at 2 mA; 2 mA from 12 V want 5.05 kohm, of E12 (IEC 60063) 5.6 kohm, and carry (12 - 1.9) / 5600 = 1.80 mA.
 */
import { describe, expect, it } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { type Derived, derive } from '../../src/index.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { proveFaults } from '../../src/truth/index.ts';
import { faultByCode, faultsOf } from '../../src/wiring/index.ts';
import { everyFault } from '../oracle/every-fault.ts';

function panel(feed: Parameters<typeof combine>[0]['feed'] = 'reversing', more: Partial<PanelFile> = {}): PanelFile {
  const base = combine({ drive: 'stall-2-wire', feed, scheme: 'across-feed' });
  const lamp = { id: 'H9', at: [250, 20] as [number, number], part: 'led-3-green', claims: 'supply' as const };
  return { ...base, lamps: [...(base.lamps ?? []), lamp], ...more };
}

function amps(derived: Derived, faults: readonly string[] = [], levers = {}): number {
  const broken = faults.map((code) => {
    const fault = faultByCode(derived.wiring, code);
    if (fault === null) throw new RangeError(`no fault ${code}`);
    return fault;
  });
  return derived.operate(levers, broken).lamps.find(({ id }) => id === 'H9')?.amps ?? Number.NaN;
}

describe('[LA41] a lamp that shows its supply', () => {
  const derived = derive(panel());

  it('carries what its resistor lets through, however the levers lie', () => {
    const [group] = derived.groups.filter(({ normal }) => normal.includes('H9'));
    expect(group?.ohms).toBe(5600);
    for (const position of ['normal', 'reverse'] as const)
      expect(amps(derived, [], { L1: position })).toBeCloseTo((12 - 1.9) / 5600, 4);
    expect(derived.findings().filter(({ severity }) => severity === 'wrong' || severity === 'danger')).toEqual([]);
  });

  it('is dark where the supply is off or its fuse blown, and whatever befalls the lever', () => {
    expect(amps(derived, ['off:S1'])).toBe(0);
    expect(amps(derived, ['open:FU-S1'])).toBe(0);
    for (const code of ['open:L1.1', 'open:P1', 'stuck:P1=normal'])
      expect(amps(derived, [code])).toBeCloseTo((12 - 1.9) / 5600, 4);
  });

  it('claims no lie, so the proof leaves it out and no fault of it lies', () => {
    expect(derived.truth().lamps.find(({ id }) => id === 'H9')?.claim).toEqual([]);
    expect([...derived.truth().untruths, ...derived.truth().silent].map(({ lamp }) => lamp)).not.toContain('H9');
    const own = derived.faultTruth().outcomes.filter(({ fault }) => /:(H9|R-H9|R-G\d+)\b/.test(fault));
    expect(own.some(({ fault }) => fault === 'open:H9')).toBe(true);
    for (const { fault } of derived.faultTruth().wrongSide) expect(fault).not.toMatch(/:H9$/);
    expect(derived.faultTruth().wrongSide.map(({ lamp }) => lamp)).not.toContain('H9');
  });

  it.each(['reversing', 'split'] as const)('leaves single faults over a %s feed as brute force finds them', (feed) => {
    const { plan, switches, lamps, wiring } = derive(panel(feed));
    const faults = faultsOf(wiring);
    const proved = new Map(
      proveFaults({ plan, switches, lamps, wiring }).outcomes.map(({ fault, class: found }) => [fault, found]),
    );
    const tried = everyFault(wiring, lamps, faults);
    expect(Object.fromEntries(faults.map(({ code }) => [code, proved.get(code)]))).toEqual(Object.fromEntries(tried));
  });

  it('is tried at the bench and stands in the lists', () => {
    expect(JSON.stringify(derived.tests())).toContain('"H9"');
    expect(derived.wiring.circuits.map(({ id }) => id)).toEqual(['L1', 'TR1']);
  });

  it('of an alternating supply hangs behind the diode, and its resistor is sized for the crest', () => {
    // 9 V effective: 12.73 V at the crest, less 0.8 V; 10.03 V over 2 mA is 5.01 kohm.
    const halved = derive(panel('half-wave'));
    const [group] = halved.groups.filter(({ normal }) => normal.includes('H9'));
    expect(group?.ohms).toBe(5600);
    expect(amps(halved)).toBeGreaterThan(0.0017);
    expect(amps(halved)).toBeLessThan(0.002);
  });

  it('of a capacitor unit shows what charges it', () => {
    const unit = derive(panel('unit'));
    expect(unit.wiring.circuits.find(({ id }) => id === 'TR1')?.supplies).toEqual(['S1']);
  });

  it('of a supply that is not there is dark, and that is found', () => {
    const two = derive(panel('reversing', { lighting: { scheme: 'across-feed', supply: 'S7' } }));
    expect(two.wiring.problems.map(({ code }) => code)).toContain('supply-unknown');
    expect(amps(two)).toBe(0);
  });
});
