import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { derive } from '../derive.ts';
import { readPanel } from '../panel/index.ts';
import type { BenchTest } from '../prove/index.ts';
import { bandWords, compareTexts, gridKey, layGrid, mergeLists, sentences } from './test-grids.ts';
import { ranges } from './words.ts';

const benchTest = (
  id: string,
  said: string,
  expects: BenchTest['expect'] = [],
  lever: string | null = null,
): BenchTest => ({
  id,
  stage: 1,
  lever,
  do: said,
  expect: expects,
  tells: '',
  cannotTell: '',
});

describe('texts set against each other', () => {
  test('sentences end at a full stop before a capital, never within a number', () => {
    expect(sentences('Feed of 9.5 V. Read when still. P4 lies normal.')).toEqual([
      'Feed of 9.5 V.',
      'Read when still.',
      'P4 lies normal.',
    ]);
  });
  test('words that differ become gaps; the mark behind them stays in the sentence', () => {
    expect(compareTexts(['Red on A.1, black on A.2.', 'Red on A.3, black on A.4.'])).toEqual({
      text: 'Red on \u2026, black on \u2026.',
      gaps: [
        { before: 'Red on', values: ['A.1', 'A.3'] },
        { before: 'black on', values: ['A.2', 'A.4'] },
      ],
    });
  });
  test('texts of unequal length differ in one gap', () => {
    expect(compareTexts(['A coin at Quay and off.', 'A coin at Yard road 1 and off.'])).toEqual({
      text: 'A coin at \u2026 and off.',
      gaps: [{ before: 'coin at', values: ['Quay', 'Yard road 1'] }],
    });
  });
  test('lists of like things are strung together; unlike ones are left', () => {
    expect(
      mergeLists([
        'Plug in: 820R across A.1 and A.2 for D1.',
        'Plug in: 820R across A.3 and A.4 for D2, 820R across B.1 and B.2 for D3.',
      ]),
    ).toBe('Plug in: 820R across A.1 and A.2 for D1; A.3 and A.4 for D2; B.1 and B.2 for D3.');
    expect(mergeLists(['Clip: red on A.1, black on A.2.', 'Clip: red on A.3, black on A.4.'])).toBeNull();
  });
  test('runs of ids are shortened, their order kept', () => {
    expect(ranges(['H1', 'H2', 'H3', 'H4', 'H7', 'H9'])).toBe('H1 to H4, H7 H9');
    expect(ranges(['W2', 'W1', 'main'])).toBe('W2 W1 main');
    expect(ranges([])).toBe('');
  });
});

describe('bands', () => {
  test('one unit where both ends have the same, with the true minus', () => {
    expect(bandWords({ quantity: 'volts', unit: 'V', low: 8.9, high: 9.6, at: '' })).toBe('8.90 to 9.60 V');
    expect(bandWords({ quantity: 'volts', unit: 'V', low: -9.6, high: -8.9, at: '' })).toBe(
      '\u22129.60 to \u22128.90 V',
    );
    expect(bandWords({ quantity: 'amps', unit: 'A', low: 0.9, high: 1.2, at: '' })).toBe('900 mA to 1.20 A');
  });
  test('ohms: a bound from below is never rounded up', () => {
    expect(bandWords({ quantity: 'ohms', unit: 'ohm', low: 181.96, high: null, at: '' })).toBe('at least 181 \u03a9');
    expect(bandWords({ quantity: 'ohms', unit: 'ohm', low: 1e6, high: null, at: '' })).toBe('at least 1 M\u03a9');
    expect(bandWords({ quantity: 'ohms', unit: 'ohm', low: 0, high: 2, at: '' })).toBe('up to 2 \u03a9');
  });
});

