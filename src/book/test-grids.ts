/**
 * Bench tests of one kind as a grid: what all of them say stands once, what differs becomes columns. Sentences are set
 * against each other word by word; where they differ in the test's own lever, point or position, the shared sentence says so
 * in brackets; where they differ in anything else, the words before the gap head a column. Nothing of a test is left out.
 */
import type { BenchTest, Expect } from '../prove/index.ts';
import { formatAmps, formatVolts } from '../units/index.ts';
import { formatNumber } from './format.ts';
import { ranges } from './words.ts';

/** A text in its sentences, each with its full stop. */
export function sentences(text: string): readonly string[] {
  return text
    .split(/(?<=[.:])\s+(?=[A-Z])/)
    .map((sentence) => sentence.trim())
    .filter((sentence) => sentence !== '');
}

/** The same text but for ids and figures: how texts that differ in nothing else are known. */
export function pattern(text: string): string {
  return text.replace(/[\w.-]*\d[\w.]*/g, '#');
}

/** Where texts differ: `text` has one \u2026 for each gap, `before` the words that lead up to it. */
interface Gap {
  readonly before: string;
  readonly values: readonly string[];
}

interface Compared {
  readonly text: string;
  readonly gaps: readonly Gap[];
}

/** More gaps than this in texts of as many words: they differ in kind, and one gap is made of all. */
const MOST_GAPS = 4;
export const GAP_SIGN = '\u2026';

/** Texts set against each other word by word. */
export function compareTexts(texts: readonly string[]): Compared {
  const words = texts.map((text) => text.split(' '));
  const [first = []] = words;
  const same = (i: number): boolean => words.every((each) => each[i] === first[i]);
  const spans: { readonly from: number; readonly to: (each: readonly string[]) => number }[] = [];
  if (words.every((each) => each.length === first.length)) {
    for (let i = 0; i < first.length; i++) {
      if (same(i)) continue;
      const from = i;
      while (i + 1 < first.length && !same(i + 1)) i += 1;
      const to = i + 1;
      spans.push({ from, to: () => to });
    }
  }
  if (spans.length > MOST_GAPS || words.some((each) => each.length !== first.length)) {
    spans.length = 0;
    const shortest = Math.min(...words.map((each) => each.length));
    let head = 0;
    while (head < shortest && same(head)) head += 1;
    let tail = 0;
    while (tail < shortest - head && words.every((each) => each.at(-1 - tail) === first.at(-1 - tail))) tail += 1;
    spans.push({ from: head, to: (each) => each.length - tail });
  }
  const gaps: Gap[] = [];
  let text = '';
  let at = 0;
  for (const { from, to } of spans) {
    const lead = first.slice(at, from).join(' ');
    text += `${text === '' || lead === '' ? '' : ' '}${lead}`;
    const raw = words.map((each) => each.slice(from, to(each)).join(' '));
    const mark = /[.,;:]$/.exec(raw[0] ?? '')?.[0] ?? '';
    const stop = mark !== '' && raw.every((each) => each.endsWith(mark)) ? mark : '';
    gaps.push({
      before: leadingWords(lead),
      values: raw.map((each) => (stop === '' ? each : each.slice(0, -stop.length))),
    });
    text += `${text === '' ? '' : ' '}${GAP_SIGN}${stop}`;
    at = to(first);
  }
  const end = first.slice(at).join(' ');
  return { text: `${text}${text === '' || end === '' ? '' : ' '}${end}`, gaps };
}

/** The last words of a sentence begun, back to the last mark: what heads a column. */
function leadingWords(lead: string): string {
  const after = lead.split(/[.,;:]\s/).at(-1) ?? '';
  return after.split(' ').slice(-2).join(' ');
}

/** What a column of the grid holds. */
export interface GridColumn {
  readonly kind: 'test' | 'words' | 'read' | 'blades' | 'lit' | 'unlit' | 'do';
  readonly head: string;
}

export interface TestGrid {
  /** What is done each time, in sentences. */
  readonly always: readonly string[];
  readonly columns: readonly GridColumn[];
  /** A test has one line or more; the first has its name. Cells stand in the order of the columns. */
  readonly rows: readonly { readonly first: boolean; readonly cells: readonly string[] }[];
  /** Of each row how many readings it asks for: its first columns of readings, each with a line to write on. */
  readonly asked: readonly number[];
  /** Of each test its readings in full, spot and band, for a list in place of a grid. */
  readonly readings: readonly (readonly string[])[];
}

