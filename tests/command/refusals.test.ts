import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/command-table.ts';
import { BRAMBLE, runInMemory } from './memory.ts';

/** A refusal is one line on standard error, exit 2, nothing on standard output and nothing written. */
async function refusal(args: readonly string[], files: Readonly<Record<string, string>> = {}): Promise<string> {
  const ran = await runInMemory(args, files);
  expect({ status: ran.status, stdout: ran.stdout, written: ran.written.size }).toEqual({
    status: 2,
    stdout: '',
    written: 0,
  });
  expect(ran.stderr).toMatch(/^[^\n]+\n$/);
  return ran.stderr;
}

const STRIP = '{"id":"main","path":[[0,60],[300,60]]}';
const panel = (more: string): string => `{"format":"mimic-panel","version":1,"strips":[${STRIP}]${more}}`;

describe('words of the command line', () => {
  it.each([
    [['chekc', BRAMBLE], /unknown command 'chekc'/i],
    [['check', BRAMBLE, '--jsn'], /unknown option '--jsn'/i],
    [['check'], /missing required argument 'FILE'/i],
    [['check', BRAMBLE, BRAMBLE], /too many arguments/i],
    [['build', BRAMBLE], /--out/],
    [['build', BRAMBLE, '--out', ''], /--out/],
    [['build', BRAMBLE, '--out', 'x', '--paper', 'A3'], /A4, Letter/],
    [['build', BRAMBLE, '--out', 'x', '--bar', '94.9'], /--bar: 94\.9 is not a length from 95 to 105 mm/],
    [['build', BRAMBLE, '--out', 'x', '--bar', '9e1'], /--bar: 9e1/],
    [['build', BRAMBLE, '--out', 'x', '--bar', 'wide'], /--bar: wide/],
    [['solve', BRAMBLE, '--set'], /--set/],
    [['solve', BRAMBLE, '--fault', ''], /--fault: no code is given/],
    [
      ['solve', BRAMBLE, '--fault', 'open:W999'],
      /--fault: nothing on this panel can fail as open:W999; open can happen as open:W1,/,
    ],
    [['spice', BRAMBLE, '--fault', 'open:W1 melted:H3'], /melted:H3; H3 can fail as open:H3, short:H3, backwards:H3/],
    [['solve', BRAMBLE, '--fault', 'nonsense'], /as nonsense; the kinds are open, dry, short/],
    [['prove', BRAMBLE], /unknown command 'prove'/i],
    [['open', '--port', 'high'], /--port: "high"/],
    [['open', '--port', '65536'], /--port: "65536"/],
    [['--json'], /--json/],
    [['help', 'nothing'], /unknown command/i],
  ])('%j is refused', async (args, says) => {
    expect(await refusal(args)).toMatch(says);
  });
});

describe('settings', () => {
  it.each([
    ['L9=reverse', /no lever L9.*L1, L2/],
    ['L1=centre', /L1 has no centre/],
    ['L1=up', /L1 has no position "up"/],
    ['L1', /"L1"/],
    ['L1=', /"L1="/],
    ['L1=normal=reverse', /ID=POSITION/],
    ['L1=normal,L1=reverse', /L1 is named twice/],
    ['__proto__=reverse', /no lever __proto__/],
    ['constructor=reverse', /no lever constructor/],
  ])('--set %s is refused', async (set, says) => {
    expect(await refusal(['solve', BRAMBLE, '--set', set])).toMatch(says);
    expect(await refusal(['spice', BRAMBLE, '--set', set])).toMatch(says);
  });

  it.each([
    ['P9=reverse', /no point P9.*P1, P2, P3/],
    ['P1=centre', /normal or reverse/],
    ['P1', /"P1"/],
  ])('--lies %s is refused', async (lies, says) => {
    expect(await refusal(['solve', BRAMBLE, '--lies', lies])).toMatch(says);
  });

  it('unknown places and levers are refused with those that there are', async () => {
    expect(await refusal(['routes', BRAMBLE, '--from', 'Nowhere'])).toMatch(/--from.*Nowhere.*west/);
    expect(await refusal(['spice', BRAMBLE, '--lever', 'L7'])).toMatch(/L7.*L1, L2/);
  });

  it('the length of a train wants both places, and a number', async () => {
    expect(await refusal(['routes', BRAMBLE, '--length', '900'])).toMatch(/--length.*--from.*--to/);
    expect(await refusal(['routes', BRAMBLE, '--from', 'west', '--length', '900'])).toMatch(/--length.*--to/);
    for (const length of ['long', '9e2', '0x10', '', '1.2.3']) {
      const args = ['routes', BRAMBLE, '--from', 'west', '--to', 'east', '--length', length];
      expect(await refusal(args)).toMatch(/--length.*mm/);
    }
  });

  it('a name that two places share asks for the id', async () => {
    const twins = panel(',"places":[{"id":"a","name":"End","at":[0,60]},{"id":"b","name":"End","at":[300,60]}]');
    expect(await refusal(['routes', 'twins', '--from', 'end'], { twins })).toMatch(/2 places.*a, b/);
  });
});

