import { useMemo, useState } from 'react';
import { fitPlate } from '../run/plates.ts';
import { type PressBox, placed, pressBoxes } from '../run/press-boxes.ts';
import { placesWithRoutes } from '../run/routes.ts';
import { useApp } from '../use-app.ts';
import { words } from '../words/run.ts';
import type { View } from '../worker/types.ts';
import { goAlong } from './go-along.ts';

/**
 * Places as things to press: the first is where a route starts, the next where it ends. Over the picture, one in the order of Tab, the arrow
 * keys between them. `taken`: a press that means something else is taken by it.
 */
export function PlaceButtons({
  view,
  pxPerMm,
  taken,
}: {
  readonly view: View;
  readonly pxPerMm: number;
  readonly taken: (place: string) => boolean;
}) {
  const from = useApp((app) => app.from);
  const to = useApp((app) => app.to);
  const pickPlace = useApp((app) => app.pickPlace);
  const [current, setCurrent] = useState(0);
  const places = useMemo(() => placesWithRoutes(view), [view]);
  const boxes = useMemo(() => boxesOf(view, places, pxPerMm), [view, places, pxPerMm]);
  const tabbed = Math.min(current, places.length - 1);
  const sheet = { width: view.face.width * pxPerMm, height: view.face.height * pxPerMm };
  if (places.length === 0) return null;
  return (
    <fieldset className="place-buttons" onKeyDown={goAlong}>
      <legend className="unseen">{words.placesOnFace}</legend>
      {places.map(({ id, name }, i) => {
        const box = boxes[i];
        if (box === undefined) return null;
        return (
          <button
            key={id}
            type="button"
            className="place-button"
            aria-pressed={id === from || id === to}
            aria-label={words.placeOnFace(name, id === from ? 'from' : id === to ? 'to' : null)}
            tabIndex={i === tabbed ? 0 : -1}
            style={placed(box.press, sheet)}
            onFocus={() => setCurrent(i)}
            onClick={() => {
              if (!taken(id)) pickPlace(id);
            }}
          >
            <i className="place-ring" style={within(placed(box.plate, sheet), placed(box.press, sheet))} />
          </button>
        );
      })}
    </fieldset>
  );
}

/** A box as one inside another. */
function within(inner: ReturnType<typeof placed>, outer: ReturnType<typeof placed>) {
  return { left: inner.left - outer.left, top: inner.top - outer.top, width: inner.width, height: inner.height };
}

/** What is ringed where a place has no plate: px. */
const BARE = 20;

/** Where they stand on the screen, in px: their plates, else their spots, and what is pressed for each. */
function boxesOf(
  view: View,
  places: View['places'],
  pxPerMm: number,
): readonly { readonly plate: PressBox; readonly press: PressBox }[] {
  const plates = places.map(({ id, at }): PressBox => {
    const plate = view.face.plates.find((each) => each.kind === 'place' && each.id === id);
    const fitted = plate === undefined ? null : fitPlate(plate, pxPerMm, at, view.face);
    const [x, y] = fitted?.at ?? at;
    const scale = (fitted?.scale ?? 1) * pxPerMm;
    return {
      at: [x * pxPerMm, y * pxPerMm],
      width: fitted === null ? BARE : fitted.width * scale,
      height: fitted === null ? BARE : fitted.height * scale,
    };
  });
  return pressBoxes(plates).flatMap((press, i) => {
    const plate = plates[i];
    return plate === undefined ? [] : [{ plate, press }];
  });
}
