import { describe, expect, it } from 'vitest';
import { fileFormatPage } from './file-format-page.ts';
import { knownKeys, type Outline, panelOutline } from './outline.ts';
import { checkPanel } from './read.ts';

/** Paths of every object that the file knows, as the page heads them. */
function headings(outline: Outline, path: string): string[] {
  if (outline.kind === 'list') return headings(outline.item, `${path}[]`);
  if (outline.kind === 'table') return headings(outline.value, `${path}.{id}`);
  const known = knownKeys(outline);
  if (known === null) return [];
  return [path, ...[...known].flatMap(([key, inner]) => headings(inner, path === '' ? key : `${path}.${key}`))];
}

describe('fileFormatPage', () => {
  const page = fileFormatPage();

  it('[DS2] has one part for each object of the file, in order', () => {
    const heads = [...page.matchAll(/^## (.*)$/gm)].map((match) => match[1]);
    const expected = headings(panelOutline, '').map((path) => (path === '' ? 'The file' : `\`${path}\``));
    expect(new Set(heads)).toEqual(new Set(expected));
    expect(heads).toHaveLength(new Set(heads).size);
  });

  it('[DS2] gives every key four cells, the last a sentence', () => {
    const rows = page.split('\n').filter((line) => line.startsWith('| `'));
    expect(rows.length).toBeGreaterThan(150);
    for (const row of rows) {
      const cells = row.split(' | ');
      expect(cells, row).toHaveLength(4);
      expect(cells[3], row).toMatch(/^[`A-Z].*\. \|$/);
    }
  });

  it('[DS2] shows a least file that opens', () => {
    const block = /```json\n(.*)\n```/.exec(page);
    expect(checkPanel(JSON.parse(block?.[1] ?? '')).ok).toBe(true);
  });
});
