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

  it('[WI12] in series a pair stands back to back on the way to the drive, which goes on behind it', () => {
    const series = { scheme: 'in-series', ohms: 0 } as const;
    const { joins, near, resistors } = hang([group('G1', 'pair', ['N1', 'R1'], series)]);
    expect(told(joins)).toEqual(['L1.t2 N1.a L1.t2', 'N1.a R1.k L1.t2', 'N1.k R1.a N1.k']);
    expect(resistors).toEqual([]);
    near.reach('A.1');
    expect(told(joins).slice(-1)).toEqual(['R1.a A.1 N1.k']);
  });

  it('[WI12] in series groups stand one behind the other, each behind the resistor that the file gives it', () => {
    const series = (ohms: number) => ({ scheme: 'in-series', ohms }) as const;
    const { joins } = hang([
      group('G1', 'pair', ['N1', 'R1'], series(47)),
      group('G2', 'series', ['N2', 'R2'], series(0)),
    ]);
    expect(told(joins)).toEqual([
      'L1.t2 R-G1.1 L1.t2',
      'R-G1.2 N1.a R-G1.2',
      'N1.a R1.k R-G1.2',
      'N1.k R1.a N1.k',
      'R1.a N2.a N1.k',
      'N2.a R2.k N1.k',
      'N2.k R2.a N2.k',
    ]);
  });

  it('[WI12] in series a lamp alone has a guard across it, so that the drive can run the other way', () => {
    const { joins } = hang([group('G1', 'own', ['R1'], { scheme: 'in-series', ohms: 0, guard: 'antiparallel' })]);
    expect(told(joins)).toEqual(['L1.t2 R1.k L1.t2', 'R1.a GD-R1.k R1.a', 'R1.k GD-R1.a L1.t2']);
  });
});

/** Lamps on the two throws of L1's third pole, far ends at the minus of S9. */
function hangOnContacts(groups: readonly LampGroup[], uses: ReadonlyMap<string, LampUse> = HUNG) {
  if (guard === undefined) throw new Error('no diode');
  const joins: Join[] = [];
  const nodes = new Map([
    ['plus/L1=normal', chain(joins, 'L1', 'L1.t7')],
    ['plus/L1=reverse', chain(joins, 'L1', 'L1.t9')],
    ['minus', chain(joins, 'L1', 'S9.m')],
  ]);
  const none = chain(joins, 'L1', 'L1.t2');
  const nets = { near: none, far: none, node: (name: string) => nodes.get(name) ?? null };
  return { ...hangLamps('L1', groups, uses, guard, nets, joins), joins };
}

const hung = (use: LampUse): LampUse => {
  const lie = use.lie ?? 'normal';
  const hang = { plus: `plus/L1=${lie}`, minus: 'minus', side: lie, contact: 'L1.3', cube: { L1: lie } };
  return { ...use, scheme: 'spare-pole', supply: 'S9', hang };
};
const HUNG = new Map([...USES].map(([id, use]) => [id, hung(use)] as const));
const NODES = { normal: 'plus/L1=normal', reverse: 'plus/L1=reverse', far: 'minus' };
const contacts = (arrange: LampGroup['arrange'], lamps: readonly string[], more: Partial<LampGroup> = {}) =>
  group('G1', arrange, lamps, { scheme: 'spare-pole', nodes: NODES, ...more });

