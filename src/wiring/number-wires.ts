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
  const joined = new Set(joins.map(({ from, to }) => endsOf(from, to)));
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
    const ends = endsOf(from, to);
    if (!joined.has(ends)) problems.push({ code: 'wire-joins-nothing', wire: id, from, to });
    const built = known.get(ends);
    // What is built is fixed; what it does not say the record may.
    if (built !== undefined) known.set(ends, { ...figures, ...built });
    else if (!numbers.has(id)) known.set(ends, { ...figures, id, from, to });
  }
  return joins.map(({ run, ...join }): Wire => {
    const record = known.get(endsOf(join.from, join.to));
    const own = record?.length ?? record?.gauge;
    return {
      ...join,
      id: record?.id ?? names.next('W'),
      ohms:
        run === null || own === undefined
          ? join.ohms
          : wireOhms(record?.length ?? run.length, record?.gauge ?? run.gauge),
      colour: record?.colour ?? null,
      gauge: record?.gauge ?? null,
      length: record?.length ?? null,
    };
  });
}

/** The same for both directions. */
function endsOf(from: string, to: string): string {
  return [from, to].sort().join(' ');
}
