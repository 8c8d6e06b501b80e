/** What the file may ask for and no circuit is made of: said, with why and what to do, so that nobody waits for it to work. */
import { lightingOf, type PanelFile } from '../panel/index.ts';
import { liftRecord, mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkNotBuilt(input: CheckInput): readonly RawFinding[] {
  const { panel, plan, wiring } = input;
  const atLever = new Map(plan.levers.map((lever) => [lever.id, lever.at]));
  const found: RawFinding[] = [];
  const say = (ids: readonly string[], at: RawFinding['at'], what: string, why: string, mends: readonly Mend[] = []) =>
    found.push(raw('not-built-yet', ids, at, { what, why }, mends));
  const used = new Set(wiring.relays.map(({ id }) => id));
  for (const { id } of panel.relays ?? [])
    if (!used.has(id))
      say([id], null, 'a relay', 'its contacts light no lamp and hold no feed, so its coils are left out', [
        liftRecord(panel, 'relays', id, 'lift-relay', 'Take the relay away'),
      ]);
  for (const { id, at, claims } of panel.lamps ?? [])
    if (claims === 'occupancy' || claims === 'test')
      say([id], at, CLAIMS[claims].what, CLAIMS[claims].why, [
        liftRecord(panel, 'lamps', id, 'lift-lamp', 'Take the lamp away'),
        mend('wire-apart', CLAIMS[claims].instead, null),
      ]);
  for (const lever of panel.levers ?? []) {
    const at = atLever.get(lever.id) ?? null;
    for (const what of new Set((lever.works ?? []).flatMap(otherWorks)))
      say([lever.id], at, what, 'the file does not say what drives it, so its wires have no end', [
        mend('wire-apart', 'Wire it from a spare pole of the lever by its own data sheet', null),
      ]);
  }
  found.push(...dimmers(input));
  return found;
}

const CLAIMS = {
  occupancy: {
    what: 'a lamp that shows where a train stands',
    why: 'it hangs on a detector in the track, of which the file knows nothing',
    instead: 'Light it from the output of the detector, by the data sheet of that',
  },
  test: {
    what: 'a lamp that is lit to test it',
    why: 'a circuit that lights all lamps would tell roads that do not lie',
    instead: 'Test each lamp at the bench: the tests light every one',
  },
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

/** A dimmer stands behind the fuse of what lights lamps: where that moves drives too, it dims these. By supply. */
function dimmers({ panel, lamps, wiring }: CheckInput): readonly RawFinding[] {
  const dimmed = new Set(
    lamps.flatMap(({ supply, lever }) => (hasDimmer(panel, lever) && supply !== null ? [supply] : [])),
  );
  return wiring.supplies.flatMap(({ id, fuse }): RawFinding[] => {
    if (!dimmed.has(id)) return [];
    const drives = wiring.drives.filter((drive) =>
      wiring.circuits.some(
        ({ id: circuit, feed, supplies }) => circuit === drive.circuit && feed !== null && supplies[0] === id,
      ),
    );
    if (drives.length === 0) return [raw('dimmer-apart', [id], null, { fuse: fuse?.id ?? id })];
    const own = mend('lamp-supply', 'Light the lamps from a supply of their own', null);
    return [raw('dimmer-on-drives', [id], null, { drives: drives.map((each) => each.id).join(', ') }, [own])];
  });
}

function hasDimmer(panel: PanelFile, lever: string | null): boolean {
  return (
    lightingOf(
      panel,
      panel.levers?.find(({ id }) => id === lever),
    ).dimmerLeast !== null
  );
}
