import { keysInOrder, type Outline, panelOutline, stepInto } from './outline.ts';
import type { PanelFile } from './schema.ts';

/** Top-level objects that hold lists and tables long enough to be laid out a record a line, like the file itself. */
const LAID_OUT: ReadonlySet<string> = new Set(['track', 'built']);

/**
 * A panel as the text of its file: keys in the order of the schema, then unknown ones by name; numbers in their shortest form;
 * one record a line, so that versions compare well; a line feed at the end. The same panel gives the same bytes.
 * Throws on what no file can hold (a number that is not finite): such a value is a fault of the program.
 */
export function writePanel(panel: PanelFile): string {
  const lines = keysInOrder(panel, panelOutline)
    .filter((key) => panel[key] !== undefined)
    .map((key) => `  ${JSON.stringify(key)}: ${top(panel[key], stepInto(panelOutline, key), '  ', LAID_OUT.has(key))}`);
  return `{\n${lines.join(',\n')}\n}\n`;
}

function top(value: unknown, outline: Outline, indent: string, laidOut: boolean): string {
  const deeper = `${indent}  `;
  if (Array.isArray(value) && value.length > 0 && value.every(isObject)) {
    return `[\n${value.map((item) => `${deeper}${record(item, outline)}`).join(',\n')}\n${indent}]`;
  }
  if (isObject(value) && (laidOut || (outline.kind === 'table' && indent !== '  '))) {
    const keys = keysInOrder(value, outline).filter((key) => value[key] !== undefined);
    if (keys.length === 0) return '{}';
    const rows = keys.map(
      (key) => `${deeper}${JSON.stringify(key)}: ${top(value[key], stepInto(outline, key), deeper, false)}`,
    );
    return `{\n${rows.join(',\n')}\n${indent}}`;
  }
  return inline(value, outline);
}

function record(value: unknown, outline: Outline): string {
  const body = inline(value, stepInto(outline, 0));
  return body === '{}' ? body : `{ ${body.slice(1, -1)} }`;
}

/** One value on one line. */
export function inline(value: unknown, outline: Outline): string {
  if (Array.isArray(value)) return `[${value.map((item, i) => inline(item, stepInto(outline, i))).join(', ')}]`;
  if (isObject(value)) {
    const keys = keysInOrder(value, outline).filter((key) => value[key] !== undefined);
    return `{${keys.map((key) => `${JSON.stringify(key)}: ${inline(value[key], stepInto(outline, key))}`).join(', ')}}`;
  }
  if (typeof value === 'number' && !Number.isFinite(value))
    throw new RangeError(`no file can hold the number ${value}`);
  const text = JSON.stringify(value);
  if (text === undefined) throw new TypeError(`no file can hold a ${typeof value}`);
  return text;
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
