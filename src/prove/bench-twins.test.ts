import { describe, expect, it } from 'vitest';
import { ladder, wireFile } from '../wiring/index.ts';
import { twinLinkWords, twinsAtPins, twinTests } from './bench-twins.ts';

const wired = (by: string, kind: string) =>
  wireFile(
    ladder(1, {
      levers: [{ id: 'L1', works: [{ point: 'P1' }], twin: { panel: 'Bramble Siding', lever: 'L7', by } }],
      feed: { kind, supplies: ['S1'] },
    }),
  ).wiring;

describe('bench tests of a switch on another panel', () => {
  it('[PV20] each position joins its pairs of pins through the cable, and no others', () => {
    const tests = twinTests(wired('two-way', 'reversing'));
    expect(tests.map(({ id, stage, lever }) => [id, stage, lever])).toEqual([
      ['bench:L1.twin:normal', 1, 'L1'],
      ['bench:L1.twin:reverse', 1, 'L1'],
    ]);
    const closed = tests.map(({ expect: all }) =>
      all.map((each) => ('quantity' in each && each.high !== null ? `${each.at}` : 'open')),
    );
    // The drive has A.1 and A.2; plus and minus go out by A.3 and A.4 and come back by A.5 and A.6.
    expect(closed).toEqual([
      ['A.3 to A.5', 'A.4 to A.6', 'open', 'open'],
      ['open', 'open', 'A.3 to A.6', 'A.4 to A.5'],
    ]);
    // Two wires of 3 m of 0.22 mm2: 2 x 0.017241 x 3 / 0.22 = 0.47 ohm (copper at 20 C), and 2 ohm that a meter's leads and joints may have.
    const [first] = tests[0]?.expect ?? [];
    expect(first).toMatchObject({ low: 0, high: expect.closeTo(2.47, 2) });
  });

  it('[PV20] one that springs back is tried let go as well, and joins nothing then', () => {
    const tests = twinTests(wired('latch', 'reversing'));
    expect(tests.map(({ id }) => id)).toEqual([
      'bench:L1.twin:normal',
      'bench:L1.twin:reverse',
      'bench:L1.twin:centre',
    ]);
    expect(tests[2]?.expect.every((each) => 'quantity' in each && each.high === null)).toBe(true);
  });

  it('[PV20] while our panel is alone links on the test plug stand in for it', () => {
    const wiring = wired('two-way', 'reversing');
    expect(twinLinkWords(wiring, 'L1', 'reverse')).toContain(
      'reverse, join A.3 to A.6 and A.4 to A.5 on the test plug',
    );
    expect(twinLinkWords(wiring, 'L1', 'normal')).toContain('A.3 to A.5 and A.4 to A.6');
    expect([twinLinkWords(wiring, 'L1', null), twinLinkWords(wiring, 'L2', 'normal')]).toEqual(['', '']);
    expect(twinsAtPins(wiring).map(({ lever }) => lever)).toEqual(['L1']);
  });
});
