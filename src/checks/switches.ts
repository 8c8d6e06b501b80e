/** Switches that cannot do what their lever asks. */
import { editOf, feedOf, type LeverRecord, type PanelFile, suppliesOf } from '../panel/index.ts';
import { smallestToggle } from '../parts/index.ts';
import type { WiringProblem } from '../wiring/index.ts';
import { liftRecord, mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkSwitches(input: CheckInput): readonly RawFinding[] {
  const { panel, catalogue, plan, wiring, readings } = input;
  const atLever = new Map(plan.levers.map((lever) => [lever.id, lever.at]));
  const claimed = lampsByPoint(input.lamps);
  const found: RawFinding[] = input.contactProblems.flatMap((problem) => {
    const at = atLever.get(problem.lever) ?? null;
    switch (problem.code) {
      case 'switch-unknown': {
        const standIn = input.switches.find((each) => each.lever === problem.lever)?.part.id ?? '';
        return raw('switch-unknown', [problem.lever], at, { part: problem.part, standIn }, [
          change(problem.lever, standIn),
        ]);
      }
      case 'switch-too-few-poles':
        return raw(
          'switch-too-few-poles',
          [problem.lever],
          at,
          { part: problem.part, has: problem.has, needs: problem.needs },
          [change(problem.lever, problem.useInstead)],
        );
      case 'switch-sprung-on-held-feed':
        return raw('switch-sprung', [problem.lever], at, { part: problem.part }, [
          change(problem.lever, problem.useInstead),
        ]);
      // Told with the twin.
      case 'twin-switch-stays':
        return [];
    }
  });
  for (const problem of wiring.problems) if (problem.code === 'button-unfit') found.push(unfit(problem));
  for (const circuit of wiring.circuits) {
    const part = wiring.switches.find((each) => each.id === circuit.id)?.part;
    if (circuit.positions.includes('centre') && silent(circuit.id)) {
      const held = smallestToggle(part?.poles ?? 0);
      const mends = held === null ? [] : [change(circuit.id, held)];
      found.push(raw('switch-centre-silent', [circuit.id], atLever.get(circuit.id) ?? null, {}, mends));
    }
    // A pole carries what its drives and its lamps take together, in either position.
    const amps = Math.max(0, ...readings.map((reading) => loadOf(circuit.drives, circuit.lamps, reading)));
    if (part !== undefined && amps > part.amps) {
      found.push(
        raw('switch-overloaded', [circuit.id], atLever.get(circuit.id) ?? null, {
          amps,
          part: part.id,
          most: part.amps,
        }),
      );
    }
  }
  return found;

  /** A button that throws nothing: another feed, a button of more poles, or none. */
  function unfit({ button, point, why }: Extract<WiringProblem, { code: 'button-unfit' }>): RawFinding {
    const record = panel.buttons?.find(({ id }) => id === button);
    const lift = liftRecord(panel, 'buttons', button, 'lift-button', 'Take the button away');
    const drive = wiring.drives.find(({ points }) => points.includes(point));
    const larger = catalogue
      .all('button')
      .filter(({ poles }) => poles >= Object.keys(record?.sets ?? {}).length)
      .sort((a, b) => a.price - b.price)[0];
    const more =
      why === 'poles' && larger !== undefined
        ? [
            mend(
              'more-poles',
              `Use ${larger.id}`,
              editOf(panel).update('buttons', button, { part: larger.id }).done('button.part'),
              larger.price,
            ),
          ]
        : [];
    const mends = [...more, ...(why === 'feed' ? pulsing() : []), lift];
    const words = {
      feed: `the feed of the panel is ${feedOf(panel).kind}, and a push gives a pulse`,
      drive: `its ${(drive?.part.name ?? 'drive').replace(/,.*/, '')} moves by no pulse`,
      poles: 'it has no pole left for it',
      unknown: 'there is no such point',
    };
    return raw('button-unfit', [button], record?.at ?? null, { point, why: words[why] }, mends);
  }

  /** The panel's feed made one of pulses, where no lever needs what it is now. */
  function pulsing(): readonly Mend[] {
    const unit = suppliesOf(panel).find(({ kind }) => kind === 'cdu');
    const named = suppliesOf(panel).find(({ kind }) => kind === 'dc' || kind === 'battery');
    const supply = unit ?? named;
    if (supply === undefined || plan.levers.length > 0) return [];
    const edit = editOf(panel).set('feed', { kind: 'pulse', supplies: [supply.id] });
    return [mend('make-pulse', `Feed it by pulses from ${supply.id}`, edit.done('feed.kind'))];
  }

  /** Do lamps of a lever's points all go dark in the middle, though they are lit at either end? */
  function silent(lever: string): boolean {
    const works = plan.levers.find(({ id }) => id === lever)?.works ?? [];
    const lamps = new Set(works.flatMap(({ point }) => claimed.get(point) ?? []));
    const lit = (reading: CheckInput['readings'][number]) =>
      reading.lamps.some((lamp) => lamps.has(lamp.id) && lamp.look !== 'unlit');
    const middle = readings.filter((reading) => reading.levers[lever] === 'centre');
    return lamps.size > 0 && readings.some(lit) && middle.length > 0 && !middle.some(lit);
  }

  function loadOf(
    drives: readonly string[],
    lamps: readonly string[],
    reading: CheckInput['readings'][number],
  ): number {
    // What a driver board runs on comes by a wire of its own: the pole closes its input.
    const running = drives.reduce((sum, id) => {
      const drive = wiring.drives.find((each) => each.id === id);
      return sum + (drive?.feed === 'contact' ? 0 : (drive?.part.runAmps ?? 0));
    }, 0);
    const held = reading.drives
      .filter((drive) => drives.includes(drive.drive))
      .reduce((sum, drive) => sum + Math.abs(drive.amps), 0);
    const lit = reading.lamps.filter((lamp) => lamps.includes(lamp.id)).reduce((sum, lamp) => sum + lamp.amps, 0);
    return Math.max(running, held) + lit;
  }

  function change(lever: string, to: string): Mend {
    const part = catalogue.find('switch', to);
    return { id: 'change-switch', text: `Use ${to}`, price: part?.price ?? null, edit: editSwitch(panel, lever, to) };
  }
}

function editSwitch(panel: PanelFile, lever: string, to: string): Mend['edit'] {
  const record: LeverRecord | undefined = panel.levers?.find((each) => each.id === lever);
  return record === undefined
    ? null
    : editOf(panel)
        .update('levers', lever, { ...record, switch: to })
        .done('lever.switch');
}

/** Ids of lamps by the points that they claim something of. */
function lampsByPoint(lamps: CheckInput['lamps']): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  for (const { id, claim } of lamps)
    for (const point of new Set(claim.flatMap((lies) => Object.keys(lies)))) {
      const there = found.get(point);
      if (there === undefined) found.set(point, [id]);
      else there.push(id);
    }
  return found;
}
