/** Records of a table as a spreadsheet would read them. Shares no code with the writer. */

export type Row = Readonly<Record<string, string>>;

/** Splits RFC 4180 text into records of fields: quotes may hold commas, line ends and doubled quotes. */
export function splitTable(text: string): readonly (readonly string[])[] {
  const records: string[][] = [];
  let record: string[] = [];
  let field = '';
  let quoted = false;
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i] ?? '';
    if (quoted) {
      if (c !== '"') field += c;
      else if (text[i + 1] === '"') {
        field += '"';
        i += 1;
      } else quoted = false;
    } else if (c === '"') quoted = true;
    else if (c === ',') {
      record.push(field);
      field = '';
    } else if (c === '\n') {
      record.push(field);
      records.push(record);
      record = [];
      field = '';
    } else if (c !== '\r') field += c;
  }
  if (quoted) throw new RangeError('a quoted field has no end');
  if (field !== '' || record.length > 0) records.push([...record, field]);
  return records;
}

/** Records by the names in the first line, which must be exactly `columns`, as the published shape of the file says. */
export function readTable(name: string, text: string, columns: readonly string[]): readonly Row[] {
  const [head, ...records] = splitTable(text);
  if (head === undefined || head.join() !== columns.join())
    throw new RangeError(`${name} has the columns "${head?.join() ?? ''}", not "${columns.join()}"`);
  return records.map((record) => {
    if (record.length !== head.length) throw new RangeError(`${name}: ${record.length} fields in "${record.join()}"`);
    return Object.fromEntries(head.map((column, i) => [column, record[i] ?? '']));
  });
}

const MULTIPLIERS: Readonly<Record<string, number>> = { R: 1, k: 1e3, K: 1e3, M: 1e6 };

/** Ohms of a value in letter code, the letter in place of the point (IEC 60062): 4R7, 470R, 5k6, 10k, 1M; null for other text. */
export function readLetterCode(code: string): number | null {
  const found = /^(\d+)([RkKM])(\d*)$/.exec(code);
  if (found === null) return null;
  const [, whole = '', letter = '', rest = ''] = found;
  return Number(rest === '' ? whole : `${whole}.${rest}`) * (MULTIPLIERS[letter] ?? Number.NaN);
}
