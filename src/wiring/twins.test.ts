import { describe, expect, it } from 'vitest';
import { faultByCode } from './faults.ts';
import { operate } from './operate.ts';
import { ladder, lampOf, type PanelWired, wireFile } from './panel-wired.ts';
import { askedTo, askIn, type Positions, standsIn } from './positions.ts';
import { statesOf } from './states.ts';
import type { Wiring } from './types.ts';

const LAMPS = [lampOf('N1', { P1: 'normal' }), lampOf('R1', { P1: 'reverse' })];
const SUPPLIES = [
  { id: 'S1', volts: 12, amps: 2 },
  { id: 'S2', volts: 12, amps: 2 },
];

function wired(by: 'two-way' | 'latch', kind: string, drive = 'stall-2-wire', more: object = {}): PanelWired {
  const supplies = kind === 'split' ? ['S1', 'S2'] : ['S1'];
  const volts = kind === 'contact' ? 5 : kind === 'pulse' ? 24 : 12;
  return wireFile(
    ladder(1, {
      points: [{ id: 'P1', at: [60, 60], drive }],
      levers: [{ id: 'L1', works: [{ point: 'P1' }], twin: { panel: 'Bramble Siding', lever: 'L7', by } }],
      lamps: kind === 'contact' || kind === 'pulse' ? [] : LAMPS,
      feed: { kind, supplies },
      supplies: SUPPLIES.map((each) => ({ ...each, volts })),
      ...more,
    }),
  );
}

/** What leads out to the other panel and comes back: where each way ends, and its net. */
const ways = ({ connectors }: Wiring) =>
  connectors.flatMap(({ pins }) => pins.flatMap(({ to, net }) => (to.startsWith('L1.twin') ? [`${net} ${to}`] : [])));
const joined = ({ wires }: Wiring, a: string, b: string) =>
  wires.some(({ from, to }) => (from === a && to === b) || (from === b && to === a));
const lies = ({ wiring }: PanelWired, levers: Positions) => operate(wiring, levers).drives.map(({ moves }) => moves)[0];
const volts = ({ wiring }: PanelWired, levers: Positions) => operate(wiring, levers).drives[0]?.volts ?? 0;

const BOTH = ['normal', 'reverse'] as const;
const FOUR = BOTH.flatMap((own) => BOTH.map((there) => ({ L1: own, 'L1.twin': there })));

