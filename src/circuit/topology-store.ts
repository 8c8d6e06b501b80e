/**
 * Topologies kept by shape and state, so that levers of the same make share them.
 *
 * Idea: a state with edits is mostly asked for a few times in a row and then never again. The first time it is held among the latest few;
 * only what is asked for again later is kept for good, or what is kept would cost more than working it out.
 */
import type { Instance } from './instance.ts';
import { TOPOLOGIES_HELD, TOPOLOGIES_KEPT } from './tolerances.ts';
import type { Topology } from './topology.ts';

/** A topology with an instance that anybody may fill with values; null where only the general solver serves. */
export interface Stored {
  readonly topology: Topology;
  readonly scratch: Instance;
}

/** What is kept of networks of one shape, by state. */
export class ShapeStates {
  private readonly kept = new Map<string, Stored | null>();
  /** States that were held once. */
  private readonly met = new Set<string>();

  constructor(private readonly store: TopologyStore) {}

  /** What is kept or held of a state, or what `work` makes of it. `often`: it is worth keeping at once. */
  get(key: string, often: boolean, work: () => Stored | null): Stored | null {
    const known = this.kept.get(key);
    if (known !== undefined) return known;
    const held = this.store.heldOf(this, key);
    if (held !== undefined) return held;
    const made = work();
    this.store.room();
    if (often || this.met.has(key)) this.kept.set(key, made);
    else {
      this.met.add(key);
      this.store.hold(this, key, made);
    }
    return made;
  }

  /** Forgets all that is kept; what is held goes when others come. */
  clear(): void {
    this.kept.clear();
    this.met.clear();
  }
}

interface Held {
  readonly states: ShapeStates;
  readonly key: string;
  readonly stored: Stored | null;
}

/** What networks that are made ready one after the other share: topologies by shape and state, laws of diodes, and stamps of values. */
export class TopologyStore {
  private readonly shapes = new Map<string, ShapeStates>();
  private readonly laws = new Map<string, number>();
  private readonly held: Held[] = [];
  private next = 0;
  private made = 0;
  private stamps = 0;

  /** A number that no values have had. */
  stamp(): number {
    return ++this.stamps;
  }

  /** A number for the law of diodes, saturation current `is` in A and emission coefficient `n`, that may only be merged with their like; never 0. */
  lawClass(is: number, n: number): number {
    const key = `${is} ${n}`;
    const known = this.laws.get(key);
    if (known !== undefined) return known;
    this.laws.set(key, this.laws.size + 1);
    return this.laws.size;
  }

  /** What is kept of a network of this shape. */
  statesOf(shape: string): ShapeStates {
    const known = this.shapes.get(shape);
    if (known !== undefined) return known;
    const states = new ShapeStates(this);
    this.shapes.set(shape, states);
    return states;
  }

  /** What is held of a state; undefined where it is not. */
  heldOf(states: ShapeStates, key: string): Stored | null | undefined {
    return this.held.find((each) => each.states === states && each.key === key)?.stored;
  }

  /** Holds one more in place of the oldest. */
  hold(states: ShapeStates, key: string, stored: Stored | null): void {
    this.held[this.next] = { states, key, stored };
    this.next = (this.next + 1) % TOPOLOGIES_HELD;
  }

  /** Makes room for one more; past the most (`TOPOLOGIES_KEPT`) all are forgotten. */
  room(): void {
    if (this.made >= TOPOLOGIES_KEPT) {
      for (const each of this.shapes.values()) each.clear();
      this.made = 0;
    }
    this.made++;
  }
}
