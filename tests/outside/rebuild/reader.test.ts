/** The second reader against lists written by hand, with answers from closed forms. */
import { describe, expect, test } from 'vitest';
import { readLists, rebuild, resistorsOf } from './circuit.ts';
import { Comparison, comparePins } from './compare.ts';
import { readFacts } from './panel-facts.ts';
import { readClaims } from './read-claims.ts';
import { readStates } from './read-states.ts';
import { readLetterCode, splitTable } from './read-table.ts';

const PANEL = JSON.stringify({
  format: 'mimic-panel',
  version: 1,
  strips: [],
  points: [
    { id: 'P1', at: [0, 0], drive: 'D1' },
    { id: 'P2', at: [9, 0], drive: 'limit-2-wire' },
  ],
  drives: [{ id: 'D1', part: 'stall-2-wire', positive: 'reverse', wire: { length: 4400, gauge: 0.22 } }],
  levers: [{ id: 'L1', at: [0, 0], switch: 'toggle-2p-centre-off', works: [{ point: 'P1' }, { point: 'P2' }] }],
  lamps: [
    { id: 'H1', at: [0, 0], part: 'led-3-green' },
    { id: 'H2', at: [0, 0], part: 'led-3-green' },
  ],
  supplies: [{ id: 'S1', kind: 'dc', volts: 9, amps: 1 }],
});

// By hand: plus to tag 1, minus to tag 4, the outer tags crossed, commons 2 and 5 to pins 1 and 2; drive tag a on pin 2.
const WIRES = `no,from,to,colour,gauge_mm2,length_mm,circuit
W1,S1.p,FU-S1.1,RD,0.5,100,S1
W2,FU-S1.2,L1.t1,RD,0.5,100,S1
W3,S1.m,L1.t4,BK,0.5,100,S1
W4,L1.t1,L1.t6,RD,0.22,60,L1
W5,L1.t3,L1.t4,BK,0.22,60,L1
W6,L1.t2,A.1,BU,0.22,60,L1
W7,L1.t5,A.2,WH,0.22,60,L1
W8,L1.t2,R-G1.1,BU,0.22,60,L1
W9,R-G1.2,H1.a,YE,0.22,60,L1
W10,H1.a,H2.k,YE,0.22,60,L1
W11,H1.k,L1.t5,WH,0.22,60,L1
W12,H2.a,H1.k,WH,0.22,60,L1
W13,A.1,D1.b,BU,0.22,4400,L1
W14,A.2,D1.a,WH,0.22,4400,L1
W15,D1.b,P2.a,BU,0.22,4400,L1
W16,D1.a,P2.b,WH,0.22,4400,L1
`;
const PINS = `connector,pin,net,colour,circuit,setting,volts
A,1,L1.t2,BU,L1,normal,9
A,1,L1.t2,BU,L1,reverse,0
A,1,L1.t2,BU,L1,centre,
A,2,L1.t5,WH,L1,normal,0
A,2,L1.t5,WH,L1,reverse,9
A,2,L1.t5,WH,L1,centre,
`;
const PARTS = `part,count,for,price
resistor 5k6 0.25 W,1,R-G1,0.05
3 mm green lamp,2,H1 H2,0.2
`;
const facts = readFacts(PANEL);
const lists = readLists(WIRES, PINS, PARTS);

/** Amps of a lamp of 1.9 V at 2 mA, n 2, rs 5, behind so many ohms on so many volts: the diode law, halved in until it balances. */
function lampAmps(volts: number, ohms: number): number {
  const vt = (1.380649e-23 * 300.15) / 1.602176634e-19;
  const is = 0.002 / Math.expm1((1.9 - 0.002 * 5) / (2 * vt));
  let [low, high] = [0, volts / ohms];
  for (let k = 0; k < 100; k += 1) {
    const amps = (low + high) / 2;
    if (2 * vt * Math.log1p(amps / is) + amps * (5 + ohms) < volts) low = amps;
    else high = amps;
  }
  return low;
}

describe('reading lists', () => {
  test('fields in quotes hold commas, quotes and line ends (RFC 4180)', () => {
    expect(splitTable('a,"b,""c"""\r\n"d\ne",\r\n')).toEqual([
      ['a', 'b,"c"'],
      ['d\ne', ''],
    ]);
  });

  // Letters in place of the point: IEC 60062, as its clause on letter and digit code for resistance has it.
  test.each([
    ['R47', null],
    ['4R7', 4.7],
    ['470R', 470],
    ['5k6', 5600],
    ['10k', 10_000],
    ['1M', 1e6],
    ['2M2', 2.2e6],
    ['5600', null],
  ])('%s is %d ohm', (code, ohms) => {
    expect(readLetterCode(code)).toBe(ohms);
  });

  test('a resistor without a readable value is refused, and so is one listed twice', () => {
    expect(() => resistorsOf([{ part: 'resistor big', for: 'R-G1' }])).toThrow('letter code');
    expect(() => resistorsOf([{ part: 'resistor 1k', for: 'R-G1 R-G1' }])).toThrow('twice');
  });

  test('columns other than those promised are refused', () => {
    expect(() => readLists(WIRES.replace('gauge_mm2', 'gauge'), PINS, PARTS)).toThrow('columns');
  });
});

