/**
 * The order of ids: figures count as numbers (P2 before P10), case aside; ids that are equal so far by their characters.
 * @example ['P10', 'P2'].sort(byId) // ['P2', 'P10']
 */
export function byId(a: string, b: string): number {
  return a === b ? 0 : compareFolded(a, b) || compareTexts(a, b);
}

/** A list in the order of ids, what is equal in the order given. */
export function sortedById<T>(list: readonly T[], idOf: (item: T) => string): T[] {
  return [...list].sort((a, b) => byId(idOf(a), idOf(b)));
}

/** Character by character, whole runs of figures at once; figures stand before all else, and what ends first before what goes on. */
function compareFolded(a: string, b: string): number {
  let [i, j] = [0, 0];
  while (i < a.length && j < b.length) {
    const [one, two] = [a.charCodeAt(i), b.charCodeAt(j)];
    if (isFigure(one) && isFigure(two)) {
      // Without leading noughts by length, then by figures: as numbers, however long.
      const [from, to] = [firstFigure(a, i), firstFigure(b, j)];
      [i, j] = [afterFigures(a, from), afterFigures(b, to)];
      const order = i - from - (j - to) || compareFigures(a, from, b, to, i - from);
      if (order !== 0) return order;
    } else if (one !== two && fold(one) !== fold(two)) {
      if (isFigure(one) !== isFigure(two)) return isFigure(one) ? -1 : 1;
      return fold(one) - fold(two);
    } else {
      i += 1;
      j += 1;
    }
  }
  return a.length - i - (b.length - j);
}

function compareFigures(a: string, i: number, b: string, j: number, count: number): number {
  for (let k = 0; k < count; k++) {
    const order = a.charCodeAt(i + k) - b.charCodeAt(j + k);
    if (order !== 0) return order;
  }
  return 0;
}

/** Case aside: ids hold no letters but these. */
function fold(code: number): number {
  return code >= 65 && code <= 90 ? code + 32 : code;
}

function isFigure(code: number): boolean {
  return code >= 48 && code <= 57;
}

/** Past noughts that a figure follows. */
function firstFigure(text: string, from: number): number {
  let i = from;
  while (text.charCodeAt(i) === 48 && isFigure(text.charCodeAt(i + 1))) i += 1;
  return i;
}

function afterFigures(text: string, from: number): number {
  let i = from;
  while (isFigure(text.charCodeAt(i))) i += 1;
  return i;
}

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
