/** Faults of what lights lamps by contacts and of what throws coils: codes as the file format lists them, and what they do. */
import { describe, expect, it } from 'vitest';
import { faultByCode, faultsOf } from './faults.ts';
import { operate } from './operate.ts';
import { ladder, lampOf, wireFile } from './panel-wired.ts';
import type { Positions } from './positions.ts';
import type { Wiring } from './types.ts';

const P1 = { id: 'P1', at: [60, 60] };
const LAMPS = [lampOf('H1', { P1: 'normal' }), lampOf('H2', { P1: 'reverse' })];
const panel = (scheme: string, more: object = {}) =>
  wireFile(ladder(1, { lighting: { scheme }, lamps: LAMPS, supplies: [{ id: 'S1', volts: 12 }], ...more })).wiring;
const coils = (part: string, feed: object, supplies: readonly object[]) => ({
  points: [{ ...P1, drive: part }],
  feed,
  supplies,
});

const codes = (wiring: Wiring, pattern: RegExp) =>
  faultsOf(wiring).flatMap(({ code }) => (pattern.test(code) ? [code] : []));

function lit(wiring: Wiring, levers: Positions, codesNow: readonly string[], history: object = {}): readonly string[] {
  const faults = codesNow.map((code) => {
    const fault = faultByCode(wiring, code);
    if (fault === null) throw new Error(`no fault ${code}`);
    return fault;
  });
  return operate(wiring, levers, faults, history as Record<string, 'normal' | 'reverse'>).lamps.flatMap(
    ({ id, look }) => (look === 'unlit' ? [] : [id]),
  );
}

const N = { L1: 'normal' } as const;
const R = { L1: 'reverse' } as const;

