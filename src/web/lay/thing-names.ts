/** What things on the sheet are called: in heads, in the words of undo, and when they are read out. */
import type { Picked } from '../../laying/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import { kinds } from '../words/lay.ts';

/** "Platform loop"; "Strip 3" of one without a name, by its place in the file from 1; the id of one that is not there. */
export function stripName(panel: PanelFile, id: string): string {
  const at = panel.strips.findIndex((strip) => strip.id === id);
  const name = panel.strips[at]?.name;
  return name !== undefined && name !== '' ? name : at < 0 ? id : `${kinds.strips[0]} ${at + 1}`;
}

/** The kind and the number or id of a thing: "Strip 3", "Lever L4", "Plate 2". */
export function thingHead(panel: PanelFile, { list, id }: Picked): string {
  const [one] = kinds[list];
  if (typeof id === 'number') return `${one} ${id + 1}`;
  if (list === 'strips') return `${one} ${panel.strips.findIndex((strip) => strip.id === id) + 1}`;
  return list === 'places' ? one : `${one} ${id}`;
}

/** What a thing is called, shortly: its name, else its id, else its kind and number. */
export function thingName(panel: PanelFile, picked: Picked): string {
  const { list, id } = picked;
  if (list === 'strips') return stripName(panel, String(id));
  if (list === 'places') {
    const name = panel.places?.find((place) => place.id === id)?.name;
    return name === undefined || name === '' ? String(id) : name;
  }
  if (list === 'plates' && typeof id === 'number') {
    const text = panel.plates?.[id]?.text.trim() ?? '';
    if (text !== '') return text;
  }
  if (list === 'platforms' && typeof id === 'number') {
    const names = panel.platforms?.[id]?.names?.map(({ text }) => text).filter((text) => text !== '') ?? [];
    if (names.length > 0) return names.join(', ');
  }
  return typeof id === 'string' ? id : thingHead(panel, picked);
}

/** What several things are called in the words of undo: the one's name, else nothing. */
export function subjectOf(panel: PanelFile, picked: readonly Picked[]): string {
  const [first] = picked;
  const same = picked.every(({ list, id }) => list === first?.list && id === first.id);
  return first !== undefined && same ? thingName(panel, first) : '';
}
