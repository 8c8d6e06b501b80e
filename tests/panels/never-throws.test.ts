/** Whatever a valid file holds, everything can be derived from it: no figure within the file's limits breaks a sum. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import { readPanel } from '../../src/panel/index.ts';

const SEED = 20261;
const base = JSON.parse(readFileSync('examples/bramble-siding.mimic.json', 'utf8'));

const figure = fc.oneof(
  fc.constantFrom(1e-12, 1e-6, 0.001, 0.5, 1, 12, 1000, 1e6, 1e9),
  fc.double({ min: 1e-12, max: 1e9, noNaN: true }),
);
const spot = fc.tuple(fc.double({ min: -500, max: 900, noNaN: true }), fc.double({ min: -500, max: 900, noNaN: true }));
const id = fc.constantFrom(
  'P1',
  'P2',
  'P3',
  'L1',
  'L2',
  'H1',
  'D1',
  'S1',
  'A',
  'G1',
  'constructor',
  'toString',
  'nothing',
);
const partId = fc.constantFrom(
  'led-3-amber',
  'led-5-blue',
  'stall-2-wire',
  'limit-2-wire',
  'twin-coil',
  'toggle-1p',
  'toggle-2p-centre-off',
  'toggle-2p-sprung',
  'dsub-9',
  'din-5',
  'constructor',
);

const change = fc.oneof(
  fc.record({ list: fc.constant('lamps'), key: fc.constantFrom('current'), value: figure }),
  fc.record({ list: fc.constant('lamps'), key: fc.constant('at'), value: spot }),
  fc.record({ list: fc.constant('lamps'), key: fc.constant('part'), value: partId }),
  fc.record({
    list: fc.constant('lamps'),
    key: fc.constant('shows'),
    value: fc.dictionary(id, fc.constantFrom('normal', 'reverse'), { maxKeys: 3 }),
  }),
  fc.record({ list: fc.constant('levers'), key: fc.constant('switch'), value: partId }),
  fc.record({
    list: fc.constant('levers'),
    key: fc.constant('works'),
    value: fc.array(fc.record({ point: id, opposite: fc.boolean() }), { maxLength: 3 }),
  }),
  fc.record({ list: fc.constant('drives'), key: fc.constant('part'), value: partId }),
  fc.record({
    list: fc.constant('drives'),
    key: fc.constant('measured'),
    value: fc.record({ amps: fc.oneof(fc.constant(0), figure), volts: fc.oneof(fc.constant(0), figure) }),
  }),
  fc.record({
    list: fc.constant('drives'),
    key: fc.constant('wire'),
    value: fc.record({ length: figure, gauge: figure }),
  }),
  fc.record({
    list: fc.constant('supplies'),
    key: fc.constantFrom('volts', 'voltsOffLoad', 'amps', 'ohms', 'tolerance'),
    value: figure,
  }),
  fc.record({
    list: fc.constant('supplies'),
    key: fc.constant('fuse'),
    value: fc.oneof(fc.constant(null), fc.record({ amps: figure })),
  }),
  fc.record({ list: fc.constant('connectors'), key: fc.constantFrom('part'), value: partId }),
  fc.record({
    list: fc.constant('connectors'),
    key: fc.constant('pins'),
    value: fc.dictionary(fc.constantFrom('1', '2', '9', '40', 'x'), fc.constantFrom('D1.a', 'D2.b', 'nothing'), {
      maxKeys: 3,
    }),
  }),
  fc.record({
    list: fc.constant('strips'),
    key: fc.constant('path'),
    value: fc.array(spot, { minLength: 1, maxLength: 5 }),
  }),
  fc.record({
    list: fc.constant('points'),
    key: fc.constant('normal'),
    value: fc.constantFrom('left', 'right', 'main', 'nothing'),
  }),
);

const groups = fc.array(
  fc.record({
    lamps: fc.uniqueArray(fc.constantFrom('H1', 'H2', 'H5', 'H6', 'H9', 'H11', 'H99'), { minLength: 1, maxLength: 5 }),
    arrange: fc.constantFrom('pair', 'own', 'series', 'parallel'),
    guard: fc.constantFrom('none', 'antiparallel'),
    ohms: figure,
  }),
  { maxLength: 2 },
);
const parts = fc.array(
  fc.record(
    {
      id: fc.oneof(partId, fc.constant('mine')),
      like: partId,
      vf: figure,
      rs: figure,
      stallAmps: figure,
      hole: figure,
    },
    { requiredKeys: ['id'] },
  ),
  { maxLength: 2 },
);

describe('derive', () => {
  it(`never throws on a file that reads, and every figure of every finding can be printed (seed ${SEED})`, () => {
    let derived = 0;
    fc.assert(
      fc.property(fc.array(change, { maxLength: 4 }), fc.nat(20), groups, parts, (changes, where, lampGroups, own) => {
        const file = structuredClone(base);
        for (const { list, key, value } of changes) {
          const records = file[list];
          records[where % records.length][key] = value;
        }
        file.lampGroups = lampGroups.map((group, i) => ({ id: `G${i + 1}`, ...group }));
        const seen = new Set<string>();
        file.parts = own.filter((part) => !seen.has(part.id) && seen.add(part.id));
        const read = readPanel(JSON.stringify(file));
        if (!read.ok) return;
        derived += 1;
        const all = derive(read.panel);
        for (const finding of all.findings()) {
          expect(finding.message, finding.code).not.toMatch(/NaN|undefined|Infinity/);
          for (const value of Object.values(finding.values))
            expect(typeof value === 'string' || Number.isFinite(value), finding.code).toBe(true);
        }
        for (const lamp of all.operate({ L1: 'reverse' }).lamps)
          expect(Number.isFinite(lamp.amps + lamp.low + lamp.high)).toBe(true);
        expect(all.tests().length).toBeGreaterThan(0);
      }),
      { seed: SEED, numRuns: 200 },
    );
    // Files that do not read prove nothing.
    expect(derived).toBeGreaterThan(100);
  }, 60_000);
});
