import type { LeverRecord, PanelFile } from '../panel/index.ts';
import { type Catalogue, type SwitchPart, smallestToggle, type ToggleAction } from '../parts/index.ts';
import type { Lever, Plan } from '../plan/index.ts';
import { polesForLever, springsBack, twinOf } from './twins.ts';
import type { ContactProblem, LeverSwitch } from './types.ts';

/** Most poles that a toggle can be had with. */
const MOST_POLES = 4;

/** What a lever's switch can give to lamps. */
export interface PoleBudget {
  readonly feed: number;
  /** Poles left for lamps: of the named part, or of the largest toggle where the tool may choose. */
  readonly left: number;
  /** False where the switch springs back: let go, its poles touch neither side. */
  readonly stays: boolean;
}

/** What feeds take of each lever's switch, and what is left, by lever. */
export function poleBudgets(panel: PanelFile, catalogue: Catalogue, plan: Plan): ReadonlyMap<string, PoleBudget> {
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  return new Map(
    plan.levers.map((lever) => {
      const feed = polesForLever(panel, records.get(lever.id));
      const part = lever.switch === null ? undefined : catalogue.find('switch', lever.switch);
      const left = Math.max(0, (part?.poles ?? MOST_POLES) - feed);
      return [
        lever.id,
        { feed, left, stays: part === undefined ? !springsBack(panel, records.get(lever.id)) : !part.sprung },
      ];
    }),
  );
}

/** The smallest standard toggle with so many poles, of the action that is asked. */
function smallest(catalogue: Catalogue, poles: number, action: ToggleAction): SwitchPart {
  const id = smallestToggle(poles, action);
  const part = id === null ? undefined : catalogue.find('switch', id);
  if (part === undefined) throw new RangeError(`the catalogue holds no toggle of ${poles} poles`);
  return part;
}

/**
 * The switch of every lever, in the order of the levers: the one its file names, or the smallest toggle that serves its feed and the
 * lamps that its poles light (`lampPoles`, by lever). A named part that cannot serve is kept, with none of its poles in use, and
 * reported. A pulse feed, and a relay that remembers for two levers, want a switch that springs back, every other one that stays.
 */
export function chooseSwitches(
  panel: PanelFile,
  catalogue: Catalogue,
  plan: Plan,
  lampPoles: ReadonlyMap<string, number> = new Map(),
): { readonly switches: readonly LeverSwitch[]; readonly problems: readonly ContactProblem[] } {
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const problems: ContactProblem[] = [];
  const switches = plan.levers.map((lever) => chooseOne(lever, records.get(lever.id)));
  return { switches, problems };

  function chooseOne(lever: Lever, record: LeverRecord | undefined): LeverSwitch {
    const feed = polesForLever(panel, record);
    const sprung = springsBack(panel, record);
    const twin = twinOf(panel, record);
    const inUse = (part: SwitchPart, takes: number, lit: number, given: boolean): LeverSwitch => ({
      ...used(lever, part, takes, lit, given),
      ...(twin === null ? {} : { twin }),
    });
    const lamps = lampPoles.get(lever.id) ?? 0;
    const needs = feed + lamps;
    const usual: ToggleAction = sprung ? 'sprung' : 'held';
    if (lever.switch === null) return inUse(smallest(catalogue, needs, usual), feed, lamps, false);
    const part = catalogue.find('switch', lever.switch);
    if (part === undefined) {
      problems.push({ code: 'switch-unknown', lever: lever.id, part: lever.switch });
      return inUse(smallest(catalogue, needs, usual), feed, lamps, true);
    }
    if (part.poles < needs) {
      const useInstead = smallest(catalogue, needs, part.centreOff ? 'centre-off' : 'held').id;
      problems.push({
        code: 'switch-too-few-poles',
        lever: lever.id,
        part: part.id,
        has: part.poles,
        needs,
        useInstead,
      });
      return inUse(part, 0, 0, true);
    }
    if (!part.sprung && twin === 'latch') {
      const useInstead = smallest(catalogue, needs, 'sprung').id;
      problems.push({ code: 'twin-switch-stays', lever: lever.id, part: part.id, useInstead });
    }
    if (part.sprung && !sprung) {
      const useInstead = smallest(catalogue, Math.max(needs, part.poles), 'held').id;
      problems.push({ code: 'switch-sprung-on-held-feed', lever: lever.id, part: part.id, useInstead });
    }
    return inUse(part, feed, lamps, true);
  }
}

function used(lever: Lever, part: SwitchPart, feed: number, lamps: number, given: boolean): LeverSwitch {
  const poles = Array.from({ length: part.poles }, (_, i) =>
    i < feed ? ('feed' as const) : i < feed + lamps ? ('lamps' as const) : ('spare' as const),
  );
  return { lever: lever.id, part, poles, used: feed + lamps, given };
}
