/** What lies under the hand, and what lies within an oblong that it draws. */
import { PICK_LISTS, type Picked, type PickIndex, type PickList, pickAt, pickIndex } from '../../../laying/index.ts';
import type { ListKey, PanelFile, RecordName } from '../../../panel/index.ts';
import type { Millimetre, Spot } from '../../../units/index.ts';
import type { LayView } from '../../worker/types.ts';

/** A thing by its list, where that is one of those that a hand can pick; else none. */
export function pickable({
  list,
  id,
  part,
}: {
  readonly list: ListKey | string;
  readonly id: RecordName;
  readonly part?: number;
}): readonly Picked[] {
  const known = PICK_LISTS.find((each) => each === list);
  return known === undefined ? [] : [{ list: known, id, ...(part === undefined ? {} : { part }) }];
}

const INDICES = new WeakMap<PanelFile, { readonly view: LayView; readonly index: PickIndex }>();

function indexOf(panel: PanelFile, view: LayView): PickIndex {
  const known = INDICES.get(panel);
  if (known?.view === view) return known.index;
  const { face, points, crossings, places } = view;
  const index = pickIndex(panel, { levers: face.levers, points, crossings, places }, face);
  INDICES.set(panel, { view, index });
  return index;
}

/** Everything under a spot, what lies on top first; nothing before the panel has been read. */
export function thingsUnder(
  panel: PanelFile,
  view: LayView | null,
  picked: readonly Picked[],
  spot: Spot,
  reach: Millimetre,
): readonly Picked[] {
  if (view === null) return [];
  const hits = pickAt(indexOf(panel, view), spot, reach, picked).flatMap(pickable);
  // Levers and places that the file does not name yet are no records that could be moved.
  return hits.filter(({ list, id }) => list !== 'places' || panel.places?.some((place) => place.id === id) === true);
}

/** Things that lie wholly within an oblong between two corners. */
export function thingsWithin(panel: PanelFile, view: LayView | null, a: Spot, b: Spot): readonly Picked[] {
  const [left, right] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [top, bottom] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  const inside = ([x, y]: Spot): boolean => x >= left && x <= right && y >= top && y <= bottom;
  const named = (
    list: PickList,
    things: readonly { readonly id: string; readonly at?: Spot | undefined }[],
  ): Picked[] => things.flatMap(({ id, at }) => (at !== undefined && inside(at) ? [{ list, id }] : []));
  return [
    ...panel.strips.flatMap(({ id, path }): Picked[] => (path.every(inside) ? [{ list: 'strips', id }] : [])),
    ...named('lamps', panel.lamps ?? []),
    ...named('levers', view?.face.levers ?? []),
    ...named('buttons', panel.buttons ?? []),
    ...named('places', panel.places ?? []),
    ...(panel.plates ?? []).flatMap(({ at }, id): Picked[] => (inside(at) ? [{ list: 'plates', id }] : [])),
    ...(panel.platforms ?? []).flatMap(({ at, size }, id): Picked[] =>
      inside(at) && inside([at[0] + size[0], at[1] + size[1]]) ? [{ list: 'platforms', id }] : [],
    ),
    ...(panel.face?.fixings ?? []).flatMap(({ at }, id): Picked[] => (inside(at) ? [{ list: 'fixings', id }] : [])),
    ...(panel.face?.keepOut ?? []).flatMap(({ at, size }, id): Picked[] =>
      inside(at) && inside([at[0] + size[0], at[1] + size[1]]) ? [{ list: 'keepOut', id }] : [],
    ),
  ];
}
