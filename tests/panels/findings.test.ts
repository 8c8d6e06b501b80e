/** Every finding there is: a panel that shows it, one beside it that just does not, and mends that mend. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CODES, type Code, type Finding } from '../../src/checks/index.ts';
import { type Derived, derive } from '../../src/derive.ts';
import {
  applyTransaction,
  checkPanel,
  invertTransaction,
  type PanelFile,
  readPanel,
  writePanel,
} from '../../src/panel/index.ts';
import type { Case } from './findings/case.ts';
import { DECODER_CASES } from './findings/decoder-cases.ts';
import { FACE_CASES } from './findings/face-cases.ts';
import { LAMP_CASES } from './findings/lamp-cases.ts';
import { PLAN_CASES } from './findings/plan-cases.ts';
import { TRACK_CASES } from './findings/track-cases.ts';
import { WIRING_CASES } from './findings/wiring-cases.ts';

const FOLDER = new URL('./findings/', import.meta.url);
const CASES: readonly Case[] = [
  ...PLAN_CASES,
  ...LAMP_CASES,
  ...WIRING_CASES,
  ...DECODER_CASES,
  ...TRACK_CASES,
  ...FACE_CASES,
];

/** Codes that no file can reach today, each with its reason. */
const UNREACHABLE: Readonly<Partial<Record<Code, string>>> = {};

/** Mends that take away what is wrong and leave something else to do, by code, mend and what comes instead. */
const BRINGS: Readonly<Record<string, readonly string[]>> = {
  // The lamp that stays in the group has no partner there any more: the group needs a guard, which is another mend.
  'group-lamp-unknown take-out': ['lamp-reverse-wrong'],
  // The names of the strip's ends lie where nothing is left: they have a mend of their own.
  'strips-overlap lift-strip': ['record-finds-nothing'],
  // 24 V is too much for a stall drive as well: only hands can change the supply.
  'drive-would-burn use-stall': ['drive-volts-high'],
};

function textOf(file: string): string {
  return readFileSync(new URL(file, FOLDER), 'utf8');
}

/** The text of a panel with one thing put otherwise; the thing must be there, once. */
function altered(file: string, from: string, to: string): string {
  const parts = textOf(file).split(from);
  if (parts.length !== 2) throw new Error(`${file} has ${from} ${parts.length - 1} times`);
  return parts.join(to);
}

function panelOf(text: string): PanelFile {
  const read = readPanel(text);
  if (!read.ok) throw new Error(read.problems.map(({ path, message }) => `${path}: ${message}`).join('\n'));
  return read.panel;
}

/** A panel that a test makes as it goes. */
function panel(value: object): PanelFile {
  const read = checkPanel({ format: 'mimic-panel', version: 1, ...value });
  if (!read.ok) throw new Error(read.problems.map(({ path, message }) => `${path}: ${message}`).join('\n'));
  return read.panel;
}

function same(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((id, i) => id === b[i]);
}

function findOf(findings: readonly Finding[], code: Code, ids: readonly string[]): Finding {
  const found = findings.find((each) => each.code === code && same(each.where.ids, ids));
  if (found === undefined)
    throw new Error(
      `no ${code} of ${ids.join(' ')} among ${findings.map(({ code: c, where }) => `${c} ${where.ids.join(' ')}`).join('; ')}`,
    );
  return found;
}

