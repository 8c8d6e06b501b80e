import { describe, expect, it } from 'vitest';
import { ladder, wireFile } from './panel-wired.ts';

const P1 = { id: 'P1', at: [60, 60], drive: 'twin-coil' };
const P2 = { id: 'P2', at: [120, 60], drive: 'twin-coil' };
const button = (id: string, sets: object, more: object = {}) => ({ id, at: [20, 100], sets, ...more });
const BOTH = [button('B1', { P1: 'normal' }), button('B2', { P1: 'reverse' })];

const panel = (more: object, points = 1) =>
  wireFile(
    ladder(points, {
      points: [P1, P2].slice(0, points),
      levers: [],
      buttons: BOTH,
      feed: { kind: 'pulse' },
      supplies: [{ id: 'S1', volts: 24 }],
      ...more,
    }),
  ).wiring;
const ends = (more: object, points = 1) => panel(more, points).wires.map(({ from, to }) => `${from} ${to}`);

describe('pressButtons', () => {
  it('[BU1] two buttons throw a point that no lever works: plus to both, each to its coil, under the name of the point', () => {
    expect(ends({})).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 B1.t1',
      'B1.t1 B2.t1',
      'B1.t2 A.1',
      'B2.t2 A.2',
      'S1.m A.3',
      'A.1 P1.n',
      'A.2 P1.r',
      'A.3 P1.com',
    ]);
    const { circuits, buttons, drives } = panel({});
    expect(circuits).toMatchObject([{ id: 'P1', feed: 'pulse', levers: [], drives: ['P1'] }]);
    expect(buttons.map(({ id, circuit, part }) => [id, circuit, part.id])).toEqual([
      ['B1', 'P1', 'push-1p'],
      ['B2', 'P1', 'push-1p'],
    ]);
    expect(drives[0]).toMatchObject({ circuit: 'P1', feed: 'pulse' });
  });

  it('[BU1] a coil that no button throws has no wire', () => {
    expect(ends({ buttons: BOTH.slice(1) })).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 B2.t1',
      'B2.t2 A.1',
      'S1.m A.2',
      'A.1 P1.r',
      'A.2 P1.com',
    ]);
  });

  it('[BU1] a point that lies opposite to its drive is thrown by the other coil', () => {
    const opposite = { points: [{ ...P1, drive: 'D1', sense: 'opposite' }], drives: [{ id: 'D1', part: 'twin-coil' }] };
    // B1 wants the point normal: the drive reverse.
    expect(panel(opposite).buttons.map(({ poles }) => poles[0]?.lie)).toEqual(['reverse', 'normal']);
    expect(ends(opposite).filter((wire) => wire.startsWith('B'))).toEqual(['B1.t1 B2.t1', 'B2.t2 A.1', 'B1.t2 A.2']);
    expect(ends(opposite)).toContain('A.1 D1.n');
  });

  it('[BU2] beside a lever each button brings plus to the coil that the lever throws', () => {
    const levers = [{ id: 'L1', works: [{ point: 'P1' }] }];
    expect(ends({ levers })).toEqual([
      'S1.p FU-S1.1',
      'FU-S1.2 L1.t2',
      'L1.t2 B1.t1',
      'L1.t1 B1.t2',
      'B1.t1 B2.t1',
      'L1.t3 B2.t2',
      'L1.t1 A.1',
      'L1.t3 A.2',
      'S1.m A.3',
      'A.1 P1.n',
      'A.2 P1.r',
      'A.3 P1.com',
    ]);
    // The lever's own feed counts.
    const own = { levers: [{ ...levers[0], feed: { kind: 'pulse' } }], feed: { kind: 'reversing' } };
    expect(panel(own).problems).toEqual([]);
  });

  it('[BU3] two poles throw two points; with one pole the second is reported', () => {
    const both = (part: string) => panel({ buttons: [button('B1', { P1: 'normal', P2: 'reverse' }, { part })] }, 2);
    expect(both('push-2p').problems).toEqual([]);
    expect(both('push-2p').buttons.map(({ circuit, poles }) => [circuit, poles[0]?.id, poles[0]?.a])).toEqual([
      ['P1', 'B1.1', 'B1.t1'],
      ['P2', 'B1.2', 'B1.t3'],
    ]);
    expect(both('push-1p').problems).toEqual([{ code: 'button-unfit', button: 'B1', point: 'P2', why: 'poles' }]);
  });

  it('[BU3] a button works coils on pulses and nothing else', () => {
    const why = (more: object) => panel(more).problems.map((each) => ('why' in each ? each.why : each.code));
    expect(why({ points: [{ ...P1, drive: 'stall-2-wire' }] })).toEqual(['drive', 'drive']);
    expect(why({ feed: { kind: 'charge', farads: 0.0022 } })).toEqual(['feed', 'feed']);
    expect(why({ supplies: [] })).toEqual(['feed', 'feed']);
    expect(why({ supplies: [{ id: 'S1', kind: 'ac' }] })).toEqual(['feed', 'feed']);
    expect(why({ buttons: [button('B1', { P9: 'normal' })] })).toEqual(['unknown']);
  });
});
