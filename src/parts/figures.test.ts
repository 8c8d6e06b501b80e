import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type OwnPart, resolveCatalogue, TYPICAL_PARTS } from './catalogue.ts';
import { figureNames } from './figures.ts';

const page = readFileSync(new URL('../../docs/parts-from-a-data-sheet.md', import.meta.url), 'utf8');

describe('the page on filling in a part', () => {
  const table = page.slice(page.indexOf('## Every figure at a glance'));
  it('speaks of every figure that a part may be given', () => {
    for (const kind of new Set(TYPICAL_PARTS.map((part) => part.kind))) {
      for (const figure of figureNames(kind)) expect(table, `${kind}: ${figure}`).toContain(`\`${figure}\``);
    }
  });

  const examples = [...page.matchAll(/```json\n("parts": [^`]*)```/g)].map((match) => match[1] ?? '');
  it('has an example for each kind that a builder measures', () => {
    expect(examples.length).toBeGreaterThanOrEqual(10);
  });
  it.each(examples)('gives an example that is sound: %s', (example) => {
    const own: { readonly parts: OwnPart[] } = JSON.parse(`{${example}}`);
    const catalogue = resolveCatalogue(own.parts);
    expect(catalogue.problems).toEqual([]);
    for (const { id, like: _like, ...figures } of own.parts) {
      const part = TYPICAL_PARTS.map((each) => catalogue.find(each.kind, id)).find((each) => each !== undefined);
      expect(part).toMatchObject(figures);
    }
  });

  // Plain arithmetic: every worked sum of the page is a single step, and its answer is right to the figures it is given with.
  const sums = [...page.matchAll(/`([\d.]+) \S+ ([-+x/]) ([\d.]+) \S+ = ([\d.]+) ?[A-Za-z]*2?`/g)];
  it('has worked sums', () => {
    expect(sums.length).toBeGreaterThanOrEqual(20);
    expect(page.match(/`[^`]* = [^`]*`/g)).toHaveLength(sums.length);
  });
  it.each(sums.map((match) => [...match]))('is right: %s', (_sum, a, sign, b, answer) => {
    const [left, right] = [Number(a), Number(b)];
    const exact =
      { '+': left + right, '-': left - right, x: left * right, '/': left / right }[sign ?? ''] ?? Number.NaN;
    const decimals = (answer ?? '').split('.')[1]?.length ?? 0;
    expect(Math.abs(exact - Number(answer))).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-12);
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
