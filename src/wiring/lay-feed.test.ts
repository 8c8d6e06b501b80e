import { describe, expect, it } from 'vitest';
import { ladder, wireFile } from './panel-wired.ts';

const wiring = (more: object, points = 1) => wireFile(ladder(points, more)).wiring;
const ends = (more: object, points = 1) => wiring(more, points).wires.map(({ from, to }) => `${from} ${to}`);
const problems = (more: object, points = 1) => wiring(more, points).problems;

const on = (drive: string, feed: object, supplies: readonly object[], points = 1) => ({
  points: Array.from({ length: points }, (_, i) => ({ id: `P${i + 1}`, at: [60 + 60 * i, 60], drive })),
  feed,
  supplies,
});
const SPLIT = on('stall-2-wire', { kind: 'split', supplies: ['S1', 'S2'] }, [{ id: 'S1' }, { id: 'S2' }]);
const PULSE = on('twin-coil', { kind: 'pulse' }, [{ id: 'S1', volts: 24 }]);

describe('the wires of each kind of feed', () => {
  it('[FE2] reversing: outer tags crossed, both wires to the drive from the commons', () => {
    expect(ends({})).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 L1.t1',
      'S1.m L1.t4',
      'L1.t1 L1.t6',
      'L1.t4 L1.t3',
      'L1.t2 A.1',
      'L1.t5 A.2',
      'A.1 P1.a',
      'A.2 P1.b',
    ]);
  });

  it('[FE3] split: plus and minus on the outer tags of one pole, the drive back to the middle by a return', () => {
    const wires = ends(SPLIT);
    // The return first, so that nothing stands between the middle and what drives share.
    expect(wires).toEqual([
      'S1.m A.2',
      'A.2 R0.1',
      'A.2 S2.p',
      'S1.p FU-S1.1',
      'FU-S1.2 L1.t1',
      'S2.m FU-S2.1',
      'FU-S2.2 L1.t3',
      'L1.t2 A.1',
      'A.1 P1.a',
      'R0.1 P1.b',
    ]);
    expect(wiring(SPLIT).returns).toMatchObject([{ id: 'R0', supply: 'S1', circuits: ['L1'], pins: ['A.2'] }]);
  });

  it('[FE3] twelve levers on a split feed need a wire each and the common return, not two each (notes of the trade)', () => {
    const twelve = on('stall-2-wire', { kind: 'split', supplies: ['S1', 'S2'] }, [{ id: 'S1' }, { id: 'S2' }], 12);
    const { connectors, returns } = wiring(twelve, 12);
    const pins = connectors.flatMap((connector) => connector.pins);
    const back = returns[0]?.pins ?? [];
    // Twelve and one common; that has a way of its own for every six drives.
    expect(pins.length - back.length).toBe(12);
    expect(back.length).toBe(2);
  });

  it('[FE4] half-wave: the same from two diodes and their capacitors', () => {
    const half = on('stall-2-wire', { kind: 'half-wave' }, [{ id: 'S1', kind: 'ac', volts: 9, farads: 0.0022 }]);
    expect(ends(half)).toEqual([
      'S1.m A.2',
      'A.2 R0.1',
      'S1.p FU-S1.1',
      'FU-S1.2 SD-S1p.a',
      'SD-S1p.k CAP-S1p.p',
      'A.2 CAP-S1p.m',
      'CAP-S1p.p L1.t1',
      'SD-S1p.a SD-S1m.k',
      'SD-S1m.a CAP-S1m.m',
      'CAP-S1p.m CAP-S1m.p',
      'CAP-S1m.m L1.t3',
      'L1.t2 A.1',
      'A.1 P1.a',
      'R0.1 P1.b',
    ]);
    const { diodes, capacitors } = wiring(half);
    expect(diodes.map(({ id, what, anode, cathode }) => [id, what, anode, cathode])).toEqual([
      ['SD-S1p', 'rectifier', 'SD-S1p.a', 'SD-S1p.k'],
      ['SD-S1m', 'rectifier', 'SD-S1m.a', 'SD-S1m.k'],
    ]);
    expect(capacitors.map(({ id, farads }) => [id, farads])).toEqual([
      ['CAP-S1p', 0.0022],
      ['CAP-S1m', 0.0022],
    ]);
  });

  it('[FE5] pulse: plus on the common, each outer tag to a coil, both coils back to the minus', () => {
    expect(ends(PULSE)).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 L1.t2',
      'L1.t1 A.1',
      'L1.t3 A.2',
      'S1.m A.3',
      'A.1 P1.n',
      'A.2 P1.r',
      'A.3 P1.com',
    ]);
  });

  it('[FE6] pulse from a unit: the same behind its resistor, its diode and its capacitor', () => {
    const unit = [
      { id: 'S1', volts: 24 },
      { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047, chargeOhms: 100 },
    ];
    const panel = on('twin-coil', { kind: 'pulse', supplies: ['C1'] }, unit);
    expect(ends(panel)).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 R-C1.1',
      'R-C1.2 SD-C1.a',
      'SD-C1.k C1.p',
      'C1.p L1.t2',
      'L1.t1 A.1',
      'L1.t3 A.2',
      'S1.m C1.m',
      'C1.m A.3',
      'A.1 P1.n',
      'A.2 P1.r',
      'A.3 P1.com',
    ]);
    const { resistors, capacitors, diodes, circuits } = wiring(panel);
    expect(resistors).toMatchObject([{ id: 'R-C1', ohms: 100, ohmsFrom: 'file' }]);
    expect(capacitors).toMatchObject([{ id: 'C1', farads: 0.0047, plus: 'C1.p', minus: 'C1.m' }]);
    expect(diodes).toMatchObject([{ id: 'SD-C1', what: 'rectifier' }]);
    // What charges the unit feeds all that the unit feeds.
    expect(circuits[0]?.supplies).toEqual(['C1', 'S1']);
  });

  it('[FE7] charge: through the capacitor, one diode to coil N, the other from coil R', () => {
    const charge = on('twin-coil', { kind: 'charge', farads: 0.0022 }, [{ id: 'S1', volts: 24 }]);
    expect(ends(charge)).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 L1.t1',
      'S1.m L1.t3',
      'L1.t2 CAP-L1.p',
      'CAP-L1.m SD-L1n.a',
      'SD-L1n.a SD-L1r.k',
      'SD-L1n.k A.1',
      'SD-L1r.a A.2',
      'L1.t3 A.3',
      'A.1 P1.n',
      'A.2 P1.r',
      'A.3 P1.com',
    ]);
    expect(wiring(charge).diodes.map(({ id, what }) => [id, what])).toEqual([
      ['SD-L1n', 'steering'],
      ['SD-L1r', 'steering'],
    ]);
    expect(wiring(charge).capacitors).toMatchObject([{ id: 'CAP-L1', farads: 0.0022 }]);
  });

  it('[FE8] contact: one pole closes the input to the common, the board has volts of its own', () => {
    expect(ends(on('servo-board', { kind: 'contact' }, [{ id: 'S1', volts: 5 }]))).toEqual([
      'S1.m L1.t3',
      'L1.t2 A.1',
      'L1.t3 A.2',
      'S1.p FU-S1.1',
      'FU-S1.2 A.3',
      'A.1 P1.a',
      'A.2 P1.b',
      'A.3 P1.p',
    ]);
  });

  it('[FE9] a drive that runs the wrong way round is crossed at its own tags: coils change places, the rest does not', () => {
    const turned = { drives: [{ id: 'D1', positive: 'reverse', part: 'twin-coil' }] };
    const coils = ends({ ...PULSE, points: [{ id: 'P1', at: [60, 60], drive: 'D1' }], ...turned });
    expect(coils.slice(-3)).toEqual(['A.1 D1.r', 'A.2 D1.n', 'A.3 D1.com']);
    const stall = { drives: [{ id: 'D1', positive: 'reverse', part: 'stall-2-wire' }] };
    const wires = ends({ ...SPLIT, points: [{ id: 'P1', at: [60, 60], drive: 'D1' }], ...stall });
    expect(wires.slice(-2)).toEqual(['A.1 D1.b', 'R0.1 D1.a']);
  });
});

