import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { resolveCatalogue, TYPICAL_PARTS } from './catalogue.ts';
import { figureNames } from './figures.ts';

const page = readFileSync(new URL('./README.md', import.meta.url), 'utf8');

describe('the page on filling in a part', () => {
  it('speaks of every figure that a part may be given', () => {
    for (const kind of new Set(TYPICAL_PARTS.map((part) => part.kind))) {
      for (const figure of figureNames(kind)) expect(page, `${kind}: ${figure}`).toContain(`\`${figure}\``);
    }
  });
  it('gives an example that is sound', () => {
    const example = /```json\n"parts": (.*)\n```/.exec(page)?.[1] ?? '';
    const catalogue = resolveCatalogue(JSON.parse(example));
    expect(catalogue.problems).toEqual([]);
    expect(catalogue.find('drive', 'my-motor')?.stallAmps).toBe(0.016);
  });
});

describe('a user who slips by a thousand', () => {
  it.each([
    ['led-3-red', 'vf', 1800],
    ['led-3-red', 'at', 2000],
    ['led-3-red', 'max', 20],
    ['stall-2-wire', 'stallAmps', 15],
    ['limit-2-wire', 'runAmps', 120],
    ['twin-coil', 'coilHenries', 5000],
    ['relay-latching-2p', 'pulseSeconds', 1000],
    ['toggle-2p', 'hole', 12200],
    ['capacitor-2200', 'farads', 2200],
  ])('is told: %s %s %d', (id, figure, value) => {
    expect(resolveCatalogue([{ id, [figure]: value }]).problems).toMatchObject([
      { code: 'part-figure-bad', id, figure },
    ]);
  });
});
