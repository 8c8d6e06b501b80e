import { describe, expect, test } from 'vitest';
import { foldLadder, type Ladder } from './ladder.ts';

/** "R(H1|-H2)": one below the other without a sign, side by side with |, upside down with -. */
function say(ladder: Ladder<string>): string {
  switch (ladder.kind) {
    case 'leaf':
      return `${ladder.flipped ? '-' : ''}${ladder.what}`;
    case 'series':
      return ladder.parts.map(say).join(' ');
    case 'parallel':
      return `(${ladder.parts.map(say).join('|')})`;
  }
}
const fold = (text: string): readonly string[] | null =>
  foldLadder(
    text.split(' ').map((part) => {
      const [what = '', a = '', b = ''] = part.split(':');
      return { what, a, b };
    }),
    'A',
    'B',
  )?.map(say) ?? null;

describe('networks between two rails', () => {
  test('an opposed pair behind one resistor', () => {
    expect(fold('R:A:m H1:m:B H2:B:m')).toEqual(['R (H1|-H2)']);
  });
  test('strings of several lamps, each one way', () => {
    expect(fold('R:A:m H1:m:x H2:x:B H3:B:y H4:y:m')).toEqual(['R (H1 H2|-H4 -H3)']);
  });
  test('a guard diode across a lamp', () => {
    expect(fold('R:A:m H1:m:B G1:B:m')).toEqual(['R (H1|-G1)']);
  });
  test('two groups stand side by side in their order', () => {
    expect(fold('R1:A:m R2:A:n H1:m:B H2:B:n')).toEqual(['R1 H1', 'R2 -H2']);
  });
  test('a bridge is no ladder', () => {
    expect(fold('a:A:x b:A:y c:x:y d:x:B e:y:B')).toBeNull();
  });
  test('a loose end is no ladder', () => {
    expect(fold('R:A:m H1:m:B H2:m:z')).toBeNull();
  });
  test('nothing between the rails', () => {
    expect(foldLadder([], 'A', 'B')).toEqual([]);
  });
});