const isReading = (expect: Expect): expect is Extract<Expect, { quantity: string }> => 'quantity' in expect;

/** Tests that can share a grid: the same kind, the same sort of sentences. Middle positions stand apart. */
export function gridKey(test: BenchTest): string {
  const parts = test.id.split(':');
  const asked = sentences(test.do).map((sentence) =>
    pattern(sentence)
      .replace(/\b(normal|reverse)\b/g, '#')
      .split(' ')
      .slice(0, 3)
      .join(' '),
  );
  return [parts[0], parts.length, test.id.endsWith(':centre'), ...asked].join('|');
}

/** "11.27 to 12.75 V", "up to 2 \u03a9", "at least 181 \u03a9". */
export function bandWords({ quantity, low, high }: Extract<Expect, { quantity: string }>): string {
  if (quantity === 'ohms') {
    if (high === null) return `at least ${ohmWords(floorTo(low))}`;
    return low === 0 ? `up to ${ohmWords(high)}` : `${ohmWords(low)} to ${ohmWords(high)}`;
  }
  const say = quantity === 'volts' ? formatVolts : formatAmps;
  if (high === null) return `at least ${say(low)}`;
  if (low === 0) return `up to ${say(high)}`;
  const [from, to] = [say(low), say(high)];
  const unit = to.slice(to.lastIndexOf(' '));
  return `${from.endsWith(unit) ? from.slice(0, -unit.length) : from} to ${to}`;
}

/** Three figures, downwards: a bound from below is never made harder to meet. */
function floorTo(value: number): number {
  if (value <= 0) return 0;
  const step = 10 ** (Math.floor(Math.log10(value)) - 2);
  return Math.floor(value / step + FLOOR_SLACK) * step;
}
/** A figure that binary fractions leave a hair below its step is on it. */
const FLOOR_SLACK = 1e-9;

function ohmWords(ohms: number): string {
  const [value, unit] =
    ohms >= 1e6 ? [ohms / 1e6, 'M\u03a9'] : ohms >= 1000 ? [ohms / 1000, 'k\u03a9'] : [ohms, '\u03a9'];
  return `${formatNumber(Math.round(value * 100) / 100)} ${unit}`;
}

/** "P4 P5 normal, P6 reverse" */
function bladeWords(test: BenchTest): string {
  return (['normal', 'reverse'] as const)
    .flatMap((lie) => {
      const points = test.expect.flatMap((each) => ('point' in each && each.lie === lie ? [each.point] : []));
      return points.length === 0 ? [] : [`${ranges(points)} ${lie}`];
    })
    .join(', ');
}

const lampWords = (test: BenchTest, look: 'lit' | 'unlit'): string =>
  ranges(test.expect.flatMap((each) => ('lamp' in each && each.look === look ? [each.lamp] : [])));

/**
 * A list of like things behind a colon, one after another over all tests: "plug in: 820R across A.1 and A.2 for D1; A.3 and
 * A.4 for D2". Null where the texts are no such lists.
 */
export function mergeLists(texts: readonly string[]): string | null {
  const cut = texts.map((text) => /^(.*?: )(.+)\.$/.exec(text));
  const lead = cut[0]?.[1];
  if (lead === undefined || cut.some((each) => each?.[1] !== lead)) return null;
  const lists = cut.map((each) => (each?.[2] ?? '').split(', '));
  // Like things: at least one list has a single kind of thing in it. "Red on A.1, black on A.2" is no such list.
  if (lists.every((list) => new Set(list.map(pattern)).size > 1)) return null;
  const items = [...new Set(lists.flat())];
  const kinds = new Map<string, string[]>();
  for (const item of items) kinds.set(pattern(item), [...(kinds.get(pattern(item)) ?? []), item]);
  const said = [...kinds.values()].flatMap((list): string[] => {
    const { text, gaps } = compareTexts(list);
    const [first, last] = [text.indexOf(GAP_SIGN), text.lastIndexOf(GAP_SIGN)];
    if (list.length === 1 || gaps.length === 0) return list;
    const tail = text.length - last - 1;
    const inner = list.map((item) => item.slice(first, item.length - tail));
    return [`${text.slice(0, first)}${inner.join('; ')}${text.slice(last + 1)}`];
  });
  return `${lead}${said.join('. Also ')}.`;
}

