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

/** Merges what can be merged at every cluster that is not known. */
export function mergeChains(clusters: number, branches: readonly Chain[], known: Uint8Array): Merged {
  const chains: (Chain | null)[] = [...branches];
  const degree = new Int32Array(clusters);
  // Chains that have met a cluster; some may have left it since.
  const met: number[][] = Array.from({ length: clusters }, () => []);
  chains.forEach((chain, e) => {
    if (chain === null || chain.from === chain.to) return;
    for (const c of [chain.from, chain.to]) {
      met[c]?.push(e);
      degree[c] = (degree[c] as number) + 1;
    }
  });
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
    const here = [...new Set(met[c])].filter((e) => {
      const chain = chains[e];
      return chain && chain.from !== chain.to && (chain.from === c || chain.to === c);
    });
    const [e = -1, f = -1] = here;
    const first = chains[e];
    if (!first) continue;
    if (here.length === 1) {
      // Towards c, so that its volts are found from the other end.
      const chain = first.to === c ? first : turned(first);
      loose.push(chain);
      chains[e] = null;
      degree[c] = 0;
      leave(chain.from, 1);
      continue;
    }
    const second = chains[f];
    if (!second) continue;
    const p = first.to === c ? first : turned(first);
    const q = second.from === c ? second : turned(second);
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
    degree[c] = 0;
    // A ring from a cluster to itself moves nobody's volts.
    if (chain.from === chain.to) {
      loose.push(chain);
      leave(chain.from, 2);
    } else if (known[chain.to] === 0) met[chain.to]?.push(e);
  }
  const kept = chains.flatMap((chain) => (chain === null ? [] : [chain.facing === -1 ? turned(chain) : chain]));
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
