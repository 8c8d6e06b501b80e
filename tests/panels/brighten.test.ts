import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { derive } from '../../src/derive.ts';
import { applyTransaction, type PanelFile, readPanel } from '../../src/panel/index.ts';

function siding(ohms: number): PanelFile {
  const read = readPanel(readFileSync('examples/bramble-siding.mimic.json', 'utf8'));
  if (!read.ok) throw new Error('the example cannot be read');
  const { panel } = read;
  const blue = new Set(['H1', 'H2', 'H3', 'H4', 'H5', 'H6', 'H7', 'H8']);
  return {
    ...panel,
    lamps: (panel.lamps ?? []).map((lamp) => (blue.has(lamp.id) ? { ...lamp, part: 'led-3-blue' } : lamp)),
    lampGroups: [{ id: 'G1', lamps: [...blue], arrange: 'series', ohms }],
  };
}

// By hand: four blue lamps at 2.75 V each want 11 V, and the supply has 9 V (8.55 V at its least): no resistor lights them.
test('a string that wants more than the supply has is paired or given resistors, never a smaller one', () => {
  const panel = siding(390);
  const lies = derive(panel)
    .findings()
    .filter(({ code }) => code === 'lamp-lies');
  expect(lies.length).toBe(8);
  for (const { mends } of lies) expect(mends.map(({ id }) => id)).toEqual(['pair-up', 'own-resistors']);
  for (const mend of lies[0]?.mends ?? []) {
    if (mend.edit === null) throw new Error(`${mend.id} does nothing`);
    const after = derive(applyTransaction(panel, mend.edit));
    expect([mend.id, after.findings().filter(({ severity }) => severity === 'wrong' || severity === 'danger')]).toEqual(
      [mend.id, []],
    );
  }
});
