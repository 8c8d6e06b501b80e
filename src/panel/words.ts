/** The plain words for what stands in a file, so that a message never speaks of types or of the language of the file. */

const QUOTED_LENGTH = 24;

/** What kind of thing a value is: "text", "a number", "a list of 3", "an object", "yes or no", "nothing". */
export function kindInWords(value: unknown): string {
  if (value === undefined || value === null) return 'nothing';
  if (typeof value === 'string') return 'text';
  if (typeof value === 'number') return 'a number';
  if (typeof value === 'boolean') return 'yes or no';
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  return typeof value === 'object' ? 'an object' : 'what no file can hold';
}

/** A text or number as it stands, cut short; the kind of anything else. */
export function valueInWords(value: unknown): string {
  if (typeof value === 'number') return String(value);
  if (typeof value !== 'string') return kindInWords(value);
  const chars = [...value.slice(0, 4 * QUOTED_LENGTH)];
  return JSON.stringify(chars.length > QUOTED_LENGTH ? `${chars.slice(0, QUOTED_LENGTH).join('')}...` : value);
}

export type Path = readonly (string | number)[];

const PLAIN_KEY = /^[A-Za-z_$][\w$-]*$/;

/** A path as it is printed: `strips[3].path[0]`; a key that is no plain word stands in brackets and quotes. */
export function pathInWords(path: Path): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (PLAIN_KEY.test(step)) text += text === '' ? step : `.${step}`;
    else text += `[${valueInWords(step)}]`;
  }
  return text;
}
