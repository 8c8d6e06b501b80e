import { readFileSync } from 'node:fs';

/** One record of a table in tests/outside/data, by the names in its first line. Asking for a name it lacks throws. */
export interface Row {
  get(column: string): string;
  number(column: string): number;
}

/** Splits RFC 4180 text: fields in quotes may hold commas and doubled quotes. */
function split(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(([, quoted, plain]) =>
    quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'),
  );
}

/** The records of a table of published values that were read in their source, or all where `found` is false. */
export function readCsv(name: string, found = true): readonly Row[] {
  const lines = readFileSync(new URL(`./data/${name}`, import.meta.url), 'utf8').split(/\r?\n/);
  const [head, ...records] = lines.filter((line) => line !== '').map(split);
  if (head === undefined) throw new RangeError(`${name} is empty`);
  const rows = records.map((record): Row => {
    if (record.length !== head.length)
      throw new RangeError(`${name}: ${record.length} fields in "${record.join(',')}"`);
    const fields = new Map(head.map((column, i) => [column, record[i] ?? '']));
    const get = (column: string): string => {
      const field = fields.get(column);
      if (field === undefined) throw new RangeError(`${name} has no column ${column}`);
      return field;
    };
    return {
      get,
      number: (column) => {
        const value = Number(get(column));
        if (get(column) === '' || !Number.isFinite(value)) throw new RangeError(`${name}: no number in ${column}`);
        return value;
      },
    };
  });
  return found ? rows.filter((row) => row.get('verified') === 'found') : rows;
}

/** One unit in the last printed place of a number in a table: 0.01 for "1.63". */
export function lastPlace(printed: string): number {
  return 10 ** -(printed.split('.')[1] ?? '').length;
}