describe('codes', () => {
  it('[WF16] contacts of drives and of blades: open, and welded each way', () => {
    expect(codes(panel('drive-contact'), /P1\.c/)).toEqual(['open:P1.c2', 'weld:P1.c2=normal', 'weld:P1.c2=reverse']);
    expect(codes(panel('blade-contact'), /P1\.b\d/)).toEqual(['open:P1.b1', 'weld:P1.b1=normal', 'weld:P1.b1=reverse']);
  });

  it('[WF16] a pole that lights lamps has those of every pole', () => {
    expect(codes(panel('spare-pole'), /L1\.3/)).toEqual([
      'open:L1.3',
      'weld:L1.3=normal',
      'weld:L1.3=reverse',
      'bridge:L1.3',
    ]);
  });

  it('[WF16] a relay: its coil open, stuck either way; its contact open, welded set and reset', () => {
    const relay = panel('latching-relay', coils('twin-coil', { kind: 'pulse' }, [{ id: 'S1', volts: 24 }]));
    expect(codes(relay, /:K1\b/).sort()).toEqual(
      ['open:K1', 'stuck:K1=set', 'stuck:K1=reset', 'open:K1.1', 'weld:K1.1=set', 'weld:K1.1=reset'].sort(),
    );
  });

  it('[WF16] coils, capacitors, diodes: each open, shorted; diodes backwards; capacitors of ten times and a tenth', () => {
    const charge = panel(
      'blade-contact',
      coils('twin-coil', { kind: 'charge', farads: 0.0022 }, [{ id: 'S1', volts: 24 }]),
    );
    expect(codes(charge, /P1\.[nr]$/)).toEqual(['open:P1.n', 'short:P1.n', 'open:P1.r', 'short:P1.r']);
    expect(codes(charge, /CAP-L1/)).toEqual([
      'open:CAP-L1',
      'short:CAP-L1',
      'value:CAP-L1=0.022',
      'value:CAP-L1=0.00022',
    ]);
    expect(codes(charge, /SD-L1n/)).toEqual(['open:SD-L1n', 'short:SD-L1n', 'backwards:SD-L1n']);
    const unit = [
      { id: 'S1', volts: 24 },
      { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047 },
    ];
    const cdu = panel('blade-contact', coils('twin-coil', { kind: 'pulse', supplies: ['C1'] }, unit));
    // The file format's own example of a tenth of 4,700 uF.
    expect(codes(cdu, /^(open|short|value):C1\b/)).toEqual([
      'open:C1',
      'short:C1',
      'value:C1=0.047',
      'value:C1=0.00047',
    ]);
    expect(codes(cdu, /^(open|value):R-C1/)).toEqual(['open:R-C1', 'value:R-C1=1000', 'value:R-C1=10']);
  });

  it('[WF16] a return open, a button open or welded shut, elements of two colours', () => {
    const split = panel('spare-pole', {
      feed: { kind: 'split', supplies: ['S1', 'S2'] },
      supplies: [
        { id: 'S1', volts: 12 },
        { id: 'S2', volts: 12 },
      ],
    });
    expect(codes(split, /R0$/)).toEqual(['open:R0']);
    const buttons = wireFile(
      ladder(1, {
        ...coils('twin-coil', { kind: 'pulse' }, [{ id: 'S1', volts: 24 }]),
        levers: [],
        buttons: [{ id: 'B1', at: [20, 100], sets: { P1: 'normal' } }],
      }),
    ).wiring;
    expect(codes(buttons, /:B1/)).toEqual(['open:B1.1', 'weld:B1.1=closed']);
    const elements = [
      { colour: 'green', shows: { P1: 'normal' } },
      { colour: 'red', shows: { P1: 'reverse' } },
    ];
    const two = panel('spare-pole', { lamps: [{ id: 'H1', at: [20, 20], part: 'led-5-red-green-3c', elements }] });
    expect(codes(two, /:H1/)).toEqual([
      'open:H1A',
      'short:H1A',
      'backwards:H1A',
      'open:H1B',
      'short:H1B',
      'backwards:H1B',
    ]);
  });

  it('[WF16] what a hand works can be stuck and come unhooked, and has no motor', () => {
    const hand = panel('across-feed', { points: [{ ...P1, drive: 'hand' }], levers: [] });
    expect(codes(hand, /:P1(=|$)/)).toEqual(['stuck:P1=normal', 'stuck:P1=reverse', 'linkage:P1']);
  });
});

