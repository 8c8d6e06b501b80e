/** Levers that a lever on another panel works too: what cannot be worked so, and what its bat no longer says. */
import { twinOf, whyNoTwin } from '../contacts/index.ts';
import { editOf, type LeverRecord, lightingOf, type PanelFile } from '../panel/index.ts';
import { worksWithoutLever } from '../parts/index.ts';
import { MOVES_FROM, relayHolding, type WiredDrive } from '../wiring/index.ts';
import { refeed } from './feed-mends.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

/** Schemes that a two-way leaves nothing to be lit from. */
const OF_POLES: ReadonlySet<string> = new Set(['spare-pole', 'tree', 'latching-relay']);

export function checkTwins(input: CheckInput): readonly RawFinding[] {
  const { panel, plan, wiring, catalogue, contactProblems } = input;
  const atLever = new Map(plan.levers.map((lever) => [lever.id, lever.at]));
  return (panel.levers ?? []).flatMap((record): readonly RawFinding[] => {
    const { id, twin } = record;
    if (twin === undefined) return [];
    const at = atLever.get(id) ?? null;
    const there = { panel: twin.panel, lever: twin.lever };
    const unfit = (why: string, mends: readonly Mend[], values: Readonly<Record<string, string | number>> = {}) => [
      raw('twin-unfit', [id], at, { ...there, ...values, why }, mends),
    ];
    const drives = wiring.drives.filter(({ circuit }) => circuit === id);
    const still = drives.find(({ part }) => worksWithoutLever(part));
    if (still !== undefined) return unfit(still.part.what, [alone(panel, record)]);
    const why = whyNoTwin(panel, record);
    if (why === 'charge') return unfit(why, [...besides(drives), alone(panel, record)]);
    if (why === 'two-way-pulse') return unfit(why, [joinBy(panel, record, 'latch'), alone(panel, record)]);
    const stays = contactProblems.find(({ code, lever }) => code === 'twin-switch-stays' && lever === id);
    if (stays?.code === 'twin-switch-stays') {
      const edit = editOf(panel).update('levers', id, { switch: stays.useInstead }).done('lever.switch');
      const price = catalogue.find('switch', stays.useInstead)?.price ?? null;
      return unfit('stays', [mend('spring-back', `Use ${stays.useInstead}, which springs back`, edit, price)], {
        part: stays.part,
      });
    }
    const relay = relayHolding(wiring, id);
    const volts = wiring.supplies.find(
      (supply) => supply.id === wiring.circuits.find((circuit) => circuit.id === id)?.supply,
    )?.low;
    if (relay !== null && volts !== undefined && volts < MOVES_FROM * relay.part.coilVolts) {
      const other = mend('relay-for-volts', `Use a latching relay for ${volts.toFixed(0)} V`, null);
      return unfit('relay-volts', [joinBy(panel, record, 'two-way'), other], {
        relay: relay.id,
        volts,
        coil: relay.part.coilVolts,
      });
    }
    return twinOf(panel, record) === 'two-way' ? [raw('twin-bat-says-nothing', [id], at, there)] : [];
  });

  /** Pulses in place of a charge, from switches side by side. */
  function besides(drives: readonly WiredDrive[]): readonly Mend[] {
    return drives.slice(0, 1).flatMap((drive) => refeed(input, drive, 'unit'));
  }
}

function joinBy(panel: PanelFile, record: LeverRecord, by: 'two-way' | 'latch'): Mend {
  const { id, twin } = record;
  const words = {
    'two-way': `Put a reversing switch on either panel, ${id} behind the other`,
    latch: 'Put switches that spring back on both panels, side by side',
  };
  if (twin === undefined) return mend(`twin-by-${by}`, words[by], null);
  const lighting = lightingOf(panel, record);
  const lost = by === 'two-way' && OF_POLES.has(lighting.scheme);
  const edit = editOf(panel).update('levers', id, {
    twin: { ...twin, by },
    ...(lost ? { lighting: { ...record.lighting, scheme: 'blade-contact' as const } } : {}),
  });
  return mend(`twin-by-${by}`, words[by], edit.done('lever.twin'));
}

function alone(panel: PanelFile, { id }: LeverRecord): Mend {
  const edit = editOf(panel).update('levers', id, { twin: undefined }).done('lever.twin');
  return mend('lift-twin', `Work ${id} from this panel alone`, edit);
}
