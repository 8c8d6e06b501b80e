import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { csvField, writeCsv } from './write-csv.ts';

/** A reader of RFC 4180, written from its grammar. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    let field = '';
    if (text[at] === '"') {
      at += 1;
      for (; at < text.length; at++) {
        if (text[at] !== '"') field += text[at];
        else if (text[at + 1] === '"') {
          field += '"';
          at += 1;
        } else break;
      }
      at += 1;
    } else for (; at < text.length && text[at] !== ',' && text[at] !== '\r'; at++) field += text[at];
    row.push(field);
    if (text[at] === ',') at += 1;
    else {
      expect(text.slice(at, at + 2)).toBe('\r\n');
      at += 2;
      rows.push(row);
      row = [];
    }
  }
  return rows;
}

describe('RFC 4180', () => {
  test('records end in CRLF, fields with comma, quote or break are quoted, quotes doubled', () => {
    expect(
      writeCsv(
        ['a', 'b'],
        [
          ['1,2', 'say "on"'],
          ['two\r\nlines', null],
        ],
      ),
    ).toBe('a,b\r\n"1,2","say ""on"""\r\n"two\r\nlines",\r\n');
  });
  test('a row that is not as wide as the header is refused', () => {
    expect(() => writeCsv(['a', 'b'], [['1']])).toThrow(RangeError);
  });
  test('what is written is read back, seed 4180', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.string({ unit: 'grapheme' }), { minLength: 2, maxLength: 2 }), { minLength: 1 }),
        (rows) => {
          const [, ...back] = readCsv(writeCsv(['a', 'b'], rows));
          expect(back.map((row) => row.map((field) => (field.startsWith("'") ? field.slice(1) : field)))).toEqual(
            rows.map((row) => row.map((field) => (field.startsWith("'") ? field.slice(1) : field))),
          );
        },
      ),
      { seed: 4180, numRuns: 300 },
    );
  });
});

// OWASP, CSV Injection: fields that begin with = + - @ tab, CR or LF are run by spreadsheets.
describe('formulas', () => {
  test('the vector of OWASP is defused as its page says', () => {
    expect(csvField('=1+2";=1+2')).toBe(`"'=1+2"";=1+2"`);
  });
  test.each(['=HYPERLINK("x")', '+1+1', '-1+1', '@SUM(A1)', '\t=1', '\r=1', '\n=1', ' =1'])(
    '%j begins with a single quote inside quotes',
    (text) => {
      expect(csvField(text).startsWith(`"'`)).toBe(true);
    },
  );
  test('plain numbers are left alone, negative ones too', () => {
    expect([csvField('-4.2'), csvField(-4.2), csvField(0.0005), csvField('12')]).toEqual([
      '-4.2',
      '-4.2',
      '0.0005',
      '12',
    ]);
  });
});