describe('what they do', () => {
  it('[WF17] a contact welded lights the lamp of its throw whatever the drive does; open it lights none', () => {
    const wiring = panel('drive-contact');
    expect([lit(wiring, N, []), lit(wiring, R, [])]).toEqual([['H1'], ['H2']]);
    expect([lit(wiring, N, ['weld:P1.c2=reverse']), lit(wiring, R, ['weld:P1.c2=normal'])]).toEqual([['H2'], ['H1']]);
    expect([lit(wiring, N, ['open:P1.c2']), lit(wiring, R, ['open:P1.c2'])]).toEqual([[], []]);
  });

  it('[WF17] a drive that is stuck, crossed or open carries its contact along; with the link off only blades part', () => {
    const [slider, blades] = [panel('drive-contact'), panel('blade-contact')];
    for (const wiring of [slider, blades]) {
      expect(lit(wiring, R, ['stuck:P1=normal'])).toEqual(['H1']);
      expect(lit(wiring, R, ['crossed:P1'])).toEqual(['H1']);
      expect(lit(wiring, R, ['open:P1'], { P1: 'normal' })).toEqual(['H1']);
      expect(lit(wiring, R, ['open:P1'], { P1: 'reverse' })).toEqual(['H2']);
    }
    expect(lit(slider, R, ['linkage:P1'], { P1: 'normal' })).toEqual(['H2']);
    expect(lit(blades, R, ['linkage:P1'], { P1: 'normal' })).toEqual(['H1']);
  });

  it('[WF17] a broken feed leaves drive and contact where they were', () => {
    const wiring = panel('drive-contact');
    for (const code of ['apart:A', 'open:L1.1'])
      if (code !== 'apart:A') expect(lit(wiring, R, [code], { P1: 'normal' })).toEqual(['H1']);
    // The lamps of a contact pass the connector as well.
    expect(lit(wiring, R, ['apart:A'], { P1: 'normal' })).toEqual([]);
  });

  it('[WF18] a relay that is stuck, or whose coil is open, tells what it lay', () => {
    const relay = panel('latching-relay', coils('twin-coil', { kind: 'pulse' }, [{ id: 'S1', volts: 24 }]));
    expect([lit(relay, N, []), lit(relay, R, [])]).toEqual([['H1'], ['H2']]);
    expect([lit(relay, N, ['stuck:K1=set']), lit(relay, R, ['stuck:K1=reset'])]).toEqual([['H2'], ['H1']]);
    expect(lit(relay, R, ['open:K1'], { P1: 'normal' })).toEqual(['H1']);
    // It is set by the pulse, not by the drive.
    expect(lit(relay, R, ['open:P1.r'], { P1: 'normal' })).toEqual(['H2']);
    expect([lit(relay, N, ['weld:K1.1=set']), lit(relay, R, ['open:K1.1'])]).toEqual([['H2'], []]);
  });

  it('[WF19] a coil that is open or shorted leaves its point where it was; the other still throws', () => {
    for (const feed of [{ kind: 'pulse' }, { kind: 'charge', farads: 0.0022 }]) {
      const wiring = panel('blade-contact', coils('twin-coil', feed, [{ id: 'S1', volts: 24 }]));
      expect([lit(wiring, N, []), lit(wiring, R, [])]).toEqual([['H1'], ['H2']]);
      // An idle fault of the other coil changes nothing: both are thrown for sure.
      for (const code of ['open:P1.n', 'open:P1.r'])
        for (const [levers, coil, shows] of [
          [N, 'n', 'H1'],
          [R, 'r', 'H2'],
        ] as const)
          for (const before of ['normal', 'reverse'] as const) {
            const stays = before === 'normal' ? 'H1' : 'H2';
            const expected = code === `open:P1.${coil}` ? stays : shows;
            expect([code, lit(wiring, levers, [code], { P1: before })]).toEqual([code, [expected]]);
          }
    }
  });

  it('[WF19] a lost common of a split feed: one drive alone stops', () => {
    const wiring = panel('blade-contact', {
      feed: { kind: 'split', supplies: ['S1', 'S2'] },
      lighting: { scheme: 'blade-contact', supply: 'S9' },
      supplies: ['S1', 'S2', 'S9'].map((id) => ({ id, volts: 12 })),
    });
    expect(lit(wiring, R, [], { P1: 'normal' })).toEqual(['H2']);
    expect(lit(wiring, R, ['open:R0'], { P1: 'normal' })).toEqual(['H1']);
  });

  it('[WF19] a lost common with three drives one way and one the other: 6 V and 18 V; all one way, all dead (notes of the trade, run in ngspice)', () => {
    const { wiring } = wireFile(
      ladder(4, {
        feed: { kind: 'split', supplies: ['S1', 'S2'] },
        supplies: [
          { id: 'S1', volts: 12 },
          { id: 'S2', volts: 12 },
        ],
      }),
    );
    const fault = faultByCode(wiring, 'open:R0');
    if (fault === null) throw new Error('no fault open:R0');
    const volts = (levers: Positions) =>
      operate(wiring, levers, [fault]).drives.map((drive) => Math.round(Math.abs(drive.volts)));
    expect(volts({ L3: 'reverse' })).toEqual([6, 6, 18, 6]);
    expect(volts({})).toEqual([0, 0, 0, 0]);
    // With two each way nothing shows.
    expect(volts({ L3: 'reverse', L4: 'reverse' })).toEqual([12, 12, 12, 12]);
  });
});
