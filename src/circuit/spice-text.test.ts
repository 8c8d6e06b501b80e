import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { netlistOf } from './notation.ts';
import { randomNetwork } from './random-network.ts';
import { solveDc } from './solve-dc.ts';
import { spiceText } from './spice-text.ts';
import type { Netlist } from './types.ts';

const lines = (netlist: Netlist): string[] => spiceText(netlist, { title: 'Bramble Siding' }).split('\n');
const cards = (netlist: Netlist): string[] => lines(netlist).filter((line) => !line.startsWith('*') && line !== '');

/** The network with a probe on one element. */
function probed(netlist: Netlist, id: string, name: string, sign: 1 | -1 = 1): Netlist {
  return { ...netlist, elements: netlist.elements.map((e) => (e.id === id ? { ...e, probe: { name, sign } } : e)) };
}

describe('spiceText', () => {
  test('[CI20] [CI22] [CI23] [CI29] a lever with one lamp reads as expected', () => {
    const netlist = netlistOf(
      'S1 S1.p S1.m 9V/0.5; W1 S1.p L4.t1; C1 L4.t1 L4.t2 on; C2 L4.t1 L4.t3 off; R-G1 L4.t2 H1.a 680; D1 H1.a S1.m 1.9e-18,2,5',
      'S1.m',
    );
    const elements = probed(netlist, 'D1', 'H1').elements.map((e) =>
      e.id === 'D1' ? { ...e, says: 'lamp H1, amber' } : e,
    );
    expect(spiceText({ ...netlist, elements }, { title: 'Bramble Siding', comments: ['lever L4 normal'] })).toBe(
      [
        '* Bramble Siding',
        '* lever L4 normal',
        '* node 0 is S1.m',
        '* node H1_a is H1.a',
        '* node L4_t1 is L4.t1, L4.t2, S1.p',
        '* node L4_t3 is L4.t3',
        '* S1: source, S1.p to S1.m',
        'VS_S1 S1_emf 0 DC 9',
        'RS_S1 L4_t1 S1_emf 0.5',
        '* W1: wire, S1.p to L4.t1 (0 ohm)',
        '* C1: contact, L4.t1 to L4.t2 (0 ohm)',
        '* C2: contact, L4.t1 to L4.t3 (open)',
        '* R-G1: resistor, L4.t2 to H1.a',
        'R_R_G1 L4_t1 H1_a 680',
        '* D1: lamp H1, amber',
        'V_H1 H1_a D1_x DC 0',
        'D_D1 D1_x 0 DM1',
        '.model DM1 D(IS=1.9e-18 N=2 RS=5 TNOM=27)',
        '.options temp=27 tnom=27 reltol=1e-5 abstol=1e-12 vntol=1e-8 itl1=500',
        '.op',
        '.end',
        '',
      ].join('\n'),
    );
  });

  test('[CI21] a probe of sign -1 is turned round', () => {
    const netlist = probed(netlistOf('S1 p m 9V; R1 p m 680', 'm'), 'R1', 'P4', -1);
    expect(cards(netlist)).toContain('V_P4 R1_x p DC 0');
  });

  test('[CI22] a probed element of 0 ohm is its own source', () => {
    const netlist = probed(netlistOf('S1 p m 9V; R1 p x 680; W1 x m', 'm'), 'W1', 'H1');
    expect(cards(netlist).filter((card) => card.startsWith('V_'))).toEqual(['V_H1 x 0 DC 0']);
    expect(cards(netlist).some((card) => card.startsWith('RL_'))).toBe(false);
  });

  test('[CI23] one model for each law', () => {
    const netlist = netlistOf('S1 p m 9V/1; D1 p m 1e-18,2,5; D2 p m 1e-18,2,5; D3 m p 3e-9,1.8,0', 'm');
    expect(cards(netlist).filter((card) => card.startsWith('.model'))).toEqual([
      '.model DM1 D(IS=1e-18 N=2 RS=5 TNOM=27)',
      '.model DM2 D(IS=3e-9 N=1.8 RS=0 TNOM=27)',
    ]);
  });

  test('[CI24] a probed open element can still be read', () => {
    const netlist = probed(netlistOf('S1 p m 9V; O1 p m; C1 p m off', 'm'), 'O1', 'P4');
    expect(cards(netlist).slice(1, 3)).toEqual(['V_P4 p O1_x DC 0', 'RO_O1 O1_x 0 1G']);
    expect(cards(netlist).some((card) => card.includes('C1'))).toBe(false);
  });

  test('[CI25] islands without node 0 are tied, the sourced ones at their minus', () => {
    const netlist = netlistOf('S1 p m 9V; R1 p m 10; R2 f g 10; S9 j k 3V; R9 j k 10; C1 u v off', 'm');
    expect(cards(netlist).filter((card) => card.startsWith('RTIE'))).toEqual(['RTIE_1 f 0 1G', 'RTIE_2 k 0 1G']);
  });

  test('a node where capacitors alone meet is tied to node 0; the end of one alone is not', () => {
    const store = (id: string, from: string, to: string) =>
      ({ kind: 'capacitor', id, a: from, b: to, farads: 0.0047, volts: 0 }) as const;
    const resistor = { kind: 'resistor', id: 'R1', a: 'p', b: '0', ohms: 1000 } as const;
    const source = { kind: 'source', id: 'S1', a: 'p', b: '0', volts: 12, ohms: 0 } as const;
    const ties = (elements: Netlist['elements']) =>
      cards({ elements, reference: '0' }).filter((card) => card.startsWith('RTIE'));
    expect(ties([source, resistor, store('C1', 'p', 'mid'), store('C2', 'mid', '0')])).toEqual(['RTIE_1 mid 0 1G']);
    expect(ties([source, resistor, store('C1', 'p', 'end')])).toEqual([]);
  });

  test('[CI26] names that differ by case or by a point alone are told apart, gnd is not ground', () => {
    const netlist = netlistOf('S1 A.1 m 9V; R1 A.1 a-1 10; R2 a-1 A_1 10; R3 A_1 GND 10; R4 GND m 10', 'm');
    const nodes = cards(netlist).filter((card) => card.startsWith('R_'));
    expect(nodes).toEqual(['R_R1 A_1 a_1_3 10', 'R_R2 a_1_3 A_1_2 10', 'R_R3 A_1_2 GND_2 10', 'R_R4 GND_2 0 10']);
  });

  test('[CI27] node 0 without a reference is the minus of the first source', () => {
    expect(cards(netlistOf('S2 q r 3V; R2 q r 1; S1 p m 9V; R1 p m 10'))).toContain('VS_S1 p 0 DC 9');
    expect(cards(netlistOf('R2 q r 1'))[0]).toBe('R_R2 0 r 1');
  });

  test('[CI28] loops of sources get a milliohm', () => {
    expect(cards(netlistOf('S1 p m 9V; S2 p m 9V', 'm')).slice(0, 3)).toEqual([
      'VS_S1 p 0 DC 9',
      'VS_S2 S2_emf 0 DC 9',
      'RS_S2 p S2_emf 0.001',
    ]);
    expect(cards(netlistOf('S1 p m 9V; W1 p m', 'm'))[1]).toBe('RS_S1 0 S1_emf 0.001');
    const looped = probed(netlistOf('S1 p m 9V/1; R1 p m 10; W1 p x; W2 p x', 'm'), 'W2', 'H1');
    expect(cards(looped)).toContain('RL_W2 W2_x p 0.001');
  });

  test('[CI29] any network gives one line of printable ASCII a card and ends with .op and .end (seed 41)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e9 }), fc.string(), (seed, title) => {
        const netlist = randomNetwork(seed, { probes: true });
        const text = spiceText(netlist, { title, comments: [title] });
        expect(text).toMatch(/^\* [\x20-\x7e\n]*\n\.op\n\.end\n$/);
        expect(spiceText(netlist, { title, comments: [title] })).toBe(text);
        const names = text
          .split('\n')
          .filter((line) => /^[A-Z]/.test(line))
          .map((line) => line.split(' ')[0]?.toLowerCase());
        expect(new Set(names).size).toBe(names.length);
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  test('[CI39] coils, capacitors and sources that swing, at rest and through time', () => {
    const netlist = netlistOf('F1 p m 4.7m/24; L1 p m 5/2m', 'm');
    expect(cards(netlist)).toEqual([
      'C_F1 p 0 0.0047 IC=24',
      'L_L1 p L1_l 0.002 IC=0',
      'RL_L1 L1_l 0 5',
      expect.stringMatching(/^\.options/),
      '.op',
      '.end',
    ]);
    const text = spiceText(netlist, { title: 'CDU', time: { step: 1e-5, stop: 0.02 } });
    expect(text.endsWith('\n.tran 0.00001 0.02 uic\n.end\n')).toBe(true);
    const swing = {
      elements: [{ id: 'S1', kind: 'source', a: 'p', b: 'm', volts: 0, ohms: 0, swing: { peak: 17, hertz: 50 } }],
      reference: 'm',
    } as const;
    expect(cards(swing)[0]).toBe('VS_S1 p 0 DC 0 SIN(0 17 50)');
    // At rest: all of the source across the coil's ohms, none through the capacitor.
    const rest = solveDc(netlistOf('S1 p m 10V; L1 p m 5/2m; F1 p x 1m; R1 x m 1k', 'm'));
    expect([rest.amps.get('L1'), rest.amps.get('F1'), rest.amps.get('R1')]).toEqual([2, 0, 0]);
    for (const [line, what] of [
      ['L1 p m 0/2m', 'ohms 0'],
      ['L1 p m 5/-1', 'henries -1'],
      ['F1 p m 0', 'farads 0'],
    ] as const)
      expect(solveDc(netlistOf(line, 'm')).problems).toEqual([{ code: 'value-bad', element: line.slice(0, 2), what }]);
  });
});