/** Words and numbers that a person can read. */
function expectSayable({ code, message, values, mends, where }: Finding): void {
  for (const text of [message, ...mends.map((mend) => mend.text)]) {
    expect(text, code).not.toMatch(/undefined|NaN|Infinity|null|\[object/);
    expect(text.trim(), code).not.toBe('');
    expect(text, code).not.toContain('  ');
    expect(text, code).not.toContain('!');
  }
  for (const [key, value] of Object.entries(values)) {
    if (typeof value === 'number') expect(Number.isFinite(value), `${code} ${key}`).toBe(true);
  }
  for (const { price } of mends) if (price !== null) expect(price, code).toBeGreaterThanOrEqual(0);
  if (where.at !== null) for (const x of where.at) expect(Number.isFinite(x), code).toBe(true);
}

describe('the list', () => {
  it('has a case for every code that a file can reach, and a code for every case', () => {
    const wanted = Object.keys(CODES).filter((code) => !Object.hasOwn(UNREACHABLE, code));
    expect(CASES.map(({ code }) => code).sort()).toEqual(wanted.sort());
    for (const reason of Object.values(UNREACHABLE)) expect(reason).toMatch(/\w+ \w+/);
  });

  it('has two panels for every case, and no others', () => {
    const files = readdirSync(FOLDER).filter((name) => name.endsWith('.mimic.json'));
    const wanted = CASES.flatMap(({ code }) => [`${code}.mimic.json`, `${code}.sound.mimic.json`]);
    expect(files.sort()).toEqual(wanted.sort());
  });

  it('says why every finding matters, in one sentence or two', () => {
    for (const [code, { why }] of Object.entries(CODES)) {
      expect(why, code).toMatch(/^[A-Z].*\.$/);
      expect(why, code).not.toContain('!');
    }
  });
});

describe.each(CASES.map((each) => [each.code, each] as const))('%s', (code, wanted) => {
  const text = textOf(`${code}.mimic.json`);
  const file = panelOf(text);
  const findings = derive(file).findings();

  it(`is found: ${wanted.note}`, () => {
    const found = findOf(findings, code, wanted.ids);
    expect(found.severity).toBe(wanted.severity);
    if (wanted.at === null) expect(found.where.at).toBeNull();
    else {
      expect(found.where.at?.[0]).toBeCloseTo(wanted.at[0], 2);
      expect(found.where.at?.[1]).toBeCloseTo(wanted.at[1], 2);
    }
    for (const [key, value] of Object.entries(wanted.values ?? {})) {
      const got = found.values[key];
      if (typeof value === 'string') expect(got, key).toBe(value);
      else {
        expect(typeof got, key).toBe('number');
        expect(Math.abs(Number(got) - value[0]), `${key}: ${got}, by hand ${value[0]}`).toBeLessThanOrEqual(value[1]);
      }
    }
    for (const each of findings) expectSayable(each);
  });

  it('is not found in the panel beside it', () => {
    const sound = derive(panelOf(textOf(`${code}.sound.mimic.json`))).findings();
    expect(sound.filter((each) => each.code === code)).toEqual([]);
    for (const each of sound) expectSayable(each);
  });

  it('stands in a file as the tool writes it', () => {
    expect(writePanel(file)).toBe(text);
    const sound = textOf(`${code}.sound.mimic.json`);
    expect(writePanel(panelOf(sound))).toBe(sound);
  });

  const mends = findings
    .filter((each) => each.code === code)
    .flatMap((finding) =>
      finding.mends.flatMap((mend) => (mend.edit === null ? [] : [{ finding, mend, edit: mend.edit }])),
    );
  it.each(mends.map((each) => [`${each.mend.id} of ${each.finding.where.ids.join(' ')}`, each] as const))(
    'is mended by %s, and the mend can be taken back',
    (_, { finding, mend, edit }) => {
      const after = applyTransaction(file, edit, { freeze: true });
      const mended = panelOf(writePanel(after));
      const left = derive(mended).findings();
      expect(left.filter((each) => each.code === code && same(each.where.ids, finding.where.ids))).toEqual([]);
      const serious = (all: readonly Finding[]) =>
        new Set(all.filter(({ severity }) => severity === 'danger' || severity === 'wrong').map((each) => each.code));
      const before = serious(findings);
      const brought = [...serious(left)].filter((each) => !before.has(each));
      expect(brought.filter((each) => !BRINGS[`${code} ${mend.id}`]?.includes(each))).toEqual([]);
      expect(writePanel(applyTransaction(after, invertTransaction(edit)))).toBe(text);
    },
  );
});

/** Paths of every number in a panel. */
function numbersIn(value: unknown, path: readonly (string | number)[] = []): (readonly (string | number)[])[] {
  if (typeof value === 'number') return path[0] === 'version' ? [] : [path];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => numbersIn(inner, [...path, key]));
}

