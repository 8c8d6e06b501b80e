/** What kind of switch a lever is. */
import { editOf, type PanelFile, type Transaction } from '../panel/index.ts';
import type { Catalogue, SwitchPart, ToggleAction } from '../parts/index.ts';
import { finish, planOf } from './edits.ts';
import { recordLevers } from './picked.ts';

/** How a switch behaves: stays both ways, can rest in the middle, or springs back. */
export function actionOf(part: Pick<SwitchPart, 'centreOff' | 'sprung'>): ToggleAction {
  if (part.sprung) return 'sprung';
  return part.centreOff ? 'centre-off' : 'held';
}

/** Sizes of toggles, by the beginning of their ids, largest first. */
export const TOGGLE_SIZES = ['toggle', 'mini-toggle', 'sub-mini-toggle'] as const;
export type ToggleSize = (typeof TOGGLE_SIZES)[number];

/** A switch otherwise than one that is there: what is not said stays as it is. */
export interface SwitchWanted {
  readonly action?: ToggleAction;
  readonly size?: ToggleSize;
  readonly poles?: number;
}

/** The size of a toggle of the catalogue; null for a part of the user's own that is called otherwise. */
export function sizeOf(id: string): ToggleSize | null {
  const found = /^(toggle|mini-toggle|sub-mini-toggle)-\dp(-centre-off|-sprung)?$/.exec(id)?.[1];
  return TOGGLE_SIZES.find((size) => size === found) ?? null;
}

/**
 * The toggle of the catalogue that is as this one but for what is wanted, with the next more poles where it is not had with so few; null
 * where there is none. A part of the user's own counts as a standard toggle.
 * @example switchLike(catalogue, part, { action: 'centre-off' }) // toggle-3p-centre-off for toggle-3p
 */
export function switchLike(catalogue: Catalogue, part: SwitchPart, wanted: SwitchWanted): SwitchPart | null {
  const action = wanted.action ?? actionOf(part);
  const size = wanted.size ?? sizeOf(part.id) ?? 'toggle';
  const poles = wanted.poles ?? part.poles;
  const all = catalogue.all('switch').filter((each) => sizeOf(each.id) === size && actionOf(each) === action);
  return all.filter((each) => each.poles >= poles).sort((a, b) => a.poles - b.poles)[0] ?? null;
}

/**
 * The switch of levers, as a part; null: as the tool chooses. Null as an answer where all have it already or none is there.
 * Levers that the file does not name are written down with it.
 */
export function setSwitch(panel: PanelFile, levers: readonly string[], part: string | null): Transaction | null {
  const known = planOf(panel).levers.filter(({ id }) => levers.includes(id));
  const others = known.filter((lever) => lever.switch !== part);
  if (others.length === 0) return null;
  const edit = editOf(panel);
  recordLevers(edit);
  for (const { id } of others) edit.update('levers', id, { switch: part ?? undefined });
  return finish(panel, edit, 'lever.switch');
}