describe('a switch on another panel that stands before ours', () => {
  it('[TW1] takes the rails out by two ways and brings them back by two, crossed over there', () => {
    const { wiring } = wired('two-way', 'reversing');
    expect(ways(wiring)).toEqual(['S1.p L1.twin.t1', 'S1.m L1.twin.t4', 'L1.t1 L1.twin.t2', 'L1.t4 L1.twin.t5']);
    expect(joined(wiring, 'L1.twin.t1', 'L1.twin.t6') && joined(wiring, 'L1.twin.t4', 'L1.twin.t3')).toBe(true);
    expect(joined(wiring, 'L1.t1', 'L1.t6') && joined(wiring, 'L1.t4', 'L1.t3')).toBe(true);
    // Nothing of ours hangs on a rail but what goes out.
    expect(wiring.circuits[0]?.rails.map(({ net }) => net)).toEqual(['S1.p', 'S1.m']);
    expect(ways(wired('two-way', 'split').wiring)).toEqual([
      'S1.p L1.twin.t1',
      'S2.m L1.twin.t4',
      'L1.t1 L1.twin.t2',
      'L1.t3 L1.twin.t5',
    ]);
  });

  it('[TW1] of a driver board closes the input through one changeover after the other', () => {
    const panel = wired('two-way', 'contact', 'servo-board');
    expect(ways(panel.wiring)).toEqual(['S1.m L1.twin.t2', 'L1.t3 L1.twin.t1', 'L1.t1 L1.twin.t3']);
    expect(FOUR.map((at) => lies(panel, at))).toEqual(['normal', 'reverse', 'reverse', 'normal']);
    // Open, an input stands at nothing; closed, the board's 5 V stand across its own resistor.
    expect(FOUR.map((at) => Math.abs(volts(panel, at)) > 4)).toEqual([false, true, true, false]);
  });

  it('[TW4] turns over what ours asks, in every setting of both', () => {
    for (const kind of ['reversing', 'split']) {
      const panel = wired('two-way', kind);
      expect(FOUR.map((at) => lies(panel, at))).toEqual(['normal', 'reverse', 'reverse', 'normal']);
      for (const at of FOUR) {
        const { lamps, drives } = operate(panel.wiring, at);
        const asks = drives[0]?.moves;
        expect(lamps.map(({ id, look }) => [id, look !== 'unlit'])).toEqual([
          ['N1', asks === 'normal'],
          ['R1', asks === 'reverse'],
        ]);
        // 12 V, less what four wires of 3 m lose: 15 mA x 4 x 0.235 ohm (0.017241 x 3 / 0.22, copper at 20 C) is 14 mV.
        expect(Math.abs(drives[0]?.volts ?? 0)).toBeGreaterThan(11.97);
      }
      const { wiring } = panel;
      expect(askIn(wiring, { L1: 'centre', 'L1.twin': 'reverse' }, 'L1')).toBe('centre');
      expect(askedTo(wiring, { 'L1.twin': 'reverse' }, 'L1', 'normal')).toEqual({
        L1: 'reverse',
        'L1.twin': 'reverse',
      });
    }
  });

  it('[TW5] has a state for every position of both', () => {
    const { wiring } = wired('two-way', 'reversing');
    const [circuit] = wiring.circuits;
    if (circuit === undefined) throw new Error('no circuit');
    expect(circuit.levers).toEqual(['L1', 'L1.twin']);
    expect(statesOf(wiring, circuit).map(({ levers }) => levers)).toEqual(FOUR);
  });

  it('[TW6] a wire of the cable that is open leaves the drive without a feed in every setting', () => {
    const panel = wired('two-way', 'reversing');
    const cable = panel.wiring.wires.filter(({ to }) => /^L1\.twin\.t[1245]$/.test(to));
    const open = cable
      .filter(({ from }) => !from.startsWith('L1.twin'))
      .flatMap(({ id }) => faultByCode(panel.wiring, `open:${id}`) ?? []);
    expect(open).toHaveLength(4);
    for (const fault of open)
      for (const at of FOUR) {
        const { lamps, drives } = operate(panel.wiring, at, [fault]);
        expect([lamps.map(({ look }) => look), Math.abs(drives[0]?.amps ?? 1) < 1e-9]).toEqual([
          ['unlit', 'unlit'],
          true,
        ]);
      }
    // One pole over there welded: both ours on one rail while the other throws, and right while it does not.
    const weld = faultByCode(panel.wiring, 'weld:L1.twin.1=normal');
    if (weld === null) throw new Error('no such fault');
    expect(FOUR.map((at) => Math.abs(operate(panel.wiring, at, [weld]).drives[0]?.volts ?? 0) > 1)).toEqual([
      true,
      false,
      true,
      false,
    ]);
  });
});

const HERE = BOTH.map((lie) => ({ L1: lie, 'L1.twin': 'centre' as const }));
const THERE = BOTH.map((lie) => ({ L1: 'centre' as const, 'L1.twin': lie }));

