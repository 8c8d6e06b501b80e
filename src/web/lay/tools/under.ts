/** What lies under the hand, and what lies within an oblong that it draws. */
import { PICK_LISTS, type Picked, type PickList } from '../../../laying/index.ts';
import type { ListKey, PanelFile, RecordName } from '../../../panel/index.ts';
import type { Millimetre, Spot } from '../../../units/index.ts';
import { nearestOn } from '../../run/geometry.ts';
import type { LayView } from '../../worker/types.ts';

/** A record that an edit laid, where a hand can pick it; else none. */
export function pickable({ list, id }: { readonly list: ListKey; readonly id: RecordName }): readonly Picked[] {
  const known = PICK_LISTS.find((each) => each === list);
  return known === undefined ? [] : [{ list: known, id }];
}

/** Everything under a spot, what lies on top first: corners of picked strips, lamps, levers, plates, tape, platforms. */
export function thingsUnder(
  panel: PanelFile,
  view: LayView | null,
  picked: readonly Picked[],
  spot: Spot,
  reach: Millimetre,
): readonly Picked[] {
  const found: { readonly thing: Picked; readonly rank: number; readonly off: Millimetre }[] = [];
  const add = (thing: Picked, rank: number, off: Millimetre): void => {
    if (off <= 0 || off <= reach) found.push({ thing, rank, off });
  };
  const chosen = new Set(picked.flatMap(({ list, id }) => (list === 'strips' ? [id] : [])));
  const away = (at: Spot): Millimetre => Math.hypot(at[0] - spot[0], at[1] - spot[1]);
  for (const { id, path, width } of panel.strips) {
    if (chosen.has(id))
      path.forEach((corner, part) => {
        add({ list: 'strips', id, part }, 0, away(corner));
      });
    add({ list: 'strips', id }, 4, nearestOn(spot, path).gap - (width ?? 5) / 2);
  }
  for (const { id, at } of panel.lamps ?? []) add({ list: 'lamps', id }, 1, away(at) - 1.6);
  for (const { id, at } of panel.buttons ?? []) add({ list: 'buttons', id }, 2, away(at) - 4);
  for (const { id, at, driver } of view?.face.levers ?? [])
    if (panel.levers?.some((lever) => lever.id === id) === true) add({ list: 'levers', id }, 2, away(at) - driver / 2);
  for (const { at, id, width, height, kind } of view?.face.plates ?? []) {
    const off = Math.max(Math.abs(at[0] - spot[0]) - width / 2, Math.abs(at[1] - spot[1]) - height / 2);
    if (kind === 'place' && panel.places?.some((place) => place.id === id) === true)
      add({ list: 'places', id }, 3, off);
  }
  (panel.plates ?? []).forEach(({ at, size = 6, text }, index) => {
    const wide = text.length * size * 0.4;
    add({ list: 'plates', id: index }, 3, Math.max(Math.abs(at[0] - spot[0]) - wide, Math.abs(at[1] - spot[1]) - size));
  });
  (panel.platforms ?? []).forEach(({ at, size }, index) => {
    const [x, y] = [at[0] + size[0] / 2, at[1] + size[1] / 2];
    add(
      { list: 'platforms', id: index },
      5,
      Math.max(Math.abs(x - spot[0]) - size[0] / 2, Math.abs(y - spot[1]) - size[1] / 2),
    );
  });
  return found.sort((a, b) => a.rank - b.rank || a.off - b.off).map(({ thing }) => thing);
}

/** Things that lie wholly within an oblong between two corners. */
export function thingsWithin(panel: PanelFile, view: LayView | null, a: Spot, b: Spot): readonly Picked[] {
  const [left, right] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [top, bottom] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  const inside = ([x, y]: Spot): boolean => x >= left && x <= right && y >= top && y <= bottom;
  const named = <L extends PickList>(
    list: L,
    things: readonly { readonly id: string; readonly at?: Spot | undefined }[],
  ): Picked[] => things.flatMap(({ id, at }) => (at !== undefined && inside(at) ? [{ list, id }] : []));
  const drawn = new Map(view?.face.levers.map(({ id, at }) => [id, at]));
  return [
    ...panel.strips.flatMap(({ id, path }): Picked[] => (path.every(inside) ? [{ list: 'strips', id }] : [])),
    ...named('lamps', panel.lamps ?? []),
    ...named(
      'levers',
      (panel.levers ?? []).map(({ id, at }) => ({ id, at: at ?? drawn.get(id) })),
    ),
    ...named('buttons', panel.buttons ?? []),
    ...named('places', panel.places ?? []),
    ...(panel.plates ?? []).flatMap(({ at }, id): Picked[] => (inside(at) ? [{ list: 'plates', id }] : [])),
    ...(panel.platforms ?? []).flatMap(({ at, size }, id): Picked[] =>
      inside(at) && inside([at[0] + size[0], at[1] + size[1]]) ? [{ list: 'platforms', id }] : [],
    ),
  ];
}
