/**
 * Relays that follow a feed which turns over, one coil behind a diode, whose contacts light lamps; and lamps across their supply. Every
 * fault in every setting through ngspice beside the product's readings. Outside source: ngspice.
 */
import { expect, test } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { derive } from '../../src/index.ts';
import { faultsOf } from '../../src/wiring/index.ts';
import { type Asked, compareAll, disagreements, settingsOf, worstOf } from './setting-texts.ts';

/** A thousandth, or 1 uA. */
const SHARE = 1e-3;
const LEAST_AMPS = 1e-6;

test('lamps that show their supply: whole and with every single fault', () => {
  const asked = (['reversing', 'split', 'unit', 'contact'] as const).flatMap((feed) => {
    const drive = { reversing: 'stall-2-wire', split: 'limit-2-wire', unit: 'twin-coil', contact: 'servo-board' }[feed];
    const panel = combine({ feed, drive, scheme: 'across-feed' });
    const lamp = { id: 'H9', at: [250, 20] as [number, number], claims: 'supply' as const };
    const derived = derive({ ...panel, lamps: [...(panel.lamps ?? []), lamp] });
    const faults = [[], ...faultsOf(derived.wiring).map((fault) => [fault])];
    return settingsOf(feed, derived).flatMap((setting) =>
      faults.map((broken): Asked => ({ ...setting, faults: broken })),
    );
  });
  const pairs = compareAll(asked);
  console.log(`${asked.length} states: ${worstOf(pairs)}`);
  expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
  const steady = pairs.filter(({ what, read }) => what.endsWith(': H9') && Math.abs(read) > 1e-3);
  expect(steady.length).toBeGreaterThan(asked.length / 2);
});

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
