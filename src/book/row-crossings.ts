/** Conductors of a circuit in rows that lie across each other without joining: which nets to cut at a letter so that fewer do. */
import type { End, Laid, LaidPart } from './row-layout.ts';

/** Places along a row, only to tell what is left of what: parts of a slot stand at its hundred, upright lines before it. */
const SLOT = 100;
const BEFORE = 40;

interface Level {
  readonly net: string;
  readonly row: number;
  readonly from: number;
  readonly to: number;
}

const netOf = (end: End | null | undefined): string | null => (end?.at === 'net' ? end.net : null);

/** How often one net lies across another, by both names. */
function countCrossings(laid: Laid): ReadonlyMap<string, ReadonlyMap<string, number>> {
  const upright = new Map(laid.nets.map((net) => [net.net, net.level * SLOT - BEFORE + net.line]));
  const level: Level[] = laid.parts.flatMap((each) => {
    const at = each.slot * SLOT;
    const on = (ends: LaidPart['left'], rows: readonly number[]): Level[] =>
      ends.flatMap((end, i) => {
        const net = netOf(end);
        const x = net === null ? undefined : upright.get(net);
        if (net === null || x === undefined) return [];
        return [{ net, row: rows[i] ?? 0, from: Math.min(x, at), to: Math.max(x, at) }];
      });
    return [...on(each.left, each.leftRows), ...on(each.right, each.rightRows)];
  });
  const counts = new Map<string, Map<string, number>>();
  for (const { net, row, from, to } of level)
    for (const other of laid.nets) {
      const x = upright.get(other.net) ?? 0;
      if (other.net === net || row <= other.top || row >= other.bottom || x <= from || x >= to) continue;
      for (const [one, two] of [
        [net, other.net],
        [other.net, net],
      ] as const) {
        const of = counts.get(one) ?? new Map<string, number>();
        of.set(two, (of.get(two) ?? 0) + 1);
        counts.set(one, of);
      }
    }
  return counts;
}

/**
 * The net that lies across others most often without need; null where none does. The two throws of one contact that both light several
 * groups have to cross once for each group but one: the contact lies on one side of them all.
 */
export function netToCut(laid: Laid): string | null {
  const counts = countCrossings(laid);
  const drivers = new Map(
    laid.parts.flatMap((each) => each.right.flatMap((end) => (netOf(end) === null ? [] : [[netOf(end) ?? '', each]]))),
  );
  const throwOf = (net: string, left = laid.parts.length): string | null => {
    const driver = drivers.get(net);
    if (driver === undefined || left === 0) return null;
    if (driver.part.shape === 'contact') return driver.part.id;
    const before = netOf(driver.left[0]);
    return driver.part.shape === 'pair' && driver.part.kind === 'way' && before !== null
      ? throwOf(before, left - 1)
      : null;
  };
  const kids = (net: string): number => laid.parts.filter((each) => each.left.some((end) => netOf(end) === net)).length;
  const needless = laid.nets.map(({ net }) => {
    const across = [...(counts.get(net) ?? [])].map(([other, n]) => {
      const one = throwOf(net);
      const allowed = one !== null && one === throwOf(other) ? Math.max(0, Math.min(kids(net), kids(other)) - 1) : 0;
      return Math.max(0, n - allowed);
    });
    return { net, count: across.reduce((sum, n) => sum + n, 0) };
  });
  const worst = needless.reduce((most, each) => (each.count > most.count ? each : most), { net: '', count: 0 });
  return worst.count === 0 ? null : worst.net;
}
