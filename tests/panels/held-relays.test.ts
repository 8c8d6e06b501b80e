/**
 * Relays that do not latch: one coil across a feed that turns over, behind a diode, so that it pulls where its point is asked to reverse
 * and falls back where it is asked to normal. Figures of the file format: 12 V, 400 ohm; a steering diode has 0.7 V at 10 mA.
 */
import { describe, expect, it } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { type Derived, derive } from '../../src/derive.ts';
import { applyTransaction, type PanelFile } from '../../src/panel/index.ts';
import { proveFaults } from '../../src/truth/index.ts';
import { faultByCode, faultsOf } from '../../src/wiring/index.ts';
import { everyFault } from '../oracle/every-fault.ts';

type Feed = Parameters<typeof combine>[0]['feed'];

const K1 = [{ id: 'K1', part: 'relay-2p', follows: 'P1' }];
const panel = (feed: Feed, more: Partial<PanelFile> = {}): PanelFile => ({
  ...combine({ drive: 'stall-2-wire', feed, scheme: 'latching-relay' }),
  relays: K1,
  ...more,
});

/** Which lamps are lit. */
function lit(derived: Derived, lever: 'normal' | 'reverse', code?: string): readonly string[] {
  const fault = code === undefined ? null : faultByCode(derived.wiring, code);
  if (code !== undefined && fault === null) throw new RangeError(`no fault ${code}`);
  const { lamps } = derived.operate({ L1: lever }, fault === null ? [] : [fault]);
  return lamps.flatMap(({ id, look }) => (look === 'unlit' ? [] : [id]));
}

/** Amps from the supplies of the feed together. */
function drawn(derived: Derived, lever: 'normal' | 'reverse'): number {
  const { supplies } = derived.operate({ L1: lever });
  return supplies.filter(({ id }) => id !== 'S9').reduce((sum, { amps }) => sum + amps, 0);
}

describe.each(['reversing', 'split'] as const)('[RL1] a relay that follows a %s feed', (feed) => {
  const derived = derive(panel(feed));

  it('lights one lamp or the other, and nothing is wrong', () => {
    expect(lit(derived, 'normal')).toEqual(['N1']);
    expect(lit(derived, 'reverse')).toEqual(['R1']);
    expect(derived.findings().filter(({ severity }) => severity !== 'hint' && severity !== 'caution')).toEqual([]);
    expect(derived.truth().untruths).toEqual([]);
  });

  it('draws its coil where it pulls and nothing where it does not', () => {
    // The stall drive takes 15 mA both ways; the coil (12 - 0.75) / 400 = 28.1 mA.
    expect(drawn(derived, 'reverse') - drawn(derived, 'normal')).toBeCloseTo((12 - 0.75) / 400, 3);
  });

  it('falls back, or stays, as its faults leave it', () => {
    for (const code of ['open:K1', 'open:SD-K1', 'backwards:SD-K1', 'short:FD-K1', 'stuck:K1=reset'])
      expect(lit(derived, 'reverse', code), code).toEqual(['N1']);
    expect(lit(derived, 'normal', 'stuck:K1=set')).toEqual(['R1']);
    expect(lit(derived, 'reverse', 'open:K1.1')).toEqual([]);
    const classes = new Map(derived.faultTruth().outcomes.map((each) => [each.fault, each.class]));
    // A coil that is open lights the lamp of the leg that does not lie; a contact that makes none leaves all dark.
    expect(classes.get('open:K1')).toBe('wrongSide');
    expect(classes.get('open:K1.1')).toBe('rightSide');
  });

  it('asks the other way round where the lever works the other lie', () => {
    const turned = derive(
      panel(feed, { levers: [{ id: 'L1', at: [60, 130], works: [{ point: 'P1', opposite: true }] }] }),
    );
    expect(lit(turned, 'normal')).toEqual(['R1']);
    expect(lit(turned, 'reverse')).toEqual(['N1']);
    // Its coil pulls where its point is asked to reverse, which is now where the lever lies normal.
    expect(drawn(turned, 'normal') - drawn(turned, 'reverse')).toBeCloseTo((12 - 0.75) / 400, 3);
    expect(turned.truth().untruths).toEqual([]);
  });

  it('knows nothing at power-up that the lever does not say', () => {
    expect(derived.powerUp().lies).toEqual([]);
  });
});

describe('[RL1] single faults of it beside brute force', () => {
  it.each(['reversing', 'split'] as const)('over a %s feed', (feed) => {
    const { plan, switches, lamps, wiring } = derive(panel(feed));
    const faults = faultsOf(wiring);
    const proved = new Map(
      proveFaults({ plan, switches, lamps, wiring }).outcomes.map(({ fault, class: found }) => [fault, found]),
    );
    const tried = everyFault(wiring, lamps, faults);
    expect(Object.fromEntries(faults.map(({ code }) => [code, proved.get(code)]))).toEqual(Object.fromEntries(tried));
  });
});

describe('[RL2] where it cannot follow', () => {
  it.each([
    ['a pulse leaves it', panel('unit')],
    ['a charge leaves it', panel('charge')],
    [
      'a middle leaves it',
      panel('reversing', {
        levers: [{ id: 'L1', at: [60, 130], switch: 'toggle-2p-centre-off', works: [{ point: 'P1' }] }],
      }),
    ],
  ])('%s without volts, and that is found', (_, file) => {
    const derived = derive(file);
    const found = derived.findings().filter(({ code }) => code === 'lamp-scheme-unfit');
    expect(found.map(({ where }) => where.ids[0])).toEqual(['N1', 'R1']);
    expect(found[0]?.message).toContain('falls back');
    expect(derived.wiring.relays).toEqual([]);
  });
});

describe('[RL3] as a mend', () => {
  it('repeats a lever whose poles have run out', () => {
    const one = combine({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'spare-pole', switch: 'toggle-2p' });
    const short = derive(one)
      .findings()
      .find(({ code }) => code === 'lamp-contacts-short');
    const mend = short?.mends.find(({ id }) => id === 'repeat-lever');
    if (mend?.edit === undefined || mend.edit === null) throw new RangeError('no relay is offered');
    const mended = derive(applyTransaction(one, mend.edit));
    expect(mended.wiring.relays.map(({ part }) => part.id)).toEqual(['relay-2p']);
    expect(mended.findings().filter(({ severity }) => severity === 'wrong')).toEqual([]);
    expect(lit(mended, 'reverse')).toEqual(['R1']);
  });

  it('a coil for 12 V on 24 V wants a resistor, with its sum', () => {
    // 24 V less 0.75 V: 23.25 V; (23.25 - 12) / 30 mA = 375 ohm, of E12 390; (23.25 / 790)^2 x 390 = 0.34 W, of twice that 1 W.
    const supplies = [
      { id: 'S1', volts: 24, amps: 1 },
      { id: 'S9', volts: 12, amps: 1 },
    ];
    const hot = derive(panel('reversing', { supplies }))
      .findings()
      .find(({ code }) => code === 'relay-volts-high');
    expect(hot?.mends.find(({ id }) => id === 'coil-resistor')?.text).toMatch(/390R.*1\.0+ W.*0\.34\d? W/);
  });
});
