import { feedOf, type LeverRecord, type PanelFile } from '../panel/index.ts';
import { type Catalogue, type SwitchPart, smallestToggle } from '../parts/index.ts';
import type { Lever, Plan } from '../plan/index.ts';
import type { ContactProblem, LeverSwitch } from './types.ts';

/** Poles that a reversing feed takes: both wires to the drive change over. */
const REVERSING_POLES = 2;

/** Poles that a kind of feed takes of its lever's switch. */
function polesForFeed(kind: string): number {
  return kind === 'reversing' ? REVERSING_POLES : 1;
}

/** The smallest standard toggle with so many poles, centre-off where asked. */
function smallest(catalogue: Catalogue, poles: number, centreOff: boolean): SwitchPart {
  const id = smallestToggle(poles, centreOff ? 'centre-off' : 'held');
  const part = id === null ? undefined : catalogue.find('switch', id);
  if (part === undefined) throw new RangeError(`the catalogue holds no toggle of ${poles} poles`);
  return part;
}

/**
 * The switch of every lever, in the order of the levers: the one its file names, or the smallest toggle that serves its feed.
 * A named part that cannot serve is kept, with none of its poles in use, and reported.
 */
export function chooseSwitches(
  panel: PanelFile,
  catalogue: Catalogue,
  plan: Plan,
): { readonly switches: readonly LeverSwitch[]; readonly problems: readonly ContactProblem[] } {
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const problems: ContactProblem[] = [];
  const switches = plan.levers.map((lever) => chooseOne(lever, records.get(lever.id)));
  return { switches, problems };

  function chooseOne(lever: Lever, record: LeverRecord | undefined): LeverSwitch {
    const kind = feedOf(panel, record).kind;
    const needs = polesForFeed(kind);
    if (lever.switch === null) return inUse(lever, smallest(catalogue, needs, false), needs, false);
    const part = catalogue.find('switch', lever.switch);
    if (part === undefined) {
      problems.push({ code: 'switch-unknown', lever: lever.id, part: lever.switch });
      return inUse(lever, smallest(catalogue, needs, false), needs, true);
    }
    if (part.poles < needs) {
      const useInstead = smallest(catalogue, needs, part.centreOff).id;
      problems.push({
        code: 'switch-too-few-poles',
        lever: lever.id,
        part: part.id,
        has: part.poles,
        needs,
        useInstead,
      });
      return inUse(lever, part, 0, true);
    }
    if (part.sprung && kind === 'reversing') {
      const useInstead = smallest(catalogue, needs, false).id;
      problems.push({ code: 'switch-sprung-on-held-feed', lever: lever.id, part: part.id, useInstead });
    }
    return inUse(lever, part, needs, true);
  }
}

function inUse(lever: Lever, part: SwitchPart, used: number, given: boolean): LeverSwitch {
  const poles = Array.from({ length: part.poles }, (_, i) => (i < used ? ('feed' as const) : ('spare' as const)));
  return { lever: lever.id, part, poles, used, given };
}
