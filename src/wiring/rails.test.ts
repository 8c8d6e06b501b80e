import { describe, expect, it } from 'vitest';
import { checkPanel, type Supply, suppliesOf } from '../panel/index.ts';
import type { Join } from './join.ts';
import { chain, ownerOf, Rails, railNames } from './rails.ts';

function supplies(...records: readonly object[]): readonly Supply[] {
  const read = checkPanel({ format: 'mimic-panel', version: 1, strips: [], supplies: records });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return suppliesOf(read.panel);
}

const told = (joins: readonly Join[]) => joins.map(({ from, to, net }) => `${from} ${to} ${net}`);

function rails(...records: readonly object[]) {
  const joins: Join[] = [];
  return { joins, rails: new Rails(joins, supplies(...records)) };
}

describe('chain', () => {
  it('[FE1] runs from terminal to terminal under the name of its start, and joins nothing to itself', () => {
    const joins: Join[] = [];
    const net = chain(joins, 'L1', 'L1.t2');
    net.reach('R-G1.1');
    net.reach('R-G1.1');
    net.reach('A.1');
    expect(told(joins)).toEqual(['L1.t2 R-G1.1 L1.t2', 'R-G1.1 A.1 L1.t2']);
    expect(joins.every(({ circuit, side, ohms }) => circuit === 'L1' && side === 'panel' && ohms === 0)).toBe(true);
  });
});

describe('Rails', () => {
  it('[FE1] plus comes through its fuse, once; each rail goes on from circuit to circuit, and says which it feeds', () => {
    const { joins, rails: own } = rails({ id: 'S1' });
    own.reach('S1.p', 'L1.t1', 'L1');
    own.reach('S1.m', 'L1.t4', 'L1');
    own.reach('S1.p', 'L2.t1', 'L2');
    expect(told(joins)).toEqual(['S1.p FU-S1.1 S1.p', 'FU-S1.2 L1.t1 S1.p', 'S1.m L1.t4 S1.m', 'L1.t1 L2.t1 S1.p']);
    expect(joins.map(({ circuit, feeds }) => [circuit, feeds])).toEqual([
      ['S1', null],
      ['S1', 'L1'],
      ['S1', 'L1'],
      ['S1', 'L2'],
    ]);
    expect(own.into('L1')).toEqual([
      { terminal: 'L1.t1', net: 'S1.p' },
      { terminal: 'L1.t4', net: 'S1.m' },
    ]);
    expect([own.suppliesOf('L2'), [...own.used]]).toEqual([['S1'], ['S1']]);
  });

  it('[FE1] without a fuse where the file says that there is none', () => {
    const { joins, rails: own } = rails({ id: 'S1', fuse: null });
    own.reach('S1.p', 'L1.t1', 'L1');
    expect(told(joins)).toEqual(['S1.p L1.t1 S1.p']);
  });

  it('[FE3] a middle ties the minus of one supply to the plus of the other, whose fuse then stands in its minus', () => {
    const { joins, rails: own } = rails({ id: 'S1' }, { id: 'S2' });
    own.tie('S1.m', 'S2.p');
    own.tie('S1.m', 'S2.p');
    own.reach('S2.m', 'L1.t3', 'L1');
    own.reach('S1.m', 'R0.1', 'L1');
    expect(told(joins)).toEqual(['S1.m S2.p S1.m', 'S2.m FU-S2.1 S2.m', 'FU-S2.2 L1.t3 S2.m', 'S2.p R0.1 S1.m']);
  });

  it('[FE4] a diode each way, both from the fuse; a capacitor behind each where the supply has one, towards the minus', () => {
    const { joins, rails: own } = rails({ id: 'S1', kind: 'ac', farads: 0.0022 });
    own.reach(railNames.rectifiedPlus('S1'), 'L1.t1', 'L1');
    own.reach(railNames.rectifiedMinus('S1'), 'L1.t3', 'L1');
    expect(told(joins)).toEqual([
      'S1.p FU-S1.1 S1.p',
      'FU-S1.2 SD-S1p.a S1.p',
      'SD-S1p.k CAP-S1p.p SD-S1p.k',
      'S1.m CAP-S1p.m S1.m',
      'CAP-S1p.p L1.t1 SD-S1p.k',
      'SD-S1p.a SD-S1m.k S1.p',
      'SD-S1m.a CAP-S1m.m SD-S1m.a',
      'CAP-S1p.m CAP-S1m.p S1.m',
      'CAP-S1m.m L1.t3 SD-S1m.a',
    ]);
    const bare = rails({ id: 'S1', kind: 'ac' });
    bare.rails.reach(railNames.rectifiedPlus('S1'), 'L1.t1', 'L1');
    expect(told(bare.joins)).toEqual(['S1.p FU-S1.1 S1.p', 'FU-S1.2 SD-S1p.a S1.p', 'SD-S1p.k L1.t1 SD-S1p.k']);
  });

  it('[FE6] a unit is charged through its resistor and its diode, behind the fuse of what charges it', () => {
    const { joins, rails: own } = rails({ id: 'S1' }, { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047 });
    own.reach('C1.p', 'L1.t2', 'L1');
    own.reach('C1.m', 'A.3', 'L1');
    expect(told(joins)).toEqual([
      'S1.p FU-S1.1 S1.p',
      'FU-S1.2 R-C1.1 S1.p',
      'R-C1.2 SD-C1.a R-C1.2',
      'SD-C1.k C1.p C1.p',
      'C1.p L1.t2 C1.p',
      'S1.m C1.m S1.m',
      'C1.m A.3 C1.m',
    ]);
  });

  it('[FE1] a rail belongs to the supply in its name', () => {
    expect(['S1.p', 'S1.m', 'SD-S1p.k', 'SD-S1m.a', 'SD-low-pp.k'].map(ownerOf)).toEqual([
      'S1',
      'S1',
      'S1',
      'S1',
      'low-p',
    ]);
  });
});
