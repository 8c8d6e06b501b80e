/** Single faults of small panels: the proof beside brute force over every setting and every history of the whole panel. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { derive } from '../../src/derive.ts';
import { readPanel } from '../../src/panel/index.ts';
import { proveFaults } from '../../src/truth/index.ts';
import { faultsOf } from '../../src/wiring/index.ts';
import { everyFault } from '../oracle/every-fault.ts';

const VARIANTS: Readonly<Record<string, (file: Record<string, unknown>) => void>> = {
  'as it stands': () => {},
  'a lever for each point': (file) => {
    delete file.levers;
  },
  'one lever that rests in the middle': (file) => {
    file.levers = [
      { id: 'L1', switch: 'toggle-2p-centre-off', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] },
      { id: 'L2', works: [{ point: 'P3' }] },
    ];
  },
  'two points on one drive, one of them the other way': (file) => {
    file.points = [
      { id: 'P1', at: [60, 58], drive: 'D1' },
      { id: 'P2', at: [240, 58], drive: 'D1', sense: 'opposite' },
      { id: 'P3', at: [122, 58], drive: 'D3' },
    ];
    file.levers = [
      { id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] },
      { id: 'L2', works: [{ point: 'P3' }] },
    ];
  },
  'a weak supply': (file) => {
    file.supplies = [{ id: 'S1', volts: 12, ohms: 30 }];
  },
  'limit-switched drives': (file) => {
    file.drives = ['D1', 'D2', 'D3'].map((id) => ({ id, part: 'limit-2-wire' }));
  },
  'lamps that speak when dark': (file) => {
    file.lamps = [
      { id: 'H1', at: [84, 58], part: 'led-3-green', shows: { P1: 'normal' }, dark: 'opposite' },
      { id: 'H2', at: [142, 45.5], part: 'led-3-amber', shows: { P3: 'reverse' } },
    ];
    delete file.lampGroups;
  },
};

describe('single faults beside brute force', () => {
  test.each(Object.keys(VARIANTS))('[TR16] Bramble Siding, %s', (name) => {
    const file = JSON.parse(readFileSync('examples/bramble-siding.mimic.json', 'utf8'));
    VARIANTS[name]?.(file);
    const read = readPanel(JSON.stringify(file));
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    const { plan, switches, lamps, wiring } = derive(read.panel);
    // Every third fault: brute force takes its time, and kinds stand in runs.
    const faults = faultsOf(wiring).filter((_fault, i) => i % 3 === 0);
    const proved = new Map(
      proveFaults({ plan, switches, lamps, wiring }).outcomes.map(({ fault, class: found }) => [fault, found]),
    );
    const tried = everyFault(wiring, lamps, faults);
    expect(Object.fromEntries(faults.map(({ code }) => [code, proved.get(code)]))).toEqual(Object.fromEntries(tried));
    expect(faults.length).toBeGreaterThan(40);
  });
});
