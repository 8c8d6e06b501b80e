/**
 * Union-find over the numbers 0 to size - 1; the lower number stands for its set.
 *
 * Cost: nearly constant a call. Source: Tarjan 1975.
 */
export class Sets {
  private readonly parent: Int32Array;

  constructor(size: number) {
    this.parent = new Int32Array(size);
    for (let at = 0; at < size; at++) this.parent[at] = at;
  }

  /** The lowest number of the set that holds `at`. */
  find(at: number): number {
    let top = at;
    while (this.parent[top] !== top) {
      this.parent[top] = this.parent[this.parent[top] as number] as number;
      top = this.parent[top] as number;
    }
    return top;
  }

  /** Makes one set of two; false where they were one already. */
  join(p: number, q: number): boolean {
    const a = this.find(p);
    const b = this.find(q);
    if (a === b) return false;
    this.parent[Math.max(a, b)] = Math.min(a, b);
    return true;
  }
}