describe('grids', () => {
  const volts = (at: string) => ({ quantity: 'volts', unit: 'V', low: 1, high: 2, at }) as const;
  test('what is the test\u2019s own is named in brackets, other gaps become columns', () => {
    const grid = layGrid([
      benchTest('live:L1:normal', 'Lever L1 normal, all others normal. Red on A.1.', [volts('A.1 to A.2')], 'L1'),
      benchTest('live:L2:reverse', 'Lever L2 reverse, all others normal. Red on A.5.', [volts('A.3 to A.4')], 'L2'),
    ]);
    expect(grid.always).toEqual(['Lever [lever] [position], all others normal.', 'Red on \u2026.']);
    expect(grid.columns.map((column) => column.head)).toEqual(['Test, live:', 'Red on', '1.00 to 2.00 V, Volts']);
    expect(grid.rows.map((row) => row.cells)).toEqual([
      ['L1:normal', 'A.1', 'A.1 to A.2'],
      ['L2:reverse', 'A.5', 'A.3 to A.4'],
    ]);
  });
  test('readings that come again and again make lines of one test', () => {
    const grid = layGrid([
      benchTest('cold:L1:normal', 'Meter on.', [volts('S1.p to A.1'), volts('S1.m to A.2, twice')], 'L1'),
      benchTest(
        'cold:L2:normal',
        'Meter on.',
        [volts('S1.p to A.3'), volts('S1.m to A.4, twice'), volts('S1.p to B.1'), volts('S1.m to B.2, twice')],
        'L2',
      ),
    ]);
    expect(grid.columns.map((column) => column.head).slice(1)).toEqual([
      '1.00 to 2.00 V, S1.p to \u2026',
      '1.00 to 2.00 V, S1.m to \u2026, twice',
    ]);
    expect(grid.rows).toEqual([
      { first: true, cells: ['L1:normal', 'A.1', 'A.2'] },
      { first: true, cells: ['L2:normal', 'A.3', 'A.4'] },
      { first: false, cells: ['', 'B.1', 'B.2'] },
    ]);
  });
  test('a reading whose spot and band stand in the head is still asked for in every row', () => {
    const grid = layGrid([
      benchTest('cold:L1:normal', 'Meter on.', [volts('A.5 to A.1'), volts('S1.m to A.4, twice')], 'L1'),
      benchTest('cold:L1:reverse', 'Meter on.', [volts('A.6 to A.1'), volts('S1.m to A.4, twice')], 'L1'),
    ]);
    expect(grid.rows.map(({ cells }) => cells)).toEqual([
      ['L1:normal', 'A.5', ''],
      ['L1:reverse', 'A.6', ''],
    ]);
    expect(grid.asked).toEqual([2, 2]);
  });
  test('tests that ask for other things stand in grids of their own', () => {
    const [a, b, c] = [
      benchTest('bench:P1:normal', 'Clip to A.1. Read when it has come to rest.'),
      benchTest('bench:P2:reverse', 'Clip to A.3. Read when it has come to rest.'),
      benchTest('bench:P3:normal', 'Clip to A.5. It should run and stop.'),
    ];
    expect(gridKey(a)).toBe(gridKey(b));
    expect(gridKey(a)).not.toBe(gridKey(c));
  });
});

describe.each(['quillhaven-harbour', 'bramble-siding'])('the tests of %s', (name) => {
  const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  if (!read.ok) throw new Error(`example ${name} cannot be read`);
  const all = derive(read.panel).tests();
  /** Ids, pins and figures of a text. */
  const tokens = (text: string): readonly string[] =>
    [...text.matchAll(/[\w-]*[A-Za-z]*\d[\w.]*/g)].map(([token]) => token.replace(/\.$/, ''));

  test('lose nothing in their grids: every pin, lamp and figure stands with its test', () => {
    for (const key of new Set(all.map(gridKey))) {
      const group = all.filter((each) => gridKey(each) === key);
      const grid = layGrid(group);
      let row = -1;
      const lines = new Map<BenchTest, string[]>();
      for (const { first, cells } of grid.rows) {
        if (first) row += 1;
        const test = group[row];
        if (test !== undefined) lines.set(test, [...(lines.get(test) ?? []), ...cells]);
      }
      expect(lines.size).toBe(group.length);
      for (const each of group) {
        const mine = (lines.get(each) ?? []).join(' ');
        const said = new Set(tokens([...grid.always, ...grid.columns.map(({ head }) => head), mine].join(' ')));
        const asked = [each.do, ...each.expect.flatMap((one) => ('at' in one ? [one.at] : []))];
        expect([each.id, asked.flatMap(tokens).filter((token) => !said.has(token))]).toEqual([each.id, []]);
        for (const lie of ['normal', 'reverse'] as const) {
          const points = each.expect.flatMap((one) => ('point' in one && one.lie === lie ? [one.point] : []));
          const own = each.id.endsWith(`:${points.join(' ')}:${lie}`);
          expect(points.length === 0 || own || mine.includes(`${ranges(points)} ${lie}`)).toBe(true);
        }
        for (const look of ['lit', 'unlit'] as const) {
          const column = grid.columns.findIndex(({ kind }) => kind === look);
          const wanted = each.expect.flatMap((one) => ('lamp' in one && one.look === look ? [one.lamp] : []));
          const cell =
            grid.rows.find(({ first, cells }) => first && mine.startsWith(cells.join(' ')))?.cells[column] ?? '';
          expect([each.id, look, cell]).toEqual([each.id, look, ranges(wanted)]);
        }
      }
    }
  });
});
