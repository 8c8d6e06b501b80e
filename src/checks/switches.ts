/** Switches that cannot do what their lever asks. */
import { editOf, type LeverRecord, type PanelFile } from '../panel/index.ts';
import { smallestToggle } from '../parts/index.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkSwitches(input: CheckInput): readonly RawFinding[] {
  const { panel, catalogue, plan, wiring, readings } = input;
  const atLever = new Map(plan.levers.map((lever) => [lever.id, lever.at]));
  const found: RawFinding[] = input.contactProblems.map((problem) => {
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
    }
  });
  for (const circuit of wiring.circuits) {
    const part = wiring.switches.find((each) => each.id === circuit.id)?.part;
    if (circuit.positions.includes('centre')) {
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

  function loadOf(
    drives: readonly string[],
    lamps: readonly string[],
    reading: CheckInput['readings'][number],
  ): number {
    const running = drives.reduce(
      (sum, id) => sum + (wiring.drives.find((drive) => drive.id === id)?.part.runAmps ?? 0),
      0,
    );
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