/** The grid of tests of one key, in their order. */
export function layGrid(tests: readonly BenchTest[]): TestGrid {
  const subjects = tests.map((test) => test.id.split(':')[1] ?? '');
  const lies = tests.map((test) => test.id.split(':')[2] ?? '');
  const subjectWord = tests.every((test, i) => test.lever === subjects[i])
    ? 'lever'
    : tests.every((test) => /^(bench|train)$/.test(test.id.split(':')[0] ?? ''))
      ? 'point'
      : 'place';
  const lieWord = subjectWord === 'lever' ? 'position' : 'lie';
  const own = (values: readonly string[]): string | null => {
    if (tests.length < 2) return null;
    if (values.every((value, i) => value === `${subjects[i]} ${lies[i]}`)) return `[${subjectWord}] [${lieWord}]`;
    if (values.every((value, i) => value === subjects[i])) return `[${subjectWord}]`;
    return values.every((value, i) => value === lies[i]) ? `[${lieWord}]` : null;
  };
  /** The text with its own gaps named; the others are left as gaps. */
  const named = ({ text, gaps }: Compared): { readonly text: string; readonly gaps: readonly Gap[] } => {
    const parts = text.split(GAP_SIGN);
    const left: Gap[] = [];
    const said = gaps.reduce((sum, gap, i) => {
      const name = own(gap.values);
      if (name === null) left.push(gap);
      return `${sum}${name ?? GAP_SIGN}${parts[i + 1] ?? ''}`;
    }, parts[0] ?? '');
    return { text: said, gaps: left };
  };

  // What is done: sentence beside sentence.
  const asked = tests.map((test) => sentences(test.do));
  const always: string[] = [];
  const slots: Gap[] = [];
  const loose: string[] = tests.map(() => '');
  const depth = Math.max(0, ...asked.map((each) => each.length));
  if (tests.length === 1) always.push(...(asked[0] ?? []));
  else if (asked.every((each) => each.length === depth)) {
    for (let i = 0; i < depth; i++) {
      const texts = asked.map((each) => each[i] ?? '');
      const compared = named(compareTexts(texts));
      const wide = compared.gaps.some((gap) => gap.values.some((value) => value.length > MOST_SLOT));
      const merged = compared.gaps.length > 0 ? mergeLists(texts) : null;
      if (merged !== null) always.push(merged);
      else if (compared.gaps.length > 0 && (compared.text.startsWith(GAP_SIGN) || wide))
        for (const [k, text] of texts.entries()) loose[k] = `${loose[k] ?? ''}${loose[k] === '' ? '' : ' '}${text}`;
      else {
        always.push(compared.text);
        slots.push(...compared.gaps);
      }
    }
  } else for (const [k, each] of asked.entries()) loose[k] = each.join(' ');

  // What is read: the same spots in every test, one chunk of them a line.
  const readings = tests.map((test) => test.expect.filter(isReading));
  const period = periodOf(readings.map((list) => list.map((each) => pattern(each.at))));
  const chunks = readings.map((list) =>
    Array.from({ length: Math.ceil(list.length / Math.max(1, period)) }, (_, k) =>
      list.slice(k * period, (k + 1) * period),
    ),
  );
  const reads = Array.from({ length: period }, (_, i) =>
    readColumn(
      chunks.map((list) => list.map((each) => each[i])),
      slots,
    ),
  );

  const blades = tests.map(bladeWords);
  const ownBlades = blades.every((said, i) => said === '' || said === `${subjects[i]} ${lies[i]}`);
  const lit = tests.map((test) => lampWords(test, 'lit'));
  const unlit = tests.map((test) => lampWords(test, 'unlit'));
  const any = (list: readonly string[]): boolean => list.some((each) => each !== '');
  const kind = tests[0]?.id.split(':')[0] ?? '';
  const columns: GridColumn[] = [
    { kind: 'test', head: `Test, ${kind}:` },
    ...(any(loose) ? [{ kind: 'do', head: 'Do' } as const] : []),
    ...slots.map((slot): GridColumn => ({ kind: 'words', head: slot.before })),
    ...reads.map((read): GridColumn => ({ kind: 'read', head: read.head })),
    ...(any(blades) && !ownBlades ? [{ kind: 'blades', head: 'Blades' } as const] : []),
    ...(any(lit) ? [{ kind: 'lit', head: 'Lit' } as const] : []),
    ...(any(unlit) ? [{ kind: 'unlit', head: 'Unlit' } as const] : []),
  ];
  if (any(blades) && ownBlades) always.push('The blades must lie as the test is named.');
  const rows = tests.flatMap((test, t) =>
    Array.from({ length: Math.max(1, chunks[t]?.length ?? 0) }, (_, k) => {
      const once = (text: string | undefined): string => (k === 0 ? (text ?? '') : '');
      return {
        first: k === 0,
        cells: [
          once(test.id.slice(kind.length + 1)),
          ...(any(loose) ? [once(loose[t])] : []),
          ...slots.map((slot) => once(slot.values[t])),
          ...reads.map((read) => read.cells[t]?.[k] ?? ''),
          ...(any(blades) && !ownBlades ? [once(blades[t])] : []),
          ...(any(lit) ? [once(lit[t])] : []),
          ...(any(unlit) ? [once(unlit[t])] : []),
        ],
      };
    }),
  );
  return {
    always,
    columns,
    rows,
    asked: chunks.flatMap((list) => (list.length === 0 ? [0] : list.map((each) => each.length))),
    readings: readings.map((list) => list.map((each) => `${each.at}${each.at === '' ? '' : ': '}${bandWords(each)}`)),
  };
}

