/** Mends for lamps that carry the wrong current: let the tool size the resistor, or ask for the current that the part wants. */
import type { LampGroup, LampUse } from '../lamps/index.ts';
import { editOf } from '../panel/index.ts';
import { forwardVolts, lampLaw } from '../parts/index.ts';
import { formatAmps } from '../units/index.ts';
import { mend, money, ownResistors } from './mends.ts';
import type { CheckInput, Mend } from './types.ts';

/** Do lamps that face each other share the group's resistor? Lamps that contacts light all face one way. */
export function isOpposed(group: LampGroup): boolean {
  return group.nodes === null && group.arrange !== 'own' && group.normal.length > 0 && group.reverse.length > 0;
}

/** For the group that a lamp stands in; nothing where the group's resistor is soldered, or nothing would change. */
export function brighten(input: CheckInput, lamp: LampUse | undefined): readonly Mend[] {
  const { panel, groups, lamps } = input;
  const group = groups.find((each) => lamp !== undefined && [...each.normal, ...each.reverse].includes(lamp.id));
  if (group === undefined || lamp === undefined || group.ohmsFrom === 'built') return [];
  const record = panel.lampGroups?.find((each) => each.id === group.id);
  if (record !== undefined && group.guard !== 'none' && isOpposed(group)) {
    const edit = editOf(panel).update('lampGroups', group.id, { guard: undefined }).done('group.guard');
    return [mend('no-guards', 'Take the guard diodes away: lamps that face each other need none', edit)];
  }
  if (record !== undefined && wantsMore(input, group))
    return [pairUp(input, group), ownResistors(panel, input.catalogue, group.id)];
  const members = new Set([...group.normal, ...group.reverse]);
  const wanted = Math.min(...lamps.filter((each) => members.has(each.id)).map((each) => each.part.at));
  const change = lamp.current < wanted || lamp.current > lamp.part.max;
  let edit = editOf(panel);
  if (group.ohmsFrom === 'file' && record !== undefined)
    edit = edit.update('lampGroups', group.id, { ohms: undefined });
  if (change) {
    for (const id of members)
      if (panel.lamps?.some((each) => each.id === id)) edit = edit.update('lamps', id, { current: wanted });
  }
  if (group.ohmsFrom !== 'file' && !change) return [];
  const text = change ? `Size the resistor for ${formatAmps(wanted)}` : 'Let the resistor be sized by the tool';
  return [mend('size-resistor', text, edit.done('group.size'))];
}

/** Do the lamps of a string want more volts than the supply has at its least? Then no resistor lights them. */
function wantsMore({ lamps, wiring }: CheckInput, group: LampGroup): boolean {
  if (group.arrange !== 'series') return false;
  const uses = new Map(lamps.map((lamp) => [lamp.id, lamp]));
  return [group.normal, group.reverse].some((string) => {
    const supply = wiring.supplies.find(({ id }) => id === uses.get(string[0] ?? '')?.supply);
    const wants = string.reduce((sum, id) => {
      const use = uses.get(id);
      return use === undefined ? sum : sum + forwardVolts(lampLaw(use.part), use.current);
    }, 0);
    return supply !== undefined && wants > supply.low;
  });
}

/** Leave the lamps to the tool, which pairs those that face each other behind a resistor of their own. */
function pairUp({ panel, catalogue }: CheckInput, group: LampGroup): Mend {
  const pairs = Math.max(group.normal.length, group.reverse.length);
  const price = (pairs - 1) * (catalogue.find('resistor', 'resistor-quarter-watt')?.price ?? 0);
  const edit = editOf(panel).remove('lampGroups', group.id).done('group.pair');
  const text = group.nodes === null ? 'Pair them back to back, a resistor to each pair' : 'Give each its own resistor';
  return mend('pair-up', text, edit, money(price));
}
