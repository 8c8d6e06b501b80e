import { describe, expect, it } from 'vitest';
import { ladder, lampOf, wireFile } from './panel-wired.ts';

const P1 = { id: 'P1', at: [60, 60] };
const panel = (more: object = {}) =>
  wireFile(
    ladder(1, {
      points: [{ ...P1, drive: 'twin-coil' }],
      feed: { kind: 'pulse' },
      lighting: { scheme: 'latching-relay', supply: 'S9' },
      supplies: [
        { id: 'S1', volts: 24 },
        { id: 'S9', volts: 12 },
      ],
      lamps: [lampOf('H1', { P1: 'normal' }), lampOf('H2', { P1: 'reverse' })],
      ...more,
    }),
  ).wiring;
const joined = (more: object, coil: string) =>
  panel(more).wires.flatMap(({ from, to }) => (to === coil ? [from] : from === coil ? [to] : []));

describe('wireRelays', () => {
  it('[RE1] a latching relay of two coils on the coils of its point, a diode across each, its contact to the lamps', () => {
    const wiring = panel();
    expect(wiring.relays).toMatchObject([
      {
        id: 'K1',
        circuit: 'L1',
        point: 'P1',
        part: { id: 'relay-latching-2p' },
        coils: [
          { id: 'K1s', a: 'K1.sp', b: 'K1.sm' },
          { id: 'K1r', a: 'K1.rp', b: 'K1.rm' },
        ],
      },
    ]);
    expect(wiring.wires.map(({ from, to }) => `${from} ${to}`)).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 L1.t2',
      'S9.p FU-S9.1',
      'FU-S9.2 K1.1.c',
      'K1.1.n H1.a',
      'R-G1.1 H1.k',
      'K1.1.r H2.a',
      'H1.k H2.k',
      'S9.m R-G1.2',
      'L1.t3 K1.sp',
      'S1.m K1.sm',
      'K1.sp FD-K1.k',
      'K1.sm FD-K1.a',
      'L1.t1 K1.rp',
      'K1.sm K1.rm',
      'K1.rp FD-K1r.k',
      'K1.rm FD-K1r.a',
      'L1.t1 A.1',
      'L1.t3 A.2',
      'K1.rm A.3',
      'A.1 P1.n',
      'A.2 P1.r',
      'A.3 P1.com',
    ]);
    expect(wiring.diodes.map(({ id, what, anode, cathode }) => [id, what, anode, cathode])).toEqual([
      ['FD-K1', 'flyback', 'FD-K1.a', 'FD-K1.k'],
      ['FD-K1r', 'flyback', 'FD-K1r.a', 'FD-K1r.k'],
    ]);
  });

  it('[RE2] the pulse that sends the point reverse sets it, whichever way lever and drive stand', () => {
    expect([joined({}, 'K1.sp')[0], joined({}, 'K1.rp')[0]]).toEqual(['L1.t3', 'L1.t1']);
    const works = { levers: [{ id: 'L1', works: [{ point: 'P1', opposite: true }] }] };
    expect([joined(works, 'K1.sp')[0], joined(works, 'K1.rp')[0]]).toEqual(['L1.t1', 'L1.t3']);
    const opposite = { points: [{ ...P1, drive: 'D1', sense: 'opposite' }], drives: [{ id: 'D1', part: 'twin-coil' }] };
    // The lever still sends the point normal with its own normal; the drive is crossed at its tags.
    expect([joined(opposite, 'K1.sp')[0], joined(opposite, 'K1.rp')[0]]).toEqual(['L1.t3', 'L1.t1']);
  });

  it('[RE2] the buttons that throw a point set its relay as well', () => {
    const buttons = [
      { id: 'B1', at: [20, 100], sets: { P1: 'normal' } },
      { id: 'B2', at: [40, 100], sets: { P1: 'reverse' } },
    ];
    expect([joined({ levers: [], buttons }, 'K1.sp')[0], joined({ levers: [], buttons }, 'K1.rp')[0]]).toEqual([
      'B2.t2',
      'B1.t2',
    ]);
  });

  it('[RE1] a record that follows the point gives name and part; one that is no relay is the usual one', () => {
    const named = panel({ relays: [{ id: 'K5', part: 'relay-latching-2p', follows: 'P1' }] });
    expect(named.relays.map(({ id }) => id)).toEqual(['K5']);
    expect(named.contacts.map(({ id, circuit }) => [id, circuit])).toEqual([['K5.1', 'L1']]);
  });
});
