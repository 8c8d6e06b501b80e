import { describe, expect, it } from 'vitest';
import { combine } from '../../src/cli/combine.ts';
import { answerSchemas } from '../../src/cli/index.ts';
import { BRAMBLE, runInMemory } from './memory.ts';

/** One point, its lever, a lamp on each leg: all figures can be counted on one hand. */
const ONE_POINT = JSON.stringify(combine({ drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed' }));
const FILES = { 'one.mimic.json': ONE_POINT };
const KEYS = ['name', 'parts', 'wires', 'pins', 'joints', 'amps', 'cost', 'wrongSideShare'];

/** Rows of a CSV without quotes that hold commas in what is counted here. */
const rows = (bytes: Uint8Array | undefined): readonly (readonly string[])[] =>
  new TextDecoder()
    .decode(bytes)
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map((line) => [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)].map((match) => match[1] ?? ''));

describe('compare', () => {
  it('answers in its shape, the same bytes again, the panel as it is first', async () => {
    const first = await runInMemory(['compare', 'one.mimic.json', '--json'], FILES);
    const again = await runInMemory(['compare', 'one.mimic.json', '--json'], FILES);
    expect([first.status, first.stderr]).toEqual([0, '']);
    expect(again.stdout).toBe(first.stdout);
    const answer = answerSchemas.compare.parse(JSON.parse(first.stdout));
    expect(answer).toMatchObject({ format: 'mimic-compare', version: 1, panel: 'Bramble Siding' });
    expect(answer.options[0]?.name).toBe('As it is');
    expect(answer.options.length).toBeGreaterThanOrEqual(8);
    for (const option of answer.options) {
      expect(Object.keys(option)).toEqual(expect.arrayContaining(KEYS));
      for (const key of KEYS.slice(1)) expect(typeof option[key], `${option.name} ${key}`).toBe('number');
    }
    expect(new Set(answer.options.map(({ name }) => name)).size).toBe(answer.options.length);
  });

  it('counts what the lists of the book hold and the proof tells', async () => {
    const ran = await runInMemory(['compare', BRAMBLE, '--json']);
    const [asIs] = answerSchemas.compare.parse(JSON.parse(ran.stdout)).options;
    const built = await runInMemory(['build', BRAMBLE, '--out', 'out', '--only', 'parts,wires,pins']);
    const parts = rows(built.written.get('out/parts.csv'));
    const pieces = parts.filter(([part]) => !/, metre"?$/.test(part ?? ''));
    expect(asIs?.parts).toBe(pieces.reduce((sum, [, count]) => sum + Number(count), 0));
    const priced = parts.filter(([, , , price]) => price !== '' && price !== undefined);
    const cost = priced.reduce((sum, [, count, , price]) => sum + Number(count) * Number(price), 0);
    expect(asIs?.cost).toBeCloseTo(cost, 2);
    expect(asIs?.unpriced).toBe(parts.length - priced.length);
    const wires = rows(built.written.get('out/wires.csv'));
    expect(asIs?.wires).toBe(wires.length);
    // A wire has two soldered ends; no shell of this panel has screws.
    expect(asIs?.joints).toBe(2 * wires.length);
    // A row for each setting: a pin counts once.
    const used = rows(built.written.get('out/pins.csv')).filter(([, , net]) => net !== '' && net !== 'spare');
    expect(asIs?.pins).toBe(new Set(used.map(([connector, pin]) => `${connector}.${pin}`)).size);
    const truth = answerSchemas.truth.parse(JSON.parse((await runInMemory(['truth', BRAMBLE, '--json'])).stdout));
    expect(asIs?.wrongSideShare).toBe(truth.share);
    expect(asIs?.amps).toBeCloseTo(
      truth.powerUp.supplies.reduce((sum, { amps }) => sum + amps, 0),
      12,
    );
    expect(asIs?.lampsKnow).toEqual({ lever: truth.lamps.length, drive: 0, blades: 0 });
  });

  it('says it in words too, with why an option cannot be built', async () => {
    const file = { 'one.mimic.json': ONE_POINT.replace('"volts":12', '"volts":9') };
    const ran = await runInMemory(['compare', 'one.mimic.json'], file);
    expect(ran.stdout.split('\n')[0]).toBe('Bramble Siding');
    expect(ran.stdout).not.toMatch(/undefined|NaN|\[object/);
    expect(ran.stdout).toContain('Limit-switched drives');
    expect(ran.stdout).toContain('Lamps in series with the drives, cannot be built');
    expect(ran.stdout.endsWith('\n')).toBe(true);
  });

  it('a panel without points is only as it is; a file that cannot be used is refused', async () => {
    const bare = JSON.stringify({ format: 'mimic-panel', version: 1, strips: [] });
    const ran = await runInMemory(['compare', 'bare.mimic.json', '--json'], { 'bare.mimic.json': bare });
    expect(ran.status).toBe(0);
    expect(answerSchemas.compare.parse(JSON.parse(ran.stdout)).options.map(({ id }) => id)).toEqual(['as-is']);
    const refused = await runInMemory(['compare', 'bad.mimic.json', '--json'], { 'bad.mimic.json': '{' });
    expect([refused.status, refused.stdout]).toEqual([2, '']);
  });
});
