/** The healthy truth and single faults of points worked from two panels. */
import { describe, expect, it } from 'vitest';
import { ladder, lampOf, wireFile } from '../wiring/index.ts';
import { powerUp } from './power-up.ts';
import { proveFaults } from './prove-faults.ts';
import { proveHealthy } from './prove-healthy.ts';

const twin = (by: string) => ({ panel: 'Quillhaven Harbour', lever: 'L7', by });
const wired = (by: string, more: object = {}) =>
  wireFile(
    ladder(1, {
      levers: [{ id: 'L1', works: [{ point: 'P1' }], twin: twin(by) }],
      lamps: [lampOf('N1', { P1: 'normal' }), lampOf('R1', { P1: 'reverse' })],
      supplies: [
        { id: 'S1', volts: 12, amps: 2 },
        { id: 'S9', volts: 12, amps: 1 },
      ],
      ...more,
    }),
  );

describe('the truth of points worked from two panels', () => {
  it('[TR19] every setting of both levers counts and is told', () => {
    const truth = proveHealthy(wired('two-way'));
    expect([truth.settings, truth.untruths, truth.doubtful, truth.contradictions, truth.silent]).toEqual([
      '4',
      [],
      [],
      [],
      [],
    ]);
    // A middle of our own: two positions and a history of the point, each with either of the other panel's.
    const levers = [{ id: 'L1', switch: 'toggle-2p-centre-off', works: [{ point: 'P1' }], twin: twin('two-way') }];
    const centred = proveHealthy(wired('two-way', { levers }));
    expect([centred.settings, centred.untruths]).toEqual(['8', []]);
    expect(centred.silent.map(({ levers: at }) => at.L1)).toContain('centre');
    // A relay that remembers lies one way or the other, whoever threw it.
    expect(proveHealthy(wired('latch')).settings).toBe('2');
  });

  it('[TR19] a lamp that says the other lie is an untruth in every setting, each named by both levers', () => {
    const lamps = [{ ...lampOf('N1', { P1: 'normal' }), part: 'led-3-green-old' }];
    const starved = proveHealthy(wired('two-way', { lamps, lighting: { current: 0.0001 } }));
    expect(starved.untruths.map(({ levers }) => levers)).toEqual([
      { L1: 'normal', 'L1.twin': 'normal' },
      { L1: 'reverse', 'L1.twin': 'reverse' },
    ]);
  });

  it('[TR19] a fault over there lies as one of ours does: a pole that sticks leads lamps and drive alike, unless the drive stays', () => {
    const input = wired('two-way');
    const outcomes = new Map(proveFaults(input).outcomes.map(({ fault, class: found }) => [fault, found]));
    // With one pole on the other rail nothing is lit and nothing moves: right-side. Upside down both turn over together, and so does the point.
    for (const pole of ['L1.1', 'L1.2', 'L1.twin.1', 'L1.twin.2']) {
      expect([pole, outcomes.get(`weld:${pole}=normal`)]).toEqual([pole, outcomes.get('weld:L1.1=normal')]);
      expect([pole, outcomes.get(`open:${pole}`)]).toEqual([pole, outcomes.get('open:L1.1')]);
    }
    expect(outcomes.get('upside:L1.twin')).toBe(outcomes.get('upside:L1'));
    // Every wire of the cable is tried.
    const cable = input.wiring.wires.filter(({ to, side }) => side === 'layout' && to.startsWith('L1.twin'));
    expect(cable.length).toBe(6);
    for (const { id } of cable) expect(outcomes.has(`open:${id}`) && outcomes.has(`dry:${id}`)).toBe(true);
  });

  it('[TR19] at power-up a held feed takes the drive where both levers ask, and a relay where it was left', () => {
    for (const by of ['two-way', 'latch']) {
      const { drives, lies } = powerUp(wired(by));
      expect([by, drives.map(({ does }) => does), lies]).toEqual([by, ['home'], []]);
    }
    // Pulses move nothing: a relay beside the coils tells how it was left.
    const pulsed = wired('latch', {
      points: [{ id: 'P1', at: [60, 60], drive: 'twin-coil' }],
      feed: { kind: 'pulse', supplies: ['S1'] },
      lighting: { scheme: 'latching-relay', supply: 'S9' },
    });
    const { drives, lies } = powerUp(pulsed);
    expect(drives.map(({ does }) => does)).toEqual(['stays']);
    expect(lies.map(({ lamp }) => lamp)).toEqual(['N1', 'R1']);
  });
});
