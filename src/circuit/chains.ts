/**
 * Branches one behind the other as one.
 *
 * Idea: where two branches alone meet in a cluster, both carry the same amps, so their volts add: resistances and emfs sum, and
 * diodes that face the same way are one diode of n = sum n_i, ln is = sum(n_i ln is_i) / n and rs = sum rs_i. For diodes of one law
 * that is exact; for others it is exact where the amps are far above every is, which is why only such of next to no is are merged.
 * Diodes that face each other are never merged. A branch that ends nowhere carries nothing and comes off first.
 */

/** Branches in a row: `members` passed from their first to their second terminal where the sign is 1. */
export interface Chain {
  readonly from: number;
  readonly to: number;
  readonly members: readonly number[];
  readonly signs: readonly (1 | -1)[];
  /** Clusters between the members. */
  readonly inner: readonly number[];
  /** 1 where its diodes conduct from `from` to `to`, -1 the other way, 0 where it has none. */
  readonly facing: 1 | -1 | 0;
  /** Class of its diodes' laws; -1 where it has none. */
  readonly law: number;
}

export interface Merged {
  /** Chains that can carry something; diodes conduct from `from` to `to`. */
  readonly kept: readonly Chain[];
  /** Chains that end nowhere, and rings from a cluster to itself (these are kept too): each from a cluster whose volts are known by then. */
  readonly loose: readonly Chain[];
}

/** What a single branch has of these. */
export const ALONG: readonly (1 | -1)[] = [1];
export const NONE: readonly number[] = [];

/** Merges what can be merged at every cluster that is not known. */
export function mergeChains(clusters: number, branches: readonly Chain[], known: Uint8Array): Merged {
  const chains: (Chain | null)[] = [...branches];
  const degree = new Int32Array(clusters);
  for (const { from, to } of branches) {
    if (from === to) continue;
    degree[from] = (degree[from] as number) + 1;
    degree[to] = (degree[to] as number) + 1;
  }
  // Chains that meet each cluster: `met[first[c] .. first[c + 1]]`; some may have left it since, and some gone into another.
  const first = new Int32Array(clusters + 1);
  for (let c = 0; c < clusters; c++) first[c + 1] = (first[c] as number) + (degree[c] as number);
  const met = new Int32Array(first[clusters] as number);
  const next = first.slice(0, clusters);
  const into = new Int32Array(branches.length);
  branches.forEach(({ from, to }, e) => {
    into[e] = e;
    if (from === to) return;
    for (const c of [from, to]) {
      met[next[c] as number] = e;
      next[c] = (next[c] as number) + 1;
    }
  });
  /** The chain that a branch is part of by now, where that ends in a cluster; -1 where not. */
  const endsIn = (c: number, at: number): number => {
    let e = met[at] as number;
    while (into[e] !== e) e = into[e] as number;
    const chain = chains[e];
    return chain && chain.from !== chain.to && (chain.from === c || chain.to === c) ? e : -1;
  };
  const loose: Chain[] = [];
  const queue: number[] = [];
  for (let c = 0; c < clusters; c++) if (known[c] === 0) queue.push(c);
  const leave = (c: number, count: number): void => {
    degree[c] = (degree[c] as number) - count;
    if (known[c] === 0 && (degree[c] as number) <= 2) queue.push(c);
  };
  for (let k = 0; k < queue.length; k++) {
    const c = queue[k] as number;
    if ((degree[c] as number) > 2 || degree[c] === 0) continue;
    let [e, f] = [-1, -1];
    for (let at = first[c] as number; at < (first[c + 1] as number); at++) {
      const here = endsIn(c, at);
      if (here < 0 || here === e || here === f) continue;
      if (e < 0) e = here;
      else f = here;
    }
    const one = chains[e];
    if (!one) continue;
    if (f < 0) {
      // Towards c, so that its volts are found from the other end.
      const chain = one.to === c ? one : turned(one);
      loose.push(chain);
      chains[e] = null;
      degree[c] = 0;
      leave(chain.from, 1);
      continue;
    }
    const other = chains[f];
    if (!other) continue;
    const p = one.to === c ? one : turned(one);
    const q = other.from === c ? other : turned(other);
    if (p.facing !== 0 && q.facing !== 0 && (p.facing !== q.facing || p.law !== q.law)) continue;
    const chain: Chain = {
      from: p.from,
      to: q.to,
      members: [...p.members, ...q.members],
      signs: [...p.signs, ...q.signs],
      inner: [...p.inner, c, ...q.inner],
      facing: p.facing === 0 ? q.facing : p.facing,
      law: Math.max(p.law, q.law),
    };
    chains[e] = chain;
    chains[f] = null;
    into[f] = e;
    degree[c] = 0;
    // A ring from a cluster to itself moves nobody's volts.
    if (chain.from === chain.to) {
      loose.push(chain);
      leave(chain.from, 2);
    }
  }
  const kept: Chain[] = [];
  for (const chain of chains) if (chain !== null) kept.push(chain.facing === -1 ? turned(chain) : chain);
  return { kept, loose: loose.reverse() };
}

function turned(chain: Chain): Chain {
  return {
    from: chain.to,
    to: chain.from,
    members: [...chain.members].reverse(),
    signs: chain.signs.map((sign): 1 | -1 => (sign === 1 ? -1 : 1)).reverse(),
    inner: [...chain.inner].reverse(),
    facing: chain.facing === 0 ? 0 : chain.facing === 1 ? -1 : 1,
    law: chain.law,
  };
}
