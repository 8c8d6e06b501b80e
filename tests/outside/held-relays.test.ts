/**
 * Relays that follow a feed which turns over: one coil behind a diode, whose contacts light lamps. Every fault in every setting through
 * ngspice beside the product's readings. Outside source: ngspice.
 */
import { expect, test } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { derive } from '../../src/index.ts';
import { faultsOf } from '../../src/wiring/index.ts';
import { type Asked, compareAll, disagreements, settingsOf, worstOf } from './setting-texts.ts';

/** A thousandth, or 1 uA. */
const SHARE = 1e-3;
const LEAST_AMPS = 1e-6;

test('relays that follow a feed: whole and with every single fault', () => {
  const asked = (['reversing', 'split'] as const).flatMap((feed) =>
    ['stall-2-wire', 'limit-2-wire'].flatMap((drive) => {
      const panel = combine({ feed, drive, scheme: 'latching-relay' });
      const derived = derive({ ...panel, relays: [{ id: 'K1', part: 'relay-2p', follows: 'P1' }] });
      const settings = settingsOf(`${feed} ${drive}`, derived);
      expect(derived.wiring.relays).toHaveLength(1);
      const faults = [[], ...faultsOf(derived.wiring).map((fault) => [fault])];
      return settings.flatMap((setting) => faults.map((broken): Asked => ({ ...setting, faults: broken })));
    }),
  );
  const pairs = compareAll(asked);
  console.log(`${asked.length} states: ${worstOf(pairs)}`);
  expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
  expect(asked.length).toBeGreaterThan(700);
  expect(pairs.filter(({ read }) => Math.abs(read) > 1e-3).length).toBeGreaterThan(700);
});
