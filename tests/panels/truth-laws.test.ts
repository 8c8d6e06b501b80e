/** What lamps say is what they claim, on seeded panels of every kind that the generator lays, told by a slow and separate reading. */
import { describe, expect, it } from 'vitest';
import { type Derived, derive } from '../../src/derive.ts';
import { checkPanel, type PanelFile } from '../../src/panel/index.ts';
import type { Position } from '../../src/wiring/index.ts';
import { generatePanel } from '../generate/panels.ts';
import { randomOf } from '../generate/random.ts';

const SEEDS = [11, 12, 13, 14, 15, 16];

/** The same panel with some levers turned over, some drives running the other way and some points against their drives. */
function turned(panel: PanelFile, seed: number): PanelFile {
  const random = randomOf(seed);
  const drives = (panel.points ?? []).map(({ id }) => ({
    id: `D-${id}`,
    positive: random.chance(50) ? 'reverse' : 'normal',
  }));
  const read = checkPanel({
    ...panel,
    points: panel.points?.map((point) => ({
      ...point,
      drive: `D-${point.id}`,
      sense: random.chance(30) ? 'opposite' : 'same',
    })),
    drives,
    levers: panel.levers?.map((lever) => ({
      ...lever,
      works: lever.works?.map((works) => ({ ...works, opposite: random.chance(30) })),
    })),
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.panel;
}

/** How every point lies when the levers lie so: straight from the file. */
function liesOf(panel: PanelFile, levers: Readonly<Record<string, Position>>): ReadonlyMap<string, string> {
  const lies = new Map<string, string>();
  for (const lever of panel.levers ?? [])
    for (const { point, opposite } of lever.works ?? []) {
      const isNormal = (levers[lever.id] ?? 'normal') === 'normal';
      if (point !== undefined) lies.set(point, isNormal !== (opposite === true) ? 'normal' : 'reverse');
    }
  return lies;
}

function lampsThatShould(panel: PanelFile, lies: ReadonlyMap<string, string>): readonly string[] {
  return (panel.lamps ?? []).flatMap(({ id, shows }) =>
    shows !== undefined &&
    !Array.isArray(shows) &&
    Object.entries(shows).every(([point, lie]) => lies.get(point) === lie)
      ? [id]
      : [],
  );
}

/** Some settings: all one way, all the other, and as chance has it. */
function settingsOf(derived: Derived, seed: number): readonly Readonly<Record<string, Position>>[] {
  const random = randomOf(seed);
  const ids = derived.plan.levers.map(({ id }) => id);
  const all = (pick: () => Position) => Object.fromEntries(ids.map((id) => [id, pick()]));
  return [
    all(() => 'normal'),
    all(() => 'reverse'),
    ...Array.from({ length: 6 }, () => all(() => (random.chance(50) ? 'normal' : 'reverse'))),
  ];
}

describe.each(SEEDS)('a generated panel, seed %i', (seed) => {
  const panel = turned(generatePanel(seed, 8 + (seed % 5)), seed);
  const derived = derive(panel);

  it('[OP2] lights the lamps whose claims hold, and those alone, in every setting tried', () => {
    for (const setting of settingsOf(derived, seed)) {
      const lit = derived.operate(setting).lamps.flatMap(({ id, look }) => (look === 'unlit' ? [] : [id]));
      expect(lit).toEqual(lampsThatShould(panel, liesOf(panel, setting)));
    }
  });

  it('[OP1] feeds every drive the way that its record calls the lie it must go to', () => {
    for (const setting of settingsOf(derived, seed)) {
      const lies = liesOf(panel, setting);
      const volts = new Map(derived.operate(setting).nodes.map(({ node, volts: at }) => [node, at ?? 0]));
      for (const { id, drive, sense } of panel.points ?? []) {
        const positive = panel.drives?.find((each) => each.id === drive)?.positive ?? 'normal';
        const driveLies = (lies.get(id) === 'normal') === (sense !== 'opposite') ? 'normal' : 'reverse';
        const across = (volts.get(`${drive}.a`) ?? 0) - (volts.get(`${drive}.b`) ?? 0);
        // Generated levers that share a crossover or a loop have a drive a point.
        expect(across > 0, `${id} in ${JSON.stringify(setting)}`).toBe(driveLies === positive);
        expect(Math.abs(across)).toBeGreaterThan(8.9);
      }
    }
  });

  it('[OP1] reads every drive positive when its point is asked to go normal', () => {
    for (const setting of settingsOf(derived, seed)) {
      const lies = liesOf(panel, setting);
      for (const { point, volts, amps, moves } of derived.operate(setting).drives) {
        expect(moves).toBe(lies.get(point));
        expect([volts > 0, amps > 0]).toEqual([moves === 'normal', moves === 'normal']);
      }
    }
  });

  it('[TR1] tells no untruth, and proves it for every setting', () => {
    const truth = derived.truth();
    expect(truth.untruths).toEqual([]);
    expect(truth.contradictions).toEqual([]);
    expect(truth.settings).toBe((2n ** BigInt(derived.plan.levers.length)).toString());
  });

  it('[WI6] joins every terminal, and numbers wires, pins and resistors once each', () => {
    const { wires, connectors, resistors, drives } = derived.wiring;
    for (const ids of [
      wires.map(({ id }) => id),
      connectors.flatMap(({ pins }) => pins.map(({ id }) => id)),
      connectors.flatMap(({ pins }) => pins.map(({ to }) => to)),
      resistors.map(({ id }) => id),
    ])
      expect(new Set(ids).size).toBe(ids.length);
    expect(connectors.flatMap(({ pins }) => pins.map(({ to }) => to)).sort()).toEqual(
      drives.flatMap(({ a, b }) => [a, b]).sort(),
    );
  });

  it('[TR3] finds the lamp that shows what its lever cannot say', () => {
    const [lamp, ...others] = panel.lamps ?? [];
    const levers = panel.levers ?? [];
    const [one, two] = [levers[0]?.works?.[0]?.point, levers[1]?.works?.[0]?.point];
    if (lamp === undefined || one === undefined || two === undefined) throw new Error('two levers and a lamp at least');
    const shows = { [one]: 'normal' as const, [two]: 'normal' as const };
    const truth = derive({ ...panel, lamps: [{ ...lamp, shows }, ...others] }).truth();
    expect(truth.untruths).toHaveLength(1);
    expect(truth.untruths[0]).toMatchObject({ lamp: lamp.id, shown: 'unlit', should: 'lit' });
    const lies = liesOf(panel, truth.untruths[0]?.levers ?? {});
    expect([lies.get(one), lies.get(two)]).toEqual(['normal', 'normal']);
  });
});
