/** Another feed for every lever, with the supplies that it wants, as steps of an edit. */
import { COIL_VOLTS, MOTOR_VOLTS, RANGE_GRACE, UNEQUAL_SHARE } from '../checks/index.ts';
import { drivesOfPoints, twinFor } from '../contacts/index.ts';
import type { DerivedPanel } from '../derive.ts';
import { rectifiedVolts } from '../lamps/index.ts';
import { type Edit, type Feed, feedOf, nextFreeId, recordSupplies, type Supply, suppliesOf } from '../panel/index.ts';
import { DISCHARGE, type DrivePart } from '../parts/index.ts';
import { type Farad, formatAmps, formatFarads, formatVolts, type Volt } from '../units/index.ts';
import { hasCoils } from '../wiring/index.ts';
import {
  AC_VOLTS,
  CHARGE_FARADS,
  COILS_OF_A_UNIT,
  LEAST_SUPPLY,
  SMOOTHING,
  UNIT_FARADS,
  UNIT_OHMS,
} from './tolerances.ts';

/** Feeds that an option can give; `unit`: pulses from a capacitor unit. */
export type NewFeed = 'reversing' | 'split' | 'half-wave' | 'unit' | 'charge' | 'contact';

/** The kind as the file has it. */
export function feedKind(feed: NewFeed | 'pulse'): Feed['kind'] {
  return feed === 'unit' ? 'pulse' : feed;
}

/** What feeds every lever now; null where levers differ or there is none. */
export function presentFeed({ panel, wiring }: DerivedPanel): NewFeed | 'pulse' | null {
  const units = new Set(suppliesOf(panel).flatMap(({ id, kind }) => (kind === 'cdu' ? [id] : [])));
  const kinds = new Set(
    wiring.circuits.flatMap(({ feed, supply }) =>
      feed === null ? [] : [feed === 'pulse' && units.has(supply) ? ('unit' as const) : feed],
    ),
  );
  const [only] = kinds;
  return kinds.size === 1 && only !== undefined ? only : null;
}

/**
 * Every lever is fed so; feeds of their own and returns to the old supply go. Supplies of the file that suit the drive are used, the
 * present one first; what is lacking is added. The answer says in words what that is.
 */
