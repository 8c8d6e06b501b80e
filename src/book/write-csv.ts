/**
 * Rows to CSV as RFC 4180 has it: CRLF, quotes round fields that need them, quotes doubled. Fields that a spreadsheet
 * would read as a formula are defused (OWASP, CSV Injection); plain numbers, negative ones too, are left alone.
 */
import { formatNumber } from './format.ts';

export type Cell = string | number | null;

/** A plain number as our own formatter writes it. */
const PLAIN_NUMBER = /^-?\d+(\.\d+)?$/;
/** What makes a spreadsheet run a field, at its start: OWASP lists = + - @ tab, CR and LF. */
const FORMULA_START = /^[=+\-@\t\r\n]/;
/** The same behind a separator or a quote, where a program splits the field again. */
const NEEDS_QUOTES = /[",\r\n\t;']|^\s|\s$/;

/** One field. A leading single quote marks a field that would be a formula. */
export function csvField(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return formatNumber(cell);
  if (PLAIN_NUMBER.test(cell)) return cell;
  const dangerous = FORMULA_START.test(cell.trimStart()) || FORMULA_START.test(cell);
  const safe = dangerous ? `'${cell}` : cell;
  return dangerous || NEEDS_QUOTES.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** A header and its rows; every record ends in CRLF. Throws where a row is not as wide as the header. */
export function writeCsv(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  for (const row of rows) {
    if (row.length !== header.length)
      throw new RangeError(`row of ${row.length} fields under ${header.length} columns: ${JSON.stringify(row)}`);
  }
  return [header, ...rows].map((row) => `${row.map(csvField).join(',')}\r\n`).join('');
}
