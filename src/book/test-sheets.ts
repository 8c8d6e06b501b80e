/** Bench tests to work through: what a kind of test always asks stands once above its table, what differs in the rows. */
import type { Derived } from '../derive.ts';
import type { BenchTest, Expect } from '../prove/index.ts';
import { formatAmps, formatVolts } from '../units/index.ts';
import { formatNumber } from './format.ts';
import { pt } from './page.ts';
import { type Leaf, type Setting, startFlow } from './sheet.ts';
import { type Column, drawTable, type TableCell } from './table.ts';
import { counted } from './words.ts';

const STAGES = [
  'Stage 0: look',
  'Stage 1: the layout half, through the connector',
  'Stage 2: the panel unplugged, no power',
  'Stage 3: the panel unplugged, on a limited feed',
  'Stage 4: panel and layout together',
  'Stage 5: a train over every leg of every point',
  'Stage 6: a coin across the rails, everywhere',
] as const;

/** A text in its sentences, each with its full stop. */
export function sentences(text: string): readonly string[] {
  return text
    .split(/(?<=[.:])\s+(?=[A-Z])/)
    .map((sentence) => sentence.trim())
    .filter((sentence) => sentence !== '');
}

/** Sentences that every one of the texts has, in the order of the first; and what is left of each text. */
export function shared(texts: readonly string[]): {
  readonly always: readonly string[];
  readonly rest: readonly string[];
} {
  const split = texts.map(sentences);
  const [first = []] = split;
  const always = split.length < 2 ? [] : first.filter((sentence) => split.every((each) => each.includes(sentence)));
  return { always, rest: split.map((each) => each.filter((sentence) => !always.includes(sentence)).join(' ')) };
}

/** The same sentence but for ids and figures: how texts that differ in nothing else are known. */
function pattern(sentence: string): string {
  return sentence.replace(/[A-Za-z]*\d[\w.]*/g, '#');
}

/** Tests of one kind stand together: the first word of the id and its number of parts. */
function kindOf(test: BenchTest): string {
  const parts = test.id.split(':');
  return `${parts[0] ?? ''} ${parts.length}`;
}

/** "4.75 V to 5.25 V, A.7; lit: H1 H2; unlit: H3" */
export function expectWords(expects: readonly Expect[]): string {
  const said: string[] = [];
  for (const expect of expects) {
    if ('lamp' in expect) continue;
    if ('point' in expect) said.push(`${expect.point} ${expect.lie}`);
    else {
      const say = (value: number): string =>
        expect.quantity === 'volts'
          ? formatVolts(value)
          : expect.quantity === 'amps'
            ? formatAmps(value)
            : `${formatNumber(Math.round(value * 100) / 100)} ohm`;
      const band = expect.high === null ? `at least ${say(expect.low)}` : `${say(expect.low)} to ${say(expect.high)}`;
      said.push(`${band}, ${expect.at}`);
    }
  }
  for (const look of ['lit', 'unlit'] as const) {
    const lamps = expects.flatMap((expect) => ('lamp' in expect && expect.look === look ? [expect.lamp] : []));
    if (lamps.length > 0) said.push(`${look}: ${lamps.join(' ')}`);
  }
  return said.join('; ');
}

/** What a pass rules out and what it cannot tell, each said once; a sentence that differs in figures alone is given as of its first test. */
function notes(tests: readonly BenchTest[], of: (test: BenchTest) => string): readonly string[] {
  const seen = new Map<string, { readonly text: string; readonly id: string; readonly texts: Set<string> }>();
  for (const test of tests) {
    for (const sentence of sentences(of(test))) {
      const key = pattern(sentence);
      const known = seen.get(key);
      if (known === undefined) seen.set(key, { text: sentence, id: test.id, texts: new Set([sentence]) });
      else known.texts.add(sentence);
    }
  }
  return [...seen.values()].map(({ text, id, texts }) =>
    texts.size === 1 ? text : `${text} (Figures of ${id}; the others much the same.)`,
  );
}

/** Bench tests in the order of work, with bands, a line for the reading and a box. */
export function testPages(derived: Derived, setting: Setting): Leaf[] {
  const tests = derived.tests();
  const flow = startFlow(setting, {
    title: 'Bench tests',
    lead: 'In this order. Write what you read; tick what passes; do not go on past a test that fails.',
    name: 'tests',
    bookmark: { title: 'Bench tests', level: 0 },
  });
  const columns: Column[] = [
    { title: 'Test', width: 29 },
    { title: 'Do', width: { share: 1.3 } },
    { title: 'Expect', width: { share: 1 } },
    { title: 'Read', width: 18 },
    { title: 'Pass', width: 8, anchor: 'end' },
  ];
  const small = { size: pt(9), after: 1 };
  if (tests.length === 0) flow.paragraph('There is nothing to test yet.');
  for (const [stage, title] of STAGES.entries()) {
    const part = tests.filter((test) => test.stage === stage);
    if (part.length === 0) continue;
    flow.heading(title, counted(part.length, 'test'));
    const kinds = [...new Set(part.map(kindOf))];
    for (const kind of kinds) {
      const group = part.filter((test) => kindOf(test) === kind);
      const { always, rest } = shared(group.map((test) => test.do));
      flow.need(40);
      flow.y += 1;
      if (always.length > 0) flow.paragraph(`Each time: ${always.join(' ')}`, { ...small, strong: false });
      const tells = notes(group, (test) => test.tells);
      if (tells.length > 0) flow.paragraph(`A pass rules out: ${tells.join(' ')}`, small);
      const cannot = notes(group, (test) => test.cannotTell);
      if (cannot.length > 0) flow.paragraph(`It cannot tell: ${cannot.join(' ')}`, small);
      drawTable(
        flow,
        setting.sheet,
        columns,
        group.map((test, i): TableCell[] => [
          { text: test.id, font: 'text-600' },
          rest[i] || 'as above',
          expectWords(test.expect),
          { write: true },
          { tick: true },
        ]),
        { size: pt(8.6), pad: 1 },
      );
    }
  }
  return flow.leaves;
}
