import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { derive } from '../../derive.ts';
import { applyTransaction, invertTransaction, type PanelFile, readPanel } from '../../panel/index.ts';
import type { WireGroup, WireValue } from '../worker/wire-types.ts';
import { makeWireView } from '../worker/wire-view.ts';
import { fixValue } from './edits.ts';

function bramble(): PanelFile {
  const read = readPanel(readFileSync('examples/bramble-siding.mimic.json', 'utf8'));
  if (!read.ok) throw new Error('the example cannot be read');
  return read.panel;
}

function valuesOf(panel: PanelFile): { readonly values: readonly WireValue[]; readonly groups: readonly WireGroup[] } {
  const shown = makeWireView(derive(panel), { circuit: 'L1', levers: {}, fault: null, history: {} }).shown;
  if (shown === null) throw new Error('nothing is shown');
  return shown;
}

const figure = (value: WireValue | undefined): number | undefined =>
  value === undefined
    ? undefined
    : 'ohms' in value
      ? value.ohms
      : 'volts' in value
        ? value.volts
        : 'length' in value
          ? value.length
          : value.amps;

test.each([
  ['ohms', 4700],
  ['lamp-amps', 0.001],
  ['supply-volts', 12],
  ['drive-amps', 0.0148],
  ['wire-length', 5000],
] as const)(
  'a figure that is fixed is the user’s, follows in the sum, is taken back, and left to the sum again: %s',
  (what, figure_) => {
    const panel = bramble();
    const { values, groups } = valuesOf(panel);
    const value = values.find((each) => each.what === what);
    if (value === undefined) throw new Error(`no ${what}`);
    const group = value.what === 'ohms' ? (groups.find(({ id }) => id === value.group) ?? null) : null;
    const edit = fixValue(panel, value, figure_, group);
    if (edit === null) throw new Error('nothing is fixed');
    const after = applyTransaction(panel, edit);
    const there = valuesOf(after).values.find((each) => each.what === what && each.id === value.id);
    expect([figure(there), there?.given]).toEqual([figure_, true]);
    expect(applyTransaction(after, invertTransaction(edit))).toEqual(panel);
    const free = fixValue(after, value, undefined, group);
    if (free === null) throw new Error('nothing is left to the sum');
    const left = valuesOf(applyTransaction(after, free)).values.find(
      (each) => each.what === what && each.id === value.id,
    );
    expect(left?.given).toBe(false);
  },
);

test('what is left to the sum already is no edit', () => {
  const panel = bramble();
  const { groups } = valuesOf(panel);
  expect(fixValue(panel, { what: 'ohms', id: 'R-G1' }, undefined, groups[0] ?? null)).toBeNull();
});