/** The same value with the number at a path put otherwise. */
function withNumber(value: unknown, path: readonly (string | number)[], to: (number: number) => number): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return typeof value === 'number' ? to(value) : value;
  if (Array.isArray(value))
    return value.map((each, i) => (String(i) === String(key) ? withNumber(each, rest, to) : each));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, each]) => [name, name === key ? withNumber(each, rest, to) : each]),
  );
}

describe('any panel', () => {
  const files = CASES.map(({ code }) => `${code}.mimic.json`).filter((name) => !name.startsWith('routes-cut'));

  it('is told in words and numbers, and every mend alters it and can be taken back (seed 1847)', () => {
    const figure = fc.record({
      file: fc.constantFrom(...files),
      which: fc.nat(),
      factor: fc.double({ min: 0.25, max: 4, noNaN: true }),
    });
    fc.assert(
      fc.property(figure, ({ file, which, factor }) => {
        const whole: unknown = JSON.parse(textOf(file));
        const paths = numbersIn(whole);
        const path = paths[which % Math.max(1, paths.length)] ?? [];
        const read = checkPanel(withNumber(whole, path, (number) => Math.round(number * factor * 1e4) / 1e4));
        // What the format refuses (a pin number that is no whole one) is no panel.
        fc.pre(read.ok);
        if (!read.ok) return;
        for (const finding of derive(read.panel).findings()) {
          expectSayable(finding);
          expect(Object.hasOwn(CODES, finding.code)).toBe(true);
          for (const { edit, id } of finding.mends) {
            if (edit === null) continue;
            expect(edit.changes.length, `${finding.code} ${id}`).toBeGreaterThan(0);
            const back = applyTransaction(applyTransaction(read.panel, edit), invertTransaction(edit));
            expect(writePanel(back)).toBe(writePanel(read.panel));
          }
        }
      }),
      { seed: 1847, numRuns: 150 },
    );
  }, 60_000);
});

