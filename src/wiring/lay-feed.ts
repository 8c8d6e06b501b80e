/**
 * The feed of a lever: which supply, and the wires from it. A reversing feed: plus comes to tag 1 and minus to tag 4; tags 1 and 6,
 * 3 and 4 are linked; the commons, tags 2 and 5, go to the drives and the lamps. Lever normal: tag 2 is plus.
 */
import type { LeverSwitch } from '../contacts/index.ts';
import { feedOf, type LeverRecord, type PanelFile, type Supply } from '../panel/index.ts';
import { type Join, panelJoin } from './join.ts';
import type { WiringProblem } from './types.ts';

/** Poles without which no reversing feed can be made. */
const POLES = 2;

/** The supply that feeds a lever; null where no reversing feed can be made, for a reason that is reported here or by contacts. */
export function supplyFor(
  panel: PanelFile,
  supplies: readonly Supply[],
  record: LeverRecord | undefined,
  each: LeverSwitch,
  problems: WiringProblem[],
): Supply | null {
  const feed = feedOf(panel, record);
  if (feed.kind !== 'reversing') {
    problems.push({ code: 'feed-not-built', lever: each.lever, feed: feed.kind });
    return null;
  }
  const wanted = feed.supplies[0] ?? '';
  const supply = supplies.find((candidate) => candidate.id === wanted);
  if (supply === undefined) {
    problems.push({ code: 'supply-unknown', supply: wanted, by: each.lever });
    return null;
  }
  if (supply.kind !== 'dc' && supply.kind !== 'battery') {
    problems.push({ code: 'supply-kind-unfit', supply: supply.id, kind: supply.kind, feed: feed.kind });
    return null;
  }
  return each.used < POLES ? null : supply;
}

/** Plus and minus to a lever: from the supply to the first of its levers, from lever to lever after that; and the two links. */
export function layFeed(lever: string, supply: Supply, previous: string | undefined): readonly Join[] {
  const plus = `${supply.id}.p`;
  const minus = `${supply.id}.m`;
  const fused = supply.fuse !== null;
  const chain =
    previous === undefined
      ? [
          ...(fused ? [panelJoin(plus, `FU-${supply.id}.1`, supply.id, plus)] : []),
          panelJoin(fused ? `FU-${supply.id}.2` : plus, `${lever}.t1`, supply.id, plus),
          panelJoin(minus, `${lever}.t4`, supply.id, minus),
        ]
      : [
          panelJoin(`${previous}.t1`, `${lever}.t1`, supply.id, plus),
          panelJoin(`${previous}.t4`, `${lever}.t4`, supply.id, minus),
        ];
  return [
    ...chain,
    panelJoin(`${lever}.t1`, `${lever}.t6`, lever, plus),
    panelJoin(`${lever}.t4`, `${lever}.t3`, lever, minus),
  ];
}
