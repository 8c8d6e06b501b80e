/** A queue that gives what costs least first; of equals what was put in first. A binary heap: the logarithm of its size for each. */
export class LeastFirst<T> {
  readonly #heap: { readonly cost: readonly number[]; readonly turn: number; readonly item: T }[] = [];
  #turn = 0;

  /** Costs are compared number by number. */
  put(cost: readonly number[], item: T): void {
    const heap = this.#heap;
    heap.push({ cost, turn: this.#turn, item });
    this.#turn += 1;
    let i = heap.length - 1;
    while (i > 0) {
      const parent = (i - 1) >> 1;
      if (!this.#before(i, parent)) return;
      this.#swap(i, parent);
      i = parent;
    }
  }

  /** Undefined when it is empty. */
  take(): { readonly cost: readonly number[]; readonly item: T } | undefined {
    const heap = this.#heap;
    if (heap.length > 0) this.#swap(0, heap.length - 1);
    const least = heap.pop();
    for (let i = 0; ; ) {
      let first = i;
      for (const child of [2 * i + 1, 2 * i + 2]) {
        if (child < heap.length && this.#before(child, first)) first = child;
      }
      if (first === i) return least;
      this.#swap(i, first);
      i = first;
    }
  }

  #before(i: number, j: number): boolean {
    const [a, b] = [this.#heap[i], this.#heap[j]];
    if (a === undefined || b === undefined) return false;
    return (compareCosts(a.cost, b.cost) || a.turn - b.turn) < 0;
  }

  #swap(i: number, j: number): void {
    const [a, b] = [this.#heap[i], this.#heap[j]];
    if (a === undefined || b === undefined) return;
    this.#heap[i] = b;
    this.#heap[j] = a;
  }
}

/** Below 0 where the first costs less, number by number. */
export function compareCosts(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}
