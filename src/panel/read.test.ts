import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_DEPTH, MOST_PROBLEMS, MOST_TEXT } from './limits.ts';
import { checkPanel, problemLine, readPanel } from './read.ts';
import { writePanel } from './write.ts';

const SEED = 20260302;
const everyKey = readFileSync(new URL('../../tests/panels/old/version-1.mimic.json', import.meta.url), 'utf8');

/** Problems of a file with these keys beside the head, as "path: message". */
function problemsOf(keys: string): string[] {
  return linesOf(`{"format": "mimic-panel", "version": 1, ${keys}}`);
}
function linesOf(text: string): string[] {
  const read = readPanel(text);
  return read.ok ? [] : read.problems.map((problem) => problemLine([problem]));
}

describe('readPanel', () => {
  it('[PF1] opens the least valid file, and refuses one without any of its three keys', () => {
    expect(problemsOf('"strips": []')).toEqual([]);
    expect(linesOf('{"format": "mimic-panel", "version": 1}')).toEqual(['strips: missing: expected a list']);
    expect(linesOf('{"format": "mimic-panel", "strips": []}')).toEqual([
      'version: missing: a panel file says "version": 1',
    ]);
    expect(linesOf('{"version": 1, "strips": []}')).toEqual([
      'format: missing: a panel file says "format": "mimic-panel"',
    ]);
  });

  it('[PF2] opens a file that holds every promised key, without a hint', () => {
    const read = readPanel(everyKey);
    expect(read).toMatchObject({ ok: true, hints: [] });
    expect(read.ok && writePanel(read.panel)).toBe(everyKey);
  });

  it('[PF2] opens the keys and choices that the promise gives in words', () => {
    const lever =
      '{"id": "L1", "existing": true, "feed": {"kind": "charge", "farads": 0.0022}, "lighting": {"scheme": "tree"}';
    const works = '"works": [{"point": "P1", "opposite": true}, {"signal": "s"}, {"section": "t"}, {"uncoupler": "u"}]';
    const lamps = [
      '{"id": "H1", "at": [1, 2], "shows": [{"P1": "normal"}, {"P2": "reverse", "P3": "normal"}], "claims": "route"}',
      '{"id": "H2", "at": [1, 2], "elements": [{"colour": "red", "shows": {"P1": "normal"}}, {"colour": "green"}]}',
    ];
    expect(
      problemsOf(
        `"strips": [], "levers": [${lever}, ${works}, "twin": {"panel": "B", "lever": "L2", "by": "latch"}}],
         "lamps": [${lamps.join(',')}], "supplies": [{"id": "S1", "fuse": null, "limit": "hiccup"}],
         "crossings": [{"id": "X1", "at": [1, 2], "kind": "single-slip", "curve": [3, 4]}, {"id": "X2", "at": [1, 2], "kind": "over"}],
         "lighting": {"scheme": "across-feed", "dimmer": {"least": 0.4}}`,
      ),
    ).toEqual([]);
  });

  it.each([
    ['"strips": {}', 'strips: expected a list, got an object'],
    ['"strips": [7]', 'strips[0]: expected an object, got a number'],
    ['"strips": [{"id": "a"}]', 'strips[0].path: missing: expected a list'],
    ['"strips": [{"id": "a", "path": ["x"]}]', 'strips[0].path[0]: expected two numbers, got text'],
    ['"strips": [{"id": "a", "path": [[1, 2, 3]]}]', 'strips[0].path[0]: expected two numbers, got a list of 3'],
    ['"strips": [{"id": "a", "path": [[1, "2"]]}]', 'strips[0].path[0][1]: expected a number, got text'],
    [
      '"strips": [{"id": "a", "path": [[1, 2000000]]}]',
      'strips[0].path[0][1]: expected a spot within 1 km, got 2000000',
    ],
    [
      '"strips": [{"id": "a", "path": [[1, 1e999]]}]',
      'strips[0].path[0][1]: expected a number, got one too great to hold',
    ],
    ['"strips": [], "x": {"y": [-1e999]}', 'x.y[0]: expected a number, got one too great to hold'],
    ['"strips": [{"id": "a", "path": [], "width": 0}]', 'strips[0].width: expected a number above 0, got 0'],
    ['"strips": [{"id": "a", "path": [], "name": null}]', 'strips[0].name: expected text, got nothing'],
    ['"strips": [], "name": true', 'name: expected text, got yes or no'],
    [
      '"strips": [], "points": [{"id": "P1", "at": [1, 2], "trap": "no"}]',
      'points[0].trap: expected yes or no (true or false), got text',
    ],
    ['"strips": [], "face": {"view": "side"}', 'face.view: expected front or rear, got "side"'],
    ['"strips": [], "supplies": [{"id": "S1", "fuse": 3}]', 'supplies[0].fuse: expected an object, got a number'],
    ['"strips": [], "supplies": [{"id": "S1", "volts": -9}]', 'supplies[0].volts: expected a number above 0, got -9'],
    ['"strips": [], "connectors": [{"id": "A", "spare": 2}]', 'connectors[0].spare: expected at most 1, got 2'],
    ['"strips": [], "returns": [{"id": "R0", "pins": 1.5}]', 'returns[0].pins: expected a whole number, got 1.5'],
    [
      '"strips": [], "lamps": [{"id": "H1", "at": [1, 2], "shows": {"P1": "up"}}]',
      'lamps[0].shows.P1: expected normal or reverse, got "up"',
    ],
    [
      '"strips": [], "lamps": [{"id": "H1", "at": [1, 2], "shows": [{"P1": 1}]}]',
      'lamps[0].shows[0].P1: expected normal or reverse, got 1',
    ],
    [
      '"strips": [], "lamps": [{"id": "H1", "at": [1, 2], "shows": "P1"}]',
      'lamps[0].shows: expected an object of points and lies, or a list of such, got text',
    ],
    ['"strips": [], "built": {"pins": {"A 7": 7}}', 'built.pins["A 7"]: expected text, got a number'],
  ])('[PF2] %s', (keys, line) => {
    expect(problemsOf(keys)).toEqual([line]);
  });

  it('[PF3] lists every problem in the order of the schema, and one line tells of the first', () => {
    const lines = linesOf(
      `{"retired": [1], "lamps": [{"at": 3, "id": "9"}], "strips": [{"path": [[0, 0], 5], "id": "main"}, {"path": [], "id": "MAIN"}],
        "face": {"height": "x", "width": "y"}, "version": 1, "format": "mimic-panel"}`,
    );
    expect(lines).toEqual([
      'face.width: expected a number, got text',
      'face.height: expected a number, got text',
      'strips[0].path[1]: expected two numbers, got a number',
      'strips[1].id: the id "MAIN" differs by case alone from "main" at strips[0].id',
      'lamps[0].id: expected an id (a letter, then letters, figures, - or _), got "9"',
      'lamps[0].at: expected two numbers, got a number',
      'retired[0]: expected text, got a number',
    ]);
    const read = readPanel('{"format": "mimic-panel", "version": 1, "strips": [1, 2, 3]}');
    expect(read.ok ? '' : problemLine(read.problems)).toBe(
      'strips[0]: expected an object, got a number (and 2 more problems)',
    );
  });

  it('[PF3] gives line and column of a fault of the text', () => {
    const read = readPanel('{\n "format": oops\n}');
    expect(read.ok ? '' : problemLine(read.problems)).toBe('line 2, column 12: expected a value, got o');
  });

  it('[PF4] refuses a newer version naming both, another format, and what is no object', () => {
    expect(linesOf('{"format": "mimic-panel", "version": 7, "strips": {}}')).toEqual([
      'version: this file is version 7; this program reads up to 1',
    ]);
    expect(linesOf('{"format": "other", "version": 7, "strips": []}')[0]).toBe(
      'format: expected "mimic-panel", got "other": this is no panel file',
    );
    for (const version of ['0', '1.5', '"1"', 'null', '-1']) {
      expect(linesOf(`{"format": "mimic-panel", "version": ${version}, "strips": []}`)).toHaveLength(1);
    }
    expect(linesOf('[1, 2]')).toEqual(['expected a panel, that is an object, got a list of 2']);
    expect(linesOf('null')).toEqual(['expected a panel, that is an object, got nothing']);
    expect(linesOf(' \n')).toEqual(['the file is empty']);
  });

  it('[PF6] refuses the key __proto__ wherever it stands, and pollutes nothing', () => {
    expect(problemsOf('"strips": [], "__proto__": {"polluted": 1}')).toEqual([
      '__proto__: no key of a panel file may be called __proto__',
    ]);
    expect(problemsOf('"strips": [{"id": "a", "path": [], "x": {"\\u005f_proto__": 1}}]')).toEqual([
      'strips[0].x.__proto__: no key of a panel file may be called __proto__',
    ]);
    expect(Reflect.get({}, 'polluted')).toBeUndefined();
  });

  it('[PF6] takes constructor, toString and the like for ids and keys', () => {
    const text = `{"format": "mimic-panel", "version": 1, "strips": [{"id": "constructor", "path": []}, {"id": "toString", "path": []}],
      "buttons": [{"id": "valueOf", "at": [1, 2], "sets": {"hasOwnProperty": "normal"}}], "prototype": 1}`;
    const read = readPanel(text);
    expect(read.ok && read.hints.map(({ path }) => path)).toEqual(['prototype']);
    expect(linesOf('{"format": "mimic-panel", "version": 1, "strips": [], "lamps": [{}]}')).toHaveLength(2);
  });

  it('[PF8] passes over a byte order mark', () => {
    expect(linesOf('\uFEFF{"format": "mimic-panel", "version": 1, "strips": []}')).toEqual([]);
  });

  it('[PF9] keeps unknown keys and lists them, with the known key that may be meant', () => {
    const read = readPanel(
      `{"format": "mimic-panel", "version": 1, "strips": [{"id": "a", "path": [], "widht": 3, "Tape": "x", "glow": {"deep": 1}}], "lamp": [],
        "parts": [{"id": "my-motor", "stallAmps": 0.016}], "results": [{"test": "t", "read": {"volts": 9}}]}`,
    );
    expect(read.ok && read.hints).toEqual([
      { path: 'strips[0].widht', key: 'widht', near: 'width' },
      { path: 'strips[0].Tape', key: 'Tape', near: 'tape' },
      { path: 'strips[0].glow', key: 'glow', near: null },
      { path: 'lamp', key: 'lamp', near: 'lamps' },
    ]);
    expect(read.ok && read.panel.strips[0]?.glow).toEqual({ deep: 1 });
  });

  it('[PF10] opens a strip of no length', () => {
    expect(
      problemsOf(
        '"strips": [{"id": "a", "path": []}, {"id": "b", "path": [[1, 2]]}, {"id": "c", "path": [[1, 2], [1, 2]]}]',
      ),
    ).toEqual([]);
  });

  const head = '{"format": "mimic-panel", "version": 1,';
  it.each<[string, () => string]>([
    ['50 MB of one letter', () => 'x'.repeat(50e6)],
    ['a million open lists', () => '['.repeat(1e6)],
    ['nine million noughts', () => `[${'0,'.repeat(9e6)}0]`],
    ['19 MB of text', () => `"${'a'.repeat(19e6)}"`],
    ['400 000 empty strips', () => `${head} "strips": [${'{},'.repeat(4e5)}{}]}`],
    ['a path of 400 000 noughts', () => `${head} "strips": [{"id": "a", "path": [${'0,'.repeat(4e5)}0]}]}`],
    [
      'a lamp that shows 400 000 ones',
      () => `${head} "strips": [], "lamps": [{"id": "H1", "at": [1, 2], "shows": [${'1,'.repeat(4e5)}1]}]}`,
    ],
    [
      'a hundred thousand strips of one id',
      () => `${head} "strips": [${'{"id":"a","path":[]},'.repeat(1e5)}{"id":"a","path":[]}]}`,
    ],
  ])('[PF5] refuses %s, and lists no more than it may', (_, make) => {
    const text = make();
    const read = readPanel(text);
    expect(read.ok).toBe(false);
    expect(read.ok ? 0 : read.problems.length).toBeLessThanOrEqual(MOST_PROBLEMS + 1);
  });

  it('[PF5] says how much is too much', () => {
    expect(linesOf('x'.repeat(MOST_TEXT + 1))).toEqual([
      'the file has 20000001 characters; a panel has at most 20000000',
    ]);
  });

  it(`[PF5] never throws, whatever stands in place of one value (seed ${SEED})`, () => {
    const sample: unknown = JSON.parse(everyKey);
    fc.assert(
      fc.property(fc.nat(), fc.jsonValue({ maxDepth: 2 }), (at, value) => {
        const read = readPanel(JSON.stringify(replaceNth(sample, at % 300, value)));
        if (!read.ok) expect(problemLine(read.problems)).not.toMatch(/undefined|\[object|zod|JSON|string|boolean/i);
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
});

describe('checkPanel', () => {
  it('[PF5] refuses what turns in a circle, and what no file can hold', () => {
    const loop: Record<string, unknown> = { format: 'mimic-panel', version: 1, strips: [] };
    loop.self = loop;
    const read = checkPanel(loop);
    expect(new Set(read.ok ? [] : read.problems.map(({ message }) => message))).toEqual(
      new Set([`lists and objects more than ${MOST_DEPTH} deep`]),
    );
    const odd = { format: 'mimic-panel', version: 1, strips: [], run: () => 0, angle: Number.NaN, absent: undefined };
    const other = checkPanel(odd);
    expect(other.ok ? [] : other.problems.map(({ path }) => path)).toEqual(['angle', 'run']);
  });

  it('[ID1] finds ids that stand twice anywhere, naming both places', () => {
    expect(
      problemsOf(
        `"strips": [{"id": "main", "path": []}], "places": [{"id": "main", "at": [0, 0]}],
         "crossings": [{"id": "X1", "at": [1, 2], "ends": [{"id": "P1"}, {"id": "x1"}]}],
         "threeWays": [{"id": "Y1", "at": [1, 2], "points": ["P2", "p1"]}], "track": {"boosters": [{"id": "Y1"}]}`,
      ),
    ).toEqual([
      'places[0].id: the id "main" stands already at strips[0].id',
      'crossings[0].ends[1].id: the id "x1" differs by case alone from "X1" at crossings[0].id',
      'threeWays[0].points[1]: the id "p1" differs by case alone from "P1" at crossings[0].ends[0].id',
      'track.boosters[0].id: the id "Y1" stands already at threeWays[0].id',
    ]);
  });

  it('[ID2] finds ids that are retired', () => {
    expect(
      problemsOf('"strips": [{"id": "a", "path": []}, {"id": "B", "path": []}], "retired": ["x", "a", "b"]'),
    ).toEqual([
      'strips[0].id: the id "a" is retired at retired[1]: no id is issued again',
      'strips[1].id: the id "B" differs by case alone from "b", retired at retired[2]: no id is issued again',
    ]);
  });

  it('[ID3] holds ids against their pattern', () => {
    for (const bad of ['1a', '', 'a b', 'é', '-a', 'a.b']) {
      expect(problemsOf(`"strips": [{"id": ${JSON.stringify(bad)}, "path": []}]`)).toHaveLength(1);
    }
    expect(
      problemsOf(
        '"strips": [{"id": "a-B_9", "path": []}], "boardJoints": [{"id": "J1"}], "connectors": [{"id": "AB"}]',
      ),
    ).toEqual([]);
    expect(problemsOf('"strips": [], "connectors": [{"id": "A1"}]')).toEqual([
      'connectors[0].id: expected an id of letters alone, got "A1"',
    ]);
  });

  it('[ID4] opens a file whose references lead nowhere', () => {
    expect(
      problemsOf('"strips": [], "levers": [{"id": "L1", "works": [{"point": "P99"}]}], "feed": {"supplies": ["none"]}'),
    ).toEqual([]);
  });

  it("[ID5] takes the record of a three-way's point for that point", () => {
    const threeWay = '"strips": [], "threeWays": [{"id": "Y1", "at": [1, 2], "points": ["P1", "P2"]}]';
    expect(problemsOf(`${threeWay}, "points": [{"id": "P1", "at": [1, 2], "drive": "D1"}]`)).toEqual([]);
    expect(problemsOf(`${threeWay}, "lamps": [{"id": "P1", "at": [1, 2]}]`)).toHaveLength(1);
  });
});

/** A copy of a value with its n-th inner value, in the order of a walk, replaced. */
function replaceNth(value: unknown, n: number, by: unknown): unknown {
  let left = n;
  const copy = (inner: unknown): unknown => {
    left -= 1;
    if (left === -1) return by;
    if (Array.isArray(inner)) return inner.map(copy);
    if (typeof inner !== 'object' || inner === null) return inner;
    return Object.fromEntries(Object.entries(inner).map(([key, item]) => [key, copy(item)]));
  };
  return copy(value);
}