export function setFeed(edit: Edit, present: DerivedPanel, to: NewFeed, part: DrivePart): readonly string[] {
  const { panel, catalogue } = present;
  recordSupplies(edit);
  const says: string[] = [];
  const first = feedOf(panel).supplies[0];
  const range = part.volts ?? { low: 0, high: 0 };
  const [low, high] = [range.low * (1 - RANGE_GRACE), range.high * (1 + RANGE_GRACE)];
  const direct = ({ kind, volts }: Supply) => (kind === 'dc' || kind === 'battery') && volts >= low && volts <= high;
  const alternating = (each: Supply) => {
    const { nominal } = rectifiedVolts(each);
    return each.kind === 'ac' && each.farads !== null && nominal >= low && nominal <= high;
  };
  const find = (serves: (each: Supply) => boolean): Supply | undefined => {
    const all = suppliesOf(edit.panel);
    return all.find((each) => each.id === first && serves(each)) ?? all.find(serves);
  };
  const add = (record: { readonly kind?: 'ac'; readonly volts: Volt; readonly farads?: number }): string => {
    const id = nextFreeId(edit.panel, 'S');
    edit.add('supplies', { id, ...record, amps: LEAST_SUPPLY });
    return id;
  };
  const wish = Math.min(Math.max(hasCoils(part) ? COIL_VOLTS : MOTOR_VOLTS, range.low), range.high);
  const source = (): string => find(direct)?.id ?? add({ volts: wish });

  let supplies: readonly string[];
  /** Of one coil's charge. */
  let farads: number | undefined;
  switch (to) {
    case 'reversing':
    case 'contact':
      supplies = [source()];
      break;
    case 'split': {
      const plus = source();
      const volts = suppliesOf(edit.panel).find(({ id }) => id === plus)?.volts ?? wish;
      const minus = suppliesOf(edit.panel).find(
        (each) =>
          each.id !== plus && direct(each) && each.isolated && Math.abs(each.volts - volts) <= volts * UNEQUAL_SHARE,
      );
      supplies = [plus, minus?.id ?? add({ volts })];
      break;
    }
    case 'half-wave': {
      const smoothing = catalogue.find('capacitor', 'capacitor-4700')?.farads ?? SMOOTHING;
      const volts = AC_VOLTS.find((each) => {
        const { nominal } = rectifiedVolts({ volts: each, voltsOffLoad: null, tolerance: 0, farads: smoothing });
        return nominal >= low && nominal <= high;
      });
      const known = find(alternating)?.id;
      supplies = [known ?? add({ kind: 'ac', volts: volts ?? wish, farads: smoothing })];
      if (known === undefined) says.push(`Each polarity is smoothed by ${formatFarads(smoothing)} behind its diode.`);
      break;
    }
    case 'unit': {
      const from = source();
      const known = suppliesOf(edit.panel).find((each) => each.kind === 'cdu' && each.from === from);
      const unit = catalogue.find('cdu', 'cdu');
      const id = known?.id ?? nextFreeId(edit.panel, 'C');
      if (known === undefined)
        edit.add('supplies', {
          id,
          kind: 'cdu',
          from,
          farads: (unit?.farads ?? UNIT_FARADS) * Math.ceil(mostCoils(present) / COILS_OF_A_UNIT),
          chargeOhms: unit?.chargeOhms ?? UNIT_OHMS,
        });
      supplies = [id];
      says.push(`Its capacitor holds its charge after the supply is off: ${DISCHARGE}, before you touch it.`);
      break;
    }
    case 'charge':
      supplies = [source()];
      farads = catalogue.find('capacitor', 'capacitor-2200')?.farads ?? CHARGE_FARADS;
      says.push(
        `A capacitor of ${formatFarads(farads)} and two steering diodes stand behind each lever.`,
        `It holds its charge after the supply is off: ${DISCHARGE}, before you touch it.`,
      );
      break;
  }
  const { farads: _, ...rest } = panel.feed ?? {};
  edit.set('feed', {
    ...rest,
    kind: feedKind(to),
    supplies: [...supplies],
    ...(farads === undefined ? {} : { farads }),
  });
  for (const { id, feed, twin } of edit.panel.levers ?? []) {
    const by = twin === undefined ? undefined : twinFor(feedKind(to), twin.by);
    const own = farads === undefined ? undefined : chargeOf(present, id, farads);
    if (feed === undefined && by === twin?.by && own === farads) continue;
    edit.update('levers', id, {
      feed: own === farads ? undefined : { kind: 'charge', supplies: [...supplies], farads: own },
      ...(twin === undefined || by === undefined ? {} : { twin: { ...twin, by } }),
    });
  }
  if (edit.panel.returns !== undefined) edit.set('returns', undefined);
  return says;
}

/** Drives that a lever throws at once. */
function coilsOf({ panel, catalogue, plan }: DerivedPanel, lever: string): number {
  const drives = drivesOfPoints(panel, catalogue, plan);
  const works = plan.levers.find(({ id }) => id === lever)?.works ?? [];
  return new Set(works.map(({ point }) => drives.get(point)?.drive ?? point)).size;
}

function mostCoils(present: DerivedPanel): number {
  return Math.max(1, ...present.plan.levers.map(({ id }) => coilsOf(present, id)));
}

/** The capacitor that throws all drives of a lever: of the catalogue, or so many of its largest side by side. */
function chargeOf(present: DerivedPanel, lever: string, one: Farad): Farad {
  const { catalogue } = present;
  const coils = coilsOf(present, lever);
  if (coils <= 1) return one;
  const sizes = catalogue
    .all('capacitor')
    .map(({ farads }) => farads)
    .sort((a, b) => a - b);
  const largest = sizes.at(-1) ?? one;
  return sizes.find((each) => each >= coils * one) ?? Math.ceil((coils * one) / largest) * largest;
}

/** What a supply is, as it is bought: "12 V DC, 2.00 A". */
export function supplyWords({ kind, volts, amps }: Pick<Supply, 'kind' | 'volts' | 'amps'>): string {
  return `${formatVolts(volts)} ${kind === 'ac' ? 'AC' : kind === 'battery' ? 'battery' : 'DC'}, ${formatAmps(amps)}`;
}
