import * as z from 'zod';
import { foldId, idsIn } from './ids.ts';
import { FURTHEST, GREATEST, LEAST, MOST_DEPTH, MOST_KEYS, MOST_PROBLEMS, MOST_TEXT, MOST_VALUES } from './limits.ts';
import { migrate } from './migrate.ts';
import { knownKeys, type Outline, panelOutline, stepInto } from './outline.ts';
import { scanText } from './scan.ts';
import { FORMAT, type PanelFile, panelSchema, VERSION } from './schema.ts';
import { kindInWords, type Path, pathInWords, valueInWords } from './words.ts';

/** One reason why a file cannot be used. */
export interface FileProblem {
  /** Where, as in `strips[3].path[0]`; empty for the file as a whole. */
  readonly path: string;
  readonly message: string;
  /** Where in the text, from 1, when the text itself is at fault. */
  readonly line?: number;
  readonly column?: number;
}

/** A key that no one knows. It is kept and written back. */
export interface UnknownKey {
  readonly path: string;
  readonly key: string;
  /** A known key that it may be a slip of the pen for; null where none is near. */
  readonly near: string | null;
}

/** A panel, or every reason why there is none. */
export type PanelRead =
  | { readonly ok: true; readonly panel: PanelFile; readonly hints: readonly UnknownKey[] }
  | { readonly ok: false; readonly problems: readonly FileProblem[] };

/**
 * The panel that the text of a file holds. Never throws, whatever the text: what is wrong is returned, all of it,
 * in the order of the schema (a fault of the text itself stands alone, with line and column).
 */
export function readPanel(text: string): PanelRead {
  if (text.length > MOST_TEXT) {
    return refused([{ path: '', message: `the file has ${text.length} characters; a panel has at most ${MOST_TEXT}` }]);
  }
  const bare = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (bare.trim() === '') return refused([{ path: '', message: 'the file is empty' }]);
  const fault = scanText(bare);
  if (fault) return refused([{ path: '', ...fault }]);
  return checkPanel(JSON.parse(bare));
}

/** The same check for a file that is already parsed. The panel is the value itself, unaltered (unless it was migrated). */
export function checkPanel(value: unknown): PanelRead {
  const odd = findOddValues(value);
  if (odd.length > 0) return refused(inOrder(odd));
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return refused([{ path: '', message: `expected a panel, that is an object, got ${kindInWords(value)}` }]);
  }
  const head = readHead(value);
  if (head.newer) return refused([head.newer]);
  const file = head.version === null ? value : migrate(value, head.version);
  const problems = [...head.problems, ...checkRecords(file), ...checkIds(file)];
  if (problems.length > 0) return refused(inOrder(problems));
  // Every key has been checked against the schema just now, list by list; zod's own copy would only cost time.
  return { ok: true, panel: file as PanelFile, hints: findUnknownKeys(file) };
}

/** One line for people: the first problem, where it is, and how many more there are. Throws on an empty list. */
export function problemLine(problems: readonly FileProblem[]): string {
  const first = problems[0];
  if (first === undefined) throw new RangeError('no problem to tell of in a list of 0');
  const where =
    first.line === undefined || first.column === undefined ? first.path : `line ${first.line}, column ${first.column}`;
  const rest = problems.length - 1;
  const more = rest === 0 ? '' : ` (and ${rest} more ${rest === 1 ? 'problem' : 'problems'})`;
  return `${where === '' ? '' : `${where}: `}${first.message}${more}`;
}

interface Placed {
  readonly path: Path;
  readonly message: string;
}

const STOPPED: Placed = { path: [], message: `reading stopped after ${MOST_PROBLEMS} problems` };

function refused(problems: readonly FileProblem[]): PanelRead {
  return { ok: false, problems };
}

