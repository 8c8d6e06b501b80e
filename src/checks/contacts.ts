/** What contacts close on, and whether the least that they pass clears their tarnish. What a frog asks of them is judged with frogs. */
import { rateContact } from '../contacts/index.ts';
import { editOf } from '../panel/index.ts';
import {
  BLADE_CONTACT,
  type ButtonPart,
  type ContactPart,
  contactOf,
  type DrivePart,
  type RelayPart,
  type SwitchPart,
} from '../parts/index.ts';
import { formatAmps } from '../units/index.ts';
import type { WiredButton, WiredDrive, WiredSwitch } from '../wiring/index.ts';
import { brighten } from './brighten.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

type WithContacts = DrivePart | SwitchPart | ButtonPart | RelayPart | ContactPart;

export function checkContacts(input: CheckInput): readonly RawFinding[] {
  return [...making(input), ...wetting(input)];
}

/** Poles and buttons that close on the pulse of coils: all that they throw, side by side. */
function making({ wiring, readings, plan, panel, catalogue }: CheckInput): readonly RawFinding[] {
  const pulses = new Map(
    readings.flatMap(({ drives }) =>
      drives.flatMap(({ drive, pulse }) => (pulse === null ? [] : [[drive, pulse.amps] as const])),
    ),
  );
  const thrownBy = (drives: readonly WiredDrive[]) => drives.reduce((sum, { id }) => sum + (pulses.get(id) ?? 0), 0);
  const at = new Map(plan.levers.map((lever) => [lever.id, lever.at]));
  const atButton = new Map((panel.buttons ?? []).map((button) => [button.id, button.at ?? null]));
  return [...wiring.switches.flatMap(ofSwitch), ...wiring.buttons.flatMap(ofButton)];

  function ofSwitch({ id, part, poles }: WiredSwitch): readonly RawFinding[] {
    const pole = poles.find(({ use }) => use === 'feed');
    const amps = thrownBy(wiring.drives.filter(({ circuit, feed }) => circuit === id && feed !== null));
    if (pole === undefined || amps === 0) return [];
    return judge(pole.id, part, amps, at.get(id) ?? null, heavier(id, part, amps));
  }

  function ofButton({ id, part, poles }: WiredButton): readonly RawFinding[] {
    const [pole] = poles;
    const amps = thrownBy(wiring.drives.filter(({ points }) => pole !== undefined && points.includes(pole.point)));
    return judge(pole?.id ?? id, part, amps, atButton.get(id) ?? null, []);
  }

  function judge(
    id: string,
    part: WithContacts,
    amps: number,
    where: RawFinding['at'],
    mends: readonly Mend[],
  ): readonly RawFinding[] {
    const figures = contactOf(part);
    // What its own record says that it makes counts in place of its rating.
    const most = part.makeAmps ?? figures.amps;
    if (rateContact({ amps: most, plating: figures.plating }, { makes: amps }).verdict === 'fits') return [];
    const values = { amps, part: part.id, most, welds: figures.makeAmps };
    return [
      raw('contact-makes-too-much', [id], where, values, [
        ...mends,
        mend('relay', `Let it work a relay whose contact makes ${formatAmps(amps)}`, null),
      ]),
    ];
  }

  /** The cheapest switch of as many poles and the same action that makes so much. */
  function heavier(lever: string, part: SwitchPart, amps: number): readonly Mend[] {
    const record = panel.levers?.find(({ id }) => id === lever);
    const found = catalogue
      .all('switch')
      .filter(
        (each) =>
          each.poles === part.poles &&
          each.sprung === part.sprung &&
          each.centreOff === part.centreOff &&
          (each.makeAmps ?? each.amps) >= amps,
      )
      .sort((a, b) => a.price - b.price)[0];
    if (found === undefined || record === undefined) return [];
    const edit = editOf(panel).update('levers', lever, { switch: found.id }).done('lever.switch');
    return [mend('heavier-switch', `Use ${found.id}`, edit, found.price)];
  }
}

/** The least current of each contact that lights lamps alone, in any setting that lights one of them. */
function wetting(input: CheckInput): readonly RawFinding[] {
  const { lamps, readings, wiring, catalogue } = input;
  const byContact = new Map<string, string[]>();
  for (const { id, hang } of lamps)
    if (hang !== null) byContact.set(hang.contact, [...(byContact.get(hang.contact) ?? []), id]);
  const found: RawFinding[] = [];
  for (const contact of wiring.contacts) {
    const behind = new Set(byContact.get(contact.id));
    const sums = readings
      .map(({ lamps: lit }) =>
        lit.filter(({ id, look }) => behind.has(id) && look !== 'unlit').reduce((sum, { amps }) => sum + amps, 0),
      )
      .filter((amps) => amps > 0);
    const figures = figuresOf(contact.id, contact.carrier.kind);
    if (sums.length === 0 || figures === null) continue;
    const amps = Math.min(...sums);
    if (amps >= figures.leastAmps) continue;
    const use = lamps.find(({ id }) => behind.has(id));
    const values = { amps, plating: figures.plating, least: figures.leastAmps };
    found.push(
      raw('contact-wets-too-little', [contact.id], use?.at ?? null, values, [
        ...brighten(input, use),
        mend('gold', 'Use a contact with a gold surface', null),
      ]),
    );
  }
  return found;

  function figuresOf(
    contact: string,
    kind: 'lever' | 'drive' | 'blades' | 'relay',
  ): ReturnType<typeof contactOf> | null {
    const of = contact.slice(0, contact.lastIndexOf('.'));
    const part: WithContacts | undefined =
      kind === 'lever'
        ? wiring.switches.find(({ id }) => id === of)?.part
        : kind === 'relay'
          ? wiring.relays.find(({ id }) => id === of)?.part
          : kind === 'drive'
            ? wiring.drives.find(({ id }) => id === of)?.part
            : catalogue.find('contact', BLADE_CONTACT);
    return part === undefined ? null : contactOf(part);
  }
}