describe('rebuilding one lever by hand', () => {
  const states = readStates((['normal', 'reverse', 'centre'] as const).map((L1) => rebuild(lists, facts, { L1 })));
  const [normal, reverse, centre] = states;

  test('the drive takes the feed through two wires, each way', () => {
    // Ohm's law: 800 ohm stalled (12 V at 15 mA) and 0.017241 x 4.4 / 0.22 = 0.34482 ohm each way.
    const amps = 9 / (12 / 0.015 + 2 * 0.34482);
    expect(normal?.drives.get('D1')).toBeCloseTo(-amps, 9);
    expect(reverse?.drives.get('D1')).toBeCloseTo(amps, 9);
    expect(centre?.drives.get('D1')).toBeCloseTo(0, 9);
    expect(normal?.drives.get('P2')).toBe(0);
  });

  test('one lamp of the pair conducts, by the diode law', () => {
    const amps = lampAmps(9, 5600);
    expect(amps).toBeGreaterThan(0.0012);
    expect(normal?.lamps.get('H1')).toBeCloseTo(amps, 8);
    expect(reverse?.lamps.get('H2')).toBeCloseTo(amps, 8);
    for (const amps of [normal?.lamps.get('H2'), reverse?.lamps.get('H1'), centre?.lamps.get('H1')])
      expect(amps).toBeCloseTo(0, 8);
    // Kirchhoff: the supply gives what drive and lamp take.
    expect(normal?.supplies.get('S1')).toBeCloseTo(amps - (normal?.drives.get('D1') ?? 0), 8);
  });

  test('the pins are those of the wires', () => {
    const compared = new Comparison();
    comparePins(
      compared,
      lists,
      facts,
      (_, L1) => states[['normal', 'reverse', 'centre'].indexOf(L1)] ?? expect.fail(),
    );
    expect(compared.disagreements).toEqual([]);
    const wrong = new Comparison();
    const swapped = readLists(WIRES, PINS.replace('A,1,L1.t2,BU,L1,normal,9', 'A,1,L1.t5,RD,L1,normal,0'), PARTS);
    comparePins(wrong, swapped, facts, (_, L1) => states[['normal', 'reverse', 'centre'].indexOf(L1)] ?? expect.fail());
    expect(wrong.disagreements).toHaveLength(3);
  });

  test('a name that means nothing, a lost value and a dead short are said', () => {
    expect(() => rebuild(readLists(WIRES.replace('H2.a', 'H9.a'), PINS, PARTS), facts, {})).toThrow('H9.a');
    expect(() => rebuild(readLists(WIRES, PINS, PARTS.replace('R-G1', 'R-G2')), facts, {})).toThrow('R-G1');
    expect(() => rebuild(readLists(WIRES.replace('W4,L1.t1,L1.t6', 'W4,L1.t1,L1.t4'), PINS, PARTS), facts, {})).toThrow(
      'S1 is shorted',
    );
  });
});

describe('claims off the strips', () => {
  // By eye: a siding leaves to the right and up at x 40, another joins from the left at x 80.
  const strips = [
    {
      id: 'main',
      path: [
        [0, 60],
        [120, 60],
      ],
    },
    {
      id: 'siding',
      path: [
        [40, 60],
        [60, 45],
        [100, 45],
      ],
    },
    {
      id: 'bay',
      path: [
        [20, 85],
        [64, 70],
        [80, 60],
      ],
    },
  ];
  const points = [
    { id: 'P1', at: [40, 60] },
    { id: 'P2', at: [80, 60] },
  ];
  test.each([
    [[20, 60], {}, {}],
    [[50, 60], {}, { P1: 'normal', P2: 'normal' }],
    [[50, 60], { claims: 'leg' }, { P1: 'normal' }],
    [[70, 60], { claims: 'leg' }, { P2: 'normal' }],
    [[100, 60], {}, {}],
    [[90, 45], {}, { P1: 'reverse' }],
    [[64, 70], {}, { P2: 'reverse' }],
  ])('a lamp at %j', (at, more, claim) => {
    const text = JSON.stringify({ strips, points, lamps: [{ id: 'H1', at, ...more }] });
    expect(readClaims(text).get('H1')).toEqual(claim);
  });
});
