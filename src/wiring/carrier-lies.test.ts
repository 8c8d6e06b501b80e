import { describe, expect, it } from 'vitest';
import { carrierLies, carriersOf, restOf } from './carrier-lies.ts';
import { ladder, lampOf, wireFile } from './panel-wired.ts';

const wiring = (more: object, points = 1) =>
  wireFile(ladder(points, { lighting: { scheme: 'drive-contact' }, lamps: [lampOf('H1', { P1: 'normal' })], ...more }))
    .wiring;
const P1 = { id: 'P1', at: [60, 60] };
const lever = (more: object = {}) => ({ levers: [{ id: 'L1', works: [{ point: 'P1' }], ...more }] });

describe('carrierLies', () => {
  it('[CL1] a drive lies as its lever asks; levers are no carriers here', () => {
    expect(carrierLies(wiring({}), { L1: 'normal' })).toEqual({ P1: 'normal' });
    expect(carrierLies(wiring({}), { L1: 'reverse' })).toEqual({ P1: 'reverse' });
    // A lever that is not named lies normal.
    expect(carrierLies(wiring({}), {})).toEqual({ P1: 'normal' });
    const poles = wiring({ lighting: { scheme: 'spare-pole' } });
    expect([carriersOf(poles).size, carrierLies(poles, {})]).toEqual([0, {}]);
  });

  it('[CL1] with the lever in the middle it stays where it was, normal where nobody says', () => {
    const off = wiring(lever({ switch: 'toggle-2p-centre-off' }));
    expect(carrierLies(off, { L1: 'centre' }, { P1: 'reverse' })).toEqual({ P1: 'reverse' });
    expect(carrierLies(off, { L1: 'centre' })).toEqual({ P1: 'normal' });
    // What is asked counts before what was.
    expect(carrierLies(off, { L1: 'normal' }, { P1: 'reverse' })).toEqual({ P1: 'normal' });
  });

  it('[CL1] a sprung lever is named by its last throw, and its poles touch neither side', () => {
    const pulse = wiring({ points: [{ ...P1, drive: 'twin-coil-end-off' }], feed: { kind: 'pulse' } });
    expect(carrierLies(pulse, { L1: 'reverse' })).toEqual({ P1: 'reverse' });
    expect(restOf(pulse, 'L1', { L1: 'reverse' })).toBe('centre');
    expect(restOf(wiring({}), 'L1', { L1: 'reverse' })).toBe('reverse');
  });

  it('[CL1] what a hand works lies as history says', () => {
    const hand = wiring({ points: [{ ...P1, drive: 'hand' }], levers: [] });
    expect(carrierLies(hand, {}, { P1: 'reverse' })).toEqual({ P1: 'reverse' });
    expect(carrierLies(hand, {})).toEqual({ P1: 'normal' });
  });

  it('[CL2] a point opposite to its drive turns the drive, one opposite to its lever turns both; the blades are the point', () => {
    const opposite = { points: [{ ...P1, drive: 'D1', sense: 'opposite' }], drives: [{ id: 'D1' }] };
    expect(carrierLies(wiring(opposite), { L1: 'normal' })).toEqual({ D1: 'reverse' });
    const off = wiring({ ...opposite, ...lever({ switch: 'toggle-2p-centre-off' }) });
    expect(carrierLies(off, { L1: 'centre' }, { P1: 'normal' })).toEqual({ D1: 'reverse' });
    const works = { levers: [{ id: 'L1', works: [{ point: 'P1', opposite: true }] }] };
    expect(carrierLies(wiring(works), { L1: 'normal' })).toEqual({ P1: 'reverse' });
    expect(carrierLies(wiring({ ...opposite, ...works }), { L1: 'normal' })).toEqual({ D1: 'normal' });
    const blades = { lighting: { scheme: 'blade-contact' } };
    expect(carrierLies(wiring({ ...opposite, ...blades }), { L1: 'normal' })).toEqual({ 'P1.b': 'normal' });
    expect(carrierLies(wiring({ ...works, ...blades }), { L1: 'normal' })).toEqual({ 'P1.b': 'reverse' });
  });
});
