/** Topologies kept by shape and state, so that levers of the same make share them. */
import type { Instance } from './instance.ts';
import { TOPOLOGIES_KEPT } from './tolerances.ts';
import type { Topology } from './topology.ts';

/** A topology with an instance that anybody may fill with values; null where only the general solver serves. */
export interface Stored {
  readonly topology: Topology;
  readonly scratch: Instance;
}

export class TopologyStore {
  private readonly shapes = new Map<string, Map<string, Stored | null>>();
  private readonly laws = new Map<string, number>();
  private kept = 0;
  private stamps = 0;

  /** A number that no values have had. */
  stamp(): number {
    return ++this.stamps;
  }

  /** A number for the law of diodes that may only be merged with their like; never 0. */
  lawClass(is: number, n: number): number {
    const key = `${is} ${n}`;
    const known = this.laws.get(key);
    if (known !== undefined) return known;
    this.laws.set(key, this.laws.size + 1);
    return this.laws.size;
  }

  /** What is kept of a network of this shape. */
  statesOf(shape: string): Map<string, Stored | null> {
    const known = this.shapes.get(shape);
    if (known !== undefined) return known;
    const states = new Map<string, Stored | null>();
    this.shapes.set(shape, states);
    return states;
  }

  /** Keeps one more; past the most all are forgotten. */
  keep(states: Map<string, Stored | null>, key: string, stored: Stored | null): void {
    if (this.kept >= TOPOLOGIES_KEPT) {
      for (const each of this.shapes.values()) each.clear();
      this.kept = 0;
    }
    states.set(key, stored);
    this.kept++;
  }
}