describe('figures of the trade', () => {
  const codesOf = (derived: Derived) => derived.findings().map((each) => each.code);

  /** A main line with so many sidings, one lever and one drive each. */
  function yard(count: number, part: string, supply: object): PanelFile {
    const x = (i: number) => 40 + 50 * i;
    const numbers = Array.from({ length: count }, (_, i) => i);
    return panel({
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [x(count), 60],
          ],
        },
        ...numbers.map((i) => ({
          id: `road-${i + 1}`,
          path: [
            [x(i), 60],
            [x(i) + 32, 40],
          ],
        })),
      ],
      parts: [{ id: 'motor', like: part, runAmps: 0.2 }],
      points: numbers.map((i) => ({ id: `P${i + 1}`, at: [x(i), 60], drive: 'motor' })),
      supplies: [{ id: 'S1', volts: 12, voltsOffLoad: 12.2, ...supply }],
    });
  }

  it('17 limit-switched drives at 0.2 A draw 3.4 A at switch-on (the trade, sum)', () => {
    const short = findOf(derive(yard(17, 'limit-2-wire', { amps: 3.3 })).findings(), 'supply-small-at-switch-on', [
      'S1',
    ]);
    expect(short.values.needs).toBeCloseTo(3.4, 9);
    expect(codesOf(derive(yard(17, 'limit-2-wire', { amps: 3.5 })))).not.toContain('supply-small-at-switch-on');
  });

  it('a 9 V battery, 10 kohm, six lamps across the feed, three each way in parallel: a caution and not a fault (common practice, no source)', () => {
    // (9 - 1.75) / 10000 = 0.725 mA between three: 0.242 mA each when they match.
    const derived = derive(
      panel({
        strips: [
          {
            id: 'main',
            path: [
              [0, 60],
              [300, 60],
            ],
          },
          {
            id: 'loop',
            path: [
              [60, 60],
              [100, 85],
              [200, 85],
              [240, 60],
            ],
          },
        ],
        places: [
          { id: 'west', name: 'West', at: [0, 60] },
          { id: 'east', name: 'East', at: [300, 60] },
        ],
        points: [
          { id: 'P1', at: [60, 60] },
          { id: 'P2', at: [240, 60] },
        ],
        levers: [{ id: 'L1', at: [150, 120], works: [{ point: 'P1' }, { point: 'P2' }] }],
        lamps: [
          ...[110, 150, 190].map((x, i) => ({ id: `H${i + 1}`, at: [x, 60] })),
          ...[110, 150, 190].map((x, i) => ({ id: `H${i + 4}`, at: [x, 85] })),
        ],
        lampGroups: [{ id: 'G1', lamps: ['H1', 'H2', 'H3', 'H4', 'H5', 'H6'], arrange: 'parallel', ohms: 10000 }],
        supplies: [{ id: 'S1', kind: 'battery', volts: 9, amps: 0.5 }],
      }),
    );
    const lit = (lever: 'normal' | 'reverse') => {
      const { lamps } = derived.operate({ L1: lever });
      return lamps.filter(({ look }) => look !== 'unlit');
    };
    expect(lit('normal').map(({ id }) => id)).toEqual(['H1', 'H2', 'H3']);
    expect(lit('reverse').map(({ id }) => id)).toEqual(['H4', 'H5', 'H6']);
    for (const lever of ['normal', 'reverse'] as const) {
      expect(lit(lever).reduce((sum, { amps }) => sum + amps, 0)).toBeCloseTo(0.0007, 4);
      for (const { amps } of lit(lever)) expect(amps).toBeCloseTo(0.00024, 5);
    }
    const ofLamps = derived.findings().filter(({ code }) => code.startsWith('lamp'));
    expect(ofLamps.map(({ code }) => code)).toContain('lamp-faint');
    expect(ofLamps.map(({ code }) => code)).toContain('lamps-share');
    expect(derived.findings().filter(({ severity }) => severity === 'danger' || severity === 'wrong')).toEqual([]);
  });

  it('a red lamp beside a blue one of 3 V: all in the red (common practice, no source)', () => {
    const derived = derive(
      panelOf(
        altered(
          'lamps-share-badly.mimic.json',
          '"odd-amber", "like": "led-3-amber", "vf": 2.06',
          '"odd-amber", "like": "led-3-blue", "vf": 3',
        ),
      ),
    );
    const shared = findOf(derived.findings(), 'lamps-share-badly', ['H1', 'H3']);
    // 3 - 1.85 = 1.15.
    expect(shared.values.apart).toBeCloseTo(1.15, 6);
    const [first, , third] = derived.operate({ L1: 'normal' }).lamps;
    expect(Number(first?.amps)).toBeGreaterThan(1000 * Number(third?.amps));
  });

  it('a wire thinner than any in the list is judged by its section: 0.07 mm2 carries half of what 0.14 mm2 does', () => {
    const thin = altered('fuse-above-wire.sound.mimic.json', '"length": 2000', '"length": 2000, "gauge": 0.07');
    const found = findOf(derive(panelOf(thin)).findings(), 'fuse-above-wire', ['FU-S1']);
    // 1 A (from memory) x 0.07 / 0.14.
    expect(found.values.wire).toBeCloseTo(0.5, 9);
  });

  it('a supply that folds or tries again and cannot start its drives is told so', () => {
    for (const limit of ['fold', 'hiccup'])
      expect(codesOf(derive(yard(2, 'limit-2-wire', { amps: 0.3, limit })))).toContain('supply-small-at-switch-on');
  });

  it.each(['twin-coil', 'twin-coil-end-off', 'servo-board', 'decoder', 'hand'])(
    'a %s on a lever of a reversing feed is told its trap',
    (part) => {
      const text = altered('drive-kind-unfit.mimic.json', 'servo-board', part);
      const found = derive(panelOf(text))
        .findings()
        .filter(({ code, where }) => code.startsWith('drive-') && same(where.ids, ['D1']));
      expect(found.map(({ code }) => code)).toEqual([part === 'twin-coil' ? 'drive-would-burn' : 'drive-kind-unfit']);
      if (part !== 'twin-coil') expect(found[0]?.values.trap).toMatch(/\w+ \w+/);
    },
  );

  it.each(['pulse', 'charge', 'contact'])('a stall drive on a %s feed is told to be fed by reversing', (kind) => {
    const more = kind === 'charge' ? ', "farads": 0.0022' : '';
    const text = altered('drive-kind-unfit.sound.mimic.json', '"lamps"', `"feed": {"kind": "${kind}"${more}}, "lamps"`);
    const found = findOf(derive(panelOf(text)).findings(), 'drive-kind-unfit', ['D1']);
    expect(found.values.feed).toBe(kind);
    expect(found.mends.map(({ id }) => id)).toEqual(['feed-by-reversing']);
  });

  it('a coil that a switch holds on a raw supply burns: 24 / 5.3135 = 4.517 A, 4.517^2 x 5 = 102 W', () => {
    const text = altered(
      'contact-makes-too-much.mimic.json',
      '"at": [150, 100],',
      '"at": [150, 100], "switch": "toggle-1p",',
    );
    const found = findOf(derive(panelOf(text)).findings(), 'drive-would-burn', ['D1']);
    expect(found.values.amps).toBeCloseTo(4.517, 3);
    expect(found.values.watts).toBeCloseTo(102.01, 1);
    expect(found.mends.map(({ id }) => id)).toEqual(['spring-back', 'feed-by-charge']);
    // One that breaks its own coil stands a switch that stays (the trade).
    const own = text.replace('"twin-coil"', '"twin-coil-end-off"');
    expect(codesOf(derive(panelOf(own)))).not.toContain('drive-would-burn');
  });

  it('a modern lamp beside an old one at the same current is ten times as bright (0.2 mA and 2 mA seen, from memory)', () => {
    const old = altered('lamp-part-unknown.sound.mimic.json', '"led-3-red"', '"led-3-red-old"').replace(
      '"lamps": [',
      '"lighting": {"current": 0.003}, "lamps": [',
    );
    const found = derive(panelOf(old))
      .findings()
      .find(({ code }) => code === 'lamps-uneven');
    expect(found?.values.ratio).toBeGreaterThan(8);
    expect(found?.values.ratio).toBeLessThan(12);
    const mend = found?.mends.find(({ id }) => id === 'match-ohms');
    if (mend?.edit === undefined || mend.edit === null) throw new Error('no resistor is offered');
    expect(codesOf(derive(applyTransaction(panelOf(old), mend.edit)))).not.toContain('lamps-uneven');
  });

  it('a capacitor unit and a track bus are no feed for a reversing lever', () => {
    const cdu = altered('supply-kind-unfit.mimic.json', '"kind": "ac"', '"kind": "cdu"');
    expect(findOf(derive(panelOf(cdu)).findings(), 'supply-kind-unfit', ['S1']).values.kind).toBe('cdu');
    // The track is told as the danger that it is, once.
    expect(codesOf(derive(panelOf(textOf('supply-from-track.mimic.json'))))).toEqual([
      'supply-from-track',
      'lamps-unfed',
    ]);
  });

  it('a lamp of two leads lights across the feed, and not from contacts; one of three leads the other way round', () => {
    const elements =
      '"elements": [{"colour": "green", "shows": {"P1": "normal"}}, {"colour": "red", "shows": {"P1": "reverse"}}]';
    const lamp = (part: string, more = '') =>
      altered(
        'lamp-scheme-unfit.sound.mimic.json',
        '"id": "H1",',
        `"id": "H1", "part": "${part}", ${elements},`,
      ).replace('"scheme": "in-series"', `"scheme": "${more}"`);
    const why = (text: string) =>
      derive(panelOf(text))
        .findings()
        .filter(({ code }) => code === 'lamp-scheme-unfit')
        .map(({ values }) => String(values.why));
    expect(why(lamp('led-5-red-green-2', 'across-feed'))).toEqual([]);
    expect(why(lamp('led-5-red-green-3c', 'drive-contact'))).toEqual([]);
    expect(why(lamp('led-5-red-green-2', 'drive-contact'))[0]).toContain('two leads');
    expect(why(lamp('led-5-red-green-3c', 'across-feed'))[0]).toContain('three leads');
  });

  it('up to 5 V a dark lamp stands the whole feed: 4.7 x 1.05 = 4.94 V, and 4.8 x 1.05 = 5.04 V is too much', () => {
    const at = (volts: number) =>
      codesOf(
        derive(
          panelOf(
            altered(
              'lamp-reverse-wrong.mimic.json',
              '"volts": 12, "voltsOffLoad": 12, "tolerance": 0',
              `"volts": ${volts}`,
            ),
          ),
        ),
      );
    expect(at(4.7)).not.toContain('lamp-reverse-wrong');
    expect(at(4.8)).toContain('lamp-reverse-wrong');
  });

  it('guards are not offered where the lamps of both ways share a resistor: they would carry what should light the others', () => {
    const text = textOf('lamp-reverse-doubtful.mimic.json');
    const guarded = altered(
      'lamp-reverse-doubtful.mimic.json',
      '"arrange": "series"',
      '"arrange": "series", "guard": "antiparallel"',
    );
    const found = derive(panelOf(text))
      .findings()
      .filter(({ code }) => code === 'lamp-reverse-doubtful');
    for (const { mends } of found) expect(mends.map(({ id }) => id)).toEqual(['own-resistors']);
    // Three dark guards in a row hold 3 x 0.7 = 2.1 V, and three lit lamps want 5.5.
    expect(codesOf(derive(panelOf(guarded)))).toContain('lamp-lies');
  });

  it('a lever and a button on one point', () => {
    const text = altered(
      'drive-kind-unfit.sound.mimic.json',
      '"lamps": [',
      '"buttons": [ { "id": "B1", "at": [220, 100], "sets": {"P1": "reverse"} } ], "lamps": [',
    );
    const found = findOf(derive(panelOf(text)).findings(), 'point-worked-twice', ['P1']);
    expect(found.values.levers).toBe('L1 and B1');
    const [mend] = found.mends;
    if (mend?.edit === undefined || mend.edit === null) throw new Error('the button cannot be taken away');
    expect(codesOf(derive(applyTransaction(panelOf(text), mend.edit)))).not.toContain('point-worked-twice');
  });

  it('one lever that puts both halves of a three-way point to reverse', () => {
    const one = altered('three-way-both-reverse.sound.mimic.json', ', "opposite": true', '');
    const found = findOf(derive(panelOf(one)).findings(), 'three-way-both-reverse', ['P1', 'P2']);
    expect(found.values.levers).toBe('L1');
    expect(found.message).toContain('L1 sets both reverse');
  });

  it.each([
    ['a relay', { relays: [{ id: 'K1', follows: 'P1' }] }, ['K1']],
    ['a section', { levers: [{ id: 'L1', works: [{ point: 'P1' }, { section: 'dock' }] }] }, ['L1']],
  ])('%s is kept and not wired, and that is said', (_, more, ids) => {
    const file = panel({
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
        {
          id: 'siding',
          path: [
            [100, 60],
            [140, 35],
            [220, 35],
          ],
        },
      ],
      ...more,
    });
    findOf(derive(file).findings(), 'not-built-yet', ids);
  });

  it('a reversing section is named once a piece of track, and a passing loop is none', () => {
    const triangle = panel({
      strips: [
        {
          id: 'base',
          path: [
            [0, 100],
            [300, 100],
          ],
        },
        {
          id: 'left',
          path: [
            [80, 100],
            [150, 40],
          ],
        },
        {
          id: 'right',
          path: [
            [220, 100],
            [150, 40],
          ],
        },
        {
          id: 'stem',
          path: [
            [150, 40],
            [150, 0],
          ],
        },
      ],
    });
    // The third corner of a triangle is where the two rails meet.
    expect(codesOf(derive(triangle)).filter((code) => code === 'reversing-section')).toHaveLength(1);
    expect(codesOf(derive(panelOf(textOf('lamp-needs-two-levers.mimic.json'))))).not.toContain('reversing-section');
    expect(codesOf(derive(panelOf(textOf('frog-own-end.mimic.json'))))).not.toContain('reversing-section');
  });
});
