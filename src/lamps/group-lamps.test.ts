import { describe, expect, it } from 'vitest';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { feedVolts, groupLamps, rectifiedVolts } from './group-lamps.ts';
import { readLamps } from './read-lamps.ts';

type Lie = 'normal' | 'reverse';

/** A passing loop, a lever for each of its two points; lamps by id: N or R of P1, `n` or `r` of P2, then a figure. */
function group(lamps: readonly string[], more: object = {}): ReturnType<typeof groupLamps> {
  const read = checkPanel({
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
      {
        id: 'loop',
        path: [
          [60, 60],
          [100, 85],
          [200, 85],
          [240, 60],
        ],
      },
    ],
    lamps: lamps.map((id) => {
      const lie: Lie = id.toUpperCase().startsWith('N') ? 'normal' : 'reverse';
      return { id, at: [150, 20], part: 'led-3-red', shows: { [/^[NR]/.test(id) ? 'P1' : 'P2']: lie } };
    }),
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const catalogue = resolveCatalogue(read.panel.parts);
  const plan = readPlan(read.panel);
  return groupLamps(read.panel, catalogue, plan, readLamps(read.panel, catalogue, plan).lamps);
}

const told = ({ groups }: ReturnType<typeof groupLamps>) =>
  groups.map((each) => `${each.id} ${each.circuit} ${each.arrange} ${each.guard}: ${each.normal} / ${each.reverse}`);

describe('groupLamps', () => {
  it('[LA12] pairs lamps of opposite lies in the order of the file; what is left stands alone behind a guard', () => {
    expect(told(group(['R1', 'N1', 'N2', 'N3', 'R2']))).toEqual([
      'G1 L1 pair none: N1 / R1',
      'G2 L1 pair none: N2 / R2',
      'G3 L1 own antiparallel: N3 / ',
    ]);
    expect(told(group(['R1']))).toEqual(['G1 L1 own antiparallel:  / R1']);
    expect(told(group([]))).toEqual([]);
  });

  it('[LA13] numbers its groups by lever, then lie, past every number that the file uses, has retired or has built', () => {
    const more = {
      retired: ['G2'],
      places: [{ id: 'g3', at: [0, 60] }],
      lampGroups: [{ id: 'G4', lamps: ['r8'] }],
      built: { groups: { G5: { lamps: ['gone'] } } },
    };
    expect(told(group(['r7', 'R1', 'N1', 'N2', 'r8'], more))).toEqual([
      'G1 L1 pair none: N1 / R1',
      'G6 L1 own antiparallel: N2 / ',
      'G4 L2 pair none:  / r8',
      'G7 L2 own antiparallel:  / r7',
    ]);
  });

  it('[LA14] keeps a group of the file as it is: lamps, arrangement, guard, ohms', () => {
    const { groups, problems } = group(['N1', 'N2', 'R1'], {
      lampGroups: [{ id: 'G9', lamps: ['R1', 'N2', 'N1'], arrange: 'series', guard: 'antiparallel', ohms: 1234 }],
    });
    expect(groups).toMatchObject([
      {
        id: 'G9',
        arrange: 'series',
        guard: 'antiparallel',
        normal: ['N2', 'N1'],
        reverse: ['R1'],
        ohms: 1234,
        ohmsFrom: 'file',
      },
    ]);
    expect(problems).toEqual([]);
  });

  it('[LA15] reports a lamp that is not there, one in two groups (the first has it), and more than one a side in a pair', () => {
    const { groups, problems } = group(['N1', 'N2', 'R1'], {
      lampGroups: [
        { id: 'G1', lamps: ['N1', 'N2', 'R1', 'H99'] },
        { id: 'G2', lamps: ['N1'] },
      ],
    });
    expect(problems).toEqual([
      { code: 'group-lamp-unknown', group: 'G1', lamp: 'H99' },
      { code: 'group-not-a-pair', group: 'G1', normal: 2, reverse: 1 },
      { code: 'group-lamp-twice', lamp: 'N1', groups: ['G1', 'G2'] },
    ]);
    expect(groups.map((each) => each.id)).toEqual(['G1']);
  });

  it('[LA16] a group of two levers keeps the lamps of the first; the others are grouped anew', () => {
    const { groups, problems } = group(['N1', 'r1'], { lampGroups: [{ id: 'G1', lamps: ['r1', 'N1'] }] });
    expect(problems).toEqual([{ code: 'group-two-levers', group: 'G1', levers: ['L1', 'L2'] }]);
    expect(groups.map((each) => [each.id, each.circuit, each.normal, each.reverse])).toEqual([
      ['G2', 'L1', ['N1'], []],
      ['G1', 'L2', [], ['r1']],
    ]);
  });

  it('[LA17] what is built stays: a group that the tool made keeps lamps, number and ohms when a lamp is added', () => {
    const built = {
      groups: {
        G1: { lamps: ['N2', 'R1'], ohms: 4700 },
        G2: { lamps: ['N1'], ohms: 3300 },
      },
    };
    // By the order of the file alone N1 would take R1 for its partner.
    const { groups } = group(['N1', 'N2', 'R1', 'R2'], { built });
    expect(groups.map((each) => [each.id, each.normal, each.reverse, each.ohms, each.ohmsFrom, each.guard])).toEqual([
      ['G1', ['N2'], ['R1'], 4700, 'built', 'none'],
      ['G2', ['N1'], [], 3300, 'built', 'antiparallel'],
      // (9 - 1.8) / 2 mA = 3600, the next of E12 3900.
      ['G3', [], ['R2'], 3900, 'computed', 'antiparallel'],
    ]);
  });

  it('[LA18] sizes one resistor: a string for the sum of its volts, lamps side by side for the sum of their amps', () => {
    const ohms = (lamps: string[], arrange: string, more: object = {}) =>
      group(lamps, { lampGroups: [{ id: 'G1', lamps, arrange }], ...more }).groups[0]?.ohms;
    // Red: 1.80 V at 2 mA. 9 V: (9 - 1.8) / 2 mA = 3600 -> 3900 of E12.
    expect(ohms(['N1', 'R1'], 'pair')).toBe(3900);
    // (9 - 3 x 1.8) / 2 mA = 1800: a value of E12.
    expect(ohms(['N1', 'N2', 'N3'], 'series')).toBe(1800);
    // (9 - 1.8) / (3 x 2 mA) = 1200: a value of E12.
    expect(ohms(['N1', 'N2', 'N3'], 'parallel')).toBe(1200);
    // The side that wants more ohms is the one that counts: one against two side by side.
    expect(ohms(['N1', 'R1', 'R2'], 'parallel')).toBe(3900);
    // (12 - 1.8) / 2 mA = 5100 -> 5600.
    expect(ohms(['N1'], 'own', { supplies: [{ id: 'S1', volts: 12 }] })).toBe(5600);
  });

  it("[LA19] goes by the supply of the lever's own feed; without any supply by the default 9 V", () => {
    const supplies = [
      { id: 'S1', volts: 9 },
      { id: 'S2', volts: 12 },
    ];
    const levers = [
      { id: 'L1', works: [{ point: 'P1' }], feed: { supplies: ['S2'] } },
      { id: 'L2', works: [{ point: 'P2' }] },
    ];
    expect(group(['N1', 'n7'], { supplies, levers }).groups.map((each) => each.ohms)).toEqual([5600, 3900]);
    expect(group(['N1'], { supplies: [] }).groups.map((each) => each.ohms)).toEqual([3900]);
  });
});

describe('groups of lamps that are not across a feed', () => {
  it('[LA29] in series with a drive there is no resistor, unless the file gives one', () => {
    const series = { lighting: { scheme: 'in-series' } };
    expect(group(['N1', 'R1'], series).groups).toMatchObject([
      { id: 'G1', scheme: 'in-series', arrange: 'pair', ohms: 0 },
    ]);
    const given = { ...series, lampGroups: [{ id: 'G1', lamps: ['N1', 'R1'], ohms: 47 }] };
    expect(group(['N1', 'R1'], given).groups).toMatchObject([{ ohms: 47, ohmsFrom: 'file' }]);
    // A lamp without a partner would see the whole feed the wrong way round.
    expect(group(['N1'], series).groups).toMatchObject([{ arrange: 'own', guard: 'antiparallel', ohms: 0 }]);
  });

  it('[LA30] the two throws of one contact share a resistor at the far end, and need no guard', () => {
    const contact = { lighting: { scheme: 'drive-contact' } };
    expect(group(['N1', 'R1', 'N2'], contact).groups).toMatchObject([
      {
        id: 'G1',
        arrange: 'pair',
        guard: 'none',
        nodes: { normal: 'plus/P1=normal', reverse: 'plus/P1=reverse', far: 'minus' },
      },
      { id: 'G2', arrange: 'own', guard: 'none', normal: ['N2'], nodes: { normal: 'plus/P1=normal', reverse: null } },
    ]);
    // (9 - 1.8) / 2 mA = 3600 -> 3900 of E12, one lamp at a time.
    expect(group(['N1', 'R1'], contact).groups[0]?.ohms).toBe(3900);
  });

  it('[LA30] lamps on the throws of two contacts do not share', () => {
    const contact = { lighting: { scheme: 'drive-contact' }, lampGroups: [{ id: 'G1', lamps: ['N1', 'r1'] }] };
    const { groups, problems } = group(['N1', 'r1'], contact);
    expect(problems.map(({ code }) => code)).toEqual(['group-two-levers']);
    expect(groups.map(({ normal, reverse }) => [normal, reverse])).toEqual([
      [['N1'], []],
      [[], ['r1']],
    ]);
  });

  it('[LA31] a split feed is sized for the higher of its two supplies', () => {
    const split = {
      feed: { kind: 'split', supplies: ['S1', 'S2'] },
      supplies: [
        { id: 'S1', volts: 9 },
        { id: 'S2', volts: 12 },
      ],
    };
    // (12 - 1.8) / 2 mA = 5100 -> 5600 of E12.
    expect(group(['N1', 'R1'], split).groups[0]?.ohms).toBe(5600);
  });

  it('[LA31] a half-wave feed: 1.4 times less 0.8 V smoothed; 12 V AC on 600 ohm give 5.0 V average (notes of the trade, run in ngspice)', () => {
    const supply = { volts: 12, tolerance: 0.05, voltsOffLoad: null };
    // 1.4 x 12 - 0.8 = 16.0; the root of 2 has 0.17 V more.
    expect(Math.abs(rectifiedVolts({ ...supply, farads: 0.0022 }).nominal - 16)).toBeLessThan(0.2);
    expect(rectifiedVolts({ ...supply, farads: null }).nominal).toBeCloseTo(5, 1);
    const half = { feed: { kind: 'half-wave' }, supplies: [{ id: 'S1', kind: 'ac', volts: 9, farads: 0.0022 }] };
    // 1.4142 x 9 - 0.8 = 11.93; (11.93 - 1.8) / 2 mA = 5064 -> 5600 of E12.
    expect(group(['N1', 'R1'], half).groups[0]?.ohms).toBe(5600);
  });
});

describe('feedVolts', () => {
  it('[LA20] the upper edge is the greater of volts with tolerance and volts off load', () => {
    // 12 V, 5 %: 11.4 to 12.6; 16.5 V off load is more than that, 12.2 less.
    const edges = (voltsOffLoad: number | null) => feedVolts({ volts: 12, tolerance: 0.05, voltsOffLoad });
    expect(edges(null).low).toBeCloseTo(11.4, 12);
    expect(edges(null).high).toBeCloseTo(12.6, 12);
    expect(edges(16.5).high).toBe(16.5);
    expect(edges(12.2).high).toBeCloseTo(12.6, 12);
  });
});