describe('files that are no panel', () => {
  it.each([
    ['empty', '', /empty/],
    ['no JSON', 'hello', /line 1/],
    ['cut off', '{"format":"mimic-panel","version":1,"strips":[', /line 1/],
    ['a list', '[]', /object/],
    ['null', 'null', /object/],
    ['no strips', '{"format":"mimic-panel","version":1}', /strips/],
    ['strips of the wrong type', '{"format":"mimic-panel","version":1,"strips":{}}', /strips/],
    [
      'text for millimetres',
      '{"format":"mimic-panel","version":1,"strips":[{"id":"a","path":[["0",60],[1,2]]}]}',
      /strips\[0\]\.path\[0\]/,
    ],
    ['another format', '{"format":"mimic-check","version":1,"strips":[]}', /format/],
    ['a newer version', '{"format":"mimic-panel","version":2,"strips":[]}', /version 2/],
    ['an id twice', panel(`,"places":[{"id":"main","at":[0,60]}]`), /main/],
    ['an id that differs by case alone', panel(`,"places":[{"id":"MAIN","at":[0,60]}]`), /MAIN/],
    ['an id against the pattern', panel(`,"places":[{"id":"4x","at":[0,60]}]`), /places\[0\]\.id/],
    ['__proto__ as an id', panel(`,"places":[{"id":"__proto__","at":[0,60]}]`), /places\[0\]\.id/],
    ['__proto__ as a key', panel(`,"__proto__":{"polluted":true}`), /__proto__/],
    ['a number too great', panel(`,"places":[{"id":"a","at":[1e999,60]}]`), /places\[0\]/],
    ['a huge number', panel(`,"places":[{"id":"a","at":[1e300,60]}]`), /places\[0\]/],
    ['deep nesting', `${'['.repeat(200_000)}${']'.repeat(200_000)}`, /./],
    ['deep nesting inside', panel(`,"more":${'{"a":'.repeat(50_000)}1${'}'.repeat(50_000)}`), /./],
  ])('%s', async (_name, text, says) => {
    for (const command of ['check', 'solve', 'routes', 'truth', 'spice']) {
      expect(await refusal([command, 'bad'], { bad: text })).toMatch(says);
    }
    expect(await refusal(['build', 'bad', '--out', 'out'], { bad: text })).toMatch(says);
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
  });

  it('says how many more problems there are', async () => {
    const two = '{"format":"mimic-panel","version":1,"strips":[{"id":"1"},{"id":"2"}]}';
    expect(await refusal(['check', 'two'], { two })).toMatch(/3 more/);
  });

  it('sends no control characters of a file to the terminal', async () => {
    const nasty = panel(',"places":[{"id":"\\u001b[2J","at":[0,60]}]');
    expect(await refusal(['check', 'nasty'], { nasty })).not.toMatch(/[^\P{Cc}\n]/u);
    const named = '{"format":"mimic-panel","version":1,"name":"\\u001b[31mred\\u202e","strips":[]}';
    const { stdout } = await runInMemory(['check', 'named'], { named });
    expect(stdout).not.toMatch(/[^\P{Cc}\n]|\u202e/u);
  });
});

describe('any words at all', () => {
  const words = [
    ...COMMANDS.map(({ name }) => name),
    ...COMMANDS.flatMap(({ options }) => options.map(({ flag }) => flag)),
    ...[
      '--',
      '-h',
      '--help',
      '',
      '-',
      '=',
      'L1=reverse',
      'P1=normal',
      'west',
      'A4',
      'book',
      BRAMBLE,
      'missing.json',
      '.',
      '\u0000',
    ],
  ];

  it('end with a known status, and refusals with one line (seed 7)', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.constantFrom(...words), { maxLength: 6 }), async (args) => {
        const ran = await runInMemory(
          args,
          {},
          { serve: async () => ({ url: 'http://127.0.0.1:1/', close: async () => {} }), stop: AbortSignal.abort() },
        );
        expect([0, 1, 2]).toContain(ran.status);
        if (ran.status === 2) {
          expect(ran.stdout).toBe('');
          expect(ran.stderr).toMatch(/^[^\n]+\n$/);
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
