/**
 * The order of ids: figures count as numbers (P2 before P10), case aside; ids that are equal so far by their characters.
 * @example ['P10', 'P2'].sort(byId) // ['P2', 'P10']
 */
export function byId(a: string, b: string): number {
  if (a === b) return 0;
  const one = pieces(a);
  const two = pieces(b);
  for (let i = 0; i < Math.min(one.length, two.length); i++) {
    const order = comparePieces(one[i] ?? '', two[i] ?? '');
    if (order !== 0) return order;
  }
  return one.length - two.length || compareTexts(a, b);
}

function pieces(id: string): readonly string[] {
  return id.toLowerCase().match(/\d+|\D+/g) ?? [];
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
