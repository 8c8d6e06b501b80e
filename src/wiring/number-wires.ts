/** Numbers for wires, and what the file says of them. */
import { newIds, type PanelFile } from '../panel/index.ts';
import { wireOhms } from '../units/index.ts';
import type { Join } from './join.ts';
import type { Wire, WiringProblem } from './types.ts';

/** What is known of a wire by its two ends. */
interface Known {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly colour?: string | undefined;
  readonly gauge?: number | undefined;
  readonly length?: number | undefined;
}

/**
 * The wires by number: one that the built panel or the file knows by its two ends keeps its number and its figures, the rest take the
 * next free. A number that is built, used in the file or retired is never given to another wire.
 */
export function numberWires(panel: PanelFile, joins: readonly Join[], problems: WiringProblem[]): readonly Wire[] {
  const ends = joins.map(({ from, to }) => endsOf(from, to));
  const joined = new Set(ends);
  const known = new Map<string, Known>();
  const names = newIds(panel);
  const numbers = new Set<string>();
  for (const [id, record] of Object.entries(panel.built?.wires ?? {})) {
    names.claim(id);
    numbers.add(id);
    known.set(endsOf(record.from, record.to), { ...record, id });
  }
  for (const { id, from, to, ...figures } of panel.wires ?? []) {
    if (from === undefined || to === undefined) continue;
    const both = endsOf(from, to);
    if (!joined.has(both)) problems.push({ code: 'wire-joins-nothing', wire: id, from, to });
    const built = known.get(both);
    // What is built is fixed; what it does not say the record may.
    if (built !== undefined) known.set(both, { ...figures, ...built });
    else if (!numbers.has(id)) known.set(both, { ...figures, id, from, to });
  }
  return joins.map(({ from, to, circuit, feeds, net, side, ohms, run }, i): Wire => {
    const record = known.get(ends[i] ?? '');
    const own = record?.length ?? record?.gauge;
    return {
      from,
      to,
      circuit,
      feeds,
      net,
      side,
      ohms:
        run === null || own === undefined ? ohms : wireOhms(record?.length ?? run.length, record?.gauge ?? run.gauge),
      id: record?.id ?? names.next('W'),
      colour: record?.colour ?? null,
      gauge: record?.gauge ?? null,
      length: record?.length ?? null,
    };
  });
}

/** The same for both directions. */
function endsOf(from: string, to: string): string {
  return from < to ? `${from} ${to}` : `${to} ${from}`;
}
