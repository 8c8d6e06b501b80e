/**
 * Reads over the text of a file without making anything of it: is it whole JSON (RFC 8259), is it too deep or too much, does a key
 * stand twice in one object. The readers built into browsers say little about where a fault is, each says it otherwise, and none
 * notices a key that stands twice, whose first value would be lost. One pass, no recursion; 20 MB take some tenths of a second.
 */
import { MOST_DEPTH, MOST_KEYS, MOST_VALUES } from './limits.ts';

/** What is wrong with the text, and where: lines and columns count from 1. */
export interface TextProblem {
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

const QUOTE = 34;
const COMMA = 44;
const COLON = 58;
const OPEN_LIST = 91;
const BACKSLASH = 92;
const CLOSE_LIST = 93;
const OPEN_OBJECT = 123;
const CLOSE_OBJECT = 125;
const FIRST_PRINTABLE = 32;

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /true|false|null/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;

class Fault extends Error {
  readonly at: number;
  constructor(at: number, message: string) {
    super(message);
    this.at = at;
  }
}

/** The first thing wrong with the text, or null where it is whole. */
export function scanText(text: string): TextProblem | null {
  try {
    scan(text);
    return null;
  } catch (fault) {
    if (!(fault instanceof Fault)) throw fault;
    return { ...placeInText(text, fault.at), message: fault.message };
  }
}

function scan(text: string): void {
  /** For every list or object that is open: the keys so far, or null for a list. */
  const open: (Set<string> | null)[] = [];
  let awaits: 'value' | 'value or ]' | 'key' | 'key or }' | 'what follows' = 'value';
  let values = 0;
  let i = skipBlank(text, 0);
  for (;;) {
    const char = text.charCodeAt(i);
    if (awaits === 'what follows') {
      if (open.length === 0) {
        if (i < text.length) throw new Fault(i, `expected the end of the file, got ${charInWords(text, i)}`);
        return;
      }
      const keys = open[open.length - 1];
      if (char === COMMA) {
        awaits = keys ? 'key' : 'value';
        i += 1;
      } else if (char === (keys ? CLOSE_OBJECT : CLOSE_LIST)) {
        open.pop();
        i += 1;
      } else throw new Fault(i, `expected a comma or ${keys ? '}' : ']'}, got ${charInWords(text, i)}`);
    } else if (awaits === 'key' || awaits === 'key or }') {
      if (char === CLOSE_OBJECT && awaits === 'key or }') {
        open.pop();
        awaits = 'what follows';
        i += 1;
      } else {
        if (char === CLOSE_OBJECT) throw new Fault(i, 'a comma stands before }: nothing follows it');
        if (char !== QUOTE) throw new Fault(i, `expected a key in double quotes, got ${charInWords(text, i)}`);
        const end = skipText(text, i);
        rememberKey(text, i, end, open[open.length - 1] ?? null);
        i = skipBlank(text, end);
        if (text.charCodeAt(i) !== COLON)
          throw new Fault(i, `expected a colon after the key, got ${charInWords(text, i)}`);
        awaits = 'value';
        i += 1;
      }
    } else if (char === CLOSE_LIST && awaits === 'value or ]') {
      open.pop();
      awaits = 'what follows';
      i += 1;
    } else {
      values += 1;
      if (values > MOST_VALUES) throw new Fault(i, `more than ${MOST_VALUES} values: this is no panel`);
      if (char === OPEN_OBJECT || char === OPEN_LIST) {
        if (open.length === MOST_DEPTH) throw new Fault(i, `lists and objects more than ${MOST_DEPTH} deep`);
        open.push(char === OPEN_OBJECT ? new Set() : null);
        awaits = char === OPEN_OBJECT ? 'key or }' : 'value or ]';
        i += 1;
      } else {
        i = skipPlain(text, i, open.length > 0 && open[open.length - 1] === null);
        awaits = 'what follows';
      }
    }
    i = skipBlank(text, i);
  }
}

function skipBlank(text: string, from: number): number {
  let i = from;
  for (;;) {
    const char = text.charCodeAt(i);
    if (char !== 32 && char !== 10 && char !== 13 && char !== 9) return i;
    i += 1;
  }
}

function skipPlain(text: string, from: number, inList: boolean): number {
  if (text.charCodeAt(from) === QUOTE) return skipText(text, from);
  for (const pattern of [NUMBER, WORD]) {
    pattern.lastIndex = from;
    if (pattern.test(text)) return pattern.lastIndex;
  }
  if (inList && text.charCodeAt(from) === CLOSE_LIST)
    throw new Fault(from, 'a comma stands before ]: nothing follows it');
  throw new Fault(from, `expected a value, got ${charInWords(text, from)}`);
}

/** Where the text in quotes that begins here ends. Character by character: a pattern would run out of stack on a long one. */
function skipText(text: string, from: number): number {
  let i = from + 1;
  for (;;) {
    const char = text.charCodeAt(i);
    if (char === QUOTE) return i + 1;
    if (char === BACKSLASH) {
      ESCAPE.lastIndex = i;
      if (!ESCAPE.test(text)) throw new Fault(i, 'a backslash stands before something that it cannot stand before');
      i = ESCAPE.lastIndex;
    } else if (char >= FIRST_PRINTABLE) i += 1;
    else if (i >= text.length) throw new Fault(from, 'text begins here and its closing quote is missing');
    else throw new Fault(i, 'a line break or control character stands inside text');
  }
}

function rememberKey(text: string, from: number, end: number, keys: Set<string> | null): void {
  const raw = text.slice(from + 1, end - 1);
  const key: unknown = raw.includes('\\') ? JSON.parse(text.slice(from, end)) : raw;
  if (typeof key !== 'string' || keys === null) throw new Error(`key at ${from} stands in no object`);
  if (keys.has(key)) throw new Fault(from, `the key ${JSON.stringify(key.slice(0, 40))} stands twice in one object`);
  if (keys.size === MOST_KEYS) throw new Fault(from, `more than ${MOST_KEYS} keys in one object: this is no panel`);
  keys.add(key);
}

function charInWords(text: string, at: number): string {
  if (at >= text.length) return 'the end of the file';
  if (text.startsWith('//', at) || text.startsWith('/*', at)) return 'a comment (the file takes none)';
  const char = String.fromCodePoint(text.codePointAt(at) ?? 0);
  if (char === "'") return "' (text stands in double quotes)";
  return /[\p{L}\p{N}\p{P}\p{S}]/u.test(char)
    ? char
    : `the character U+${(text.codePointAt(at) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
}

/** Line and column of a place in a text, both from 1; columns count UTF-16 units, as editors do. */
function placeInText(text: string, at: number): { readonly line: number; readonly column: number } {
  let line = 1;
  let start = 0;
  for (let i = text.indexOf('\n'); i !== -1 && i < at; i = text.indexOf('\n', i + 1)) {
    line += 1;
    start = i + 1;
  }
  return { line, column: at - start + 1 };
}
