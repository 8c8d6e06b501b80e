import { describe, expect, it } from 'vitest';
import { type LampPart, resolveCatalogue } from '../parts/index.ts';
import { lookOf } from './look.ts';

function part(more: Partial<LampPart>): LampPart {
  const found = resolveCatalogue(undefined).find('lamp', 'led-3-red');
  if (found === undefined) throw new Error('no led-3-red');
  return { ...found, ...more };
}

describe('lookOf', () => {
  // File format: unlit below `seen`, faint to five times that or `max`, good to `max`, bright to twice `max`, destroyed above.
  it.each([
    [0, 'unlit'],
    [0.000199, 'unlit'],
    [0.0002, 'faint'],
    [0.000999, 'faint'],
    [0.001, 'good'],
    [0.02, 'good'],
    [0.0201, 'bright'],
    [0.04, 'bright'],
    [0.0401, 'destroyed'],
  ] as const)('[LK1] at %d A a lamp of 0.2 mA and 20 mA is %s', (amps, look) => {
    expect(lookOf(part({ seen: 0.0002, max: 0.02 }), amps)).toBe(look);
  });

  it('[LK1] is faint no further than its greatest current', () => {
    const weak = part({ seen: 0.002, max: 0.006 });
    expect([lookOf(weak, 0.0059), lookOf(weak, 0.006), lookOf(weak, 0.0061)]).toEqual(['faint', 'good', 'bright']);
  });
});