const READ_WORDS = { volts: 'Volts', amps: 'Amps', ohms: 'Ohms' } as const;

/** A gap with more letters than this is no word for a column: its sentence stays whole. */
const MOST_SLOT = 60;

/** How many readings come again and again in every test; all of the longest where there is no such number. */
function periodOf(lists: readonly (readonly string[])[]): number {
  const longest = Math.max(0, ...lists.map((list) => list.length));
  const full = lists.find((list) => list.length === longest) ?? [];
  for (let n = 1; n <= longest; n++)
    if (lists.every((list) => list.length % n === 0 && list.every((each, i) => each === full[i % n]))) return n;
  return longest;
}

/** One column of readings: what all share in its head, the band with it where it is the same for all. */
function readColumn(
  lists: readonly (readonly (Extract<Expect, { quantity: string }> | undefined)[])[],
  slots: readonly Gap[],
): { readonly head: string; readonly cells: readonly (readonly string[])[] } {
  const flat = lists.flatMap((list, t) => list.flatMap((each) => (each === undefined ? [] : [{ each, t }])));
  const bands = flat.map(({ each }) => bandWords(each));
  const oneBand = flat.length > 1 && bands.every((band) => band === bands[0]);
  const { text, gaps } = compareTexts(flat.map(({ each }) => each.at));
  // A spot that another column names already is not said twice.
  const known = gaps.map((gap) =>
    slots.some((slot) => gap.values.every((value, i) => value === slot.values[flat[i]?.t ?? 0])),
  );
  let at = 0;
  let said = text.replace(/(?: (?:at|of|on))? ?\u2026/g, (found) => (known[at++] === true ? '' : found)).trim();
  if (/^[\u2026 to]*$/.test(said)) said = READ_WORDS[flat[0]?.each.quantity ?? 'volts'];
  const head = oneBand ? `${bands[0] ?? ''}, ${said}` : said;
  const shown = gaps.filter((_, i) => known[i] !== true);
  let row = 0;
  const cells = lists.map((list) =>
    list.map((each) => {
      if (each === undefined) return '';
      const i = row++;
      const spots = shown.map((gap) => gap.values[i] ?? '').join(' to ');
      return oneBand ? spots : `${spots}${spots === '' ? '' : ': '}${bands[i] ?? ''}`;
    }),
  );
  return { head: flat.length === 0 ? '' : head, cells };
}
