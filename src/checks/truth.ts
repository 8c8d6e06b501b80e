/** Untruths of the healthy panel, and doubts. */
import { darkBelow } from '../parts/index.ts';
import { powerUp, type TruthEntry } from '../truth/index.ts';
import { brighten } from './brighten.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput } from './types.ts';

export function checkTruth(input: CheckInput): readonly RawFinding[] {
  const { truth, lamps, readings, lampProblems, wiring } = input;
  const byId = new Map(lamps.map((lamp) => [lamp.id, lamp]));
  const spot = (id: string) => byId.get(id)?.at ?? null;
  // A lamp that cannot be wired has its own finding; its darkness needs no second one.
  const explained = new Set(lampProblems.flatMap((problem) => ('lamp' in problem ? [problem.lamp] : [])));
  // Lamps of a lever that nothing feeds are dark for that reason alone: one finding for all of them.
  const fed = new Set(wiring.circuits.map((circuit) => circuit.id));
  const unfed = new Map<string, string[]>();
  for (const lamp of lamps) {
    if (lamp.lever === null || fed.has(lamp.lever)) continue;
    explained.add(lamp.id);
    unfed.set(lamp.lever, [...(unfed.get(lamp.lever) ?? []), lamp.id]);
  }
  const found: RawFinding[] = [...unfed].map(([lever, ids]) => raw('lamps-unfed', ids, spot(ids[0] ?? ''), { lever }));
  const said = new Set<string>();
  const first = (entry: TruthEntry, code: string): boolean => {
    const key = `${code} ${entry.lamp}`;
    if (said.has(key)) return false;
    said.add(key);
    return true;
  };
  for (const each of truth.untruths) {
    if (explained.has(each.lamp) || !first(each, 'lies')) continue;
    found.push(
      raw(
        'lamp-lies',
        [each.lamp],
        spot(each.lamp),
        {
          setting: settingInWords(each),
          shown: each.shown,
          should: each.should,
        },
        brighten(input, byId.get(each.lamp)),
      ),
    );
  }
  for (const each of truth.doubtful) {
    if (each.side === 'wrong' || !first(each, 'doubtful')) continue;
    const lamp = byId.get(each.lamp);
    if (lamp === undefined) continue;
    const reading = readings
      .filter((candidate) =>
        Object.entries(each.levers).every(([lever, position]) => (candidate.levers[lever] ?? 'normal') === position),
      )
      .flatMap((candidate) => candidate.lamps.find((other) => other.id === each.lamp) ?? [])[0];
    found.push(
      raw(
        'lamp-doubtful',
        [each.lamp],
        spot(each.lamp),
        {
          setting: settingInWords(each),
          low: reading?.low ?? 0,
          high: reading?.high ?? 0,
          seen: lamp.part.seen,
          dark: darkBelow(lamp.part),
        },
        brighten(input, lamp),
      ),
    );
  }
  const early = powerUp(input).lies.filter(({ lamp }) => !explained.has(lamp));
  const [witness] = early;
  if (witness !== undefined) {
    const latches = Object.entries(witness.latches).map(([id, at]) => `${id} ${at}`);
    const setting = [settingInWords(witness), ...latches].filter((text) => text !== '').join(', ');
    found.push(
      raw(
        'lamp-lies-at-power-up',
        early.map(({ lamp }) => lamp),
        spot(witness.lamp),
        { setting },
      ),
    );
  }
  return found;
}

/** "L4 reverse, P7 lying normal". */
function settingInWords(entry: TruthEntry): string {
  const levers = Object.entries(entry.levers).map(
    ([lever, position]) => `${lever} ${position === 'centre' ? 'in the middle' : position}`,
  );
  const history = Object.entries(entry.history).map(([point, lie]) => `${point} lying ${lie}`);
  return [...levers, ...history].join(', ') || 'any setting';
}
