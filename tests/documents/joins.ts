/** Names that hang together, as a drawing or the wires join them. */
export class Joins {
  readonly #up = new Map<string, string>();
  /** One of the names that this one hangs together with, the same for all of them. */
  of(name: string): string {
    const up = this.#up.get(name);
    return up === undefined || up === name ? name : this.of(up);
  }
  /** These two hang together. */
  join(a: string, b: string): void {
    this.#up.set(this.of(a), this.of(b));
  }
  /** Names in sets of what hangs together, sets and names in order. */
  sets(names: readonly string[]): string[][] {
    const sets = new Map<string, string[]>();
    for (const name of [...new Set(names)].sort()) sets.set(this.of(name), [...(sets.get(this.of(name)) ?? []), name]);
    return [...sets.values()].sort((a, b) => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1));
  }
}
