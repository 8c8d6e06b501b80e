/** Stages 5 and 6: a train over every leg, and a coin across the rails everywhere. */
import type { Lie, PanelFile } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { formatAmps } from '../units/index.ts';
import type { BenchTest, Expect } from './types.ts';

/** A train over both legs of every point, both ways. */
export function trainTests(plan: Plan): readonly BenchTest[] {
  const worked = new Map(
    plan.levers.flatMap((lever) =>
      lever.works.map(({ point, whenNormal }) => [point, { lever: lever.id, whenNormal }] as const),
    ),
  );
  return plan.points.flatMap((point) => {
    const by = worked.get(point.id);
    return (['normal', 'reverse'] as const).map((lie: Lie): BenchTest => {
      const set =
        by === undefined
          ? `Set ${point.id} ${lie} by hand`
          : `Throw lever ${by.lever} to ${lie === by.whenNormal ? 'normal' : 'reverse'} so that ${point.id} lies ${lie}`;
      const way = point.of === 'point' ? 'from the toe out by this leg and back again' : 'over this way and back again';
      return {
        id: `train:${point.id}:${lie}`,
        stage: 5,
        lever: by?.lever ?? null,
        do: `${set}. Run the train slowly ${way}, first the engine alone, then pushing its longest wagon.`,
        expect: [{ point: point.id, lie }],
        tells:
          'Dead or shorting rails at the frog, blades that do not close, a lie that the lamps tell wrongly, wheels or track out of gauge.',
        cannotTell: 'What happens at speed, or with stock that was not run.',
      };
    });
  });
}

/** A coin at every point and every place. */
export function coinTests(panel: PanelFile, plan: Plan): readonly BenchTest[] {
  const { track } = panel;
  const boosters = track?.boosters ?? [];
  const trip = boosters.map(({ tripAmps }) => tripAmps).filter((amps) => amps !== undefined);
  const known = trip.length > 0 && track?.bus !== undefined;
  const expect: readonly Expect[] = known
    ? [{ quantity: 'amps', unit: 'A', low: Math.min(...trip), high: null, at: 'the booster, as the coin is laid' }]
    : [];
  const analogue = track?.system === 'analogue';
  const guard = analogue ? "the controller's cut-out" : 'the booster';
  const asked = known
    ? `The amps at which it must trip are those of the file: ${formatAmps(Math.min(...trip))}.`
    : `Amps are not asked for: the file does not say ${track?.bus === undefined ? 'the bus' : 'where the booster trips'}.`;
  const one = (id: string, where: string): BenchTest => ({
    id: `coin:${id}`,
    stage: 6,
    lever: null,
    do: `Engines off the track. Track power on, lay a coin across both rails ${where} and lift it at once: ${guard} must trip while it lies there, every time. If it does not, take the coin off, switch off, and mend the bus before any train runs: a short that is not seen melts things. ${asked}`,
    expect,
    tells: 'A bus or dropper too thin, a joint too poor, a section or frog that is not fed.',
    cannotTell:
      'Whether left and right rail are the right way round against the next section, and a short that a train makes only in motion.',
  });
  return [
    ...plan.points.map((point) => one(point.id, `at the frog of ${point.id}, then on each of its legs`)),
    ...plan.places.map((place) => one(place.id, `at ${place.name ?? place.id}`)),
  ];
}
