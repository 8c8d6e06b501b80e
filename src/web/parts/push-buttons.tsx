import { useMemo, useState } from 'react';
import { type PressBox, placed, pressBoxes } from '../run/press-boxes.ts';
import { useApp } from '../use-app.ts';
import { buttonLabel, words } from '../words/run.ts';
import type { View } from '../worker/types.ts';
import { goAlong } from './go-along.ts';

/** Push buttons as things to press: over the picture, one in the order of Tab, the arrow keys between them. */
export function PressButtons({ view, pxPerMm }: { readonly view: View; readonly pxPerMm: number }) {
  const pressButton = useApp((app) => app.pressButton);
  const lies = useApp((app) => app.lies);
  const levers = useApp((app) => app.levers);
  const [current, setCurrent] = useState(0);
  const boxes = useMemo(() => {
    const rims = new Map(view.face.buttons.map(({ id, rim }) => [id, rim * pxPerMm]));
    return pressBoxes(
      view.buttons.map(({ id, at: [x, y] }): PressBox => {
        const size = rims.get(id) ?? 0;
        return { at: [x * pxPerMm, y * pxPerMm], width: size, height: size };
      }),
    );
  }, [view, pxPerMm]);
  const sheet = { width: view.face.width * pxPerMm, height: view.face.height * pxPerMm };
  const tabbed = Math.min(current, view.buttons.length - 1);
  if (view.buttons.length === 0) return null;
  return (
    <fieldset className="lever-buttons" onKeyDown={goAlong}>
      <legend className="unseen">{words.buttons}</legend>
      {view.buttons.map((button, i) => {
        const box = boxes[i];
        return box === undefined ? null : (
          <button
            key={button.id}
            type="button"
            className="lever-button push"
            aria-label={buttonLabel(view, button, lies, levers)}
            data-push-button={button.id}
            tabIndex={i === tabbed ? 0 : -1}
            style={placed(box, sheet)}
            onFocus={() => setCurrent(i)}
            onClick={() => pressButton(button.id)}
          />
        );
      })}
    </fieldset>
  );
}
