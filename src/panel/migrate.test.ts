import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Migration, migrate } from './migrate.ts';
import { readPanel } from './read.ts';
import { VERSION } from './schema.ts';

const folder = new URL('../../tests/panels/old/', import.meta.url);

describe('migrate', () => {
  it('[MG1] opens a saved sample of every version so far', () => {
    const samples = readdirSync(folder).sort();
    expect(samples).toEqual(Array.from({ length: VERSION }, (_, i) => `version-${i + 1}.mimic.json`));
    for (const sample of samples) expect(readPanel(readFileSync(new URL(sample, folder), 'utf8')).ok).toBe(true);
  });

  it('[MG1] goes one version at a time, and throws where a step is missing', () => {
    const steps = new Map<number, Migration>([
      [1, (file) => ({ ...file, one: true })],
      [2, (file) => ({ ...file, two: file.one })],
    ]);
    const file = { version: 1, strips: [] };
    expect(migrate(file, 1, 3, steps)).toEqual({ version: 3, strips: [], one: true, two: true });
    expect(file).toEqual({ version: 1, strips: [] });
    expect(() => migrate(file, 1, 4, steps)).toThrow('no step leads from version 3 to 4');
    expect(migrate(file, 1)).toBe(file);
  });
});
