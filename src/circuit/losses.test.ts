import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { netlistOf } from './notation.ts';
import { prepare } from './prepared.ts';

/** P above M by 12 V; a bridge of two lamps' ways behind a common one. */
const NETWORK =
  'W1 p a 0; R1 a b 100; W2 b c 0; R2 c d 300; W3 d m 0; R3 c e 200; W4 e f 0; W5 f m 0; C1 c g off; R4 g m 50';

describe('names of losses', () => {
  const network = prepare(netlistOf(NETWORK), { ports: ['m', 'p'] });
  network.solve({ ports: [0, 12] });
  const nameOf = (id: string): string | null => network.lossesNow()(network.handle(id));

  it('are one for all that carry the same', () => {
    expect(nameOf('W4')).toBe(nameOf('R3'));
    expect(nameOf('W5')).toBe(nameOf('R3'));
    expect(nameOf('W3')).toBe(nameOf('R2'));
    expect(nameOf('W2')).toBe(nameOf('R1'));
    expect(new Set(['R1', 'R2', 'R3'].map(nameOf)).size).toBe(3);
  });

  it('are none where nothing flows for sure, and for one of two wires side by side', () => {
    expect(nameOf('R4')).toBeNull();
    const twice = prepare(netlistOf('W1 p a 0; W2 p a 0; R1 a m 100'), { ports: ['m', 'p'] });
    twice.solve({ ports: [0, 12] });
    expect(twice.lossesNow()(twice.handle('W1'))).toBeNull();
  });

  it('stand for the same readings, whichever is cut or gets ohms (seed 611)', () => {
    const node = fc.integer({ min: 0, max: 7 });
    const element = fc.record({ a: node, b: node, ohms: fc.constantFrom(0, 0, 10, 33, 100) });
    const elements = fc.array(element, { minLength: 4, maxLength: 16 });
    let alike = 0;
    fc.assert(
      fc.property(elements, fc.constantFrom<'open' | number>('open', 470), (list, what) => {
        const text = list
          .filter(({ a, b }) => a !== b)
          .map(({ a, b, ohms }, k) => `${ohms === 0 ? 'W' : 'R'}${k} n${a} n${b} ${ohms}`);
        const netlist = netlistOf([...text, 'R90 n0 n7 1000'].join('; '));
        const network = prepare(netlist, { ports: ['n0', 'n7'] });
        network.edit([]);
        if (network.find() === null) return;
        network.solve({ ports: [0, 12] });
        const names = network.lossesNow();
        const named = netlist.elements.flatMap(({ id, kind }) => {
          const name = names(network.handle(id));
          return name === null || (what !== 'open' && kind !== 'wire') ? [] : [{ id, name }];
        });
        const read = new Map<string, { readonly id: string; readonly amps: readonly number[] }>();
        for (const { id, name } of named) {
          network.edit([what === 'open' ? { do: 'open', element: id } : { do: 'ohms', element: id, ohms: what }]);
          network.solve({ ports: [0, 12] });
          const resistors = netlist.elements.filter((each) => each.kind === 'resistor');
          const amps = resistors.map((each) => network.amps(network.handle(each.id)));
          const other = read.get(name);
          if (other === undefined) {
            read.set(name, { id, amps });
            continue;
          }
          alike++;
          amps.forEach((each, k) => {
            expect(each, `${id} and ${other.id}, both ${name}`).toBeCloseTo(other.amps[k] ?? Number.NaN, 9);
          });
        }
      }),
      { seed: 611, numRuns: 1000 },
    );
    expect(alike).toBeGreaterThan(200);
  });
});
