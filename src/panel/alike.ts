/**
 * Do two values say the same to the last digit? Plain records, lists, texts and numbers, as everything that is derived is made of; keys in
 * the same order, since records that are compared are made by the same code. What is the very same object is alike without a look.
 */
export function isAlike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a)) {
    if (!Array.isArray(b) || a.length !== b.length) return false;
    for (let i = 0; i < a.length; i++) if (!isAlike(a[i], b[i])) return false;
    return true;
  }
  if (Array.isArray(b)) return false;
  const [one, two] = [a as Readonly<Record<string, unknown>>, b as Readonly<Record<string, unknown>>];
  let count = 0;
  for (const key in one) {
    count++;
    if (!(key in two) || !isAlike(one[key], two[key])) return false;
  }
  for (const _ in two) count--;
  return count === 0;
}
