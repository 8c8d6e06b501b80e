/** Bench tests of every combination of drive, feed and lighting: what wires up without a wrong finding has tests that can be done. */
import { describe, expect, it } from 'vitest';
import { type Combination, combine, DRIVES, FEEDS, SCHEMES } from '../../src/cli/combine.ts';
import { type Derived, derive } from '../../src/derive.ts';

const sound = (derived: Derived): boolean =>
  derived.findings().every(({ severity }) => severity !== 'danger' && severity !== 'wrong');

/** What a meter may be held to: rails, fuses, pins, tags, leads and the words round them. */
function checkTests(name: string, derived: Derived): void {
  const tests = derived.tests();
  const ids = tests.map(({ id }) => id);
  expect(new Set(ids).size, name).toBe(ids.length);
  expect(
    tests.map(({ stage }) => stage),
    name,
  ).toEqual(tests.map(({ stage }) => stage).sort((a, b) => a - b));
  const words = JSON.stringify(tests);
  for (const odd of ['undefined', 'NaN', 'null to', ' to null', 'Infinity', '[object'])
    expect(words, name).not.toContain(odd);
  for (const test of tests) {
    const of = `${name}: ${test.id}`;
    if (test.stage >= 1 && test.stage <= 5) expect(test.expect.length, of).toBeGreaterThan(0);
    for (const text of [test.do, test.tells, test.cannotTell]) expect(text.length, of).toBeGreaterThan(20);
    for (const each of test.expect) {
      if (!('quantity' in each)) continue;
      // No band that takes every reading, and none that is empty.
      expect(Number.isFinite(each.low), of).toBe(true);
      if (each.high === null) expect(each.low, of).toBeGreaterThan(0);
      else expect(each.low, of).toBeLessThan(each.high);
    }
  }
  // Every point that something moves through the plug, and every contact that the plug carries, is tested in both lies.
  const fed = derived.wiring.drives.filter(({ feed }) => feed !== null);
  for (const { points } of fed)
    for (const point of points)
      for (const lie of ['normal', 'reverse']) expect(ids, name).toContain(`bench:${point}:${lie}`);
  for (const { id, carrier } of derived.wiring.contacts)
    if (carrier.kind === 'drive' || carrier.kind === 'blades') expect(ids, name).toContain(`cold:${id}`);
  // The switch of another panel is tested from our connector in each position, and stood in for by links while our panel is alone.
  for (const { id, twinOf } of derived.wiring.switches) {
    if (twinOf === undefined) continue;
    for (const lie of ['normal', 'reverse']) expect(ids, name).toContain(`bench:${id}:${lie}`);
    const linked = tests.filter(
      ({ stage, do: words }) => stage === 3 && words.includes('of the other panel, reverse, join'),
    );
    expect(linked.length, name).toBeGreaterThan(0);
  }
  // Every lamp that is wired is seen lit and dark in stage 3.
  for (const { id } of derived.wiring.lamps)
    for (const look of ['lit', 'unlit'])
      expect(
        tests.some(
          ({ stage, expect: wanted }) =>
            stage === 3 && wanted.some((each) => 'lamp' in each && each.lamp === id && each.look === look),
        ),
        `${name}: ${id} ${look}`,
      ).toBe(true);
  // The nominal reading of each supply lies in the band that is expected of it.
  const start = derived.operate({});
  for (const supply of derived.wiring.supplies) {
    const test = tests.find(({ id }) => id === `both:${supply.id}`);
    const amps = start.supplies.find(({ id }) => id === supply.id)?.amps ?? 0;
    for (const each of test?.expect ?? [])
      if ('quantity' in each && each.quantity === 'amps' && each.high !== null) {
        expect(amps, `${name}: ${supply.id}`).toBeGreaterThanOrEqual(each.low);
        expect(amps, `${name}: ${supply.id}`).toBeLessThanOrEqual(each.high);
      }
  }
}

describe('bench tests of every combination', () => {
  it.each(FEEDS)('[PV12] %s feed: every drive and scheme that wires up', (feed) => {
    const tried: Combination[] = DRIVES.flatMap((drive) =>
      SCHEMES.flatMap((scheme) =>
        [{}, { switch: 'buttons' }, { switch: 'toggle-4p-centre-off' }, { twin: 'two-way' }, { twin: 'latch' }].map(
          (more) => ({ drive, feed, scheme, ...(more as Partial<Combination>) }),
        ),
      ),
    );
    let count = 0;
    for (const asked of tried) {
      const derived = derive(combine(asked));
      if (!sound(derived)) continue;
      count += 1;
      checkTests(JSON.stringify(asked), derived);
    }
    expect(count).toBeGreaterThan(0);
  });

  it('[PV12] tests of unsound panels are written all the same', () => {
    for (const feed of FEEDS)
      for (const drive of DRIVES)
        expect(derive(combine({ feed, drive, scheme: 'across-feed' })).tests().length).toBeGreaterThan(0);
  });

  it('[PV12] two-colour lamps, strings and pairs of every feed that lights them', () => {
    for (const lamp of ['led-5-red-green-2', 'led-5-red-green-3c', 'led-3-amber'])
      for (const scheme of ['across-feed', 'drive-contact', 'in-series'] as const)
        for (const arrange of ['pair', 'own', 'series', 'parallel'] as const) {
          const asked = {
            drive: 'stall-2-wire',
            feed: 'reversing',
            scheme,
            lamp,
            arrange,
            lamps: arrange === 'pair' ? 1 : 2,
          } as const;
          const derived = derive(combine(asked));
          if (sound(derived)) checkTests(JSON.stringify(asked), derived);
        }
  });
});
