import type { Derived } from '../derive.ts';
import { listOptions, type WeighedOption, type Weighing, weighOption } from '../options/index.ts';
import { formatAmps } from '../units/index.ts';
import type { CompareAnswer } from './answer-schemas.ts';
import { table } from './table.ts';

/** What `compare --json` prints. */
export function compareAnswer(derived: Derived, weighing: Weighing = {}): CompareAnswer {
  const options: CompareAnswer['options'] = [];
  // One by one: what follows from an option is let go before the next.
  for (const option of listOptions(derived)) options.push(optionAnswer(weighOption(option, derived, weighing)));
  return { format: 'mimic-compare', version: 1, panel: derived.panel.name ?? '', options };
}

function optionAnswer({ id, name, says, figures, obstacles }: WeighedOption): CompareAnswer['options'][number] {
  const { parts, wires, through, pins, joints, amps, cost, wrongSideShare, unpriced, faults, lampsKnow } = figures;
  return {
    name,
    parts,
    wires,
    pins,
    joints,
    amps,
    cost,
    wrongSideShare,
    id,
    says: [...says],
    throughConnectors: through,
    unpriced,
    faults: faults === null ? null : { ...faults },
    lampsKnow: { ...lampsKnow },
    obstacles: obstacles.map((each) => ({ ...each, ids: [...each.ids] })),
  };
}

/** Ids that an obstacle names before it says how many more there are. */
const IDS_NAMED = 4;

/** The options as a table, and below it what each brings and what stands in its way. */
export function compareText(answer: CompareAnswer): string {
  const head = ['', 'lamps know', 'parts', 'wires', 'pins', 'joints', 'amps', 'cost', 'faults that lie'];
  const rows = answer.options.map((each) => [
    each.obstacles.length > 0 ? `${each.name}, cannot be built` : each.name,
    knowText(each.lampsKnow),
    String(each.parts),
    String(each.wires),
    String(each.pins),
    String(each.joints),
    formatAmps(each.amps),
    each.cost === null ? 'no price' : each.cost.toFixed(2),
    each.wrongSideShare === null || each.faults === null
      ? 'not tried'
      : `${(each.wrongSideShare * 100).toFixed(1)} % of ${each.faults.tried}`,
  ]);
  const lines = [answer.panel === '' ? 'Panel without a name' : answer.panel, ''];
  lines.push(table([head, ...rows], [2, 3, 4, 5, 6, 7, 8]), '');
  for (const { name, says, obstacles } of answer.options) {
    if (says.length + obstacles.length === 0) continue;
    lines.push(name, ...says.map((each) => `  ${each}`));
    for (const { severity, ids, message } of obstacles) {
      const more = ids.length - IDS_NAMED;
      const named = `${ids.slice(0, IDS_NAMED).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
      lines.push(`  ${severity}: ${message}${named === '' ? '' : ` (${named})`}`);
    }
    lines.push('');
  }
  lines.push(
    'Costs are of what has a price, at the prices of the file or typical ones; supplies, fuses, sheet and tape come on top.',
    ...(answer.options.some(({ faults }) => faults === null)
      ? ['Not tried: every single fault of these takes long to try; --all-faults does.']
      : []),
    'A share of faults that lie is of all single faults of that panel, not weighted. The data sheet comes first.',
    '',
  );
  return lines.join('\n');
}

function knowText({ lever, drive, blades }: CompareAnswer['options'][number]['lampsKnow']): string {
  const parts = Object.entries({ lever, drive, blades }).filter(([, count]) => count > 0);
  const [only] = parts;
  if (parts.length === 1 && only !== undefined) return `the ${only[0] === 'blades' ? 'blades' : only[0]}`;
  return parts.map(([what, count]) => `${what} ${count}`).join(', ') || 'no lamps';
}
