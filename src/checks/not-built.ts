/** What the file may ask for and this release keeps without wiring it: said, so that nobody waits for it to work. */
import type { PanelFile } from '../panel/index.ts';
import { liftRecord } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput } from './types.ts';

export function checkNotBuilt({ panel, plan, wiring }: CheckInput): readonly RawFinding[] {
  const atLever = new Map(plan.levers.map((lever) => [lever.id, lever.at]));
  const found: RawFinding[] = [];
  const say = (ids: readonly string[], at: RawFinding['at'], what: string, mends: RawFinding['mends'] = []) =>
    found.push(raw('not-built-yet', ids, at, { what }, mends));
  const used = new Set(wiring.relays.map(({ id }) => id));
  for (const { id } of panel.relays ?? [])
    if (!used.has(id))
      say([id], null, 'a relay that lights no lamp', [
        liftRecord(panel, 'relays', id, 'lift-relay', 'Take the relay away'),
      ]);
  for (const { id, at, claims } of panel.lamps ?? [])
    if (claims === 'supply' || claims === 'occupancy' || claims === 'test')
      say([id], at, CLAIMS[claims], [liftRecord(panel, 'lamps', id, 'lift-lamp', 'Take the lamp away')]);
  for (const lever of panel.levers ?? []) {
    const at = atLever.get(lever.id) ?? null;
    for (const what of new Set((lever.works ?? []).flatMap(otherWorks))) say([lever.id], at, what);
  }
  if (hasDimmer(panel)) say([], null, 'a dimmer');
  return found;
}

const CLAIMS = {
  supply: 'a lamp that shows its supply',
  occupancy: 'a lamp that shows where a train stands',
  test: 'a lamp that is lit to test it',
} as const;

function otherWorks(works: {
  readonly signal?: string | undefined;
  readonly section?: string | undefined;
  readonly uncoupler?: string | undefined;
}): readonly string[] {
  return [
    ...(works.signal === undefined ? [] : [`the signal ${works.signal}`]),
    ...(works.section === undefined ? [] : [`the section ${works.section}`]),
    ...(works.uncoupler === undefined ? [] : [`the uncoupler ${works.uncoupler}`]),
  ];
}

function hasDimmer(panel: PanelFile): boolean {
  return (
    panel.lighting?.dimmer !== undefined || (panel.levers ?? []).some((lever) => lever.lighting?.dimmer !== undefined)
  );
}
