import { type KeyboardEvent, type MouseEvent, useState } from 'react';
import type { DrawnLever, Face } from '../../face/index.ts';
import type { Position } from '../../wiring/index.ts';
import { nextPosition, positionOf } from '../run/throws.ts';
import { useApp } from '../use-app.ts';
import { leverLabel, words } from '../words/run.ts';
import type { View } from '../worker/types.ts';
import { goAlong } from './go-along.ts';

/** Least size of what a finger has to hit, in px. */
const HIT = 44;
/** Reach of the bat and its nut along the throw, each way from the middle, and across it: mm at a nut of 15.8. */
const REACH = 17;
const ACROSS = 10;

/** The levers as things to press: over the picture, one in the order of Tab, the arrow keys between them. */
export function LeverButtons({
  view,
  face,
  pxPerMm,
}: {
  readonly view: View;
  readonly face: Face;
  readonly pxPerMm: number;
}) {
  const levers = useApp((app) => app.levers);
  const throwLevers = useApp((app) => app.throwLevers);
  const [current, setCurrent] = useState(0);
  const rows = view.levers.flatMap((lever) => {
    const drawn = face.levers.find(({ id }) => id === lever.id);
    return drawn === undefined ? [] : [{ lever, drawn }];
  });
  const tabbed = Math.min(current, rows.length - 1);
  if (rows.length === 0) return null;

  const pressed = (event: KeyboardEvent, { id, positions }: View['levers'][number]): void => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const letters: Readonly<Record<string, Position>> = { n: 'normal', r: 'reverse', c: 'centre' };
    const position = letters[event.key.toLowerCase()];
    if (position === undefined || !positions.includes(position)) return;
    throwLevers({ [id]: position });
    event.preventDefault();
  };
  return (
    <fieldset className="lever-buttons" onKeyDown={goAlong}>
      <legend className="unseen">{words.levers}</legend>
      {rows.map(({ lever, drawn }, i) => {
        const position = positionOf(levers, lever.id);
        return (
          <button
            key={lever.id}
            type="button"
            className="lever-button"
            aria-roledescription={words.lever}
            aria-label={leverLabel(lever, position)}
            data-lever-button={lever.id}
            tabIndex={i === tabbed ? 0 : -1}
            style={boxOf(drawn, pxPerMm, spaceBeside(drawn, face.levers))}
            onFocus={() => setCurrent(i)}
            onKeyDown={(event) => pressed(event, lever)}
            onClick={(event) => throwLevers({ [lever.id]: aimed(event, drawn, lever.positions, position) })}
          />
        );
      })}
    </fieldset>
  );
}

/** Least distance to another lever, across or down, whichever parts the two. */
function spaceBeside(lever: DrawnLever, all: Face['levers']): number {
  let least = Number.POSITIVE_INFINITY;
  for (const other of all) {
    if (other.id === lever.id) continue;
    least = Math.min(least, Math.max(Math.abs(other.at[0] - lever.at[0]), Math.abs(other.at[1] - lever.at[1])));
  }
  return least;
}

function boxOf(lever: DrawnLever, pxPerMm: number, space: number) {
  const part = lever.nut / 15.8;
  const turn = (lever.angle * Math.PI) / 180;
  const along = REACH * part;
  const across = ACROSS * part;
  const halfWidth = Math.abs(Math.cos(turn)) * across + Math.abs(Math.sin(turn)) * along;
  const halfHeight = Math.abs(Math.cos(turn)) * along + Math.abs(Math.sin(turn)) * across;
  const width = Math.min(Math.max(halfWidth * 2 * pxPerMm, HIT), Math.max(space * pxPerMm, 24));
  const height = Math.max(halfHeight * 2 * pxPerMm, HIT);
  return { left: lever.at[0] * pxPerMm - width / 2, top: lever.at[1] * pxPerMm - height / 2, width, height };
}

/**
 * Where a press sends the lever. A plain lever goes over. One with a centre goes towards the finger: to the third of its
 * throw that was pressed; from the keyboard it steps on.
 */
function aimed(
  event: MouseEvent<HTMLButtonElement>,
  lever: DrawnLever,
  positions: readonly Position[],
  now: Position,
): Position {
  if (positions.length < 3 || event.detail === 0) return nextPosition(positions, now);
  const box = event.currentTarget.getBoundingClientRect();
  const turn = (lever.angle * Math.PI) / 180;
  const x = event.clientX - (box.left + box.width / 2);
  const y = event.clientY - (box.top + box.height / 2);
  const along = (-x * Math.sin(turn) + y * Math.cos(turn)) / (Math.max(box.width, box.height) / 2);
  const third = along < -1 / 3 ? 'normal' : along > 1 / 3 ? 'reverse' : 'centre';
  return third === now ? nextPosition(positions, now) : third;
}
