import { describe, expect, it } from 'vitest';
import type { LampGroup, LampUse } from '../lamps/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { hangLamps } from './hang-lamps.ts';
import type { Join } from './join.ts';
import { chain } from './rails.ts';

const catalogue = resolveCatalogue(undefined);
const part = catalogue.find('lamp', 'led-3-red');
const guard = catalogue.find('diode', 'diode-small');
if (part === undefined || guard === undefined) throw new Error('no lamp or no diode');

const USES = new Map(
  ['N1', 'N2', 'R1', 'R2'].map((id): readonly [string, LampUse] => [
    id,
    {
      id,
      of: id,
      element: null,
      scheme: 'across-feed',
      circuit: 'L1',
      hang: null,
      supply: 'S1',
      at: [0, 0],
      part,
      claim: [],
      kind: 'leg',
      basis: 'asked',
      from: 'shows',
      span: null,
      lever: 'L1',
      lie: id.startsWith('N') ? 'normal' : 'reverse',
      current: 0.002,
      speaksWhenDark: false,
    },
  ]),
);

function group(
  id: string,
  arrange: LampGroup['arrange'],
  lamps: readonly string[],
  more: Partial<LampGroup> = {},
): LampGroup {
  return {
    id,
    circuit: 'L1',
    scheme: 'across-feed',
    nodes: null,
    arrange,
    guard: 'none',
    normal: lamps.filter((lamp) => lamp.startsWith('N')),
    reverse: lamps.filter((lamp) => lamp.startsWith('R')),
    ohms: 3900,
    ohmsFrom: 'computed',
    watts: 0.02,
    rating: 0.25,
    recorded: false,
    sum: [],
    ...more,
  };
}

/** Lamps between the commons of L1, and the wires that hang them. */
function hang(groups: readonly LampGroup[], uses: ReadonlyMap<string, LampUse> = USES) {
  if (guard === undefined) throw new Error('no diode');
  const joins: Join[] = [];
  const [near, far] = [chain(joins, 'L1', 'L1.t2'), chain(joins, 'L1', 'L1.t5')];
  const hung = hangLamps('L1', groups, uses, guard, { near, far, node: () => null }, joins);
  return { ...hung, joins };
}

/** Wires as "from to net". */
const told = (joins: readonly Join[]) => joins.map(({ from, to, net }) => `${from} ${to} ${net}`);
const wires = (...groups: LampGroup[]) => told(hang(groups).joins);

describe('hangLamps', () => {
  it('[WI10] a pair hangs back to back between its resistor and the far chain', () => {
    expect(wires(group('G1', 'pair', ['N1', 'R1']))).toEqual([
      'L1.t2 R-G1.1 L1.t2',
      'R-G1.2 N1.a R-G1.2',
      'L1.t5 N1.k L1.t5',
      'N1.a R1.k R-G1.2',
      'N1.k R1.a L1.t5',
    ]);
  });

  it('[WI10] both chains go on from group to group, so that no terminal has more than two wires of one chain', () => {
    expect(wires(group('G1', 'pair', ['N1']), group('G2', 'pair', ['R1']))).toEqual([
      'L1.t2 R-G1.1 L1.t2',
      'R-G1.2 N1.a R-G1.2',
      'L1.t5 N1.k L1.t5',
      'R-G1.1 R-G2.1 L1.t2',
      'R-G2.2 R1.k R-G2.2',
      'N1.k R1.a L1.t5',
    ]);
  });

  it('[WI10] a string runs from lamp to lamp, a string of the other lie the other way', () => {
    expect(wires(group('G1', 'series', ['N1', 'N2', 'R1', 'R2']))).toEqual([
      'L1.t2 R-G1.1 L1.t2',
      'R-G1.2 N1.a R-G1.2',
      'N1.k N2.a N1.k',
      'L1.t5 N2.k L1.t5',
      'N1.a R1.k R-G1.2',
      'R1.a R2.k R1.a',
      'N2.k R2.a L1.t5',
    ]);
  });

  it('[WI10] of their own each lamp has a resistor, and a guard has its cathode on the lamp’s anode', () => {
    expect(wires(group('G1', 'own', ['N1', 'R1'], { guard: 'antiparallel' }))).toEqual([
      'L1.t2 R-N1.1 L1.t2',
      'R-N1.2 N1.a R-N1.2',
      'L1.t5 N1.k L1.t5',
      'N1.a GD-N1.k R-N1.2',
      'N1.k GD-N1.a L1.t5',
      'R-N1.1 R-R1.1 L1.t2',
      'R-R1.2 R1.k R-R1.2',
      'N1.k R1.a L1.t5',
      'R1.a GD-R1.k L1.t5',
      'R1.k GD-R1.a R-R1.2',
    ]);
  });

  it('[WI10] says of each lamp its lie, its string and its guard', () => {
    const { lamps, resistors } = hang([group('G1', 'series', ['N1', 'N2', 'R1'], { guard: 'antiparallel' })]);
    expect(lamps.map(({ id, lie, series, guard: own }) => [id, lie, series, own?.id])).toEqual([
      ['N1', 'normal', 'G1=normal', 'GD-N1'],
      ['N2', 'normal', 'G1=normal', 'GD-N2'],
      ['R1', 'reverse', null, 'GD-R1'],
    ]);
    expect(resistors).toMatchObject([{ id: 'R-G1', a: 'R-G1.1', b: 'R-G1.2', ohms: 3900, rating: 0.25 }]);
  });
});