describe('lamps on contacts', () => {
  it('[WI13] both throws of one contact: anodes to the throws, cathodes to one resistor at the far end', () => {
    const { joins, lamps } = hangOnContacts([contacts('pair', ['N1', 'R1'])]);
    expect(told(joins)).toEqual([
      'L1.t7 N1.a L1.t7',
      'R-G1.1 N1.k R-G1.1',
      'L1.t9 R1.a L1.t9',
      'N1.k R1.k R-G1.1',
      'S9.m R-G1.2 S9.m',
    ]);
    expect(lamps.map(({ id, by, cube, lie }) => [id, by, cube, lie])).toEqual([
      ['N1', 'contacts', { L1: 'normal' }, 'normal'],
      ['R1', 'contacts', { L1: 'reverse' }, 'reverse'],
    ]);
  });

  it('[WI13] a string on each throw, lamps side by side, or a resistor for each', () => {
    expect(told(hangOnContacts([contacts('series', ['N1', 'N2', 'R1'])]).joins)).toEqual([
      'L1.t7 N1.a L1.t7',
      'N1.k N2.a N1.k',
      'R-G1.1 N2.k R-G1.1',
      'L1.t9 R1.a L1.t9',
      'N2.k R1.k R-G1.1',
      'S9.m R-G1.2 S9.m',
    ]);
    expect(told(hangOnContacts([contacts('parallel', ['N1', 'N2'])]).joins)).toEqual([
      'L1.t7 N1.a L1.t7',
      'R-G1.1 N1.k R-G1.1',
      'N1.a N2.a L1.t7',
      'N1.k N2.k R-G1.1',
      'S9.m R-G1.2 S9.m',
    ]);
    expect(told(hangOnContacts([contacts('own', ['N1', 'R1'])]).joins)).toEqual([
      'L1.t7 N1.a L1.t7',
      'R-N1.1 N1.k R-N1.1',
      'S9.m R-N1.2 S9.m',
      'L1.t9 R1.a L1.t9',
      'R-R1.1 R1.k R-R1.1',
      'R-N1.2 R-R1.2 S9.m',
    ]);
  });

  it('[WI13] a guard that the file asks for lies across its lamp, cathode to anode', () => {
    expect(told(hangOnContacts([contacts('own', ['N1'], { guard: 'antiparallel' })]).joins)).toEqual([
      'L1.t7 N1.a L1.t7',
      'N1.a GD-N1.k L1.t7',
      'N1.k GD-N1.a R-N1.1',
      'R-N1.1 N1.k R-N1.1',
      'S9.m R-N1.2 S9.m',
    ]);
  });
});

describe('lamps of two colours', () => {
  const elements = (partId: string, of: (use: LampUse) => LampUse) => {
    const own = catalogue.find('lamp', partId);
    if (own === undefined) throw new Error(`no ${partId}`);
    return new Map(
      (['A', 'B'] as const).map((element): readonly [string, LampUse] => {
        const base = USES.get(element === 'A' ? 'N1' : 'R1');
        if (base === undefined) throw new Error('no lamp');
        return [`H1${element}`, of({ ...base, id: `H1${element}`, of: 'H1', element, part: own })];
      }),
    );
  };
  const pair = (more: Partial<LampGroup> = {}) =>
    group('G1', 'pair', [], { normal: ['H1A'], reverse: ['H1B'], ...more });

  it('[WI14] two leads across a feed: the anode of one element is the cathode of the other, one resistor, three wires', () => {
    const { joins, lamps } = hang(
      [pair()],
      elements('led-5-red-green-2', (use) => use),
    );
    expect(told(joins)).toEqual(['L1.t2 R-G1.1 L1.t2', 'R-G1.2 H1.a R-G1.2', 'L1.t5 H1.k L1.t5']);
    expect(lamps.map(({ id, of, anode, cathode }) => [id, of, anode, cathode])).toEqual([
      ['H1A', 'H1', 'H1.a', 'H1.k'],
      ['H1B', 'H1', 'H1.k', 'H1.a'],
    ]);
  });

  it('[WI14] two leads in series with a drive', () => {
    const { joins, near } = hang(
      [pair({ scheme: 'in-series', ohms: 0 })],
      elements('led-5-red-green-2', (use) => use),
    );
    expect(told(joins)).toEqual(['L1.t2 H1.a L1.t2']);
    near.reach('A.1');
    expect(told(joins).slice(-1)).toEqual(['H1.k A.1 H1.k']);
  });

  it('[WI14] three leads on contacts: an anode to each throw, the common cathode to the resistor', () => {
    const { joins, lamps } = hangOnContacts([pair({ nodes: NODES })], elements('led-5-red-green-3c', hung));
    expect(told(joins)).toEqual(['L1.t7 H1.a1 L1.t7', 'R-G1.1 H1.k R-G1.1', 'L1.t9 H1.a2 L1.t9', 'S9.m R-G1.2 S9.m']);
    expect(lamps.map(({ anode, cathode }) => [anode, cathode])).toEqual([
      ['H1.a1', 'H1.k'],
      ['H1.a2', 'H1.k'],
    ]);
  });
});