describe('feeds that cannot be laid', () => {
  it('[FE10] a supply, or what charges it, that is not there; a kind that does not suit', () => {
    expect(problems({ feed: { kind: 'reversing', supplies: ['S7'] }, supplies: [{ id: 'S1' }] })).toEqual([
      { code: 'supply-unknown', supply: 'S7', by: 'L1' },
    ]);
    const lost = [{ id: 'C1', kind: 'cdu', from: 'S9', farads: 0.0047 }];
    expect(problems(on('twin-coil', { kind: 'pulse', supplies: ['C1'] }, lost))).toEqual([
      { code: 'supply-unknown', supply: 'S9', by: 'C1' },
    ]);
    const unfit = (feed: string, kind: string) =>
      problems(
        on('stall-2-wire', { kind: feed, supplies: ['S1', 'S2'], farads: 0.001 }, [{ id: 'S1', kind }, { id: 'S2' }]),
      );
    const refused: readonly (readonly [string, string])[] = [
      ['reversing', 'ac'],
      ['reversing', 'track'],
      ['split', 'ac'],
      ['half-wave', 'dc'],
      ['half-wave', 'battery'],
      ['pulse', 'ac'],
      ['charge', 'ac'],
      ['contact', 'track'],
    ];
    for (const [feed, kind] of refused)
      expect(unfit(feed, kind)).toEqual([{ code: 'supply-kind-unfit', supply: 'S1', kind, feed }]);
  });

  it('[FE10] a split feed without a second supply, a charge feed without a capacitor', () => {
    for (const supplies of [['S1'], ['S1', 'S1']])
      expect(problems(on('stall-2-wire', { kind: 'split', supplies }, [{ id: 'S1' }, { id: 'S2' }]))).toEqual([
        { code: 'feed-lacks', lever: 'L1', feed: 'split', what: 'second-supply' },
      ]);
    expect(problems(on('twin-coil', { kind: 'charge' }, [{ id: 'S1' }]))).toEqual([
      { code: 'feed-lacks', lever: 'L1', feed: 'charge', what: 'farads' },
    ]);
  });

  it('[FE11] each kind of feed works its own kinds of drive; every other is reported and not wired', () => {
    const kinds = ['stall-2-wire', 'limit-2-wire', 'twin-coil', 'twin-coil-end-off', 'servo-board'];
    // Of the file format's table and the notes of the trade: polarity, which coil, input open or closed.
    const works: Readonly<Record<string, readonly string[]>> = {
      reversing: ['stall-2-wire', 'limit-2-wire'],
      split: ['stall-2-wire', 'limit-2-wire'],
      'half-wave': ['stall-2-wire', 'limit-2-wire'],
      pulse: ['twin-coil', 'twin-coil-end-off'],
      charge: ['twin-coil', 'twin-coil-end-off'],
      contact: ['servo-board'],
    };
    for (const [kind, suits] of Object.entries(works))
      for (const drive of kinds) {
        const supplies = [{ id: 'S1', ...(kind === 'half-wave' ? { kind: 'ac' } : {}) }, { id: 'S2' }];
        const made = wiring(
          on(drive, { kind, supplies: kind === 'split' ? ['S1', 'S2'] : ['S1'], farads: 0.001 }, supplies),
        );
        const unfit = { code: 'drive-kind-unfit', drive: 'P1', part: drive, feed: kind, lever: 'L1' };
        expect(made.problems).toEqual(suits.includes(drive) ? [] : [unfit]);
        expect(made.drives[0]?.feed).toBe(suits.includes(drive) ? kind : null);
      }
  });

  it('[FE12] a coil that a maintained switch holds is reported, on a raw supply and on a unit; one that ends itself is not', () => {
    const held = (drive: string, supply: string, part: string) =>
      problems({
        ...on(drive, { kind: 'pulse', supplies: [supply] }, [
          { id: 'S1' },
          { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047 },
        ]),
        levers: [{ id: 'L1', works: [{ point: 'P1' }], switch: part }],
      });
    const found = (supply: string, cdu: boolean) => [{ code: 'coil-held', drive: 'P1', lever: 'L1', supply, cdu }];
    expect(held('twin-coil', 'S1', 'toggle-1p')).toEqual(found('S1', false));
    expect(held('twin-coil', 'C1', 'toggle-1p')).toEqual(found('C1', true));
    expect(held('twin-coil-end-off', 'S1', 'toggle-1p')).toEqual([]);
    expect(held('twin-coil', 'S1', 'toggle-1p-sprung')).toEqual([]);
  });
});
