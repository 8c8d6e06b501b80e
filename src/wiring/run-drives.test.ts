import { describe, expect, it } from 'vitest';
import { resolveCatalogue } from '../parts/index.ts';
import type { Join } from './join.ts';
import { chain } from './rails.ts';
import { runWires } from './run-drives.ts';
import type { Pin, WiredDrive } from './types.ts';

const stall = resolveCatalogue(undefined).find('drive', 'stall-2-wire');
if (stall === undefined) throw new Error('no stall drive');

function drive(id: string): WiredDrive {
  if (stall === undefined) throw new Error('no stall drive');
  return {
    id,
    points: [id],
    part: stall,
    circuit: 'L1',
    feed: 'reversing',
    a: `${id}.a`,
    b: `${id}.b`,
    com: null,
    ohms: 800,
    measured: false,
    ampsBand: 0.2,
    whenNormal: 'normal',
    asks: [],
    plusToA: true,
    wire: { length: 4500, gauge: 0.22, guess: false },
  };
}

function pins(id: string, connector: string, first: number): readonly [Pin, Pin] {
  const pin = (number: number, to: string, net: string): Pin => ({
    id: `${connector}.${number}`,
    connector,
    number,
    circuit: 'L1',
    net,
    to,
    fixed: false,
  });
  return [pin(first, `${id}.a`, 'L1.t2'), pin(first + 1, `${id}.b`, 'L1.t5')];
}

describe('runWires', () => {
  it('[WI11] chains the pins of one shell, plus to plus and minus to minus, each shell from the commons', () => {
    const joins: Join[] = [];
    const nets = [chain(joins, 'L1', 'L1.t2'), chain(joins, 'L1', 'L1.t5')];
    runWires(
      ['P1', 'P2', 'P3', 'P4'].map((id) => ({
        names: id,
        circuit: 'L1',
        to: [`${id}.a`, `${id}.b`],
        nets,
        along: drive(id),
      })),
      [],
      new Map([
        ['P1', pins('P1', 'A', 1)],
        ['P2', pins('P2', 'A', 3)],
        ['P3', pins('P3', 'B', 1)],
      ]),
      joins,
    );
    expect(joins.map(({ from, to, net, side }) => `${from} ${to} ${net} ${side}`)).toEqual([
      'L1.t2 A.1 L1.t2 panel',
      'L1.t5 A.2 L1.t5 panel',
      'A.1 A.3 L1.t2 panel',
      'A.2 A.4 L1.t5 panel',
      'L1.t2 B.1 L1.t2 panel',
      'L1.t5 B.2 L1.t5 panel',
      'A.1 P1.a L1.t2 layout',
      'A.2 P1.b L1.t5 layout',
      'A.3 P2.a L1.t2 layout',
      'A.4 P2.b L1.t5 layout',
      'B.1 P3.a L1.t2 layout',
      'B.2 P3.b L1.t5 layout',
    ]);
    // 0.017241 x 4.5 m / 0.22 mm2 = 0.35266 ohm, one way; nothing inside.
    expect(joins.map(({ ohms }) => Number(ohms.toFixed(5)))).toEqual([...Array(6).fill(0), ...Array(6).fill(0.35266)]);
  });
});
