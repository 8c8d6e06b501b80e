import { describe, expect, it } from 'vitest';
import { type AtTags, bladesAt, isThrown, isUnlinked, leastToMove, pushOf, sliderCan } from './blades.ts';
import { faultByCode } from './faults.ts';
import { ladder, wireFile } from './panel-wired.ts';
import type { WiredDrive, Wiring } from './types.ts';

const P1 = { id: 'P1', at: [60, 60] };
const P2 = { id: 'P2', at: [120, 60] };

function wired(
  part: string,
  kind: string,
  more: object = {},
  record: object = {},
): { wiring: Wiring; drive: WiredDrive } {
  const { wiring } = wireFile(
    ladder(2, {
      points: [{ ...P1, drive: 'D1' }],
      drives: [{ id: 'D1', part, ...record }],
      levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
      feed: { kind, farads: 0.0022 },
      ...more,
    }),
  );
  const drive = wiring.drives.find(({ id }) => id === 'D1');
  if (drive === undefined) throw new Error('no drive D1');
  return { wiring, drive };
}

/** What stands at the tags: volts between two terminals by "a b", amps by element. */
function at(volts: Readonly<Record<string, number>>, amps: Readonly<Record<string, number>> = {}): AtTags {
  return {
    across: (a, b) => volts[`${a} ${b}`] ?? -(volts[`${b} ${a}`] ?? 0),
    amps: (element) => amps[element] ?? 0,
    pulls: () => true,
  };
}

const BOTH = ['normal', 'reverse'];
const STALL = wired('stall-2-wire', 'reversing');
const COILS = wired('twin-coil', 'pulse');
const SERVO = wired('servo-board', 'contact');

describe('pushOf', () => {
  it('[BL1] two wires: the volts of tag a above tag b, which a stalled motor tells by its amps', () => {
    // 12 V at 15 mA: 800 ohm.
    expect(pushOf(STALL.drive, at({}, { D1: 0.015 }))).toBeCloseTo(12, 9);
    expect(pushOf(STALL.drive, at({}, { D1: -0.0075 }))).toBeCloseTo(-6, 9);
    const limit = wired('limit-2-wire', 'reversing').drive;
    expect(pushOf(limit, at({ 'D1.a D1.b': 11.9 }))).toBe(11.9);
    expect(pushOf(limit, at({ 'D1.b D1.a': 11.9 }))).toBe(-11.9);
    expect([isThrown(STALL.drive), isThrown(COILS.drive), isThrown(SERVO.drive)]).toEqual([false, true, false]);
  });

  it('[BL1] two coils: the one that carries 2 A or more, the amps that throw it; both or neither push nowhere', () => {
    const push = (n: number, r: number) => pushOf(COILS.drive, at({}, { 'D1.n': n, 'D1.r': r }));
    expect([push(2, 0), push(0, 2), push(1.99, 0), push(4, 4), push(0, 0)]).toEqual([
      Number.POSITIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
      0,
      0,
      0,
    ]);
    // One that has the amps and does not pull throws nothing.
    const dead: AtTags = { ...at({}, { 'D1.n': 4 }), pulls: () => false };
    expect(pushOf(COILS.drive, dead)).toBe(0);
  });

  it('[BL1] a driver board goes by its input, closed or open, while it has its 5 V', () => {
    const push = (volts: number, amps: number) => pushOf(SERVO.drive, at({ 'D1.p D1.b': volts }, { D1: amps }));
    // 2 mA at 5 V closed; lever normal leaves it open.
    expect(push(5, 0.002)).toBe(Number.NEGATIVE_INFINITY);
    expect(push(5, 0)).toBe(Number.POSITIVE_INFINITY);
    expect(push(0, 0)).toBe(0);
  });

  it('[BL1] a drive without a feed that suits it is pushed nowhere', () => {
    const unfit = wired('servo-board', 'reversing').drive;
    expect(pushOf(unfit, at({ 'D1.a D1.b': 12, 'D1.p D1.b': 5 }, { D1: 0.002 }))).toBe(0);
  });
});

describe('sliderCan', () => {
  it('[BL2] pushed by half its least volts or more it goes there; by less it may lie either way', () => {
    // 9 to 12 V: half of 9 is 4.5 (common practice, no source).
    expect(leastToMove(STALL.drive)).toBe(4.5);
    const can = (push: number) => sliderCan(STALL.drive, push, null);
    expect([can(12), can(-12), can(4.5), can(4.4), can(-4.4), can(0)]).toEqual([
      ['normal'],
      ['reverse'],
      ['normal'],
      BOTH,
      BOTH,
      BOTH,
    ]);
  });

  it('[BL2] tag b is plus at normal where the drive runs the other way round, or its point lies opposite', () => {
    const turned = wired('stall-2-wire', 'reversing', {}, { positive: 'reverse' }).drive;
    expect(sliderCan(turned, 12, null)).toEqual(['reverse']);
    const opposite = wired('stall-2-wire', 'reversing', { points: [{ ...P1, drive: 'D1', sense: 'opposite' }] }).drive;
    // Plus on a takes the drive normal and the point reverse.
    expect(sliderCan(opposite, 12, null)).toEqual(['reverse']);
  });

  const broken = ({ wiring, drive }: typeof STALL, code: string, push: number) => {
    const fault = faultByCode(wiring, code);
    if (fault === null) throw new Error(`no fault ${code}`);
    return sliderCan(drive, push, fault);
  };

  it('[BL3] crossed it goes the other way, stuck nowhere, open or shorted it stays as it was', () => {
    expect([broken(STALL, 'crossed:P1', 12), broken(STALL, 'crossed:P1', -12)]).toEqual([['reverse'], ['normal']]);
    expect([broken(STALL, 'stuck:P1=normal', -12), broken(STALL, 'stuck:P1=reverse', 12)]).toEqual([
      ['normal'],
      ['reverse'],
    ]);
    expect([broken(STALL, 'open:P1', 12), broken(STALL, 'short:P1', 12)]).toEqual([BOTH, BOTH]);
    // With its link off the drive goes where it is pushed; the blades are another matter.
    expect(broken(STALL, 'linkage:P1', -12)).toEqual(['reverse']);
  });

  it('[BL3] with one coil open the other throws all the same', () => {
    expect(broken(COILS, 'open:P1.n', Number.NEGATIVE_INFINITY)).toEqual(['reverse']);
    expect(broken(COILS, 'open:P1.n', 0)).toEqual(BOTH);
  });

  it('[BL4] each point of a drive lies as its sense says; only a linkage off parts blades from slider', () => {
    const points = [
      { ...P1, drive: 'D1' },
      { ...P2, drive: 'D1', sense: 'opposite' },
    ];
    const { wiring, drive } = wired('stall-2-wire', 'reversing', { points });
    expect([bladesAt(drive, 'P1', 'normal'), bladesAt(drive, 'P2', 'normal')]).toEqual(['normal', 'reverse']);
    expect([bladesAt(drive, 'P1', 'reverse'), bladesAt(drive, 'P2', 'reverse')]).toEqual(['reverse', 'normal']);
    const link = faultByCode(wiring, 'linkage:P2');
    expect(['P1', 'P2'].map((point) => isUnlinked(link, point))).toEqual([false, true]);
    expect(isUnlinked(faultByCode(wiring, 'crossed:P1'), 'P1')).toBe(false);
  });
});