/** What would pollute, be lost on writing, or take too long: looked for before anything else touches the value. No recursion. */
function findOddValues(root: unknown): Placed[] {
  const odd: Placed[] = [];
  const plain = oddPlain(root);
  if (plain !== null) return [{ path: [], message: plain }];
  interface Step {
    readonly value: object;
    readonly depth: number;
    readonly key: string | number;
    readonly above: Step | null;
  }
  const pathTo = (step: Step | null, key: string | number): Path => {
    const path = [key];
    for (let s = step; s !== null && s.above !== null; s = s.above) path.unshift(s.key);
    return path;
  };
  const ahead: Step[] =
    typeof root === 'object' && root !== null ? [{ value: root, depth: 1, key: '', above: null }] : [];
  let values = 1;
  for (let step = ahead.pop(); step !== undefined && odd.length < MOST_PROBLEMS; step = ahead.pop()) {
    const here = step;
    const look = (key: string | number, value: unknown) => {
      values += 1;
      if (typeof value === 'object' && value !== null) {
        if (here.depth === MOST_DEPTH) {
          odd.push({ path: pathTo(here, key), message: `lists and objects more than ${MOST_DEPTH} deep` });
        } else ahead.push({ value, depth: here.depth + 1, key, above: here });
      } else {
        const message = oddPlain(value);
        if (message !== null) odd.push({ path: pathTo(here, key), message });
      }
    };
    if (Array.isArray(here.value)) {
      const list: readonly unknown[] = here.value;
      if (values + list.length <= MOST_VALUES) {
        for (let i = 0; i < list.length; i++) look(i, list[i] === undefined ? null : list[i]);
      } else values += list.length;
    } else {
      const entries = Object.entries(here.value);
      if (entries.length > MOST_KEYS) {
        const message = `more than ${MOST_KEYS} keys in one object: this is no panel`;
        return [{ path: here.above === null ? [] : pathTo(here.above, here.key), message }];
      }
      for (const [key, value] of entries) {
        if (key === '__proto__') {
          odd.push({ path: pathTo(here, key), message: 'no key of a panel file may be called __proto__' });
        } else if (value !== undefined) look(key, value);
      }
    }
    if (values > MOST_VALUES) return [{ path: [], message: `more than ${MOST_VALUES} values: this is no panel` }];
  }
  return odd;
}

function oddPlain(value: unknown): string | null {
  if (typeof value === 'number' && !Number.isFinite(value)) return 'expected a number, got one too great to hold';
  if (typeof value === 'function' || typeof value === 'symbol' || typeof value === 'bigint') {
    return 'expected what a file can hold, got what none can';
  }
  return null;
}

interface Head {
  readonly version: number | null;
  readonly newer: FileProblem | null;
  readonly problems: readonly Placed[];
}

function readHead(file: object): Head {
  const format: unknown = Reflect.get(file, 'format');
  const version: unknown = Reflect.get(file, 'version');
  const problems: Placed[] = [];
  if (format === undefined) {
    problems.push({ path: ['format'], message: `missing: a panel file says "format": "${FORMAT}"` });
  } else if (format !== FORMAT) {
    problems.push({
      path: ['format'],
      message: `expected "${FORMAT}", got ${valueInWords(format)}: this is no panel file`,
    });
  }
  if (typeof version === 'number' && Number.isInteger(version) && version >= 1) {
    if (version <= VERSION) return { version, newer: null, problems };
    if (problems.length === 0) {
      const message = `this file is version ${version}; this program reads up to ${VERSION}`;
      return { version: null, newer: { path: 'version', message }, problems };
    }
  }
  problems.push({
    path: ['version'],
    message:
      version === undefined
        ? `missing: a panel file says "version": ${VERSION}`
        : `expected the version, a whole number from 1 to ${VERSION}, got ${valueInWords(version)}`,
  });
  return { version: null, newer: null, problems };
}

/** Everything but the head, against the schema, value by value, so that rubbish is left off once it is plain that it is rubbish. */
function checkRecords(file: object): Placed[] {
  const problems: Placed[] = [];
  for (const [key, schema] of Object.entries(panelSchema.shape)) {
    if (key === 'format' || key === 'version') continue;
    checkValue(schema, Object.hasOwn(file, key) ? Reflect.get(file, key) : undefined, [key], problems);
  }
  if (problems.length < MOST_PROBLEMS) return problems;
  return [...problems, STOPPED];
}

