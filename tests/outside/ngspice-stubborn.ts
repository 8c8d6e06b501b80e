/** Texts that some runs of ngspice do not end: each gets so much time, then is tried again with options that ask for less. */
import { readBinary, runOnce, type SpiceRows } from './ngspice-many.ts';

/** Texts of one process, and how long it may take over them, ms: some 50 each where all is well. */
const TEXTS_A_PROCESS = 10;
const PROCESS_MS = 3000;
/** How long one text alone may take, ms. */
const ALONE_MS = 2000;

/**
 * What is changed at each further try, by the name it is told by. Floating islands are let lie within a millivolt; Gear's formulas do not
 * ring where a diode cuts off; a resistor from each node to node 0 keeps what floats from being singular.
 */
const TRIES: readonly { readonly name: string; readonly of: (text: string) => string }[] = [
  { name: 'alone', of: (text) => text },
  { name: 'vntol', of: loosened },
  { name: 'gear', of: (text) => withOption(text, 'method=gear') },
  { name: 'rshunt', of: (text) => withOption(text, 'rshunt=1e10') },
  { name: 'all of them', of: (text) => withOption(withOption(loosened(text), 'method=gear'), 'rshunt=1e10') },
];

function loosened(text: string): string {
  return text.replace(/vntol=\S+/, 'vntol=1e-3');
}

function withOption(text: string, option: string): string {
  return text.replace(/^\.options /m, `.options ${option} `);
}

/** What a text gave, and by which try: null at first go. Rows are null where every try failed. */
export interface StubbornRun {
  readonly rows: SpiceRows | null;
  readonly by: string | null;
}

/** Runs every text, in order; none is left out unsaid. */
export function runSpiceStubborn(texts: readonly string[]): readonly StubbornRun[] {
  const found: StubbornRun[] = [];
  for (let at = 0; at < texts.length; at += TEXTS_A_PROCESS) {
    const some = texts.slice(at, at + TEXTS_A_PROCESS);
    const first = runWithin(some, PROCESS_MS);
    found.push(...some.map((text, k) => again(text, first[k] ?? null)));
  }
  return found;
}

function again(text: string, first: SpiceRows | null): StubbornRun {
  if (first !== null) return { rows: first, by: null };
  for (const { name, of } of TRIES) {
    const [rows = null] = runWithin([of(text)], ALONE_MS);
    if (rows !== null) return { rows, by: name };
  }
  return { rows: null, by: null };
}

/** Null for those that gave nothing, gave up, or were not reached in time. */
function runWithin(texts: readonly string[], ms: number): readonly (SpiceRows | null)[] {
  const { raws } = runOnce(texts, ms);
  return texts.map((text, k) => {
    const raw = raws[k] ?? null;
    if (raw === null) return null;
    try {
      return readBinary(raw, text);
    } catch {
      // It gave up: the next try says which.
      return null;
    }
  });
}
