/**
 * What would make lamps tell the truth of faults in which they lie now, and what it costs.
 *
 * Idea: a lamp that shows what it shows when all is well, and whose claim would hold if the blades lay as asked, lies because its circuit
 * does not know better. Better evidence turns just these faults, as rule 16 says: a contact of the drive all but a link that is off, a
 * contact on the blades these too, a drive in series all that let no current flow. Told from the witness of each fault, not by wiring
 * the panel anew: the new contact and its wires have faults of their own, which come on top.
 * Cost: one look at each fault that lies.
 */
import { contactsForLamps, drivesOfPoints } from '../contacts/index.ts';
import { type LampUse, leversOfPoints } from '../lamps/index.ts';
import type { Lie, PanelFile } from '../panel/index.ts';
import { BLADE_CONTACT, type Catalogue, HELD_RELAY } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import { formatAmps, formatVolts } from '../units/index.ts';
import { otherLie } from '../wiring/index.ts';
import type { TruthInput } from './prove-healthy.ts';
import { DIM_MARGIN, PINS_A_RELAY, WIRES_A_CHANGEOVER, WIRES_A_RELAY, WRONG_TENTH } from './tolerances.ts';
import type { FaultTruth, WrongSide } from './types.ts';
import { holds } from './verdict.ts';

export type SuggestionId = 'drive-contact' | 'blade-contact' | 'relay' | 'in-series' | 'more-current';

export interface Suggestion {
  readonly id: SuggestionId;
  readonly text: string;
  /** In the order of the file. */
  readonly lamps: readonly string[];
  /** How many faults that make a lamp lie now would no more. */
  readonly cures: number;
  readonly price: {
    /** In the user's own money; 0 where nothing has to be bought, null where the catalogue has no such part. */
    readonly money: number | null;
    readonly parts: readonly { readonly part: string; readonly count: number }[];
    readonly wires: number;
    readonly pins: number;
  };
}

export interface SuggestInput extends TruthInput {
  readonly panel: PanelFile;
  readonly catalogue: Catalogue;
  readonly plan: Plan;
}

/** Kinds of faults that let no current through a drive. */
const STOPS_CURRENT = new Set(['open', 'moved', 'apart', 'off']);

const FREE = { money: 0, parts: [], wires: 0, pins: 0 } as const;

