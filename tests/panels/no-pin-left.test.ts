import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { derive } from '../../src/derive.ts';
import { type PanelFile, readPanel } from '../../src/panel/index.ts';

const read = readPanel(readFileSync('examples/bramble-siding.mimic.json', 'utf8'));

/** Five ways: contacts of three wires each find no room, and their circuit no rail. */
describe('contacts that find no pin', () => {
  it.each(['stall-2-wire', 'hand'])('are a finding and no fault of the program, by %s', (part) => {
    if (!read.ok) throw new RangeError('the example cannot be read');
    const panel: PanelFile = {
      ...read.panel,
      drives: read.panel.drives?.map((drive) => ({ ...drive, part })),
      ...(part === 'hand' ? { levers: [] } : {}),
      lighting: { scheme: 'blade-contact', supply: 'S1' },
      connectors: [{ id: 'A', part: 'din-5', panelHalf: 'socket' }],
    };
    const derived = derive(panel);
    expect(derived.findings().map(({ code }) => code)).toContain('connector-full');
    expect(derived.wiring.circuits.every(({ supply }) => supply === 'S1')).toBe(true);
    expect(derived.truth().lamps).toHaveLength(12);
  });
});
