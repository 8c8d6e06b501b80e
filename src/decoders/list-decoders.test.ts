import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkPanel, type PanelFile } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { byId, readPlan } from '../plan/index.ts';
import { listDecoders } from './list-decoders.ts';
import { inHex, readPacket } from './packets.ts';

/** A main line with three roads, P1 to P3. */
const YARD = {
  format: 'mimic-panel',
  version: 1,
  strips: [
    {
      id: 'main',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
    ...[60, 140, 220].map((x, i) => ({
      id: `road-${i + 1}`,
      path: [
        [x, 60],
        [x + 40, 35],
        [x + 60, 35],
      ],
    })),
  ],
};

function panelOf(more: object): PanelFile {
  const read = checkPanel({ ...YARD, ...more });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.panel;
}

function listOf(more: object) {
  const panel = panelOf(more);
  return listDecoders(panel, resolveCatalogue(panel.parts), readPlan(panel));
}

const points = (...drives: readonly string[]) =>
  drives.map((drive, i) => ({ id: `P${i + 1}`, at: [60 + 80 * i, 60], drive }));

describe('decoders of a panel', () => {
  it('[DC7] are records and parts that points name, and records that none names', () => {
    const { decoders } = listOf({
      points: points('D1', 'decoder', 'D2'),
      drives: [
        { id: 'D1', part: 'decoder', address: 9 },
        { id: 'D2', address: 4 },
        { id: 'D3', part: 'decoder', address: 2 },
      ],
    });
    expect(decoders.map(({ id, address, recorded, points: moved }) => [id, address, recorded, moved])).toEqual([
      ['D3', 2, true, []],
      ['D1', 9, true, [{ point: 'P1', whenNormal: 'normal' }]],
      ['P2', null, false, [{ point: 'P2', whenNormal: 'normal' }]],
    ]);
    expect(decoders.map(({ at }) => at)).toEqual([null, [60, 60], [140, 60]]);
  });

  it('[DC7] [DC8] two points on one record are one decoder; one of them may lie the other way', () => {
    const [first, second] = points('D1', 'D1');
    const { decoders, shared } = listOf({
      points: [first, { ...second, sense: 'opposite' }],
      drives: [{ id: 'D1', part: 'decoder', address: 5 }],
    });
    expect(decoders.map((each) => each.points)).toEqual([
      [
        { point: 'P1', whenNormal: 'normal' },
        { point: 'P2', whenNormal: 'reverse' },
      ],
    ]);
    expect(shared).toEqual([]);
  });

  it('[DC8] normal is member 1, or what the record says (by default from memory)', () => {
    const { decoders } = listOf({
      points: points('D1', 'D2'),
      drives: [
        { id: 'D1', part: 'decoder', address: 1 },
        { id: 'D2', part: 'decoder', address: 6, member: 0 },
      ],
    });
    const said = decoders.map(({ packets }) =>
      [packets?.normal, packets?.reverse].map((packet) => readPacket(packet ?? [])),
    );
    const basic = (board: number, pair: number, member: number) => ({
      ok: true,
      command: { kind: 'basic', board, pair, member, on: true },
    });
    expect(said).toEqual([
      [basic(1, 0, 1), basic(1, 0, 0)],
      [basic(2, 1, 0), basic(2, 1, 1)],
    ]);
    // 10000001 11111001: board 1, C, pair 0, member 1; 81 xor F9 is 78 (S-9.2.1, by hand).
    expect(inHex(decoders[0]?.packets?.normal ?? [])).toBe('81 F9 78');
  });

  it('[DC1] [DC2] the numbering of the file moves every pair by four; the broadcast and what lies beyond have no packets', () => {
    const drives = [1, 2040, 2041, 2044, 2045, 2049, 0, -1].map((address, i) => ({
      id: `D${i + 1}`,
      part: 'decoder',
      address,
    }));
    const kinds = (more: object) =>
      listOf({ drives, ...more }).decoders.map(({ address, read, packets }) => {
        expect(packets === null).toBe(read?.kind !== 'pair');
        return [address, read?.kind === 'pair' ? `${read.place.board}/${read.place.pair}` : read?.kind];
      });
    expect(kinds({})).toEqual([
      [-1, 'out-of-range'],
      [0, 'out-of-range'],
      [1, '1/0'],
      [2040, '510/3'],
      [2041, 'broadcast'],
      [2044, 'broadcast'],
      [2045, 'out-of-range'],
      [2049, 'out-of-range'],
    ]);
    expect(kinds({ track: { numbering: 'board-0' } })).toEqual([
      [-1, 'out-of-range'],
      [0, 'out-of-range'],
      [1, '0/0'],
      [2040, '509/3'],
      [2041, '510/0'],
      [2044, '510/3'],
      [2045, 'broadcast'],
      [2049, 'out-of-range'],
    ]);
    expect(listOf({}).numberingSaid).toBe(false);
    expect(listOf({ track: { numbering: 'board-1' } }).numberingSaid).toBe(true);
  });

  it('[DC9] decoders of one address throw at once; a reading wins over the part', () => {
    const { shared, draw } = listOf({
      drives: [
        { id: 'D1', part: 'decoder', address: 7 },
        { id: 'D2', part: 'decoder', address: 7, measured: { amps: 0.35 } },
        { id: 'D3', part: 'decoder' },
      ],
    });
    expect(shared).toEqual([{ address: 7, ids: ['D1', 'D2'] }]);
    expect(draw.oneOf).toEqual(['D1', 'D2']);
    // 0.2 A each while it throws: typical of the kind, from memory.
    expect(draw.one).toBeCloseTo(0.55, 9);
    expect(draw.all).toBeCloseTo(0.75, 9);
  });

  it('[DC10] what trips: boosters together, or the bus that accessories have alone', () => {
    const trips = (track: object) => {
      const { draw, ownBus } = listOf({ track });
      return [draw.trip, draw.tripAll, ownBus];
    };
    const boosters = [
      { id: 'Z1', tripAmps: 3 },
      { id: 'Z2', tripAmps: 2 },
    ];
    expect(trips({})).toEqual([null, null, false]);
    expect(trips({ boosters: [] })).toEqual([null, null, false]);
    expect(trips({ boosters })).toEqual([3, 5, false]);
    expect(trips({ boosters: [...boosters, { id: 'Z3' }] })).toEqual([null, null, false]);
    expect(trips({ boosters, accessoryBus: {} })).toEqual([null, null, true]);
    expect(trips({ boosters, accessoryBus: { tripAmps: 1 } })).toEqual([1, 1, true]);
  });

  it('tells addresses of drives that are none', () => {
    const { idle } = listOf({
      drives: [
        { id: 'D2', address: 3 },
        { id: 'D1', part: 'servo-board', address: 4 },
        { id: 'D3', part: 'decoder', address: 5 },
        { id: 'D4', part: 'nothing-known', address: 6 },
      ],
    });
    expect(idle).toEqual([
      { id: 'D2', address: 3, part: 'stall-2-wire' },
      { id: 'D1', address: 4, part: 'servo-board' },
    ]);
  });

  it('[DC11] any drives are listed, the same twice, by address and id (seed 2921)', () => {
    const drive = fc.record(
      {
        part: fc.constantFrom('decoder', 'stall-2-wire', 'own', 'nothing'),
        address: fc.oneof(fc.integer(), fc.integer({ min: -2, max: 12 })),
        member: fc.constantFrom(0, 1),
      },
      { requiredKeys: [] },
    );
    const given = fc.record({
      drives: fc.array(drive, { maxLength: 8 }),
      named: fc.array(fc.constantFrom('D1', 'D2', 'D9', 'decoder', 'own', 'P1'), { minLength: 3, maxLength: 3 }),
    });
    fc.assert(
      fc.property(given, ({ drives, named }) => {
        const file = {
          parts: [{ id: 'own', like: 'decoder', runAmps: 0.3 }],
          points: points(...named),
          drives: drives.map((each, i) => ({ id: `D${i + 1}`, ...each })),
        };
        const list = listOf(file);
        expect(listOf(file)).toEqual(list);
        const sorted = [...list.decoders].sort(
          (a, b) => (a.address ?? Infinity) - (b.address ?? Infinity) || byId(a.id, b.id),
        );
        expect(list.decoders).toEqual(sorted);
        expect(new Set(list.decoders.map(({ id }) => id)).size).toBe(list.decoders.length);
        const moved = list.decoders.flatMap((each) => each.points.map(({ point }) => point));
        expect(new Set(moved).size).toBe(moved.length);
        expect(list.draw.all).toBeGreaterThanOrEqual(list.draw.one);
      }),
      { seed: 2921, numRuns: 150 },
    );
  });
});
