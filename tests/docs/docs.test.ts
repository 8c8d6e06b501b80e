/** What the documents promise is there: links lead somewhere, every rule has a test, every folder its door and its page. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { describe, expect, it } from 'vitest';
import layers from '../../layers.json' with { type: 'json' };

function filesBelow(folder: string, ending: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith(ending) && !file.includes('node_modules'))
    .map((file) => join(folder, file))
    .sort();
}

const pages = ['README.md', 'CHANGELOG.md', 'RUNBOOK.md', ...filesBelow('docs', '.md'), ...filesBelow('src', '.md')];

describe('documents', () => {
  it.each(pages)('every link of %s leads somewhere', (page) => {
    const text = readFileSync(page, 'utf8');
    const links = [...text.matchAll(/\]\(([^)#\s]+)(?:#[^)]*)?\)/g)].map((match) => match[1] ?? '');
    const dead = links.filter((link) => !/^[a-z]+:/.test(link) && !existsSync(normalize(join(dirname(page), link))));
    expect(dead).toEqual([]);
  });

  const specs = filesBelow('src', 'SPEC.md');
  it.each(specs)('every rule of %s has a test that cites it, and every citation there a rule', (spec) => {
    const rules = [...readFileSync(spec, 'utf8').matchAll(/\b([A-Z]{2,3}\d+)\b(?=\W)/g)].map((match) => match[1] ?? '');
    const tests = [...filesBelow(dirname(spec), '.test.ts'), ...filesBelow('tests', '.test.ts')]
      .map((file) => readFileSync(file, 'utf8'))
      .join('\n');
    const cited = new Set([...tests.matchAll(/\[([A-Z]{2,3}\d+)\]/g)].map((match) => match[1] ?? ''));
    const families = new Set(rules.map((rule) => rule.replace(/\d+$/, '')));
    expect([...new Set(rules)].filter((rule) => !cited.has(rule))).toEqual([]);
    expect([...cited].filter((rule) => families.has(rule.replace(/\d+$/, '')) && !rules.includes(rule))).toEqual([]);
  });

  it('every folder of the table that exists has its door and its page, and every folder that exists is in the table', () => {
    const named = [...layers.pure, ...layers.shells].map((layer) => layer.name);
    const folders = readdirSync('src').filter((name) => statSync(join('src', name)).isDirectory());
    expect(folders.filter((name) => !named.includes(name))).toEqual([]);
    const bare = folders.filter((name) => !existsSync(join('src', name, 'README.md')));
    expect(bare).toEqual([]);
    const pure = layers.pure.map((layer) => layer.name);
    expect(folders.filter((name) => pure.includes(name) && !existsSync(join('src', name, 'index.ts')))).toEqual([]);
  });

  it('architecture.md names the folders in the order of the table', () => {
    const text = readFileSync('docs/architecture.md', 'utf8');
    const rows = [...text.matchAll(/^\| `([a-z]+)(?:\.ts)?`(?:, `[a-z]+`)? \|/gm)].map((match) => match[1] ?? '');
    const order = layers.pure
      .map((layer) => layer.name)
      .filter((name) => existsSync(join('src', name)) || name === 'derive');
    expect(rows.filter((name) => order.includes(name))).toEqual(order);
  });
});