/** Lists, tables and objects are gone through here; zod judges what is in them, and what stands where one of them should. */
function checkValue(schema: z.core.$ZodType, value: unknown, path: Path, problems: Placed[]): void {
  if (problems.length >= MOST_PROBLEMS) return;
  if (schema instanceof z.ZodOptional) {
    if (value !== undefined) checkValue(schema.unwrap(), value, path, problems);
  } else if (schema instanceof z.ZodNullable) {
    if (value !== null) checkValue(schema.unwrap(), value, path, problems);
  } else if (schema instanceof z.ZodArray && Array.isArray(value)) {
    for (let i = 0; i < value.length; i++) checkValue(schema.element, value[i], [...path, i], problems);
  } else if (schema instanceof z.ZodRecord && isPlain(value)) {
    for (const [key, item] of Object.entries(value)) checkValue(schema.valueType, item, [...path, key], problems);
  } else if (schema instanceof z.ZodObject && isPlain(value)) {
    for (const [key, inner] of Object.entries(schema.shape)) {
      checkValue(inner, Object.hasOwn(value, key) ? value[key] : undefined, [...path, key], problems);
    }
  } else if (schema instanceof z.ZodUnion && typeof value === 'object' && value !== null) {
    // A key that may be written two ways (`shows`): the kind of the value says which way was taken.
    const way = schema.options.find((option) => option instanceof z.ZodArray === Array.isArray(value));
    if (way) checkValue(way, value, path, problems);
  } else {
    const result = z.safeParse(schema, value, { error: sayIssue });
    for (const issue of result.success ? [] : result.error.issues) {
      const steps = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step));
      problems.push({ path: [...path, ...steps], message: issue.message });
    }
  }
}

function isPlain(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

const KINDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'yes or no (true or false)',
  array: 'a list',
  tuple: 'a list',
  object: 'an object',
  record: 'an object',
};

/** Our words for what zod finds; the few schemas with words of their own never come here. */
function sayIssue(issue: z.core.$ZodRawIssue): string {
  const input: unknown = issue.input;
  if (issue.code === 'invalid_type') {
    const wanted = KINDS[issue.expected] ?? issue.expected;
    if (issue.expected === 'int' && typeof input === 'number') return `expected ${wanted}, got ${input}`;
    return input === undefined ? `missing: expected ${wanted}` : `expected ${wanted}, got ${kindInWords(input)}`;
  }
  if (issue.code === 'invalid_value') {
    const choices = issue.values.map(String);
    const last = choices[choices.length - 1];
    const list = choices.length > 1 ? `${choices.slice(0, -1).join(', ')} or ${last}` : last;
    return input === undefined ? `missing: expected ${list}` : `expected ${list}, got ${valueInWords(input)}`;
  }
  if (issue.code === 'too_small' || issue.code === 'too_big')
    return `expected ${rangeInWords(issue)}, got ${valueInWords(input)}`;
  return `expected something else, got ${valueInWords(input)}`;
}

function rangeInWords(issue: z.core.$ZodRawIssue<z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig>): string {
  if (issue.code === 'too_small') {
    if (issue.minimum === LEAST)
      return typeof issue.input === 'number' && issue.input > 0 ? `at least ${LEAST}` : 'a number above 0';
    return issue.minimum === -FURTHEST ? 'a spot within 1 km' : `at least ${issue.minimum}`;
  }
  if (issue.maximum === FURTHEST) return 'a spot within 1 km';
  return issue.maximum === GREATEST ? `at most ${GREATEST}` : `at most ${issue.maximum}`;
}

