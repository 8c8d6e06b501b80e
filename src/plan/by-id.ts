/**
 * The order of ids: figures count as numbers (P2 before P10), case aside; ids that are equal so far by their characters.
 * @example ['P10', 'P2'].sort(byId) // ['P2', 'P10']
 */
export function byId(a: string, b: string): number {
  return a === b ? 0 : compareKeys(keyOf(a), keyOf(b));
}

/** A list in the order of ids, what is equal in the order given; faster than sorting by `byId`, since each id is taken apart once. */
export function sortedById<T>(list: readonly T[], idOf: (item: T) => string): T[] {
  return list
    .map((item) => ({ item, key: keyOf(idOf(item)) }))
    .sort((a, b) => compareKeys(a.key, b.key))
    .map(({ item }) => item);
}

interface Key {
  readonly id: string;
  readonly pieces: readonly string[];
}

function keyOf(id: string): Key {
  return { id, pieces: id.toLowerCase().match(/\d+|\D+/g) ?? [] };
}

function compareKeys({ id: a, pieces: one }: Key, { id: b, pieces: two }: Key): number {
  for (let i = 0; i < Math.min(one.length, two.length); i++) {
    const order = comparePieces(one[i] ?? '', two[i] ?? '');
    if (order !== 0) return order;
  }
  return one.length - two.length || compareTexts(a, b);
}

function comparePieces(a: string, b: string): number {
  const figures = isFigure(a);
  if (figures !== isFigure(b)) return figures ? -1 : 1;
  if (!figures) return compareTexts(a, b);
  // By length without leading noughts, then by characters: as numbers, however long.
  const [one, two] = [a.replace(/^0+(?=\d)/, ''), b.replace(/^0+(?=\d)/, '')];
  return one.length - two.length || compareTexts(one, two);
}

function isFigure(piece: string): boolean {
  return piece >= '0' && piece < ':';
}

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
