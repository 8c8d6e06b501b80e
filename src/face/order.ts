/** The order of ids as a reader expects it: H2 before H10; letters by code, figures by number, then by code. */
export function byId(a: string, b: string): number {
  const left = pieces(a);
  const right = pieces(b);
  for (let i = 0; i < Math.max(left.length, right.length); i++) {
    const [x, y] = [left[i], right[i]];
    if (x === undefined) return -1;
    if (y === undefined) return 1;
    if (x === y) continue;
    const [m, n] = [Number(x), Number(y)];
    const numbers = /^\d/.test(x) && /^\d/.test(y);
    if (numbers && m !== n) return m - n;
    return x < y ? -1 : 1;
  }
  return 0;
}

function pieces(id: string): readonly string[] {
  return id.match(/\d+|\D+/g) ?? [];
}