/** Ids that stand twice, differ by case alone, or are retired. */
function checkIds(file: object): Placed[] {
  const problems: Placed[] = [];
  const first = new Map<string, { readonly id: string; readonly path: Path }>();
  const retired: unknown = Reflect.get(file, 'retired');
  const gone = new Map<string, { readonly id: string; readonly path: Path }>();
  if (Array.isArray(retired)) {
    retired.forEach((id: unknown, i) => {
      if (typeof id === 'string' && !gone.has(foldId(id))) gone.set(foldId(id), { id, path: ['retired', i] });
    });
  }
  for (const { id, path } of idsIn(file)) {
    if (problems.length >= MOST_PROBLEMS) return [...problems, STOPPED];
    const folded = foldId(id);
    const before = first.get(folded);
    const left = gone.get(folded);
    if (before !== undefined) {
      const how = before.id === id ? 'stands already at' : `differs by case alone from ${valueInWords(before.id)} at`;
      problems.push({ path, message: `the id ${valueInWords(id)} ${how} ${pathInWords(before.path)}` });
    } else first.set(folded, { id, path });
    if (left !== undefined) {
      const how = left.id === id ? 'is retired' : `differs by case alone from ${valueInWords(left.id)}, retired`;
      problems.push({
        path,
        message: `the id ${valueInWords(id)} ${how} at ${pathInWords(left.path)}: no id is issued again`,
      });
    }
  }
  return problems;
}

/** In the order of the schema, lists by index, unknown keys last by name; at one place in the order found. */
function inOrder(problems: readonly Placed[]): FileProblem[] {
  return [...problems]
    .sort((a, b) => comparePaths(a.path, b.path))
    .map(({ path, message }) => ({ path: pathInWords(path), message }));
}

function comparePaths(a: Path, b: Path): number {
  // The note that reading stopped has no place: it stands last.
  if (a.length === 0 || b.length === 0) return (a.length === 0 ? 1 : 0) - (b.length === 0 ? 1 : 0);
  let outline: Outline = panelOutline;
  for (let i = 0; i < Math.min(a.length, b.length); i++) {
    const one = a[i] ?? '';
    const two = b[i] ?? '';
    if (one !== two) {
      if (typeof one === 'number' && typeof two === 'number') return one - two;
      const order = rank(outline, one) - rank(outline, two);
      return order !== 0 ? order : String(one) < String(two) ? -1 : 1;
    }
    outline = stepInto(outline, one);
  }
  return a.length - b.length;
}

function rank(outline: Outline, key: string | number): number {
  const known = knownKeys(outline);
  if (known === null) return 0;
  const at = [...known.keys()].indexOf(String(key));
  return at === -1 ? known.size : at;
}

/** Parts carry figures of any name, which the catalogue checks. */
const FREE: ReadonlySet<string> = new Set(['parts']);

export function findUnknownKeys(file: object): UnknownKey[] {
  const hints: UnknownKey[] = [];
  const look = (value: unknown, outline: Outline, path: Path): void => {
    if (hints.length >= MOST_PROBLEMS || outline.kind === 'leaf' || typeof value !== 'object' || value === null) return;
    if (Array.isArray(value)) {
      const inner = stepInto(outline, 0);
      if (inner.kind !== 'leaf') for (const [i, item] of value.entries()) look(item, inner, [...path, i]);
      return;
    }
    const known = knownKeys(outline);
    for (const [key, item] of Object.entries(value)) {
      if (known === null || known.has(key)) look(item, stepInto(outline, key), [...path, key]);
      else if (!(path.length === 2 && FREE.has(String(path[0])))) {
        hints.push({ path: pathInWords([...path, key]), key, near: nearest(key, known) });
      }
    }
  };
  look(file, panelOutline, []);
  return hints;
}

/** The known key that differs from this one by case, by one letter added, left out or changed, or by two that changed places. */
function nearest(key: string, known: ReadonlyMap<string, Outline>): string | null {
  const folded = key.toLowerCase();
  for (const candidate of known.keys()) if (oneSlip(folded, candidate.toLowerCase())) return candidate;
  return null;
}

function oneSlip(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1 || Math.min(a.length, b.length) < 3) return a === b;
  let start = 0;
  while (start < a.length && a[start] === b[start]) start += 1;
  let end = 0;
  while (end < Math.min(a.length, b.length) - start && a[a.length - 1 - end] === b[b.length - 1 - end]) end += 1;
  const apart = Math.max(a.length, b.length) - start - end;
  return apart <= 1 || (apart === 2 && a[start] === b[start + 1] && a[start + 1] === b[start]);
}