describe('switches that spring back, side by side on two panels', () => {
  it('[TW2] plus goes out by one way and the two throws come back beside ours', () => {
    const { wiring } = wired('latch', 'pulse', 'twin-coil');
    expect(ways(wiring)).toEqual(['S1.p L1.twin.t2', 'L1.t1 L1.twin.t1', 'L1.t3 L1.twin.t3']);
    expect(wiring.relays).toEqual([]);
    expect(wiring.switches.map(({ id, part }) => [id, part.sprung])).toEqual([
      ['L1', true],
      ['L1.twin', true],
    ]);
  });

  it('[TW3] a relay that remembers holds the feed: its contacts stand where our poles would', () => {
    const panel = wired('latch', 'reversing');
    const { wiring } = panel;
    expect(wiring.relays).toMatchObject([{ id: 'K1', circuit: 'L1', point: 'P1', holds: true }]);
    expect(wiring.contacts.map(({ id }) => id)).toEqual(['K1.1', 'K1.2']);
    expect(joined(wiring, 'K1.1.n', 'K1.2.r') && joined(wiring, 'K1.2.n', 'K1.1.r')).toBe(true);
    expect(joined(wiring, 'L1.t1', 'K1.rp') && joined(wiring, 'L1.t3', 'K1.sp')).toBe(true);
    expect([...HERE, ...THERE].map((at) => lies(panel, at))).toEqual(['normal', 'reverse', 'normal', 'reverse']);
    // Turned over where the lever's normal asks the point to reverse.
    const turned = wired('latch', 'reversing', 'stall-2-wire', {
      levers: [
        {
          id: 'L1',
          works: [{ point: 'P1', opposite: true }],
          twin: { panel: 'Bramble Siding', lever: 'L7', by: 'latch' },
        },
      ],
    });
    expect([...HERE, ...THERE].map((at) => lies(turned, at))).toEqual(['reverse', 'normal', 'reverse', 'normal']);
    expect(operate(turned.wiring, { L1: 'normal' }).lamps.map(({ look }) => look !== 'unlit')).toEqual([false, true]);
  });

  it('[TW4] the last throw counts, from whichever panel; at rest neither touches anything', () => {
    const { wiring } = wired('latch', 'reversing');
    expect(askIn(wiring, { 'L1.twin': 'reverse' }, 'L1')).toBe('reverse');
    expect(askIn(wiring, { L1: 'normal', 'L1.twin': 'centre' }, 'L1')).toBe('normal');
    const stands = (at: Positions, thrown: boolean) => ['L1', 'L1.twin'].map((id) => standsIn(wiring, at, id, thrown));
    expect(stands({ L1: 'reverse' }, true)).toEqual(['reverse', 'centre']);
    expect(stands({ L1: 'centre', 'L1.twin': 'reverse' }, true)).toEqual(['centre', 'reverse']);
    expect(stands({ L1: 'reverse' }, false)).toEqual(['centre', 'centre']);
  });

  it('[TW5] has a state for every throw of either', () => {
    const { wiring } = wired('latch', 'reversing');
    const [circuit] = wiring.circuits;
    if (circuit === undefined) throw new Error('no circuit');
    expect(statesOf(wiring, circuit).map(({ levers }) => levers)).toEqual([...HERE, ...THERE]);
  });

  it('[TW6] a pole that makes no contact leaves all as it lay when it is thrown, and the other panel throws it all the same', () => {
    const { wiring } = wired('latch', 'reversing');
    const open = faultByCode(wiring, 'open:L1.twin.1');
    if (open === null) throw new Error('no such fault');
    const lit = (at: Positions) =>
      operate(wiring, at, [open], { P1: 'normal' }).lamps.map(({ look }) => look !== 'unlit');
    expect(lit({ L1: 'reverse' })).toEqual([false, true]);
    expect(lit({ L1: 'centre', 'L1.twin': 'reverse' })).toEqual([true, false]);
    // Stuck, the relay holds the feed as it is whoever throws.
    const stuck = faultByCode(wiring, 'stuck:K1=set');
    if (stuck === null) throw new Error('no such fault');
    const held = [...HERE, ...THERE].map((at) => operate(wiring, at, [stuck]).drives[0]?.volts ?? 0);
    expect(held.map((each) => Math.round(Math.abs(each)))).toEqual([12, 12, 12, 12]);
    expect(new Set(operate(wiring, { L1: 'normal' }, [stuck]).lamps.map(({ look }) => look !== 'unlit'))).toEqual(
      new Set([false, true]),
    );
  });
});
