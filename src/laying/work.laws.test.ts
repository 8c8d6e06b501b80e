import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { type Random, randomOf } from '../../tests/generate/random.ts';
import {
  applyTransaction,
  invertTransaction,
  type PanelFile,
  readPanel,
  type Transaction,
  writePanel,
} from '../panel/index.ts';
import { TYPICAL_PARTS } from '../parts/index.ts';
import { pointsWithoutLever, readPlan } from '../plan/index.ts';
import {
  arrangeLevers,
  joinUnder,
  ownLever,
  partLever,
  putUnder,
  setDrive,
  setSwitch,
  takeOffLevers,
} from './index.ts';

const SEED = 20261127;

function anyWork(panel: PanelFile, random: Random): Transaction | null {
  const { points, levers } = readPlan(panel);
  const point = () => random.pick(points).id;
  const lever = () => (levers.length === 0 ? 'L1' : random.pick(levers).id);
  const part = (kind: 'switch' | 'drive') => {
    const all = TYPICAL_PARTS.filter((each) => each.kind === kind);
    return random.chance(20) ? null : random.pick(all).id;
  };
  const some = <T>(all: readonly T[]) => all.filter(() => random.chance(40));
  return random.pick([
    () => putUnder(panel, point(), lever(), random.chance(50)),
    () => ownLever(panel, point()),
    () => joinUnder(panel, { levers: [lever(), lever()], opposite: random.chance(50) }),
    () => partLever(panel, lever()),
    () => takeOffLevers(panel, point()),
    () =>
      setSwitch(
        panel,
        some(levers).map(({ id }) => id),
        part('switch'),
      ),
    () =>
      setDrive(
        panel,
        some(points).map(({ id }) => id),
        part('drive'),
      ),
    () =>
      arrangeLevers(
        panel,
        points.map(({ id }) => ({ [id]: 'normal' as const })),
      ),
  ])();
}

describe('whatever is done to levers', () => {
  it(`reads back, is taken back byte for byte, never gives an id twice and works no point twice (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), (seed) => {
        const random = randomOf(seed);
        const { levers, ...rest } = generatePanel(seed, random.whole(1, 12));
        let panel: PanelFile = random.chance(50) ? rest : { ...rest, ...(levers === undefined ? {} : { levers }) };
        const gone = new Set<string>();
        for (let i = 0; i < 25; i++) {
          const tx = anyWork(panel, random);
          if (tx === null) continue;
          const after = applyTransaction(panel, tx, { freeze: true });
          expect(writePanel(applyTransaction(after, invertTransaction(tx))), tx.name).toBe(writePanel(panel));
          expect(readPanel(writePanel(after)).ok, tx.name).toBe(true);
          const [was, is] = [readPlan(panel), readPlan(after)];
          expect(is.points.map(({ id }) => id)).toEqual(was.points.map(({ id }) => id));
          const ids = new Set(is.levers.map(({ id }) => id));
          for (const id of ids) expect(gone.has(id), `${tx.name} gives ${id} again`).toBe(false);
          // What the file has named never comes back; a default lever that goes was never named.
          if (panel.levers !== undefined) for (const { id } of was.levers) if (!ids.has(id)) gone.add(id);
          const worked = is.levers.flatMap((lever) => lever.works.map(({ point }) => point));
          expect(new Set(worked).size, tx.name).toBe(worked.length);
          const free = pointsWithoutLever(after, is.points);
          for (const point of worked) expect(free.has(point), `${tx.name} ${point}`).toBe(false);
          panel = after;
        }
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it(`parted and joined again each point lies as it did (seed ${SEED + 1})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.boolean(), (seed, opposite) => {
        const panel = generatePanel(seed, 6);
        const { levers } = readPlan(panel);
        const [one, two] = levers;
        if (one === undefined || two === undefined) return;
        const joined = joinUnder(panel, { levers: [one.id, two.id], opposite });
        if (joined === null) throw new Error('two levers that are there can be joined');
        const after = readPlan(applyTransaction(panel, joined)).levers.find(({ id }) => id === one.id);
        const turned = two.works.map(({ point, whenNormal }) => ({
          point,
          whenNormal: (whenNormal === 'normal') === opposite ? 'reverse' : 'normal',
        }));
        expect(after?.works).toEqual([...one.works, ...turned]);
      }),
      { seed: SEED + 1, numRuns: 40 },
    );
  });
});
