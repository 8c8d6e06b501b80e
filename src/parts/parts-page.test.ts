import { describe, expect, it } from 'vitest';
import { TYPICAL_PARTS } from './catalogue.ts';
import { partCautions } from './cautions.ts';
import { figureFacts } from './figure-facts.ts';
import { partsPage } from './parts-page.ts';

const page = partsPage();

describe('the page of all parts', () => {
  it('has one row for every part, with its name', () => {
    for (const part of TYPICAL_PARTS) {
      const rows = page.split('\n').filter((line) => line.startsWith(`| \`${part.id}\` |`));
      expect(rows, part.id).toHaveLength(1);
      expect(rows[0]).toContain(part.name);
    }
  });
  it('speaks of every figure, its source and every caution', () => {
    for (const part of TYPICAL_PARTS) {
      for (const { figure, source } of figureFacts(part)) {
        if (figure !== 'trap') expect(page, `${part.id} ${figure}`).toContain(`\n| \`${figure}\` |`);
        if (figure !== 'trap') expect(page, `${part.id} ${figure}`).toContain(source);
      }
      for (const caution of partCautions(part)) expect(page).toContain(`* ${caution}`);
    }
  });
  it('is a table all through: each row as wide as its head', () => {
    const tables = page.split('\n\n').filter((block) => block.startsWith('|'));
    expect(tables.length).toBeGreaterThan(40);
    for (const block of tables) {
      const widths = block
        .trim()
        .split('\n')
        .map((line) => line.split('|').length);
      expect(new Set(widths).size, block.slice(0, 80)).toBe(1);
    }
  });
  it('holds no figure longer than a reader can check', () => {
    expect(page).not.toMatch(/\d\.\d{7}|\de-\d|NaN|undefined/);
  });
});

describe('cautions', () => {
  const of = (id: string, changed: object = {}) =>
    TYPICAL_PARTS.filter((part) => part.id === id).flatMap((part) => partCautions({ ...part, ...changed }));
  // Common practice, no source: a diode across every coil and relay; a discharge unit keeps its charge.
  it('ask for a diode across a coil, but never across one that takes both polarities', () => {
    expect(of('relay-2p').join()).toContain('diode across it');
    expect(of('twin-coil').join()).toContain('diode across it');
    expect(of('relay-latching-2p').join()).toContain('diode across it');
    expect(of('relay-latching-2p', { coils: 1 }).join()).toContain('No diode');
  });
  it('say that a capacitor keeps its charge', () => {
    for (const id of ['cdu', 'capacitor-4700']) expect(of(id).join()).toContain('100 ohm');
  });
  it('say of a lamp that its breakdown is not given', () => {
    expect(of('led-3-red').join()).toContain('no data sheet says');
  });
});