/** What would turn faults that lie, the most cured first; what would cure none is left out. */
export function suggestCures(input: SuggestInput, faults: FaultTruth): readonly Suggestion[] {
  const { panel, catalogue, plan, wiring, lamps } = input;
  const workedBy = leversOfPoints(plan);
  const drives = drivesOfPoints(panel, catalogue, plan);
  const uses = new Map(lamps.map((lamp) => [lamp.id, lamp]));
  const taken = new Set(wiring.contacts.map(({ id }) => id));
  const misled = faults.wrongSide.filter((each) => isMisled(each));
  return [driveContact(), relay(), bladeContact(), inSeries(), moreCurrent()]
    .flatMap((each) => each ?? [])
    .sort((a, b) => b.cures - a.cures);

  /** Does the lamp show what was asked, while the blades lie otherwise? */
  function isMisled({ lamp, shown, should, levers, history, mark }: WrongSide): boolean {
    const use = uses.get(lamp);
    if (use === undefined || shown !== 'lit' || should !== 'unlit' || mark === 'doubtful') return false;
    const asked = (point: string): Lie | undefined => {
      const worked = workedBy.get(point);
      const position = worked === undefined ? undefined : levers[worked.lever.id];
      if (worked === undefined || position === undefined || position === 'centre') return history[point];
      return position === 'normal' ? worked.whenNormal : otherLie(worked.whenNormal);
    };
    const points = new Set(use.claim.flatMap((lies) => Object.keys(lies)));
    const lies = Object.fromEntries(
      [...points].flatMap((point) => {
        const lie = asked(point);
        return lie === undefined ? [] : [[point, lie]];
      }),
    );
    return use.claim.some((claim) => holds(claim, lies));
  }

  function freeContact(point: string): boolean {
    const drive = drives.get(point);
    return drive !== undefined && contactsForLamps(panel, drive).some((id) => !taken.has(id));
  }

  function driveContact(): Suggestion | null {
    const told = lamps.filter(
      (lamp) =>
        lamp.basis === 'asked' && lamp.circuit !== null && lamp.claim.length > 0 && pointsOf(lamp).every(freeContact),
    );
    const drivesTold = countOf(told, (point) => drives.get(point)?.drive ?? point);
    return suggestion(
      'drive-contact',
      told,
      (each) => kindOf(each) !== 'linkage',
      'Light them from contacts of the drives, which change over when a drive has moved',
      changeovers(drivesTold, [], 0),
    );
  }

  /** Where a drive has contacts and none to spare: one of them works a relay, of which one pole does what the contact did. */
  function relay(): Suggestion | null {
    const part = catalogue.find('relay', HELD_RELAY);
    const told = lamps.filter(
      (lamp) =>
        lamp.basis === 'asked' &&
        lamp.circuit !== null &&
        pointsOf(lamp).every((point) => (drives.get(point)?.part?.contacts ?? 0) > 0) &&
        !pointsOf(lamp).every(freeContact),
    );
    if (part === undefined || part.poles < 2) return null;
    const count = countOf(told, (point) => (freeContact(point) ? null : (drives.get(point)?.drive ?? point)));
    const free = countOf(told, (point) => (freeContact(point) ? (drives.get(point)?.drive ?? point) : null));
    const coil = `its coil takes ${formatAmps(part.coilVolts / part.coilOhms)} at ${formatVolts(part.coilVolts)}, with a diode across it`;
    const lit = changeovers(count + free, [{ part: part.id, count }], part.price * count);
    return suggestion(
      'relay',
      told,
      (each) => kindOf(each) !== 'linkage',
      `Let a contact of the drive work a relay under the layout: one pole does what the contact did, the other lights the lamps; ${coil}`,
      { ...lit, wires: lit.wires + count * WIRES_A_RELAY, pins: lit.pins + count * PINS_A_RELAY },
    );
  }

  function bladeContact(): Suggestion | null {
    const part = catalogue.find('contact', BLADE_CONTACT);
    const told = lamps.filter((lamp) => lamp.basis !== 'blades' && lamp.circuit !== null && lamp.claim.length > 0);
    const points = countOf(told, (point) => point);
    return suggestion(
      'blade-contact',
      told,
      () => true,
      'Light them from a changeover contact on the blades of each point, which alone knows how they lie',
      changeovers(points, [{ part: BLADE_CONTACT, count: points }], part === undefined ? null : part.price * points),
    );
  }

  function inSeries(): Suggestion | null {
    const told = lamps.filter((lamp) => {
      const drive = wiring.drives.find(({ points }) => points.includes(pointsOf(lamp)[0] ?? ''));
      return lamp.scheme === 'across-feed' && lamp.circuit !== null && drive?.ohms != null;
    });
    return suggestion(
      'in-series',
      told,
      (each) => STOPS_CURRENT.has(kindOf(each)),
      'Light them by the current of the drive, one behind the other with it: no current, no light. The drive is left fewer volts',
      FREE,
    );
  }

  function moreCurrent(): Suggestion | null {
    const told = lamps.filter(
      (lamp) => lamp.circuit !== null && wantedAmps(lamp) > lamp.current && wantedAmps(lamp) <= lamp.part.max,
    );
    const most = Math.max(0, ...told.map(wantedAmps));
    const unseen = faults.wrongSide.filter(({ fault, mark }) => fault.startsWith('value:') && mark === 'doubtful');
    return make(
      'more-current',
      told,
      unseen.filter(({ lamp, should }) => should === 'lit' && told.some(({ id }) => id === lamp)).length,
      `Give them ${Number((most * 1000).toPrecision(2))} mA: then a resistor of ten times the ohms still lights them`,
      FREE,
    );
  }

  function suggestion(
    id: SuggestionId,
    told: readonly LampUse[],
    isCured: (each: WrongSide) => boolean,
    text: string,
    price: Suggestion['price'],
  ): Suggestion | null {
    const ids = new Set(told.map((lamp) => lamp.id));
    return make(id, told, misled.filter((each) => ids.has(each.lamp) && isCured(each)).length, text, price);
  }
}

function make(
  id: SuggestionId,
  told: readonly LampUse[],
  cures: number,
  text: string,
  price: Suggestion['price'],
): Suggestion | null {
  return cures === 0 ? null : { id, text, lamps: told.map((lamp) => lamp.id), cures, price };
}

/** A changeover under the layout: its common, and a wire and a pin for each throw. */
function changeovers(count: number, parts: Suggestion['price']['parts'], money: number | null): Suggestion['price'] {
  return { money, parts, wires: count * WIRES_A_CHANGEOVER, pins: count * WIRES_A_CHANGEOVER };
}

/** How many are named; null names none. */
function countOf(lamps: readonly LampUse[], nameOf: (point: string) => string | null): number {
  return new Set(lamps.flatMap((lamp) => pointsOf(lamp).flatMap((point) => nameOf(point) ?? []))).size;
}

function pointsOf(lamp: LampUse): readonly string[] {
  return [...new Set(lamp.claim.flatMap((lies) => Object.keys(lies)))];
}

function kindOf({ fault }: WrongSide): string {
  return fault.split(':')[0] ?? fault;
}

/** Amps of which a tenth, less the bands, is still seen. */
function wantedAmps(lamp: LampUse): number {
  return lamp.part.seen * WRONG_TENTH * DIM_MARGIN;
}
